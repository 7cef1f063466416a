package wiring

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
)

// ErrTooFewCells says that the records left after screening do not fill the pack.
var ErrTooFewCells = errors.New("too few usable cells")

// UnevenMost is the greatest cell current over the mean of its parallel group in the
// finished pack. Common practice, no source.
const UnevenMost = 1.1

// mostDeals is up to how many deals all are tried: those of four places of three.
const mostDeals = 15400

// resistanceShare is how much the evenness of resistance counts beside that of
// capacity when groups are formed: capacity decides what the pack holds,
// resistance only how it warms. Our own judgement, no source.
const resistanceShare = 0.01

// Grouping is how records are dealt to the series places.
type Grouping struct {
	Places [][]Record
	// Spare are usable cells left over: those of least capacity.
	Spare []Record
	// CapacityAh and MilliOhm of each place; the least capacity is the pack's.
	CapacityAh, MilliOhm []float64
	PackAh               float64
	// CapacitySpread and ResistanceSpread are (greatest - least)/mean.
	CapacitySpread, ResistanceSpread float64
	// Uneven is the greatest current of a cell over the mean of its place, by the cells'
	// own resistances.
	Uneven float64
}

// Group deals cells to series places of parallel cells each: first so that the cells
// of every place share its current within UnevenMost, by their resistances; then so
// that the weakest place holds as much as can be; then so that the places are even in
// capacity and resistance. Small packs are dealt in every way; in larger ones a snake
// deal by capacity is bettered by exchanging pairs of cells as long as that helps.
// Cells beyond the number needed are left out, the weakest first.
func Group(records []Record, places, parallel int) (Grouping, error) {
	need := places * parallel
	if places < 1 || parallel < 1 || need > mostCells {
		return Grouping{}, fmt.Errorf("%d places of %d cells cannot be grouped", places, parallel)
	}
	if len(records) < need {
		return Grouping{}, fmt.Errorf("%w: %d for %d", ErrTooFewCells, len(records), need)
	}
	sorted := append([]Record(nil), records...)
	sort.SliceStable(sorted, func(i, j int) bool {
		a, b := sorted[i], sorted[j]
		if a.CapacityAh != b.CapacityAh {
			return a.CapacityAh > b.CapacityAh
		}
		if a.MilliOhm != b.MilliOhm {
			return a.MilliOhm < b.MilliOhm
		}
		return a.Serial < b.Serial
	})
	d := dealt(sorted[:need], places, mostDeals)
	for d.worth(d.places).over > 0 { // another cell may be the one to leave out
		e, use := d, slices.Clone(sorted)
		for i := range need {
			for k := need; k < len(sorted); k++ {
				s := slices.Concat(sorted[:i], sorted[i+1:need], sorted[k:k+1])
				if x := dealt(s, places, fewDeals); x.worth(x.places).over < e.worth(e.places).over-rounding {
					e, use = x, slices.Concat(s, sorted[i:i+1], sorted[need:k], sorted[k+1:])
				}
			}
		}
		if e == d {
			break
		}
		d, sorted = e, use
	}
	g := Grouping{Places: d.places, Spare: sorted[need:]}
	g.account()
	return g, nil
}

// fewDeals is up to how many all are tried for every cell that may be left out.
const fewDeals = 300

// dealt deals cells, those of most capacity first, as well as can be; all deals are tried
// where they are no more than most.
func dealt(cells []Record, places int, most float64) *deal {
	d := newDeal(cells, places)
	d.improve()
	if parallel := len(cells) / places; deals(places, parallel) <= most {
		d.tryAll(cells)
	} else if d.worth(d.places).over > 0 { // those of like resistance together
		by := slices.SortedStableFunc(slices.Values(cells), func(a, b Record) int { return cmp.Compare(a.MilliOhm, b.MilliOhm) })
		e := &deal{slices.Collect(slices.Chunk(by, parallel)), d.meanAh, d.meanS}
		if e.improve(); e.worth(e.places).betterThan(d.worth(d.places)) {
			return e
		}
	}
	return d
}

// rounding tells deals apart.
const rounding = 1e-12

// deals is in how many ways cells can be dealt to places that are alike.
func deals(places, parallel int) float64 {
	n := 1.0
	for k := 2; k <= places; k++ {
		for i := 1; i < parallel; i++ {
			n *= float64(k*parallel-i) / float64(i)
		}
	}
	return n
}

// deal is a grouping under way.
type deal struct {
	places        [][]Record
	meanAh, meanS float64 // capacity and conductance (1/milliohm) of a place
}

func newDeal(sorted []Record, places int) *deal {
	d := &deal{places: make([][]Record, places)}
	for i, r := range sorted {
		round, k := i/places, i%places
		if round%2 == 1 {
			k = places - 1 - k
		}
		d.places[k] = append(d.places[k], r)
		d.meanAh += r.CapacityAh / float64(places)
		d.meanS += 1 / r.MilliOhm / float64(places)
	}
	return d
}

// worth is how good a deal or one of its places is: how far the sharing is over its
// limit, what the weakest place lacks of the mean, and squared relative deviations
// from the mean; each the less the better, the first first.
type worth struct{ over, weak, cost float64 }

func (w worth) betterThan(o worth) bool {
	for _, x := range [][2]float64{{w.over, o.over}, {w.weak, o.weak}, {w.cost, o.cost}} {
		if math.Abs(x[0]-x[1]) > rounding {
			return x[0] < x[1]
		}
	}
	return false
}

func (w worth) with(o worth) worth {
	return worth{w.over + o.over, max(w.weak, o.weak), w.cost + o.cost}
}

func (d *deal) of(place []Record) worth {
	ah, s, most := 0.0, 0.0, 0.0
	for _, r := range place {
		g := 1 / r.MilliOhm
		ah, s, most = ah+r.CapacityAh, s+g, max(most, g)
	}
	a, c := ah/d.meanAh-1, s/d.meanS-1
	return worth{max(0, most*float64(len(place))/s-UnevenMost), -a, a*a + resistanceShare*c*c}
}

func (d *deal) worth(places [][]Record) worth {
	w := d.of(places[0])
	for _, p := range places[1:] {
		w = w.with(d.of(p))
	}
	return w
}

// improve makes the best exchange of two cells until none betters the two places. The
// count is bounded all the same.
func (d *deal) improve() {
	for range 20 * mostCells {
		if !d.exchangeBest() {
			return
		}
	}
}

func (d *deal) exchangeBest() bool {
	var best worth // gain: what the two places lose in over and in cost
	var at [4]int
	for a := range d.places {
		for b := a + 1; b < len(d.places); b++ {
			before := d.of(d.places[a]).with(d.of(d.places[b]))
			for i := range d.places[a] {
				for j := range d.places[b] {
					d.exchange(a, i, b, j)
					after := d.of(d.places[a]).with(d.of(d.places[b]))
					d.exchange(a, i, b, j)
					if gain := (worth{after.over - before.over, 0, after.cost - before.cost}); gain.betterThan(best) {
						best, at = gain, [4]int{a, i, b, j}
					}
				}
			}
		}
	}
	if best == (worth{}) {
		return false
	}
	d.exchange(at[0], at[1], at[2], at[3])
	return true
}

func (d *deal) exchange(a, i, b, j int) {
	d.places[a][i], d.places[b][j] = d.places[b][j], d.places[a][i]
}

// tryAll takes the best of all deals.
func (d *deal) tryAll(cells []Record) {
	best, now, parallel := d.worth(d.places), make([][]Record, len(d.places)), len(d.places[0])
	var put func(i int)
	put = func(i int) {
		if i == len(cells) {
			if w := d.worth(now); w.betterThan(best) {
				best = w
				for k := range now {
					d.places[k] = append([]Record(nil), now[k]...)
				}
			}
			return
		}
		for k := range now {
			if len(now[k]) < parallel {
				now[k] = append(now[k], cells[i])
				put(i + 1)
				now[k] = now[k][:len(now[k])-1]
			}
			if len(now[k]) == 0 {
				return // empty places are alike
			}
		}
	}
	put(0)
}

func (g *Grouping) account() {
	g.CapacityAh, g.MilliOhm = nil, nil
	g.PackAh = math.Inf(1)
	for _, place := range g.Places {
		ah, s, most := 0.0, 0.0, 0.0
		for _, r := range place {
			ah, s, most = ah+r.CapacityAh, s+1/r.MilliOhm, max(most, 1/r.MilliOhm)
		}
		g.Uneven = max(g.Uneven, most*float64(len(place))/s)
		g.CapacityAh, g.MilliOhm = append(g.CapacityAh, ah), append(g.MilliOhm, 1/s)
		g.PackAh = min(g.PackAh, ah)
	}
	g.CapacitySpread, g.ResistanceSpread = spread(g.CapacityAh), spread(g.MilliOhm)
}

// spread returns (greatest - least)/mean.
func spread(v []float64) float64 {
	low, high, sum := math.Inf(1), math.Inf(-1), 0.0
	for _, x := range v {
		low, high, sum = min(low, x), max(high, x), sum+x
	}
	if sum == 0 {
		return 0
	}
	return (high - low) * float64(len(v)) / sum
}
