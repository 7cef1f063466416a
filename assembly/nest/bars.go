package nest

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"clampwright/params"
)

// Piece is a length to be sawn, as often as Quantity says.
type Piece struct {
	ID       string
	LengthMM float64
	Quantity int
}

// BarJob is one kind of stock with what is to be cut from it.
type BarJob struct {
	Pieces []Piece
	Bars   []params.LengthStock
	KerfMM float64           // width of the saw cut
	TrimMM float64           // taken off each bar's end before the first piece
	shapes map[string]*shape // of drilled angles, by piece
}

// BarPlan is how the pieces are cut.
type BarPlan struct {
	Cuts []BarCut
	Buy  []Purchase[params.LengthStock]
	// Cost is what is bought: in the unit of the prices where every bar that can
	// be bought has one (Priced), else the bought length, mm. LowerBound is a
	// cost below which no plan can be; Optimal says that none is cheaper.
	Cost, LowerBound float64
	Priced, Optimal  bool
}

// BarCut is one bar with its pieces in the order they are sawn off.
type BarCut struct {
	Bar    params.LengthStock
	Bought bool
	LeftMM float64 // what is left of it after the last cut
	Pieces []PieceCut
}

// PieceCut is one piece on a bar; FromMM is where it begins.
type PieceCut struct {
	ID               string
	FromMM, LengthMM float64
}

// Purchase is how many sheets or lengths of one kind are to be bought.
type Purchase[S any] struct {
	Stock S
	Count int
}

// Limits of a job: what a workshop has, not what the search can do.
const (
	maxPieces = 5000
	maxBarMM  = 100_000
)

// PackBars saws the pieces from bars in the shop first and buys what is needed
// beyond them: least cost, then most length from the bars in the shop. The
// search is exact for the counts that one fixture has; should it be stopped by
// its bound on work, the plan is the best found and LowerBound says how far
// off it can be at most. On a bar of length L the pieces l fit when
// Σl + (n-1)·kerf + trim ≤ L: a last cut that would fall into the waste is not
// needed.
func PackBars(job BarJob) (BarPlan, error) {
	if err := job.check(); err != nil {
		return BarPlan{}, err
	}
	old := job.fromShelf()
	s := newBarSearch(job)
	s.run()
	p := s.plan()
	p.Cuts = append(old, p.Cuts...)
	return p, nil
}

func (j BarJob) check() error {
	var errs []error
	length := func(what string, v, least float64) {
		if !(v >= least && v <= maxBarMM) {
			errs = append(errs, fmt.Errorf("%s: %g mm, want %g to %d", what, v, least, maxBarMM))
		}
	}
	length("saw kerf", j.KerfMM, 0)
	length("end trim", j.TrimMM, 0)
	total := 0
	for _, p := range j.Pieces {
		length("piece "+p.ID, p.LengthMM, 0.1)
		if p.Quantity < 0 || p.Quantity > maxPieces {
			errs = append(errs, fmt.Errorf("piece %s: %d of them, want 0 to %d", p.ID, p.Quantity, maxPieces))
		}
		total = min(total+max(0, p.Quantity), maxPieces+1)
	}
	if total > maxPieces {
		errs = append(errs, fmt.Errorf("more than %d pieces", maxPieces))
	}
	for _, b := range j.Bars {
		length("bar "+b.ID, b.Length.MM(), 0.1)
		if b.Quantity < 0 || b.Quantity > maxPieces || !(b.Price >= 0 && b.Price <= 1e6) {
			errs = append(errs, fmt.Errorf("bar %s: quantity %d or price %g out of range", b.ID, b.Quantity, b.Price))
		}
	}
	return errors.Join(errs...)
}

// Lengths are counted in nanometres inside the search, so that sums are exact:
// 1/64 in is 396,875 of them.
const (
	nmPerMM = 1e6
	// slackNM forgives the rounding of lengths that were computed.
	slackNM = 1000
	// priceStep is the smallest difference of price that counts.
	priceStep = 1e-4
)

func toNM(mm float64) int64 { return int64(math.Round(mm * nmPerMM)) }

// cost orders plans: length of pieces without stock, what is bought (price
// steps, or nm), length of pieces cut from bought bars (nm).
type cost struct{ missing, bought, fromBought int64 }

func (c cost) plus(d cost) cost {
	return cost{c.missing + d.missing, c.bought + d.bought, c.fromBought + d.fromBought}
}

func (c cost) compare(d cost) int {
	return cmp.Or(cmp.Compare(c.missing, d.missing), cmp.Compare(c.bought, d.bought), cmp.Compare(c.fromBought, d.fromBought))
}

// stock is a bar as the search sees it: room is what Σ(piece + kerf) may reach.
type stock struct {
	bar    int // index into the job's bars
	room   int64
	price  int64
	bought bool
}

// barSearch holds the sizes to cut, longest first, and the stock.
type barSearch struct {
	job      BarJob
	ids      [][]string // per size, the pieces of that size in order
	size     []int64    // nm
	take     []int64    // nm of room that one of that size takes: size + kerf
	want     []int
	shop     []stock // bars in the shop, shortest first
	buy      []stock // bars that can be bought, longest first
	priced   bool
	cover    []coverStep
	best     []used
	bestCost cost
	found    bool
	path     []used
	seen     map[string]cost
	work     int
	cut      bool // the bound on work was met
}

// used is one bar with how many of each size are cut from it.
type used struct {
	stock   stock
	pattern []int
	missing bool // not a bar: pieces without stock
}

func newBarSearch(job BarJob) *barSearch {
	s := &barSearch{job: job, seen: map[string]cost{}}
	s.priced = true
	for _, b := range job.Bars {
		s.priced = s.priced && (b.Quantity > 0 || b.Price > 0)
	}
	s.addSizes()
	s.addStock()
	s.cover = coverSteps(s.buy, s.total(s.want))
	return s
}

// addSizes groups the pieces by length.
func (s *barSearch) addSizes() {
	pieces := slices.Clone(s.job.Pieces)
	slices.SortStableFunc(pieces, func(a, b Piece) int { return cmp.Compare(b.LengthMM, a.LengthMM) })
	for _, p := range pieces {
		if p.Quantity == 0 {
			continue
		}
		n := toNM(p.LengthMM)
		last := len(s.size) - 1
		if last < 0 || s.size[last] != n {
			s.size = append(s.size, n)
			s.take = append(s.take, n+toNM(s.job.KerfMM))
			s.want = append(s.want, 0)
			s.ids = append(s.ids, nil)
			last++
		}
		s.want[last] += p.Quantity
		for range p.Quantity {
			s.ids[last] = append(s.ids[last], p.ID)
		}
	}
}

func (s *barSearch) addStock() {
	count := 0
	for _, n := range s.want {
		count += n
	}
	for i, b := range s.job.Bars {
		room := toNM(b.Length.MM()) - toNM(s.job.TrimMM) + toNM(s.job.KerfMM) + slackNM
		st := stock{bar: i, room: room, bought: b.Quantity == 0}
		if !st.bought {
			for range min(b.Quantity, count) { // more bars than pieces are no use
				s.shop = append(s.shop, st)
			}
			continue
		}
		st.price = toNM(b.Length.MM())
		if s.priced {
			st.price = int64(math.Round(b.Price / priceStep))
		}
		s.buy = append(s.buy, st)
	}
	slices.SortStableFunc(s.shop, func(a, b stock) int { return cmp.Compare(a.room, b.room) })
	slices.SortStableFunc(s.buy, func(a, b stock) int {
		return cmp.Or(cmp.Compare(b.room, a.room), cmp.Compare(a.price, b.price))
	})
}

// total is the room that the given counts take.
func (s *barSearch) total(counts []int) int64 {
	var sum int64
	for i, n := range counts {
		sum += int64(n) * s.take[i]
	}
	return sum
}

// lengthOf is the length of the given counts.
func (s *barSearch) lengthOf(counts []int) int64 {
	var sum int64
	for i, n := range counts {
		sum += int64(n) * s.size[i]
	}
	return sum
}
