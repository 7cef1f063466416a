package params

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"clampwright/params/number"
	"clampwright/params/unit"
)

// Length writes a length of mm millimetres for a person.
func (s Style) Length(mm float64) string { return unit.Length(mm).Short(s.Lengths()) }

// Exact writes a length for a person with the exact decimal beside a fraction.
func (s Style) Exact(mm float64) string {
	if s.Unit == unit.Inch && !unit.Length(mm).FractionHolds(s.Denominator) {
		return s.Decimal(mm)
	}
	return unit.Length(mm).Format(s.Lengths())
}

// Decimal writes a length as a calliper reads it, without a fraction.
func (s Style) Decimal(mm float64) string {
	if s.Unit == unit.Inch {
		return unit.Length(mm).DecimalInch(4) + " in"
	}
	return unit.Length(mm).Format(s.Lengths())
}

// Place writes where a hole is marked or drilled: in inches the nearest 64th, as a rule
// has it, with the exact decimal for a machine beside it.
func (s Style) Place(mm float64) string {
	if s.Unit == unit.Inch {
		return unit.Length(mm).Format(unit.Style{Unit: unit.Inch, Denominator: 64})
	}
	return s.Exact(mm)
}

// Small writes a length that may be a fraction of a millimetre, such as a
// tolerance, for a person: to a thousandth of an inch, as no usual fraction is fine
// enough, or to a hundredth of a millimetre.
func (s Style) Small(mm float64) string {
	text := number.Trim(mm, 2) + " mm"
	if s.Unit != unit.Inch {
		return text
	}
	return unit.Length(mm).DecimalInch(3) + " in"
}

// Spring writes the height of a spring, read with a calliper.
func (s Style) Spring(mm float64) string {
	if s.Unit == unit.Inch {
		return number.Fixed(mm/unit.MMPerInch, 3) + " in"
	}
	return number.Fixed(mm, 2) + " mm"
}

// Size writes the edges of a part's box, of which those that are zero are left out.
func (s Style) Size(mm [3]float64) string {
	var edges []unit.Length
	for _, v := range mm {
		if v > 0 {
			edges = append(edges, unit.Length(v))
		}
	}
	return s.Lengths().Join(" x ", edges...)
}

// Measure is how a quantity is written: its unit, how many of them one inside is, and the
// decimals that are worth writing.
type Measure struct {
	Unit     string
	factor   float64
	decimals int
}

// Number writes a value without its unit.
func (m Measure) Number(v float64) string { return number.Trim(v*m.factor, m.decimals) }

// Text writes a value with its unit.
func (m Measure) Text(v float64) string { return m.Number(v) + " " + m.Unit }

// Of is a value inside, in the measure's unit.
func (m Measure) Of(v float64) float64 { return v * m.factor }

// Span writes a least and a greatest value, one figure where they read alike.
func (m Measure) Span(lo, hi float64) string {
	if m.Number(lo) == m.Number(hi) {
		return m.Text(lo)
	}
	return m.Number(lo) + " to " + m.Text(hi)
}

// newtonsPerPound is the force of a pound, NIST SP 811.
const newtonsPerPound = 4.4482216152605

// Forces are newtons, or pounds-force.
func (s Style) Forces() Measure {
	if s.Unit == unit.Inch {
		return Measure{"lbf", 1 / newtonsPerPound, 0}
	}
	return Measure{"N", 1, 0}
}

// Pressures are kilopascals, or pounds-force a square inch.
func (s Style) Pressures() Measure {
	if s.Unit == unit.Inch {
		return Measure{"psi", unit.MMPerInch * unit.MMPerInch / newtonsPerPound / 1000, 1}
	}
	return Measure{"kPa", 1, 1}
}

// Torques are newton millimetres written in newton metres, or pound-force inches.
func (s Style) Torques() Measure {
	if s.Unit == unit.Inch {
		return Measure{"lbf\u00b7in", 1 / newtonsPerPound / unit.MMPerInch, 1}
	}
	return Measure{"N\u00b7m", 1. / 1000, 2}
}

// gramsPerPound is the mass of a pound, NIST SP 811.
const gramsPerPound = 453.59237

// Mass writes grams, kilograms from one on, or pounds.
func (s Style) Mass(g float64) string {
	switch {
	case s.Unit == unit.Inch:
		return number.Trim(g/gramsPerPound, 2) + " lb"
	case g >= 1000:
		return number.Trim(g/1000, 2) + " kg"
	}
	return number.Trim(g, 0) + " g"
}

// Quantity writes a value computed in an SI unit in the shop's own, to about three
// figures; a value in any other unit as it is.
func (s Style) Quantity(v float64, si string) string {
	if s.Unit != unit.Inch {
		return strings.TrimSpace(number.Trim(v, 2) + " " + si)
	}
	switch si {
	case "mm":
		decimals := 3 // thousandths; of small gaps the ten-thousandths as well
		if math.Abs(v) < unit.MMPerInch/20 {
			decimals = 4
		}
		return unit.Length(math.Round(v*1e6)/1e6).DecimalInch(decimals) + " in"
	case "mm\u00b2":
		in := v / unit.MMPerInch / unit.MMPerInch
		if in < 1 {
			return number.Trim(in, 4) + " sq in"
		}
		return number.Trim(in, 2) + " sq in"
	case "mm2":
		return gauge(v)
	case "N":
		return s.Forces().Text(v)
	case "kPa":
		return s.Pressures().Text(v)
	case "MPa":
		return Measure{"psi", s.Pressures().factor * 1000, 0}.Text(v)
	case "N/mm":
		return number.Trim(v*unit.MMPerInch/newtonsPerPound, 0) + " lbf/in"
	case "N\u00b7m":
		return s.Torques().Text(1000 * v)
	case "g":
		return s.Mass(v)
	case "kg":
		return s.Mass(1000 * v)
	case "\u00b0C":
		return number.Trim(32+1.8*v, 0) + " \u00b0F"
	}
	return strings.TrimSpace(number.Trim(v, 2) + " " + si)
}

// gauge is the thinnest American wire of at least a section, mm2 (ASTM B258: the diameter
// of gauge n is 0.127 mm times 92 to the (36-n)/39); beyond 4/0 the section in thousands of
// circular mils.
func gauge(mm2 float64) string {
	const slack, circularMil = 0.97, math.Pi / 4 * 0.0254 * 0.0254 // mm2
	section := func(n int) float64 {
		d := 0.127 * math.Pow(92, float64(36-n)/39)
		return math.Pi / 4 * d * d
	}
	for n := 24; n >= -3; n-- {
		switch {
		case section(n) < slack*mm2 || n > 1 && n%2 != 0:
		case n < 0:
			return fmt.Sprintf("AWG %d/0", 1-n)
		case n == 0:
			return "AWG 1/0"
		default:
			return fmt.Sprintf("AWG %d", n)
		}
	}
	return fmt.Sprintf("%.0f kcmil", math.Ceil(mm2/circularMil/1000/50)*50)
}

// inSI is one figure in an SI unit in a text, or several of it.
var inSI = regexp.MustCompile(`((?:\d+(?:\.\d+)?(?: x | to ))*)(\d+(?:\.\d+)?)[ \x{a0}](mm\x{b2}|(?:mm2|mm|N\x{b7}m|N/mm|N|kPa|MPa|kg|g)\b)`)

// celsius is a temperature in a text.
var celsius = regexp.MustCompile(`(-?\d+(?:\.\d+)?)[ \x{a0}]\x{b0}C\b`)

// Say puts the figures of a text that is written in SI units into the shop's. Millimetres
// in brackets behind inches go; names of stock, "40x40x3 mm", stay.
func (s Style) Say(text string) string { return s.say(text, false) }

// SayBoth is Say with the SI figure in brackets behind, for what is typed into a machine
// that knows no other.
func (s Style) SayBoth(text string) string { return s.say(text, true) }

func (s Style) say(text string, both bool) string {
	if s.Unit != unit.Inch {
		return text
	}
	if !both { // printers know degrees Celsius alone
		text = celsius.ReplaceAllStringFunc(text, func(at string) string {
			v, _ := strconv.ParseFloat(at[:strings.IndexAny(at, " \u00a0")], 64)
			return s.Quantity(v, "\u00b0C")
		})
	}
	var out strings.Builder
	end := 0
	for _, m := range inSI.FindAllStringSubmatchIndex(text, -1) {
		before := text[:m[0]]
		if strings.HasSuffix(before, " in (") && strings.HasPrefix(text[m[1]:], ")") && !both { // a fraction says enough
			out.WriteString(text[end : m[0]-len(" (")])
			end = m[1] + len(")")
			continue
		}
		if sign := strings.TrimSuffix(before, "-"); sign != "" && (strings.HasSuffix(sign, "x") || strings.ContainsRune("./,", rune(sign[len(sign)-1])) || alphanumeric(sign[len(sign)-1])) {
			continue
		}
		out.WriteString(text[end:m[0]] + s.figures(text[m[2]:m[3]], text[m[4]:m[5]], text[m[6]:m[7]]))
		if both {
			out.WriteString(" (" + text[m[0]:m[1]] + ")")
		}
		end = m[1]
	}
	return out.String() + text[end:]
}

func alphanumeric(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
}

// figures writes a last figure with its unit and those before it, each with what joins it
// to the next, without.
func (s Style) figures(before, last, si string) string {
	one := func(text string) string {
		v, _ := strconv.ParseFloat(text, 64)
		if _, decimals, _ := strings.Cut(text, "."); si == "mm" && len(decimals) < 2 && v >= 1 {
			return s.Length(v)
		}
		return s.Quantity(v, si)
	}
	out := ""
	for before != "" {
		at := strings.Index(before, " ")
		joint := before[at : at+strings.Index(before[at+1:], " ")+2]
		first := one(before[:at])
		out += first[:strings.LastIndex(first, " ")] + joint
		before = before[at+len(joint):]
	}
	return out + one(last)
}
