package catalog

import (
	"math"
	"strings"

	"clampwright/params/unit"
)

const (
	metricAluminiumSource = "usual extrusion (EN 755-9 leaves the radii to the maker): root radius = thickness and toe half of it are " + CommonPractice + "; measure yours"
	inchAluminiumSource   = "usual extrusion: root radius = thickness and toe half of it are " + CommonPractice + "; measure yours"
	metricSteelSource     = "EN 10056-1, from memory; toe radius half the root radius"
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
	for _, s := range metricSteel {
		out = append(out, newAngle(s, "mm", "steel", metricSteelSource))
	}
	for _, s := range inchSteel {
		out = append(out, newAngle(s, "in", "steel", inchSteelSource))
	}
	return out
}

// angleRow is a section in the unit of its name; a zero root radius stands for
// one thickness.
type angleRow struct{ a, b, t, root float64 }

func newAngle(r angleRow, u, material, source string) AngleSection {
	size, sep := func(v float64) unit.Length { return unit.Length(v) }, "x"
	text := func(v float64) string { return trim(v, 2) }
	if u == "in" {
		size, sep = in, " x "
		text = func(v float64) string { return strings.ReplaceAll(in(v).Fraction(64), " ", "-") }
	}
	root := r.root
	if root == 0 {
		root = r.t
	}
	return AngleSection{
		Name: text(r.a) + sep + text(r.b) + sep + text(r.t) + " " + u + " " + material,
		LegA: size(r.a), LegB: size(r.b), Thickness: size(r.t), Root: size(root), Toe: size(root / 2),
		Material: material, Source: source,
	}
}

var metricAluminium = []angleRow{
	{15, 15, 2, 0}, {20, 20, 2, 0}, {20, 20, 3, 0}, {25, 25, 2, 0}, {25, 25, 3, 0}, {30, 30, 2, 0}, {30, 30, 3, 0},
	{35, 35, 3, 0}, {40, 40, 3, 0}, {40, 40, 4, 0}, {50, 50, 3, 0}, {50, 50, 4, 0}, {50, 50, 5, 0},
	{30, 15, 2, 0}, {30, 20, 2, 0}, {30, 20, 3, 0}, {40, 20, 2, 0}, {40, 20, 3, 0}, {40, 25, 3, 0},
	{50, 25, 3, 0}, {50, 30, 3, 0}, {50, 30, 4, 0},
}

var inchAluminium = []angleRow{
	{.75, .75, .0625, 0}, {.75, .75, .125, 0}, {1, 1, .0625, 0}, {1, 1, .125, 0}, {1, 1, .1875, 0},
	{1.25, 1.25, .125, 0}, {1.25, 1.25, .1875, 0}, {1.5, 1.5, .125, 0}, {1.5, 1.5, .1875, 0}, {1.5, 1.5, .25, 0},
	{2, 2, .125, 0}, {2, 2, .1875, 0}, {2, 2, .25, 0},
	{1, .75, .125, 0}, {1.5, .75, .125, 0}, {1.5, 1, .125, 0}, {2, 1, .125, 0}, {2, 1.5, .125, 0}, {2, 1.5, .25, 0},
}

var metricSteel = []angleRow{
	{20, 20, 3, 3.5}, {25, 25, 3, 3.5}, {25, 25, 4, 3.5}, {30, 30, 3, 5}, {30, 30, 4, 5}, {35, 35, 4, 5},
	{40, 40, 4, 6}, {40, 40, 5, 6}, {45, 45, 4.5, 7}, {50, 50, 4, 7}, {50, 50, 5, 7}, {50, 50, 6, 7},
	{30, 20, 3, 4}, {30, 20, 4, 4}, {40, 20, 4, 4}, {40, 25, 4, 4}, {45, 30, 4, 4.5}, {50, 30, 5, 5},
}

var inchSteel = []angleRow{
	{1, 1, .125, .125}, {1.25, 1.25, .125, .1875}, {1.25, 1.25, .1875, .1875}, {1.5, 1.5, .125, .1875},
	{1.5, 1.5, .1875, .1875}, {1.5, 1.5, .25, .1875}, {2, 2, .125, .25}, {2, 2, .1875, .25}, {2, 2, .25, .25},
	{2, 1.5, .125, .1875}, {2, 1.5, .25, .1875},
}

// Angle finds an angle by name, or by its sizes: "30x30x3", "30 x 30 x 3 mm",
// "40x20x3" or "20x40x3", "30x3" for equal legs, "1-1/4 x 1-1/4 x 1/8 in",
// "L 2x2x1/4". Sizes without a unit are tried as millimetres first. Where the
// name leaves the material open, aluminium comes before other materials and
// then the table's order decides.
func (t *Tables) Angle(name string) (AngleSection, bool) {
	if row, ok := byName(t.Angles, name, func(r *AngleSection) string { return r.Name }); ok {
		return row, true
	}
	sizes, u, material := t.splitAngle(name)
	for _, def := range []unit.LengthUnit{unit.Millimetre, unit.Inch} {
		if u != "" && u != string(def) {
			continue
		}
		if want, ok := angleSizes(sizes, def); ok {
			if row, found := t.angleOf(want, material); found {
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

func preferred(material string) bool { return material == "aluminium" }

// sameSize is how far two sizes count as one, mm.
const sameSize = 0.005

func same(l unit.Length, mm float64) bool { return math.Abs(l.MM()-mm) < sameSize }

func (t *Tables) sameMaterial(a, b string) bool {
	ma, okA := t.Material(a)
	mb, okB := t.Material(b)
	return sameName(a, b) || okA && okB && ma.Name == mb.Name
}

// splitAngle takes "L 30x30x3 mm steel" apart: sizes, unit, material.
func (t *Tables) splitAngle(name string) (sizes, u, material string) {
	s := strings.ToLower(strings.TrimSpace(name))
	s = strings.NewReplacer("×", "x", "*", "x", " by ", "x", "\u2044", "/").Replace(s)
	s = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(s, "angle "), "l"))
	words := strings.Fields(s)
	for i, w := range words {
		if !strings.ContainsAny(w, "0123456789") && w != "x" && w != "in" && w != "mm" && w != `"` {
			material = strings.Join(words[i:], " ")
			words = words[:i]
			break
		}
	}
	s = strings.Join(words, " ")
	for _, suffix := range []string{"mm", "in", `"`} {
		if rest, ok := strings.CutSuffix(s, suffix); ok {
			u, s = "in", rest
			if suffix == "mm" {
				u = "mm"
			}
			break
		}
	}
	return s, u, material
}

// angleSizes reads two or three sizes parted by x, in def unless they carry a
// unit of their own.
func angleSizes(text string, def unit.LengthUnit) (out [3]float64, ok bool) {
	parts := strings.Split(text, "x")
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
