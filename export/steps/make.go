package steps

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/nest"
	"clampwright/assembly/work"
	"clampwright/export/drawing"
	"clampwright/export/page"
	"clampwright/params"
	"clampwright/params/words"
	"clampwright/parts"
)

func (t teller) buy(s work.Step, p *page.Step) {
	p.Text = "Lay out all bought parts and the stock to cut."
}

func (t teller) print(s work.Step, p *page.Step) {
	p.Text = "Print the files in print/ as they lie, with the settings in checks.html. Break off all burrs: the parts touch cells."
	var all []string
	for _, l := range s.Makes {
		all = append(all, fmt.Sprintf("%s (%d)", words.First(l.Part.Mark, l.Part.Name), l.Count))
	}
	p.Figures = []page.Fact{{Label: "to print", Value: words.Join(all)}}
}

func (t teller) checkCells(s work.Step, p *page.Step) {
	c := s.Facts.(*work.Cells)
	p.Text = "Measure every cell and fill in its record in forms.html. Put rejected cells aside. " + marking(c)
	p.Figures = serialPlaces(c)
	if gauge := aids(s, parts.KindGauge); gauge != "" {
		p.Text += " The " + gauge + " shows a bulged face at once."
	}
	for _, u := range c.Unknown {
		p.Figures = append(p.Figures, page.Fact{Label: u, Value: page.ToFill})
	}
	if len(c.Unknown) > 0 {
		p.Text += " Take the terminals' torque from the cell's data sheet."
	}
	if len(c.Unknown) > 1 {
		p.Text += " Measure the depth of their thread with a thin rod, from the pad to the bottom."
	}
	if len(s.Readings) > 0 {
		t.askForSum(s, p)
	}
}

// marking is what is written on the cells that are kept.
func marking(c *work.Cells) string {
	switch {
	case c.Serials != nil:
		return "Mark each of the others with its place, listed here by serial number."
	case c.Pack.Cells == 1:
		return "Mark it 1."
	}
	var rows []string
	for row := range c.Pack.Rows {
		first, last := c.Pack.CellName(row*c.Pack.PerRow), c.Pack.CellName(row*c.Pack.PerRow+c.Pack.CellsIn(row)-1)
		if c.Pack.CellsIn(row) > 2 {
			first, last = first+" to "+last, ""
		}
		rows = append(rows, first)
		if last != "" && last != first {
			rows = append(rows, last)
		}
	}
	return "Mark the others with their places, " + words.Join(rows) + "."
}

// serialPlaces are the cells on record by their places, a figure for each row;
// none without records.
func serialPlaces(c *work.Cells) []page.Fact {
	var out []page.Fact
	for place, serial := range c.Serials {
		if place%c.Pack.PerRow == 0 {
			out = append(out, page.Fact{Label: inRow("serial to place", c.Pack, place/c.Pack.PerRow)})
		}
		last := &out[len(out)-1]
		last.Value = strings.TrimPrefix(last.Value+", "+serial+" to "+c.Pack.CellName(place), ", ")
	}
	return out
}

// inRow adds the row to a label where there are several.
func inRow(label string, p *params.Pack, row int) string {
	if p.Rows < 2 {
		return label
	}
	return label + ", row " + p.RowName(row)
}

// askForSum has the cells' thicknesses added up where the stack is reckoned from
// nominal ones.
func (t teller) askForSum(s work.Step, p *page.Step) {
	pack, r := s.Facts.(*work.Cells).Pack, s.Readings[0]
	sum := "Add up the thicknesses of each row. If a sum is off"
	if pack.PerRow == 1 {
		sum = "If a thickness is off"
	}
	p.Text += fmt.Sprintf(" %s by more than %s, enter the measured stack as pack.stack and make this card again.", sum, t.Small((r.High-r.Low)/2))
	for i, r := range s.Readings {
		if n := pack.CellsIn(r.Row); i == 0 || n < pack.PerRow {
			p.Figures = append(p.Figures, page.Fact{Label: fmt.Sprintf("%d cell%s of a row, nominal", n, words.Plural(n)), Value: t.Length((r.Low + r.High) / 2)})
		}
		p.Figures = append(p.Figures, page.Fact{Label: inRow("measured", pack, r.Row), Value: fill})
	}
}

func (t teller) cut(s work.Step, p *page.Step) {
	c := s.Facts.(*work.Cut)
	verb := map[params.Machine]string{params.Router: "Rout", params.Laser: "Laser-cut"}[c.Machine]
	p.Title, p.Text = words.First(verb, "Cut")+" "+several(c.Quantity, c.Part), cutText(c)
	p.Figures = []page.Fact{{Label: "size", Value: t.Exact(c.SizeMM[0])}, {Label: "from", Value: CutFrom(c.Cut, t.Style)}}
	if c.SizeMM[1] != 0 {
		p.Figures[0].Value += " x " + t.Exact(c.SizeMM[1])
	}
	if c.Machine != params.HandTools {
		p.Figures = append(p.Figures, run(t, c)...)
	}
}

// run is how a machine cuts a part.
func run(t teller, c *work.Cut) []page.Fact {
	thick := c.Part.Flat.ThicknessMM
	tool := page.Fact{Label: "beam", Value: t.Small(c.ToolMM) + " wide"}
	if c.Machine == params.Router {
		tool = page.Fact{Label: "cutter", Value: t.Exact(c.ToolMM), Note: t.Small(thick+nest.ThroughMM) + " deep, into the board under the sheet"}
	}
	count := map[nest.OpKind]int{}
	for _, op := range c.Ops {
		count[op.Kind]++
	}
	var order []string
	for _, k := range []struct {
		kind nest.OpKind
		word string
	}{{nest.Hole, "hole"}, {nest.Slot, "slot"}, {nest.Inside, "cut-out"}} {
		if n := count[k.kind]; n > 0 {
			order = append(order, fmt.Sprintf("%d %s%s", n, k.word, words.Plural(n)))
		}
	}
	last := c.Ops[len(c.Ops)-1]
	order = append(order, map[bool]string{true: "edges and corners by hand", false: "the outline"}[last.Kind == nest.Kept])
	out := []page.Fact{tool, {Label: "in this order", Value: strings.Join(order, ", ")}}
	if len(last.Tabs) > 0 {
		out = append(out, page.Fact{Label: "tabs", Value: fmt.Sprintf("%s wide, %s high", t.Small(nest.TabMM), t.Small(nest.TabHighMM(thick))), Note: "where the file says tab"})
	}
	return out
}

// machineText is how a part comes off a machine.
func machineText(c *work.Cut) string {
	var files []string
	for _, k := range c.Taken {
		for _, n := range k.Numbers {
			files = append(files, fmt.Sprintf("cut/sheet-%d.dxf", n))
		}
	}
	text := "Lay the sheet with the part's outside face up, zero at the sheet's lower left corner. Make inside cuts before outlines"
	if len(files) > 0 {
		text += ", as in " + words.Join(files)
		if c.Compensated {
			text += ". Where the machine does not offset for its tool, take the file of that sheet in the folder of compensated ones"
		}
	}
	if c.Part.Kind == parts.KindPlate || c.Part.Kind == parts.KindPlySheet {
		text += ". " + markUp
	}
	if c.Machine == params.Router {
		text += ". Clamp only where the file says hold. Leave the tabs standing, cut them by hand and file them flush"
	}
	return text + "."
}

const markUp = "Mark the UP edge and the outside face before you free the part"

// whole says that every sheet it is taken from is the part already, but for its corners and
// what is inside.
func whole(c *work.Cut) bool {
	return c.Sheet && c.Missing == 0 && !slices.ContainsFunc(c.Taken, func(k nest.Taken) bool {
		return slices.Max(k.StockMM[:])-slices.Max(c.SizeMM[:]) > nest.FitMM || slices.Min(k.StockMM[:])-slices.Min(c.SizeMM[:]) > nest.FitMM
	})
}

func cutText(c *work.Cut) string {
	const clean = "Clean the edges: no burr or splinter may reach a cell."
	switch p := c.Part; {
	case c.Machine != params.HandTools:
		return words.Sentences(machineText(c), clean)
	case p.Soft:
		return "Cut with a sharp knife along a steel rule, in several light strokes: what is soft and pressed down gets slanting edges. Keep the pieces flat and unloaded."
	case p.Make == parts.MakeRod && !c.CleansThread:
		return "Run a plain nut on before you saw, as drawn. Take it off to clean the thread. Do not use a locking nut: it wears."
	case p.Make == parts.MakeRod:
		return "Run a nut on before you saw. Take it off to clean the thread."
	case p.Kind == parts.KindLink:
		return "Saw the ends square. Round the corners and break every edge: a burr cuts insulation and holds the joint open."
	case p.Kind == parts.KindStiffener:
		return "Saw the ends square. Chamfer the corners of the standing leg as drawn."
	case p.Make == parts.MakeBar:
		return "Saw the ends square. Take off the burr inside: the sleeve must slide along the rod."
	case (p.Kind == parts.KindPlate || p.Kind == parts.KindPlySheet) && whole(c):
		return "The pieces have this size already. Leave their edges, make the corners as drawn. Mark the UP edge and the outside face."
	case p.Kind == parts.KindPlate, p.Kind == parts.KindPlySheet:
		return markUp + "."
	}
	return clean
}

// CutFrom says in words which stock a line of the cut list is cut from.
func CutFrom(c nest.Cut, style params.Style) string {
	var out []string
	for _, k := range c.Taken {
		words := fmt.Sprintf("%s (%s, %s)", k.On(), AtHand(k.Bought), style.Size([3]float64{k.StockMM[0], k.StockMM[1]}))
		if len(c.Taken) > 1 || c.Missing > 0 {
			words = fmt.Sprintf("%d from %s", k.Count, words)
		}
		out = append(out, words)
	}
	switch {
	case c.Missing == c.Quantity:
		out = append(out, "no stock listed takes it")
	case c.Missing > 0:
		out = append(out, fmt.Sprintf("no stock listed takes %d more", c.Missing))
	}
	return strings.Join(out, "; ")
}

// AtHand says whether stock is there.
func AtHand(bought bool) string {
	if bought {
		return "to buy"
	}
	return "at hand"
}

func (t teller) drill(s work.Step, p *page.Step) {
	d := s.Facts.(*work.Drilling)
	p.Title = "Drill " + several(d.Line.Quantity, d.Line.Part)
	p.Text = words.Sentences(t.drillText(d), drawing.HowToDrill(d.Slots))
	for _, h := range d.Holes {
		value := t.bit(h.Bits[len(h.Bits)-1])
		if h.PilotMM > 0 {
			var before []string
			for _, b := range h.Bits[:len(h.Bits)-1] {
				before = append(before, t.bit(b))
			}
			value = "pilot " + strings.Join(before, ", then ") + ", then " + value
		}
		p.Figures = append(p.Figures, page.Fact{Label: inRun(h.IDs), Value: value, Note: h.For})
	}
	holes := len(p.Figures)
	for i, slot := range d.Slots { // each size of slot once
		f := page.Fact{Label: "slot " + slot.ID, Value: t.Length(slot.LongMM()) + " x " + t.Length(slot.DiaMM), Note: "drill " + t.bit(d.SlotBits[i])}
		if k := slices.IndexFunc(p.Figures[holes:], func(o page.Fact) bool { return o.Value == f.Value && o.Note == f.Note }); k >= 0 {
			p.Figures[holes+k].Label += ", " + slot.ID
			continue
		}
		p.Figures = append(p.Figures, f)
	}
}

// joinG are the weights on a plate while its sheets are joined: common practice, no source.
const joinG = 20000

// join is how sheets become plates. Screws press while glue sets, and stay.
func (t teller) join(s work.Step, p *page.Step) {
	j := s.Facts.(*work.Joining)
	pilot := fmt.Sprintf("Drill %s through the holes into the innermost sheet, no deeper than the screws are long.", t.bit(j.Pilot))
	flat := "Join them on a flat board covered with film, outside faces up, UP edges and all edges flush."
	drive, kg := "Drive the screws from the middle to the edges, heads level with the face.", t.Mass(joinG)
	p.Text = words.Sentences(flat, pilot, drive, "Keep the plate flat meanwhile with "+kg+" on it.")
	if j.Glued {
		p.Text = words.Sentences("Roughen and dust the faces. Try the sheets dry first.", flat, "Spread glue evenly over one face of each joint.", pilot, drive,
			"Wipe off what comes out. Load each plate with "+kg+" until the glue has set. Let it harden for as long as its maker says before you drill the plates.")
	}
	var order []string
	for i := range j.Sheets {
		for _, l := range j.Of {
			if slices.Contains(l.Of, i) {
				order = append(order, l.Part.Mark)
			}
		}
	}
	p.Figures = []page.Fact{{Label: "sheets, outside first", Value: strings.Join(order, ", "), Note: fmt.Sprintf("of each of %d plates", j.Plates)},
		{Label: "thick together", Value: t.Small(float64(j.Sheets) * j.Sheet.MM())}, {Label: "screws of each plate", Value: fmt.Sprintf("%d of %s x %s", j.Screws, t.Small(j.Screw.MM()), t.Small(j.ScrewLong.MM()))}}
}

// bit names the drill to take.
func (t teller) bit(b work.Tool) string {
	if b.Bit.Name == "" {
		return t.Exact(b.SizeMM)
	}
	return t.Say(b.Bit.Words())
}

// drillText is how the holes of a part come to their places.
func (t teller) drillText(d *work.Drilling) string {
	routed, together := "", "Drill each by its own figures."
	if d.Machine != params.HandTools {
		routed = "Drill only the holes listed here: the " + string(d.Machine) + " has opened all others."
	}
	switch d.Line.Part.Kind {
	case parts.KindPlate, parts.KindPlySheet:
		if d.Together {
			together = "Clamp two together, outside faces up, UP edges together. Drill both at once, square to the face."
		}
		return words.Sentences(routed, together, guides(t, d, "Hook the drill guide over both edges of a corner"), fromTemplate(d))
	case parts.KindStiffener:
		if d.Together {
			together = "Clamp two back to back, drilled legs together, heels and ends flush. Drill both at once."
		}
		return words.Sentences(routed, together, guides(t, d, "Lay the drill guide into the angle, against an end and the standing leg,"), fromTemplate(d))
	}
	return "Drill a smaller hole first: it keeps the hole in its place. Deburr both faces."
}

// fromTemplate is where holes are marked without a guide.
func fromTemplate(d *work.Drilling) string {
	if len(d.Guides) > 0 {
		return "Mark other holes by the template in paper/ or by these figures."
	}
	return "Mark the holes by the template in paper/ or by these figures."
}

// guides is how the printed drill guides are used.
func guides(t teller, d *work.Drilling, how string) string {
	var where []string
	what, all, up, seen := "corner", 4, ", UP at the top", ""
	if d.Line.Part.Kind == parts.KindStiffener {
		what, all, up = "end", 2, ", standing leg up"
	}
	for _, g := range d.Guides {
		if len(g.Corners) == 0 {
			continue
		}
		at := " at the " + words.Join(g.Corners)
		switch a, b := g.Corners[0], g.Corners[len(g.Corners)-1]; {
		case len(g.Corners) == all:
			at, up = " at all", ""
		case len(g.Corners) == 2 && sameStart(a, b) != "": // "lower" of "lower left" and "lower right"
			at = " at the " + sameStart(a, b)
		default:
			seen = ", seen from outside"
		}
		where = append(where, g.Part.Mark+at+" "+what+words.Plural(len(g.Corners)))
	}
	if len(where) == 0 {
		return ""
	}
	press := ""
	if d.BushMM > 0 {
		press = "Press a bushing of " + t.Length(d.BushMM) + " outside, bored for the pilot, into every hole of the guide first."
	}
	return words.Sentences(press, how+" and drill the pilots through it.", fmt.Sprintf("Use %s%s%s. Turn it over for the other side.", words.Join(where), seen, up))
}

// inRun shortens a list of ids that follow each other: "H1 to H4".
func inRun(ids []string) string {
	first, _ := strconv.Atoi(strings.TrimPrefix(ids[0], "H"))
	for i := range ids {
		if ids[i] != fmt.Sprintf("H%d", first+i) || len(ids) < 3 {
			return words.Join(ids)
		}
	}
	return ids[0] + " to " + ids[len(ids)-1]
}

func (t teller) deburr(s work.Step, p *page.Step) {
	how := "runs on by hand"
	if s.Facts.(*work.Nuts).DragNMM > 0 {
		how = "starts by hand"
	}
	p.Text = fmt.Sprintf("Break every edge and countersink every hole lightly: a burr cuts insulation. File the sawn rod ends until a nut %s.", how)
}

// dryFit tries what must go together before a cell is near.
func (t teller) dryFit(s work.Step, p *page.Step) {
	through := []string{"both plates"}
	if len(lots(s, assembly.RoleStiffener)) > 0 {
		through = append(through, "the angles")
	}
	if len(lots(s, assembly.RoleEndCap)) > 0 {
		through = append(through, "the end caps")
	}
	p.Text = "All rods must go by hand through " + words.Join(through) + "."
	if len(lots(s, assembly.RoleSleeve)) > 0 {
		p.Text += fmt.Sprintf(" The sleeves must slide on the rods. Each is %s shorter than the space between the plates.", t.Length(s.Facts.(*work.Play).SleeveMM))
	}
}
