package steps

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/unit"
	"clampwright/params/words"
	"clampwright/parts"
	"clampwright/parts/printed"
)

func (t teller) feet(s work.Step, p *page.Step) {
	p.Title = "Screw the brackets to the plates"
	what := "Your brackets, on the outside of the plates, with a screw for a hole of " + t.Length(s.Facts.(*work.Feet).HoleMM) + " in every mounting hole"
	if feet := of(lots(s, assembly.GroupFoot)); feet != "" {
		p.Title = "Screw the feet to the plates"
		what = words.Upper(feet) + ": each upright on the outside of a plate at a mounting hole, its base down and away from the plate"
	}
	p.Text = what + ". Head of the screw inside with a large washer, nut outside. The heads come to stand beside the cells; see that none touches one."
}

func (t teller) capCells(s work.Step, p *page.Step) {
	p.Text = fmt.Sprintf("Put a cap on both terminals of every cell, %d in all, before a spanner comes near. They stay on through all the work on the clamp.", s.Uses[0].Count)
}

func (t teller) backEnd(s work.Step, p *page.Step) {
	f := s.Facts.(*work.Face)
	shim, running := "", ""
	switch {
	case f.RaiseMM > 0:
		shim = fmt.Sprintf(", its lower edge on strips about %s thick, so far above the underside of the cells", t.packing(f.RaiseMM))
	case f.RaiseMM < 0:
		shim = fmt.Sprintf("; the cells will stand on a board about %s high beside it, as the plate reaches below them", t.packing(-f.RaiseMM))
	}
	if f.Drags {
		running = " They drag: hold the rod with pliers in its middle, which no nut passes over."
	}
	p.Text = words.Sentences(
		fmt.Sprintf("Stand %s upright on a flat board, UP upwards, its marked outside face away from the cells%s.", PartName(lots(s, assembly.GroupPlate)[0].Part), shim),
		anglesText(s, f),
		fmt.Sprintf("Push %s through. Put on outside what is listed here, from the plate outward, and run the nuts on until the rods stand out of them as told, all alike.%s Prop the plate: it is not to fall.", of(lots(s, assembly.GroupRod)), running))
	p.Figures = append(faceFigures(f), page.Fact{Label: "rod out of the back nuts", Value: t.Exact(s.Readings[0].Low), Note: "of " + t.Exact(s.Readings[1].Low) + " in all"})
}

// packing is a thickness as strips and boards can be had.
func (t teller) packing(mm float64) string {
	if t.Unit == unit.Inch {
		return unit.Length(mm).Short(unit.Style{Unit: unit.Inch, Denominator: 64})
	}
	return number.Trim(mm, 1) + " mm"
}

// anglesText says how the angles lie on a plate.
func anglesText(s work.Step, f *work.Face) string {
	names := of(lots(s, assembly.GroupStiffener))
	if names == "" {
		return ""
	}
	inward := ""
	if f.Inward {
		inward = " Both standing legs are towards the middle of the plate."
	}
	return fmt.Sprintf("Against its outside, %s: the drilled leg on the plate, the standing leg outward, on the side of the rods that is told here.%s", names, inward)
}

// faceFigures are what an end is built of: for each level which angle lies there and
// on which side of the rods its standing leg is, and what goes on every rod.
func faceFigures(f *work.Face) []page.Fact {
	var out []page.Fact
	for _, a := range f.Angles {
		way := "below"
		if a.Up {
			way = "above"
		}
		name := strings.ReplaceAll(strings.TrimPrefix(a.ID, "stiffener-"+f.End.String()+"-"), "-", " ")
		out = append(out, page.Fact{Label: "angle at the " + name + " rods", Value: a.Part.Mark + ", standing leg " + way + " the rods"})
	}
	var on []string
	for _, p := range f.Stack {
		switch p.Kind {
		case parts.KindWasher:
			on = append(on, "washer "+p.Stock)
		case parts.KindNut:
			on = append(on, "nut "+p.Stock)
		default:
			on = append(on, p.Name)
		}
	}
	return append(out, page.Fact{Label: "on every rod, outward", Value: strings.Join(on, ", ")})
}

// gravity makes newtons of kilograms.
const gravity = 9.80665

func (t teller) springs(s work.Step, p *page.Step) {
	f := s.Facts.(*work.Springs)
	p.Text = "They go on the front end of every rod, with a washer on both sides; the back ends have none. "
	if f.BothEnds {
		p.Text = "They go on both ends of every rod, with a washer on both sides. "
	}
	if f.Disc {
		p.Text += t.discText(f)
	} else {
		p.Text += "The ground ends lie on the washers."
	}
	if f.WeighN > 0 {
		p.Text += fmt.Sprintf(" Weigh one of the lot: press it on a scale until that shows %s kg (%s N), and measure its height then: it is the height to set all to. Write it down.", number.Trim(f.WeighN/gravity, 1), number.Trim(f.WeighN, 0))
	}
	if f.Bushed {
		p.Text += " The rod does not guide them: slip a guide bush over it inside each, shorter than the spring when solid."
	}
	p.Figures = []page.Fact{{Label: "to make up", Value: of(lots(s, assembly.GroupSpring))}, {Label: "height when free", Value: t.Exact(s.Readings[0].Low), Note: f.Stock}}
}

// discText is the arrangement of the discs of one stack.
func (t teller) discText(f *work.Springs) string {
	rim, other := "narrow rim", "wide rim"
	if f.WideFirst {
		rim, other = other, rim
	}
	how := fmt.Sprintf("%d discs in series: each the other way round than the one before, hollow to hollow and back to back by turns", f.Series)
	switch {
	case f.Series == 1:
		how = fmt.Sprintf("%d discs nested, all the same way round", f.Parallel)
	case f.Parallel > 1:
		how = fmt.Sprintf("%d packets of %d discs: those of a packet nested the same way round, each packet the other way round than the one before", f.Series, f.Parallel)
	}
	last := rim
	if f.Series%2 == 1 {
		last = other
	}
	return fmt.Sprintf("A stack is %s; the first lies with its %s on the washer, so the last has its %s under the outer washer.", how, rim, last)
}

func (t teller) onRods(s work.Step, p *page.Step) {
	caps, sleeves := "", lots(s, assembly.GroupSleeve)
	if c := of(lots(s, assembly.GroupEndCap)); c != "" {
		caps = fmt.Sprintf("Over the rods, flat against the inside of the back plate: %s, left and right, beside where the cells will stand.", c)
	}
	p.Text = caps
	if len(sleeves) > 0 {
		p.Text = words.Sentences(caps, fmt.Sprintf("A sleeve on every rod (%s): it insulates the rod beside the cells, and none goes on once the front is closed.%s", of(sleeves), jointOf(sleeves)))
	}
}

func (t teller) cellsIn(s work.Step, p *page.Step) {
	c := s.Facts.(*work.Cells)
	rows := ""
	if c.Pack.Rows > 1 {
		all := "All"
		if c.Pack.Rows == 2 {
			all = "Both"
		}
		rows = fmt.Sprintf(" %s rows in step, %s apart.", all, t.Exact(c.Pack.RowGap.MM()))
	}
	first, last := linerText(s, c.Pack)
	p.Text = words.Sentences(first, standText(s, c.Pack)+rows, fillerText(s, c.Pack), separatorText(s, c), last, guardText(s, c.Pack))
	p.Figures = slices.Concat(serialPlaces(c), poles(c), t.readings(s))
}

// linerText is where the liners go before the cells and after them.
func linerText(s work.Step, p *params.Pack) (first, last string) {
	back, front := atEnd(s, assembly.GroupLiner, assembly.Back), atEnd(s, assembly.GroupLiner, assembly.Front)
	if len(back) == 0 {
		return "", ""
	}
	each, lips := "", ""
	if p.Rows > 1 {
		each = "one behind each row, "
	}
	if back[0].Part.Make == parts.MakePrint {
		lips = " Its lips reach over the cell."
	}
	return fmt.Sprintf("Against the inside of the back plate first: %s, %sstanding on the board, centred across the row.%s", of(back), each, lips),
		fmt.Sprintf("Last, on the outer face of the front cell%s: %s.%s", words.Plural(p.Rows), of(front), jointOf(front))
}

// standText says which cell stands where.
func standText(s work.Step, p *params.Pack) string {
	between := ""
	if n := of(lots(s, assembly.GroupSeparator)); n != "" {
		between = ", one separator between each two (" + n + ")"
	}
	switch {
	case p.Cells == 1:
		return "Stand the cell on the board, its large face to the plate, corners square."
	case p.PerRow == 1:
		return "Stand the cells on the board, their large faces to the plate, corners square. " + rowsBeside(p)
	}
	return words.Sentences(fmt.Sprintf("Stand the cells on the board, %s at the back and %s at the front, large face to large face%s, corners square.", placeOfEach(p, 0), placeOfEach(p, p.PerRow-1), between), rowsBeside(p))
}

// fillerText is what stands in the last row's places that have no cell.
func fillerText(s work.Step, p *params.Pack) string {
	l := lots(s, assembly.GroupFiller)
	if len(l) == 0 {
		return ""
	}
	return fmt.Sprintf("In front of %s, in place of a cell: a filler (%s), its sheets one behind the other, packed with paper until it is as thick as a cell.", p.CellName(p.Cells-1), of(l))
}

// separatorText is which way round a printed separator goes.
func separatorText(s work.Step, c *work.Cells) string {
	l := lots(s, assembly.GroupSeparator)
	switch {
	case len(l) == 0 || l[0].Part.Make != parts.MakePrint:
		return ""
	case c.Frame:
		return "The lips of a frame reach over the cell in front of it, its cut-outs are up at the terminals." + jointOf(l)
	}
	return "The lips of a separator reach over both its cells, its cut-outs are up at the terminals." + jointOf(l)
}

func guardText(s work.Step, p *params.Pack) string {
	l := lots(s, assembly.GroupGuard)
	if len(l) == 0 {
		return ""
	}
	ends := "the first and the last cell" + words.Plural(p.Rows)
	if p.PerRow == 1 {
		ends = "the cell" + words.Plural(p.Rows)
	}
	how := "one leg along the cell's side, the other outward along the plate"
	if strings.HasPrefix(l[0].Part.Name, printed.StripName) { // pieces say which they are
		how = "flat strips along the cell's sides, up to the plates"
	}
	return fmt.Sprintf("On the outer upright edges of %s: %s, %s, so that none is pressed between cell and plate.%s", ends, of(l), how, jointOf(l))
}

// poles says which way round the cells stand.
func poles(c *work.Cells) []page.Fact {
	var out []page.Fact
	for i, places := range [][]int{c.Right, c.Left} {
		var cells []string
		for _, place := range places {
			cells = append(cells, c.Pack.CellName(place))
		}
		if len(cells) > 0 {
			out = append(out, page.Fact{Label: []string{"plus on the right", "plus on the left"}[i], Value: words.Join(cells)})
		}
	}
	return out
}

func (t teller) frontEnd(s work.Step, p *page.Step) {
	f := s.Facts.(*work.Face)
	caps, strips := "", ""
	if f.RaiseMM > 0 {
		strips = ", its lower edge on strips as thick as those under the back plate"
	}
	if c := of(lots(s, assembly.GroupEndCap)); c != "" {
		caps = fmt.Sprintf("First %s over the rods, left and right.", c)
	}
	p.Text = words.Sentences(caps,
		fmt.Sprintf("Put %s over all rods, UP upwards, its marked face outside%s.", PartName(lots(s, assembly.GroupPlate)[0].Part), strips),
		anglesText(s, f), "Put on outside what is listed here, from the plate outward. Start every nut and leave it loose.")
	p.Figures = faceFigures(f)
}

func (t teller) square(s work.Step, p *page.Step) {
	f := s.Facts.(*work.Play)
	down := "Cells and plates down on the board: tap them level with a block of wood"
	switch {
	case f.RaiseMM > 0:
		down = "Cells down on the board, plates down on their strips and no further: tap the cells level with a block of wood"
	case f.RaiseMM < 0:
		down = "Cells down on their board, plates down beside it: tap them level with a block of wood"
	}
	p.Text = down + ", lids in one plane, plates upright and square to the row."
	if f.Sleeves {
		p.Text += " The sleeves lie loose, pushed to the middle."
	}
}
