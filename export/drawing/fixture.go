package drawing

import (
	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
)

// PaperOf is the paper the user's file asks for.
func PaperOf(s params.Style) Paper {
	if s.Paper == "letter" {
		return Letter
	}
	return A4
}

// UnitsOf writes lengths as the user's file asks.
func UnitsOf(s params.Style) Units {
	if s.Unit == unit.Inch {
		return Inches(s.Denominator)
	}
	return Millimetres(s.Decimals)
}

// AngleOf is the section of the fixture's angles for part p; nil when p is no
// stiffener.
func AngleOf(f *params.Fixture, p *parts.Part) *AngleShape {
	s := f.Stiffener
	if s == nil || p.Kind != parts.KindStiffener {
		return nil
	}
	return &AngleShape{
		DrilledLegMM: s.DrilledLeg.MM(), StandingLegMM: s.StandingLeg.MM(), ThicknessMM: s.Section.Thickness.MM(),
		RootMM: s.Section.Root.MM(), ToeMM: s.Section.Toe.MM(), ChamferMM: s.Chamfer.MM(), HeelHigh: heelHigh(p),
	}
}

// heelHigh says whether the standing leg is at the upper edge of a stiffener's
// flat, measured on the solid: its centroid lies towards the heel.
func heelHigh(p *parts.Part) bool {
	if p.Flat == nil || len(p.Holes) == 0 {
		return false
	}
	box := p.Flat.Profile.Outer.Bounds()
	return p.Solid.Centroid().Y > (box.Min.Y+box.Max.Y)/2
}

// RodOf is a rod with its thread; nil for any other part.
func RodOf(f *params.Fixture, p *parts.Part) *RodShape {
	if p.Kind != parts.KindRod {
		return nil
	}
	t := f.Rods.Thread
	return &RodShape{LengthMM: p.SizeMM[0], MajorMM: t.Major.MM(), MinorMM: t.MinorDia.MM(), Thread: t.Name}
}

// TubeOf is a sleeve sawn from tube; nil for any other part.
func TubeOf(f *params.Fixture, p *parts.Part) *TubeShape {
	if p.Kind != parts.KindSleeve || p.Make != parts.MakeBar {
		return nil
	}
	return &TubeShape{LengthMM: p.SizeMM[0], OuterMM: f.Sleeve.Outer.MM(), InnerMM: f.Sleeve.Inner.MM()}
}
