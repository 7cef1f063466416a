package work_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/job"
	"clampwright/assembly/wiring"
	"clampwright/assembly/work"
	"clampwright/params"
	"clampwright/parts"
)

// flat are all steps in order, each with its phase.
func flat(o work.Order) (phases []work.PhaseKind, steps []work.Step) {
	for _, p := range o {
		for _, s := range p.Steps {
			phases, steps = append(phases, p.Kind), append(steps, s)
		}
	}
	return phases, steps
}

// Every line of the parts list is made, bought or printed in full by one step and
// used by a later one; nothing else is, and nothing before it is there.
func TestEveryPartIsMadeAndUsed(t *testing.T) {
	each(t, func(t *testing.T, name string, j *job.Job) {
		made, used := map[string]int{}, map[string]bool{}
		_, steps := flat(j.Work)
		for _, s := range steps {
			for _, l := range s.Uses {
				used[l.Part.ID] = true
				if made[l.Part.ID] == 0 || l.Count < 1 {
					t.Errorf("%s\n%s: %d of %s are used and %d made", name, s.Kind, l.Count, l.Part.ID, made[l.Part.ID])
				}
			}
			for _, l := range s.Makes {
				if made[l.Part.ID] += l.Count; used[l.Part.ID] {
					t.Errorf("%s\n%s: %s is made after it was used", name, s.Kind, l.Part.ID)
				}
			}
			if f, ok := s.Facts.(*work.Forcing); ok && f.Gauge != nil && !f.Fits {
				used[f.Gauge.ID] = true // and left away
			}
		}
		for _, l := range j.Assembly.Bill() {
			want := l.Pieces
			small := l.Part.Kind == parts.KindLink || strings.HasPrefix(l.Part.ID, "terminal-")
			if !j.Wiring.Proven && small || snugIsAll(j) && l.Part.ID == "spring-gauge" {
				used[l.Part.ID] = true // nothing may be linked, nothing is set
			}
			if made[l.Part.ID] != want || !used[l.Part.ID] {
				t.Errorf("%s\n%s: %d made of %d, used: %v", name, l.Part.ID, made[l.Part.ID], want, used[l.Part.ID])
			}
			delete(made, l.Part.ID)
		}
		if len(made) > 0 {
			t.Errorf("%s\nmade and on no list: %v", name, made)
		}
	})
}

func snugIsAll(j *job.Job) bool { return work.SnugIsAll(j.Fixture, j.Clamp) }

// Every instance of the finished clamp goes to its place once; the link bars are
// fitted and taken off as the plan has it, and what is told of is there.
func TestEveryInstanceGoesOnOnce(t *testing.T) {
	each(t, func(t *testing.T, name string, j *job.Job) {
		on, there := map[string]int{}, map[string]bool{}
		for i := range j.Assembly.Instances {
			there[j.Assembly.Instances[i].ID] = true
		}
		for _, p := range j.Work {
			for _, s := range p.Steps {
				for _, l := range s.Uses {
					for _, id := range l.At {
						if l.Group != assembly.RoleLink && !there[id] {
							t.Errorf("%s\n%s: there is no %s", name, s.Kind, id)
						}
						on[id]++
					}
				}
				for _, r := range s.Readings {
					for _, id := range r.Rods.IDs {
						if !there[id] {
							t.Errorf("%s\n%s: there is no %s", name, s.Kind, id)
						}
					}
				}
			}
		}
		for i := range j.Assembly.Instances {
			in := &j.Assembly.Instances[i]
			if in.Role == assembly.RoleTerminal || in.Role == assembly.RoleVent || in.Role == assembly.RoleLink || in.Role == assembly.RoleTool {
				continue
			}
			if on[in.ID] != 1 {
				t.Errorf("%s\n%s goes on %d times", name, in.ID, on[in.ID])
			}
		}
	})
}

// Nothing is done with what is absent: springs, pliers, drills, gauges.
func TestNothingIsDoneWithWhatIsAbsent(t *testing.T) {
	each(t, func(t *testing.T, name string, j *job.Job) {
		f := j.Fixture
		_, steps := flat(j.Work)
		for _, s := range steps {
			for _, tool := range s.Tools {
				if tool.Kind == work.Pliers && (f.Nut.DragMax <= 0 || tool.SizeMM <= 0) {
					t.Errorf("%s\n%s: pliers %v", name, s.Kind, tool)
				}
				if tool.Kind == work.Bit && tool.Bit.Name != "" && !slices.Contains(f.Tools.Drills, tool.Bit) {
					t.Errorf("%s\n%s: no drill %v is owned", name, s.Kind, tool.Bit)
				}
				if tool.Kind == work.Router && f.Tools.Cutter <= 0 || tool.Kind == work.Strips && f.Plate.Bottom <= 0 {
					t.Errorf("%s\n%s: %v", name, s.Kind, tool)
				}
			}
			for _, r := range s.Readings {
				if r.What == work.SpringHeight && f.Spring == nil {
					t.Errorf("%s\n%s: a spring is measured", name, s.Kind)
				}
			}
		}
		has := map[work.Doing]bool{}
		for _, s := range steps {
			has[s.Kind] = true
		}
		for kind, want := range map[work.Doing]bool{
			work.SortSprings: f.Spring != nil, work.LockNuts: f.JamNut != nil, work.ScrewFeet: f.Plate.Feet != nil, work.FixPack: f.Plate.Feet != nil,
			work.TieLeads: f.Plate.TieSlots, work.ThreadTies: f.Plate.TieSlots, work.SetForce: !snugIsAll(j), work.MeasureStack: !snugIsAll(j),
		} {
			if has[kind] != want {
				t.Errorf("%s\n%s: %v, want %v", name, kind, has[kind], want)
			}
		}
	})
}

// bench carries an order out and names what must not be done.
func bench(o work.Order, j *job.Job) []string {
	var faults []string
	n, storage := j.Fixture.Pack.Cells, j.Fixture.Clamp.StorageCharge
	charge, full := make([]float64, n), make([]bool, n)
	stood, closed, covered, threaded := false, false, false, !j.Fixture.Plate.TieSlots
	phases, steps := flat(o)
	for i, s := range steps {
		w, wired := s.Facts.(*work.Wired)
		nuts := slices.Contains([]work.Doing{work.Snug, work.SetForce, work.LockNuts, work.MeasureStack, work.Recheck}, s.Kind) || wired && (w.Action == wiring.Open || w.Action == wiring.Close)
		if nuts && slices.Max(charge) > storage {
			faults = append(faults, "nuts above storage charge")
		}
		switch {
		case s.Kind == work.ThreadTies:
			threaded = true
		case (s.Kind == work.BuildBack || s.Kind == work.CloseFront) && !threaded:
			faults = append(faults, "a plate is up before its ties")
		case s.Kind == work.StandCells:
			stood = true
		case s.Kind == work.Snug || s.Kind == work.SetForce || wired && w.Action == wiring.Close:
			if !stood {
				faults = append(faults, "closed without cells")
			}
			closed = snugIsAll(j) || s.Kind == work.SetForce || wired
		case wired && w.Action == wiring.Open:
			closed = false
		case phases[i] == work.Covering:
			covered = covered || s.Kind == work.CoverNear
		case wired && w.Action == wiring.Fit:
			if !closed || !covered {
				faults = append(faults, "linked before clamped and covered")
			}
			for _, k := range w.Links {
				if w.Turns.Pole(k.A) != w.Turns.Pole(k.B) && slices.Contains(full, false) {
					faults = append(faults, "series before balance")
				}
			}
		}
		for _, v := range s.Sets {
			if v.What != work.ChargeTo {
				continue
			}
			if v.Value > storage && !closed {
				faults = append(faults, "charged in the open clamp")
			}
			for _, place := range v.Places {
				charge[place], full[place] = v.Value, full[place] || v.Value >= 1
			}
		}
	}
	if slices.Contains(full, false) && j.Wiring.Proven {
		faults = append(faults, "never balanced")
	}
	return faults
}

// The order keeps the cells safe: clamped before the first full charge, links after
// clamping and covering, no nut above storage charge, balance before series. Ties are
// in the plates' slots before cells stand behind them.
func TestOrderKeepsTheCellsSafe(t *testing.T) {
	each(t, func(t *testing.T, name string, j *job.Job) {
		if f := bench(j.Work, j); len(f) > 0 {
			t.Errorf("%s\n%v", name, f)
		}
	})
}

// Each rule is broken by an order that is wrong in that way.
func TestWrongOrdersAreFound(t *testing.T) {
	j := orderedText(t, "fixture: t\ncell: {model: 72x174x201, force: 300 kgf}\npack: {cells: 4}\nplates: {tie_slots: true}\nelectrical: {plan: turn}\n")
	without := func(drop func(p work.PhaseKind, s work.Step) bool) work.Order {
		out := slices.Clone(j.Work)
		for i := range out {
			out[i].Steps = slices.DeleteFunc(slices.Clone(out[i].Steps), func(s work.Step) bool { return drop(out[i].Kind, s) })
		}
		return out
	}
	action := func(s work.Step) wiring.Action {
		if w, ok := s.Facts.(*work.Wired); ok {
			return w.Action
		}
		return ""
	}
	for want, o := range map[string]work.Order{
		"nuts above storage charge":         without(func(_ work.PhaseKind, s work.Step) bool { return action(s) == wiring.Discharge }),
		"closed without cells":              without(func(_ work.PhaseKind, s work.Step) bool { return s.Kind == work.StandCells }),
		"linked before clamped and covered": without(func(p work.PhaseKind, _ work.Step) bool { return p == work.Covering }),
		"charged in the open clamp":         without(func(p work.PhaseKind, _ work.Step) bool { return p == work.Setting }),
		"a plate is up before its ties":     without(func(_ work.PhaseKind, s work.Step) bool { return s.Kind == work.ThreadTies }),
		"series before balance":             without(func(_ work.PhaseKind, s work.Step) bool { return action(s) == wiring.Charge }),
	} {
		if f := bench(o, j); !slices.Contains(f, want) {
			t.Errorf("%s is not found: %v", want, f)
		}
	}
	if f := bench(j.Work, j); len(f) > 0 {
		t.Error(f)
	}
}

// The terminals are capped before the cells stand in the clamp. From then to the
// covering all other metal is bare, afterwards only the terminals that a step works on
// and the bars that are fitted.
func TestWhatIsBareIsCovered(t *testing.T) {
	each(t, func(t *testing.T, name string, j *job.Job) {
		fitted := map[string]bool{}
		_, steps := flat(j.Work)
		covered, capped := false, false
		for _, s := range steps {
			kinds := map[work.BareKind][]string{}
			for _, b := range s.Bare {
				kinds[b.What] = b.At
			}
			w, wired := s.Facts.(*work.Wired)
			switch {
			case s.Kind == work.CapCells:
				capped = s.Uses[0].Count == 2*j.Fixture.Pack.Cells
			case s.Kind == work.CoverNear:
				covered = true
				fallthrough
			case s.Kind == work.Snug, s.Kind == work.StandCells:
				if !capped || kinds[work.Terminals] != nil || (kinds[work.Plates] != nil) != j.Fixture.Plate.Material.Conducts {
					t.Errorf("%s\n%s: bare are %v", name, s.Kind, s.Bare)
				}
			case covered && (kinds[work.NutsBare] != nil || kinds[work.RodEnds] != nil || kinds[work.Plates] != nil):
				t.Errorf("%s\n%s: bare are %v", name, s.Kind, s.Bare)
			case covered && !wired && kinds[work.Terminals] != nil:
				t.Errorf("%s\n%s: terminals are bare", name, s.Kind)
			}
			if !wired {
				continue
			}
			posts := map[wiring.Post]bool{}
			for _, k := range w.Links {
				posts[k.A], posts[k.B] = true, true
				fitted[k.ID] = w.Action == wiring.Fit && !k.Cable
			}
			n := 0
			for _, is := range fitted {
				if is {
					n++
				}
			}
			if len(kinds[work.Links]) != n || len(w.Links) > 0 && len(kinds[work.Terminals]) != len(posts) {
				t.Errorf("%s\nstep %d of the plan: bare are %v", name, w.Number, s.Bare)
			}
		}
	})
}

// The stages are equal shares of each rod's own turns, and every rod has some.
func TestStagesAreShares(t *testing.T) {
	each(t, func(t *testing.T, name string, j *job.Job) {
		_, steps := flat(j.Work)
		for _, s := range steps {
			if s.Kind != work.SetForce {
				continue
			}
			last := map[string]float64{}
			stages := s.Facts.(*work.Forcing).Stages
			for k := stages; k >= 1; k-- {
				for _, v := range s.Sets {
					for _, id := range v.Rods.IDs {
						switch {
						case v.What != work.TurnsTo && v.What != work.TorqueTo || v.Stage != k:
						case k == stages:
							last[id] = v.Value
						case math.Abs(v.Value-last[id]*float64(k)/float64(stages)) > 1e-9:
							t.Errorf("%s\n%s: stage %d is %v of %v", name, id, k, v.Value, last[id])
						}
					}
				}
			}
			if len(last) != len(j.Assembly.Of(assembly.RoleRod)) {
				t.Errorf("%s\nturns for %d rods", name, len(last))
			}
		}
	})
}

// Free nuts, each locked by a second and without springs, are set by torque: greased
// before they are snug, K d F with the least K (here 0.15 of 8 mm and a quarter of 2942 N)
// in four stages, and no figure in turns. Locking nuts are not.
func TestSetByTorque(t *testing.T) {
	const text = "fixture: t\ncell: {model: 72x174x201, force: 300 kgf}\npack: {cells: 4}\nplates: {material: hdpe, thickness: 19}\nrods: {thread: M8}\nnuts: {kind: %s}\n"
	for kind, torque := range map[string]bool{"jam": true, "prevailing": false} {
		f, diags := params.Load("t.yaml", fmt.Appendf(nil, text, kind))
		if f == nil {
			t.Fatal(diags)
		}
		j, err := job.Compute(t.Context(), f, func(string) {}, job.WithAnswers(0))
		if err != nil {
			t.Fatal(err)
		}
		_, steps := flat(j.Work)
		for _, s := range steps {
			switch f := s.Facts.(type) {
			case *work.Nuts:
				if s.Kind == work.Snug && f.Grease != torque {
					t.Errorf("%s: greased %v", kind, f.Grease)
				}
			case *work.Forcing:
				last := s.Sets[len(s.Sets)-1]
				if f.Torque != torque || (last.What == work.TorqueTo) != torque || torque && math.Abs(last.Value-0.15*8*2942/4) > 1 {
					t.Errorf("%s: %v, %+v", kind, f.Torque, last)
				}
			}
		}
	}
}

// Without a proven plan nothing is linked or charged.
func TestUnprovenPlanIsNotFollowed(t *testing.T) {
	j := orderedText(t, "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: 2}\nelectrical: {plan: cross}\n")
	j.Wiring.Proven = false
	for _, p := range j.OrderOfWork() {
		if p.Kind == work.Linking || p.Kind == work.Balancing || p.Kind == work.Unproven && len(p.Steps) > 0 {
			t.Errorf("not proven, yet there is %s", p.Kind)
		}
	}
}

// Every plan has all cells full at once and is looked at then, once, with the figures of the
// full pack, and ends at storage charge, where nuts may be touched.
func TestEveryPlanIsLookedAtFull(t *testing.T) {
	for _, plan := range []string{"turn", "cross", "single", "series, board: 20 A"} {
		j := orderedText(t, "fixture: t\ncell: {model: 72x174x201, force: 300 kgf}\npack: {cells: 8}\nelectrical: {plan: "+plan+"}\n")
		_, steps := flat(j.Work)
		looks, charge := 0, map[int]float64{}
		for _, s := range steps {
			for _, v := range s.Sets {
				for _, slot := range v.Places {
					charge[slot] = v.Value
				}
			}
			if _, ok := s.Facts.(*work.Full); ok {
				looks++
				for slot := range 8 {
					if len(s.Readings) == 0 || charge[slot] != 1 {
						t.Errorf("%s: looked at with %d readings, cell %d at %v", plan, len(s.Readings), slot, charge[slot])
					}
				}
			}
		}
		for slot := range 8 {
			if charge[slot] > j.Fixture.Clamp.StorageCharge {
				t.Errorf("%s: cell %d is left at %v", plan, slot, charge[slot])
			}
		}
		if looks != 1 {
			t.Errorf("%s: %d looks", plan, looks)
		}
	}
}

// Plates stand on strips or cells on a board from a twentieth of a millimetre on,
// and how a rod is held follows from nut, sleeve and pliers.
func TestWaysOfStandingAndHolding(t *testing.T) {
	const pack = "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: 2}\n"
	for more, want := range map[string]float64{
		"plates: {bottom: 0.05 mm, height: 190}": 0, "plates: {bottom: 0.06 mm, height: 190}": 0.1, "plates: {bottom: 2.075 mm, height: 190}": 2.075,
		"plates: {bottom: -0.05 mm, height: 190}": 0, "plates: {bottom: -0.06 mm, height: 190}": -0.1,
		"units: in\nplates: {bottom: 2.075 mm, height: 190 mm}": 5 * 25.4 / 64, "units: in\nplates: {bottom: 0.06 mm, height: 190 mm}": 25.4 / 64,
	} {
		_, steps := flat(orderedText(t, pack+more+"\n").Work)
		for _, s := range steps {
			if f, ok := s.Facts.(*work.Face); ok && math.Abs(f.RaiseMM-want) > 1e-9 {
				t.Errorf("%s: %v mm, want %v", more, f.RaiseMM, want)
			}
		}
	}
	for more, want := range map[string]work.Hold{
		"nuts: {kind: plain}":                                "",
		"nuts: {kind: prevailing}\nsleeves: none":            work.HoldMiddle,
		"nuts: {kind: prevailing}\nsleeves: {end_gap: 1 mm}": work.HoldNoRoom,
		"nuts: {kind: prevailing}\nsleeves: {end_gap: 10 mm}\ntools: {pliers: {jaw_width: 19.9 mm}}": work.HoldBared,
		"nuts: {kind: prevailing}\nsleeves: {end_gap: 10 mm}\ntools: {pliers: {jaw_width: 20.1 mm}}": work.HoldNoRoom,
	} {
		_, steps := flat(orderedText(t, pack+more+"\n").Work)
		for _, s := range steps {
			if n, ok := s.Facts.(*work.Nuts); ok && s.Kind == work.Snug && n.Hold != want {
				t.Errorf("%s: %q, want %q", more, n.Hold, want)
			}
		}
	}
}

// Glass dust is warned of by what a material is, not by its name.
func TestGlassDustIsOfTheMaterial(t *testing.T) {
	text := "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: 2}\nseparators: {material: %s, thickness: 0.5 mm}\n"
	own := "{name: woven, family: plastic, e: 18 GPa, nu: 0.2, strength: 300 MPa, density_g_cm3: 1.9, conducts: false, dust: glass}"
	text += "tables: {materials: [" + own + "]}\n"
	for material, want := range map[string]bool{"fr4": true, "pet": false, "woven": true} {
		found := false
		_, steps := flat(orderedText(t, fmt.Sprintf(text, material)).Work)
		for _, s := range steps {
			if c, ok := s.Facts.(*work.Cut); ok && strings.HasPrefix(c.Part.ID, "separator") {
				found = slices.ContainsFunc(s.Risks, func(r work.Risk) bool { return r.Kind == work.GlassDust })
			}
		}
		if found != want {
			t.Errorf("%s: glass dust %v", material, found)
		}
	}
}

// The way back says first what is not opened, slackens in the stages of the setting
// what the springs hold, replaces one cell and ends with the links of the finished
// pack; only a proven plan has one, and what is welded does not come apart.
func TestWayBack(t *testing.T) {
	each(t, func(t *testing.T, name string, j *job.Job) {
		o := j.WayBack()
		if !j.Wiring.Proven {
			if o != nil {
				t.Errorf("%s\na way back without a proven plan", name)
			}
			return
		}
		_, steps := flat(o)
		if steps[0].Kind != work.KeepShut {
			t.Errorf("%s\nbegins with %s", name, steps[0].Kind)
		}
		if j.Fixture.Cell.Welded {
			if f := steps[0].Facts.(*work.Shut); len(steps) != 1 || !f.Welded {
				t.Errorf("%s\n%d steps though its strips are welded, %+v", name, len(steps), f)
			}
			return
		}
		energy, fitted, swapped := 0.0, 0, 0
		for _, r := range j.Clamp.Setting.PerRod {
			if free := j.Clamp.Setting.SpringFree; free > 0 {
				energy += r.ForceN * (free - r.SpringMM) / 2000
			} else {
				energy += r.ForceN * r.ForceN * r.GapPerN / 2000
			}
		}
		for _, s := range steps[1:] {
			w := s.Facts.(*work.Wired)
			switch w.Action {
			case wiring.Open:
				if w.Slack == nil || w.Slack.Stages != 4 || math.Abs(w.Slack.EnergyJ-energy) > 1e-9 {
					t.Errorf("%s\nslackens %+v, holds %v J", name, w.Slack, energy)
				}
			case wiring.Swap:
				swapped += len(w.Cells)
			case wiring.Fit:
				fitted += len(w.Links)
			}
		}
		if fitted != len(j.Wiring.Final().Links) || swapped != 1 {
			t.Errorf("%s\n%d links fitted, %d cells replaced", name, fitted, swapped)
		}
	})
}
