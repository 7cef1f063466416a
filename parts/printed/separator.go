package printed

import (
	"cmp"
	"math"
	"slices"

	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed/relief"
)

// SheetSpec describes a printed separator or liner. Its z runs along the stack
// from 0 to ThicknessMM with the next cell on the far side; x is across with 0 at
// the middle of the cells, y up.
type SheetSpec struct {
	parts.Label
	Printer
	// Pads are where the sheet carries pressure: rectangles that do not overlap.
	// Only there has it its full thickness between the cells.
	Pads        []geom.Box2
	ThicknessMM float64
	// The cell at its largest: width, and the heights of its underside and top.
	CellWidthMM, CellBottomMM, CellTopMM float64
	// LipMM is how far lips reach over the cells on both sides of the sheet, or on
	// the side of the cell alone.
	LipMM               float64
	FrontLips, BackLips bool // towards +z, towards -z
	Open                bool // a frame: nothing spans between the pads
	TopCuts             []parts.Notch
	CellNominalWidthMM  float64
	CellNominalTopMM    float64
	ReachMM             float64 // free room beside the cell for a lip
}

// gapFilled is the widest strip between a pad's edge and a lip that is filled to
// full thickness, mm: the cells' tolerance, where a nominal cell has no face.
const gapFilled = 2

// leastChannel is the least depth of an air channel between ribs, mm.
const leastChannel = 0.6

// Sheet builds a separator or liner; in two pieces when it is wider than the
// bed.
func Sheet(s SheetSpec, k parts.Kind) ([]parts.Part, error) {
	err := s.checked(s.ID, span{"thickness", s.ThicknessMM, 0.1, 200}, span{"cell width", s.CellWidthMM, 5, 2000},
		span{"cell height", s.CellTopMM - s.CellBottomMM, 5, 2000}, span{"lip", s.LipMM, 0, 100}, span{"count of pads", float64(len(s.Pads)), 1, 1000})
	if err != nil {
		return nil, err
	}
	layers, err := s.layers()
	if err != nil {
		return nil, err
	}
	b := s.outline().Size()
	for _, n := range [][2]int{{1, 1}, {2, 1}, {1, 2}, {2, 2}} {
		last := n == [2]int{2, 2}
		if last || s.fits(b.X/float64(n[0])+tongueRoom*float64(n[0]-1), b.Y/float64(n[1])+tongueRoom*float64(n[1]-1), s.ThicknessMM+2*s.LipMM) {
			return s.pieces(k, layers, n)
		}
	}
	return nil, nil
}

// tongueRoom is what a piece grows by its dovetails, mm.
const tongueRoom = 12

// explain says why a steep overhang is left.
func (s SheetSpec) explain(p *parts.Part) {
	setNeed(p, "the cut-outs for terminals and vent are short bridges just above the bed")
}

// pieces builds the sheet in n[0] columns and n[1] rows, one or two each, with
// dovetails in the pads that the cuts cross.
func (s SheetSpec) pieces(k parts.Kind, layers []relief.Layer, n [2]int) ([]parts.Part, error) {
	cut := [][]relief.Layer{layers}
	b := s.padBox()
	if n[0] == 2 {
		left, right := splitAcross(layers, 0, s.FitMM, s.tongues(0, b))
		cut = [][]relief.Layer{left, right}
	}
	if n[1] == 2 {
		var all [][]relief.Layer
		for _, ls := range cut {
			lower, upper := splitAcross(swapped(ls), b.Center().Y, s.FitMM, s.tongues(1, b))
			all = append(all, swapped(lower), swapped(upper))
		}
		cut = all
	}
	var out []parts.Part
	for i, ls := range cut {
		p, err := s.layered(piece(s.Label, i, len(cut)), k, ls, 0)
		if err != nil {
			return nil, err
		}
		if len(cut) > 1 {
			p.Print.Joint = "dovetails, slid together along the stack"
		}
		s.explain(&p)
		out = append(out, p)
	}
	return out, nil
}

// Dovetails of sheets, mm: the neck in a wide pad, the width from which a pad
// takes two, and what stays free round the crossing of two cuts.
const neckMM, twoFrom, crossingFree = 16.0, 60.0, 14.0

// tongues puts dovetails into every pad that the cut crosses: upright through
// x = 0, or level through the pads' middle, where positions run along x.
func (s SheetSpec) tongues(level int, b geom.Box2) []tongue {
	var out []tongue
	for _, p := range s.Pads {
		lo, hi, from, to, mid := p.Min.X, p.Max.X, p.Min.Y, p.Max.Y, 0.0
		if level == 1 {
			lo, hi, from, to, mid = p.Min.Y, p.Max.Y, p.Min.X, p.Max.X, b.Center().Y
		}
		if lo > mid-crossingFree || hi < mid+crossingFree {
			continue
		}
		at := []tongue{{(from + to) / 2, min(neckMM, 0.4*(to-from))}}
		if to-from > twoFrom {
			at = []tongue{{from + (to-from)/4, neckMM}, {to - (to-from)/4, neckMM}}
		}
		for _, t := range at {
			if c := t.at - b.Center().Y; level == 1 && math.Abs(t.at) > crossingFree || level == 0 && math.Abs(c) > crossingFree {
				out = append(out, t)
			}
		}
	}
	slices.SortFunc(out, func(t, u tongue) int { return cmp.Compare(t.at, u.at) })
	return out
}

// side is where the lips stand: from the largest cell's side outward.
func (s SheetSpec) side() (cell, inner, outer float64) {
	cell = s.CellWidthMM / 2
	return cell, cell + s.FitMM, cell + s.FitMM + s.MinWallMM
}

// padBox is the box round all pads.
func (s SheetSpec) padBox() geom.Box2 {
	b := geom.EmptyBox2()
	for _, p := range s.Pads {
		b = b.Union(p)
	}
	return b
}

// outline is the box of the whole sheet.
func (s SheetSpec) outline() geom.Box2 {
	b := s.padBox()
	if s.hasSides() {
		_, _, x := s.side()
		b = b.Add(geom.Vec2{X: -x, Y: b.Min.Y}).Add(geom.Vec2{X: x, Y: b.Min.Y})
	}
	if s.hasTop() {
		b = b.Add(geom.Vec2{X: 0, Y: s.CellTopMM + s.FitMM + s.MinWallMM})
	}
	return b
}

// hasSides says whether lips beside the cell can be joined to the pads.
func (s SheetSpec) hasSides() bool {
	b := s.padBox()
	_, _, outer := s.side()
	return s.LipMM > 0 && s.ReachMM >= outer-s.CellWidthMM/2 && b.Max.X >= s.CellNominalWidthMM/2-1e-6 && s.CellWidthMM/2-b.Max.X <= gapFilled
}

// hasTop says whether lugs over the cell's top can be joined to the pads.
func (s SheetSpec) hasTop() bool {
	b := s.padBox()
	return s.LipMM > 0 && b.Max.Y >= s.CellNominalTopMM-1e-6 && b.Max.Y <= s.CellTopMM+1e-6 && s.CellTopMM-b.Max.Y <= gapFilled
}

// lips is where lips stand, and body the sheet with the strips that hold them.
func (s SheetSpec) lips() (lips, strips relief.Region) {
	b := s.padBox()
	_, in, out := s.side()
	y1 := b.Max.Y
	if s.hasTop() {
		y1 = s.CellTopMM + s.FitMM + s.MinWallMM
		y0 := s.CellTopMM + s.FitMM
		x := b.Max.X
		lips = lips.Plus(rect(-x, y0, x, y1))
		strips = strips.Plus(rect(-x, b.Max.Y-1, x, y1))
	}
	if s.hasSides() {
		lips = lips.Plus(rect(-out, b.Min.Y, -in, y1), rect(in, b.Min.Y, out, y1))
		strips = strips.Plus(rect(-out, b.Min.Y, 1-b.Max.X, b.Max.Y), rect(b.Max.X-1, b.Min.Y, out, b.Max.Y),
			rect(-out, b.Max.Y-1, 1-b.Max.X, y1), rect(b.Max.X-1, b.Max.Y-1, out, y1))
	}
	for _, c := range s.TopCuts {
		if s.hasTop() {
			cut := rect(s.clearOfPads(c.X-c.WidthMM/2, -1), b.Max.Y, s.clearOfPads(c.X+c.WidthMM/2, 1), y1+1)
			lips, strips = lips.Less(cut), strips.Less(cut)
		}
	}
	return lips, strips
}

// clearOfPads moves the side of a cut-out outward until it lies off the sides of
// all pads: a lug that meets a rib in its corner only would hang by an edge.
func (s SheetSpec) clearOfPads(x, way float64) float64 {
	for range 2 * len(s.Pads) {
		moved := false
		for _, p := range s.Pads {
			if min(math.Abs(p.Min.X-x), math.Abs(p.Max.X-x)) < s.MinWallMM/2 {
				x, moved = x+way*s.MinWallMM, true
			}
		}
		if !moved {
			break
		}
	}
	return x
}

// padRegion is the pads with the strips; a strip reaches a millimetre into the
// pads so that they join, which changes nothing where a pad is.
func (s SheetSpec) padRegion(strips relief.Region) relief.Region {
	b := s.padBox()
	r := append(relief.Region{}, strips...)
	if s.Open || len(s.Pads) > 1 { // keep the strips off the face where there is no pad
		r = r.Less(rect(b.Min.X, b.Min.Y, b.Max.X, b.Max.Y))
	}
	for _, p := range s.Pads {
		r = r.Plus(rect(p.Min.X, p.Min.Y, p.Max.X, p.Max.Y))
	}
	return r
}

// layers stacks the sheet: lips behind, body, lips in front.
func (s SheetSpec) layers() ([]relief.Layer, error) {
	lips, strips := s.lips()
	body := s.padRegion(strips)
	var out []relief.Layer
	z := 0.0
	add := func(h float64, r relief.Region) {
		out = append(out, relief.Layer{Z0: z, Z1: z + h, Region: r})
		z += h
	}
	if s.BackLips && len(lips) > 0 {
		z = -s.LipMM
		add(s.LipMM, lips)
		z = 0
	}
	t := s.ThicknessMM
	switch b := s.padBox(); {
	case s.Open || len(s.Pads) == 1:
		add(t, body)
	default:
		web := s.padRegion(strips).Plus(rect(b.Min.X, b.Min.Y, b.Max.X, b.Max.Y))
		w := s.MinWallMM
		switch deep := t - w; {
		case deep >= 2*leastChannel: // air on both sides
			add(deep/2, body)
			add(w, web)
			add(t-deep/2-w, body)
		case deep >= leastChannel/2: // air on one side
			add(w, web)
			add(deep, body)
		default:
			return nil, &parts.Error{Part: s.ID, What: "thickness", Err: &geom.SizeError{What: "thickness", Got: t, Min: w + leastChannel/2, Max: math.Inf(1),
				Constraint: "no channel is left beside the thinnest wall of the printer"}}
		}
	}
	out[len(out)-1].Z1 = t
	z = t
	if s.FrontLips && len(lips) > 0 {
		add(s.LipMM, lips)
	}
	return out, nil
}
