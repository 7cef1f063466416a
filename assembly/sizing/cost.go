package sizing

import (
	"math"
	"strings"

	"clampwright/params"
)

// Planning prices where the file gives none, in the file's currency: what small
// quantities cost about, in euros or dollars. Common practice, no source. They
// only rank; give prices to have them told.
const (
	guessPerKg    = 8.0  // sheet, angle and rod, unless listed below
	guessPerPiece = 0.15 // nuts and washers
	guessPerDisc  = 0.35
	guessPerCoil  = 2.5
)

// guessKg is the planning price of a kilogram by material.
var guessKg = map[string]float64{
	"birch plywood": 4, "mdf": 2, "hdpe": 7, "pp": 7, "acetal": 15, "fr4": 30, "6061-T6": 12, "5052-H32": 12, "aluminium": 10, "steel": 5,
}

// Cost is what the pieces that a choice changes cost: shares of sheets and
// lengths at their listed price, bought pieces at theirs, planning prices for
// what has none (guessed is then true). Stock at hand without a price costs
// nothing.
func Cost(f *params.Fixture) (cost float64, guessed bool) {
	for _, p := range pieces(f) {
		each, known := priceOf(f, p)
		if !known {
			guessed = true
		}
		cost += p.count * each
	}
	return cost, guessed
}

// priceOf is the price of one piece, and whether it rests on the file.
func priceOf(f *params.Fixture, p piece) (float64, bool) {
	for _, e := range f.Prices.Each {
		if p.bought && strings.EqualFold(e.Item, p.item) {
			return e.Each, true
		}
	}
	switch {
	case p.bought:
		return guessPiece(p), false
	case p.areaM2 > 0:
		return sheetPrice(f, p)
	}
	return lengthPrice(f, p)
}

func guessPiece(p piece) float64 {
	switch {
	case strings.HasPrefix(p.item, "disc spring"):
		return guessPerDisc
	case p.what == "springs":
		return guessPerCoil
	}
	return guessPerPiece
}

// sheetPrice is the cheapest share of a listed sheet.
func sheetPrice(f *params.Fixture, p piece) (float64, bool) {
	best, found := math.Inf(1), false
	for _, s := range f.Stock.Sheets {
		if !s.Takes(p.metal, p.thick) || s.Price == 0 && s.Quantity == 0 {
			continue
		}
		best, found = min(best, s.Price*p.areaM2*1e6/(s.Width.MM()*s.Height.MM())), true
	}
	if !found {
		best = guessMass(p)
	}
	return best, found
}

// lengthPrice is the cheapest share of a listed length.
func lengthPrice(f *params.Fixture, p piece) (float64, bool) {
	list := f.Stock.Rods
	if p.what == "angles" {
		list = f.Stock.Angles
	}
	best, found := math.Inf(1), false
	for _, s := range list {
		if !strings.EqualFold(s.Item, p.item) || s.Length.MM() < p.lenMM || s.Price == 0 && s.Quantity == 0 {
			continue
		}
		best, found = min(best, s.Price*(p.lenMM+f.Stock.SawKerf.MM())/s.Length.MM()), true
	}
	if !found {
		best = guessMass(p)
	}
	return best, found
}

func guessMass(p piece) float64 {
	perKg, ok := guessKg[p.metal]
	if !ok {
		perKg = guessPerKg
	}
	return p.massG / 1000 * perKg
}
