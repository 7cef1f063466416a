package params

import (
	"fmt"
	"math"

	"clampwright/params/unit"
)

// A sheet measures less than it is sold as (birch sold as 18 mm is 17.7 mm), and
// either figure may stand in the file: two thicknesses are of one sheet when they
// differ by no more than sheetShare of it and sheetMost mm. Common practice, no
// source; trade sizes, inches beside millimetres too, are 4 % apart or more, or
// else the same.
const (
	sheetShare = 0.035
	sheetMost  = 0.6
)

// CutWeb is what stays at least between the cuts of a machine round two neighbours, and
// between a cut and the edge of its sheet: without it two cuts are one, made twice, or the
// tool runs off the sheet. Common practice, no source.
const CutWeb unit.Length = 1

// cutRoom settles how far parts lie from each other and from the edges of their sheet. The
// machine's tool runs there, with a web beside it; by hand one cut of the saw parts two
// neighbours, and a clean edge may stay. What is given is kept, or refused where it leaves
// too little.
func cutRoom(r *resolver) {
	in, s := &r.in.Stock, &r.f.Stock
	tool, mm := r.f.Machine()
	gap, rim := unit.Length(mm)+CutWeb, unit.Length(mm)+CutWeb
	if tool == HandTools {
		gap, rim = s.SawKerf, 0
	}
	s.PartGap = pick(r, "stock.part_gap", in.PartGap, max(3, gap), "the cut and a little")
	s.Margin = pick(r, "stock.margin", in.Margin, max(5, rim), "common practice")
	what := map[Machine]string{HandTools: "the saw's kerf", Router: "a cutter with its web", Laser: "a beam with its web"}[tool]
	for _, g := range []struct {
		key, between string
		given        lengthV
		least        unit.Length
	}{{"part_gap", "parts on a sheet", in.PartGap, gap}, {"margin", "a part and the edge of its sheet", in.Margin, rim}} {
		if g.given.Set && g.given.V < g.least {
			r.errorf(g.given.At, fmt.Sprintf("%s does not fit between %s", what, g.between), r.text(g.given.V), r.text(g.least)+" or more", "leave stock."+g.key+" out")
		}
	}
}

// Takes says whether a part of the given material and thickness is cut from the
// sheet.
func (s SheetStock) Takes(material string, thickness unit.Length) bool {
	const rounding = 1e-9 // mm
	off := math.Abs((s.Thickness - thickness).MM())
	return s.Material == material && off <= min(sheetMost, sheetShare*s.Thickness.MM())+rounding
}
