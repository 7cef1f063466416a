package sizing

import (
	"math"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/params"
)

// closed returns the first bound that a candidate misses by closed forms alone.
// Each is exact or milder than what a later stage judges, so a candidate turned
// away here would be turned away there.
func closed(f *params.Fixture, in *clamp.Input) *Bound {
	for _, test := range []func(*params.Fixture, *clamp.Input) *Bound{washerSeat, nutTurns, springRoom, springSeat, footRoom, rodPlay, rodShare, springShare} {
		if b := test(f, in); b != nil {
			return b
		}
	}
	return nil
}

// closedSlack keeps rounding from deciding, mm.
const closedSlack = 0.01

// washerSeat: the washer must not lie on the angle's fillet or hang over its
// edge even where everything is at its nominal place.
func washerSeat(f *params.Fixture, _ *clamp.Input) *Bound {
	s := f.Stiffener
	if s == nil {
		return nil
	}
	r := f.Washer.Outer.MM() / 2
	room := min(s.Gauge.MM()-s.Section.Thickness.MM()-s.Section.Root.MM(), s.DrilledLeg.MM()-s.Section.Toe.MM()-s.Gauge.MM())
	if room < r-closedSlack {
		return &Bound{Name: "washer-flat", Have: room, Need: r, Unit: "mm", Over: over(room, r, false), Param: "stiffeners.angle"}
	}
	return nil
}

// nutTurns: the nut's corners must clear the standing leg.
func nutTurns(f *params.Fixture, _ *clamp.Input) *Bound {
	s := f.Stiffener
	if s == nil {
		return nil
	}
	room, need := s.Gauge.MM()-s.Section.Thickness.MM(), f.Nut.Corners.MM()/2
	if room < need-closedSlack {
		return &Bound{Name: "nut-turns", Have: room, Need: need, Unit: "mm", Over: over(room, need, false), Param: "stiffeners.angle"}
	}
	return nil
}

// springRoom: the spring must clear the standing leg.
func springRoom(f *params.Fixture, _ *clamp.Input) *Bound {
	if f.Stiffener == nil || f.Spring == nil {
		return nil
	}
	outer := f.Spring.OuterDia().MM()
	if room := (f.Stiffener.Gauge - f.Stiffener.Section.Thickness).MM(); room < outer/2-closedSlack {
		return &Bound{Name: "parts-apart", Have: room, Need: outer / 2, Unit: "mm", Over: over(room, outer/2, false), Param: "stiffeners.gauge"}
	}
	return nil
}

// springSeat: the spring must stay on its washer though both have slipped by their
// play.
func springSeat(f *params.Fixture, _ *clamp.Input) *Bound {
	if f.Spring == nil {
		return nil
	}
	have, need := f.Washer.Outer.MM()/2, f.Spring.Bore().MM()+f.Washer.Inner.MM()/2-f.Rods.Thread.Major.MM()
	if have < need-closedSlack {
		return &Bound{Name: "spring-held", Have: have, Need: need, Unit: "mm", Over: over(have, need, false), Param: "washers.series"}
	}
	return nil
}

// springGuide: discs must be guided by the rod. It only warns.
func springGuide(f *params.Fixture) *Bound {
	if f.Spring == nil || f.Spring.Disc == nil || f.Spring.Disc.GuidedBy(f.Rods.Thread.Major) {
		return nil
	}
	have, need := (f.Spring.Disc.Inner - f.Rods.Thread.Major).MM(), f.Spring.Disc.GuidePlay().MM()
	return &Bound{Name: "spring-guided", Have: have, Need: need, Unit: "mm", AtMost: true, Over: over(have, need, true), Param: "springs.disc"}
}

// footRoom: printed feet must end below the lowest angle.
func footRoom(f *params.Fixture, _ *clamp.Input) *Bound {
	if clash := assembly.FootClash(f); clash > closedSlack {
		return &Bound{Name: "parts-apart", Have: -clash, Unit: "mm", Over: clash, Param: "plates.feet.inset"}
	}
	return nil
}

// rodPlay: the rod must pass its holes although each is off by the shop's error.
func rodPlay(f *params.Fixture, _ *clamp.Input) *Bound {
	play, need := (f.Rods.Hole-f.Rods.Thread.Major).MM()/2, f.Tolerances.HolePosition.MM()
	if play < need-closedSlack {
		return &Bound{Name: "rod-passes", Have: play, Need: need, Unit: "mm", Over: over(play, need, false), Param: "rods.hole"}
	}
	return nil
}

// shareN is the force of the most loaded rod as tightened: each takes its share
// of the target, a rod between two rows twice that of an outer one.
func shareN(f *params.Fixture, in *clamp.Input) float64 {
	sum, most := 0.0, 0.0
	for _, r := range in.Rods {
		share := r.Share
		if share == 0 {
			share = 1
		}
		sum, most = sum+share, math.Max(most, share)
	}
	return f.Cell.ForceTarget.N() * float64(f.Pack.Rows) * most / sum
}

// rodShare: rod, thread and seat under the force of tightening, as in clamp's
// margins.
func rodShare(f *params.Fixture, in *clamp.Input) *Bound {
	if len(in.Rods) == 0 {
		return nil
	}
	force, r := shareN(f, in), in.Rods[0]
	for _, t := range []struct {
		name        string
		have, allow float64
		param       string
	}{
		{"as tightened: rod stress", force / r.AreaMM2, r.ProofMPa, "rods.grade"},
		{"as tightened: thread stress", force / r.StripArea(), r.ProofMPa / math.Sqrt(3), "rods.grade"},
		{"as tightened: seat stress", force / r.Seat.Area(), r.Seat.ShortMPa, "washers.series"},
	} {
		if t.have > t.allow*(1+1e-6) {
			return &Bound{Name: t.name, Have: t.have, Need: t.allow, Unit: "MPa", AtMost: true, Over: over(t.have, t.allow, true), Param: t.param}
		}
	}
	return nil
}

// springShare: the springs must not be flat under the force of tightening.
func springShare(f *params.Fixture, in *clamp.Input) *Bound {
	s := f.Spring
	if s == nil || len(in.Rods) == 0 {
		return nil
	}
	force := shareN(f, in) / float64(max(1, s.Parallel))
	flat := 0.0
	if s.Disc != nil {
		flat, _ = in.Rods[0].Spring.Disc.Force(s.Disc.H0.MM())
	} else {
		flat = float64(s.Coil.Rate()) * (s.Coil.Free - s.Coil.Solid).MM()
	}
	if force > flat*(1+1e-6) {
		return &Bound{Name: "as tightened: spring travel", Have: force, Need: flat, Unit: "N", AtMost: true, Over: over(force, flat, true), Param: "springs"}
	}
	return nil
}
