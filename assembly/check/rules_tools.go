package check

import (
	"fmt"
	"math"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/parts/geom"
)

// target is a class of things that a tool must stay clear of.
type target int

const (
	toMetal target = iota
	toCell
	toTerminal
)

// classOf sorts an instance into the classes tools stay clear of.
func classOf(g assembly.Role) target {
	switch g {
	case assembly.RoleCell, assembly.RoleFiller, assembly.RoleSeparator, assembly.RoleLiner:
		return toCell
	case assembly.RoleTerminal, assembly.RoleVent, assembly.RoleLink:
		return toTerminal
	}
	return toMetal
}

// toolGap is the distance wanted between a tool and a class of things.
func toolGap(f *params.Fixture, t target) float64 {
	switch t {
	case toCell:
		return f.Clearances.ToolToCell.MM()
	case toTerminal:
		return f.Clearances.ToolToTerminal.MM()
	}
	return f.Clearances.ToolToMetal.MM()
}

// mates says whether a socket or spanner is meant to meet the instance: the nut
// it drives and what sits on the same end of the same rod.
func mates(t *assembly.Tool, w *assembly.Instance) bool {
	if w.Column != t.Column || w.Level != t.Level || w.Column < 0 {
		return false
	}
	return w.Role == assembly.RoleRod || w.Role != assembly.RoleSleeve && w.End == t.End
}

// measureDriver judges every nut for one class of surroundings: the socket gets
// in, or at least a spanner does (warn).
func measureDriver(class target) func(*scene) ([]finding.Finding, error) {
	return func(b *scene) ([]finding.Finding, error) {
		var t tally
		for i := range b.nominal.Tools {
			socket := &b.nominal.Tools[i]
			if socket.Kind != assembly.ToolSocket {
				continue
			}
			p, ok := b.toolPlace(socket, class)
			if !ok {
				continue
			}
			b.soften(&p, socket, class)
			t.add(p)
		}
		return t.finding("", "mm"), nil
	}
}

// soften makes a foul of the socket a warning where a spanner gets on instead,
// and where the socket's size is not the user's own: outside diameters of
// sockets are not standardised tightly, so the tables only plan.
func (b *scene) soften(p *finding.Finding, socket *assembly.Tool, class target) {
	switch {
	case p.Verdict != finding.Fail:
	case b.spannerFits(socket, class):
		p.Verdict, p.Way = finding.Warn, "socket; a spanner fits"
	case class == toMetal && b.fixture.Origin("tools.socket").Kind != params.FromFile:
		p.Verdict, p.Way = finding.Warn, "socket of usual size; measure your own"
	}
}

// toolPlace is the nearest thing of a class to a tool, the tool's own mates
// left out; ok is false when there is none.
func (b *scene) toolPlace(tool *assembly.Tool, class target) (p finding.Finding, ok bool) {
	need := toolGap(b.fixture, class)
	var cs candidates
	for i := range b.nominal.Instances {
		w := &b.nominal.Instances[i]
		if classOf(w.Role) == class && !mates(tool, w) {
			cs.add(b, &tool.Instance, w, need)
		}
	}
	return b.tightest(cs, tool.ID, string(tool.Kind))
}

// tightest is the place of the candidates that has least to spare.
func (b *scene) tightest(cs candidates, name, approach string) (p finding.Finding, ok bool) {
	var t tally
	b.closest(&t, cs, func(c candidate, g geom.Gap) finding.Finding {
		q := atLeast(g.MM, c.need, c.need)
		q.Between, q.At, q.Way = []string{name, c.v.ID}, spot(g.OnB), approach
		return q
	})
	if len(t.places) == 0 {
		return finding.Finding{}, false
	}
	return t.places[t.worst], true
}

// spannerFits says whether the spanner's head gets on the same nut.
func (b *scene) spannerFits(socket *assembly.Tool, class target) bool {
	for i := range b.nominal.Tools {
		s := &b.nominal.Tools[i]
		if s.Kind == assembly.ToolSpanner && s.On == socket.On {
			p, ok := b.toolPlace(s, class)
			return !ok || p.Verdict == finding.Pass
		}
	}
	return false
}

// measureGrip judges every rod for the pliers at mid-span: the best way in, by
// the room left round both jaws. Grip room is wanted to everything but the rod
// gripped, and the tools' own distances to cells and terminals on top.
func measureGrip(b *scene) ([]finding.Finding, error) {
	best := map[string]finding.Finding{}
	var order []string
	for _, way := range b.ways() {
		p := b.gripPlace(way)
		if was, ok := best[way.rod]; !ok {
			best[way.rod] = p
			order = append(order, way.rod)
		} else if finding.Compare(was, p) < 0 {
			best[way.rod] = p
		}
	}
	var t tally
	for _, rod := range order {
		t.add(best[rod])
	}
	return t.finding("", "mm"), nil
}

// way is one approach to one rod with both jaws.
type way struct {
	rod, approach string
	jaws          []*assembly.Tool
}

// ways lists the approaches in the order the jaws were placed.
func (b *scene) ways() []way {
	var all []way
	for i := range b.nominal.Tools {
		t := &b.nominal.Tools[i]
		if t.Kind != assembly.ToolPliers {
			continue
		}
		if n := len(all); n > 0 && all[n-1].rod == t.On && all[n-1].approach == t.Approach {
			all[n-1].jaws = append(all[n-1].jaws, t)
			continue
		}
		all = append(all, way{t.On, t.Approach, []*assembly.Tool{t}})
	}
	return all
}

// gripPlace is the tightest place of one approach.
func (b *scene) gripPlace(w way) finding.Finding {
	var cs candidates
	for _, jaw := range w.jaws {
		for i := range b.nominal.Instances {
			o := &b.nominal.Instances[i]
			if o.ID != w.rod && !(o.Role == assembly.RoleSleeve && sameRod(o, &jaw.Instance)) {
				cs.add(b, &jaw.Instance, o, gripNeed(b.fixture, classOf(o.Role)))
			}
		}
	}
	p, _ := b.tightest(cs, w.rod, w.approach)
	return p
}

// gripNeed is the distance wanted between a jaw and a class of things.
func gripNeed(f *params.Fixture, c target) float64 {
	room := f.Tools.Pliers.Room.MM()
	if c == toMetal {
		return room
	}
	return max(room, toolGap(f, c))
}

func sameRod(u, v *assembly.Instance) bool {
	return u.Column >= 0 && u.Column == v.Column && u.Level == v.Level
}

// measureBareGrip warns when the pliers only find the sleeve where nuts that
// drag turn the rod with them.
func measureBareGrip(b *scene) ([]finding.Finding, error) {
	f := b.fixture
	if f.Sleeve == nil || f.Nut.Kind != "prevailing" {
		return nil, nil
	}
	need := f.Tools.Pliers.JawWidth.MM() + 2*f.Tools.Pliers.Room.MM()
	var t tally
	for _, s := range b.nominal.Of(assembly.RoleSleeve) {
		p := atLeast(bared(b.nominal), math.Inf(-1), need)
		p.Between, p.At = []string{s.ID, b.nominal.RodAt(s.Column, s.Level).ID}, spot(s.Frame.O)
		t.add(p)
	}
	return t.finding("", "mm"), nil
}

// measureDrillAccess compares the chuck with the standing leg.
func measureDrillAccess(b *scene) ([]finding.Finding, error) {
	need := b.fixture.Clearances.ToolToMetal.MM()
	var t tally
	for i := range b.nominal.Tools {
		d := &b.nominal.Tools[i]
		if d.Kind != assembly.ToolDrill {
			continue
		}
		leg := b.nominal.StiffenerAt(d.End, d.Level)
		g := b.between(&d.Instance, leg, need+exactBeyond)
		p := atLeast(g.MM, math.Inf(-1), need)
		p.Between, p.At = []string{d.ID, leg.ID}, spot(g.OnB)
		t.add(p)
	}
	return t.finding("", "mm"), nil
}

func wordsDrillAccess(b *scene, _ finding.Finding) string {
	s := b.fixture.Stiffener
	out := s.StandingLeg.MM() - s.Section.Thickness.MM() + b.fixture.Clearances.ToolToMetal.MM()
	return fmt.Sprintf("drill from the flat face, or let the drill stand %s out of the chuck", b.up(out))
}

// measureNutTurns asks that the nut's corners clear everything round it: a nut
// that cannot turn cannot be driven by any tool.
func measureNutTurns(b *scene) ([]finding.Finding, error) {
	f := b.fixture
	if f.Stiffener == nil {
		return nil, nil
	}
	gap := f.Stiffener.Gauge.MM() - f.Stiffener.Section.Thickness.MM() - f.Nut.Corners.MM()/2
	var t tally
	for _, n := range b.nominal.Of(assembly.RoleNut) {
		p := atLeast(gap, 0, f.Clearances.ToolToMetal.MM())
		p.Between, p.At = []string{n.ID, b.nominal.StiffenerAt(n.End, n.Level).ID}, spot(n.Frame.O)
		t.add(p)
	}
	return t.finding("", "mm"), nil
}
