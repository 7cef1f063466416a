package geom

import (
	"math"
	"math/rand"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (± %g)", what, got, want, tol)
	}
}

func nearVec(t *testing.T, what string, got, want Vec3, tol float64) {
	t.Helper()
	if !(got.Dist(want) <= tol) {
		t.Errorf("%s = %v, want %v (± %g)", what, got, want, tol)
	}
}

// must fails the test on an error.
func must[T any](t testing.TB) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func solid(t testing.TB) func(Solid, error) Solid { return must[Solid](t) }

// rounds is how often a test draws: n times, in a short run a tenth of that.
func rounds(n int) int {
	if testing.Short() {
		return max(3, n/10)
	}
	return n
}

// area is a profile's area less its holes by the paths' own formula.
func area(p Profile) float64 {
	a := math.Abs(p.Outer.Area())
	for _, s := range p.Slots {
		a -= math.Abs(s.Area())
	}
	for _, c := range p.Circles {
		a -= c.Area()
	}
	return a
}

// perimeter is the length of all boundaries, holes included.
func perimeter(p Profile) (l float64) {
	for _, lp := range p.loops() {
		for _, e := range lp {
			l += edgeLen(e)
		}
	}
	return l
}

func edgeLen(e Edge) float64 {
	if e.Arc {
		return e.R * math.Abs(e.Sweep)
	}
	return e.A.Dist(e.B)
}

func centroid(m moments) Vec2 { return Vec2{m.x / m.s, m.y / m.s} }

// secondMoments are those of area about the centroidal axes along x and y, and
// their product, mm⁴.
func secondMoments(p Profile) (ix, iy, ixy float64) {
	m := p.moments()
	m = m.shifted(centroid(m).Mul(-1))
	return m.yy, m.xx, m.xy
}

// moved is the body moved by v.
func moved(b Body, v Vec3) Body { return NewBody(b.Solid, b.Frame.Moved(v)) }

// randomFace returns a valid profile with a bumpy outline and some holes.
func randomFace(r *rand.Rand) Profile {
	for range 1000 {
		p := Profile{Outer: randomStar(r, 60, 3+r.Intn(12))}
		if p.Validate() != nil {
			continue
		}
		for k := r.Intn(25); k > 0; k-- {
			q := p
			q.Circles = append([]Circle(nil), p.Circles...)
			q.Slots = append([]Path(nil), p.Slots...)
			c := Vec2{r.Float64()*160 - 80, r.Float64()*160 - 80}
			if r.Intn(3) > 0 {
				q.Circles = append(q.Circles, Circle{c, 0.2 + r.Float64()*6})
			} else {
				q.Slots = append(q.Slots, randomStar(r, 1+r.Float64()*9, 3+r.Intn(6)).Moved(c).Reversed())
			}
			if q.Validate() == nil {
				p = q
			}
		}
		return p
	}
	panic("no star of a thousand is a face")
}

// randomStar returns a path round the origin, some of its edges bulging in or
// out. It may not be simple.
func randomStar(r *rand.Rand, size float64, n int) Path {
	p := make(Path, n)
	for i := range p {
		p[i].P = Polar(size*(0.5+r.Float64()), 2*math.Pi*(float64(i)+0.8*r.Float64())/float64(n))
		if r.Intn(2) == 0 {
			p[i].Bulge = (r.Float64() - 0.4) * 0.8
		}
	}
	return p
}
