package sheets

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/assembly/nest"
	"clampwright/export/dxf"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
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
// become crosses on MARK, other openings are drawn there. The sheet's corners, its parts'
// names and where it is started, tabbed, held and left to the hand are on NOTE, as words
// alone: there is nothing on it that a machine could follow. Its lower left corner is the
// origin.
func Drawing(m nest.Machining, s nest.Machined, flats map[string]parts.Flat, middle bool) dxf.Drawing {
	d := dxf.Drawing{Open: middle}
	for _, op := range s.Ops {
		runs := op.Runs(m.ToolMM)
		add(&d, op, runs, middle)
		if m.Machine == params.Router && op.Kind == nest.Outside {
			say(&d, "start", runs[0][0].P)
		}
		for _, tab := range op.Tabs {
			say(&d, "tab", tab)
		}
	}
	byHand(&d, m, s.Ops)
	for _, h := range s.Holds {
		say(&d, "hold", h.Center())
	}
	for i, p := range s.Placed {
		d.Marks.AddMarks(flats[p.ID].Marks, nest.SpotOf(p, flats[p.ID].Profile).Point)
		say(&d, p.ID, s.BoxOf(i).Center().Add(geom.Vec2{Y: 2 * wordHeight}))
	}
	size := geom.Vec2{X: s.Sheet.Width.MM(), Y: s.Sheet.Height.MM()}
	for _, corner := range []geom.Vec2{{}, {X: size.X}, size, {Y: size.Y}} {
		say(&d, "corner of the sheet", corner)
	}
	lines := []string{fmt.Sprintf("sheet %d: %s %s mm, %s x %s mm", s.Number, s.Sheet.Material,
		number.Length.Text(s.Sheet.Thickness.MM()), number.Length.Text(size.X), number.Length.Text(size.Y))}
	lines = append(lines, run(m, s.Ops, s.Sheet.Thickness.MM(), middle)...)
	if len(s.Holds) > 0 {
		lines = append(lines, fmt.Sprintf("hold: clamp within %s x %[1]s mm round the word, where no tool comes", number.Length.Text(nest.HoldMM)))
	}
	head(&d, append(lines, facing(d)+"; zero at the lower left corner of the sheet"), size.Y, noteHeight)
	return d
}

// Part draws one part: the edges that are left, or with middle the paths of the tool's
// middle. The lower left corner of the part's box is the origin.
func Part(m nest.Machining, p *parts.Part, middle bool) dxf.Drawing {
	if m.On(p) == params.HandTools {
		m.Machine, m.ToolMM = params.HandTools, 0
	}
	spot := nest.SpotOf(nest.Placement{}, p.Flat.Profile)
	ops := slices.Clone(m.Parts[p.ID])
	d := dxf.Drawing{Open: middle}
	for i := range ops {
		if ops[i] = ops[i].At(spot); middle {
			add(&d, ops[i], ops[i].Runs(m.ToolMM), true)
		} else {
			ops[i].Tabs = nil // they are set on the sheet
		}
	}
	if d.Marks.AddMarks(p.Flat.Marks, spot.Point); !middle {
		d = dxf.FromFlat(*p.Flat, p.Holes)
	}
	byHand(&d, m, ops)
	lines := []string{fmt.Sprintf("%s %s: %s %s mm", p.Mark, p.Name, p.Material, number.Length.Text(p.Flat.ThicknessMM))}
	lines = append(lines, run(m, ops, p.Flat.ThicknessMM, middle)...)
	head(&d, append(lines, facing(d)+"; zero at the lower left corner of the part"), p.Flat.Profile.Bounds().Size().Y+m.ToolMM, wordHeight)
	return d
}

// say puts a word on NOTE.
func say(d *dxf.Drawing, text string, at geom.Vec2) {
	d.Notes.Texts = append(d.Notes.Texts, dxf.Text{Value: text, At: at, HeightMM: wordHeight, Centred: true})
}

// head puts lines above what is drawn, the first lowest.
func head(d *dxf.Drawing, lines []string, from, high float64) {
	for i, text := range lines {
		d.Notes.Texts = append(d.Notes.Texts, dxf.Text{Value: text, At: geom.Vec2{Y: from + high*(1+1.5*float64(i))}, HeightMM: high})
	}
}

// byHand says of what a machine leaves to the hand where it is.
func byHand(d *dxf.Drawing, m nest.Machining, ops []nest.Op) {
	for _, op := range ops {
		switch {
		case m.Machine == params.HandTools:
		case op.Kind == nest.Drill || op.Kind == nest.ByHand || op.Kind == nest.Kept && len(op.Drawn) <= 4:
			say(d, string(op.Kind), op.Start)
		case op.Kind == nest.Kept:
			say(d, "edges stay, corners by hand", op.Start)
		}
	}
}

// facing says which faces are up: those with the marks, where there are any.
func facing(d dxf.Drawing) string {
	if len(d.Marks.Strokes) > 0 {
		return "outside faces up, those with the marks"
	}
	return "either face up"
}

// ran are the kinds that a machine runs, in the order of a file: what they are called,
// and to which side the tool lies of the edge that is left.
var ran = []struct {
	kind       nest.OpKind
	name, side string
}{{nest.Hole, "holes", "inward"}, {nest.Slot, "slots", "inward"}, {nest.Inside, "openings", "inward"}, {nest.Outside, "outlines", "outward"}}

// run is what is noted on how a file is run, of what there is in it alone.
func run(m nest.Machining, ops []nest.Op, thick float64, middle bool) (out []string) {
	if m.Machine == params.HandTools {
		return []string{"edges as they are left; by hand: cut beside the lines, drill the holes"}
	}
	mm, n, tabs := number.Length.Text, map[nest.OpKind]int{}, 0
	for _, op := range ops {
		n[op.Kind]++
		tabs += len(op.Tabs)
	}
	var runs []string
	for _, k := range ran {
		if n[k.kind] > 0 && middle {
			runs = append(runs, k.name)
		} else if n[k.kind] > 0 {
			runs = append(runs, k.name+" "+k.side)
		}
	}
	if len(runs) > 0 {
		how := "edges as they are left: offset by half the tool's width"
		if middle {
			how = "middle of the tool, open lines that begin in waste: no offset"
		}
		out = append(out, fmt.Sprintf("%s %s mm, %s; in the order of the file: %s", m.Tool(), mm(m.ToolMM), how, strings.Join(runs, ", ")))
		if m.Machine == params.Router {
			out = append(out, mm(thick+nest.ThroughMM)+" mm deep, into the board")
		}
	}
	if tabs > 0 {
		high := mm(nest.TabHighMM(thick)) + " mm high"
		if middle {
			high = fmt.Sprintf("where the line is broken, as high as the sheet; or run over them %s mm deep", mm(thick-nest.TabHighMM(thick)))
		}
		out = append(out, fmt.Sprintf("tabs %s mm wide, %s", mm(nest.TabMM), high))
	}
	var left []string
	for kind, what := range map[nest.OpKind]string{nest.Drill: "hole", nest.ByHand: "opening"} {
		if k := n[kind]; k > 0 {
			left = append(left, fmt.Sprintf("%d %s%s", k, what, words.Plural(k)))
		}
	}
	if len(left) > 0 {
		slices.Sort(left)
		out = append(out, fmt.Sprintf("the %s does not enter %s: make by hand, at the words", m.Tool(), words.Join(left)))
	}
	return out
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
