package clamp

import (
	"fmt"
	"math"

	"clampwright/assembly/finding"
	"clampwright/params/words"
)

// Stable names of the warnings.
const (
	WarnNutDrag     = "nut-drag"
	WarnRodStretch  = "rod-stretch"
	WarnSeatPlastic = "seat-pressure"
	WarnFriction    = "friction-band"
	WarnGrowth      = "growth-not-monotonic"
	WarnUnknown     = "window-unknown"
	WarnNone        = "no-compression"
	WarnMesh        = "mesh-error"
	WarnLoose       = "rod-loose"
)

// loseShare is the part of its stretch that a rod may lose before a warning.
const loseShare = 0.3

// warnings lists the traps these numbers show.
func (f *fixture) warnings(r *Result) []Warning {
	var out []Warning
	add := func(id, format string, a ...any) { out = append(out, Warning{id, fmt.Sprintf(format, a...)}) }
	warnTorque(f, r, add)
	warnStretch(f, r, add)
	warnSeat(f, r, add)
	warnCells(f, add)
	warnWindow(f, add)
	for _, s := range r.States {
		for k, n := range s.RodForceN {
			if n <= 0 {
				add(WarnLoose, "In the state %q rod %d is slack: the stack has become shorter than the room between the plates.", s.Name, k+1)
				break
			}
		}
	}
	if r.Mesh.Error > meshTolerance {
		add(WarnMesh, "The grid's estimated error in the centre pressure is %.1f %%; ask for a finer grid.", 100*r.Mesh.Error)
	}
	return out
}

// meshTolerance is the error of the centre pressure that the default grid keeps.
const meshTolerance = 0.02

type adder func(id, format string, a ...any)

func warnTorque(f *fixture, r *Result, add adder) {
	s := r.Setting
	if s.DragNMM.Greatest > f.nominalClamp() {
		add(WarnNutDrag, "The nut's own drag (up to %.2f N·m) is more than the clamping torque (%.2f N·m for %.0f N): a torque wrench reads drag, not force.",
			s.DragNMM.Greatest/1000, f.nominalClamp()/1000, s.RodN.Greatest)
	}
	k := f.in.friction()
	add(WarnFriction, "Published torque coefficients disagree (%.2f to %.2f here): at the same torque the force may differ by a factor of %.1f.", k.Low, k.High, k.High/k.Low)
}

// warnStretch compares a rod's elastic stretch, springs included, with what
// settling and creep take away.
func warnStretch(f *fixture, r *Result, add adder) {
	worst, at := 0.0, 0
	for k, rod := range f.in.Rods {
		if v := f.lost(r, k) / f.give(k); v > worst && rod.Spring.Kind == SpringNone {
			worst, at = v, k
		}
	}
	if worst > loseShare {
		c := f.s.rods[f.s.groupOf[at]].curve
		add(WarnRodStretch, "Rod %d stretches only %.2f mm at its force; creep and settling over 1000 h take %.0f %% of the clamp's give. Fit springs or tighten again.",
			at+1, f.tight.rodF[f.s.groupOf[at]]/c.k, 100*worst)
	}
}

// give is how far the clamp can follow before rod k is slack: rod and springs.
func (f *fixture) give(k int) float64 {
	g := f.s.groupOf[k]
	return math.Max(f.s.rods[g].curve.stretch(f.tight.rodF[g]), 1e-9)
}

// lost is how much of rod k's stretch is gone after the longest state under load
// at assembly charge.
func (f *fixture) lost(r *Result, k int) float64 {
	g := f.s.groupOf[k]
	least := f.tight.rodF[g]
	for i, st := range f.specs() {
		if st.Hours > 0 && st.Charge == f.in.AssemblyCharge && st.Aged == 0 && i < len(r.States) {
			least = math.Min(least, r.States[i].RodForceN[k])
		}
	}
	c := f.s.rods[g].curve
	return c.stretch(f.tight.rodF[g]) - c.stretch(least)
}

func warnSeat(f *fixture, r *Result, add adder) {
	for _, s := range r.States {
		for _, m := range s.Margins {
			if m.Part == "seat" && m.Verdict != finding.Pass {
				seat := f.in.Rods[m.Index].Seat
				need := math.Sqrt(seat.InnerMM*seat.InnerMM + 4/math.Pi*seat.Area()*m.Stress/m.Allowed)
				add(WarnSeatPlastic, "The washer of rod %d bears %.1f MPa on %s in the state %q; it may bear %.1f MPa for long. A washer %.0f mm wide would do.",
					m.Index+1, m.Stress, orWord(seat.Material, "its seat"), s.Name, m.Allowed, math.Ceil(need))
				return
			}
		}
	}
}

func orWord(s, def string) string {
	if s == "" {
		return def
	}
	return s
}

func warnCells(f *fixture, add adder) {
	for i, row := range f.in.Rows {
		if !monotonic(row.Growth.Points) {
			add(WarnGrowth, "The cells of row %s do not grow evenly with charge: they rise, stay flat or sink, and rise again, as usual for iron phosphate. The greatest force need not come at full charge.", words.Row(i))
			break
		}
	}
}

func monotonic(p []GrowthPoint) bool {
	for i := range p {
		if i > 0 && p[i].Value < p[i-1].Value {
			return false
		}
	}
	return true
}

func warnWindow(f *fixture, add adder) {
	switch f.asked.Kind {
	case WindowUnknown:
		add(WarnUnknown, "The data sheet gives no clamp force: %.0f to %.0f kPa when set, %.0f to %.0f kPa in service, is a mild range after common practice, no source.",
			f.asked.MinKPa, f.asked.MaxKPa, f.asked.FloorKPa, f.asked.LimitKPa)
	case WindowNone:
		add(WarnNone, "The cells' case carries the load: the fixture holds them and must not press; over %.0f kPa counts as pressing (common practice, no source).", f.asked.LimitKPa)
	}
}
