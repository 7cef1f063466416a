package page

import "strings"

// checkTable lists every check under its group, groups in order of first use.
func checkTable(cs []Check) table {
	var order []string
	rows := map[string][][]cell{}
	for _, c := range cs {
		if _, ok := rows[c.Group]; !ok {
			order = append(order, c.Group)
		}
		rows[c.Group] = append(rows[c.Group], []cell{
			{Text: c.Name, Small: strings.Join(c.Between, " – ")},
			{Verdict: c.Verdict},
			{Text: c.Measured},
			{Text: c.Required},
			{Text: whole(c), Do: c.Change},
		})
	}
	groups := make([]tableGroup, len(order))
	for i, g := range order {
		groups[i] = tableGroup{g, rows[g]}
	}
	return newTable("Every check that was made, with what was measured and what is required.", []col{
		{Head: "Check"}, {Head: "Verdict"}, {Head: "Measured"}, {Head: "Required"}, {Head: "Why it matters", Long: true},
	}, groups...)
}

// whole is why a check matters and every other place where it is so.
func whole(c Check) string {
	if len(c.Also) == 0 {
		return c.Why
	}
	return c.Why + " Also: " + strings.Join(c.Also, ", ") + "."
}

// stateTable gives the figures of each state; units stand in the heads.
func stateTable(c Clamp) table {
	unit := func(head, unit string) string {
		if unit == "" {
			return head
		}
		return head + ", " + unit
	}
	cols := []col{
		{Head: "State"}, {Head: "Verdict"}, {Head: unit("Force", c.ForceUnit), Num: true}, {Head: unit("Each rod", c.ForceUnit), Num: true},
		{Head: unit("Mean", c.PressureUnit), Num: true}, {Head: unit("Least", c.PressureUnit), Num: true},
		{Head: unit("Greatest", c.PressureUnit), Num: true}, {Head: unit("Middle", c.PressureUnit), Num: true},
		{Head: "In contact", Num: true}, {Head: unit("Plate bends", c.LengthUnit), Num: true},
	}
	var rows [][]cell
	for _, s := range c.States {
		r := texts(s.Name, "", s.Force, s.RodForces, s.Mean, s.Least, s.Greatest, s.Middle, s.Contact, s.Deflection)
		r[0].Small, r[1].Verdict = s.Reason, s.Verdict
		rows = append(rows, r)
	}
	return newTable(firstOf(c.StatesCaption, "Forces and pressures in each state."), cols, tableGroup{Rows: rows})
}

// marginTable gives how much stronger each part is than it need be.
func marginTable(c Clamp) table {
	cols := []col{{Head: "State"}}
	for _, n := range c.MarginNames {
		cols = append(cols, col{Head: n, Num: true})
	}
	var rows [][]cell
	for _, s := range c.States {
		rows = append(rows, texts(append([]string{s.Name}, s.Margins...)...))
	}
	if len(c.MarginNames) == 0 {
		rows = nil
	}
	return newTable("Reserve of strength over the stress in the part: at 0 % the part just holds, below that it gives.", cols, tableGroup{Rows: rows})
}

// rowsTable is a table of plain rows under a head.
func rowsTable(caption string, rows [][]string) table {
	var cols []col
	var body [][]cell
	for i, r := range rows {
		if i > 0 {
			body = append(body, texts(r...))
			continue
		}
		for _, h := range r {
			cols = append(cols, col{Head: h})
		}
	}
	for c := range cols {
		if len(body) > 0 && body[0][c].Text == ToFill { // a column to write in
			cols[c].Blank = true
			for _, r := range body {
				r[c].Text = ""
			}
		}
	}
	return newTable(caption, cols, tableGroup{Rows: body})
}

func drillTable(d DrillPart) table {
	var rows [][]cell
	for _, h := range d.Holes {
		rows = append(rows, texts(h.ID, h.X, h.Y))
	}
	return newTable("From "+firstOf(d.Datum, "the datum")+".", []col{{Head: "Hole"}, {Head: "x", Num: true}, {Head: firstOf(d.Across, "y"), Num: true}}, tableGroup{Rows: rows}).dense()
}

func partTable(ps []Part) table {
	var rows [][]cell
	for i, p := range ps {
		name := cell{Text: p.Name, Tick: "part-" + itoa(i+1)}
		rows = append(rows, append([]cell{name}, texts(p.Mark, p.Quantity, p.Material, p.Size, p.Price, p.Cost)...))
	}
	return newTable("Tick what lies ready.", []col{
		{Head: "Part"}, {Head: "Mark"}, {Head: "Quantity", Num: true}, {Head: "Material", Long: true}, {Head: "Size", Long: true},
		{Head: "Price each", Num: true}, {Head: "Cost", Num: true},
	}, tableGroup{Rows: rows})
}

// recordTable is the form for the incoming cells.
func recordTable(in Incoming) table {
	cols := []col{{Head: "Cell"}}
	for _, c := range in.Columns {
		cols = append(cols, col{Head: shorten(c, 24), Blank: true}) // a head over an empty field must be short
	}
	var rows [][]cell
	for _, c := range in.Cells {
		rows = append(rows, append(texts(c), make([]cell, len(in.Columns))...))
	}
	t := newTable("Record, to be filled in by pen.", cols, tableGroup{Rows: rows})
	t.Class = "record"
	return t
}

// madeTable is the form for the sizes of made parts.
func madeTable(ps []MadePart) table {
	const fields = 4
	cols := []col{{Head: "where"}, {Head: "what"}, {Head: "From", Num: true}, {Head: "To", Num: true}}
	for i := range fields {
		cols = append(cols, col{Head: "piece " + itoa(i+1), Blank: true})
	}
	var groups []tableGroup
	for _, p := range ps {
		g := tableGroup{Head: p.Name}
		for _, s := range p.Sizes {
			row := append(texts(s.Where, s.What, s.From, s.To), make([]cell, fields)...)
			for i, got := range s.Got[:min(fields, len(s.Got))] {
				row[4+i].Text = got
			}
			g.Rows = append(g.Rows, row)
		}
		groups = append(groups, g)
	}
	t := newTable("To be filled in by pen, then under readings: in the parameter file, or in the table beside it: what and where as here, the piece after the mark, \"P1/2 H1\", and the value.", cols, groups...)
	t.Class = "record"
	return t
}

// worthTable is the log of the readings at the clamp that are worth taking.
func worthTable(offers []WorthOffer) table {
	cols := []col{{Head: "Reading", Long: true}}
	for _, head := range []string{"Date", "Charge", "As read", "Date", "Charge", "As read"} {
		cols = append(cols, col{Head: head, Blank: true})
	}
	var groups []tableGroup
	for i, o := range offers {
		g := tableGroup{Head: itoa(i+1) + ". " + o.Name}
		for _, p := range o.Places {
			g.Rows = append(g.Rows, append(texts(p), make([]cell, len(cols)-1)...))
		}
		groups = append(groups, g)
	}
	t := newTable("To be filled in by pen, for two visits.", cols, groups...)
	t.Class = "record"
	return t
}

// ToFill is the value of a figure that is written down by hand.
const ToFill = "............"

// Blank says that a figure is to be written down by hand.
func (f Fact) Blank() bool { return f.Value == ToFill }

// logTable has a field for every reading that a step asks to be written down.
func logTable(ps []Phase) table {
	cols := []col{{Head: "Step"}, {Head: "Reading", Long: true}, {Head: "Date", Blank: true}, {Head: "Value", Blank: true}}
	var rows [][]cell
	n := 0
	for _, p := range ps {
		for _, s := range p.Steps {
			n++
			for _, label := range toWrite(s) {
				rows = append(rows, append(texts(itoa(n)+". "+s.Title, label), make([]cell, 2)...))
			}
		}
	}
	if len(rows) == 0 {
		return table{}
	}
	t := newTable("To be filled in by pen, in the order of the steps.", cols, tableGroup{Rows: rows})
	t.Class = "record"
	return t
}

// toWrite names what a step has fields for, in its figures and in its table.
func toWrite(s Step) (out []string) {
	for _, f := range s.Figures {
		if f.Value == ToFill {
			out = append(out, f.Label)
		}
	}
	for _, row := range s.Table {
		for c, text := range row {
			if text == ToFill {
				out = append(out, row[0]+", "+s.Table[0][c])
			}
		}
	}
	return out
}

func givenTable(gs []Given) table {
	var rows [][]cell
	for _, g := range gs {
		rows = append(rows, texts(g.Name, g.Value, g.Origin, g.From))
	}
	return newTable("What this sheet rests on.", []col{
		{Head: "Value"}, {Head: "Is"}, {Head: "Origin"}, {Head: "From", Long: true},
	}, tableGroup{Rows: rows})
}

func fileTable(fs []File) table {
	var rows [][]cell
	for _, f := range fs {
		rows = append(rows, texts(f.Name, f.What))
	}
	return newTable("Files delivered with this sheet.", []col{{Head: "File"}, {Head: "What it is"}}, tableGroup{Rows: rows})
}

// planTable compares the plans by what they are reckoned to do to the hands.
func planTable(plans []PlanRank) table {
	var rows [][]cell
	for _, p := range plans {
		r := texts(p.Name, p.Burns, p.Stopped, p.Shorts, p.Worst, p.Tool, p.Openings, p.Turned, p.Hours, p.Parts)
		r[0].Small = p.Note
		rows = append(rows, r)
	}
	return newTable("The plans, ranked by the harm that slips of the hand would do. Burns are for a thousand packs. The rates of slips are estimates: use the figures to compare plans only.", []col{
		{Head: "Plan"}, {Head: "Burns", Num: true}, {Head: "Slips stopped by a reading", Num: true}, {Head: "Links that could short", Num: true}, {Head: "Worst link, kJ", Num: true},
		{Head: "Worst tool, kA", Num: true}, {Head: "Clamp opened", Num: true}, {Head: "Cells turned", Num: true}, {Head: "Hours attended", Num: true}, {Head: "Links made", Num: true},
	}, tableGroup{Rows: rows})
}
