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
	// GapMM is the least distance between bare metal of the two nets: pads, lugs and
	// bare bars with their ends.
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
	if f, bad := brokenState(l, s); bad {
		return nil, errors.New(f.Text)
	}
	solver, err := NewSolver(networkOf(l, s, l.in.Volts.Full))
	if err != nil {
		return nil, err
	}
	var out []Exposure
	for _, pair := range metalGaps(l, s, lengthMM) {
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
func metalGaps(l *Layout, s State, within float64) []netGap {
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
	nearer := func(a, b int, box float64) bool { // whether pieces so far apart at least may come nearer than known
		a, b = n.find(a), n.find(b)
		g := best[[2]int{min(a, b), max(a, b)}]
		return box <= within && a != b && (g == nil || box < g.gap)
	}
	pads := padsOf(l, s)
	for i, p := range at {
		for j := i + 1; j < len(at); j++ {
			if math.Abs(p.Y-at[j].Y) > within+pads[i]+pads[j]+l.in.screwsLong().Y {
				continue
			}
			d := p.Dist(at[j])
			if g := near(i, j, l.in.screwsApart(p, at[j])-pads[i]-pads[j]); d < g.post-lengthTolMM/1000 {
				g.a, g.b, g.post = postOf(i), postOf(j), d
			}
		}
	}
	for i, bars := 0, metalsOf(l, s); i < len(bars); i++ {
		m, net := bars[i], bars[i].link.A.node()
		for node, mid := range at {
			for _, p := range l.in.screwsAt(mid) {
				if nearer(net, node, m.box.Dist(spot(p))-pads[node]) {
					near(net, node, m.to(p)-pads[node])
				}
			}
		}
		for _, o := range bars[i+1:] {
			if other := o.link.A.node(); nearer(net, other, m.box.Dist(o.box)) {
				near(net, other, m.apart(o))
			}
		}
	}
	posted(best, n, at)
	var out []netGap
	for _, key := range slices.SortedFunc(maps.Keys(best), func(a, b [2]int) int { return slices.Compare(a[:], b[:]) }) {
		out = append(out, *best[key])
	}
	return out
}

// posted finds the nearest terminals of gaps where only bars come near.
func posted(gaps map[[2]int]*netGap, n *nets, at []geom.Vec2) {
	bare := map[[2]int]*netGap{}
	for key, g := range gaps {
		if math.IsInf(g.post, 1) {
			bare[key] = g
		}
	}
	for i := 0; i < len(at) && len(bare) > 0; i++ {
		for j := i + 1; j < len(at); j++ {
			a, b := n.find(i), n.find(j)
			if g := bare[[2]int{min(a, b), max(a, b)}]; g != nil {
				if d := at[i].Dist(at[j]); d < g.post-lengthTolMM/1000 {
					g.a, g.b, g.post = postOf(i), postOf(j), d
				}
			}
		}
	}
}

// padsOf are the radii of what is bare at the terminals, by node: pads, or the lugs on
// them where these are wider.
func padsOf(l *Layout, s State) []float64 {
	out := make([]float64, 2*l.Cells())
	for node := range out {
		out[node] = l.Pad(postOf(node), s.Turns) / 2
	}
	lug := func(p Post, mm2 float64) {
		out[p.node()] = max(out[p.node()], lugWideMM(mm2, l.in.StudDiaMM)/2)
	}
	for _, k := range s.Links {
		if k.Cable {
			lug(k.A, k.CableMM2)
			lug(k.B, k.CableMM2)
		}
	}
	if s.ID == StateFinal {
		lug(s.Mains.Minus, cableFor(math.Abs(s.CurrentA)))
		lug(s.Mains.Plus, cableFor(math.Abs(s.CurrentA)))
	}
	return out
}
