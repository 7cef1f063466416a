package job

import (
	"fmt"
	"math"

	"clampwright/assembly/estimate"
	"clampwright/params"
	"clampwright/params/diag"
)

// mostYears is how long after the setting a reading may be: longer than any clamp is asked
// to hold.
const mostYears = 40

// impossible are readings that cannot be, whatever the cells are: springs higher than they
// are unloaded or weighed where they cannot be pressed to, a later reading before the day of setting, or long after its life.
func impossible(f *params.Fixture, rs []estimate.Reading) (out diag.List) {
	var set params.Reading
	for _, r := range rs {
		if x := f.Readings[r.Ref]; r.Stage == estimate.Set && x.Day > 0 && (set.Day == 0 || x.Day < set.Day) {
			set = x
		}
	}
	for _, r := range rs {
		x, s := f.Readings[r.Ref], f.Spring
		later := r.Stage >= estimate.Visit && set.Day > 0 && x.Day > 0
		switch {
		case r.What == estimate.Height && s != nil && x.Value > s.FreeHeight.MM()+x.Uncertainty:
			out = append(out, diag.Diagnostic{Summary: "a spring is higher than without any load", Range: x.At, Found: f.Style.Small(x.Value),
				Expected: "at most " + f.Style.Small(s.FreeHeight.MM()), Suggestion: "read it again, or give the springs that are fitted"})
		case r.What == estimate.Weighed && s != nil && (x.HighMM > s.FreeHeight.MM() || x.HighMM < s.SolidHeight().MM()):
			out = append(out, diag.Diagnostic{Summary: "a spring was weighed at a height that it cannot have", Range: x.At, Found: f.Style.Small(x.HighMM),
				Expected: f.Style.Small(s.SolidHeight().MM()) + " to " + f.Style.Small(s.FreeHeight.MM()), Suggestion: "weigh it again at the height as set, or give the springs that are fitted"})
		case later && x.Day < set.Day:
			out = append(out, diag.Diagnostic{Summary: "a later reading before the day of setting", Range: x.At, Related: []diag.Range{set.At}, Suggestion: "look at both dates"})
		case later && r.Years > mostYears:
			out = append(out, diag.Diagnostic{Summary: fmt.Sprintf("a reading more than %d years after the setting", mostYears), Range: x.At, Related: []diag.Range{set.At}, Suggestion: "look at both dates"})
		}
	}
	return out
}

// torn says that the readings tell of a force that no rod carries: one of them is wrong, or
// in another unit. It names the two that raise it most.
func torn(f *params.Fixture, e *estimate.Estimate) error {
	all, _ := e.Forces(e.Now())
	most := float64(len(f.Ties())) * f.Rods.Grade.Tensile.MPa() * float64(f.Rods.Thread.StressArea)
	if most <= 0 || all.Value <= most {
		return nil
	}
	if math.IsNaN(all.Value) {
		return diag.List{{Summary: "the readings tell of no force that can be", Range: f.Readings[0].At, Suggestion: "read them again: one is wrong, or in another unit"}}
	}
	forces := f.Style.Forces()
	var at []diag.Range
	for _, ref := range e.Raise(e.Now()) {
		at = append(at, f.Readings[ref].At)
	}
	if len(at) == 0 {
		at = append(at, f.Readings[0].At)
	}
	return diag.List{{Summary: "the readings tell of a force that tears the rods", Range: at[0], Related: at[1:min(2, len(at))],
		Found: forces.Text(all.Value) + " in all rods", Expected: "at most " + forces.Text(most),
		Suggestion: "read it again: one is wrong, or in another unit"}}
}
