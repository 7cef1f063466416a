package catalog

import (
	"cmp"
	"slices"
	"strings"
)

// Families are the kinds of material.
var Families = []string{"plastic", "wood", "laminate", "metal", "pad"}

// CompleteMaterial fills in what a row leaves out of seats, creep and heat with the least
// that the tables have of its family, and says so in its source: what is not known counts
// as badly as it may be. Metals conduct.
func CompleteMaterial(m *Material) {
	m.Conducts = m.Conducts || m.Family == "metal"
	if len(m.Squeeze) > 0 {
		CompletePad(m)
	}
	family := slices.DeleteFunc(materials(), func(row Material) bool { return row.Family != m.Family })
	var lacks []string
	fill := func(what string, lacking bool, of func(Material) float64, take func(least Material)) {
		if lacking && len(family) > 0 {
			take(slices.MinFunc(family, func(a, b Material) int { return cmp.Compare(of(a), of(b)) }))
			lacks = append(lacks, what)
		}
	}
	presses, creeps := m.Family != "pad", m.Family != "metal"
	fill("seat_long", presses && m.SeatLong == 0, func(r Material) float64 { return float64(r.SeatLong) }, func(l Material) { m.SeatLong = min(l.SeatLong, m.Strength) })
	fill("seat_short", presses && m.SeatShort == 0, func(r Material) float64 { return float64(r.SeatShort) }, func(l Material) { m.SeatShort = max(m.SeatLong, min(l.SeatShort, m.Strength)) })
	fill("creep", creeps && len(m.Creep) == 0, Material.left, func(l Material) { m.Creep = slices.Clone(l.Creep) })
	fill("hot_factor", m.HotFactor == 0, func(r Material) float64 { return r.HotFactor }, func(l Material) { m.HotFactor = l.HotFactor })
	fill("max_service", m.MaxService == 0, func(r Material) float64 { return float64(r.MaxService) }, func(l Material) { m.MaxService = l.MaxService })
	if len(lacks) > 0 {
		m.Source += "; " + strings.Join(lacks, ", ") + " not given: the least of the tables' family " + m.Family
	}
}

// left is what a thousand hours leave of a material's modulus.
func (m Material) left() float64 {
	for _, c := range m.Creep {
		if c.Hours == 1000 {
			return c.Factor
		}
	}
	return 1
}
