package parts

import (
	"cmp"
	"fmt"
	"slices"

	"clampwright/parts/geom"
)

// SheetSpec describes a separator between cells, a liner between cell and plate or a
// sheet of a filler: a rectangle, seen from outside with x right and y up, origin at its
// middle, z from 0 to ThicknessMM.
type SheetSpec struct {
	Label
	Material       Material
	WidthMM        float64
	HeightMM       float64
	ThicknessMM    float64
	PressedMM      float64 // of a pad: as it lies in the set clamp, how its solid is made; 0: as ThicknessMM
	CornerRadiusMM float64
	// Notches are cut from the upper edge, for terminals and vent.
	Notches []Notch
	// BorderMM leaves a frame of that width round a window; zero for a full sheet.
	BorderMM           float64
	Grain, GrainAlongX bool
}

// Notch is a rectangular cut-out in the upper edge: X is its middle.
type Notch struct{ X, WidthMM, DepthMM float64 }

// Separator builds a separator sheet.
func Separator(s SheetSpec) (Part, error) { return sheet(s, KindSeparator, "separator") }

// Liner builds a liner.
func Liner(s SheetSpec) (Part, error) { return sheet(s, KindLiner, "liner") }

// Filler builds one sheet of a filler.
func Filler(s SheetSpec) (Part, error) { return sheet(s, KindFiller, "filler sheet") }

func sheet(s SheetSpec, k Kind, name string) (Part, error) {
	if s.Name == "" {
		s.Name = name
	}
	side := min(s.WidthMM, s.HeightMM)
	err := s.check(s.Material, positive("width", s.WidthMM), positive("height", s.HeightMM), positive("thickness", s.ThicknessMM),
		size{"corner radius", s.CornerRadiusMM, 0, side / 2, "no more than half the shorter side"},
		size{"frame border", s.BorderMM, 0, side/2 - 0.01, "less than half the shorter side"})
	if err != nil {
		return Part{}, err
	}
	outer, err := s.outline()
	if err != nil {
		return Part{}, err
	}
	p := geom.Profile{Outer: outer}
	if s.BorderMM > 0 {
		window := geom.RectAt(geom.Vec2{}, s.WidthMM-2*s.BorderMM, s.HeightMM-2*s.BorderMM)
		p.Slots = []geom.Path{window.Reversed()}
	}
	thick := cmp.Or(s.PressedMM, s.ThicknessMM)
	out, err := s.flatPart(k, s.Material, p, thick, nil)
	if err != nil {
		return Part{}, err
	}
	out.SizeMM[2], out.Flat.ThicknessMM, out.MassG = s.ThicknessMM, s.ThicknessMM, out.MassG*s.ThicknessMM/thick
	out.Soft = s.PressedMM > 0
	out.Flat.Grain, out.Flat.GrainAlongX = s.Grain, s.GrainAlongX
	return out, nil
}

// outline is the rectangle, its upper edge run from right to left with the
// notches cut in.
func (s SheetSpec) outline() (geom.Path, error) {
	rr, err := geom.RoundedRect(geom.Vec2{}, s.WidthMM, s.HeightMM, s.CornerRadiusMM)
	if err != nil {
		return nil, &Error{s.ID, "outline", err}
	}
	if len(s.Notches) == 0 {
		return rr, nil
	}
	ns := slices.Clone(s.Notches)
	slices.SortStableFunc(ns, func(a, b Notch) int { return cmp.Compare(b.X, a.X) })
	if err := s.checkNotches(ns); err != nil {
		return nil, err
	}
	top := s.HeightMM / 2
	var p geom.Path
	for i, v := range rr {
		p = append(p, v)
		if next := rr[(i+1)%len(rr)].P; v.Bulge == 0 && v.P.Y == top && next.Y == top {
			for _, n := range ns {
				l, r, y := n.X-n.WidthMM/2, n.X+n.WidthMM/2, top-n.DepthMM
				p = append(p, geom.Vertex{P: geom.Vec2{X: r, Y: top}}, geom.Vertex{P: geom.Vec2{X: r, Y: y}},
					geom.Vertex{P: geom.Vec2{X: l, Y: y}}, geom.Vertex{P: geom.Vec2{X: l, Y: top}})
			}
		}
	}
	return p, nil
}

// checkNotches reports notches that leave the upper edge or run into each other.
func (s SheetSpec) checkNotches(ns []Notch) error {
	right := s.WidthMM/2 - s.CornerRadiusMM
	for i, n := range ns {
		what := fmt.Sprintf("notch at x = %g mm", n.X)
		err := s.check(Material{}, positive("width of "+what, n.WidthMM),
			size{"depth of " + what, n.DepthMM, 0.01, s.HeightMM - s.CornerRadiusMM - 0.01, "less than the sheet's height"},
			size{"right side of " + what, n.X + n.WidthMM/2, -inf, right - 0.01, "inside the upper edge, clear of the next notch"})
		if err != nil {
			return err
		}
		right = n.X - n.WidthMM/2
		if i == len(ns)-1 {
			lo := s.CornerRadiusMM - s.WidthMM/2 + 0.01
			return s.check(Material{}, size{"left side of " + what, right, lo, inf, "inside the upper edge"})
		}
	}
	return nil
}
