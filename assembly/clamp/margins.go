package clamp

import (
	"math"

	"clampwright/assembly/finding"
)

// margins compares the stresses of all parts with what they may take.
func (f *fixture) margins(st StateSpec, sol *solution) []Margin {
	out := []Margin{plateMargin(f, st, sol)}
	if len(f.s.m.beams) > 0 {
		out = append(out, stiffenerMargin(f, sol))
	}
	if len(f.s.feet) > 0 && f.in.Plate.SeatShortMPa > 0 {
		out = append(out, footMargin(f, st, sol))
	}
	if m := padMargin(f, st, sol); m.Part != "" {
		out = append(out, m)
	}
	for _, part := range []func(f *fixture, r int, force float64, st StateSpec) Margin{rodMargin, threadMargin, seatMargin} {
		out = append(out, worstRod(f, sol, st, part))
	}
	return append(out, bendMargin(f, sol))
}

// newMargin fills margin and verdict; reserve is the strength over stress under
// which it warns.
func newMargin(part string, index int, stress, allowed, reserve float64) Margin {
	m := Margin{Part: part, Index: index, Stress: stress, Allowed: allowed, Margin: marginCap, Verdict: finding.Pass}
	if stress > allowed/(1+marginCap) {
		m.Margin = allowed/stress - 1
	}
	if m.Margin < reserve-1 {
		m.Verdict = finding.Warn
	}
	if m.Margin < 0 {
		m.Verdict = finding.Fail
	}
	return m
}

// tieTol is by what share two places must differ for one to be called the worse:
// of places alike by symmetry the first is named, whatever rounding says.
const tieTol = 1e-7

// tighter says whether m leaves less than worst, which may be empty still; of two that
// leave all that is told, the one under more stress.
func (m Margin) tighter(worst Margin) bool {
	if m.Margin == marginCap && worst.Margin == marginCap {
		return m.Stress > worst.Stress*(1+tieTol)
	}
	return worst.Part == "" || m.Margin < worst.Margin-tieTol*(1+math.Abs(worst.Margin))
}

// marginCap is the greatest margin told: an unloaded part has no finite one.
const marginCap = 999

// agedHours is for how long a load has stood at the end of life, h: ten years.
const agedHours = 10 * 365.25 * 24

// plateMargin finds the most used spot of the plate. Surface stresses are
// 6 M/t²; an isotropic plate is judged by von Mises' stress, one with a grain by
// Tsai and Hill's criterion with the shear strength taken as the lesser bending
// strength over sqrt(3). Strength is lost to lasting load and heat as stiffness is; what
// has aged has borne its load for years. The stress raiser at a rod hole is left out: it lies
// under the washer.
func plateMargin(f *fixture, st StateSpec, sol *solution) Margin {
	p := f.in.Plate
	factor := p.factor(st.Hours, st.TempC)
	weaken := p.factor(max(st.Hours, st.Aged*agedHours), st.TempC)
	sx, sy := p.StrengthXMPa*weaken, orElse(p.StrengthYMPa, p.StrengthXMPa)*weaken
	worst, at := 0.0, 0
	for n, m := range f.s.m.moments(sol.x, factor) {
		if u := utilization(m, p.ThicknessMM, sx, sy); u > worst*(1+tieTol) {
			worst, at = u, n
		}
	}
	allowed := math.Min(sx, sy)
	out := newMargin("plate", 0, worst*allowed, allowed, plateReserve)
	i, j := f.s.m.position(at)
	out.AtXMM, out.AtYMM = f.s.m.xs[i], f.s.m.ys[j]
	return out
}

// utilization returns stress over strength for moments Mx, My, Mxy.
func utilization(m [3]float64, t, strengthX, strengthY float64) float64 {
	k := 6 / (t * t)
	x, y, s := m[0]*k/strengthX, m[1]*k/strengthY, m[2]*k*math.Sqrt(3)/math.Min(strengthX, strengthY)
	coupling := x * y * math.Min(strengthX, strengthY) / math.Max(strengthX, strengthY)
	return math.Sqrt(math.Max(x*x+y*y-coupling+s*s, 0))
}

// position returns the column and row of a node.
func (m *model) position(node int) (i, j int) {
	if len(m.ys) <= len(m.xs) {
		return node / len(m.ys), node % len(m.ys)
	}
	return node % len(m.xs), node / len(m.xs)
}

// stiffenerMargin finds the most bent stiffener.
func stiffenerMargin(f *fixture, sol *solution) Margin {
	var worst Margin
	for _, b := range f.s.m.beams {
		eq := f.s.m.beamEqs(b)
		var v [4]float64
		for k, e := range eq {
			if e >= 0 {
				v[k] = sol.x[e]
			}
		}
		m1, m2 := beamMoments(b.ei, b.length, v[0], v[1], v[2], v[3])
		s := f.in.Stiffeners[b.stiffener]
		for k, m := range [2]float64{m1, m2} {
			c := newMargin("stiffener", b.stiffener, math.Abs(m)/s.SectionMM3, s.YieldMPa, 1)
			if c.tighter(worst) {
				c.AtXMM, c.AtYMM = f.s.m.xs[b.i+k], f.s.m.ys[b.j]
				worst = c
			}
		}
	}
	return worst
}

// worstRod applies a check to all rods and keeps the least margin.
func worstRod(f *fixture, sol *solution, st StateSpec, check func(*fixture, int, float64, StateSpec) Margin) Margin {
	var worst Margin
	for r, rod := range f.in.Rods {
		m := check(f, r, sol.rodF[f.s.groupOf[r]], st)
		m.AtXMM, m.AtYMM = rod.XMM, rod.YMM
		if m.tighter(worst) {
			worst = m
		}
	}
	return worst
}

func rodMargin(f *fixture, r int, force float64, _ StateSpec) Margin {
	rod := f.in.Rods[r]
	return newMargin("rod", r, force/rod.AreaMM2, rod.ProofMPa, 1)
}

// threadMargin checks stripping at proof stress over sqrt(3).
func threadMargin(f *fixture, r int, force float64, _ StateSpec) Margin {
	rod := f.in.Rods[r]
	return newMargin("thread", r, force/rod.StripArea(), rod.ProofMPa/math.Sqrt(3), 1)
}

// seatMargin checks the bearing pressure under the washer: the sustained limit
// in every state, since a clamp is left under load; the short-term limit is the
// one that fails.
func seatMargin(f *fixture, r int, force float64, st StateSpec) Margin {
	seat := f.in.Rods[r].Seat
	p := force / seat.Area()
	long := math.Min(orElse(seat.LongMPa, seat.ShortMPa), seat.ShortMPa)
	return seatVerdict(newMargin("seat", r, p, long, 1), seat.ShortMPa, st)
}

// Area returns the bearing area of the washer.
func (s Seat) Area() float64 { return math.Pi / 4 * (s.OuterMM*s.OuterMM - s.InnerMM*s.InnerMM) }

// footMargin checks what an angle's foot presses on the plate, at the worst spot of
// the grid: like a washer's seat, with the plate's limits for lasting and short load.
func footMargin(f *fixture, st StateSpec, sol *solution) Margin {
	p, factor := f.in.Plate, f.in.Plate.factor(st.Hours, st.TempC)
	var worst Margin
	for _, c := range f.s.feet {
		force, _ := c.force(factor, sol.x)
		m := seatVerdict(newMargin("foot", c.stiffener, force/c.area, math.Min(orElse(p.SeatLongMPa, p.SeatShortMPa), p.SeatShortMPa), 1), p.SeatShortMPa, st)
		if m.AtXMM, m.AtYMM = f.s.m.xs[c.i], f.s.m.ys[c.j]; m.tighter(worst) {
			worst = m
		}
	}
	return worst
}

// padMargin compares the greatest pressure on the pads with the last point of their
// curves, of which creep leaves its part: beyond it they are flat and yield no more.
func padMargin(f *fixture, st StateSpec, sol *solution) (worst Margin) {
	for r, row := range f.in.Rows {
		peak := 0.0
		for _, c := range f.s.full {
			if c.row == r {
				peak = math.Max(peak, sol.p[c.solved])
			}
		}
		for _, l := range row.Layers {
			if n := len(l.Curve); n > 0 {
				if m := newMargin("pad", r, peak, l.Curve[n-1].PressureMPa*creepFactor(l.Creep, st.Hours), 1); m.tighter(worst) {
					worst = m
				}
			}
		}
	}
	return worst
}

// seatVerdict only warns of a seat that is over its lasting limit but not over its
// short one while the load is new.
func seatVerdict(m Margin, shortMPa float64, st StateSpec) Margin {
	if m.Verdict == finding.Fail && st.Hours <= 0 && m.Stress <= shortMPa {
		m.Verdict = finding.Warn
		m.Comment = "over the sustained limit, under the short-term one"
	}
	return m
}

// bendMargin checks the rods' bending where their seats tilt: both ends turn alike
// and opposite, so a rod of length L bends to one curvature 2 q/L for a tilt q, and
//
//	s = F/A + E d q/L
//
// d the diameter of the stress area. Bending that a tilt imposes ends when the rod
// yields a little: over the proof stress it warns, over twice that it fails (the
// rule for secondary stress in pressure vessel codes; from memory).
func bendMargin(f *fixture, sol *solution) Margin {
	var worst Margin
	for r, rod := range f.in.Rods {
		g := f.s.groupOf[r]
		d := math.Sqrt(4 * rod.AreaMM2 / math.Pi)
		stress := sol.rodF[g]/rod.AreaMM2 + rod.EMPa*d*f.s.rods[g].tilt(sol.x)/rod.FreeMM
		m := newMargin("rod bending", r, stress, 2*rod.ProofMPa, 2)
		if m.AtXMM, m.AtYMM = rod.XMM, rod.YMM; m.tighter(worst) {
			worst = m
		}
	}
	return worst
}
