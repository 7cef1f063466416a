package printed

import (
	"math"

	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed/relief"
)

// GuardSpec describes a corner guard: an angle of even thickness. One leg lies
// beside the end cell and is SideMM long along the stack, the other beside the
// plate and PlateMM wide. Part coordinates: x from the cell's side outward, y
// from the plate inward along the stack, z up from 0 to HeightMM.
type GuardSpec struct {
	parts.Label
	Printer
	SideMM, PlateMM, HeightMM float64
}

// lap is how far lapped pieces reach over each other, mm.
const lap = 8

// WallMM is the thickness of the guard's legs.
func (s GuardSpec) WallMM() float64 { return max(2, 2*s.MinWallMM+s.FitMM) }

// PlateWidth is how far the guard reaches along the plate: PlateMM, or a wall's
// thickness where that leaves no room for a leg and the guard is a strip beside
// the cell.
func (s GuardSpec) PlateWidth() float64 {
	if s.PlateMM < s.WallMM()+legLeast {
		return s.WallMM()
	}
	return s.PlateMM
}

// StripName is what a guard without a second leg is called.
const StripName = "corner strip"

// Guard builds a corner guard, or a strip beside the cell where there is no room for the
// second leg; pieces that are lapped when it is longer than the bed.
func Guard(s GuardSpec) ([]parts.Part, error) {
	w := s.WallMM()
	err := s.checked(s.ID, span{"side leg", s.SideMM, w + 1, 1000}, span{"plate leg", s.PlateMM, 0, 1000}, span{"height", s.HeightMM, 2, 3000})
	if err != nil {
		return nil, err
	}
	if s.PlateMM = s.PlateWidth(); s.PlateMM <= w {
		s.Name = StripName
	}
	full := s.section(w)
	half := (w - s.FitMM) / 2
	inner := polygon(0, 0, s.PlateMM, 0, s.PlateMM, half, half, half, half, s.SideMM, s.lead(), s.SideMM, 0, s.SideMM-s.lead())
	return s.stacked(s.Label, parts.KindGuard, s.HeightMM, lap, full, func(upper bool) relief.Region {
		if !upper { // what the lower piece holds up into the joint
			return relief.Region{}.Plus(inner)
		}
		wide := half + s.FitMM
		return relief.Region{}.Plus(full).Less(polygon(-1, -1, s.PlateMM+1, -1, s.PlateMM+1, wide, wide, wide, wide, s.SideMM+1, -1, s.SideMM+1))
	})
}

// legLeast is how far a leg must reach past the other's wall to be one, mm.
const legLeast = 1.5

// lead is the lead-in, at 45 degrees, where a cell slides in past the edge of a guard that
// lay on the bed; it leaves lapped halves their wall, mm.
func (s GuardSpec) lead() float64 { return 0.4 * s.MinWallMM }

// section is the angle; its inner corner is rounded where the legs leave room, the outer
// one stays sharp: it lies in the corner of plate and cell.
func (s GuardSpec) section(w float64) geom.Path {
	if s.PlateMM <= w {
		return polygon(0, 0, w, 0, w, s.SideMM, s.lead(), s.SideMM, 0, s.SideMM-s.lead())
	}
	f := min(w, s.PlateMM-w, s.SideMM-w) / 2
	return geom.Path{
		{P: geom.Vec2{X: 0, Y: 0}}, {P: geom.Vec2{X: s.PlateMM, Y: 0}}, {P: geom.Vec2{X: s.PlateMM, Y: w}},
		{P: geom.Vec2{X: w + f, Y: w}, Bulge: -(math.Sqrt2 - 1)}, {P: geom.Vec2{X: w, Y: w + f}},
		{P: geom.Vec2{X: w, Y: s.SideMM}}, {P: geom.Vec2{X: s.lead(), Y: s.SideMM}}, {P: geom.Vec2{Y: s.SideMM - s.lead()}},
	}
}

// stacked builds a prism of height h from pieces that fit the bed, joined over
// reach: joint tells what the lower piece holds up into the joint, and what the
// upper piece has there.
func (p Printer) stacked(l parts.Label, k parts.Kind, h, reach float64, full geom.Path, joint func(upper bool) relief.Region, holes ...geom.Path) ([]parts.Part, error) {
	region := relief.Region{}.Plus(full).Less(holes...)
	n := max(1, int(math.Ceil((h-reach)/(p.longest()-reach-1))))
	step := (h - reach) / float64(n)
	if n == 1 {
		step = h
	}
	var out []parts.Part
	for i := range n {
		z := float64(i) * step
		var ls []relief.Layer
		from, to := z, z+step
		if i == n-1 {
			to = h
		}
		if i > 0 {
			ls = append(ls, relief.Layer{Z0: z + p.FitMM, Z1: z + reach, Region: joint(true)})
			from = z + reach
		}
		ls = append(ls, relief.Layer{Z0: from, Z1: to, Region: region})
		if i < n-1 {
			ls = append(ls, relief.Layer{Z0: to, Z1: to + reach - p.FitMM, Region: joint(false)})
		}
		q, err := p.layered(piece(l, i, n), k, ls, 0)
		if err != nil {
			return nil, err
		}
		if n > 1 {
			q.Print.Joint = "lapped ends, slid into each other"
		}
		out = append(out, q)
	}
	return out, nil
}

// EndCapSpec describes a strip that lies on the inside of an end plate beside
// the row: rods pass its holes, its inner edge guides the row. Part coordinates:
// x outward from the inner edge at 0, y up with 0 at the underside of the cells,
// z from 0 to ThicknessMM.
type EndCapSpec struct {
	parts.Label
	Printer
	WidthMM, ThicknessMM float64
	BottomMM, TopMM      float64
	Holes                []parts.Hole
}

// EndCap builds an end cap.
func EndCap(s EndCapSpec) (parts.Part, error) {
	err := s.checked(s.ID, span{"width", s.WidthMM, 4, 1000}, span{"thickness", s.ThicknessMM, 1, 100}, span{"height", s.TopMM - s.BottomMM, 4, 2000})
	if err != nil {
		return parts.Part{}, err
	}
	r := min(3, s.WidthMM/4)
	c := geom.Vec2{X: s.WidthMM / 2, Y: (s.BottomMM + s.TopMM) / 2}
	outer, err := geom.RoundedRect(c, s.WidthMM, s.TopMM-s.BottomMM, r)
	if err != nil {
		return parts.Part{}, &parts.Error{Part: s.ID, What: "outline", Err: err}
	}
	region := relief.Region{}.Plus(outer)
	for _, h := range s.Holes {
		region = region.Less(circle(h.C.X, h.C.Y, h.DiaMM))
	}
	p, err := s.layered(s.Label, parts.KindCap, []relief.Layer{{Z0: 0, Z1: s.ThicknessMM, Region: region}}, 0)
	p.Holes = s.Holes
	return p, err
}

// SleeveSpec describes an insulating sleeve, its axis on z from 0 to LengthMM.
type SleeveSpec struct {
	parts.Label
	Printer
	OuterMM, InnerMM, LengthMM float64
}

// Sleeve builds a rod sleeve; pieces with interlocking ends when it is longer
// than the bed, or too slender to be printed standing: two quarters of the ring on one, the gaps for them on the other,
// for a thin wall has no room for a spigot.
func Sleeve(s SleeveSpec) ([]parts.Part, error) {
	err := s.checked(s.ID, span{"inner diameter", s.InnerMM, 0.5, 500}, span{"outer diameter", s.OuterMM, s.InnerMM + 0.2, 600}, span{"length", s.LengthMM, 1, 10000})
	if err != nil {
		return nil, err
	}
	stands := tallest(math.Pi / 64 * (math.Pow(s.OuterMM, 4) - math.Pow(s.InnerMM, 4)))
	for i, b := range s.BedMM {
		s.BedMM[i] = min(b, max(20, stands))
	}
	out, err := s.stacked(s.Label, parts.KindSleeve, s.LengthMM, max(lap, s.OuterMM/2), circle(0, 0, s.OuterMM), func(upper bool) relief.Region {
		a, b := s.sector(0), s.sector(math.Pi)
		if upper {
			a, b = s.sector(math.Pi/2), s.sector(3*math.Pi/2)
		}
		// two sectors of the ring: what lies in either
		return relief.Region{}.Plus(a, b).Within(circle(0, 0, s.OuterMM)).Less(circle(0, 0, s.InnerMM))
	}, circle(0, 0, s.InnerMM))
	for i := range out {
		if out[i].Print.Joint != "" {
			setNeed(&out[i], "the ring between two quarters of a joint is a short bridge")
			out[i].Print.Joint = "quarters of the ring that interlock; wrap the joint with tape"
		}
		out[i].SizeMM = [3]float64{out[i].SizeMM[2], s.OuterMM, s.OuterMM}
	}
	return out, err
}

// sector is a quarter of the plane about the origin, less half a fit on both
// sides, starting at the angle from, rad.
func (s SleeveSpec) sector(from float64) geom.Path {
	far := 2 * s.OuterMM
	g := s.FitMM / 2
	c := geom.Vec2{X: g, Y: g} // sides parallel to the axes of the quarter, g inside
	p := geom.Path{{P: c}, {P: geom.Vec2{X: far, Y: g}}, {P: geom.Vec2{X: far, Y: far}}, {P: geom.Vec2{X: g, Y: far}}}
	return p.Turned(from)
}
