package catalog

import (
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
	var lacks []string
	worst := func(what string, lacking bool, worse func(a, b Material) bool, take func(Material)) {
		first, found := Material{}, false
		for _, row := range materials() {
			if row.Family == m.Family && (!found || worse(row, first)) {
				first, found = row, true
			}
		}
		if lacking && found {
			take(first)
			lacks = append(lacks, what)
		}
	}
	if m.Family != "pad" {
		worst("seat_long", m.SeatLong == 0, func(a, b Material) bool { return a.SeatLong < b.SeatLong }, func(w Material) { m.SeatLong = min(w.SeatLong, m.Strength) })
		worst("seat_short", m.SeatShort == 0, func(a, b Material) bool { return a.SeatShort < b.SeatShort }, func(w Material) { m.SeatShort = max(m.SeatLong, min(w.SeatShort, m.Strength)) })
	}
	if m.Family != "metal" {
		worst("creep", len(m.Creep) == 0, func(a, b Material) bool { return a.left() < b.left() }, func(w Material) { m.Creep = slices.Clone(w.Creep) })
	}
	worst("hot_factor", m.HotFactor == 0, func(a, b Material) bool { return a.HotFactor < b.HotFactor }, func(w Material) { m.HotFactor = w.HotFactor })
	worst("max_service", m.MaxService == 0, func(a, b Material) bool { return a.MaxService < b.MaxService }, func(w Material) { m.MaxService = w.MaxService })
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
