package params

import (
	"fmt"
	"strings"
	"testing"

	"clampwright/params/unit"
)

func TestSheetTakes(t *testing.T) {
	for _, c := range []struct {
		sheet, part unit.Length
		want        bool
		why         string
	}{
		{18, 18, true, "the same"},
		{18, 17.7, true, "sold as 18, measured"},
		{17.7, 18, true, "measured sheet, drawn as sold"},
		{18, 17.4, true, "0.6 mm less"},
		{18, 17.39, false, "more than 0.6 mm less"},
		{18, 18.6, true, "0.6 mm more"},
		{18, 18.61, false, "more than 0.6 mm more"},
		{40, 39.4, true, "0.6 mm of a thick one"},
		{40, 39.3, false, "under 3.5 %, but more than 0.6 mm"},
		{9, 8.7, true, "sold as 9, measured"},
		{10, 9.65, true, "3.5 %"},
		{10, 9.64, false, "more than 3.5 %"},
		{10, 10.35, true, "3.5 % more"},
		{10, 10.36, false, "more than 3.5 % more"},
		{10, 3 * 25.4 / 8, false, "3/8 in"},
		{12, 12.7, false, "1/2 in"},
		{12.5, 12, false, "the next size"},
		{5, 3 * 25.4 / 16, false, "3/16 in"},
		{3, 25.4 / 8, false, "1/8 in"},
		{16, 5 * 25.4 / 8, true, "5/8 in"},
		{19, 3 * 25.4 / 4, true, "3/4 in"},
		{25, 25.4, true, "1 in"},
		{1, 0.5, false, "half"},
		{0.5, 1, false, "double"},
		{0.5, 0.49, true, "thin, measured"},
		{0.5, 0.48, false, "thin, 4 %"},
		{0.1, 0.125, false, "films"},
	} {
		s := SheetStock{Material: "birch plywood", Thickness: c.sheet}
		if got := s.Takes("birch plywood", c.part); got != c.want {
			t.Errorf("sheet of %g mm, part of %g mm (%s): %v, want %v", float64(c.sheet), float64(c.part), c.why, got, c.want)
		}
		if s.Takes("hdpe", c.part) {
			t.Errorf("a sheet of birch takes a part of hdpe of %g mm", float64(c.part))
		}
	}
}

// What the file lists is kept; what it lists nothing for can be bought in usual
// sizes.
func TestUsualStock(t *testing.T) {
	for name, c := range map[string]struct {
		more string // lines of the file
		want string // sheets and rods that the fixture has: usual ones with a star
	}{
		"nothing listed":    {"", "18* 2* M8* M8* M8*"},
		"sold as 18":        {"plates: {material: birch plywood, thickness: 17.7}\nstock: {sheets: [{material: birch plywood, thickness: 18, width: 900, height: 900}]}", "18 2* M8* M8* M8*"},
		"another material":  {"stock: {sheets: [{material: hdpe, thickness: 18, width: 900, height: 900}]}", "18 18* 2* M8* M8* M8*"},
		"another thickness": {"stock: {sheets: [{material: birch plywood, thickness: 15, width: 900, height: 900}]}", "15 18* 2* M8* M8* M8*"},
		"half of one":       {"liners: {material: fr4, thickness: 0.5}\nstock: {sheets: [{material: fr4, thickness: 1, width: 900, height: 900}]}", "1 18* 0.5* 2* M8* M8* M8*"},
		"two thicknesses":   {"liners: {material: fr4, thickness: 0.5}\nseparators: {material: fr4, thickness: 1}", "18* 1* 0.5* 2* M8* M8* M8*"},
		"one thickness":     {"liners: {material: fr4, thickness: 1}\nseparators: {material: fr4, thickness: 1}", "18* 1* 2* M8* M8* M8*"},
		"copper":            {"stock: {sheets: [{material: copper, thickness: 2, width: 300, height: 300}]}", "2 18* M8* M8* M8*"}, // links wider than bar
		"other links":       {"electrical: {link_thickness: 3, link_material: aluminium}", "18* 3* M8* M8* M8*"},
		"a rod":             {"stock: {rods: [{length: 1 m}]}", "18* 2* M8"},
		"another thread":    {"stock: {rods: [{item: M6, length: 1 m}]}", "18* 2* M6 M8* M8* M8*"},
	} {
		text := "fixture: f\ncell: {model: 72x174x201}\npack: {cells: 4}\nrods: {thread: M8}\n" + c.more + "\n"
		if !strings.Contains(text, "plates:") {
			text += "plates: {material: birch plywood, thickness: 18}\n"
		}
		f, diags := Load("s.yaml", []byte(text))
		if f == nil {
			t.Fatal(name, diags)
		}
		var got []string
		star := map[bool]string{true: "*"}
		ids := map[string]bool{}
		for _, s := range f.Stock.Sheets {
			got, ids[s.ID] = append(got, fmt.Sprint(s.Thickness.MM())+star[s.Usual]), true
		}
		for _, r := range f.Stock.Rods {
			got, ids[r.ID] = append(got, r.Item+star[r.Usual]), true
		}
		if s := strings.Join(got, " "); s != c.want || len(ids) != len(got) {
			t.Errorf("%s: %s with the names %v, want %s", name, s, ids, c.want)
		}
	}
}

// An offcut lies in the shop, once unless the file says more.
func TestOffcutIsAtHand(t *testing.T) {
	for more, want := range map[string]int{"": 0, "quantity: 2": 2, "offcut: true": 1, "offcut: true, quantity: 3": 3} {
		text := "fixture: f\ncell: {model: 72x174x201}\npack: {cells: 4}\nstock: {sheets: [{material: hdpe, thickness: 18, width: 900, height: 900, " + more + "}]}\n"
		f, diags := Load("s.yaml", []byte(text))
		if f == nil {
			t.Fatal(diags)
		}
		if got := f.Stock.Sheets[0].Quantity; got != want {
			t.Errorf("%q: %d at hand, want %d", more, got, want)
		}
	}
}
