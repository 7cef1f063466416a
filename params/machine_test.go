package params

import (
	"strings"
	"testing"

	"clampwright/params/diag"
	"clampwright/params/unit"
)

// One machine cuts the sheets: a beam where a kerf is given, a router where a cutter
// is, else hand tools; both, or compensation without either, are one error each.
func TestMachine(t *testing.T) {
	for _, c := range []struct {
		text  string
		want  Machine
		tool  float64
		error string
	}{
		{"", HandTools, 0, ""},
		{"tools: {cutter: 6 mm}\n", Router, 6, ""},
		{"stock: {beam_kerf: 0.2 mm}\n", Laser, 0.2, ""},
		{"stock: {beam_kerf: 0.2 mm, compensate: true}\n", Laser, 0.2, ""},
		{"stock: {beam_kerf: 0.2 mm}\ntools: {cutter: 6 mm}\n", "", 0, "a laser's kerf and a router's cutter"},
		{"stock: {beam_kerf: 0 mm}\ntools: {cutter: 6 mm}\n", Router, 6, ""},
		{"stock: {compensate: true}\n", "", 0, "nothing to compensate for"},
	} {
		f, diags := Load("f.yaml", []byte(least+c.text))
		if n := diags.Count(diag.Error); n > 1 || (n == 1) != (c.error != "") || n == 1 && !strings.Contains(diags.Error(), c.error) {
			t.Errorf("%q: %v", c.text, diags)
			continue
		}
		if c.error != "" {
			continue
		}
		if m, tool := f.Machine(); m != c.want || tool != c.tool {
			t.Errorf("%q: %s, %g", c.text, m, tool)
		}
	}
}

// What is given between parts and at the edges of sheets is kept, or refused where the
// tool has no room: by hand the saw's kerf, on a machine the tool and a web of a
// millimetre. What is left out is derived with that room.
func TestRoomOfTheCut(t *testing.T) {
	const gap, rim = "between parts on a sheet", "between a part and the edge of its sheet"
	for _, c := range []struct {
		text        string
		gap, margin unit.Length
		error, want string
	}{
		{"", 3, 5, "", ""},
		{"stock: {part_gap: 2 mm, margin: 0 mm}\n", 2, 0, "", ""},
		{"stock: {part_gap: 1.9 mm}\n", 0, 0, "the saw's kerf does not fit " + gap, "2 mm or more"},
		{"stock: {saw_kerf: 4 mm}\n", 4, 5, "", ""},
		{"tools: {cutter: 6 mm}\n", 7, 7, "", ""},
		{"tools: {cutter: 6 mm}\nstock: {part_gap: 7 mm, margin: 7 mm}\n", 7, 7, "", ""},
		{"tools: {cutter: 6 mm}\nstock: {part_gap: 20 mm, margin: 30 mm}\n", 20, 30, "", ""},
		{"tools: {cutter: 6 mm}\nstock: {part_gap: 6.9 mm}\n", 0, 0, "a cutter with its web does not fit " + gap, "7 mm or more"},
		{"tools: {cutter: 6 mm}\nstock: {margin: 6.9 mm}\n", 0, 0, "a cutter with its web does not fit " + rim, "7 mm or more"},
		{"stock: {beam_kerf: 0.2 mm}\n", 3, 5, "", ""},
		{"stock: {beam_kerf: 0.2 mm, part_gap: 1.2 mm, margin: 1.2 mm}\n", 1.2, 1.2, "", ""},
		{"stock: {beam_kerf: 0.2 mm, margin: 0 mm}\n", 0, 0, "a beam with its web does not fit " + rim, "1.2 mm or more"},
	} {
		f, diags := Load("f.yaml", []byte(least+c.text))
		if n := diags.Count(diag.Error); n > 1 || (n == 1) != (c.error != "") || n == 1 && !(strings.Contains(diags.Error(), c.error) && diags[len(diags)-1].Expected == c.want) {
			t.Errorf("%q: %v", c.text, diags)
			continue
		}
		if c.error == "" && (f.Stock.PartGap != c.gap || f.Stock.Margin != c.margin) {
			t.Errorf("%q: %v between parts, %v at the edge", c.text, f.Stock.PartGap, f.Stock.Margin)
		}
	}
}

// A plate with mounting holes is derived so wide that their screws' heads stand beside
// the cells: half a cell, its tolerance, 3 mm, half a washer of 18 mm, the inset.
func TestPlateHoldsItsFeet(t *testing.T) {
	for _, c := range []struct {
		feet string
		want float64 // least half width; 0: the rods'
	}{{"", 0}, {"feet: {hole: 6.6 mm, inset: 30 mm}", 87 + 3 + 9 + 30}, {"feet: {hole: 6.6 mm, inset: 12 mm}", 0}} {
		f, diags := Load("f.yaml", []byte(least+"rods: {thread: M8}\nplates: {"+c.feet+"}\n"))
		if f == nil {
			t.Fatal(diags)
		}
		bare, _ := Load("f.yaml", []byte(least+"rods: {thread: M8}\n"))
		half := f.Plate.Width.MM() / 2
		if c.want == 0 && f.Plate.Width != bare.Plate.Width || c.want > 0 && (half < c.want || half > c.want+1.5) {
			t.Errorf("%s: half the plate is %g, want %g", c.feet, half, c.want)
		}
	}
}

// Outlines are as far off as what cuts the plates: half a millimetre by hand, a tenth by a
// machine that takes the material. So are holes, where no angle and no joined plate is
// drilled by hand for the same rods. The file may say how holes are made.
func TestMachineTolerance(t *testing.T) {
	const router, laser, bare = "tools: {cutter: 6 mm}\n", "stock: {beam_kerf: 0.2 mm}\n", "stiffeners: none\n"
	for text, want := range map[string]struct{ hole, size unit.Length }{
		"": {0.5, 0.5}, router: {0.5, 0.1}, laser: {0.5, 0.1}, router + bare: {0.1, 0.1}, laser + bare: {0.1, 0.1},
		router + "plates: {material: 6061-T6}\n": {0.1, 0.1}, router + "plates: {material: 6061-T6}\nstiffeners: {angle: 25x25x3}\n": {0.5, 0.1},
		router + bare + "plates: {laminate: {sheets: 2}}\n": {0.5, 0.1}, router + bare + "plates: {laminate: none}\n": {0.1, 0.1},
		laser + bare + "plates: {material: fr4}\n": {0.5, 0.5}, router + bare + "plates: {material: fr4}\n": {0.1, 0.1}, laser + bare + "plates: {material: pc}\n": {0.5, 0.5},
		router + bare + "tolerances: {holes: hand}\n": {0.5, 0.5}, "tolerances: {holes: laser}\n": {0.1, 0.1}, "tolerances: {holes: router}\n": {0.1, 0.1},
	} {
		f, diags := Load("f.yaml", []byte(least+text))
		if diags.HasErrors() {
			t.Fatal(diags)
		}
		if got := f.Tolerances; got.HolePosition != want.hole || got.PlateSize != want.size {
			t.Errorf("%q: %g and %g mm, want %g", text, got.HolePosition, got.PlateSize, want)
		}
	}
}
