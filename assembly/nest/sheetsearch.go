package nest

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"clampwright/params"
)

// sheetSearch packs the parts of one material and thickness.
type sheetSearch struct {
	job   SheetJob
	items []FlatItem          // single parts
	shop  []params.SheetStock // sheets in the shop, smallest first
	buy   []params.SheetStock
}

// sheetTrial is the outcome of one order of the parts.
type sheetTrial struct {
	layouts []SheetLayout
	left    []int // parts without a place
	// what the trials are ranked by: area without a place, cost, area of the
	// corner of the bought sheets that is used, area taken from the shop.
	missing, cost, corner, shopArea float64
}

func (a sheetTrial) compare(b sheetTrial) int {
	return cmp.Or(cmp.Compare(a.missing, b.missing), cmp.Compare(a.cost, b.cost),
		cmp.Compare(a.corner, b.corner), cmp.Compare(a.shopArea, b.shopArea))
}

func (a sheetTrial) bought() int {
	n := 0
	for _, l := range a.layouts {
		if l.Bought {
			n++
		}
	}
	return n
}

func (s *sheetSearch) addStock(group []FlatItem) {
	for _, sh := range s.job.Sheets {
		switch {
		case !slices.ContainsFunc(group, func(it FlatItem) bool { return it.from(sh) }):
		case sh.Quantity == 0:
			s.buy = append(s.buy, sh)
		default:
			for range min(sh.Quantity, len(s.items)) {
				s.shop = append(s.shop, sh)
			}
		}
	}
	slices.SortStableFunc(s.shop, func(a, b params.SheetStock) int { return cmp.Compare(areaOf(a), areaOf(b)) })
}

// Counts of the search; shuffles come from a fixed seed.
const (
	maxShuffles  = 60
	shuffleWork  = 4000 // parts put in order for shuffled trials, about
	sortedWork   = 1000 // the same for sorted ones: of 1000 parts only one order
	shuffleSeedA = 0x636c616d70
	shuffleSeedB = 0x6e657374
)

// run tries the orders that sorting gives and, where more than one sheet is
// bought or a part found no place, a fixed number of shuffles, each with every
// rule of placing.
func (s *sheetSearch) run() sheetTrial {
	var best sheetTrial
	found := false
	try := func(order []int) {
		for rule := range rules {
			if t := s.trial(order, rule); !found || t.compare(best) < 0 {
				best, found = t, true
			}
		}
	}
	for _, key := range sortKeys[:max(1, min(len(sortKeys), sortedWork/max(1, len(s.items))))] {
		order := s.sorted(key)
		try(order)
		slices.Reverse(order)
		try(order)
	}
	if best.missing == 0 && best.bought() <= 1 {
		return best
	}
	r := rand.New(rand.NewPCG(shuffleSeedA, shuffleSeedB))
	for range min(maxShuffles, shuffleWork/max(1, len(s.items))) {
		order := s.sorted(sortKeys[0])
		for range 1 + len(order)/3 {
			i, j := r.IntN(len(order)), r.IntN(len(order))
			order[i], order[j] = order[j], order[i]
		}
		try(order)
	}
	return best
}

// sortKeys are the measures by which parts are put in order, largest first.
var sortKeys = []func(FlatItem) float64{
	func(i FlatItem) float64 { return i.WidthMM * i.HeightMM },
	func(i FlatItem) float64 { return max(i.WidthMM, i.HeightMM) },
	func(i FlatItem) float64 { return i.WidthMM + i.HeightMM },
	func(i FlatItem) float64 { return i.HeightMM },
	func(i FlatItem) float64 { return i.WidthMM },
}

func (s *sheetSearch) sorted(key func(FlatItem) float64) []int {
	order := make([]int, len(s.items))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(key(s.items[b]), key(s.items[a])) })
	return order
}

// trial packs in one order: sheets of the shop, then bought ones, each time the
// kind on which a unit of area comes cheapest; but where all that is left then goes on
// one sheet for less than greed ends up paying, that sheet.
func (s *sheetSearch) trial(order []int, rule int) sheetTrial {
	t := sheetTrial{left: order}
	for _, sh := range s.shop {
		placed, left := s.fill(sh, t.left, rule)
		if len(placed) > 0 {
			t.layouts = append(t.layouts, SheetLayout{Sheet: sh, Placed: placed})
			t.left = left
			t.shopArea += areaOf(sh)
		}
	}
	var whole sheetTrial // ended by one sheet
	for len(t.left) > 0 {
		l, left, all, ok := s.buyNext(t.left, rule)
		if !ok {
			break
		}
		if all.Bought {
			if o := t.with(s, all, nil); whole.layouts == nil || o.compare(whole) < 0 {
				whole = o
			}
		}
		t = t.with(s, l, left)
	}
	for _, i := range t.left {
		t.missing += s.items[i].WidthMM * s.items[i].HeightMM
	}
	if whole.layouts != nil && whole.compare(t) < 0 {
		return whole
	}
	return t
}

// with is the trial with one more sheet bought.
func (t sheetTrial) with(s *sheetSearch, l SheetLayout, left []int) sheetTrial {
	t.layouts = append(slices.Clip(t.layouts), l)
	t.left = left
	t.cost += s.costOf(l.Sheet)
	t.corner += corner(l)
	return t
}

// costOf is the price of a sheet, or its area where not all have a price.
func (s *sheetSearch) costOf(sh params.SheetStock) float64 {
	for _, b := range s.buy {
		if b.Price == 0 {
			return areaOf(sh)
		}
	}
	return sh.Price
}

// buyNext is the sheet on which a unit of area comes cheapest with what is left beside
// it, and the cheapest that takes everything.
func (s *sheetSearch) buyNext(order []int, rule int) (best SheetLayout, bestLeft []int, all SheetLayout, ok bool) {
	least := math.Inf(1)
	for _, sh := range s.buy {
		placed, left := s.fill(sh, order, rule)
		l := SheetLayout{Sheet: sh, Bought: true, Placed: placed}
		if ratio := s.costOf(sh) / l.area(); len(placed) > 0 && ratio < least {
			best, bestLeft, ok, least = l, left, true, ratio
		}
		if len(left) == 0 && (!all.Bought || s.costOf(sh) < s.costOf(all.Sheet)) {
			all = l
		}
	}
	return best, bestLeft, all, ok
}

// corner is the area of the lower left corner of a sheet that its parts take.
func corner(l SheetLayout) float64 {
	x, y := 0.0, 0.0
	for _, p := range l.Placed {
		x, y = max(x, p.At.X+p.WidthMM), max(y, p.At.Y+p.HeightMM)
	}
	return x * y
}

// fill puts as many of the parts as find a place on one sheet, in order.
func (s *sheetSearch) fill(sh params.SheetStock, order []int, rule int) (placed []Placement, left []int) {
	b := newBin(sh, s.job)
	for _, i := range order {
		if p, ok := b.place(s.items[i], rule); ok {
			placed = append(placed, p)
			continue
		}
		left = append(left, i)
	}
	return placed, left
}
