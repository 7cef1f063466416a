package assure

import (
	"math"
	"testing"
)

// stiffly is a row on springs that stiff cells outgrow and soft ones do not.
func stiffly(cells int) *Fixture { return large(cells, Height, coil(400, 20.4)) }

// A reading is a gate where it tells which fixtures stay within their bands, and none
// where none is needed, where it does not tell, where the nuts are set by turns, or when
// it is in. Fixtures drawn anew that it lets through stay within.
func TestGate(t *testing.T) {
	read := stiffly(8)
	read.Known = told(read, 0.1)
	turned := stiffly(8)
	turned.Method, turned.SpringTol = Turns, 0
	for name, c := range map[string]struct {
		f    *Fixture
		want bool
	}{"tells": {stiffly(8), true}, "not needed": {large(4, Height, coil(100, 20.4)), false}, "does not tell": {stiffly(16), false}, "by turns": {turned, false}, "read": {read, false}} {
		s := Study(c.f, 1200, 1)
		if (s.Gate != nil) != c.want {
			t.Errorf("%s: %+v of share %.3f, %.3f", name, s.Gate, s.Share, s.Least)
		}
		if s.Gate == nil {
			continue
		}
		again := *c.f
		again.Method, again.Serve = s.Method, s.Serve
		share, part := through(s.Gate.LeastMM, again.run(4000, 99, nil).paths)
		if math.Abs(share-s.Gate.Share) > 0.015 || math.Abs(part-s.Gate.Part) > 0.03 || share < s.Share {
			t.Errorf("%s: %.3f of %.3f with other draws, %+v told", name, share, part, s.Gate)
		}
	}
}

func TestGateIsGood(t *testing.T) {
	for _, c := range []struct {
		g    Gate
		want bool
	}{
		{Gate{Share: 0.95, Free: 0.85, Part: 0.5}, true}, {Gate{Share: 0.949, Free: 0.85, Part: 0.5}, false},
		{Gate{Share: 0.95, Free: 0.849, Part: 0.5}, false}, {Gate{Share: 0.95, Free: 0.85, Part: 0.499}, false},
	} {
		if c.g.good() != c.want {
			t.Errorf("%+v: want %t", c.g, c.want)
		}
	}
	all := []path{{closer: 1, set: true, inside: true}, {closer: 2, set: true, inside: true}, {closer: 2, set: true}, {closer: 3, inside: true}}
	if share, part := through(2, all); share != 1.0/3 || part != 0.75 {
		t.Errorf("%.3f of %.3f let through at 2 mm", share, part)
	}
	if share, part := through(4, all); share != 0 || part != 0 {
		t.Errorf("%.3f of %.3f let through at 4 mm", share, part)
	}
}

// What is read of the plates is what the cells, layers and plates yield from snug to the
// force: with stiffer cells less, and nothing of the springs.
func TestCloser(t *testing.T) {
	d := middle()
	soft, hard := stiffly(8).batch(&d).closer(2942), 0.0
	e := middle()
	e.modulus *= 2
	hard = stiffly(8).batch(&e).closer(2942)
	loose := large(8, Height, coil(40, 60)).batch(&d).closer(2942)
	p0, p1, p2, x := 0.084, 80.0/(174*204), 2942.0/(174*204), d.rise
	want := 8*72*math.Pow(p0, x)*(math.Pow(p2, 1-x)-math.Pow(p1, 1-x))/(d.modulus*(1-x)) + (2942-80)*7e-5
	if math.Abs(soft-want) > 0.01*want || soft < 1.8*hard || math.Abs(soft-loose) > 1e-9 {
		t.Errorf("%.3f mm, want %.3f; %.3f of cells twice as stiff, %.3f on softer springs", soft, want, hard, loose)
	}
	e = middle()
	e.seat, e.read = 1, 0
	if got := stiffly(8).batch(&e).closer(2942) - soft; math.Abs(got-SeatingMM) > 1e-9 {
		t.Errorf("seating shows as %.3f mm", got)
	}
	e.seat, e.read = 0, 1
	if got := stiffly(8).batch(&e).closer(2942) - soft; math.Abs(got-ReadErrorMM/2) > 1e-9 {
		t.Errorf("an error at each of four rods shows as %.4f mm", got)
	}
}
