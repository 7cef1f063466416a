package nest

import (
	"cmp"
	"math"
	"slices"

	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// shape is a part as it lies on an old piece that has holes: its room from its lower left
// corner, of an angle the drilled leg from the heel.
type shape struct {
	Room
	offMM float64 // how far an old hole may lie from one of its own and serve
}

// leastOff is how far a hole is off its place at least, mm: what is measured.
const leastOff = 0.1

// shapeOf is a flat part, or one drilled in a leg, for lying on old pieces. An old hole
// serves where it is, as measured, no farther off than a new one may be.
func shapeOf(f *params.Fixture, p *parts.Part) *shape {
	if p.Flat == nil {
		return nil
	}
	room := RoomOf(f, p)
	if p.Make == parts.MakeBar { // made standing up: the heel is the upper edge
		room = room.Moved(func(p geom.Profile) geom.Profile { return p.MirroredY().Normalized() })
	}
	play, off := (f.Rods.Hole-f.Rods.Thread.Major).MM()/2, f.Tolerances.HolePosition.MM()
	return &shape{room.Moved(toCorner), max(leastOff, off-leastOff, play-off)}
}

func toCorner(p geom.Profile) geom.Profile { return p.Moved(geom.Vec2{}.Sub(p.Bounds().Min)) }

// takes says whether the part may lie at a place of a piece with old holes, and how many
// of these serve as its own: the others must go with the offcut, a web from the edge, or
// may stay.
func (s *shape) takes(old []params.Hole, at geom.Vec2) (serve int, ok bool) {
	var others []geom.Circle
	for _, h := range old {
		o := geom.Circle{C: geom.Vec2{X: h.X.MM(), Y: h.Y.MM()}.Sub(at), R: h.Dia.MM() / 2}
		in := s.profile.Outer.DistTo(o.C)
		switch {
		case in <= -o.R-webMM:
		case s.owns(o):
			serve++
		case in <= -o.R: // too near outside
			return 0, false
		default:
			others = append(others, o)
		}
	}
	if k, _ := s.Spoilt(others, func(geom.Vec2) float64 { return math.Inf(1) }); k >= 0 {
		return 0, false
	}
	return serve, true
}

// owns says whether an old hole serves as one of the part's: it lies within that, or the
// rod passes it as it passes one drilled as far off its place as it may be.
func (s *shape) owns(o geom.Circle) bool {
	return slices.ContainsFunc(s.profile.Circles, func(n geom.Circle) bool {
		d := n.C.Dist(o.C)
		return d+o.R <= n.R+roundMM || d+max(0, n.R-o.R) <= s.offMM+roundMM && o.R <= n.R+leastOff
	})
}

// over places a part on a sheet with old holes: lowest and leftmost, then where most of
// them serve.
func (b *bin) over(it FlatItem) (best Placement, found bool) {
	most := -1
	for _, turned := range []bool{false, true} {
		if turned && it.WidthMM == it.HeightMM || !b.allowed(it, turned) || it.shape == nil {
			continue
		}
		s := *it.shape
		if turned {
			s.Room = s.Moved(func(p geom.Profile) geom.Profile { return toCorner(p.Turned(math.Pi / 2)) })
		}
		size := s.profile.Bounds().Size()
		keepX, keepY := b.keeps(it, size.X, size.Y)
		for _, at := range b.spots(&s, b.origin(rect{}, size.X, size.Y, keepX, keepY), size) {
			low := at.X + at.Y - best.At.X - best.At.Y
			if found && low >= roundMM || !b.open(at, size, keepX, keepY) {
				continue
			}
			if serve, ok := s.takes(b.sheet.Holes, at); ok && (!found || low < -roundMM || serve > most) {
				best, found, most = Placement{ID: it.ID, At: at, WidthMM: size.X, HeightMM: size.Y, Turned: turned}, true, serve
			}
		}
	}
	if found {
		b.taken = append(b.taken, rect{best.At.X, best.At.Y, best.WidthMM, best.HeightMM})
	}
	return best, found
}

// spots are the places tried on a sheet with holes: its own holes on the old ones, and
// beside the rim, the old holes and what lies there.
func (b *bin) spots(s *shape, first, size geom.Vec2) (out []geom.Vec2) {
	xs, ys := []float64{first.X}, []float64{first.Y}
	for _, h := range b.sheet.Holes {
		c, r := geom.Vec2{X: h.X.MM(), Y: h.Y.MM()}, h.Dia.MM()/2+webMM
		xs, ys = append(xs, c.X+r, c.X-r-size.X), append(ys, c.Y+r, c.Y-r-size.Y)
		for _, n := range s.profile.Circles {
			out = append(out, c.Sub(n.C))
		}
	}
	for _, t := range b.taken {
		xs, ys = append(xs, t.x+t.w+b.gap), append(ys, t.y+t.h+b.gap)
	}
	for _, x := range xs {
		for _, y := range ys {
			out = append(out, geom.Vec2{X: x, Y: y})
		}
	}
	return out
}

// open says whether a box lies on the sheet, within its rim unless it is as large, and
// clear of what lies there.
func (b *bin) open(at, size geom.Vec2, keepX, keepY bool) bool {
	along := func(keep bool, at, size, sheet float64) bool {
		if keep {
			return math.Abs(at-(sheet-size)/2) <= leastOff
		}
		return at >= b.margin-roundMM && at+size <= sheet-b.margin+roundMM
	}
	return along(keepX, at.X, size.X, b.sheet.Width.MM()) && along(keepY, at.Y, size.Y, b.sheet.Height.MM()) &&
		!slices.ContainsFunc(b.taken, func(t rect) bool {
			return t.meets(rect{at.X - b.gap, at.Y - b.gap, size.X + 2*b.gap, size.Y + 2*b.gap})
		})
}

// fromShelf saws pieces from old bars that have holes, longest first, each as far to the
// left as its holes allow, and takes them and these bars out of the job.
func (j *BarJob) fromShelf() (cuts []BarCut) {
	j.Pieces = slices.Clone(j.Pieces)
	slices.SortStableFunc(j.Pieces, func(a, b Piece) int { return cmp.Compare(b.LengthMM, a.LengthMM) })
	for _, bar := range j.Bars {
		for n := 0; n < bar.Quantity && len(bar.Holes) > 0; n++ {
			c := BarCut{Bar: bar}
			at := j.TrimMM
			for {
				k, x := j.onShelf(bar, at)
				if k < 0 {
					break
				}
				p := &j.Pieces[k]
				c.Pieces = append(c.Pieces, PieceCut{p.ID, x, p.LengthMM})
				p.Quantity--
				at = x + p.LengthMM + j.KerfMM
			}
			if len(c.Pieces) > 0 {
				c.LeftMM = max(0, bar.Length.MM()-at)
				cuts = append(cuts, c)
			}
		}
	}
	j.Bars = slices.DeleteFunc(slices.Clone(j.Bars), func(b params.LengthStock) bool { return len(b.Holes) > 0 })
	return cuts
}

// onShelf is the first piece that an old bar takes from a place on, and where; -1 for none.
func (j *BarJob) onShelf(bar params.LengthStock, from float64) (piece int, x float64) {
	for k, p := range j.Pieces {
		s := j.shapes[p.ID]
		if p.Quantity == 0 || s == nil {
			continue
		}
		at := []float64{from}
		for _, h := range bar.Holes {
			at = append(at, h.X.MM()+h.Dia.MM()/2+webMM)
			for _, n := range s.profile.Circles {
				at = append(at, h.X.MM()-n.C.X)
			}
		}
		slices.Sort(at)
		for _, x := range at {
			if _, ok := s.takes(bar.Holes, geom.Vec2{X: x}); ok && x >= from-roundMM && x+p.LengthMM <= bar.Length.MM()+FitMM {
				return k, x
			}
		}
	}
	return -1, 0
}
