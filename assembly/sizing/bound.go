package sizing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/params"
)

// Slack is what the coarse grid may be off and a candidate still be kept for the
// full one: relative, on every bound; forceSlack on those that hang on the rods' forces
// alone. The tests measure the true difference.
const Slack, forceSlack = 0.10, 0.02

// byForce are the bounds that hang on the rods' forces alone.
var byForce = map[finding.ID]bool{clamp.SpringRange: true, clamp.CoilStress: true, "clamp-rod-stress": true, "clamp-thread-stress": true, "clamp-seat-stress": true}

func slackOf(id finding.ID) float64 {
	if byForce[id] {
		return forceSlack
	}
	return Slack
}

// demands says which warnings of the clamp a candidate may not raise.
type demands struct {
	window bool // pressures outside the window
	clean  bool // any other
}

// broken returns the bounds of a state that a candidate for building may not miss, on a
// rough grid by more than slackOf: failing ones, and of those that only warn what is
// demanded.
func (d demands) broken(s clamp.State, rough bool) []finding.Finding {
	var out []finding.Finding
	for _, f := range s.Findings {
		wanted := f.Verdict == finding.Fail || f.Verdict == finding.Warn && (d.clean || d.window && (f.ID == clamp.MeanLow || f.ID == clamp.Middle))
		slack := 0.0
		if rough {
			slack = slackOf(f.ID)
		}
		if wanted && f.Over() > slack {
			out = append(out, f)
		}
	}
	return out
}

// corrected returns the state with each stress as the full grid would find it: as much
// above the rough one as it is when tightened.
func corrected(st, rough, fine clamp.State) clamp.State {
	ratio := map[string]float64{}
	for _, f := range fine.Findings {
		ratio[f.Key()] = f.Have
	}
	st.Findings = slices.Clone(st.Findings)
	for k, f := range rough.Findings {
		if of := ratio[f.Key()]; f.Unit == "MPa" && f.Have > 0 && of > 0 && k < len(st.Findings) && st.Findings[k].Key() == f.Key() {
			g := &st.Findings[k]
			if g.Have *= of / f.Have; g.Verdict == finding.Pass && g.Over() > 0 {
				g.Verdict = finding.Warn // at least
			}
		}
	}
	return st
}

// atBound keeps rounding from making a bound that is met look missed.
const atBound = 1e-6

// clampWarns are the bounds that are missed though nothing fails, such as the
// lasting limit of a seat: the worst state of each.
func clampWarns(states []clamp.State) []string {
	var over []finding.Finding
	for _, s := range states {
		for _, f := range s.Findings {
			if f.Verdict == finding.Warn && f.Over() > atBound {
				over = append(over, f)
			}
		}
	}
	var out []string
	for _, f := range merged(over) {
		out = append(out, Words(params.Style{}, f))
	}
	return out
}

// stopped is a candidate that cannot be judged further, as a finding.
func stopped(id finding.ID, err error) finding.Finding {
	return finding.Finding{ID: id, Group: finding.GroupClamp, Verdict: finding.Fail, Sense: finding.AtLeast, Need: 1, Unit: "solutions", Between: []string{err.Error()}}
}

// Words writes a finding with its figures, for a list of bounds; those of the
// clamp with their state.
func Words(s params.Style, f finding.Finding) string {
	figure := func(v float64) string { return s.Say(figure(v, f.Unit)) }
	name, wanted := f.Name(), f.Wanted(figure)
	switch {
	case f.ID == clamp.Share:
		name = "share that stays within " + f.Between[len(f.Between)-1]
	case f.Group == finding.GroupClamp:
		name = strings.Join(f.Between, ", ") + ": " + name
	}
	switch {
	case f.Over() <= atBound:
	case f.Sense == finding.AtMost:
		wanted = "exceeded, " + wanted
	default:
		wanted = "missed, " + wanted
	}
	return fmt.Sprintf("%s (%s; %s)", name, figure(f.Have), wanted)
}

func figure(v float64, unit string) string {
	switch {
	case math.Abs(v) >= 100:
		return fmt.Sprintf("%.0f %s", v, unit)
	case math.Abs(v) >= 1:
		return fmt.Sprintf("%.1f %s", v, unit)
	}
	return fmt.Sprintf("%.2f %s", v, unit)
}
