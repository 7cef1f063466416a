package wiring

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.10g, want %.10g within %g", name, got, want, tol)
	}
}

// ladderOf4 is four equal cells of 1 ohm in parallel, 0.1 ohm links on both
// sides from cell to cell.
func ladderOf4() Network {
	n := Network{Turns: make(Turns, 4)}
	for i := range 4 {
		n.Turns[i] = Right
		n.EMF = append(n.EMF, 3.2)
		n.CellOhm = append(n.CellOhm, 1)
		if i > 0 {
			n.Links = append(n.Links, Link{A: Post{i - 1, Left}, B: Post{i, Left}}, Link{A: Post{i - 1, Right}, B: Post{i, Right}})
			n.LinkOhm = append(n.LinkOhm, 0.1, 0.1)
		}
	}
	return n
}

// Hand-worked: fed at one end, the ladder seen from the last cell back is
//
//	Z4 = 1
//	Z3 = 1 || (0.2 + 1)     = 6/11
//	Z2 = 1 || (0.2 + 6/11)  = 41/96
//	Z1 = 1 || (0.2 + 41/96) = 301/781
//
// so that 1 A splits into I1 = Z1, then each cell takes Zk of what is left.
func TestFourParallelCellsFedAtOneEnd(t *testing.T) {
	s, err := NewSolver(ladderOf4())
	if err != nil {
		t.Fatal(err)
	}
	sol, err := s.Load(Mains{Post{0, Left}, Post{0, Right}}, 1)
	if err != nil {
		t.Fatal(err)
	}
	left := 1.0
	for i, z := range []float64{301.0 / 781, 41.0 / 96, 6.0 / 11, 1} {
		near(t, "cell current", sol.CellA[i], left*z, 1e-12)
		left -= left * z
	}
	near(t, "terminal voltage", sol.At(Post{0, Right})-sol.At(Post{0, Left}), 3.2-301.0/781, 1e-12)
}

// Hand-worked: fed crosswise (plus at the first cell, minus at the last) the
// network is the same seen from both ends, so I1 = I4 = a and I2 = I3 = b with
// a + b = 1/2. Round the first mesh: cell 1, cell 2 and the links between carry
// 1-a in the plus link and a in the minus link: a - b = 0.1 (1-a) - 0.1 a.
// Hence 2a - 1/2 = 0.1 - 0.2 a, a = 0.6/2.2 = 3/11.
func TestFourParallelCellsFedCrosswise(t *testing.T) {
	s, err := NewSolver(ladderOf4())
	if err != nil {
		t.Fatal(err)
	}
	sol, err := s.Load(Mains{Minus: Post{3, Left}, Plus: Post{0, Right}}, 1)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{3.0 / 11, 5.0 / 22, 5.0 / 22, 3.0 / 11} {
		near(t, "cell current", sol.CellA[i], want, 1e-12)
	}
	near(t, "unevenness", unevenness([]int{0, 1, 2, 3}, sol.CellA), 12.0/11, 1e-12)
}

// randomNetwork is any network: cells, turns and links at random.
func randomNetwork(r *rand.Rand) Network {
	n := Network{}
	cells := 1 + r.IntN(12)
	for range cells {
		n.EMF = append(n.EMF, 2.5+r.Float64())
		n.CellOhm = append(n.CellOhm, 1e-4+1e-3*r.Float64())
		n.Turns = append(n.Turns, Side(r.IntN(2)))
	}
	for range r.IntN(3 * cells) {
		a, b := postOf(r.IntN(2*cells)), postOf(r.IntN(2*cells))
		if a != b {
			n.Links = append(n.Links, Link{A: a, B: b})
			n.LinkOhm = append(n.LinkOhm, 1e-5+1e-4*r.Float64())
		}
	}
	return n
}

// Kirchhoff's current law at every node, Tellegen's power balance over all.
func TestSolutionObeysKirchhoff(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	for range 300 {
		n := randomNetwork(r)
		s, err := NewSolver(n)
		if err != nil {
			t.Fatal(err)
		}
		m := Mains{postOf(r.IntN(2 * len(n.EMF))), postOf(r.IntN(2 * len(n.EMF)))}
		load := 100 * r.Float64()
		sol, err := s.Load(m, load)
		if errors.Is(err, ErrIsland) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		out := make([]float64, 2*len(n.EMF)) // current leaving each node
		biggest, given, used := load, 0.0, (sol.At(m.Plus)-sol.At(m.Minus))*load
		for i, a := range sol.CellA {
			out[n.Turns.At(i, Plus).node()] -= a
			out[n.Turns.At(i, Minus).node()] += a
			biggest = max(biggest, math.Abs(a))
			given += n.EMF[i] * a
			used += a * a * n.CellOhm[i]
		}
		for i, k := range n.Links {
			out[k.A.node()] += sol.LinkA[i]
			out[k.B.node()] -= sol.LinkA[i]
			used += sol.LinkA[i] * sol.LinkA[i] * n.LinkOhm[i]
		}
		out[m.Plus.node()] += load
		out[m.Minus.node()] -= load
		for node, a := range out {
			near(t, "node current", a, 0, 1e-9*biggest)
			_ = node
		}
		near(t, "power", given, used, 1e-8*biggest*10)
	}
}

// The slow twin: the whole matrix, inverted, of networks of many islands and loops.
func TestBetweenAgreesWithTheWholeMatrix(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	for range 100 {
		n := randomNetwork(r)
		s, err := NewSolver(n)
		if err != nil {
			t.Fatal(err)
		}
		nodes := 2 * len(n.EMF)
		g, in := mat.NewDense(nodes, nodes, nil), mat.NewVecDense(nodes, nil)
		stamp := func(a, b int, siemens float64) {
			g.Set(a, a, g.At(a, a)+siemens)
			g.Set(b, b, g.At(b, b)+siemens)
			g.Set(a, b, g.At(a, b)-siemens)
			g.Set(b, a, g.At(b, a)-siemens)
		}
		for slot, ohm := range n.CellOhm {
			stamp(2*slot, 2*slot+1, 1/ohm)
			plus, minus := n.Turns.At(slot, Plus).node(), n.Turns.At(slot, Minus).node()
			in.SetVec(plus, in.AtVec(plus)+n.EMF[slot]/ohm)
			in.SetVec(minus, in.AtVec(minus)-n.EMF[slot]/ohm)
		}
		for i, k := range n.Links {
			stamp(k.A.node(), k.B.node(), 1/n.LinkOhm[i])
		}
		for node := range nodes {
			if s.island.find(node) == node {
				g.Set(node, node, g.At(node, node)+1e3)
			}
		}
		var all mat.Dense
		if err := all.Inverse(g); err != nil {
			t.Fatal(err)
		}
		var idle mat.VecDense
		idle.MulVec(&all, in)
		for range 5 {
			p, q := postOf(r.IntN(nodes)), postOf(r.IntN(nodes))
			i, j := p.node(), q.node()
			v, ohm, ok := s.Between(p, q)
			if want := i != j && s.island.find(i) == s.island.find(j); ok != want {
				t.Fatalf("between %v and %v: %v, want %v", p, q, ok, want)
			}
			if ok {
				near(t, "volts", v, idle.AtVec(j)-idle.AtVec(i), 1e-6)
				near(t, "ohms", ohm, all.At(i, i)+all.At(j, j)-all.At(i, j)-all.At(j, i), 1e-9)
			}
		}
	}
}

// A short circuit of one cell of 3.3 V and 0.25 milliohm is 13.2 kA (Ohm's law),
// and sixteen such cells in series give the same current.
func TestProspectiveCurrent(t *testing.T) {
	n := Network{EMF: []float64{3.3}, CellOhm: []float64{0.25e-3}, Turns: Turns{Right}}
	s, err := NewSolver(n)
	if err != nil {
		t.Fatal(err)
	}
	v, ohm, ok := s.Between(Post{0, Left}, Post{0, Right})
	if !ok {
		t.Fatal("a cell's own terminals are not connected")
	}
	near(t, "amps", v/ohm, 13200, 1e-6)
}

func TestSolverRefusesNonsense(t *testing.T) {
	good := ladderOf4()
	for name, spoil := range map[string]func(*Network){
		"no cell":            func(n *Network) { *n = Network{} },
		"zero cell":          func(n *Network) { n.CellOhm[0] = 0 },
		"NaN cell":           func(n *Network) { n.CellOhm[0] = math.NaN() },
		"infinite EMF":       func(n *Network) { n.EMF[0] = math.Inf(1) },
		"zero link":          func(n *Network) { n.LinkOhm[0] = 0 },
		"link to itself":     func(n *Network) { n.Links[0].B = n.Links[0].A },
		"link to nowhere":    func(n *Network) { n.Links[0].B.Slot = 9 },
		"bad side":           func(n *Network) { n.Links[0].B.Side = 5 },
		"missing resistance": func(n *Network) { n.LinkOhm = n.LinkOhm[1:] },
	} {
		n := good
		n.EMF = append([]float64(nil), good.EMF...)
		n.CellOhm = append([]float64(nil), good.CellOhm...)
		n.LinkOhm = append([]float64(nil), good.LinkOhm...)
		n.Links = append([]Link(nil), good.Links...)
		spoil(&n)
		if _, err := NewSolver(n); !errors.Is(err, ErrNetwork) {
			t.Errorf("%s: err = %v", name, err)
		}
	}
	s, _ := NewSolver(good)
	if _, err := s.Load(Mains{Post{0, Left}, Post{0, Right}}, math.NaN()); err == nil {
		t.Error("NaN load accepted")
	}
}
