package check

import (
	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/parts/geom"
)

// openingRules are the rules on what goes through the plates' holes and slots.
func openingRules() []rule {
	return []rule{
		{id: "screw-to-cell", group: finding.GroupClear, heavy: true,
			why:     "A screw through a mounting hole that comes up at a cell cuts its wrap and shorts its case; head and washer inside must stay as far off as metal must.",
			causes:  []string{"plates.feet.inset", "plates.feet.hole", "plates.width", "plates.bottom", "clearances.metal_to_cell"},
			measure: measureScrewCell},
		{id: "opening-free", group: finding.GroupClear, heavy: true,
			why:     "A hole in which no screw can be turned and a slot that nothing can be threaded through are of no use; head, nut and socket, and the tie with the fingers that pull it, must have their room on both sides of the plate.",
			causes:  []string{"plates.feet.inset", "plates.feet.hole", "plates.tie_slots", "plates.width", "plates.height", "clearances.tool_to_metal"},
			measure: measureOpenings},
	}
}

// measureScrewCell compares what a mounting hole's screw has inside with the cells, at
// their largest. A longer screw comes no nearer: cells are the same all along.
func measureScrewCell(b *scene) ([]finding.Finding, error) {
	need := b.fixture.Clearances.MetalToCell.MM()
	return b.openings(func(t *assembly.Tool, w *assembly.Instance) (string, float64, bool) {
		return "", need, t.Kind == assembly.ToolScrew && t.Approach == assembly.Inside && w.Role == assembly.RoleCell
	})
}

// measureOpenings compares what goes through an opening with all else that is there
// when it does: for a mounting hole's screw no cells inside, which measureScrewCell
// judges, and outside not the foot that the nut draws on.
func measureOpenings(b *scene) ([]finding.Finding, error) {
	return b.openings(func(t *assembly.Tool, w *assembly.Instance) (of string, need float64, judged bool) {
		if w.Role == assembly.RolePlate && w.End == t.End {
			return "", 0, false
		}
		switch t.Kind {
		case assembly.ToolTie:
			return "tie slot", 0, true
		case assembly.ToolHead:
			return "screw through the sheets", 0, true
		}
		if t.Approach == assembly.Outside {
			return "mounting hole", b.fixture.Clearances.ToolToMetal.MM(), w.Role != assembly.RoleFoot || w.End != t.End
		}
		return "mounting hole", 0, w.Role != assembly.RoleCell
	})
}

// openings measures what goes through the plates' openings against the instances that
// judge names, with the distance wanted; for each kind of opening one finding.
func (b *scene) openings(judge func(*assembly.Tool, *assembly.Instance) (of string, need float64, judged bool)) (all []finding.Finding, err error) {
	wide, err := b.variant(assembly.Largest)
	if err != nil {
		return nil, err
	}
	var order []string
	near := map[string]*candidates{}
	for i := range wide.Tools {
		t := &wide.Tools[i]
		if t.Kind != assembly.ToolScrew && t.Kind != assembly.ToolTie && t.Kind != assembly.ToolHead {
			continue
		}
		for j := range wide.Instances {
			if of, need, judged := judge(t, &wide.Instances[j]); judged {
				if near[of] == nil {
					order, near[of] = append(order, of), &candidates{}
				}
				near[of].add(b, &t.Instance, &wide.Instances[j], need)
			}
		}
	}
	for _, of := range order {
		var t tally
		b.closest(&t, *near[of], openingPlace)
		all = append(all, t.finding(of, "mm")...)
	}
	return all, nil
}

// openingPlace judges one distance: cells must be as far off as asked, of all else the
// room that a socket should have is only wanted.
func openingPlace(c candidate, g geom.Gap) finding.Finding {
	least := 0.0
	if c.v.Role == assembly.RoleCell {
		least = c.need
	}
	q := atLeast(g.MM, least, c.need)
	q.Between, q.At = []string{c.u.ID, c.v.ID}, spot(g.OnB)
	return q
}
