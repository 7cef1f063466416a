package sizing

import (
	"fmt"
	"math"

	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/params"
)

// Bound is one comparison that limits a candidate.
type Bound struct {
	Name       string // "as tightened: mean pressure against the most allowed"
	Have, Need float64
	Unit       string
	AtMost     bool
	// Over is by how much the bound is missed, relative to it; negative when
	// kept: how much is left.
	Over float64
	// Param is the parameter that would have to give, where it is one, and
	// Change says how far.
	Param, Change string
}

// Slack is what the coarse grid may be off and a candidate still be kept for the
// full one: relative, on every bound. The tests measure the true difference.
const Slack = 0.10

// demands says which warnings of the clamp a candidate may not raise.
type demands struct {
	window bool // pressures outside the window
	clean  bool // any other
}

// broken returns the bounds of a state that a candidate for building may not
// miss by more than slack: failing ones, and of those that only warn what is
// demanded.
func (d demands) broken(s clamp.State, slack float64) []Bound {
	var out []Bound
	for _, f := range s.Findings {
		wanted := f.Verdict == finding.Fail || f.Verdict == finding.Warn && (f.Unit == "kPa" && d.window || f.Unit != "kPa" && d.clean)
		if b := boundOf(s.Name, f); wanted && b.Over > slack {
			out = append(out, b)
		}
	}
	return out
}

// boundOf turns a finding into a bound. A finding that fails by half its limit
// (see clamp) counts from the limit itself.
func boundOf(state string, f finding.Finding) Bound {
	b := Missed(f)
	b.Name = state + ": " + b.Name
	return b
}

// over is by how much a bound is missed, relative to it.
func over(have, need float64, atMost bool) float64 {
	scale := math.Max(math.Abs(need), 1e-9)
	if atMost {
		return (have - need) / scale
	}
	return (need - have) / scale
}

// atBound keeps rounding from making a bound that is met look missed.
const atBound = 1e-6

// tightest is the bound with least left, or exceeded most, over the states; of
// bounds alike but for rounding the first.
func tightest(states []clamp.State) Bound {
	best := Bound{Over: math.Inf(-1)}
	for _, s := range states {
		for _, f := range s.Findings {
			if b := boundOf(s.Name, f); f.Need != 0 && b.Over > best.Over+atBound {
				best = b
			}
		}
	}
	return best
}

// clampWarns are the bounds that are missed though nothing fails, such as the
// lasting limit of a seat: the worst state of each.
func clampWarns(states []clamp.State) []string {
	var over []Bound
	for _, s := range states {
		for _, f := range s.Findings {
			if b := boundOf(s.Name, f); f.Verdict == finding.Warn && b.Over > atBound {
				over = append(over, b)
			}
		}
	}
	var out []string
	for _, b := range merged(over) {
		out = append(out, b.String())
	}
	return out
}

// Missed is the bound of a finding with what it found.
func Missed(f finding.Finding) Bound {
	name := string(f.ID)
	if f.Group == finding.GroupClamp {
		name = f.Name()
	}
	b := Bound{Name: name, Have: f.Have, Need: f.Need, Unit: f.Unit, AtMost: f.Sense == finding.AtMost, Over: f.Over()}
	if len(f.Params) > 0 {
		b.Param = f.Params[0]
	}
	if f.Remedy != nil {
		b.Change = f.Remedy.Text
	}
	return b
}

// give fills in which parameter would have to give for a bound of the clamp.
func (b *Bound) give(f *params.Fixture) {
	if b.Param != "" || b.Unit != "kPa" {
		return
	}
	area := f.Cell.Width.MM() * f.Cell.Height.MM() / 1000 // N per kPa
	have := b.Have * area
	switch {
	case !b.AtMost:
		b.Param, b.Change = "cell.force_tolerance", fmt.Sprintf("the least force asked would have to fall from %.0f to %.0f N", b.Need*area, have)
	case math.Abs(b.Need*area-f.Cell.ForceLimit.N()) < 1:
		b.Param, b.Change = "cell.force_limit", fmt.Sprintf("the most force allowed in any state would have to rise from %.0f to %.0f N", b.Need*area, have)
	default:
		b.Param, b.Change = "cell.force_tolerance", fmt.Sprintf("the most force allowed when tightening would have to rise from %.0f to %.0f N", b.Need*area, have)
	}
}

// String writes the bound with its figures.
func (b Bound) String() string {
	word, wrong := "at least", "missed, "
	if b.AtMost {
		word, wrong = "at most", "exceeded, "
	}
	if b.Over > atBound {
		word = wrong + word
	}
	return fmt.Sprintf("%s (%s; %s %s)", b.Name, figure(b.Have, b.Unit), word, figure(b.Need, b.Unit))
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
