package check

import (
	"fmt"
	"math"

	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/params/unit"
)

// roundStep is the step that remedies are rounded to, mm: the last decimal of
// millimetres or the finest fraction of an inch that the user's style writes.
func roundStep(s params.Style) float64 {
	if s.Unit == unit.Inch && s.Denominator > 0 {
		return unit.MMPerInch / float64(s.Denominator)
	}
	return math.Pow(10, -float64(min(max(s.Decimals, 0), 4)))
}

// nudge keeps a value that is already on a step from being rounded on, in
// steps.
const nudge = 1e-9

// roundToward rounds base+by to the user's step, away from base so that the
// change is never less than asked.
func roundToward(s params.Style, base, by float64) float64 {
	step := roundStep(s)
	x := (base + by) / step
	if by < 0 {
		return math.Floor(x+nudge) * step
	}
	return math.Ceil(x-nudge) * step
}

// setting is a parameter changed by a length, rounded to the user's step.
func (b *bench) setting(param string, base, by float64) finding.Setting {
	return finding.Setting{Param: param, Value: roundToward(b.fixture.Style, base, by)}
}

// move is the change of one parameter by factor times delta.
func (b *bench) move(param string, base, factor, most float64, words string) change {
	return change{
		at: func(d float64) []finding.Setting { return []finding.Setting{b.setting(param, base, factor*d)} },
		text: func(_ float64, set []finding.Setting) string {
			return fmt.Sprintf("%s: set %s to %s (now %s)", words, param, b.length(set[0].Value), b.length(base))
		},
		max: most,
	}
}

// length writes a length in the user's unit; in inches as a fraction when it is
// one, else in millimetres, so that no digit is lost.
func (b *bench) length(mm float64) string {
	s := b.fixture.Style
	u := s.Lengths()
	u.Decimals = max(u.Decimals, 2)
	if steps := mm / roundStep(s); s.Unit == unit.Inch && math.Abs(steps-math.Round(steps)) > 1e-6 {
		u.Unit = unit.Millimetre
	}
	return unit.Length(mm).Short(u)
}

// up writes a length rounded up to the user's step, down one rounded down.
func (b *bench) up(mm float64) string   { return b.length(roundToward(b.fixture.Style, mm, 0)) }
func (b *bench) down(mm float64) string { return b.length(roundToward(b.fixture.Style, mm, -1e-12)) }
