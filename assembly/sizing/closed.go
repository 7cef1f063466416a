package sizing

import (
	"math"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/params"
)

// closed returns the first bound that a candidate misses by closed forms alone.
// Each is exact or milder than what a later stage judges, so a candidate turned
// away here would be turned away there.
func closed(f *params.Fixture, in *clamp.Input) *finding.Finding {
	for _, test := range []func(*params.Fixture, *clamp.Input) *finding.Finding{washerSeat, springRoom, springSeat, footRoom, rodPlay, rodShare, springShare} {
		if b := test(f, in); b != nil {
			return b
		}
	}
	return nil
}

// missed is the finding of a closed form, with the id of the full rule.
func missed(id finding.ID, sense finding.Sense, have, need float64, unit, param string) *finding.Finding {
	f := &finding.Finding{ID: id, Verdict: finding.Fail, Sense: sense, Have: have, Need: need, Unit: unit, Params: []string{param}}
	if strings.HasPrefix(string(id), "clamp-") {
		f.Group, f.Between = finding.GroupClamp, []string{"as tightened"}
	}
	return f
}

// closedSlack keeps rounding from deciding, mm.
const closedSlack = 0.01

// washerSeat: the washer, which is wider than the nut, must not lie on the angle's fillet or hang over its
// edge even where everything is at its nominal place.
func washerSeat(f *params.Fixture, _ *clamp.Input) *finding.Finding {
	s := f.Stiffener
	if s == nil {
		return nil
	}
	r := f.Washer.Outer.MM() / 2
	room := min(s.Gauge.MM()-s.Section.Thickness.MM()-s.Section.Root.MM(), s.DrilledLeg.MM()-s.Section.Toe.MM()-s.Gauge.MM())
	if room < r-closedSlack {
		return missed("washer-flat", finding.AtLeast, room, r, "mm", "stiffeners.angle")
	}
	return nil
}

// springRoom: the spring must clear the standing leg.
func springRoom(f *params.Fixture, _ *clamp.Input) *finding.Finding {
	if f.Stiffener == nil || f.Spring == nil {
		return nil
	}
	outer := f.Spring.OuterDia().MM()
	if room := (f.Stiffener.Gauge - f.Stiffener.Section.Thickness).MM(); room < outer/2-closedSlack {
		return missed("parts-apart", finding.AtLeast, room, outer/2, "mm", "stiffeners.gauge")
	}
	return nil
}

// springSeat: the spring must stay on its washer though both have slipped by their
// play.
func springSeat(f *params.Fixture, _ *clamp.Input) *finding.Finding {
	if f.Spring == nil {
		return nil
	}
	rest, wants := f.SpringRest()
	have, need := rest.MM(), wants.MM()
	if have < need-closedSlack {
		return missed("spring-held", finding.AtLeast, have, need, "mm", "washers.series")
	}
	return nil
}

// springGuide: discs must be guided by the rod. It only warns.
func springGuide(f *params.Fixture) *finding.Finding {
	if f.Spring == nil || f.Spring.Disc == nil || f.Spring.BushOuter > 0 || f.Spring.Disc.GuidedBy(f.Rods.Thread.Major) {
		return nil
	}
	have, need := (f.Spring.Disc.Inner - f.Rods.Thread.Major).MM(), f.Spring.Disc.GuidePlay().MM()
	return missed("spring-guided", finding.AtMost, have, need, "mm", "springs.disc")
}

// footRoom: printed feet must end below the lowest angle.
func footRoom(f *params.Fixture, _ *clamp.Input) *finding.Finding {
	if clash := assembly.FootClash(f); clash > closedSlack {
		return missed("parts-apart", finding.AtLeast, -clash, 0, "mm", "plates.feet.inset")
	}
	return nil
}

// rodPlay: the rod must pass its holes although each is off by the shop's error.
func rodPlay(f *params.Fixture, _ *clamp.Input) *finding.Finding {
	play, need := (f.Rods.Hole-f.Rods.Thread.Major).MM()/2, f.Tolerances.HolePosition.MM()
	if play < need-closedSlack {
		return missed("rod-passes", finding.AtLeast, play, need, "mm", "rods.hole")
	}
	return nil
}

// rodShare: rod, thread and seat under the force of tightening, as in clamp's
// margins.
func rodShare(f *params.Fixture, in *clamp.Input) *finding.Finding {
	if len(in.Rods) == 0 {
		return nil
	}
	force, r := f.MostRodForce(f.Cell.ForceTarget).N(), in.Rods[0]
	for _, t := range []struct {
		id          finding.ID
		have, allow float64
		param       string
	}{
		{"clamp-rod-stress", force / r.AreaMM2, r.ProofMPa, "rods.grade"},
		{"clamp-thread-stress", force / r.StripArea(), r.ProofMPa / math.Sqrt(3), "rods.grade"},
		{"clamp-seat-stress", force / r.Seat.Area(), r.Seat.ShortMPa, "washers.series"},
	} {
		if t.have > t.allow*(1+1e-6) {
			return missed(t.id, finding.AtMost, t.have, t.allow, "MPa", t.param)
		}
	}
	return nil
}

// springShare: the springs must not be flat under the force of tightening.
func springShare(f *params.Fixture, in *clamp.Input) *finding.Finding {
	s := f.Spring
	if s == nil || len(in.Rods) == 0 {
		return nil
	}
	force := f.MostRodForce(f.Cell.ForceTarget).N() / float64(max(1, s.Parallel))
	flat := 0.0
	if s.Disc != nil {
		flat, _ = in.Rods[0].Spring.Disc.Force(s.Disc.H0.MM())
	} else {
		flat = float64(s.Coil.Rate()) * (s.Coil.Free - s.Coil.Solid).MM()
	}
	if force > flat*(1+1e-6) {
		return missed(clamp.SpringRange, finding.AtMost, force, flat, "N", "springs")
	}
	return nil
}
