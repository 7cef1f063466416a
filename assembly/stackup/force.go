package stackup

import (
	"fmt"
	"math"
	"math/rand/v2"

	"clampwright/params"
)

// snugShare is how far the force of finger tight may be off from rod to rod, as a
// share, and the force at the target with it: common practice, no source.
const snugShare = 0.5

// force asks how far the total force is off its target when every nut is turned
// by the same angle from snug. One nut's error adds its share of what all nuts
// together add per turn near the target. Cell thickness and sawing errors do not
// matter: snug is found on the parts as they are. The cells' stiffness does, for
// all rods alike, and is stated beside the shop's errors as it is no tolerance of
// the shop. No force is less than none.
func force(f *params.Fixture, t Turns, r *rand.Rand) Outcome {
	rods := float64(len(f.Ties()))
	turn := f.Tolerances.TurnError * t.PerTurnN / rods // N, by one nut
	snug := snugShare * t.SnugN / rods
	pct := func(n float64) float64 { return math.Max(100*n/t.TargetN, -100) }
	soft, hard := t.band()
	o := Outcome{
		ID: idForce, Asked: "how far is the total force off when set by turns", Unit: "%",
		Worst: Span{pct(-rods*(turn+snug) - soft), pct(rods*(turn+snug) + hard)}, Allowed: windowPct(f),
	}
	var variance []float64
	add := func(p Part, v float64) {
		if p.Plus > 0 {
			o.Parts, variance = append(o.Parts, p), append(variance, v)
		}
	}
	add(Part{Name: "turning error", Param: "tolerances.turn_error", Pieces: int(rods), Plus: pct(rods * turn)}, rods*turn*turn)
	add(Part{Name: "snug force", Param: "clamp", Pieces: int(rods), Plus: pct(rods * snug)}, rods*snug*snug)
	add(Part{Name: "cell stiffness", Param: "clamp.squeeze", Plus: pct(math.Max(soft, hard))}, bandVariance(soft, hard))
	out := make([]float64, Samples)
	good := 0
	for k := range out {
		sum := 0.0
		for range int(rods) {
			sum += turn*even(r) + snug*even(r)
		}
		if b := even(r); b < 0 {
			sum += b * soft
		} else {
			sum += b * hard
		}
		out[k] = pct(sum)
		if o.Allowed.holds(Span{out[k], out[k]}) {
			good++
		}
	}
	o.Likely = likely(out)
	o.Holds, o.Good = o.Allowed.holds(o.Worst), float64(good)/Samples
	o.finish(variance)
	return o
}

// band is how much less the softest and how much more the stiffest cells give, N;
// zero when not known.
func (t Turns) band() (soft, hard float64) {
	if t.BandN == [2]float64{} {
		return 0, 0
	}
	return math.Max(t.TargetN-t.BandN[0], 0), math.Max(t.BandN[1]-t.TargetN, 0)
}

// bandVariance is three times the variance of an error that is as often below
// zero, even down to -soft, as above it, even up to hard: the mean is
// (hard-soft)/4, the mean square (soft²+hard²)/6. Three times, because that of an
// error even over -a to a is a².
func bandVariance(soft, hard float64) float64 {
	mean := (hard - soft) / 4
	return 3 * ((soft*soft+hard*hard)/6 - mean*mean)
}

// windowPct is the window of the force about its target, %.
func windowPct(f *params.Fixture) *Span {
	c := &f.Cell
	if c.ForceTarget <= 0 {
		return &Span{}
	}
	return &Span{100 * float64(c.ForceLow/c.ForceTarget-1), 100 * float64(c.ForceHigh/c.ForceTarget-1)}
}

// holds says whether the other span lies within this one.
func (s *Span) holds(other Span) bool {
	return other.Least >= s.Least-rounding && other.Greatest <= s.Greatest+rounding
}

func forceAnswer(o Outcome) string {
	return fmt.Sprintf("from %s at worst, %s in 95 of 100 fixtures; the window allows %s", percents(o.Worst), percents(o.Likely), percents(*o.Allowed))
}

// percents writes a span of percents; a zero has no sign.
func percents(s Span) string {
	return fmt.Sprintf("%.0f to %.0f %%", math.Round(s.Least)+0, math.Round(s.Greatest)+0)
}
