package assure

import (
	"math"
	"testing"
)

// Pads squeezed as 10 mm/MPa new, by half more after 1000 h and twice after ten years:
// straight in the logarithm of hours between, by as much of that as a lot creeps, and as
// at a lesser pressure where a lot is firmer. After ten years nothing more.
func TestPadsCreep(t *testing.T) {
	line := func(k float64) Curve { return Curve{Y: []float64{0, 1}, X: []float64{0, k}} }
	f := large(8, Turns, nil)
	f.Layers, f.Crept, f.CreptAt = line(10), []Curve{line(15), line(20)}, []float64{math.Log1p(1000), math.Log1p(87660)}
	between := (math.Log1p(10000) - math.Log1p(1000)) / (math.Log1p(87660) - math.Log1p(1000))
	for _, c := range []struct{ hours, force, creep, want float64 }{
		{0, 1, 1, 10}, {1000, 1, 1, 15}, {10000, 1, 1, 15 + 5*between}, {87660, 1, 1, 20}, {200000, 1, 1, 20}, {1000, 1.25, 1, 12}, {1000, 1, 0.5, 12.5},
	} {
		d := middle()
		d.padForce, d.padCreep = c.force, c.creep
		mm, slope := f.batch(&d).layers(0.1, aged{1, math.Log1p(c.hours)})
		if math.Abs(mm-c.want/10) > 1e-9 || math.Abs(slope-c.want) > 1e-9 {
			t.Errorf("%g h, pads %g as firm, creep %g: %.4f mm, %.4f mm/MPa; want %.4f", c.hours, c.force, c.creep, mm, slope, c.want)
		}
	}
	if n := f.Latents(); n != latents+2 {
		t.Errorf("%d sigmas", n)
	}
	d := middle()
	d.padForce, d.padCreep = 1, 1
	b := f.batch(&d)
	u, _ := b.taken(f.TargetN, fresh)
	if now, later := b.force(u, fresh, f.TargetN), b.force(u, b.aged(10), f.TargetN); math.Abs(now-f.TargetN) > 0.1 || later > 0.9*now {
		t.Errorf("%.0f N as set, %.0f with the nuts left alone for ten years", now, later)
	}
}
