package sizing

import (
	"math"

	"clampwright/assembly"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
)

// piece is one kind of part of the clamp with what a ranking needs.
type piece struct {
	what   string
	count  float64
	massG  float64 // of one
	metal  string  // material, for an estimated price
	lenMM  float64 // bars and rods: length of one
	areaM2 float64 // sheet: rectangle of one
	thick  unit.Length
	item   string // designation to look a price up by
	bought bool   // priced by the piece
}

// pieces are the parts that a choice changes, masses in closed form: corner
// rounding and rod holes of plates are taken off, slots and chamfers of a gram
// or so are not.
func pieces(f *params.Fixture) []piece {
	rods := float64(len(f.Ties()))
	out := []piece{platePiece(f)}
	if f.Stiffener != nil {
		out = append(out, anglePiece(f))
	}
	out = append(out, rodPiece(f, rods))
	ends := 2 * rods
	out = append(out, piece{what: "nuts", count: ends, massG: f.Nut.MassG, item: f.Nut.Name, bought: true, metal: "steel"})
	if f.JamNut != nil {
		out = append(out, piece{what: "jam nuts", count: ends, massG: f.JamNut.MassG, item: f.JamNut.Name, bought: true, metal: "steel"})
	}
	washers := ends
	if f.Spring != nil {
		stacks := rods * float64(f.Spring.Stacks())
		washers += stacks
		out = append(out, springPiece(f, stacks))
	}
	w := f.Washer
	rho := f.Rods.Grade.DensityGCM3 / 1000
	out = append(out, piece{what: "washers", count: washers, massG: ring(w.Outer, w.Inner, w.Thickness) * rho, item: w.Name, bought: true, metal: "steel"})
	if l := f.Liner; l != nil {
		area := l.Width.MM() * l.Height.MM()
		out = append(out, piece{what: "liners", count: 2 * float64(f.Pack.Rows), massG: area * l.Thickness.MM() * l.Material.DensityGCM3 / 1000,
			metal: l.Material.Name, areaM2: area / 1e6, thick: l.Thickness, item: l.Material.Name})
	}
	return out
}

func platePiece(f *params.Fixture) piece {
	p := &f.Plate
	w, h, r := p.Width.MM(), p.Height.MM(), p.CornerRadius.MM()
	holes := float64(len(f.Ties())) * circle(f.Rods.Hole)
	if p.Feet != nil {
		holes += 2 * circle(p.Feet.HoleDia)
	}
	area := w*h - (4-math.Pi)*r*r - holes
	return piece{what: "end plates", count: 2, massG: area * p.Thickness.MM() * p.Material.DensityGCM3 / 1000,
		metal: p.Material.Name, areaM2: w * h / 1e6, thick: p.Thickness, item: p.Material.Name}
}

func anglePiece(f *params.Fixture) piece {
	s := f.Stiffener
	volume := catalog.Section(s.Section).Area*s.Length.MM() - float64(len(f.Rods.Columns))*circle(f.Rods.Hole)*s.Section.Thickness.MM()
	return piece{what: "angles", count: 2 * float64(len(f.Rods.Levels)), massG: volume * s.Material.DensityGCM3 / 1000,
		metal: s.Material.Name, lenMM: s.Length.MM(), item: s.Section.Name}
}

// rodPiece takes the cylinder of the pitch diameter, as parts do.
func rodPiece(f *params.Fixture, rods float64) piece {
	t := &f.Rods.Thread
	return piece{what: "rods", count: rods, massG: circle(t.PitchDia) * f.Rods.Length.MM() * f.Rods.Grade.DensityGCM3 / 1000,
		metal: "steel", lenMM: f.Rods.Length.MM(), item: t.Name}
}

// springPiece is all springs of the clamp, priced by the disc or coil.
func springPiece(f *params.Fixture, stacks float64) piece {
	s := f.Spring
	out := piece{what: "springs", count: stacks, massG: assembly.SpringMassG(s, f.Rods.Grade.DensityGCM3), bought: true, metal: "steel"}
	out.count, out.item = stacks*float64(s.Pieces()), "disc spring "
	if s.Disc != nil {
		out.item += s.Disc.Name
		return out
	}
	out.item = s.Coil.Name
	return out
}

func circle(d unit.Length) float64 { return math.Pi / 4 * d.MM() * d.MM() }

func ring(outer, inner, t unit.Length) float64 { return (circle(outer) - circle(inner)) * t.MM() }

// MassG is the mass of the clamp's parts that a choice changes: plates, angles,
// rods, nuts, washers, springs and liners; g.
func MassG(f *params.Fixture) float64 {
	sum := 0.0
	for _, p := range pieces(f) {
		sum += p.count * p.massG
	}
	return sum
}
