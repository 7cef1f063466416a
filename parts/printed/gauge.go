package printed

import (
	"fmt"
	"strings"

	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed/relief"
)

// SpringGaugeSpec describes a go/no-go gauge for the height of a spring under
// its nut. It stands on the spring's seat; an arm passes over the rim of the
// upper washer when the spring is squeezed enough (GO), the other must not (NO).
// Part coordinates: x along the seat with 0 at the middle of the post, y up from
// the seat at 0, z across from 0 to ThicknessMM.
type SpringGaugeSpec struct {
	parts.Label
	Printer
	GoMM, NoGoMM float64 // seat to the upper washer's far face: most and least
	ArmMM        float64 // how far the arms reach out from the post
	ThicknessMM  float64
}

// SpringGauge: the width of the post between the arms, and how high the arms are, mm.
const (
	PostMM    = 20.0
	armHighMM = 7.0
)

// SpringGauge builds the gauge, its heights engraved.
func SpringGauge(s SpringGaugeSpec) (parts.Part, error) {
	err := s.checked(s.ID, span{"no-go height", s.NoGoMM, 1, 300}, span{"go height", s.GoMM, s.NoGoMM, 300},
		span{"arm", s.ArmMM, 0.5, 100}, span{"thickness", s.ThicknessMM, s.MinWallMM, 50})
	if err != nil {
		return parts.Part{}, err
	}
	p, top := PostMM/2, s.GoMM+armHighMM
	outline := polygon(-p, 0, p, 0, p, s.NoGoMM, p+s.ArmMM, s.NoGoMM, p+s.ArmMM, top, -p-s.ArmMM, top, -p-s.ArmMM, s.GoMM, -p, s.GoMM)
	var text []geom.Path
	half := PostMM / 2
	y := s.GoMM + armHighMM - 4
	for i, w := range []string{"GO NO", short(s.GoMM), short(s.NoGoMM)} {
		if yi := y - 5.5*float64(i); yi > 2.5 && textWidth(w, 3.5) < 2*half {
			text = append(text, lettering(w, geom.Vec2{Y: yi}, 3.5, false)...)
		}
	}
	return s.layered(s.Label, parts.KindGauge, engraved(outline, s.ThicknessMM, text), markDepth)
}

// short writes a size for engraving: tenths, no trailing zero.
func short(mm float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", mm), ".0")
}

// engraved is a plate with grooves in its upper face.
func engraved(outline geom.Path, thickness float64, text []geom.Path) []relief.Layer {
	r := relief.Region{}.Plus(outline)
	return []relief.Layer{{Z0: 0, Z1: thickness - markDepth, Region: r}, {Z0: thickness - markDepth, Z1: thickness, Region: r.Less(text...)}}
}

// FeelerSpec describes a feeler for a cell's bulge: a bridge laid across a large
// face, its feet on the face's edges, a pad in its middle held off by the bulge
// allowed. A cell on which it rocks is rejected. Part coordinates: x along the
// bridge with 0 at its middle, y up from the face at 0, z across.
type FeelerSpec struct {
	parts.Label
	Printer
	LengthMM, LimitMM float64
}

// Feeler sizes, mm: common practice, no source.
const (
	feelerHigh, feelerThick      = 22.0, 8.0
	feelerFoot, feelerPad, under = 8.0, 12.0, 4.0
)

// Feeler builds the bridge; two pieces joined by a dovetail when it is longer
// than the bed.
func Feeler(s FeelerSpec) ([]parts.Part, error) {
	err := s.checked(s.ID, span{"length", s.LengthMM, 3 * (feelerFoot + feelerPad), 1000}, span{"limit", s.LimitMM, 0.05, under - 1})
	if err != nil {
		return nil, err
	}
	x, f, d, l := s.LengthMM/2, feelerFoot, feelerPad/2, s.LimitMM
	outline := polygon(-x, 0, -x+f, 0, -x+f, under, -d, under, -d, l, d, l, d, under, x-f, under, x-f, 0, x, 0, x, feelerHigh, -x, feelerHigh)
	text := lettering(fmt.Sprintf("%.2f", l), geom.Vec2{X: 0, Y: (under + feelerHigh) / 2}, 7, false)
	layers := engraved(outline, feelerThick, text)
	if s.fits(s.LengthMM, feelerHigh, feelerThick) {
		p, err := s.layered(s.Label, parts.KindGauge, layers, markDepth)
		return []parts.Part{p}, err
	}
	left, right := splitAcross(layers, -s.LengthMM/4+textWidth("0.00", 7)/2, s.FitMM/2, []tongue{{(under + feelerHigh) / 2, 7}})
	var out []parts.Part
	for i, ls := range [][]relief.Layer{left, right} {
		p, err := s.layered(piece(s.Label, i, 2), parts.KindGauge, ls, markDepth)
		if err != nil {
			return nil, err
		}
		p.Print.Joint = "a dovetail, glued on a flat board"
		out = append(out, p)
	}
	return out, nil
}
