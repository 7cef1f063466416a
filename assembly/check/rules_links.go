package check

import (
	"math"
	"slices"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/parts/geom"
)

// linkRules judge the link bars of the finished pack. They say nothing where no
// links are placed.
func linkRules() []rule {
	return []rule{
		{id: "link-to-link", group: finding.GroupClear,
			why:     "Two bars of unlike potential within touching distance are a short waiting for a dropped washer; the distance must reach the clearance wanted.",
			causes:  []string{"electrical.link_width", "cell.terminals.pitch", "cell.thickness", "clearances.metal_to_terminal"},
			measure: measureLinkPairs},
		{id: "link-to-terminal", group: finding.GroupClear,
			why:     "A bar that passes a terminal of another potential shorts it when either is bent or loose; the distance must reach the clearance wanted.",
			causes:  []string{"electrical.link_width", "cell.terminals.pitch", "cell.terminals.diameter", "clearances.metal_to_terminal"},
			measure: measureLinkTerminals},
		{id: "link-to-case", group: finding.GroupClear,
			why:     "A bar lies at a cell's potential over cases that may be live; the distance must reach the clearance wanted.",
			causes:  []string{"electrical.link_sheet", "cell.terminals.height", "cell.case", "clearances.metal_to_cell"},
			measure: measureLinkCases},
		{id: "link-to-metal", group: finding.GroupClear,
			why:     "A bar within touching distance of rod, plate, angle or nut makes the frame live; the distance must reach the clearance wanted.",
			causes:  []string{"rods.levels", "rods.columns", "plates.height", "electrical.link_width", "clearances.metal_to_terminal"},
			measure: measureLinkMetal},
		{id: "terminal-driver", group: finding.GroupClear,
			why:     "The socket on a terminal is at its potential while the neighbours are live; the distance must reach the clearance wanted, or the socket is sleeved.",
			causes:  []string{"cell.terminals.pitch", "cell.thickness", "clearances.tool_to_terminal", "rods.levels"},
			measure: measureTerminalDriver, hint: wordsTerminalDriver},
	}
}

// measureLinkPairs compares bars of unlike potential.
func measureLinkPairs(b *scene) ([]finding.Finding, error) {
	nets, links := b.nominal.LinkNets(), b.nominal.Of(assembly.RoleLink)
	var cs candidates
	for i, u := range links {
		for _, v := range links[i+1:] {
			if nets[u.ID] != nets[v.ID] {
				b.touching(&cs, u, v)
			}
		}
	}
	return b.judged(cs, "link", airLeast), nil
}

// touching is a pair that must be out of touching distance.
func (b *scene) touching(cs *candidates, u, v *assembly.Instance) {
	cs.add(b, u, v, b.fixture.Clearances.MetalToTerminal.MM())
}

// judged measures candidates: less than least fails, less than wanted warns.
func (b *scene) judged(cs candidates, kind string, least float64) []finding.Finding {
	var t tally
	b.closest(&t, cs, func(c candidate, g geom.Gap) finding.Finding {
		p := atLeast(g.MM, least, max(c.need, least))
		p.Between, p.At = []string{c.u.ID, c.v.ID}, spot(g.OnA)
		return p
	})
	return t.finding(kind, "mm")
}

// measureLinkTerminals compares bars with the terminals of other nets.
func measureLinkTerminals(b *scene) ([]finding.Finding, error) {
	nets := b.nominal.LinkNets()
	var cs candidates
	for _, u := range b.nominal.Of(assembly.RoleLink) {
		for _, v := range b.nominal.Of(assembly.RoleTerminal) {
			if nets[u.ID] != nets[v.ID] {
				b.touching(&cs, u, v)
			}
		}
	}
	return b.judged(cs, "terminal", airLeast), nil
}

// measureLinkCases compares bars with the cells' cases: a wrapped case must only
// not be touched; over live ones air needs the whole clearance. An insulating sheet on
// the lids needs its room.
func measureLinkCases(b *scene) ([]finding.Finding, error) {
	least, need := apartLeast, apartLeast
	switch sheet := b.fixture.Electrical.LinkSheet; {
	case sheet >= params.MinInsulation:
		least, need = sheet.MM(), sheet.MM()
	case b.fixture.Cell.CaseLive:
		least, need = airLeast, b.fixture.Clearances.MetalToCell.MM()
	}
	var cs candidates
	for _, u := range b.nominal.Of(assembly.RoleLink) {
		for _, v := range b.nominal.Of(assembly.RoleCell) {
			cs.add(b, u, v, need)
		}
	}
	return b.judged(cs, "case", least), nil
}

// measureLinkMetal compares bars with bare metal of the frame.
func measureLinkMetal(b *scene) ([]finding.Finding, error) {
	var t tally
	need := b.fixture.Clearances.MetalToTerminal.MM()
	links := b.nominal.Of(assembly.RoleLink)
	if len(links) == 0 {
		return nil, nil
	}
	for _, g := range metal {
		if g != assembly.RoleRod || bareRods(b) {
			b.nearest(&t, conducting(b.nominal.Of(g)), links, need)
		}
	}
	return t.finding("frame", "mm"), nil
}

// measureTerminalDriver stands the driver on every terminal and compares it with
// what is live at another potential, and with the metal of the frame. In contact
// it cannot be put on; nearer than wanted it must be sleeved.
func measureTerminalDriver(b *scene) ([]finding.Finding, error) {
	nets := b.nominal.LinkNets()
	var other, frame candidates
	for i := range b.nominal.Tools {
		tool := &b.nominal.Tools[i]
		if tool.Kind != assembly.ToolDriver {
			continue
		}
		for j := range b.nominal.Instances {
			w := &b.nominal.Instances[j]
			switch {
			case w.Role == assembly.RoleTerminal || w.Role == assembly.RoleLink:
				if nets[w.ID] != nets[tool.On] {
					other.add(b, &tool.Instance, w, toolGap(b.fixture, toTerminal))
				}
			case w.Part.Conducts && w.Role != assembly.RoleCell:
				frame.add(b, &tool.Instance, w, toolGap(b.fixture, toMetal))
			}
		}
	}
	return slices.Concat(b.judged(other, "live", apartLeast), b.judged(frame, "frame", apartLeast), besideScrews(b)), nil
}

// besideScrews judges the screws of one terminal against each other: the socket over one
// passes the head or nut of the next, and their washers lie side by side.
func besideScrews(b *scene) []finding.Finding {
	f := b.fixture
	if f.Cell.Screws < 2 || f.Cell.Welded {
		return nil
	}
	step, flats := math.Hypot(f.Cell.StepX.MM(), f.Cell.StepZ.MM()), b.nominal.DriverFlats()
	have := step - f.Tables.SocketFor(flats).Outer.MM()/2 - flats.MM()/math.Sqrt(3)
	if w, ok := f.Tables.WasherFor(f.Cell.TerminalThread, "standard"); ok {
		have = min(have, step-w.Outer.MM())
	}
	p := atLeast(have, apartLeast, f.Clearances.ToolToMetal.MM())
	p.Why = "The socket over one screw of a terminal must pass the head or nut of the next, and their washers must lie side by side."
	p.Between, p.Params = []string{"a terminal's screws", "each other"}, []string{"cell.terminals.spacing", "cell.terminals.thread"}
	var t tally
	t.add(p)
	return t.finding("beside", "mm")
}

// wordsTerminalDriver says how the socket stays clear of what it can touch; empty where
// it does not go there at all.
func wordsTerminalDriver(b *scene, f finding.Finding) string {
	if f.Have < apartLeast {
		return ""
	}
	return "sleeve the socket down to its rim, and cap the neighbours: " + b.length(f.Have) + " are left"
}
