package wiring

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// randomInput is any pack that can be: rows, series and parallel counts, routes,
// ends and sizes at random.
func randomInput(r *rand.Rand) Input {
	rows := 1 + r.IntN(2)
	perRow := 1 + r.IntN(8)
	n := rows * perRow
	var divisors []int
	for d := 1; d <= n; d++ {
		if n%d == 0 {
			divisors = append(divisors, d)
		}
	}
	p := divisors[r.IntN(len(divisors))]
	in := pack(perRow, rows, n/p, p)
	in.PitchMM = 25 + 60*r.Float64()
	in.PadDiaMM = 10 + 10*r.Float64()
	in.TerminalPitchMM = 50 + 100*r.Float64()
	in.RowGapMM = 60 * r.Float64()
	in.FromRight = rows == 2 && r.IntN(2) == 1
	if r.IntN(2) == 1 {
		side := Side(r.IntN(2))
		in.FirstPlus = &side
	}
	if r.IntN(3) == 0 { // terminals off the middle line
		in.PlusAt = TerminalAt{XMM: 60, ZMM: 3}
		in.MinusAt = TerminalAt{XMM: -50, ZMM: -2, HeightMM: 1}
		in.CellWidthMM = 174
	}
	return in
}

// truth is the oracle: which posts are joined, by closure of the link relation
// (Warshall), not by the union-find of the proof.
func truth(cells int, links []Link) [][]bool {
	m := make([][]bool, 2*cells)
	for i := range m {
		m[i] = make([]bool, 2*cells)
		m[i][i] = true
	}
	for _, k := range links {
		m[k.A.node()][k.B.node()], m[k.B.node()][k.A.node()] = true, true
	}
	for k := range m {
		for i := range m {
			for j := range m {
				m[i][j] = m[i][j] || m[i][k] && m[k][j]
			}
		}
	}
	return m
}

// sameCircuit says whether a changed state is electrically the original: cells
// turned alike, the same posts joined, take-offs on the same joined posts.
func sameCircuit(cells int, a, b State) bool {
	if !slices.Equal(a.Turns, b.Turns) {
		return false
	}
	ta, tb := truth(cells, a.Links), truth(cells, b.Links)
	for i := range ta {
		if !slices.Equal(ta[i], tb[i]) {
			return false
		}
	}
	return ta[a.Mains.Minus.node()][b.Mains.Minus.node()] && ta[a.Mains.Plus.node()][b.Mains.Plus.node()]
}

// mutate changes one link, one cell or one take-off.
func mutate(r *rand.Rand, s State, cells int) State {
	s = s.clone()
	post := func() Post { return postOf(r.IntN(2 * cells)) }
	i := 0
	if len(s.Links) > 0 {
		i = r.IntN(len(s.Links))
	}
	switch kind := r.IntN(6); {
	case kind == 0 && len(s.Links) > 0: // one end goes astray
		s.Links[i].B = post()
	case kind == 1 && len(s.Links) > 0: // one link forgotten
		s.Links = slices.Delete(s.Links, i, i+1)
	case kind == 2: // one link too many
		s.Links = append(s.Links, Link{A: post(), B: post(), Layers: 1})
	case kind == 3: // one take-off astray
		s.Mains.Plus = post()
	case kind == 4 && cells > 1: // both ends of a link at the wrong place
		s.Links = append(s.Links, Link{A: post(), B: post(), Layers: 1})
		if len(s.Links) > 1 {
			s.Links = slices.Delete(s.Links, i, i+1)
		}
	default: // one cell turned
		slot := r.IntN(cells)
		s.Turns[slot] = s.Turns[slot].Other()
	}
	return s
}

// The planner's own states are proven; every changed state is proven if and only
// if the change made no electrical difference. So no shorted or mis-ordered pack
// ever passes, and no good one is refused.
func TestProofOverRandomLayouts(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 2026))
	tried, broken, layouts := 0, 0, 120
	if testing.Short() {
		layouts = 30
	}
	for range layouts {
		in := randomInput(r)
		l := mustLayout(t, in)
		for _, p := range mustPlans(t, l) {
			if !p.Proven() {
				t.Fatalf("%ds%dp %s: %+v", in.Series, in.Parallel, p.ID, p.Faults()[0])
			}
			for _, s := range p.States {
				for range 8 {
					m := mutate(r, s, l.Cells())
					tried++
					if sameCircuit(l.Cells(), s, m) {
						continue
					}
					broken++
					if proof := l.Prove(m); proof.Holds() {
						t.Fatalf("%ds%dp %s %s passes with links %v turns %v mains %v", in.Series, in.Parallel,
							p.ID, s.ID, m.Links, m.Turns, m.Mains)
					}
				}
			}
		}
	}
	if broken < tried/2 {
		t.Errorf("only %d of %d changes did harm: the test tests little", broken, tried)
	}
	t.Logf("%d changes, %d of them harmful, all caught", tried, broken)
}

// Harmless changes pass: a second link between posts already joined.
func TestProofAllowsDoubledLinks(t *testing.T) {
	l := mustLayout(t, pack(4, 1, 2, 2))
	p := mustPlans(t, l)[1]
	s, _ := p.State(StateFinal)
	s = s.clone()
	extra := s.Links[0]
	extra.A, extra.B = extra.B, extra.A
	s.Links = append(s.Links, extra)
	if proof := l.Prove(s); !proof.Holds() {
		t.Errorf("a doubled link is refused: %v", proof.Faults)
	}
}

// finalOf returns the final state of a single-row pack of four in series.
func finalOf(t *testing.T, in Input) (*Layout, State) {
	t.Helper()
	l := mustLayout(t, in)
	for _, p := range mustPlans(t, l) {
		if p.ID == Cross {
			s, _ := p.State(StateFinal)
			return l, s.clone()
		}
	}
	t.Fatal("no plan cross")
	return nil, State{}
}

func kinds(p Proof) []FaultKind {
	var out []FaultKind
	for _, f := range p.Faults {
		if !slices.Contains(out, f.Kind) {
			out = append(out, f.Kind)
		}
	}
	return out
}

func TestProofNamesTheWrongLink(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.UserLinks = []StateLinks{{State: StateFinal, Links: []string{"1+ 2-", "2+ 3+", "3+ 4-"}}}
	l := mustLayout(t, in)
	for _, p := range mustPlans(t, l) {
		if p.Proven() {
			t.Errorf("plan %s is proven", p.ID)
		}
		var wrong []string
		for _, f := range p.Faults() {
			if f.Kind == FaultLink && f.State == StateFinal && f.Step == 0 {
				wrong = append(wrong, f.Text)
			}
		}
		if len(wrong) != 1 || !strings.Contains(wrong[0], "(2+ to 3+)") {
			t.Errorf("plan %s names %q", p.ID, wrong)
		}
	}
	if a, ok := Recommend(l.Input(), mustPlans(t, l)); ok {
		t.Errorf("a pack with a wrong link is recommended: %+v", a)
	}
}

func TestProofNamesAShort(t *testing.T) {
	l, s := finalOf(t, pack(4, 1, 4, 1))
	s.Links = append(s.Links, Link{ID: "X", A: s.Turns.At(1, Minus), B: s.Turns.At(1, Plus), Layers: 1})
	p := l.Prove(s)
	for _, want := range []FaultKind{FaultLink, FaultCurrent} {
		if !slices.Contains(kinds(p), want) {
			t.Errorf("no %s in %v", want, kinds(p))
		}
	}
	for _, f := range p.Faults {
		if f.Kind == FaultCurrent && (!strings.Contains(f.Text, "cell 2, by link X (2- to 2+)") || !slices.Equal(f.Cells, []int{1}) || len(f.Links) != 1) {
			t.Errorf("short named as %q", f.Text)
		}
	}
	if p.IdleA < 1000 {
		t.Errorf("a shorted cell drives only %.0f A", p.IdleA)
	}
}

func TestProofFindsOpposedCells(t *testing.T) {
	l := mustLayout(t, pack(2, 1, 1, 2))
	s, _ := mustPlans(t, l)[0].State(StateFinal)
	s = s.clone()
	s.Turns[1] = s.Turns[1].Other()
	got := kinds(l.Prove(s))
	for _, want := range []FaultKind{FaultTurned, FaultLink, FaultCurrent} {
		if !slices.Contains(got, want) {
			t.Errorf("no %s in %v", want, got)
		}
	}
}

// Every kind of broken state is refused and none panics.
func TestProofOfNonsense(t *testing.T) {
	l, good := finalOf(t, pack(4, 1, 4, 1))
	for name, spoil := range map[string]func(*State){
		"no turns":      func(s *State) { s.Turns = nil },
		"bad turn":      func(s *State) { s.Turns[0] = 7 },
		"no places":     func(s *State) { s.Places = nil },
		"empty place":   func(s *State) { s.Places[0] = nil },
		"twice":         func(s *State) { s.Places[0][0] = 1 },
		"out of range":  func(s *State) { s.Places[0][0] = 99 },
		"negative slot": func(s *State) { s.Links[0].A.Slot = -1 },
		"bad side":      func(s *State) { s.Links[0].A.Side = -3 },
		"loop":          func(s *State) { s.Links[0].A = s.Links[0].B },
		"far main":      func(s *State) { s.Mains.Plus.Slot = 44 },
	} {
		s := good.clone()
		spoil(&s)
		p := l.Prove(s)
		if p.Holds() || p.Faults[0].Kind != FaultBroken {
			t.Errorf("%s: %+v", name, p.Faults)
		}
	}
	if p := l.Prove(State{}); p.Holds() {
		t.Error("the empty state holds")
	}
}

func TestProofVoltage(t *testing.T) {
	for _, c := range []struct {
		perRow, rows, s, p int
		want               float64
	}{{4, 1, 4, 1, 12.8}, {16, 1, 8, 2, 25.6}, {8, 2, 16, 1, 51.2}, {4, 1, 1, 4, 3.2}} {
		l, s := finalOf(t, pack(c.perRow, c.rows, c.s, c.p))
		p := l.Prove(s)
		if !p.Holds() {
			t.Fatal(p.Faults)
		}
		near(t, "pack voltage", p.PackV, c.want, 1e-9)
	}
}

// Links as a user may type them, right or wrong: the verdict is that of the
// oracle, and nothing panics.
func TestUserLinksOverRandomTexts(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 6))
	wrong, right := 0, 0
	for range 150 {
		in := pack(2+r.IntN(3), 1, 0, 1)
		in.Series = in.CellsPerRow
		l, s := finalOf(t, in)
		var texts []string
		for i, k := range s.Links {
			text := l.ShortName(k.A, s.Turns) + " " + l.ShortName(k.B, s.Turns)
			if i == 0 && r.IntN(2) == 0 {
				text = l.ShortName(postOf(r.IntN(2*l.Cells())), s.Turns) + " " + l.ShortName(k.B, s.Turns)
			}
			texts = append(texts, text)
		}
		in.UserLinks = []StateLinks{{State: StateFinal, Links: texts}}
		u := mustLayout(t, in)
		plans, err := u.Plans()
		if err != nil {
			continue // both ends the same terminal
		}
		for _, p := range plans {
			g, _ := p.State(StateFinal)
			same := sameCircuit(l.Cells(), s, g)
			if p.Proven() != same {
				t.Fatalf("links %v: proven %v, right %v: %v", texts, p.Proven(), same, p.Faults())
			}
			if same {
				right++
			} else {
				wrong++
			}
		}
	}
	if wrong < 50 || right < 50 {
		t.Errorf("%d wrong, %d right", wrong, right)
	}
}
