package wiring

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"
)

// Exposure is a pair of live pieces of metal that one loose tool or bar of the
// given length would join.
type Exposure struct {
	State string
	A, B  Post
	// GapMM is the least distance between bare metal of the two nets: pads and
	// bare bars.
	GapMM float64
	// Volts is the open voltage between them with full cells; Amps the
	// prospective current through a bridge without resistance.
	Volts, Amps float64
	Text        string
}

// Exposures lists the pairs of nets that a piece of metal of lengthMM can
// bridge in a state with full cells, nearest first; A and B are the terminals
// of the two nets that lie closest. Nets that no circuit connects are left out:
// joining them carries no current.
func (l *Layout) Exposures(s State, lengthMM float64) ([]Exposure, error) {
	if f, bad := l.broken(s); bad {
		return nil, errors.New(f.Text)
	}
	solver, err := NewSolver(l.network(s, l.in.Volts.Full))
	if err != nil {
		return nil, err
	}
	b, err := solver.bridges()
	if err != nil {
		return nil, err
	}
	metal := l.metalGaps(s)
	var out []Exposure
	for _, pair := range metal {
		if pair.gap > lengthMM {
			continue
		}
		v, r, ok := b.between(pair.a, pair.b)
		if !ok || math.Abs(v) < voltageTolV {
			continue
		}
		e := Exposure{State: s.ID, A: pair.a, B: pair.b, GapMM: pair.gap, Volts: math.Abs(v), Amps: math.Abs(v) / r}
		e.Text = fmt.Sprintf("%s and %s are %s apart: %s, up to %s", l.PostName(e.A, s.Turns),
			l.PostName(e.B, s.Turns), mm(e.GapMM), volts(e.Volts), amps(e.Amps))
		out = append(out, e)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].GapMM < out[j].GapMM-lengthTolMM/1000 })
	return out, nil
}

// netGap is the least metal gap of two nets.
type netGap struct {
	a, b Post // nearest terminals
	gap  float64
	post float64 // distance of a and b
}

// metalGaps returns the least gap of every two nets, in order of nets.
func (l *Layout) metalGaps(s State) []netGap {
	n := netsOf(l.Cells(), s.Links)
	best := map[[2]int]*netGap{}
	var order [][2]int
	at := func(a, b int) *netGap {
		a, b = n.find(a), n.find(b)
		key := [2]int{min(a, b), max(a, b)}
		g, ok := best[key]
		if !ok {
			g = &netGap{gap: math.Inf(1), post: math.Inf(1)}
			best[key] = g
			order = append(order, key)
		}
		return g
	}
	nodes := 2 * l.Cells()
	for i := range nodes {
		pi := l.Position(postOf(i), s.Turns)
		for j := i + 1; j < nodes; j++ {
			if n.find(i) == n.find(j) {
				continue
			}
			d := pi.Dist(l.Position(postOf(j), s.Turns))
			g := at(i, j)
			g.gap = min(g.gap, max(0, d-l.in.PadDiaMM))
			if d < g.post-lengthTolMM/1000 {
				g.a, g.b, g.post = postOf(i), postOf(j), d
			}
		}
	}
	l.barGaps(s, n, at)
	out := make([]netGap, len(order))
	for i, key := range order {
		out[i] = *best[key]
	}
	return out
}

// barGaps lowers the gaps by the bare bars.
func (l *Layout) barGaps(s State, n *nets, at func(a, b int) *netGap) {
	half := l.in.Bar.WidthMM / 2
	for i, k := range s.Links {
		if k.Cable {
			continue
		}
		e, net := l.edgeOf(k, s.Turns), k.A.node()
		for node := range 2 * l.Cells() {
			if n.find(node) != n.find(net) {
				g := at(net, node)
				g.gap = min(g.gap, max(0, e.Dist(l.Position(postOf(node), s.Turns))-half-l.in.PadDiaMM/2))
			}
		}
		for _, o := range s.Links[i+1:] {
			if !o.Cable && n.find(o.A.node()) != n.find(net) {
				g := at(net, o.A.node())
				g.gap = min(g.gap, max(0, edgeGap(e, l.edgeOf(o, s.Turns))-2*half))
			}
		}
	}
}

// bridges tell what a bridge between two posts carries, for many pairs from one inverse.
type bridges struct {
	s    *Solver
	v    []float64
	ohms mat.SymDense
}

func (s *Solver) bridges() (*bridges, error) {
	b := &bridges{s: s}
	idle, err := s.Load(Mains{Post{0, Left}, Post{0, Right}}, 0)
	if err != nil {
		return nil, err
	}
	b.v = idle.V
	if err := s.chol.InverseTo(&b.ohms); err != nil {
		return nil, err
	}
	return b, nil
}

func (b *bridges) z(i, j int) float64 {
	if b.s.ground[i] || b.s.ground[j] {
		return 0
	}
	return b.ohms.At(i, j)
}

// between returns the open voltage and the source resistance seen between two posts
// (Thevenin): a piece of metal laid across them carries volts/ohms. ok is false where no
// circuit connects them.
func (b *bridges) between(p, q Post) (volts, ohms float64, ok bool) {
	i, j := p.node(), q.node()
	if i == j || b.s.island.find(i) != b.s.island.find(j) {
		return 0, 0, false
	}
	return b.v[j] - b.v[i], b.z(i, i) + b.z(j, j) - 2*b.z(i, j), true
}
