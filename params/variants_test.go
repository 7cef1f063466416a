package params

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
)

const variantFile = `fixture: base
cell: {model: 72x174x201, thickness: 71.5 mm, force: 300 kgf}
pack: {cells: 4, stack: 287 mm}
electrical: {series: 2, parallel: 2, records: cells.csv}
variants:
  - {name: eight, cells: 8, parallel: 1}
  - {name: thin, model: 54x174x200}
  - {name: two-rows, cells: 8, rows: 2}
`

func TestVariants(t *testing.T) {
	file, diags := Decode("t.yaml", []byte(variantFile))
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	vs, diags := Variants(file, []byte(variantFile))
	if len(diags) > 0 || len(vs) != 3 {
		t.Fatal(diags, vs)
	}
	for _, v := range vs {
		if v.Fixture == nil {
			t.Fatalf("%s: %v", v.Name, v.Notes)
		}
	}
	eight, thin, rows := vs[0].Fixture, vs[1].Fixture, vs[2].Fixture
	if eight.Name != "base-eight" || eight.Pack.Cells != 8 || eight.Electrical.Series != 8 || eight.Pack.Measured {
		t.Errorf("eight: %+v", eight.Pack)
	}
	if eight.Cell.Thickness != 71.5 {
		t.Errorf("a variant of count keeps the cell's given thickness, got %g", eight.Cell.Thickness)
	}
	if thin.Electrical.CellRecords != "" || eight.Electrical.CellRecords != "" {
		t.Error("a variant of other cells keeps the records of the file's")
	}
	if thin.Cell.Thickness != 54 || thin.Cell.ForceTarget != eight.Cell.ForceTarget {
		t.Errorf("thin: %+v", thin.Cell)
	}
	if rows.Pack.PerRow != 4 || rows.Electrical.Series != 4 {
		t.Errorf("two rows: %+v", rows.Pack)
	}
}

func TestVariantNames(t *testing.T) {
	for _, name := range []string{"eight", "Shared", "a b", "..", "base", "-x", "con", "NUL", "aux.b", "Com3"} {
		text := strings.Replace(variantFile, "name: thin", "name: "+name, 1)
		file, _ := Decode("t.yaml", []byte(text))
		if _, diags := Variants(file, []byte(text)); !diags.HasErrors() {
			t.Errorf("%q was accepted", name)
		} else if diags[0].Range.Line != 7 {
			t.Errorf("%q: reported at line %d", name, diags[0].Range.Line)
		}
	}
}

// A settler gives what Resolve gives, but for origins and hash.
func TestSettler(t *testing.T) {
	file, _ := Decode("t.yaml", []byte(variantFile))
	want, diags := Resolve(file, []byte(variantFile))
	got, more := NewSettler(file).Settle(file)
	if len(diags) != len(more) || got == nil {
		t.Fatal(diags, more)
	}
	got.InputSHA256, got.origins = want.InputSHA256, want.origins
	if !reflect.DeepEqual(got, want) {
		t.Error("a settled copy differs")
	}
}

func BenchmarkSettle(b *testing.B) {
	file, _ := Decode("t.yaml", []byte(variantFile))
	s := NewSettler(file)
	b.ReportAllocs()
	for b.Loop() {
		s.Settle(file)
	}
}

// What is wrong with a variant alone points at the variant.
func TestVariantErrorsHaveTheirPlace(t *testing.T) {
	for _, c := range []struct{ from, to, place string }{
		{"cells: 8, rows: 2", "cells: 5, rows: 4", "8:29"},
		{"cells: 8, parallel: 1", "cells: 8, series: 3", "6:37"},
	} {
		_, _, list := LoadAll("t.yaml", []byte(strings.Replace(variantFile, c.from, c.to, 1)))
		if len(list) != 1 || list[0].Range.Place() != c.place || !strings.HasPrefix(list[0].Summary, "variant ") {
			t.Errorf("%s: %v, want it at %s", c.to, list, c.place)
		}
	}
}

// Twenty variants with mistakes are looked at, those after them in one word; what is
// wrong with the file alone is said once and ends nothing.
func TestManyWrongVariants(t *testing.T) {
	wrong := "variants:\n" + lines(mostWrong, func(i int) string { return fmt.Sprintf("  - {name: v%d, cells: 8, series: 3}", i) })
	for _, c := range []struct {
		text string
		want int
		last string
	}{
		{least + wrong, mostWrong, "variant v19: series times"},
		{least + wrong + "  - {name: a, cells: 8}\n  - {name: b, cells: 8}\n", mostWrong + 1, "variant a: " + unread},
		{strings.Replace(least, "cells: 4", "cells: 4, growth: 1", 1) + "variants:\n" + lines(mostWrong+5, func(i int) string { return fmt.Sprintf("  - {name: v%d, cells: 8}", i) }), 1, "unknown key"},
	} {
		_, _, list := LoadAll("f.yaml", []byte(c.text))
		if len(list) != c.want || !strings.HasPrefix(list[len(list)-1].Summary, c.last) {
			t.Errorf("%d errors, want %d, the last %s:\n%v", len(list), c.want, c.last, list)
		}
	}
}
