package unit

import "math/big"

// measure is one unit: value in inner units = (number + offset) * factor.
// The first name is the one shown.
type measure struct {
	names  []string
	factor *big.Rat
	offset *big.Rat // nil: zero
}

// kind is one physical quantity.
type kind struct {
	what     string // "a length"
	example  string // "12.7 mm, 7/16 in or 8 13/16 in"
	measures []measure
	hints    map[string]string // a unit of another quantity -> the one probably meant
	least    *big.Rat          // lowest value that exists, in inner units; nil: none
}

func (k *kind) expected() string { return k.what + ", such as " + k.example }

// rat is a constant of the tables below.
func rat(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return new(big.Rat)
	}
	return r
}

func times(a *big.Rat, more ...*big.Rat) *big.Rat {
	p := new(big.Rat).Set(a)
	for _, m := range more {
		p.Mul(p, m)
	}
	return p
}

func over(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }

// Definitional constants: the international inch and pound (1959) and the
// standard acceleration of gravity (3rd General Conference, 1901).
var (
	one     = rat("1")
	inch    = rat("25.4")         // mm
	gravity = rat("9.80665")      // m/s2
	pound   = rat("453.59237")    // g
	kgf     = times(gravity, one) // N
	lbf     = times(pound, gravity, rat("0.001"))
)

var lengths = &kind{
	what: "a length", example: "12.7 mm, 7/16 in or 8 13/16 in",
	measures: []measure{
		{names: []string{"mm", "millimetre", "millimetres", "millimeter", "millimeters"}, factor: one},
		{names: []string{"in", "inch", "inches", `"`, "″", "''", "”"}, factor: inch},
		{names: []string{"cm", "centimetre", "centimetres", "centimeter", "centimeters"}, factor: rat("10")},
		{names: []string{"m", "metre", "metres", "meter", "meters"}, factor: rat("1000")},
		{names: []string{"ft", "foot", "feet", "'", "′", "’"}, factor: times(inch, rat("12"))},
		{names: []string{"um", "µm", "μm"}, factor: rat("0.001")},
		{names: []string{"thou"}, factor: times(inch, rat("0.001"))},
	},
}

var forces = &kind{
	what: "a force", example: "2940 N, 300 kgf or 660 lbf",
	measures: []measure{
		{names: []string{"N"}, factor: one},
		{names: []string{"kN"}, factor: rat("1000")},
		{names: []string{"kgf", "kp"}, factor: kgf},
		{names: []string{"lbf"}, factor: lbf},
	},
	hints: map[string]string{"kg": "kgf", "lb": "lbf", "lbs": "lbf"},
}

var squareInch = times(inch, inch)

var pressures = &kind{
	what: "a pressure", example: "80 kPa, 12 psi or 0.8 kgf/cm2",
	measures: []measure{
		{names: []string{"kPa"}, factor: rat("0.001")},
		{names: []string{"MPa", "N/mm2", "N/mm²", "N/mm^2"}, factor: one},
		{names: []string{"GPa"}, factor: rat("1000")},
		{names: []string{"Pa"}, factor: rat("0.000001")},
		{names: []string{"psi", "lbf/in2", "lbf/in²", "lbf/in^2"}, factor: over(lbf, squareInch)},
		{names: []string{"ksi"}, factor: over(times(lbf, rat("1000")), squareInch)},
		{names: []string{"bar"}, factor: rat("0.1")},
		{names: []string{"mbar"}, factor: rat("0.0001")},
		{names: []string{"kgf/cm2", "kgf/cm²", "kgf/cm^2"}, factor: times(kgf, rat("0.01"))},
	},
	hints: map[string]string{"kg/cm2": "kgf/cm2", "kg/cm²": "kgf/cm2", "lb/in2": "psi", "lbs": "psi"},
}

var masses = &kind{
	what: "a mass", example: "5.42 kg, 850 g or 12 lb",
	measures: []measure{
		{names: []string{"g"}, factor: one},
		{names: []string{"kg"}, factor: rat("1000")},
		{names: []string{"lb", "lbs"}, factor: pound},
		{names: []string{"oz"}, factor: over(pound, rat("16"))},
	},
	hints: map[string]string{"kgf": "kg", "lbf": "lb"},
}

var temperatures = &kind{
	what: "a temperature", example: "20 C, 68 F or 293.15 K",
	measures: []measure{
		{names: []string{"C", "°C", "degC"}, factor: one},
		{names: []string{"F", "°F", "degF"}, factor: rat("5/9"), offset: rat("-32")},
		{names: []string{"K"}, factor: one, offset: rat("-273.15")},
	},
	hints: map[string]string{"deg": "C", "°": "C"},
	least: rat("-273.15"),
}

var torques = &kind{
	what: "a torque", example: "6 N.m, 53 in-lbf or 4.4 ft-lbf",
	measures: []measure{
		{names: []string{"N.m", "Nm"}, factor: rat("1000")},
		{names: []string{"N.mm", "Nmm"}, factor: one},
		{names: []string{"N.cm", "Ncm"}, factor: rat("10")},
		{names: []string{"in-lbf", "in-lb", "lbf-in", "lb-in", "inlbf", "inlb", "in-lbs"}, factor: times(lbf, inch)},
		{names: []string{"ft-lbf", "ft-lb", "lbf-ft", "lb-ft", "ftlbf", "ftlb", "ft-lbs"}, factor: times(lbf, inch, rat("12"))},
		{names: []string{"kgf.cm"}, factor: times(kgf, rat("10"))},
		{names: []string{"kgf.m"}, factor: times(kgf, rat("1000"))},
	},
	hints: map[string]string{"N": "N.m", "lbf": "in-lbf"},
}

var stiffnesses = &kind{
	what: "a stiffness", example: "50 N/mm or 285 lbf/in",
	measures: []measure{
		{names: []string{"N/mm"}, factor: one},
		{names: []string{"kN/mm", "N/um", "N/µm"}, factor: rat("1000")},
		{names: []string{"N/m"}, factor: rat("0.001")},
		{names: []string{"lbf/in", "lb/in"}, factor: over(lbf, inch)},
		{names: []string{"kgf/mm"}, factor: kgf},
	},
	hints: map[string]string{"N": "N/mm"},
}
