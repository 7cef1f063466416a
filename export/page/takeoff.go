package page

import "math"

// tag is a text beside a main terminal, in picture units: its anchor, its box, and
// the class that sets how it hangs on the anchor.
type tag struct {
	text, class    string
	x, y           float64
	x0, y0, x1, y1 float64
}

const (
	tagLetter = 8.2  // width of a bold letter of the picture's text, none is wider
	tagHigh   = 14.0 // height of the text with its halo
	tagClear  = 7.0  // to a terminal it does not name
	nameClear = 14.0 // to the middle of a cell's name, twice that on its line, lest the two be read as one
)

// spot is a round thing that a tag keeps off.
type spot struct {
	x, y, r float64
	rival   bool // a terminal that a tag too near would seem to name
}

// to is the distance of a tag's box from a point.
func (c tag) to(x, y float64) float64 {
	return math.Hypot(max(0, c.x0-x, x-c.x1), max(0, c.y0-y, y-c.y1))
}

// disc is the radius of a terminal as drawn.
func (p plot) disc(t TerminalTop) float64 { return max(t.Radius*p.sx, 5.5) }

// ring is the radius of the ring round a main terminal: outside the terminal.
func (p plot) ring(s WiringState, t TakeoffTop) float64 {
	r := 11.0
	for _, o := range s.Terminals {
		if o.At == t.At {
			r = max(r, p.disc(o)+4)
		}
	}
	return r
}

// tags places the texts of the main terminals, each where it covers no terminal,
// link, cell name or other text, and is nearer to its own terminal than to others.
func (p plot) tags(s WiringState, w, h float64) []tag {
	var out []tag
	for _, t := range s.Takeoffs {
		var best tag
		least := math.Inf(1)
		spots := p.spots(s, t)
		for _, c := range p.tagsRound(t, p.ring(s, t)) {
			beyond := max(0, 1-c.x0) + max(0, 1-c.y0) + max(0, c.x1-w+1) + max(0, c.y1-h+1)
			if cost := 100*beyond + p.tagCost(c, t, s, spots, out); cost < least {
				best, least = c, cost
			}
		}
		out = append(out, best)
	}
	return out
}

// tagsRound are the places tried for a text, the best known first.
func (p plot) tagsRound(t TakeoffTop, r float64) []tag {
	x, y := p.x(t.At.X), p.y(t.At.Y)
	text := shorten(t.Label, 26)
	long := tagLetter * float64(len([]rune(text)))
	var out []tag
	at := func(class string, cx, middle, x0 float64) {
		out = append(out, tag{text, class, cx, middle + 4.5, x0, middle - tagHigh/2, x0 + long, middle + tagHigh/2})
	}
	for _, gap := range []float64{4, 7, 10, 14, 18, 24} {
		d := r + gap
		at("on strong", x+d, y, x+d)
		at("on strong end", x-d, y, x-d-long)
		for _, side := range []float64{1, -1} {
			v := y + side*(d+tagHigh/2)
			at("on strong mid", x, v, x-long/2)
			at("on strong", x-r, v, x-r)
			at("on strong end", x+r, v, x+r-long)
		}
	}
	return out
}

// spots are what the text of a main terminal keeps off: all other terminals, the
// links as rows of discs, and the names of the cells.
func (p plot) spots(s WiringState, own TakeoffTop) []spot {
	var out []spot
	for _, t := range s.Terminals {
		if t.At != own.At {
			out = append(out, spot{p.x(t.At.X), p.y(t.At.Y), p.disc(t) + tagClear, true})
		}
	}
	for _, c := range s.Cells {
		x, y := p.x((c.Box.Min.X+c.Box.Max.X)/2), p.y((c.Box.Min.Y+c.Box.Max.Y)/2)
		for _, dx := range []float64{-nameClear, 0, nameClear} {
			out = append(out, spot{x + dx, y, nameClear, false})
		}
	}
	for _, l := range s.Links {
		half := max(l.Width*p.sx, 3)/2 + 1
		for i := 1; i < len(l.Line); i++ {
			x0, y0, x1, y1 := p.x(l.Line[i-1].X), p.y(l.Line[i-1].Y), p.x(l.Line[i].X), p.y(l.Line[i].Y)
			n := max(1, int(math.Ceil(math.Hypot(x1-x0, y1-y0)/4)))
			for k := range n + 1 {
				f := float64(k) / float64(n)
				out = append(out, spot{x0 + f*(x1-x0), y0 + f*(y1-y0), half, false})
			}
		}
	}
	return out
}

// tagCost is how much a text covers: nothing is 0. An edge of a cell behind a text
// counts little, a text on a text more than all else.
func (p plot) tagCost(c tag, of TakeoffTop, s WiringState, spots []spot, others []tag) float64 {
	cost, own := 0.0, c.to(p.x(of.At.X), p.y(of.At.Y))
	for _, o := range spots {
		off := o.r
		if o.rival {
			off = max(off, own+tagClear)
		}
		cost += max(0, off-c.to(o.x, o.y))
	}
	for _, o := range others {
		if c.x0 < o.x1+tagClear && o.x0 < c.x1+tagClear && c.y0 < o.y1+tagClear && o.y0 < c.y1+tagClear {
			cost += 1000
		}
	}
	for _, cell := range s.Cells {
		x0, x1, y0, y1 := p.x(cell.Box.Min.X), p.x(cell.Box.Max.X), p.y(cell.Box.Max.Y), p.y(cell.Box.Min.Y)
		if c.x0 > x1 || c.x1 < x0 || c.y0 > y1 || c.y1 < y0 {
			continue
		}
		for _, crossed := range []bool{c.x0 < x0, c.x1 > x1, c.y0 < y0, c.y1 > y1} {
			if crossed {
				cost += 0.2
			}
		}
	}
	return cost
}
