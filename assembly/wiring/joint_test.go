package wiring

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// tapped is a pack with tapped terminals of a known depth.
func tapped(in Input, depth float64) Input {
	in.StudHeightMM, in.ThreadDepthMM = 0, depth
	return in
}

// A screw stays half a millimetre clear of the bottom and has hold of its diameter, or of
// seven tenths of what is free where that is less; a stud carries washers and nut.
func TestScrewAgainstThread(t *testing.T) {
	for _, c := range []struct {
		name          string
		depth, stud   float64
		lies          float64
		screw, packed float64
		holds, least  float64
	}{
		{"one bar, deep thread", 12, 0, 2, 16, 0, 10.8, 6},
		{"one bar", 8, 0, 2, 12, 0, 6.8, 5.25},
		{"four lugs", 8, 0, 8, 18, 0, 6.8, 5.25},
		{"just clear of the bottom", 9.3, 0, 2, 14, 0, 8.8, 6},
		{"not clear: the shorter one", 9.2, 0, 2, 12, 0, 6.8, 6},
		{"too short: washers more", 5.2, 0, 2, 12, 2, 3.6, 3.29},
		{"shallow", 4, 0, 2, 10, 1, 3.2, 3},
		{"too shallow", 3, 0, 2, 10, 2, 1.6, 3},
		{"not known", 0, 0, 2, 0, 0, 0, 3},
		{"stud", 0, 12, 2, 0, 0, 6.8, 5.4},
		{"stud too short", 0, 10, 2, 0, 0, 4.8, 5.4},
	} {
		in := pack(4, 1, 4, 1)
		in.StudHeightMM, in.ThreadDepthMM = c.stud, c.depth
		j := in.fastened(Joint{Lies: []Piece{{"J1", true, c.lies}}})
		if math.Abs(j.ScrewMM-c.screw)+math.Abs(float64(j.Packing)-c.packed)+math.Abs(j.HoldsMM-c.holds)+math.Abs(in.HoldsLeast()-c.least) > 1e-6 {
			t.Errorf("%s: screw %v with %d washers more holds %v, least %v", c.name, j.ScrewMM, j.Packing, j.HoldsMM, in.HoldsLeast())
		}
	}
}

// Whatever lies on a terminal, a screw of the table holds in every thread of five
// millimetres and more, and none bottoms.
func TestEveryStackHasItsScrew(t *testing.T) {
	for _, dia := range []float64{4, 5, 6, 8} {
		for depth := max(5, 0.8*dia); depth < 20; depth += 0.37 {
			in := tapped(pack(4, 1, 4, 1), depth)
			in.StudDiaMM = dia
			for lies := 0.5; lies < 14; lies += 0.31 {
				j := in.fastened(Joint{Lies: []Piece{{"J1", true, lies}}})
				if j.HoldsMM < in.HoldsLeast()-0.01 || j.HoldsMM > depth-bottomMM+0.01 {
					t.Errorf("M%v, %v deep, %v thick: %+v, least %v", dia, depth, lies, j, in.HoldsLeast())
				}
			}
		}
	}
}

// stack is what lies on a terminal, the lowest first, "" for a spacer.
func stack(l *Layout, links []Link, p Post) (out []string) {
	for _, x := range liesOn(l, make(Turns, l.Cells()), links)[p] {
		out = append(out, x.Link)
	}
	return out
}

// A bar lies flat: a spacer goes under its end on the lower seat, and lugs need none.
func TestBarsLieFlat(t *testing.T) {
	l := mustLayout(t, pack(4, 1, 4, 1))
	p := func(slot int) Post { return Post{slot, Left} }
	bar := func(id string, a, b int) Link { return Link{ID: id, A: p(a), B: p(b)} }
	cable := Link{ID: "J9", A: p(0), B: p(2), Cable: true}
	for _, c := range []struct {
		links []Link
		at    int
		want  []string
	}{
		{[]Link{bar("J1", 0, 1), bar("J2", 1, 2)}, 2, []string{"", "J2"}},
		{[]Link{bar("J1", 0, 1), bar("J2", 1, 2)}, 1, []string{"J1", "J2"}},
		{[]Link{bar("J1", 0, 1), bar("J2", 2, 3), bar("J3", 1, 2)}, 2, []string{"J2", "J3"}},
		{[]Link{bar("J1", 0, 1), cable}, 2, []string{"J9"}},
	} {
		if got := stack(l, c.links, p(c.at)); !slices.Equal(got, c.want) {
			t.Errorf("%v: %q on terminal %d, want %q", c.links, got, c.at, c.want)
		}
	}
	two := bar("J1", 0, 1)
	two.Layers = 2
	if low := liesOn(l, make(Turns, l.Cells()), []Link{two, bar("J2", 1, 2)})[p(2)][0]; low.MM != 4 {
		t.Errorf("spacer %v mm under a bar on two", low.MM)
	}
}

// A spacer takes up what the terminals of a bar differ in height, whichever way their cells
// stand, and what lies on one of them already; a hundredth of a millimetre needs none, and
// no lug does.
func TestSpacersOnUnlikeTerminals(t *testing.T) {
	for _, c := range []struct {
		name      string
		plus      float64 // higher than the minus
		cable     bool
		lies      float64
		at, other []float64
	}{
		{"alike", 0, false, 0, []float64{2}, []float64{2}},
		{"a hundredth", 0.01, false, 0, []float64{2}, []float64{2}},
		{"the plus higher", 1.5, false, 0, []float64{2}, []float64{1.5, 2}},
		{"the minus higher", -1.5, false, 0, []float64{1.5, 2}, []float64{2}},
		{"on a bar the more", 1.5, false, 2, []float64{2, 2}, []float64{3.5, 2}},
		{"a lug", 1.5, true, 0, []float64{2}, []float64{2}},
	} {
		in := pack(2, 1, 2, 1)
		in.PlusAt, in.MinusAt = TerminalAt{XMM: 61, HeightMM: 3 + c.plus}, TerminalAt{XMM: -61, HeightMM: 3}
		l, turns := mustLayout(t, in), Turns{Left, Right}
		lies := map[Post][]Piece{}
		if c.lies > 0 {
			lies[Post{0, Left}] = []Piece{{"J0", true, c.lies}}
		}
		k := Link{ID: "J1", A: Post{0, Left}, B: Post{1, Left}, Cable: c.cable}
		lay(l, turns, lies, k)
		for p, want := range map[Post][]float64{k.A: c.at, k.B: c.other} {
			var got []float64
			for _, x := range lies[p] {
				got = append(got, x.MM)
			}
			if !slices.Equal(got, want) {
				t.Errorf("%s: %v lie at %v, want %v", c.name, got, p, want)
			}
		}
	}
}

// In every plan of every layout bars lie flat on bars, what stays lies under what comes
// off, and each screw goes back on what stays: the sequence proof says so.
func TestStacksOfEveryPlan(t *testing.T) {
	kept, spacers, bars := 0, 0, 0
	eachPlan(t, func(t *testing.T, l *Layout, p Plan) {
		if len(p.SequenceFaults) > 0 {
			t.Fatal(p.SequenceFaults)
		}
		for _, s := range p.Steps {
			for i, k := range s.Links {
				for n, at := range [2]Post{k.A, k.B} {
					lies := s.Before[i].After[n].Lies
					if s.Before[i].After[n].Post != at {
						t.Fatalf("step %d: joint of %s told at %v", s.Number, k.ID, s.Before[i].After[n].Post)
					}
					if s.Action == Remove && len(lies) > 0 {
						kept++
					}
					for _, x := range lies {
						bars++
						if x.Link == "" {
							spacers++
						}
					}
				}
			}
		}
	})
	if kept == 0 || spacers*10 > bars {
		t.Errorf("%d joints kept when links come off; %d spacers among %d pieces", kept, spacers, bars)
	}
}

// A screw that is left out, a link pulled from under another and a bar on a lug are
// found.
func TestJointFaults(t *testing.T) {
	l, p := planOf(t, pack(4, 1, 4, 1), Turn)
	spoil := func(change func(s *Step) bool) []Fault {
		q := p
		q.Steps = slices.Clone(p.Steps)
		for i := range q.Steps {
			q.Steps[i].Before, q.Steps[i].Links = slices.Clone(q.Steps[i].Before), slices.Clone(q.Steps[i].Links)
			if change(&q.Steps[i]) {
				break
			}
		}
		_, f := Walk(l, q)
		return f
	}
	if f := spoil(func(*Step) bool { return true }); len(f) > 0 {
		t.Fatal(f)
	}
	for name, c := range map[string]struct {
		want   string
		change func(s *Step) bool
	}{
		"not put back": {"no screw is put back", func(s *Step) bool {
			for i := range s.Before {
				if s.Action == Remove && len(s.Before[i].After[0].Lies) > 0 {
					s.Before[i].After[0].Lies = nil
					return true
				}
			}
			return false
		}},
		"from under": {"is taken off from under", func(s *Step) bool {
			if s.Action == Remove {
				slices.Reverse(s.Links)
			}
			return false
		}},
	} {
		if f := spoil(c.change); !slices.ContainsFunc(f, func(f Fault) bool { return strings.Contains(f.Text, c.want) }) {
			t.Errorf("%s: %v", name, f)
		}
	}
	b := &realPack{l: l, p: &p, seen: map[string]bool{}, turns: p.States[0].Turns}
	a, z := Post{0, Left}, Post{1, Left}
	b.links = []Link{{ID: "J1", A: a, B: Post{3, Left}, Cable: true}, {ID: "J2", A: a, B: z}}
	lies := liesOn(l, b.turns, b.links)
	b.screw(b.links[1], Step{Before: []Before{{After: jointsOf(l, b.links[1], lies)}}}, 0, lies)
	if len(b.faults) != 1 || !strings.Contains(b.faults[0].Text, "lies on the lug") {
		t.Errorf("bar on a lug: %v", b.faults)
	}
}

// The screws of a plan are those of the moment that needs most, by length; jumpers of
// the balance take longer ones than the bars that stay.
func TestScrewsOfAPlan(t *testing.T) {
	for _, c := range []struct {
		depth float64
		kinds int
	}{{8, 2}, {0, 2}} {
		l, p := planOf(t, tapped(pack(16, 1, 8, 2), c.depth), Cross)
		screws, washers, _ := p.Screws(l)
		sum := 0
		for s, n := range screws {
			sum += n
			if (s.LongMM > 0) != (c.depth > 0) || (s.GripMM > 0) == (c.depth > 0) {
				t.Errorf("depth %v: %+v", c.depth, s)
			}
		}
		if len(screws) < c.kinds || sum < 32 || washers < 32 {
			t.Errorf("depth %v: %v, %d washers", c.depth, screws, washers)
		}
	}
}

// Over a joint at most three times what a clean one gives, and never less than a meter
// tells.
func TestReadingOverJoints(t *testing.T) {
	for _, c := range []struct{ contact, amps, want float64 }{{15, 100, 4.5}, {15, 5, leastMilliV}, {50, 100, 15}} {
		in := pack(4, 1, 4, 1)
		in.ContactMicroOhm, in.DischargerA = c.contact, c.amps
		_, p := planOf(t, in, Cross)
		n := slices.IndexFunc(p.Steps, func(s Step) bool { return len(s.Over) > 0 })
		if n < 0 || len(p.Steps[n].Over) != 3 || p.Steps[n].Amps != c.amps || math.Abs(p.Steps[n].Over[0].MilliV-c.want) > 1e-9 {
			t.Errorf("%+v: %+v", c, p.Steps[max(0, n)])
		}
	}
}
