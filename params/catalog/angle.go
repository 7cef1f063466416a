package catalog

import (
	"math"
	"strings"

	"clampwright/params/number"
	"clampwright/params/unit"
)

const (
	metricAluminiumSource = "usual extrusion (EN 755-9 leaves the radii to the maker): root radius = thickness and toe half of it are " + CommonPractice + "; measure yours"
	inchAluminiumSource   = "usual extrusion: root radius = thickness and toe half of it are " + CommonPractice + "; measure yours"
	equalSteelSource      = "EN 10056-1, root radius from memory; toe radius half of it"
	unequalSteelSource    = "EN 10056-1"
	inchSteelSource       = "bar-size rolled angle, sizes of the trade; radii " + CommonPractice + ": measure yours"
)

func angles() []AngleSection {
	var out []AngleSection
	for _, s := range metricAluminium {
		out = append(out, newAngle(s, "mm", "aluminium", metricAluminiumSource))
	}
	for _, s := range inchAluminium {
		out = append(out, newAngle(s, "in", "aluminium", inchAluminiumSource))
	}
	for _, s := range equalSteel {
		out = append(out, newAngle(s, "mm", "steel", equalSteelSource))
	}
	for _, s := range unequalSteel {
		out = append(out, newAngle(s, "mm", "steel", unequalSteelSource))
	}
	for _, s := range inchSteel {
		out = append(out, newAngle(s, "in", "steel", inchSteelSource))
	}
	return out
}

// angleRow is a section in the unit of its name; a zero root radius stands for
// one thickness, a zero toe radius for half the root radius.
type angleRow struct{ a, b, t, root, toe float64 }

func newAngle(r angleRow, u, material, source string) AngleSection {
	size, sep := func(v float64) unit.Length { return unit.Length(v) }, "x"
	text := func(v float64) string { return number.Trim(v, 2) }
	if u == "in" {
		size, sep = in, " x "
		text = mixed
	}
	root, toe := r.root, r.toe
	fill(&root, r.t)
	fill(&toe, root/2)
	return AngleSection{
		Name: text(r.a) + sep + text(r.b) + sep + text(r.t) + " " + u + " " + material,
		LegA: size(r.a), LegB: size(r.b), Thickness: size(r.t), Root: size(root), Toe: size(toe),
		Material: material, Source: source,
	}
}

var metricAluminium = []angleRow{
	{15, 15, 2, 0, 0}, {20, 20, 2, 0, 0}, {20, 20, 3, 0, 0}, {25, 25, 2, 0, 0}, {25, 25, 3, 0, 0}, {30, 30, 2, 0, 0}, {30, 30, 3, 0, 0},
	{35, 35, 3, 0, 0}, {40, 40, 3, 0, 0}, {40, 40, 4, 0, 0}, {50, 50, 3, 0, 0}, {50, 50, 4, 0, 0}, {50, 50, 5, 0, 0},
	{30, 15, 2, 0, 0}, {30, 20, 2, 0, 0}, {30, 20, 3, 0, 0}, {40, 20, 2, 0, 0}, {40, 20, 3, 0, 0}, {40, 25, 3, 0, 0},
	{50, 25, 3, 0, 0}, {50, 30, 3, 0, 0}, {50, 30, 4, 0, 0},
}

var inchAluminium = []angleRow{
	{.75, .75, .0625, 0, 0}, {.75, .75, .125, 0, 0}, {1, 1, .0625, 0, 0}, {1, 1, .125, 0, 0}, {1, 1, .1875, 0, 0},
	{1.25, 1.25, .125, 0, 0}, {1.25, 1.25, .1875, 0, 0}, {1.5, 1.5, .125, 0, 0}, {1.5, 1.5, .1875, 0, 0}, {1.5, 1.5, .25, 0, 0},
	{2, 2, .125, 0, 0}, {2, 2, .1875, 0, 0}, {2, 2, .25, 0, 0},
	{1, .75, .125, 0, 0}, {1.5, .75, .125, 0, 0}, {1.5, 1, .125, 0, 0}, {2, 1, .125, 0, 0}, {2, 1.5, .125, 0, 0}, {2, 1.5, .25, 0, 0},
}

var equalSteel = []angleRow{
	{20, 20, 3, 3.5, 0}, {25, 25, 3, 3.5, 0}, {25, 25, 4, 3.5, 0}, {30, 30, 3, 5, 0}, {30, 30, 4, 5, 0}, {35, 35, 4, 5, 0},
	{40, 40, 4, 6, 0}, {40, 40, 5, 6, 0}, {45, 45, 4.5, 7, 0}, {50, 50, 4, 7, 0}, {50, 50, 5, 7, 0}, {50, 50, 6, 7, 0},
}

var unequalSteel = []angleRow{
	{30, 20, 3, 4, 2}, {30, 20, 4, 4, 2}, {40, 20, 4, 4, 2}, {40, 25, 4, 4, 2}, {45, 30, 4, 4.5, 2}, {50, 30, 5, 5, 2.5},
}

var inchSteel = []angleRow{
	{1, 1, .125, .125, 0}, {1.25, 1.25, .125, .1875, 0}, {1.25, 1.25, .1875, .1875, 0}, {1.5, 1.5, .125, .1875, 0},
	{1.5, 1.5, .1875, .1875, 0}, {1.5, 1.5, .25, .1875, 0}, {2, 2, .125, .25, 0}, {2, 2, .1875, .25, 0}, {2, 2, .25, .25, 0},
	{2, 1.5, .125, .1875, 0}, {2, 1.5, .25, .1875, 0},
}

// Angle finds an angle by name, or by its sizes: "30x30x3", "30 x 30 x 3 mm",
// "40x20x3" or "20x40x3", "30x3" for equal legs, "1-1/4 x 1-1/4 x 1/8 in",
// "L 2x2x1/4". Sizes without a unit are tried as millimetres first. Where the
// name leaves the material open, aluminium comes before other materials and
// then the table's order decides. An aluminium alloy behind the sizes
// ("30x30x3 mm 6061-T6") gives the aluminium section in that alloy.
func (t *Tables) Angle(name string) (AngleSection, bool) {
	if row, ok := byName(t.Angles, name, func(r *AngleSection) string { return r.Name }); ok {
		return row, true
	}
	sizes, u, material := splitAngle(name)
	for _, def := range []unit.LengthUnit{unit.Millimetre, unit.Inch} {
		if u != "" && u != def {
			continue
		}
		if want, ok := angleSizes(sizes, def); ok {
			if row, found := t.angleOf(want, material); found {
				return row, true
			}
			if row, found := t.alloyed(want, material); found {
				return row, true
			}
		}
	}
	return AngleSection{}, false
}

// angleOf finds a section of the sizes: legs in either order, then thickness.
func (t *Tables) angleOf(want [3]float64, material string) (best AngleSection, found bool) {
	for _, r := range t.Angles {
		legs := same(r.LegA, want[0]) && same(r.LegB, want[1]) || same(r.LegA, want[1]) && same(r.LegB, want[0])
		if !legs || !same(r.Thickness, want[2]) || material != "" && !t.sameMaterial(r.Material, material) {
			continue
		}
		if !found || preferred(r.Material) && !preferred(best.Material) {
			best, found = r, true
		}
	}
	return best, found
}

// alloyed is an aluminium section in another alloy of the materials table.
func (t *Tables) alloyed(want [3]float64, material string) (AngleSection, bool) {
	alloy, known := t.Material(strings.TrimPrefix(loose(material), "aluminium"))
	row, found := t.angleOf(want, "aluminium")
	if !known || !found || alloy.Family != "metal" || alloy.DensityGCM3 > 3 {
		return AngleSection{}, false
	}
	row.Name = strings.TrimSuffix(row.Name, row.Material) + alloy.Name
	row.Material = alloy.Name
	return row, true
}

func preferred(material string) bool { return material == "aluminium" }

// sameSize is how far two sizes count as one, mm.
const sameSize = 0.005

func same(l unit.Length, mm float64) bool { return math.Abs(l.MM()-mm) < sameSize }

func (t *Tables) sameMaterial(a, b string) bool {
	ma, okA := t.Material(a)
	mb, okB := t.Material(b)
	return sameName(a, b) || okA && okB && ma.Name == mb.Name
}

// splitAngle takes "L 30x30x3 mm steel" apart: the sizes between the x, the unit
// behind the last, and what is left: the material.
func splitAngle(name string) (sizes []string, u unit.LengthUnit, material string) {
	s := strings.ToLower(strings.TrimSpace(name))
	s = strings.NewReplacer("×", "x", "*", "x", " by ", "x", "\u2044", "/", `"`, "in ").Replace(s)
	s = strings.TrimPrefix(strings.TrimPrefix(s, "angle "), "l")
	sizes = strings.Split(s, "x")
	last := len(sizes) - 1
	words := strings.Fields(sizes[last])
	var size []string
	for len(words) > 0 && u == "" {
		number, suffix := cutUnit(words[0])
		if strings.Trim(number, "0123456789./-") != "" {
			break
		}
		size, u, words = append(size, number), suffix, words[1:]
	}
	sizes[last] = strings.Join(size, " ")
	return sizes, u, strings.Join(words, " ")
}

// cutUnit takes a unit off the end of a word: 3mm, 1/8in, mm.
func cutUnit(word string) (number string, u unit.LengthUnit) {
	for _, u := range []unit.LengthUnit{unit.Millimetre, unit.Inch} {
		if rest, ok := strings.CutSuffix(word, string(u)); ok {
			return rest, u
		}
	}
	return word, ""
}

// angleSizes reads two or three sizes, in def unless they carry a unit of their
// own: two legs and the thickness, or one leg for both.
func angleSizes(parts []string, def unit.LengthUnit) (out [3]float64, ok bool) {
	if len(parts) == 2 {
		parts = []string{parts[0], parts[0], parts[1]}
	}
	if len(parts) != 3 {
		return out, false
	}
	for i, p := range parts {
		l, err := unit.ParseLength(p, def)
		if err != nil {
			return out, false
		}
		out[i] = l.MM()
	}
	return out, true
}
