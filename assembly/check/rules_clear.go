package check

import (
	"clampwright/assembly"
	"clampwright/assembly/finding"
)

// bareRods says whether the rods are bare metal beside the cells.
func bareRods(b *scene) bool { return !b.fixture.Sleeve.Insulates() }

// bared is how much of a rod between the plates its sleeve leaves bare, mm.
func bared(a *assembly.Assembly) float64 {
	return 2*a.Placement.Ends[assembly.Front].Plate.Inner - a.SleeveLength()
}

// measureMetalCell compares bare metal with the cells' cases, cells at their
// largest. Metal with an insulator round it (a rod in its sleeve, but for one that slides
// to one end and bares more than that distance beside an end cell) or in front of it (a
// plate behind its liner) is judged elsewhere.
func measureMetalCell(b *scene) ([]finding.Finding, error) {
	wide, err := b.variant(assembly.Largest)
	if err != nil {
		return nil, err
	}
	need := b.fixture.Clearances.MetalToCell.MM()
	cells := wide.Of(assembly.RoleCell)
	var rods, other tally
	if bareRods(b) || bared(b.nominal) > need+Slack {
		b.nearest(&rods, wide.Of(assembly.RoleRod), cells, need)
	}
	for _, g := range hardware {
		b.nearest(&other, conducting(wide.Of(g)), cells, need)
	}
	return append(rods.finding("rod", "mm"), other.finding("hardware", "mm")...), nil
}

// hardware is what sits outside the plates, and what keeps metal off the cells
// unless it is itself made of what conducts.
var hardware = []assembly.Role{assembly.RoleStiffener, assembly.RoleWasher, assembly.RoleSpring, assembly.RoleNut, assembly.RoleJamNut,
	assembly.RoleSleeve, assembly.RoleGuard, assembly.RoleEndCap, assembly.RoleRodCap, assembly.RoleFoot}

func conducting(ws []*assembly.Instance) []*assembly.Instance {
	var all []*assembly.Instance
	for _, w := range ws {
		if w.Part.Conducts {
			all = append(all, w)
		}
	}
	return all
}

// measureSleeveCell asks that sleeves stay clear of the cells.
func measureSleeveCell(b *scene) ([]finding.Finding, error) {
	wide, err := b.variant(assembly.Largest)
	if err != nil || b.fixture.Sleeve == nil {
		return nil, err
	}
	var t tally
	b.nearest(&t, wide.Of(assembly.RoleSleeve), wide.Of(assembly.RoleCell), apartLeast)
	return t.finding("sleeve", "mm"), nil
}

// measureSleeveFree asks that sleeves never carry load: with the thinnest cells
// there is still a gap at both ends.
func measureSleeveFree(b *scene) ([]finding.Finding, error) {
	thin, err := b.variant(assembly.Smallest)
	if err != nil {
		return nil, err
	}
	var t tally
	for _, s := range thin.Of(assembly.RoleSleeve) {
		p := atLeast(bared(thin), apartLeast, b.fixture.Tolerances.CutLength.MM())
		p.Between, p.At = []string{s.ID, thin.PlateAt(assembly.Front).ID, thin.PlateAt(assembly.Back).ID}, spot(s.Frame.O)
		t.add(p)
	}
	return t.finding("", "mm"), nil
}

// metal is every group of metal parts that could touch a terminal.
var metal = append([]assembly.Role{assembly.RolePlate, assembly.RoleRod}, hardware...)

// measureMetalTerminal compares metal parts with terminals.
func measureMetalTerminal(b *scene) ([]finding.Finding, error) {
	need := b.fixture.Clearances.MetalToTerminal.MM()
	var all []finding.Finding
	for _, target := range []assembly.Role{assembly.RoleTerminal, assembly.RoleVent} {
		var t tally
		for _, g := range metal {
			if g == assembly.RoleRod && !bareRods(b) {
				continue
			}
			b.nearest(&t, conducting(b.nominal.Of(g)), b.nominal.Of(target), need)
		}
		all = append(all, t.finding(string(target), "mm")...)
	}
	return all, nil
}

// measureVentFree asks that nothing stands in the space above a vent. The value
// is the height that is free.
func measureVentFree(b *scene) ([]finding.Finding, error) {
	want := b.fixture.Clearances.VentFree.MM()
	var t tally
	for i := range b.nominal.Tools {
		space := &b.nominal.Tools[i]
		if space.Kind != assembly.ToolVent {
			continue
		}
		for j := range b.nominal.Instances {
			w := &b.nominal.Instances[j]
			if w.ID == space.On || w.Role == assembly.RoleCell && w.Row == space.Row && w.Index == space.Index {
				continue
			}
			if t.count > 0 && b.box(&space.Instance).Dist(b.box(w)) > apartLeast {
				t.count++ // as free as it can be
				continue
			}
			t.add(ventPlace(b, space, w, want))
		}
	}
	return t.finding("", "mm"), nil
}

// ventPlace measures the free height under one instance: the whole height when
// it is not in the space, else up to its lowest point.
func ventPlace(b *scene, space *assembly.Tool, w *assembly.Instance, want float64) finding.Finding {
	free := want
	g := b.between(&space.Instance, w, apartLeast)
	if g.MM < -Slack {
		free = min(want, max(0, lowest(w)-space.Frame.O.Y))
	}
	p := atLeast(free, want, want)
	p.Between, p.At = []string{space.On, w.ID}, spot(g.OnA)
	return p
}

// lowest is the least y of an instance.
func lowest(w *assembly.Instance) float64 {
	return w.Part.Solid.Transform(w.Frame).Bounds().Min.Y
}
