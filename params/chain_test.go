package params

import (
	"math"
	"strings"
	"testing"

	"clampwright/params/unit"
)

// full is a file with every kind of layer in its chain.
const full = `
fixture: full
cell: {model: 36x130x200, pressure: 80 kPa, thickness_tolerance: 0.4}
pack: {cells: 6, rows: 2}
plates: {material: hdpe, thickness: 20}
liners: {material: fr4, thickness: 2}
separators: {material: pp, thickness: 3}
stiffeners: {angle: L 30x30x3}
rods: {thread: M8}
nuts: {kind: jam}
springs: {ends: both}
tolerances: {sheets: 0.05}
clamp: {aged: 1 mm}
`

func settled(t *testing.T, text string) *Fixture {
	t.Helper()
	f, diags := Load("t.yaml", []byte(text))
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	return f
}

// Every kind of layer: how many pieces of it there are, how thick, within what, what
// it lengthens by and whether it gives way.
func TestChainLayers(t *testing.T) {
	f := settled(t, full)
	runs := map[LayerKind]Run{}
	for _, r := range f.Chain().All().Runs() {
		runs[r.Kind] = r
	}
	steel := f.Rods.Grade.CTE
	for _, c := range []struct {
		kind       LayerKind
		pieces     int
		thick, tol unit.Length
		cte        float64
		soft       bool
		param      string
	}{
		{LayerCell, 3, 36, 0.4, f.Clamp.CellCTE, true, "cell.thickness_tolerance"},
		{LayerSeparator, 2, 3, 0.15, f.Separator.Material.CTE, true, "separators.thickness"},
		{LayerLiner, 2, 2, 0.1, f.Liner.Material.CTE, true, "liners.thickness"},
		{LayerPlate, 2, 20, 1, f.Plate.Material.CTE, false, "plates.thickness"},
		{LayerLeg, 2, 3, 0, f.Stiffener.Material.CTE, false, ""},
		{LayerWasher, 2, f.Washer.Thickness, 0, steel, false, ""},
		{LayerSpring, 2, f.Spring.SetHeight, 0, steel, false, ""},
		{LayerSpringWasher, 2, f.Washer.Thickness, 0, steel, false, ""},
		{LayerNut, 2, f.Nut.Height, 0, steel, false, ""},
		{LayerJamNut, 2, f.JamNut.Height, 0, steel, false, ""},
	} {
		r := runs[c.kind]
		if r.Pieces != c.pieces || math.Abs(float64(r.Thickness-c.thick)) > 1e-9 || math.Abs(float64(r.Tol-c.tol)) > 1e-9 || r.CTE != c.cte || (r.E > 0 || len(r.Curve) > 0) != c.soft || r.Param != c.param {
			t.Errorf("%s: %d of %g +-%g mm, %g /K, set by %q", c.kind, r.Pieces, r.Thickness.MM(), r.Tol.MM(), r.CTE, r.Param)
		}
		if free := r.Free; free < r.Thickness || (free > r.Thickness) != (c.kind == LayerSpring) {
			t.Errorf("%s: %g mm free, %g clamped", c.kind, free.MM(), r.Thickness.MM())
		}
	}
	if r := runs[LayerCell]; r.Aged != 1 || len(r.Growth) != len(f.Clamp.Growth) {
		t.Errorf("the cells grow by %v and %v mm", r.Growth, r.Aged)
	}
}

// The chain lies in its order, and what is not fitted is not in it.
func TestChainOrder(t *testing.T) {
	for _, c := range []struct{ text, stack, front, back string }{
		{full, "cell separator cell separator cell", "liner plate angle leg washer spring spring washer nut jam nut", "liner plate angle leg washer spring spring washer nut jam nut"},
		{strings.Replace(full, "ends: both", "ends: one", 1), "cell separator cell separator cell", "liner plate angle leg washer spring spring washer nut jam nut", "liner plate angle leg washer nut jam nut"},
		{"fixture: bare\ncell: {model: 36x130x200, pressure: 80 kPa}\npack: {cells: 2}\nplates: {material: 6061-T6, thickness: 10}\nliners: none\nstiffeners: none\n", "cell cell", "plate washer nut", "plate washer nut"},
		{"fixture: one\ncell: {model: 36x130x200, pressure: 80 kPa}\npack: {cells: 1}\nseparators: {material: pp, thickness: 3}\nstiffeners: none\n", "cell", "plate washer nut", "plate washer nut"},
	} {
		chain := settled(t, c.text).Chain()
		for i, ls := range []Layers{chain.Stack, chain.Ends[0], chain.Ends[1]} {
			var words []string
			for _, l := range ls {
				words = append(words, l.Kind.String())
			}
			if got, want := strings.Join(words, " "), []string{c.stack, c.front, c.back}[i]; got != want {
				t.Errorf("%q, want %q", got, want)
			}
		}
	}
}

// Sums by hand: three cells of 36, two sheets of 3, two liners of 2, plates of 20 and
// legs of 3 mm.
func TestChainSums(t *testing.T) {
	f := settled(t, full)
	all := f.Chain().All()
	if got := all.Thick(LayerCell, LayerLeg); math.Abs(got.MM()-164) > 1e-9 {
		t.Errorf("%g mm between the washers, 164 by hand", got.MM())
	}
	if got := all.Excess(LayerCell, LayerLeg); math.Abs(got.MM()-(3*0.4+2*0.15+2*0.1+2*1)) > 1e-9 {
		t.Errorf("%g mm at most more", got.MM())
	}
	if got := all.Free(LayerWasher, LayerJamNut) - all.Thick(LayerWasher, LayerJamNut); math.Abs((got - 2*(f.Spring.FreeHeight-f.Spring.SetHeight)).MM()) > 1e-9 {
		t.Errorf("free it is %g mm longer", got.MM())
	}
	want := 40*f.Plate.Material.CTE + 6*f.Stiffener.Material.CTE
	if got := all.Expansion(LayerPlate, LayerLeg); math.Abs(got-want) > 1e-12 {
		t.Errorf("plates and legs lengthen by %g mm/K, %g by hand", got, want)
	}
	measured := settled(t, strings.Replace(full, "rows: 2", "rows: 2, stack: 115", 1)).Chain().All()
	if got, off := measured.Thick(LayerCell, LayerSeparator), measured.Excess(LayerCell, LayerSeparator); math.Abs(got.MM()-115) > 1e-9 || off != 0 {
		t.Errorf("measured 115 mm: %g within %g", got.MM(), off.MM())
	}
}

// The ties: one for every column and level, each as long as from nut to nut.
func TestTies(t *testing.T) {
	f := settled(t, full)
	ties := f.Ties()
	if len(ties) != len(f.Rods.Columns)*len(f.Rods.Levels) {
		t.Fatalf("%d ties", len(ties))
	}
	long := 164 + 4*f.Washer.Thickness + 2*f.Spring.SetHeight
	for i, tie := range ties {
		level, column := i/len(f.Rods.Columns), i%len(f.Rods.Columns)
		if tie.Y != f.Rods.Levels[level] || tie.X != f.Rods.Columns[column] || tie.Share != f.RodShare(column) || math.Abs((tie.Length-long).MM()) > 1e-9 || tie.Spring != f.Spring {
			t.Errorf("tie %d: %+v", i, tie)
		}
	}
}
