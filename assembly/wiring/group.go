package wiring

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

// ErrTooFewCells says that the records left after screening do not fill the pack.
var ErrTooFewCells = errors.New("too few usable cells")

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
}

// Group deals cells to series places of parallel cells each, so that the places
// are even in capacity first and in resistance second. It starts from a snake
// deal of the cells sorted by capacity and then exchanges pairs of cells between
// places as long as that helps. Cells beyond the number needed are left out, the
// weakest first.
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
	d := newDeal(sorted[:need], places)
	d.improve()
	g := Grouping{Places: d.places, Spare: sorted[need:]}
	g.account()
	return g, nil
}

// deal is a grouping under way.
type deal struct {
	places    [][]Record
	ah, s     []float64 // capacity and conductance (1/milliohm) per place
	meanAh    float64
	meanS     float64
	exchanges int
}

func newDeal(sorted []Record, places int) *deal {
	d := &deal{places: make([][]Record, places), ah: make([]float64, places), s: make([]float64, places)}
	for i, r := range sorted {
		round, k := i/places, i%places
		if round%2 == 1 {
			k = places - 1 - k
		}
		d.places[k] = append(d.places[k], r)
		d.ah[k] += r.CapacityAh
		d.s[k] += 1 / r.MilliOhm
		d.meanAh += r.CapacityAh / float64(places)
		d.meanS += 1 / r.MilliOhm / float64(places)
	}
	return d
}

// cost of one place: squared relative deviations from the mean.
func (d *deal) cost(ah, s float64) float64 {
	a, c := ah/d.meanAh-1, s/d.meanS-1
	return a*a + resistanceShare*c*c
}

// improve makes the best exchange of two cells until none lowers the cost. Each
// exchange lowers it, so the loop ends; the count is bounded all the same.
func (d *deal) improve() {
	for d.exchanges < 20*mostCells && d.exchangeBest() {
		d.exchanges++
	}
}

func (d *deal) exchangeBest() bool {
	const least = 1e-12 // below the rounding of the cost
	best, found := least, false
	var at [4]int
	for a := range d.places {
		for b := a + 1; b < len(d.places); b++ {
			before := d.cost(d.ah[a], d.s[a]) + d.cost(d.ah[b], d.s[b])
			for i, x := range d.places[a] {
				for j, y := range d.places[b] {
					ah, s := y.CapacityAh-x.CapacityAh, 1/y.MilliOhm-1/x.MilliOhm
					gain := before - d.cost(d.ah[a]+ah, d.s[a]+s) - d.cost(d.ah[b]-ah, d.s[b]-s)
					if gain > best {
						best, found, at = gain, true, [4]int{a, i, b, j}
					}
				}
			}
		}
	}
	if found {
		d.exchange(at[0], at[1], at[2], at[3])
	}
	return found
}

func (d *deal) exchange(a, i, b, j int) {
	x, y := d.places[a][i], d.places[b][j]
	d.places[a][i], d.places[b][j] = y, x
	ah, s := y.CapacityAh-x.CapacityAh, 1/y.MilliOhm-1/x.MilliOhm
	d.ah[a], d.ah[b] = d.ah[a]+ah, d.ah[b]-ah
	d.s[a], d.s[b] = d.s[a]+s, d.s[b]-s
}

func (g *Grouping) account() {
	g.CapacityAh, g.MilliOhm = nil, nil
	g.PackAh = math.Inf(1)
	for _, place := range g.Places {
		ah, s := 0.0, 0.0
		for _, r := range place {
			ah, s = ah+r.CapacityAh, s+1/r.MilliOhm
		}
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
