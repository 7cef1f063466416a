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
	what := "Screw your brackets to the outside of the plates, in every mounting hole, " + t.Length(s.Facts.(*work.Feet).HoleMM)
	if feet := of(lots(s, assembly.RoleFoot)); feet != "" {
		p.Title = "Screw the feet to the plates"
		what = "Screw " + feet + " to the outside of the plates, at the mounting holes. Each base points down and away from the plate"
	}
	p.Text = what + ". Put the heads inside, each on a large washer, and the nuts outside. No head may touch a cell."
}

func (t teller) capCells(s work.Step, p *page.Step) {
	p.Text = fmt.Sprintf("Put caps on both terminals of every cell (%d) before taking up a spanner. Leave them on.", s.Uses[0].Count)
}

func (t teller) backEnd(s work.Step, p *page.Step) {
	f := s.Facts.(*work.Face)
	shim, running := "", ""
	switch {
	case f.RaiseMM > 0:
		shim = fmt.Sprintf("Rest it on strips about %s thick.", Packing(t.Style, f.RaiseMM))
	case f.RaiseMM < 0:
		shim = fmt.Sprintf("Lay a board about %s high beside it for the cells: the plate reaches below them.", Packing(t.Style, -f.RaiseMM))
	}
	if f.Drags {
		running = "The nuts drag: hold the rod with pliers in its middle, where no nut runs."
	}
	p.Text = words.Sentences(
		fmt.Sprintf("Stand %s upright on a flat board, UP at the top, marked face outward. Prop it.", PartName(lots(s, assembly.RolePlate)[0].Part)), shim,
		anglesText(s, f),
		fmt.Sprintf("Push %s through. Put on every rod what is listed here. Run the nuts on until all rods stand out of them as listed.", of(lots(s, assembly.RoleRod))), running)
	p.Figures = append(faceFigures(f), page.Fact{Label: "rod out of the back nuts", Value: t.Exact(s.Readings[0].Low)})
}

// Packing is a thickness as strips and boards can be had.
func Packing(t params.Style, mm float64) string {
	if t.Unit == unit.Inch {
		return unit.Length(mm).Short(unit.Style{Unit: unit.Inch, Denominator: 64})
	}
	return number.Trim(mm, 1) + " mm"
}

// anglesText says how the angles lie on a plate.
func anglesText(s work.Step, f *work.Face) string {
	names := of(lots(s, assembly.RoleStiffener))
	if names == "" {
		return ""
	}
	inward := ""
	if f.Inward {
		inward = " Turn both standing legs towards the middle of the plate."
	}
	if f.End == assembly.Front {
		return fmt.Sprintf("Hold %s against it as at the back.", names)
	}
	return fmt.Sprintf("Hold %s against its outside, the drilled leg on the plate, the standing leg outward.%s", names, inward)
}

// faceFigures are what an end is built of: for each level which angle lies there and
// on which side of the rods its standing leg is, and what goes on every rod.
func faceFigures(f *work.Face) []page.Fact {
	var out []page.Fact
	same := f.Inward && !slices.ContainsFunc(f.Angles, func(a work.Angle) bool { return a.Part != f.Angles[0].Part })
	for _, a := range f.Angles {
		if same { // the text says it of all
			break
		}
		way := "below"
		if a.Up {
			way = "above"
		}
		name := strings.ReplaceAll(strings.TrimPrefix(a.ID, "stiffener-"+f.End.String()+"-"), "-", " ")
		out = append(out, page.Fact{Label: "angle at the " + name + " rods", Value: a.Part.Mark + ", standing leg " + way + " the rods"})
	}
	var on []string
	for _, p := range f.Stack {
		name := p.Name
		if words := strings.Fields(name); p.Kind == parts.KindWasher || p.Kind == parts.KindNut {
			name = words[len(words)-1]
		}
		if slices.ContainsFunc(f.Stack, func(q *parts.Part) bool { return q.Kind == p.Kind && q != p }) { // two kinds of washer
			name += " " + p.Stock
		}
		on = append(on, name)
	}
	return append(out, page.Fact{Label: "on every rod, outward", Value: strings.Join(on, ", ")})
}

// gravity makes newtons of kilograms.
const gravity = 9.80665

func (t teller) springs(s work.Step, p *page.Step) {
	f := s.Facts.(*work.Springs)
	p.Text = "The springs go on the front end of every rod, with a washer on each side. "
	if f.BothEnds {
		p.Text = "The springs go on both ends of every rod, with a washer on each side. "
	}
	if f.Disc {
		p.Text += t.discText(f)
	} else {
		p.Text += "Their ground ends lie on the washers."
	}
	if f.WeighN > 0 {
		p.Text += fmt.Sprintf(" Press one of every rod on a scale until it shows %s. Measure its height then and write it down. Set all springs to the mean of these heights.", scale(t, f.WeighN))
	}
	if f.Bushed {
		p.Text += " Slip a guide bush over the rod inside each, shorter than the spring when solid."
	}
	p.Figures = []page.Fact{{Label: "to make up", Value: of(lots(s, assembly.RoleSpring))}, {Label: "height when free", Value: t.Length(s.Readings[0].Low), Note: f.Stock}}
}

// scale is what a scale shows under a force.
func scale(t teller, n float64) string {
	if t.Unit == unit.Inch {
		return t.Mass(1000 * n / gravity)
	}
	return number.Trim(n/gravity, 1) + " kg"
}

// discText is the arrangement of the discs of one stack.
func (t teller) discText(f *work.Springs) string {
	rim, other := "narrow rim", "wide rim"
	if f.WideFirst {
		rim, other = other, rim
	}
	how := fmt.Sprintf("%d discs in series: turn each the other way round than the one before", f.Series)
	switch {
	case f.Series == 1:
		how = fmt.Sprintf("%d discs nested, all the same way round", f.Parallel)
	case f.Parallel > 1:
		how = fmt.Sprintf("%d packets of %d discs: nest those of a packet, and turn each packet the other way round than the one before", f.Series, f.Parallel)
	}
	last := rim
	if f.Series%2 == 1 {
		last = other
	}
	return fmt.Sprintf("A stack is %s. The first lies with its %s on the washer, the last has its %s under the outer washer.", how, rim, last)
}

func (t teller) onRods(s work.Step, p *page.Step) {
	caps, sleeves := "", lots(s, assembly.RoleSleeve)
	if c := of(lots(s, assembly.RoleEndCap)); c != "" {
		caps = fmt.Sprintf("Slip %s over the rods, flat against the inside of the back plate, left and right.", c)
	}
	p.Text = caps
	if len(sleeves) > 0 {
		p.Text = words.Sentences(caps, fmt.Sprintf("Push a sleeve on every rod (%s): it insulates the rod beside the cells.%s", of(sleeves), jointOf(sleeves)))
	}
}

func (t teller) cellsIn(s work.Step, p *page.Step) {
	c := s.Facts.(*work.Cells)
	rows := ""
	if c.Pack.Rows > 1 {
		all := "all"
		if c.Pack.Rows == 2 {
			all = "both"
		}
		rows = fmt.Sprintf(" Keep %s rows in step, %s apart.", all, t.Exact(c.Pack.RowGap.MM()))
	}
	first, last := linerText(s, c.Pack)
	p.Text = words.Sentences(first, standText(s, c.Pack)+rows, fillerText(s, c.Pack), separatorText(s, c), last, guardText(s, c.Pack))
	p.Figures = slices.Concat(serialPlaces(c), poles(c), t.readings(s))
}

// linerText is where the liners go before the cells and after them.
func linerText(s work.Step, p *params.Pack) (first, last string) {
	back, front := atEnd(s, assembly.RoleLiner, assembly.Back), atEnd(s, assembly.RoleLiner, assembly.Front)
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
	return fmt.Sprintf("First put %s against the back plate, %scentred across the row. %s on the board.%s", of(back), each, map[bool]string{true: "It stands", false: "They stand"}[back[0].Count == 1], lips),
		fmt.Sprintf("Last put %s on the outer face of the front cell%s.%s", of(front), words.Plural(p.Rows), jointOf(front))
}

// standText says which cell stands where.
func standText(s work.Step, p *params.Pack) string {
	between := ""
	if n := of(lots(s, assembly.RoleSeparator)); n != "" {
		between = "Put a separator between each two (" + n + ")."
	}
	switch {
	case p.Cells == 1:
		return "Stand the cell square on the board, its large face to the plate."
	case p.PerRow == 1:
		return words.Sentences("Stand the cells square on the board, their large faces to the plate.", rowsBeside(p))
	}
	return words.Sentences("Stand the cells square on the board, large face to large face.", "Begin at the back with "+placeOfEach(p, 0)+".", between)
}

// fillerText is what stands in the last row's places that have no cell.
func fillerText(s work.Step, p *params.Pack) string {
	l := lots(s, assembly.RoleFiller)
	if len(l) == 0 {
		return ""
	}
	return fmt.Sprintf("In front of %s put a filler (%s) in place of a cell. Its sheets lie one behind the other. Pack it with paper until it is as thick as a cell.", p.CellName(p.Cells-1), of(l))
}

// separatorText is which way round a printed separator goes.
func separatorText(s work.Step, c *work.Cells) string {
	l := lots(s, assembly.RoleSeparator)
	switch {
	case len(l) == 0 || l[0].Part.Make != parts.MakePrint:
		return ""
	case c.Frame:
		return "The lips of a frame reach over the cell in front of it, its cut-outs are at the terminals." + jointOf(l)
	}
	return "The lips of a separator reach over both its cells, its cut-outs are at the terminals." + jointOf(l)
}

func guardText(s work.Step, p *params.Pack) string {
	l := lots(s, assembly.RoleGuard)
	if len(l) == 0 {
		return ""
	}
	ends := "the first and the last cell" + words.Plural(p.Rows)
	if p.PerRow == 1 {
		ends = "the cell" + words.Plural(p.Rows)
	}
	how := "One leg lies along the cell's side, the other outward along the plate"
	if strings.HasPrefix(l[0].Part.Name, printed.StripName) { // pieces say which they are
		how = "They lie flat along the cell's sides, up to the plates"
	}
	return fmt.Sprintf("Put %s on the outer upright edges of %s. %s: none may be pressed between cell and plate.%s", of(l), ends, how, jointOf(l))
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
		strips = "Rest it on strips as at the back."
	}
	if c := of(lots(s, assembly.RoleEndCap)); c != "" {
		caps = fmt.Sprintf("First slip %s over the rods, left and right.", c)
	}
	p.Text = words.Sentences(caps,
		fmt.Sprintf("Slide %s over all rods, UP at the top, marked face outward.", PartName(lots(s, assembly.RolePlate)[0].Part)), strips,
		anglesText(s, f), "Put on every rod what is listed here. Start every nut and leave it loose.")
	all := faceFigures(f)
	p.Figures = all[len(all)-1:] // the angles as at the back
}

func (t teller) square(s work.Step, p *page.Step) {
	f := s.Facts.(*work.Play)
	down := "Tap cells and plates down on the board with a block of wood"
	switch {
	case f.RaiseMM > 0:
		down = "Tap the cells down on the board and the plates down on their strips with a block of wood"
	case f.RaiseMM < 0:
		down = "Tap the cells down on their board and the plates down beside it with a block of wood"
	}
	p.Text = down + ". Bring the lids into one plane, and the plates upright and square to the row."
	if f.Sleeves {
		p.Text += " Push the loose sleeves to the middle."
	}
}
