package stackup

import (
	"math"
	"slices"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Size is one size of a made part that matters, by what a reading calls it, with its
// limits, mm. Hole is empty for those of the whole part.
type Size struct {
	Hole, What         string
	Nominal, Low, High float64
}

// Datum is where the places of a part's holes are measured from, in its flat's
// coordinates: the lower left corner, or of an angle the left end and the heel.
func Datum(f *params.Fixture, p *parts.Part) geom.Vec2 {
	at := p.Flat.Profile.Bounds().Min
	if p.Kind == parts.KindStiffener {
		at.Y = -f.Stiffener.Gauge.MM()
	}
	return at
}

// Sizes are the sizes of a made part that matter, within the tolerances that the stack-up
// adds up. Places across an angle are from its heel, whichever way it stands.
func Sizes(f *params.Fixture, p *parts.Part) (out []Size) {
	t := &f.Tolerances
	add := func(hole, what string, nominal float64, less, more unit.Length) {
		out = append(out, Size{hole, what, nominal, nominal - less.MM(), nominal + more.MM()})
	}
	switch p.Make {
	case parts.MakeSheet:
		size, thick := p.Flat.Profile.Bounds().Size(), unit.Length(p.Flat.ThicknessMM)
		add("", "width", size.X, t.PlateSize, t.PlateSize)
		add("", "height", size.Y, t.PlateSize, t.PlateSize)
		add("", "thickness", p.Flat.ThicknessMM, t.Sheet(thick), t.Sheet(thick))
	case parts.MakeBar, parts.MakeRod:
		add("", "length", p.SizeMM[0], t.CutLength, t.CutLength)
	case parts.MakePrint: // those of the chain, and what must not reach from plate to plate
		if in := map[parts.Kind]*params.Insert{parts.KindSeparator: f.Separator, parts.KindLiner: f.Liner}[p.Kind]; in != nil {
			add("", "thickness", in.Thickness.MM(), t.Sheet(in.Thickness), t.Sheet(in.Thickness))
		}
		if p.Kind == parts.KindSleeve {
			add("", "length", slices.Max(p.SizeMM[:]), t.CutLength, t.CutLength)
		}
		return out
	default:
		return nil
	}
	if p.Flat == nil {
		return out
	}
	at := Datum(f, p)
	for _, h := range p.Holes {
		add(h.ID, "hole_dia", h.DiaMM, 0, params.DrillSlack)
		add(h.ID, "hole_x", h.C.X-at.X, t.HolePosition, t.HolePosition)
		add(h.ID, "hole_y", h.C.Y-at.Y, t.HolePosition, t.HolePosition)
	}
	return out
}

// Ream is the hole that a rod needs, mm, where its own middle is off by so much and that
// of another hole of the rod by its tolerance the other way; no more than drawn where the
// play is enough; to a tenth.
func Ream(f *params.Fixture, off float64) float64 {
	need := 2*(f.Rods.Thread.Major.MM()+off+f.Tolerances.HolePosition.MM()) - f.Rods.Hole.MM()
	if need <= f.Rods.Hole.MM()+rounding {
		return f.Rods.Hole.MM()
	}
	return math.Ceil(need*10-rounding) / 10
}
