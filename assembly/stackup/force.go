package stackup

import (
	"fmt"
	"math"
	"math/rand/v2"

	"clampwright/params"
)

// snugShare is how far finger tight may be off from rod to rod, as a share:
// common practice, no source.
const snugShare = 0.5

// force asks how far the total force is off its target when every nut is turned
// by the same angle from snug. Near the target the force follows the turns in
// proportion: one rod's error is (F - Fsnug)/turns per turn, divided by the
// rods. Cell thickness and sawing errors do not matter: snug is found on the
// parts as they are. The cells' stiffness does, and is stated beside the shop's
// errors as it is no tolerance of the shop.
func force(f *params.Fixture, t Turns, r *rand.Rand) Outcome {
	rods := float64(len(f.Rods.Columns) * len(f.Rods.Levels))
	per := (t.TargetN - t.SnugN) / t.Turns / rods // N per turn of one nut
	turn := f.Tolerances.TurnError
	snug := snugShare * t.SnugN / rods
	pct := func(n float64) float64 { return 100 * n / t.TargetN }
	soft := math.Max(t.TargetN-t.BandN[0], 0)
	hard := math.Max(t.BandN[1]-t.TargetN, 0)
	if t.BandN == [2]float64{} {
		soft, hard = 0, 0
	}
	shop := rods * (per*turn + snug)
	o := Outcome{
		ID: idForce, Asked: "how far is the total force off when set by turns", Unit: "%",
		Worst: Span{-pct(shop + soft), pct(shop + hard)}, Need: windowPct(f),
		Parts: []Part{
			{Name: "turning error", Param: "tolerances.turn_error", Plus: pct(rods * per * turn)},
			{Name: "snug force", Param: "clamp", Plus: pct(rods * snug)},
			{Name: "cell stiffness", Param: "clamp.squeeze", Plus: pct(math.Max(soft, hard))},
		},
	}
	out := make([]float64, Samples)
	good := 0
	for k := range out {
		sum := 0.0
		for range int(rods) {
			sum += per*turn*even(r) + snug*even(r)
		}
		if b := even(r); b < 0 {
			sum += b * soft
		} else {
			sum += b * hard
		}
		out[k] = pct(sum)
		if math.Abs(out[k]) <= o.Need {
			good++
		}
	}
	o.Likely = likely(out)
	o.Holds, o.Good = math.Max(-o.Worst.Least, o.Worst.Greatest) <= o.Need, float64(good)/Samples
	o.finish([]float64{rods * per * per * turn * turn, rods * snug * snug, (soft*soft + hard*hard) / 2})
	o.Answer = fmt.Sprintf("from %.0f to %.0f %% at worst, %.0f to %.0f %% in 95 of 100 fixtures; the window allows %.0f %% either way", o.Worst.Least, o.Worst.Greatest, o.Likely.Least, o.Likely.Greatest, o.Need)
	return o
}

// windowPct is how far the force may be off its target, the nearer way, %.
func windowPct(f *params.Fixture) float64 {
	c := &f.Cell
	if c.ForceTarget <= 0 {
		return 0
	}
	return 100 * float64(min(c.ForceTarget-c.ForceLow, c.ForceHigh-c.ForceTarget)/c.ForceTarget)
}
