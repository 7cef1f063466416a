package params

import (
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"

	"clampwright/params/diag"
	"clampwright/params/unit"
)

// settable is a scalar of the file: Given[T], or a plain field of a table row.
type settable interface {
	set(text string, at diag.Range, def unit.LengthUnit) *scalarError
	clear()
	// number is the value in inner units, for the limits.
	number() (float64, bool)
}

// scalarError says why a text is not a value.
type scalarError struct{ summary, expected, suggestion string }

// quantity is what kind of value a field holds.
type quantity string

const (
	qLength      quantity = "length"
	qForce       quantity = "force"
	qPressure    quantity = "pressure"
	qMass        quantity = "mass"
	qTorque      quantity = "torque"
	qTemperature quantity = "temperature"
	qArea        quantity = "area"
	qNumber      quantity = "number"
	qCount       quantity = "count"
	qWord        quantity = "word"
	qSwitch      quantity = "switch"
	qNone        quantity = ""
)

var quantityWords = map[quantity]string{
	qLength: "a length", qForce: "a force", qPressure: "a pressure", qMass: "a mass",
	qTorque: "a torque", qTemperature: "a temperature", qNumber: "a number",
	qArea: "an area in mm2", qCount: "a whole number", qWord: "a word", qSwitch: "true or false",
}

func (q quantity) words() string { return quantityWords[q] }

var quantityTypes = map[reflect.Type]quantity{
	reflect.TypeFor[unit.Length]():      qLength,
	reflect.TypeFor[unit.Force]():       qForce,
	reflect.TypeFor[unit.Pressure]():    qPressure,
	reflect.TypeFor[unit.Mass]():        qMass,
	reflect.TypeFor[unit.Torque]():      qTorque,
	reflect.TypeFor[unit.Temperature](): qTemperature,
	reflect.TypeFor[unit.Area]():        qArea,
	reflect.TypeFor[float64]():          qNumber,
	reflect.TypeFor[int]():              qCount,
	reflect.TypeFor[string]():           qWord,
	reflect.TypeFor[bool]():             qSwitch,
}

// quantityOf is the quantity held by a scalar type: T itself or Given[T].
func quantityOf(t reflect.Type) quantity {
	if q, ok := quantityTypes[t]; ok {
		return q
	}
	if t.Kind() == reflect.Struct {
		if v, ok := t.FieldByName("V"); ok {
			return quantityTypes[v.Type]
		}
	}
	return qNone
}

// parse reads a numeric quantity into inner units.
func (q quantity) parse(text string, def unit.LengthUnit) (float64, error) {
	switch q {
	case qLength:
		v, err := unit.ParseLength(text, def)
		return float64(v), err
	case qForce:
		v, err := unit.ParseForce(text)
		return float64(v), err
	case qPressure:
		v, err := unit.ParsePressure(text)
		return float64(v), err
	case qMass:
		v, err := unit.ParseMass(text)
		return float64(v), err
	case qTorque:
		v, err := unit.ParseTorque(text)
		return float64(v), err
	case qTemperature:
		v, err := unit.ParseTemperature(text)
		return float64(v), err
	case qArea, qNumber:
		return unit.ParseNumber(text)
	case qCount:
		n, err := parseCount(text)
		return float64(n), err
	}
	return 0, fmt.Errorf("not a quantity: %s", q)
}

// beyondAnyLimit stands for numbers that no int holds; the field's limits refuse it.
const beyondAnyLimit = 1<<31 - 1

// parseCount reads a plain decimal whole number: 010 and 4.5 are refused, not
// taken for 8 or 4.
func parseCount(text string) (int, error) {
	if len(text) > 1 && text[0] == '0' {
		return 0, errors.New("a leading zero")
	}
	n, err := strconv.Atoi(text)
	if errors.Is(err, strconv.ErrRange) {
		return max(-beyondAnyLimit, min(n, beyondAnyLimit)), nil
	}
	if err != nil || strings.HasPrefix(text, "+") {
		return 0, errors.New("not a whole number")
	}
	return n, nil
}

func (g *Given[T]) clear() { *g = Given[T]{} }

func (g *Given[T]) number() (float64, bool) { return numberIn(reflect.ValueOf(&g.V).Elem()) }

func (g *Given[T]) set(text string, at diag.Range, def unit.LengthUnit) *scalarError {
	if e := setPlain(reflect.ValueOf(&g.V).Elem(), text, def); e != nil {
		return e
	}
	g.Set, g.At = true, at
	return nil
}

// plainField makes a plain field of a table row settable.
type plainField struct{ v reflect.Value }

func (p plainField) clear()                  { p.v.SetZero() }
func (p plainField) number() (float64, bool) { return numberIn(p.v) }
func (p plainField) set(text string, _ diag.Range, def unit.LengthUnit) *scalarError {
	return setPlain(p.v, text, def)
}

func numberIn(v reflect.Value) (float64, bool) {
	switch v.Kind() {
	case reflect.Float64:
		return v.Float(), true
	case reflect.Int:
		return float64(v.Int()), true
	}
	return 0, false
}

// setPlain parses text into v, whose type is one of quantityTypes.
func setPlain(v reflect.Value, text string, def unit.LengthUnit) *scalarError {
	q := quantityTypes[v.Type()]
	switch q {
	case qWord:
		return setWord(v, text)
	case qSwitch:
		if text != "true" && text != "false" {
			return &scalarError{summary: "not true or false"}
		}
		v.SetBool(text == "true")
		return nil
	}
	x, err := q.parse(text, def)
	if err != nil {
		return asScalarError(err)
	}
	if v.Kind() == reflect.Int {
		v.SetInt(int64(x))
	} else {
		v.SetFloat(x)
	}
	return nil
}

// maxWord is the longest word or name taken from a file.
const maxWord = 120

func setWord(v reflect.Value, text string) *scalarError {
	if strings.TrimSpace(text) == "" {
		return &scalarError{summary: "empty"}
	}
	if utf8.RuneCountInString(text) > maxWord {
		return &scalarError{summary: fmt.Sprintf("longer than %d characters", maxWord)}
	}
	for _, r := range text {
		if diag.Hidden(r) || r == utf8.RuneError {
			return &scalarError{summary: fmt.Sprintf("holds a character that can't be shown, %U", r), expected: "printable text on one line"}
		}
	}
	v.SetString(text)
	return nil
}

func asScalarError(err error) *scalarError {
	var pe *unit.ParseError
	if errors.As(err, &pe) {
		return &scalarError{summary: pe.Found, expected: pe.Expected, suggestion: pe.Suggestion}
	}
	return &scalarError{summary: err.Error()}
}
