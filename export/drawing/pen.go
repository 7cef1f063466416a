package drawing

import "math"

// Pen is a line type with the width it is drawn in.
type Pen uint8

// The line types. Wide lines are 0.5 mm, narrow ones 0.25 mm (ISO 128, line
// group 0.5, from memory).
const (
	Visible  Pen = iota // visible edges: continuous wide
	Hidden              // hidden edges: dashed narrow
	Centre              // axes and centres: long-dash dot narrow
	Thin                // dimensions, extension lines, leaders, tables: continuous narrow
	Hatching            // section lines: continuous narrow
	Phantom             // neighbouring parts: long-dash double-dot narrow
	Cutting             // cutting plane, trim lines: long-dash dot wide
	Fold                // fold lines of templates: long-dash double-dot, medium
	Border              // frame of the sheet: continuous 0.7
	Hair                // finest aid lines: continuous 0.13
)

// Line widths, mm.
const (
	wideMM   = 0.5
	narrowMM = 0.25
	borderMM = 0.7
	mediumMM = 0.35
	hairMM   = 0.13
)

// WidthMM is the width of the drawn line, mm.
func (p Pen) WidthMM() float64 {
	switch p {
	case Visible, Cutting:
		return wideMM
	case Border:
		return borderMM
	case Fold:
		return mediumMM
	case Hair:
		return hairMM
	}
	return narrowMM
}

// Elements of broken lines in multiples of the width: dash 12, gap 3, long
// dash 24, dot 0.5 (ISO 128-2, from memory). A dot is drawn as 1 width so that
// printers keep it.
const (
	dashWidths = 12
	gapWidths  = 3
	longWidths = 24
	dotWidths  = 1
)

// Dash is the pattern of drawn and open lengths, mm; nil for continuous lines.
func (p Pen) Dash() []float64 {
	w := math.Min(p.WidthMM(), mediumMM)
	switch p {
	case Hidden:
		return []float64{dashWidths * w, gapWidths * w}
	case Centre, Cutting:
		return []float64{longWidths * w, gapWidths * w, dotWidths * w, gapWidths * w}
	case Phantom, Fold:
		return []float64{longWidths * w, gapWidths * w, dotWidths * w, gapWidths * w, dotWidths * w, gapWidths * w}
	}
	return nil
}

// DashFor fits the pattern of a pen to a straight line of the given length, so
// that the line begins and ends with a dash and, for axes, a long dash lies on
// the middle, where two centre lines cross. Lines too short for one period are
// continuous.
func DashFor(p Pen, lengthMM float64) []float64 {
	d := p.Dash()
	if d == nil {
		return nil
	}
	period := 0.0
	for _, v := range d {
		period += v
	}
	n := math.Round((lengthMM - d[0]) / period)
	if p == Centre {
		n = 2 * math.Round((lengthMM-d[0])/(2*period))
	}
	switch {
	case p == Hidden && n < 1 && lengthMM > 1:
		return []float64{0.4 * lengthMM, 0.2 * lengthMM}
	case p == Centre && n < 1 && lengthMM >= period:
		n = 2
	case n < 1:
		return nil
	}
	k := lengthMM / (n*period + d[0])
	fit := make([]float64, len(d))
	for i, v := range d {
		fit[i] = v * k
	}
	return fit
}

// Tone is the fill of an area.
type Tone uint8

// The fills.
const (
	NoFill Tone = iota
	Black
	White // hides what was drawn before
	Grey  // a light tint
)

// Level is the tone as luminance, 0 black to 1 white.
func (t Tone) Level() float64 {
	switch t {
	case Black:
		return 0
	case Grey:
		return 0.9
	}
	return 1
}
