package params

import (
	"strings"
	"testing"
)

// What is wrong with a value is told in the unit that it was typed with: 1 in is 25.4 mm, 1 lbf
// 4.44822 N, 1 kgf 9.80665 N (NIST SP 811). A bare number has the file's.
func TestAsTyped(t *testing.T) {
	const least = "fixture: a\ncell: {model: 54x174x200}\npack: {cells: 4}\n"
	for _, c := range []struct{ text, found, expected string }{
		{least + "rods: {length: 0.1 in}\n", "0.1 in", "0.788 in to 236.22 in"}, // 20 mm to 6 m
		{least + "rods: {length: 2 mm}\n", "2 mm", "20 mm to 6 m"},
		{least + "rods: {length: 2}\n", "2", "20 mm to 6 m"},
		{strings.Replace(least, "200}", "200, force: 9999999 lbf}", 1), "9999999 lbf", "2.249 to 44960 lbf"}, // 10 N to 200 kN
		{strings.Replace(least, "200}", "200, force: 0.1 kgf}", 1), "0.1 kgf", "1.02 to 20390 kgf"},
		{least + "rods: {levels: [7 in, 9 in]}\nplates: {width: 300, height: 200}\n", "a hole at 9 in", "rods.levels from 0.177 in to 7.697 in"},
		{least + "rods: {levels: [178, 228.6]}\nplates: {width: 300, height: 200}\n", "a hole at 228.6 mm", "rods.levels from 4.5 mm to 195.5 mm"},
		{least + "plates: {width: 5 in}\n", "in", "in"},
	} {
		f, list := Load("a.yaml", []byte(c.text))
		if f != nil || len(list) != 1 || !strings.HasSuffix(list[0].Found, c.found) || !strings.HasSuffix(list[0].Expected, c.expected) {
			t.Errorf("%s%+v, want %q and %q", c.text, list, c.found, c.expected)
		}
	}
}

// What is wrong with a variant alone points at it: at the one value that it gives, else at its
// name; what is wrong with that value itself stays there.
func TestVariantsPointAtThemselves(t *testing.T) {
	const base = "fixture: a\ncell: {model: 54x174x200}\npack: {cells: 8}\nvariants:\n"
	for text, want := range map[string]string{
		"  - {name: b, rows: 5}\n":              "5:21",
		"  - {name: b, rows: 5, parallel: 1}\n": "5:12",
		"  - {name: b, cells: 900}\n":           "5:22",
	} {
		_, _, list := LoadAll("a.yaml", []byte(base+text))
		if len(list) != 1 || list[0].Range.Place() != want {
			t.Errorf("%s%+v, want %s", text, list, want)
		}
	}
	_, diags := Decode("a.yaml", []byte(strings.TrimSuffix(base, "variants:\n")))
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	in, _ := Decode("a.yaml", []byte(strings.TrimSuffix(base, "variants:\n")))
	rows, list := Rows("rows.csv", []byte("name,pack.rows\nb,5\n"))
	if len(list) > 0 {
		t.Fatal(list)
	}
	v := in.Vary(nil, rows[0])
	if got := v.Own(v.Notes); len(got) != 1 || got[0].Range.String() != "rows.csv:2:3" || len(got[0].Related) == 0 || got[0].Related[0].Place() != "3:15" {
		t.Errorf("%+v", got)
	}
}
