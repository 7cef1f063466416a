package params

import (
	"math"
	"regexp"
	"strconv"

	"clampwright/params/diag"
	"clampwright/params/number"
	"clampwright/params/unit"
)

// typedUnit is the unit that a value is typed with.
var typedUnit = regexp.MustCompile(`^[-+]?[0-9][0-9./ \-]*?\s*(\p{L}[\p{L}0-9/.-]*|")$`)

// unitOf is the unit behind a number, empty for a bare one.
func unitOf(text string) string {
	if m := typedUnit.FindStringSubmatch(text); m != nil {
		return m[1]
	}
	return ""
}

func inInches(typed string) bool { return typed == "in" || typed == "inch" || typed == "\"" }

// wordsFor are the limits in the unit that the value was typed with, rounded inwards, or in
// the file's.
func (l *limits) wordsFor(q quantity, text string, u unit.LengthUnit) string {
	typed := unitOf(text)
	switch {
	case typed == "" || q == qTemperature:
		return l.words(u)
	case q == qLength && inInches(typed):
		return l.words(unit.Inch)
	case q == qLength:
		return l.words(unit.Millimetre)
	}
	if typed == unitOf(l.hiText) || typed == unitOf(l.loText) {
		return l.words(u)
	}
	one, err := q.parse("1 "+typed, u)
	if err != nil || one <= 0 {
		return l.words(u)
	}
	figures := func(v float64, round func(float64) float64) string { // four of them
		fine := math.Pow(10, 3-math.Floor(math.Log10(max(math.Abs(v), 0.001))))
		return number.Trim(round(v*fine)/fine, 6)
	}
	inside := 1e-6 // what is the limit itself stays it
	return figures(l.lo/one, func(v float64) float64 { return math.Ceil(v - inside) }) + " to " + figures(l.hi/one, func(v float64) float64 { return math.Floor(v + inside) }) + " " + typed
}

// inMM is one length in a text, that is no name of stock.
var inMM = regexp.MustCompile(`(^|[^x0-9.])(-?[0-9]+(?:\.[0-9]+)?) mm\b`)

// asTyped puts the lengths of what is wrong with a value that is typed in inches into these,
// in a file that is in millimetres.
func (in *File) asTyped(text []byte, list diag.List) diag.List {
	if in.LengthUnit() == unit.Inch {
		return list
	}
	lines := textLines(text)
	for i := range list {
		d := &list[i]
		if d.Range.File != in.name || d.Range.Line < 1 || d.Range.Line > len(lines) {
			continue
		}
		if !inInches(unitOf(within(lines, d.Range))) {
			continue
		}
		for _, said := range []*string{&d.Summary, &d.Found, &d.Expected, &d.Suggestion} {
			*said = inMM.ReplaceAllStringFunc(*said, func(s string) string {
				m := inMM.FindStringSubmatch(s)
				mm, _ := strconv.ParseFloat(m[2], 64)
				return m[1] + number.Trim(mm/unit.MMPerInch, 3) + " in"
			})
		}
	}
	return list
}

// AsTyped is what is wrong with a fixture in the units that its values are typed with.
func (f *Fixture) AsTyped(list diag.List) diag.List {
	if f.file == nil {
		return list
	}
	return f.file.asTyped(f.file.text, list)
}
