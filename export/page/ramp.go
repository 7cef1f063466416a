package page

import (
	"image/color"
	"math"

	"clampwright/params/number"
)

// scale is the one colour scale of all pressure maps: equal steps from zero up.
type scale struct {
	step  float64 // of pressure
	tints []color.NRGBA
}

// newScale covers 0 to top in 8 to 16 steps of 1, 2 or 5 times a power of ten.
func newScale(top float64) scale {
	if !(top > 0) {
		top = 1
	}
	step := niceStep(top / 8)
	n := max(int(math.Ceil(top/step-1e-9)), 1)
	s := scale{step: step}
	for i := range n {
		s.tints = append(s.tints, rampColour(float64(i)/math.Max(float64(n-1), 1)))
	}
	return s
}

// top is the upper end of the scale.
func (s scale) top() float64 { return s.step * float64(len(s.tints)) }

// level is the step pressure v falls in.
func (s scale) level(v float64) int {
	return min(max(int(v/s.step), 0), len(s.tints)-1)
}

// niceStep is the greatest of 1, 2, 5 times a power of ten not above v, which
// must be positive.
func niceStep(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{5, 2} {
		if m*p <= v*(1+1e-9) {
			return m * p
		}
	}
	return p
}

// rampColour runs from pale straw at 0 to deep violet at 1. Lightness falls in
// a straight line, so that the order holds in grey; hue and chroma add a second
// cue. Worked in OKLCH.
func rampColour(t float64) color.NRGBA {
	l := 0.965 - 0.655*t
	c := 0.045 + 0.125*math.Sin(math.Pi*math.Min(t*0.62+0.12, 1))
	h := (98 - 150*t) * math.Pi / 180
	for c > 0 {
		if rgb, ok := oklch(l, c, h); ok {
			return rgb
		}
		c -= 0.004
	}
	rgb, _ := oklch(l, 0, h)
	return rgb
}

// oklch converts to sRGB; ok is false when the colour lies outside it.
// Source: B. Ottosson, "A perceptual color space for image processing" (2020);
// transfer curve of IEC 61966-2-1.
func oklch(l, c, h float64) (color.NRGBA, bool) {
	a, b := c*math.Cos(h), c*math.Sin(h)
	l1 := cube(l + 0.3963377774*a + 0.2158037573*b)
	m1 := cube(l - 0.1055613458*a - 0.0638541728*b)
	s1 := cube(l - 0.0894841775*a - 1.2914855480*b)
	lin := [3]float64{
		4.0767416621*l1 - 3.3077115913*m1 + 0.2309699292*s1,
		-1.2684380046*l1 + 2.6097574011*m1 - 0.3413193965*s1,
		-0.0041960863*l1 - 0.7034186147*m1 + 1.7076147010*s1,
	}
	ok := true
	var out [3]uint8
	for i, v := range lin {
		ok = ok && v >= -1e-4 && v <= 1+1e-4
		out[i] = uint8(math.Round(255 * gamma(min(max(v, 0), 1))))
	}
	return color.NRGBA{out[0], out[1], out[2], 255}, ok
}

func cube(v float64) float64 { return v * v * v }

func gamma(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}

// hex writes a colour for SVG.
func hex(c color.NRGBA) string {
	const d = "0123456789abcdef"
	return string([]byte{'#', d[c.R>>4], d[c.R&15], d[c.G>>4], d[c.G&15], d[c.B>>4], d[c.B&15]})
}

// tick writes a value on an axis whose ticks are step apart.
func tick(v, step float64) string {
	if step <= 0 {
		return number.Trim(v, 3)
	}
	return number.Fixed(v, max(0, int(-math.Floor(math.Log10(step)+1e-9))))
}
