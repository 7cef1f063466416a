package assembly

import (
	"math"
	"slices"

	"clampwright/params"
	"clampwright/parts"
)

// PartLine is one line of the parts list.
type PartLine struct {
	Part     *parts.Part
	Quantity int
	// Pieces is the number of loose pieces when one instance stands for several
	// (a spring stack of eight discs); else equal to Quantity.
	Pieces int
	// Loose counts those of Quantity that are not in the finished pack: tools, and
	// what is taken off again.
	Loose      int
	MassEachG  float64
	MassTotalG float64
}

// LooseG is the mass of the pieces that are not in the finished pack, g.
func (l PartLine) LooseG() float64 { return float64(l.Loose) * l.MassEachG }

// listed says whether instances of a group are parts to make, buy or have.
func listed(g Group) bool {
	return g != GroupTerminal && g != GroupVent && g != GroupTool
}

// PartsList lists every distinct part with its quantity, in the order placed.
func (a *Assembly) PartsList() []PartLine {
	var lines []PartLine
	at := map[*parts.Part]int{}
	for i := range a.Instances {
		w := &a.Instances[i]
		if !listed(w.Group) {
			continue
		}
		k, ok := at[w.Part]
		if !ok {
			k = len(lines)
			at[w.Part] = k
			lines = append(lines, PartLine{Part: w.Part, MassEachG: w.Part.MassG})
		}
		lines[k].Quantity++
		lines[k].Pieces += a.piecesOf(w)
		lines[k].MassTotalG += w.Part.MassG
	}
	for _, k := range a.loose {
		i, ok := at[k.Part]
		if !ok {
			i = len(lines)
			at[k.Part] = i
			lines = append(lines, PartLine{Part: k.Part, MassEachG: k.Part.MassG})
		}
		lines[i].Quantity += k.Quantity
		lines[i].Pieces += k.Quantity
		lines[i].Loose += k.Quantity
		lines[i].MassTotalG += float64(k.Quantity) * k.Part.MassG
	}
	return lines
}

// piecesOf is how many loose pieces one instance stands for.
func (a *Assembly) piecesOf(w *Instance) int {
	if s := a.Fixture.Spring; w.Group == GroupSpring && s != nil && s.Disc != nil {
		return max(1, s.Parallel*s.Series)
	}
	return 1
}

// PackMassG is the mass of the whole pack with its cells, g. Terminals are part
// of the cells' mass.
func (a *Assembly) PackMassG() float64 {
	var sum float64
	for _, l := range a.PartsList() {
		sum += l.MassTotalG - l.LooseG()
	}
	return sum
}

// CutLine is one line of the cut list: what to cut, how often, and from what.
type CutLine struct {
	Part     *parts.Part
	Quantity int
	// SizeMM is length, 0 for bars and rods; width and height for sheet.
	SizeMM [2]float64
	// From is the stock it fits: its id, and its size. Empty when nothing listed
	// in the parameter file takes it.
	From     string
	FromMM   [2]float64
	IsSheet  bool
	ToBuy    bool // the stock has no quantity: bought as needed
	IsOffcut bool
}

// CutList lists what is cut from sheet, bar and rod, and the smallest listed
// stock that one piece fits, offcuts first. How many pieces share one sheet or
// length is for nesting to say.
func (a *Assembly) CutList() []CutLine {
	var lines []CutLine
	for _, l := range a.PartsList() {
		switch {
		case l.Part.Make == parts.MakeSheet:
			lines = append(lines, a.sheetCut(l))
		case l.Part.Kind == parts.KindStiffener:
			lines = append(lines, lengthCut(l, a.Fixture.Stiffener.Section.Name, a.Fixture.Stock.Angles))
		case l.Part.Kind == parts.KindLink && l.Part.Make == parts.MakeBar:
			lines = append(lines, lengthCut(l, l.Part.Stock, a.Fixture.Stock.Bars))
		case l.Part.Make == parts.MakeBar: // tube for sleeves, of which no stock is listed
			lines = append(lines, lengthCut(l, l.Part.Stock, nil))
		case l.Part.Make == parts.MakeRod:
			lines = append(lines, lengthCut(l, a.Fixture.Rods.Thread.Name, a.Fixture.Stock.Rods))
		}
	}
	return lines
}

// A sheet may differ from the part's thickness by sheetShare of it, but by no
// more than sheetMost mm, and still be the stock it is cut from: 18 mm plywood
// measures 17.7 mm, but a 0.5 mm sheet is not a 1 mm one.
const (
	sheetShare = 0.15
	sheetMost  = 0.6
)

// IsStockFor says whether a sheet is of a part's material and thickness.
func IsStockFor(s params.SheetStock, p *parts.Part) bool {
	if p.Flat == nil || s.Material != p.Material {
		return false
	}
	t := p.Flat.ThicknessMM
	return math.Abs(s.Thickness.MM()-t) <= min(sheetMost, sheetShare*t)
}

// SheetRoom returns the usable width and height of a sheet for a part, turned
// the way its grain asks for, or the way it fits better: in the part's own
// directions, mm.
func SheetRoom(f *params.Fixture, s params.SheetStock, p *parts.Part) (w, h float64) {
	rim := 2 * f.Stock.Margin.MM()
	w, h = s.Width.MM()-rim, s.Height.MM()-rim
	turned := p.Flat.Grain && p.Flat.GrainAlongX != s.GrainAlongX
	if !p.Flat.Grain {
		turned = min(w-p.SizeMM[0], h-p.SizeMM[1]) < min(h-p.SizeMM[0], w-p.SizeMM[1])
	}
	if turned {
		return h, w
	}
	return w, h
}

// fitSlack is the rounding allowed when a part just fits its stock, mm.
const fitSlack = 1e-6

func (a *Assembly) sheetCut(l PartLine) CutLine {
	p := l.Part
	cut := CutLine{Part: p, Quantity: l.Quantity, SizeMM: [2]float64{p.SizeMM[0], p.SizeMM[1]}, IsSheet: true}
	var fits []params.SheetStock
	for _, s := range a.Fixture.Stock.Sheets {
		if !IsStockFor(s, p) {
			continue
		}
		if w, h := SheetRoom(a.Fixture, s, p); w >= p.SizeMM[0]-fitSlack && h >= p.SizeMM[1]-fitSlack {
			fits = append(fits, s)
		}
	}
	if len(fits) > 0 {
		s := slices.MinFunc(fits, smallerSheet)
		cut.From, cut.FromMM = s.ID, [2]float64{s.Width.MM(), s.Height.MM()}
		cut.ToBuy, cut.IsOffcut = s.Quantity == 0, s.Offcut
	}
	return cut
}

// smallerSheet puts offcuts first, then sheets at hand, then the smaller area.
func smallerSheet(s, t params.SheetStock) int {
	rank := func(x params.SheetStock) float64 {
		switch {
		case x.Offcut:
			return 0
		case x.Quantity > 0:
			return 1
		}
		return 2
	}
	if d := rank(s) - rank(t); d != 0 {
		return sign(d)
	}
	return sign(s.Width.MM()*s.Height.MM() - t.Width.MM()*t.Height.MM())
}

func lengthCut(l PartLine, item string, stock []params.LengthStock) CutLine {
	need := l.Part.SizeMM[0]
	cut := CutLine{Part: l.Part, Quantity: l.Quantity, SizeMM: [2]float64{need}}
	best := math.Inf(1)
	for _, s := range stock {
		length := s.Length.MM()
		if s.Item != "" && s.Item != item || length < need-fitSlack || length >= best {
			continue
		}
		best = length
		cut.From, cut.FromMM, cut.ToBuy = s.ID, [2]float64{length}, s.Quantity == 0
	}
	return cut
}

func sign(x float64) int {
	switch {
	case x < 0:
		return -1
	case x > 0:
		return 1
	}
	return 0
}
