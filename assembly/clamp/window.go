package clamp

import (
	"fmt"
	"math"
)

// resolveWindow turns the data sheet's words into a mean pressure band. The
// input has been validated.
func resolveWindow(in Input) Asked {
	w := in.Window
	a := Asked{Kind: w.Kind, Source: w.Source}
	area := in.Rows[0].Face.area()
	total := 0.0
	for _, r := range in.Rows {
		total += r.Face.area()
	}
	lo, target, hi, limit := w.band()
	scale := 1000.0 // MPa to kPa
	if w.Kind == WindowForce {
		scale = 1000 / area
	}
	a.MinKPa, a.TargetKPa, a.MaxKPa, a.LimitKPa = lo*scale, target*scale, hi*scale, limit*scale
	a.TargetN = a.TargetKPa / 1000 * total
	if w.Kind == WindowNone || w.Kind == WindowUnknown {
		a.Source = "common practice, no source"
	}
	return a
}

// band returns min, target, max and limit with what is missing filled in.
func (w Window) band() (lo, target, hi, limit float64) {
	lo, target, hi = w.Min, w.Target, w.Max
	switch w.Kind {
	case WindowNone:
		lo, target, hi = HoldMinMPa, HoldTargetMPa, HoldMaxMPa
	case WindowUnknown:
		lo, target, hi = UnknownMinMPa, UnknownTargetMPa, UnknownMaxMPa
	}
	if target == 0 {
		target = (lo + hi) / 2
		if hi == 0 {
			target = lo * (1 + AssumedSpread)
		}
	}
	if hi == 0 {
		hi = target * (1 + AssumedSpread)
	}
	if lo == 0 && w.Kind != WindowNone {
		lo = target * (1 - AssumedSpread)
	}
	limit = hi
	if w.Limit > 0 && (w.Kind == WindowForce || w.Kind == WindowPressure) {
		limit = w.Limit
	}
	return lo, target, hi, limit
}

// round off of a force that is set exactly at an edge of the window.
const edgeShare = 1e-6

// judge fills findings, verdict and the limiting one.
func (f *fixture) judge(st StateSpec, s *State) {
	for r := range s.Rows {
		s.Findings = append(s.Findings, f.judgeRow(st, r, s.Rows[r])...)
	}
	for _, m := range s.Margins {
		s.Findings = append(s.Findings, marginFinding(m))
	}
	s.Findings = append(s.Findings, f.judgeSprings(s)...)
	s.Verdict = Pass
	for _, v := range s.Findings {
		if worse(s.Verdict, v.Verdict) != s.Verdict {
			s.Verdict, s.Limiting = v.Verdict, v.Name
		}
	}
}

// judgeRow compares one row's pressure with the window.
func (f *fixture) judgeRow(st StateSpec, r int, l RowLoad) []Finding {
	a, p := f.asked, l.Pressure
	label := ""
	if len(f.in.Rows) > 1 {
		label = fmt.Sprintf(" (row %d)", r+1)
	}
	high, bad := a.LimitKPa, a.MinKPa/2
	if a.Kind == WindowNone {
		bad = 0 // loose cells are a nuisance, no danger: warn
	}
	if st.Tighten {
		high = a.MaxKPa
	}
	out := []Finding{
		{"mean pressure against the least asked" + label, below(p.Mean, a.MinKPa, bad), p.Mean, a.MinKPa, "kPa",
			"too little pressure lets the case dome and the layers part", true},
		{"mean pressure against the most allowed" + label, above(p.Mean, high), p.Mean, high, "kPa",
			"too much pressure squeezes the separator and shortens the cell's life", false},
	}
	if a.Kind == WindowNone {
		return out
	}
	return append(out, Finding{"pressure in the middle of the face" + label, below(p.Swell, a.MinKPa, a.MinKPa/2), p.Swell, a.MinKPa, "kPa",
		"the middle is where the cell domes; pressure at the edges does not hold it", true})
}

// below warns under lo and fails under half of it.
func below(v, lo, bad float64) Verdict {
	switch {
	case v < bad*(1-edgeShare):
		return Fail
	case v < lo*(1-edgeShare):
		return Warn
	}
	return Pass
}

func above(v, hi float64) Verdict {
	if v > hi*(1+edgeShare) {
		return Fail
	}
	return Pass
}

func marginFinding(m Margin) Finding {
	why := map[string]string{
		"plate":     "the plate bends to its strength",
		"stiffener": "the angle yields in bending and stays bent",
		"rod":       "the rod is stretched beyond its proof load",
		"thread":    "the thread strips in the nut",
		"seat":      "the washer sinks into its seat and the force is lost",
	}
	return Finding{Name: m.Part + " stress", Verdict: m.Verdict, Have: m.Stress, Need: m.Allowed, Unit: "MPa", Why: why[m.Part]}
}

// judgeSprings checks the springs' travel and, for coils, their stress.
func (f *fixture) judgeSprings(s *State) []Finding {
	var worst *Finding
	for r, rod := range f.in.Rods {
		c := f.s.rods[f.s.groupOf[r]].curve
		if rod.Spring.Kind == SpringNone {
			continue
		}
		v, lim := c.springAt(s.RodForceN[r]), c.spring.travel()
		work := lim
		if rod.Spring.Kind == SpringDisc {
			work = springWork * lim
		}
		q := Finding{"spring travel", Pass, v, work, "mm", "a spring beyond its working travel tires; flat, it no longer yields to the cells' growth", false}
		if v > work*(1+edgeShare) {
			q.Verdict = Warn
		}
		if v > lim*(1+edgeShare) {
			q.Verdict = Fail
		}
		if worst == nil || q.Have-q.Need > worst.Have-worst.Need {
			worst = &q
		}
	}
	if worst == nil {
		return nil
	}
	return append([]Finding{*worst}, f.coilStress(s)...)
}

// coilStress checks the shear stress of coil springs with a known limit.
func (f *fixture) coilStress(s *State) []Finding {
	worst := Finding{Name: "coil spring stress", Unit: "MPa", Verdict: Pass, Why: "an overstressed spring sets and loses force"}
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
	return []Finding{worst}
}
