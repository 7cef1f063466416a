package clamp

import (
	"math"
	"slices"
	"strings"

	"clampwright/assembly/finding"
	"clampwright/params/words"
)

// resolveWindow is the window as mean pressures over a face. The input has been
// validated.
func resolveWindow(in Input) Asked {
	w := in.Window
	total := 0.0
	for _, r := range in.Rows {
		total += r.Face.area()
	}
	kPa := 1000 / in.Rows[0].Face.area()
	return Asked{
		Kind: w.Kind, Source: w.Source, MinKPa: w.Min * kPa, TargetKPa: w.Target * kPa, MaxKPa: w.Max * kPa,
		FloorKPa: orElse(w.Floor, w.Min) * kPa, LimitKPa: orElse(w.Limit, w.Max) * kPa, TargetN: w.Target * kPa / 1000 * total,
	}
}

// round off of a force that is set exactly at an edge of the window.
const edgeShare = 1e-6

// judge fills findings, verdict and the limiting one.
func (f *fixture) judge(st StateSpec, s *State) {
	for r := range s.Rows {
		s.Findings = append(s.Findings, judgeRow(f, st, r, s.Rows[r])...)
	}
	for _, m := range s.Margins {
		s.Findings = append(s.Findings, marginFinding(m))
	}
	s.Findings = append(s.Findings, judgeSprings(f, s)...)
	s.Verdict = finding.Pass
	for i := range s.Findings {
		v := &s.Findings[i]
		v.Group, v.Between = finding.GroupClamp, []string{s.Name}
		if v.Verdict.Rank() > s.Verdict.Rank() {
			s.Verdict, s.Limiting = v.Verdict, v.Name()
		}
	}
}

// The ids of the clamp's findings; those of margins are stressID.
const (
	MeanLow     finding.ID = "clamp-mean-pressure-low"
	MeanHigh    finding.ID = "clamp-mean-pressure-high"
	Middle      finding.ID = "clamp-middle-pressure"
	MiddleShare finding.ID = "clamp-middle-share"
	MiddleHigh  finding.ID = "clamp-middle-pressure-high"
	MiddleLeast finding.ID = "clamp-middle-least-pressure"
	MiddleTouch finding.ID = "clamp-middle-contact"
	Peak        finding.ID = "clamp-peak-pressure"
	SpringRange finding.ID = "clamp-spring-travel"
	CoilStress  finding.ID = "clamp-coil-spring-stress"
	Share       finding.ID = "clamp-share"     // made where the share is known, not here
	SetForce    finding.ID = "clamp-set-force" // made where readings tell it
	InDoubt     finding.ID = "clamp-readings-in-doubt"
)

// stressID is the id of a part's margin: "clamp-plate-stress".
func stressID(part string) finding.ID {
	return finding.ID("clamp-" + strings.ReplaceAll(part, " ", "-") + "-stress")
}

// judgeRow compares one row's pressure with the window.
func judgeRow(f *fixture, st StateSpec, r int, l RowLoad) []finding.Finding {
	a, p := f.asked, l.Pressure
	label := ""
	if len(f.in.Rows) > 1 {
		label = "row " + words.Row(r)
	}
	low, high, bad := a.FloorKPa, a.LimitKPa, a.FloorKPa
	if a.Kind == WindowNone {
		bad = 0 // loose cells are a nuisance, no danger: warn
	}
	if st.Tighten {
		low, high = a.MinKPa, a.MaxKPa
	}
	out := []finding.Finding{
		{ID: MeanLow, Verdict: below(p.Mean, low, bad), Have: p.Mean, Sense: finding.AtLeast, Need: low, Unit: "kPa",
			Why: "too little pressure lets the case dome and the layers part"},
		{ID: MeanHigh, Verdict: above(p.Mean, high), Have: p.Mean, Sense: finding.AtMost, Need: high, Unit: "kPa",
			Why: "too much pressure squeezes the separator and shortens the cell's life"},
	}
	if a.Kind != WindowNone {
		out = append(out, finding.Finding{ID: Middle, Verdict: below(p.Swell, low, bad), Have: p.Swell, Sense: finding.AtLeast, Need: low, Unit: "kPa",
			Why: "the middle is where the cell domes; pressure at the edges does not hold it"})
		out = append(out, judgeZone(f, l)...)
	}
	for i := range out {
		out[i].Of = label
	}
	return out
}

// Purpose says whether a finding is what the clamp is for: to press the middle.
func Purpose(id finding.ID) bool {
	return slices.Contains([]finding.ID{Middle, MiddleShare, MiddleLeast, MiddleTouch}, id)
}

// Limits in the swell zone, where data sheets give none: judgements, no source. The
// first of each fails, the second warns.
var (
	middleShare = [2]float64{60, 80}           // % of the mean
	middleTouch = [2]float64{90, 99.9}         // % in contact
	middleLeast = [2]float64{0.25, 0.5}        // of the floor in service
	middleMost  = [2]float64{1 / 0.6, 1 / 0.8} // of the ceiling in service, which is one of the mean: as far above it as middleShare is below
	peakMost    = [2]float64{4, 2}             // the same, for a spot
)

// judged is why a limit stands that no data sheet gives.
const judged = " (a judgement of ours, no source: data sheets give a force, and no limit for a spot)"

// judgeZone judges the middle of the face, where the cell domes, and the worst spot
// under an edge.
func judgeZone(f *fixture, l RowLoad) []finding.Finding {
	a, p := f.asked, l.Pressure
	find := func(id finding.ID, judge func(have, fail, warn, slack float64) finding.Finding, have float64, limit [2]float64, times float64, unit, why string) finding.Finding {
		g := judge(have, limit[0]*times, limit[1]*times, edgeShare*limit[0]*times)
		g.ID, g.Unit, g.Why = id, unit, why
		return g
	}
	share, why := middleShare, "the middle of the face is where the cell domes; edges that are pressed harder do not hold it"+judged
	if own := 100 * f.in.Window.Middle; own > 0 {
		share, why = [2]float64{own, own}, "the data sheet asks for that part of the mean in the middle of the face"
	}
	out := []finding.Finding{
		find(MiddleShare, finding.JudgeLeast, 100*l.middleRatio(), share, 1, "% of the mean", why),
		find(MiddleTouch, finding.JudgeLeast, 100*l.SwellContact, middleTouch, 1, "% of the middle", "what nothing touches in the middle of the face is free to dome"+judged),
		find(MiddleLeast, finding.JudgeLeast, p.SwellLow, middleLeast, a.FloorKPa, "kPa", "the case domes at the spot that is pressed least"+judged),
		find(MiddleHigh, finding.JudgeMost, p.Swell, middleMost, a.LimitKPa, "kPa", "the layers in the middle of the face take what is pressed there, not the mean"+judged),
		find(Peak, finding.JudgeMost, p.Greatest, peakMost, a.LimitKPa, "kPa", "the case is dented where an edge presses it"+judged),
	}
	for i := range out {
		if id := out[i].ID; id == MiddleHigh || id == Peak {
			out[i].Hint = "ask the cell's maker what pressure one spot of the face may bear when the cells are full and aged"
		}
	}
	return out
}

// below warns under lo and fails under bad, and where nothing presses at all.
func below(v, lo, bad float64) finding.Verdict {
	switch {
	case v <= 0 || v < bad*(1-edgeShare):
		return finding.Fail
	case v < lo*(1-edgeShare):
		return finding.Warn
	}
	return finding.Pass
}

func above(v, hi float64) finding.Verdict {
	if v > hi*(1+edgeShare) {
		return finding.Fail
	}
	return finding.Pass
}

func marginFinding(m Margin) finding.Finding {
	why := map[string]string{
		"plate":       "the plate bends to its strength",
		"stiffener":   "the angle yields in bending and stays bent",
		"rod":         "the rod is stretched beyond its proof load",
		"rod bending": "the rod's ends tilt with their seats and bend it for good",
		"foot":        "the angle's foot sinks into the plate and the force is lost",
		"pad":         "a pad that is pressed flat yields no more to the cells' growth",
		"thread":      "the thread strips in the nut",
		"seat":        "the washer sinks into its seat and the force is lost",
	}
	return finding.Finding{ID: stressID(m.Part), Verdict: m.Verdict, Have: m.Stress, Sense: finding.AtMost, Need: m.Allowed, Unit: "MPa", Why: why[m.Part]}
}

// judgeSprings checks the springs' travel and, for coils, their stress.
func judgeSprings(f *fixture, s *State) []finding.Finding {
	var worst *finding.Finding
	for r, rod := range f.in.Rods {
		c := f.s.rods[f.s.groupOf[r]].curve
		if rod.Spring.Kind == SpringNone {
			continue
		}
		v, lim := c.springAt(s.RodForceN[r]), c.spring.travel()
		if flat, _ := c.packet(lim); v > lim && flat > 0 {
			v = lim * s.RodForceN[r] / flat // the way that the force would take
		}
		work := orElse(c.spring.work(), lim)
		q := finding.Finding{ID: SpringRange, Verdict: finding.Pass, Have: v, Sense: finding.AtMost, Need: work, Unit: "mm",
			Why: "a spring beyond its working travel tires; flat, it no longer yields to the cells' growth"}
		if v > work*(1+edgeShare) {
			q.Verdict = finding.Warn
		}
		if v > lim*(1+edgeShare) {
			q.Verdict = finding.Fail
		}
		if worst == nil || q.Have-q.Need > worst.Have-worst.Need {
			worst = &q
		}
	}
	if worst == nil {
		return nil
	}
	return append([]finding.Finding{*worst}, coilStress(f, s)...)
}

// coilStress checks the shear stress of coil springs with a known limit.
func coilStress(f *fixture, s *State) []finding.Finding {
	worst := finding.Finding{ID: CoilStress, Sense: finding.AtMost, Unit: "MPa", Verdict: finding.Pass, Why: "an overstressed spring sets and loses force"}
	for r, rod := range f.in.Rods {
		coil := rod.Spring.Coil
		if rod.Spring.Kind != SpringCoil || coil.ShearMPa <= 0 || coil.WireMM <= 0 {
			continue
		}
		tau := coil.Shear(s.RodForceN[r] / math.Max(1, float64(rod.Spring.Parallel)))
		if tau > worst.Have {
			worst.Have, worst.Need = tau, coil.ShearMPa
			worst.Verdict = above(tau, coil.ShearMPa)
		}
	}
	if worst.Have == 0 {
		return nil
	}
	return []finding.Finding{worst}
}
