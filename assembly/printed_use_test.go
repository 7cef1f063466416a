package assembly_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/inputs"
	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

func built(t *testing.T, name string) (*params.Fixture, *assembly.Assembly) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "examples", name))
	if err != nil {
		t.Fatal(err)
	}
	f, diags := params.Load(name, text)
	if f == nil {
		t.Fatal(name, diags)
	}
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(name, err)
	}
	return f, a
}

// TestExamplesUseEveryPrint asks that each thing a printer can make for a fixture
// is in an example, so that the checks of the examples judge it.
func TestExamplesUseEveryPrint(t *testing.T) {
	used := map[string]bool{}
	for _, name := range []string{"three-cell-ribs.yaml", "two-cell-frames.yaml", "four-cell-offcut.yaml"} {
		f, a := built(t, name)
		if s := f.Separator; s != nil && s.Printed {
			used["separator "+s.Pattern] = true
		}
		for _, l := range a.PartsList() {
			if l.Part.Make == parts.MakePrint {
				kind, _, _ := strings.Cut(l.Part.ID, "-1")
				used[kind] = true
			}
		}
	}
	for _, want := range []string{"separator ribs", "separator frame", "separator", "corner-guard", "end-cap", "sleeve", "rod-cap", "foot",
		"plate-guide", "angle-guide", "spring-gauge", "bulge-feeler"} {
		if !used[want] {
			t.Errorf("no example prints a %s: %v", want, used)
		}
	}
}

// TestPressedWhereThePrintIs compares the field that the clamp mechanics are
// given with the faces of the printed separator that meet the next cell.
func TestPressedWhereThePrintIs(t *testing.T) {
	for _, name := range []string{"three-cell-ribs.yaml", "two-cell-frames.yaml"} {
		f, a := built(t, name)
		face := f.Cell.Width.MM() * f.Cell.Height.MM()
		pressed := 0.0
		for _, r := range inputs.Clamp(f).Rows[0].Pressing {
			pressed += (r.X1 - r.X0) * (r.Y1 - r.Y0)
		}
		var sheet *parts.Part
		for _, l := range a.PartsList() {
			if l.Part.Kind == parts.KindSeparator {
				sheet = l.Part
			}
		}
		m, err := sheet.Solid.Mesh(0.01)
		if err != nil {
			t.Fatal(err)
		}
		for _, z := range []float64{0, f.Separator.Thickness.MM()} {
			got := flat(m, z, f.Cell.Width.MM()/2)
			if math.Abs(got-pressed) > 0.02*pressed {
				t.Errorf("%s: the print bears on %.0f mm² at %g mm, the mechanics press on %.0f of %.0f", name, got, z, pressed, face)
			}
		}
		if pressed > 0.7*face {
			t.Errorf("%s: pressed on %.0f of %.0f mm², nearly a full sheet", name, pressed, face)
		}
	}
}

// flat is the area of a mesh's faces square to z at a height and within half of
// the middle, mm².
func flat(m geom.Mesh, z, half float64) float64 {
	area := 0.0
	for _, q := range m.Triangles {
		a, b, c := m.Vertices[q[0]], m.Vertices[q[1]], m.Vertices[q[2]]
		if mid := a.Add(b).Add(c).Mul(1. / 3); math.Abs(mid.X) < half && max(math.Abs(a.Z-z), math.Abs(b.Z-z), math.Abs(c.Z-z)) < 1e-6 {
			area += b.Sub(a).Cross(c.Sub(a)).Len() / 2
		}
	}
	return area
}
