package check

import (
	"math"

	"clampwright/params"
	"clampwright/params/unit"
)

// roundStep is the step that hints are rounded to, mm: the last decimal of
// millimetres or the finest fraction of an inch that the user's style writes.
func roundStep(s params.Style) float64 {
	if s.Unit == unit.Inch && s.Denominator > 0 {
		return unit.MMPerInch / float64(s.Denominator)
	}
	return math.Pow(10, -float64(min(max(s.Decimals, 0), 4)))
}

// length writes a length in the user's unit; in inches as a fraction when it is
// one, else in millimetres, so that no digit is lost.
func (b *scene) length(mm float64) string {
	s := b.fixture.Style
	u := s.Lengths()
	u.Decimals = max(u.Decimals, 2)
	if steps := mm / roundStep(s); s.Unit == unit.Inch && math.Abs(steps-math.Round(steps)) > 1e-6 {
		u.Unit = unit.Millimetre
	}
	return unit.Length(mm).Short(u)
}

// nudge keeps a value that is already on a step from being rounded on, in
// steps.
const nudge = 1e-9

// up writes a length rounded up to the user's step.
func (b *scene) up(mm float64) string {
	step := roundStep(b.fixture.Style)
	return b.length(math.Ceil(mm/step-nudge) * step)
}
