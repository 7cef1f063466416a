package clamp

import (
	"fmt"
	"math"

	"clampwright/assembly/finding"
)

// Band says whether the verdict survives what is not known of the cells.
type Band struct {
	Holds     bool            `json:"holds"` // same verdict in every case
	Worst     finding.Verdict `json:"worst"`
	Decides   string          `json:"decides"` // "", or which unknown changes the verdict
	Sentence  string          `json:"sentence"`
	Cases     []BandCase      `json:"cases"`
	Stiffness Span            `json:"stiffness_factor"`
	Growth    Span            `json:"growth_factor"`
}

// BandCase is all states under one pair of assumptions.
type BandCase struct {
	Stiffness float64         `json:"stiffness_factor"`
	Growth    float64         `json:"growth_factor"`
	Verdict   finding.Verdict `json:"verdict"`
	Limiting  string          `json:"limiting,omitempty"`
	ForceN    Span            `json:"force_n"`   // over the states
	SwellKPa  Span            `json:"swell_kpa"` // pressure in the middle of the face, over the states
}

// The unknowns that can decide.
const (
	DecidesStiffness = "cell stiffness"
	DecidesGrowth    = "growth"
	DecidesBoth      = "cell stiffness and growth together"
)

// spans returns the factors of a band with defaults.
func (b BandSpec) spans() (stiff, growth Span) {
	stiff = Span{orElse(b.StiffLow, bandStiffLow), orElse(b.StiffHigh, bandStiffHigh)}
	growth = Span{orElse(b.GrowthLow, bandGrowthLow), orElse(b.GrowthHigh, bandGrowthHigh)}
	return stiff, growth
}

// band solves all states over the band on a coarse grid. centre is the
// best-known stiffness factor, and stiff the band round it.
func band(s *system, specs []StateSpec, centre float64, stiff, growth Span) (Band, error) {
	out := Band{Stiffness: stiff, Growth: growth, Worst: finding.Pass, Holds: true}
	for _, k := range []knowledge{
		{centre, 1}, {stiff.Least, 1}, {stiff.Greatest, 1}, {centre, growth.Least}, {centre, growth.Greatest},
		{stiff.Least, growth.Least}, {stiff.Least, growth.Greatest}, {stiff.Greatest, growth.Least}, {stiff.Greatest, growth.Greatest},
	} {
		c, err := bandCase(s, specs, k)
		if err != nil {
			return Band{}, err
		}
		out.Cases = append(out.Cases, c)
		out.Worst = out.Worst.Worse(c.Verdict)
		out.Holds = out.Holds && c.Verdict == out.Cases[0].Verdict
	}
	out.Decides = decides(out.Cases)
	out.Sentence = bandSentence(out, s.sprung())
	return out, nil
}

// bandCase solves all states under one pair of assumptions.
func bandCase(s *system, specs []StateSpec, k knowledge) (BandCase, error) {
	f := newFixtureOn(s, k)
	out := BandCase{Stiffness: k.stiffness, Growth: k.growth, Verdict: finding.Pass}
	for i, st := range specs {
		state, err := f.state(st)
		if err != nil {
			return out, err
		}
		if out.Verdict.Worse(state.Verdict) != out.Verdict {
			out.Verdict, out.Limiting = state.Verdict, state.Name+": "+state.Limiting
		}
		out.ForceN.add(state.ForceN, i == 0)
		out.SwellKPa.add(state.Pressure.Swell, i == 0)
	}
	return out, nil
}

// decides names the unknown whose own band changes the verdict (cases 1, 2:
// stiffness; 3, 4: growth), or both if only their combination does.
func decides(c []BandCase) string {
	changes := func(idx ...int) bool {
		for _, i := range idx {
			if c[i].Verdict != c[0].Verdict {
				return true
			}
		}
		return false
	}
	stiff, growth := changes(1, 2), changes(3, 4)
	switch {
	case stiff && growth:
		return DecidesBoth
	case stiff:
		return DecidesStiffness
	case growth:
		return DecidesGrowth
	case changes(5, 6, 7, 8):
		return DecidesBoth
	}
	return ""
}

func bandSentence(b Band, sprung bool) string {
	force := b.Cases[0].ForceN
	for _, c := range b.Cases {
		force.Least, force.Greatest = math.Min(force.Least, c.ForceN.Least), math.Max(force.Greatest, c.ForceN.Greatest)
	}
	if b.Holds {
		return fmt.Sprintf("The verdict (%s) holds over the whole band: cells from %g to %g times as stiff, growth from %g to %g times the table; force from %.0f to %.0f N.",
			b.Cases[0].Verdict, b.Stiffness.Least, b.Stiffness.Greatest, b.Growth.Least, b.Growth.Greatest, force.Least, force.Greatest)
	}
	cure := "Springs narrow it; with locked nuts a measurement of the stack hardly does."
	if sprung {
		cure = "A bench measurement of the stack narrows it."
	}
	verb := "decides"
	if b.Decides == DecidesBoth {
		verb = "decide"
	}
	return fmt.Sprintf("The verdict depends on what is not known: %s %s it (%s at the table's values, %s at worst; force from %.0f to %.0f N). %s",
		b.Decides, verb, b.Cases[0].Verdict, b.Worst, force.Least, force.Greatest, cure)
}
