package tell

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/job"
	"clampwright/assembly/wiring"
	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/export/views"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// shooter sets up the picture of every step, one after the other.
type shooter struct {
	j      *job.Job
	at     map[string]*assembly.Instance
	bodies []page.Body
	known  map[*parts.Part]string
	meshes map[*parts.Part]geom.Mesh
	there  map[string]bool // instances that earlier steps have put in
	order  []string        // of the rods, as their nuts are turned
	fitted []wiring.Link
}

// shots gives the worded phases their pictures and returns the bodies in them.
func shots(j *job.Job, v *views.Views, phases []page.Phase) []page.Body {
	meshes, err := v.Meshes()
	if err != nil {
		return nil // what can't be meshed is named by the checks
	}
	s := &shooter{j: j, at: map[string]*assembly.Instance{}, known: map[*parts.Part]string{}, meshes: meshes, there: map[string]bool{}}
	for i := range j.Assembly.Instances {
		s.at[j.Assembly.Instances[i].ID] = &j.Assembly.Instances[i]
	}
	for _, p := range j.Work {
		for _, step := range p.Steps {
			if n, ok := step.Facts.(*work.Nuts); ok && len(s.order) == 0 {
				s.order = n.Order
			}
		}
	}
	for i, p := range j.Work {
		for k, step := range p.Steps {
			to := &phases[i].Steps[k]
			if to.Links = s.links(step); to.Links == nil {
				to.Shot = s.shot(step, to.Title)
			}
			for _, l := range step.Uses {
				for _, id := range l.At {
					s.put(id)
				}
			}
		}
	}
	return s.bodies
}

// put says that an instance stays where it is from now on, with what is part of it.
func (s *shooter) put(id string) {
	s.there[id] = true
	for _, with := range s.lid(s.at[id]) {
		s.there[with.ID] = true
	}
}

// lid is a cell's terminals and vent; nothing of what is no cell.
func (s *shooter) lid(cell *assembly.Instance) []*assembly.Instance {
	var out []*assembly.Instance
	if cell == nil || cell.Role != assembly.RoleCell {
		return out
	}
	for i := range s.j.Assembly.Instances {
		in := &s.j.Assembly.Instances[i]
		if (in.Role == assembly.RoleTerminal || in.Role == assembly.RoleVent) && in.Row == cell.Row && in.Index == cell.Index {
			out = append(out, in)
		}
	}
	return out
}

// body is the name of a part's body.
func (s *shooter) body(p *parts.Part, class page.Class) string {
	if name, ok := s.known[p]; ok {
		return name
	}
	m, ok := s.meshes[p]
	if !ok {
		var err error
		if m, err = p.Solid.Coarse(views.ChordMM); err != nil {
			return ""
		}
	}
	name := fmt.Sprint(len(s.bodies))
	s.known[p] = name
	s.bodies = append(s.bodies, page.Body{Name: name, Class: class, Mesh: m})
	return name
}

func (s *shooter) actor(in *assembly.Instance, role page.ShotRole) page.ShotActor {
	return page.ShotActor{Body: s.body(in.Part, views.Class(in.Role)), Place: in.Frame, Role: role}
}

// shot is the picture of one step; nil where there is nothing to show.
func (s *shooter) shot(step work.Step, title string) *page.Shot {
	placed := slices.ContainsFunc(step.Uses, func(l work.Lot) bool { return len(l.At) > 0 && s.at[l.At[0]] != nil })
	if !placed && (len(s.there) == 0 || step.Kind == work.SortSprings || step.Kind == work.CapCells) {
		return s.onBench(step, title)
	}
	out := &page.Shot{Alt: title}
	adds := s.adds(step, out)
	if step.Kind == work.BuildBack || step.Kind == work.CloseFront {
		out.Close = s.closeUp(adds)
	}
	if len(adds) == 0 {
		adds = s.workedOn(step, out)
	}
	for i := range s.j.Assembly.Instances {
		in := &s.j.Assembly.Instances[i]
		bared := step.Kind == work.Recheck && in.Role == assembly.RoleRodCap
		held := step.Kind == work.ScrewFeet && in.Role == assembly.RolePlate
		if (s.there[in.ID] && !bared || held) && !adds[in.ID] {
			out.Actors = append(out.Actors, s.actor(in, page.ShotThere))
		}
	}
	s.measured(step, out)
	if len(adds) == 0 {
		return nil
	}
	return out
}

// adds shows what the step puts in, a little off its place.
func (s *shooter) adds(step work.Step, out *page.Shot) map[string]bool {
	added := map[string]bool{}
	for _, l := range step.Uses {
		for i, id := range l.At {
			in := s.at[id]
			if in == nil || s.there[id] {
				continue
			}
			added[id] = true
			a := s.actor(in, page.ShotAdds)
			a.From = s.off(step.Kind, in)
			if i == 0 {
				a.Label = lotLabel(l)
			}
			out.Actors = append(out.Actors, a)
			for _, with := range s.lid(in) {
				b := s.actor(with, page.ShotAdds)
				b.From = a.From
				out.Actors, added[with.ID] = append(out.Actors, b), true
			}
		}
	}
	return added
}

// closeApart is between what goes on a rod, in the close-up, mm.
const closeApart = 12

// closeUp is what goes on one rod in the order it goes on, drawn large: where there is a
// spring among it.
func (s *shooter) closeUp(adds map[string]bool) []page.ShotActor {
	var on []*assembly.Instance
	for i := range s.j.Assembly.Instances {
		in := &s.j.Assembly.Instances[i]
		if adds[in.ID] && slices.Contains(onRod, in.Role) && (len(on) == 0 || on[0].Column == in.Column && on[0].Level == in.Level) {
			on = append(on, in)
		}
	}
	if !slices.ContainsFunc(on, func(in *assembly.Instance) bool { return in.Role == assembly.RoleSpring }) {
		return nil
	}
	box := func(in *assembly.Instance) geom.Box3 { return in.Frame.Box(in.Part.Solid.Bounds()) }
	slices.SortStableFunc(on, func(a, b *assembly.Instance) int {
		return cmp.Compare(a.End.Sign()*box(a).Center().Z, b.End.Sign()*box(b).Center().Z)
	})
	var all []page.ShotActor
	z := 0.0
	for _, in := range on {
		a, long := s.actor(in, page.ShotAdds), box(in).Size().Z
		a.Label = lotLabel(work.Lot{Part: in.Part, Count: 1})
		a.Place = in.Frame.Moved(geom.Vec3{Z: in.End.Sign()*(z+long/2) - box(in).Center().Z})
		all, z = append(all, a), z+long+closeApart
	}
	return all
}

// onRod are the groups that go on a rod outside the plate.
var onRod = []assembly.Role{assembly.RoleWasher, assembly.RoleSpring, assembly.RoleNut, assembly.RoleJamNut, assembly.RoleEndCap, assembly.RoleRodCap}

// longName is the longest name, letters, that is written whole.
const longName = 9

// lotLabel is the mark of a lot, or its name, and how many there are.
func lotLabel(l work.Lot) string {
	name := l.Part.Mark
	if name == "" {
		name = l.Part.Name
	}
	if i := strings.LastIndexByte(name, ' '); i > 0 && len(name) > longName {
		name = name[i+1:] // "nut" for "hexagon nut, prevailing torque"
	}
	if l.Count > 1 {
		name += fmt.Sprintf(" \u00d7%d", l.Count)
	}
	return name
}

// outward are the groups that go on an end one after the other; apart is how far
// each is drawn from the one before, mm.
var outward = []assembly.Role{assembly.RolePlate, assembly.RoleStiffener, assembly.RoleWasher, assembly.RoleSpring, assembly.RoleNut, assembly.RoleJamNut, assembly.RoleEndCap, assembly.RoleRodCap}

const apart = 26

// off is how far from its place a part is drawn that goes in.
func (s *shooter) off(k work.Doing, in *assembly.Instance) geom.Vec3 {
	n := slices.Index(outward, in.Role)
	for _, on := range s.j.Assembly.Of(assembly.RoleSpring) {
		if in.Role == assembly.RoleWasher && on.End == in.End && on.Column == in.Column && on.Level == in.Level && math.Abs(in.Frame.O.Z) > math.Abs(on.Frame.O.Z) {
			n = slices.Index(outward, assembly.RoleNut) // it lies under it
		}
	}
	switch {
	case k == work.StandCells && in.Role == assembly.RoleCell:
		return geom.Vec3{Y: 0.7 * s.j.Fixture.Cell.Height.MM()}
	case k == work.StandCells: // what is between the cells stands out above them
		return geom.Vec3{Y: s.j.Fixture.Cell.Height.MM()}
	case n >= 0 && k == work.BuildBack: // the plate lies where it is; the others go on
		return geom.Vec3{Z: in.End.Sign() * float64(n) * apart}
	case n >= 0 && k == work.CloseFront:
		return geom.Vec3{Z: in.End.Sign() * float64(n+1) * apart}
	case n >= 0:
		return geom.Vec3{Z: in.End.Sign() * apart}
	case in.Role == assembly.RoleSleeve:
		return geom.Vec3{Z: 2 * apart}
	case in.Role == assembly.RoleLink:
		return geom.Vec3{Y: apart}
	case in.Role == assembly.RoleFoot:
		return geom.Vec3{Y: -apart}
	}
	return geom.Vec3{}
}

// workedOn shows what a step works on that adds nothing: the nuts it turns with the
// tools on the first of them, else all that is measured, or the cells' terminals.
func (s *shooter) workedOn(step work.Step, out *page.Shot) map[string]bool {
	strong := map[string]bool{}
	show := func(label func(*assembly.Instance) string, keep func(*assembly.Instance) bool) {
		for i := range s.j.Assembly.Instances {
			in := &s.j.Assembly.Instances[i]
			if !s.there[in.ID] || !keep(in) {
				continue
			}
			strong[in.ID] = true
			a := s.actor(in, page.ShotAdds)
			a.Label = label(in)
			out.Actors = append(out.Actors, a)
		}
	}
	none := func(*assembly.Instance) string { return "" }
	are := func(g assembly.Role) func(*assembly.Instance) bool {
		return func(in *assembly.Instance) bool { return in.Role == g }
	}
	switch step.Kind {
	case work.Snug, work.SetForce, work.LockNuts, work.Recheck:
		number := none
		if step.Kind == work.Snug || step.Kind == work.SetForce {
			number = s.turn
		}
		show(number, func(in *assembly.Instance) bool {
			return (in.Role == assembly.RoleNut || in.Role == assembly.RoleJamNut) && in.End == assembly.Front
		})
		s.tools(out, step)
	case work.CoverEnds:
		show(none, are(assembly.RoleRod))
	case work.CoverNear:
		large := step.Bare[0].What // nuts and washers come last, and may lie under caps
		show(none, func(in *assembly.Instance) bool {
			return slices.ContainsFunc(step.Bare, func(b work.Bare) bool { return b.What == large && slices.Contains(b.At, in.ID) })
		})
	case work.TieLeads:
		show(none, are(assembly.RoleTerminal))
	default:
		read := assembly.RolePlate
		if slices.ContainsFunc(step.Readings, func(r work.Reading) bool { return r.What == work.SpringHeight }) {
			read = assembly.RoleSpring
		}
		show(none, are(read))
	}
	return strong
}

// turn is when a nut is turned, of all in their order; empty for another part.
func (s *shooter) turn(nut *assembly.Instance) string {
	n := slices.IndexFunc(s.order, func(id string) bool {
		rod := s.at[id]
		return rod != nil && nut.Role == assembly.RoleNut && nut.Column == rod.Column && nut.Level == rod.Level
	})
	if n < 0 {
		return ""
	}
	return fmt.Sprint(n + 1)
}

// tools puts a spanner's or socket's envelope on the first nut turned whose rod is seen,
// in the left column, and the jaws on that rod where the step holds it so.
func (s *shooter) tools(out *page.Shot, step work.Step) {
	n := slices.IndexFunc(s.order, func(id string) bool { return s.at[id] != nil && s.at[id].Column == 0 })
	if n < 0 {
		return
	}
	rod := s.at[s.order[n]]
	pliers := slices.ContainsFunc(step.Tools, func(t work.Tool) bool { return t.Kind == work.Pliers })
	way := ""
	for i := range s.j.Assembly.Tools {
		t := &s.j.Assembly.Tools[i]
		label := ""
		switch {
		case t.Column != rod.Column || t.Level != rod.Level:
			continue
		case t.Kind == assembly.ToolSocket && t.End == assembly.Front:
			label = fmt.Sprintf("socket, %d", n+1)
		case t.Kind == assembly.ToolPliers && pliers && (way == "" || way == t.Approach):
			if way == "" {
				label = "pliers"
			}
			way = t.Approach
		default:
			continue
		}
		a := s.actor(&t.Instance, page.ShotTool)
		a.Label = label
		out.Actors = append(out.Actors, a)
	}
}

// measured draws the distances that a step reads.
func (s *shooter) measured(step work.Step, out *page.Shot) {
	st, f := s.j.Assembly.Placement.Ends[assembly.Front], s.j.Fixture
	for _, r := range step.Readings {
		y := f.Cell.Height.MM()
		x := s.j.Assembly.Placement.Columns[len(s.j.Assembly.Placement.Columns)-1] + 12
		switch r.What {
		case work.PlateGap:
			y = f.Rods.Levels[len(f.Rods.Levels)-1].MM()
		case work.StackLength:
			x, y = f.Cell.Width.MM()/2, y+s.off(step.Kind, s.j.Assembly.Of(assembly.RoleCell)[0]).Y
		default:
			continue
		}
		text := ""
		if r.Low > 0 && r.Low == r.High {
			text = f.Style.Length(r.Low)
		}
		out.Spans = append(out.Spans, page.ShotSpan{A: geom.Vec3{X: x, Y: y, Z: -st.Plate.Inner}, B: geom.Vec3{X: x, Y: y, Z: st.Plate.Inner}, Text: text})
		return
	}
}

// links shows the terminals from above for a step of the wiring plan: the links that
// are fitted pale, those of the step strong.
func (s *shooter) links(step work.Step) *page.WiringState {
	w, ok := step.Facts.(*work.Wired)
	if !ok || s.j.Wiring == nil || s.j.Wiring.Problem != "" {
		return nil
	}
	by := wired{s.j.Wiring}
	i := slices.IndexFunc(by.Plan.States, func(t wiring.State) bool { return t.ID == w.State })
	if i < 0 {
		return nil
	}
	state := by.Plan.States[i]
	out := by.pageState(i)
	out.Links = nil
	mine := func(k wiring.Link) bool {
		return slices.ContainsFunc(w.Links, func(o wiring.Link) bool { return o.ID == k.ID })
	}
	for _, k := range s.fitted {
		if !mine(k) {
			l := by.pageLink(k, state)
			l.Was = true
			out.Links = append(out.Links, l)
		}
	}
	for _, k := range w.Links {
		out.Links = append(out.Links, by.pageLink(k, state))
	}
	if len(out.Links) == 0 && len(state.Links) > 0 {
		out.Title = "no link fitted"
	}
	s.fitted = slices.DeleteFunc(s.fitted, mine)
	if w.Action == wiring.Fit {
		s.fitted = append(s.fitted, w.Links...)
	}
	switch {
	case w.EachCell && len(slices.Concat(state.Places...)) > 1 || w.Alone || w.Action == wiring.Fit || w.Action == wiring.Remove || w.Action == wiring.Match:
		out.Takeoffs = nil
	case w.Action == wiring.Discharge:
		out.Takeoffs[0].Label, out.Takeoffs[1].Label = "load minus", "load plus"
	case w.Action == wiring.Measure && len(w.Over) == 0:
		out.Takeoffs[0].Label, out.Takeoffs[1].Label = "black probe", "red probe"
	}
	return &out
}

// benchGap is between parts that lie on the bench, mm.
const benchGap = 18

// firstCell shows one cell, its terminals as what is worked on.
func (s *shooter) firstCell(out *page.Shot) {
	cell := s.j.Assembly.Of(assembly.RoleCell)[0]
	out.Actors = append(out.Actors, s.actor(cell, page.ShotThere))
	for _, in := range s.lid(cell) {
		if in.Role == assembly.RoleTerminal {
			out.Actors = append(out.Actors, s.actor(in, page.ShotAdds))
		}
	}
	out.Actors[len(out.Actors)-1].Label = "cap"
}

// onBench shows loose parts in a row: what a step makes, or works on.
func (s *shooter) onBench(step work.Step, title string) *page.Shot {
	lots := step.Makes
	if len(lots) == 0 {
		lots = step.Uses
	}
	if step.Kind == work.ScrewFeet || step.Kind == work.ThreadTies { // with feet that are bought
		plate := s.j.Assembly.PlateAt(assembly.Front).Part
		lots = []work.Lot{{Part: plate, Count: 2}}
	}
	out := &page.Shot{Alt: title, Loose: true}
	if step.Kind == work.CapCells {
		s.firstCell(out)
		return out
	}
	lots = slices.DeleteFunc(slices.Clone(lots), func(l work.Lot) bool { // bought, and drawn by nobody
		return step.Kind == work.Buy || l.Part == nil || l.Part.Solid.Bounds().Min.X > l.Part.Solid.Bounds().Max.X
	})
	var all geom.Vec3 // side by side; long parts behind each other, the low ones in front
	for _, l := range lots {
		all = all.Add(l.Part.Solid.Bounds().Size())
	}
	if all.Z < all.X/2 {
		slices.SortStableFunc(lots, func(a, b work.Lot) int {
			return cmp.Compare(b.Part.Solid.Bounds().Size().Y, a.Part.Solid.Bounds().Size().Y)
		})
	}
	at := geom.Vec3{}
	for _, l := range lots {
		b := l.Part.Solid.Bounds()
		class := page.Printed
		if i := slices.IndexFunc(s.j.Assembly.Instances, func(in assembly.Instance) bool { return in.Part == l.Part }); i >= 0 {
			class = views.Class(s.j.Assembly.Instances[i].Role)
		}
		place := geom.At(at.Sub(b.Min))
		out.Actors = append(out.Actors, page.ShotActor{Body: s.body(l.Part, class), Place: place, Role: page.ShotAdds, Label: lotLabel(l)})
		if all.Z < all.X/2 {
			at.Z += b.Size().Z + benchGap
		} else {
			at.X += b.Size().X + benchGap
		}
	}
	if len(out.Actors) == 0 {
		return nil
	}
	out.Alt = strings.TrimSpace(title)
	return out
}
