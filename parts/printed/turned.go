package printed

import (
	"math"

	"github.com/deadsy/sdfx/sdf"
	v3 "github.com/deadsy/sdfx/vec/v3"

	"clampwright/parts/geom"
)

// turned is a solid about the z axis, rounded and blended, given by a distance function:
// its surface is found along rays square to the axis. Edges are kept, for the levels and
// directions where they lie are given.
type turned struct {
	f      sdf.SDF3
	fold   int       // alike when turned by a turn over fold
	angles []float64 // directions of the rays in the first of the folds, rad
}

// level is where a surface is cut: the rays meet it between two radii, one inside the
// solid and one outside. At an edge it is asked a hair beside z.
type level struct {
	z, beside, in, out float64
	r                  []float64 // the surface's radius along each ray
}

// hair is how far beside an edge a surface is asked, mm: far below what is printed.
const hair = 1e-5

// cast finds the radius at which a ray at an angle passes the surface, by false position
// and halving in turn.
func (t turned) cast(l level, angle float64) (r float64) {
	sin, cos := math.Sincos(angle)
	f := func(r float64) float64 { return t.f.Evaluate(v3.Vec{X: r * cos, Y: r * sin, Z: l.z + l.beside}) }
	in, out := f(l.in), f(l.out)
	for k := 0; math.Abs(l.out-l.in) > 1e-7; k++ {
		if r = (l.in + l.out) / 2; k%2 == 0 {
			r = l.in + (l.out-l.in)*in/(in-out)
		}
		at := f(r)
		if math.Abs(at) < 1e-8 {
			break
		}
		if at < 0 {
			l.in, in = r, at
		} else {
			l.out, out = r, at
		}
	}
	return r
}

func (t turned) at(l level) level {
	l.r = make([]float64, len(t.angles))
	for i, a := range t.angles {
		l.r[i] = t.cast(l, a)
	}
	return l
}

// look spreads rays so that no chord of a level strays by more than chord.
func (t *turned) look(l level, chord float64) {
	span := 2 * math.Pi / float64(t.fold)
	n := math.Ceil(span / (2 * math.Acos(1-chord/max(l.in, l.out))))
	t.angles = nil
	for i := range int(n) {
		t.split(l, span*float64(i)/n, span*float64(i+1)/n, chord, 6)
	}
}

func (t *turned) split(l level, from, to, chord float64, deep int) {
	mid := (from + to) / 2
	a, b := t.cast(l, from), t.cast(l, to)
	if flat := 2 * a * b * math.Cos(mid-from) / (a + b); deep > 0 && math.Abs(t.cast(l, mid)-flat) > chord {
		t.split(l, from, mid, chord, deep-1)
		t.split(l, mid, to, chord, deep-1)
		return
	}
	t.angles = append(t.angles, from)
}

// rings cut the surface at all levels, and between two where it bends by more than chord.
func (t turned) rings(chord float64, levels ...level) (out []ring) {
	last := t.at(levels[0])
	out = append(out, t.ring(last))
	for _, l := range levels[1:] {
		l = t.at(l)
		out = append(out, append(t.between(last, l, chord, 7), t.ring(l))...)
		last = l
	}
	return out
}

func (t turned) between(a, b level, chord float64, deep int) []ring {
	if deep == 0 || a.z == b.z {
		return nil
	}
	m := t.at(level{z: (a.z + b.z) / 2, in: (a.in + b.in) / 2, out: (a.out + b.out) / 2})
	for i, r := range m.r {
		if math.Abs(r-(a.r[i]+b.r[i])/2) > chord {
			return append(append(t.between(a, m, chord, deep-1), t.ring(m)), t.between(m, b, chord, deep-1)...)
		}
	}
	return nil
}

// ring repeats a level's rays all round.
func (t turned) ring(l level) (out ring) {
	for k := range t.fold {
		for i, a := range t.angles {
			out = append(out, geom.Polar(l.r[i], a+2*math.Pi*float64(k)/float64(t.fold)).V3(l.z))
		}
	}
	return out
}

// axis is a ring of no size.
func (t turned) axis(z float64) ring {
	out := make(ring, t.fold*len(t.angles))
	for i := range out {
		out[i].Z = z
	}
	return out
}
