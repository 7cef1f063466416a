package wiring

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"

	"clampwright/parts/geom"
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
	var out []Exposure
	for _, pair := range l.metalGaps(s, lengthMM) {
		v, r, ok := solver.Between(pair.a, pair.b)
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

// metalGaps returns the least gap of every two nets that come within reach of each
// other, in order of nets.
func (l *Layout) metalGaps(s State, within float64) []netGap {
	n, at := netsOf(l.Cells(), s.Links), l.positions(s.Turns)
	best := map[[2]int]*netGap{}
	near := func(a, b int, gap float64) *netGap {
		a, b = n.find(a), n.find(b)
		if gap > within || a == b {
			return &netGap{}
		}
		key := [2]int{min(a, b), max(a, b)}
		g := best[key]
		if g == nil {
			g = &netGap{gap: gap, post: math.Inf(1)}
			best[key] = g
		}
		g.gap = min(g.gap, max(0, gap))
		return g
	}
	for i, p := range at {
		for j := i + 1; j < len(at); j++ {
			if math.Abs(p.Y-at[j].Y) > within+l.in.PadDiaMM {
				continue
			}
			d := p.Dist(at[j])
			if g := near(i, j, d-l.in.PadDiaMM); d < g.post-lengthTolMM/1000 {
				g.a, g.b, g.post = postOf(i), postOf(j), d
			}
		}
	}
	l.barGaps(s, at, within, near)
	var out []netGap
	for _, key := range slices.SortedFunc(maps.Keys(best), func(a, b [2]int) int { return slices.Compare(a[:], b[:]) }) {
		out = append(out, best[key].posted(n, key, at))
	}
	return out
}

// posted is the gap with its nearest terminals, where only bars come near.
func (g netGap) posted(n *nets, key [2]int, at []geom.Vec2) netGap {
	for i := 0; i < len(at) && math.IsInf(g.post, 1); i++ {
		for j := i + 1; j < len(at); j++ {
			a, b := n.find(i), n.find(j)
			if d := at[i].Dist(at[j]); [2]int{min(a, b), max(a, b)} == key && d < g.post-lengthTolMM/1000 {
				g.a, g.b, g.post = postOf(i), postOf(j), d
			}
		}
	}
	return g
}

// barGaps lowers the gaps by the bare bars.
func (l *Layout) barGaps(s State, at []geom.Vec2, within float64, near func(a, b int, gap float64) *netGap) {
	half, pad := l.in.Bar.WidthMM/2, l.in.PadDiaMM/2
	for i, k := range s.Links {
		if k.Cable {
			continue
		}
		e, net := l.edgeOf(k, s.Turns), k.A.node()
		for node, p := range at {
			if boxGap(e, p, p) <= within+half+pad {
				near(net, node, e.Dist(p)-half-pad)
			}
		}
		for _, o := range s.Links[i+1:] {
			if !o.Cable {
				if f := l.edgeOf(o, s.Turns); boxGap(e, f.A, f.B) <= within+2*half {
					near(net, o.A.node(), edgeGap(e, f)-2*half)
				}
			}
		}
	}
}
