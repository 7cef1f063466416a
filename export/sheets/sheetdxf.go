package sheets

import (
	"fmt"

	"clampwright/assembly/nest"
	"clampwright/export/dxf"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Sizes of what is noted on a sheet, mm.
const (
	noteHeight = 8
	wordHeight = 3
	crossArm   = 2 // least arm of the cross at a hole to be drilled
)

// Drawing draws a sheet as its parts are machined. With middle the paths of the tool's
// middle are drawn in place of the edges that are left; holes that it can't enter
// become crosses on MARK, other openings are drawn there. The sheet's corners, its name
// and where it is started, drilled, tabbed and held are on NOTE, as words alone: there is
// nothing on it that a machine could follow. Its lower left corner is the origin.
func Drawing(m nest.Machining, s nest.Machined, flats map[string]parts.Flat, middle bool) dxf.Drawing {
	d := dxf.Drawing{Open: middle}
	for _, op := range s.Ops {
		runs := op.Runs(m.ToolMM)
		add(&d, op, runs, middle)
		switch by := m.Machine; {
		case by == params.Router && op.Kind == nest.Outside:
			d.Notes.Texts = append(d.Notes.Texts, word("start", runs[0][0].P))
		case by != params.HandTools && op.Kind == nest.Kept && len(op.Drawn) > 4:
			d.Notes.Texts = append(d.Notes.Texts, word("edges stay, corners by hand", op.Start))
		case by != params.HandTools && (op.Kind == nest.Drill || op.Kind == nest.ByHand || op.Kind == nest.Kept):
			d.Notes.Texts = append(d.Notes.Texts, word(string(op.Kind), op.Start))
		}
		for _, tab := range op.Tabs {
			d.Notes.Texts = append(d.Notes.Texts, word("tab", tab))
		}
	}
	for _, h := range s.Holds {
		d.Notes.Texts = append(d.Notes.Texts, word("hold", h.Center()))
	}
	for _, p := range s.Placed {
		d.Marks.AddMarks(flats[p.ID].Marks, nest.SpotOf(p, flats[p.ID].Profile).Point)
	}
	size := geom.Vec2{X: s.Sheet.Width.MM(), Y: s.Sheet.Height.MM()}
	for _, corner := range []geom.Vec2{{}, {X: size.X}, size, {Y: size.Y}} {
		d.Notes.Texts = append(d.Notes.Texts, word("corner of the sheet", corner))
	}
	lines := []string{fmt.Sprintf("sheet %d: %s %s mm, %s x %s mm", s.Number, s.Sheet.Material,
		number.Length.Text(s.Sheet.Thickness.MM()), number.Length.Text(size.X), number.Length.Text(size.Y))}
	for i, text := range append(lines, words(m, s.Sheet.Thickness.MM(), middle)...) {
		d.Notes.Texts = append(d.Notes.Texts, dxf.Text{Value: text, At: geom.Vec2{Y: size.Y + noteHeight*(1+1.5*float64(i))}, HeightMM: noteHeight})
	}
	return d
}

// Middle draws one part by the path of the tool's middle, the lower left corner of the
// part's box at the origin.
func Middle(m nest.Machining, p *parts.Part) dxf.Drawing {
	d := dxf.Drawing{Open: true}
	box := p.Flat.Profile.Bounds()
	spot := nest.SpotOf(nest.Placement{}, p.Flat.Profile)
	for _, op := range m.Parts[p.ID] {
		op = op.At(spot)
		add(&d, op, op.Runs(m.ToolMM), true)
	}
	d.Marks.AddMarks(p.Flat.Marks, spot.Point)
	for i, text := range words(m, p.Flat.ThicknessMM, true) {
		d.Notes.Texts = append(d.Notes.Texts, dxf.Text{Value: text, At: geom.Vec2{Y: box.Size().Y + m.ToolMM + wordHeight*(1+1.5*float64(i))}, HeightMM: wordHeight})
	}
	return d
}

// words are what is noted on how a file is run.
func words(m nest.Machining, thick float64, middle bool) []string {
	if m.Machine == params.HandTools {
		return nil
	}
	mm, run := number.Length.Text, "edges as they are left: offset by half the tool's width, outlines outward, openings inward"
	if middle {
		run = "middle of the tool: run on the line, no offset; it goes down beside what stays"
	}
	out := []string{fmt.Sprintf("%s %s mm, %s", m.Tool(), mm(m.ToolMM), run)}
	if m.Machine == params.Router {
		tabs := mm(nest.TabHighMM(thick)) + " mm high"
		if middle {
			tabs = fmt.Sprintf("where the line is broken, as high as the sheet; or run over them %s mm deep", mm(thick-nest.TabHighMM(thick)))
		}
		out = append(out, fmt.Sprintf("%s mm deep, into the board; tabs %s mm wide, %s", mm(thick+nest.ThroughMM), mm(nest.TabMM), tabs))
	}
	return append(out, "outside faces up; zero at the lower left corner; in the order of the file, outlines last")
}

func word(text string, at geom.Vec2) dxf.Text {
	return dxf.Text{Value: text, At: at, HeightMM: wordHeight, Centred: true}
}

// add draws one operation.
func add(d *dxf.Drawing, op nest.Op, runs []geom.Path, middle bool) {
	paths, circle := []geom.Path{op.Drawn}, op.Circle
	if middle {
		paths, circle = runs, op.Tool
	}
	switch {
	case middle && op.Kind == nest.Drill:
		d.Marks.Lines = append(d.Marks.Lines, dxf.Cross(circle.C, max(crossArm, circle.R))...)
	case middle && op.Kind == nest.ByHand:
		d.Marks.Paths = append(d.Marks.Paths, op.Path)
	case circle.R > 0:
		d.Holes = append(d.Holes, circle)
	case op.Kind == nest.Outside:
		d.Outlines = append(d.Outlines, paths...)
	case op.Kind != nest.Kept && len(paths[0]) > 0:
		d.Slots = append(d.Slots, paths...)
	}
}
