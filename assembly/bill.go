package assembly

import (
	"fmt"
	"math"
	"slices"

	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/number"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/printed"
)

// Bill is the parts list with the small things that are bought and not drawn.
func (a *Assembly) Bill() []PartLine {
	out := slices.Concat(a.PartsList(), sheetFixings(a), a.FootFixings(), terminalFixings(a), covers(a.Fixture))
	if f := a.Fixture; f.Nut.DragMax > 0 { // a nut with a drag of its own cleans no thread
		nut := fixing("cleaning-nut", parts.KindNut, "plain nut", f.Rods.Thread.Name+", to clean sawn threads", 1)
		nut.Loose = 1
		out = append(out, nut)
	}
	if s := a.Fixture.Spring; s != nil && s.BushOuter > 0 {
		mm := func(l unit.Length) string { return a.Fixture.Style.Say(number.Trim(l.MM(), 2) + " mm") }
		stock := "tube " + mm(s.BushOuter) + " outside, " + mm(s.BushInner) + " inside, " + mm(s.SolidHeight()-bushShort) + " long, or the next that goes in and over"
		out = append(out, fixing("spring-bush", "bush", "guide bush inside a spring", stock, len(a.Of(RoleSpring))))
	}
	return out
}

// bushShort is by how much a bush is shorter than its spring when solid, mm.
const bushShort = 1

// fixing is one kind of bought screw, nut or washer.
func fixing(id string, kind parts.Kind, name, stock string, count int) PartLine {
	p := &parts.Part{ID: id, Kind: kind, Name: name, Make: parts.MakeBuy, Material: "steel", Stock: stock}
	return PartLine{Part: p, Quantity: count, Pieces: count}
}

// Screw is a kind of terminal screw by its length, or by what it holds where the depth of
// the thread is not known; neither for a stud's nut.
type Screw struct {
	LongMM, GripMM float64
	Count          int
}

// ID is the part's.
func (s Screw) ID(stud bool) string {
	switch {
	case stud:
		return "terminal-nut"
	case s.LongMM > 0:
		return "terminal-screw-" + number.Trim(s.LongMM, 0)
	case s.GripMM > 0:
		return "terminal-screw-for-" + number.Trim(s.GripMM, 2)
	}
	return "terminal-screw"
}

// SpacerID is the part of a spacer under a link, so thick.
func SpacerID(mm float64) string { return "terminal-spacer-" + number.Trim(mm, 1) }

// Holding is what holds the links on the terminals at any one time.
type Holding struct {
	Screws  []Screw
	Washers int     // plain ones
	Spacers []Screw // LongMM thick
}

// Hold lists what a wiring plan needs, in place of a set for every terminal.
func (a *Assembly) Hold(h Holding) { a.holding = h }

// terminalFixings hold the links and lugs to the cells.
func terminalFixings(a *Assembly) []PartLine {
	c, n, h := a.Fixture.Cell, 0, a.holding
	if c.Welded {
		return nil
	}
	if h.Screws == nil {
		n := terminalSides * a.Fixture.Pack.Cells * max(1, c.Screws)
		h = Holding{Screws: []Screw{{Count: n}}, Washers: n}
	}
	var out []PartLine
	for _, s := range h.Screws {
		n += s.Count
		stock := c.TerminalThread
		switch {
		case c.StudHeight > 0:
			out = append(out, fixing(s.ID(true), "nut", "terminal nut", stock, s.Count))
			continue
		case s.LongMM > 0:
			stock += " x " + number.Trim(s.LongMM, 0)
		case s.GripMM > 0:
			stock += a.Fixture.Style.Say(fmt.Sprintf(" for %s mm", number.Trim(s.GripMM, 2)))
		}
		screw := fixing(s.ID(false), "screw", "terminal screw", stock, s.Count)
		if s.LongMM == 0 {
			screw.Rule = "as long as what it holds plus the thread's depth, less " + a.Fixture.Style.Small(0.5)
		}
		out = append(out, screw)
	}
	out = append(out, fixing("terminal-washer", "washer", "plain terminal washer", c.TerminalThread, h.Washers),
		fixing("terminal-lock-washer", "washer", "terminal lock washer", c.TerminalThread+", as the cell's data sheet asks for", n))
	for _, s := range h.Spacers {
		out = append(out, fixing(SpacerID(s.LongMM), "washer", "spacer under a link", fmt.Sprintf("%s, hole for %s, %s thick, no wider than the terminal", a.Fixture.Electrical.LinkMaterial, c.TerminalThread, a.Fixture.Style.Say(number.Trim(s.LongMM, 1)+" mm")), s.Count))
	}
	return out
}

// covers keep tools and links off what is live: a cap on every terminal, a mat over
// the lids, and under the links a sheet where the air there does not do.
func covers(f *params.Fixture) []PartLine {
	c, p, style := &f.Cell, &f.Pack, f.Style
	cover := func(id, name, stock string, count int) PartLine {
		l := fixing(id, "cover", name, stock, count)
		l.Part.Material = "insulating"
		return l
	}
	over := "a lug"
	switch {
	case c.Welded:
		over = "a tab"
	case c.Screws > 1:
		over = fmt.Sprintf("all %d screws of a terminal", c.Screws)
	}
	out := []PartLine{cover("cap-terminal", "terminal cap", "soft plastic, to fit over "+over+", with a probe hole too small for a finger", 2*p.Cells)}
	if t := f.Electrical.LinkSheet; t > 0 {
		out = append(out, cover("cover-strip", "insulating strip under the links", fmt.Sprintf("glass laminate or polycarbonate %s, %s x %s, a hole for every terminal, clear of the vents",
			style.Length(t.MM()), style.Length(stripWide(c)), style.Length(p.StackLength.MM())), terminalSides*p.Rows))
	}
	return append(out, cover("cover-mat", "insulating mat", "rubber or plastic, "+style.Length(1)+" or thicker, "+style.Length(p.Width.MM())+" x "+style.Length(p.StackLength.MM()), 1))
}

// stripWide is how wide a strip is that lies round all terminals of one side of a row,
// half a pad beyond them, mm.
func stripWide(c *params.Cell) float64 {
	l, r, more := c.Minus, c.Plus, unit.Length(max(1, c.Screws)-1)*c.StepX
	near, far := min(r.X-(r.Dia+more)/2, -l.X-(l.Dia+more)/2), max(r.X+(r.Dia+more)/2, -l.X+(l.Dia+more)/2)
	return (far - near + max(l.Dia, r.Dia)).MM()
}

// FootFixings hold the printed feet to the plates and to what the pack stands on, or
// brackets of the builder's own to the plates; none without mounting holes.
func (a *Assembly) FootFixings() []PartLine {
	if a.Fixture.Plate.Feet == nil {
		return nil
	}
	feet := len(a.Of(RoleFoot))
	screw, nut, washer, ground := footWords(a)
	if feet == 0 {
		return bracketFixings(a, nut, washer)
	}
	return []PartLine{
		fixing("foot-screw", "screw", "screw for a foot", screw, feet),
		fixing("foot-nut", "nut", "nut for a foot", nut, feet),
		fixing("foot-washer", "washer", "large washer for a foot", washer, feet),
		fixing("ground-screw", "screw", "screw for a foot's base", ground, feet),
	}
}

// bracketFixings hold brackets in the mounting holes; how thick they are is not known.
func bracketFixings(a *Assembly, nut, washer string) []PartLine {
	holes := 0
	for _, plate := range a.Of(RolePlate) {
		for _, h := range plate.Part.Holes {
			if h.For == parts.ForMounting {
				holes++
			}
		}
	}
	t, w, ok := a.Fixture.FootScrew()
	screw := "passes a hole of " + a.Fixture.Style.Length(a.Fixture.Plate.Feet.HoleDia.MM())
	if ok {
		screw = t.Name
	}
	screw += ", longer than bracket and nut by " + a.Fixture.Style.Length((a.Fixture.Plate.Thickness + w.Thickness).MM())
	return []PartLine{
		fixing("foot-screw", "screw", "screw for a bracket", screw, holes),
		fixing("foot-nut", "nut", "nut for a bracket", nut, holes),
		fixing("foot-washer", "washer", "large washer for a bracket", washer, holes),
	}
}

// footWords are the trade's words for screw, nut and washer that hold a foot, and
// for the screw through its base.
func footWords(a *Assembly) (screw, nut, washer, ground string) {
	grip, hole := footGrip(a), a.Fixture.Plate.Feet.HoleDia
	t, _, ok := a.Fixture.FootScrew()
	switch {
	case !ok:
		passes := "passes a hole of " + a.Fixture.Style.Length(hole.MM())
		return passes + ", more than " + a.Fixture.Style.Length(grip) + " long", "for that screw", "for that screw", passes + ", as the ground asks for"
	case t.System == "metric":
		long := number.Trim(screwLength(a, t), 0)
		return "ISO 4762 " + t.Name + " x " + long, "ISO 4032 " + t.Name, "ISO 7093-1 " + t.Name, t.Name + ", as the ground asks for"
	}
	return "hexagon socket cap screw " + t.Name + " x " + a.Fixture.Style.Length(screwLength(a, t)), "hexagon nut " + t.Name,
		"large washer " + t.Name, t.Name + ", as the ground asks for"
}

// footGrip is what a foot's screw holds together: plate and upright, mm.
func footGrip(a *Assembly) float64 {
	f := a.Fixture
	foot := printed.FootSpec{Printer: printed.Printer{FitMM: f.Printer.Fit.MM(), MinWallMM: f.Printer.MinWall.MM()}}
	return f.Plate.Thickness.MM() + foot.ThicknessMM()
}

// Screws come in steps of 5 mm or of 1/8 in; behind the nut stands what the nut
// needs, nutHigh of the thread's diameter, and a washer of footWasher mm: common
// practice, no source.
const nutHigh, footWasher = 1.0, 1.5

// screwLength is the length of a foot's screw, mm.
func screwLength(a *Assembly, t catalog.Thread) float64 {
	step := 5.0
	if t.System != "metric" {
		step = unit.MMPerInch / 8
	}
	return math.Ceil((footGrip(a)+footWasher+nutHigh*t.Major.MM())/step) * step
}
