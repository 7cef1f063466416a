package live

import (
	"strings"
	"testing"
)

// A value is found where it stands whole, and not as a part of another number or word.
func TestFind(t *testing.T) {
	for _, c := range []struct {
		text, v string
		at      int
	}{
		{"18 mm thick", "18 mm", 0},
		{"of 18 mm.", "18 mm", 3},
		{"118 mm", "18 mm", -1},
		{"2.18 mm", "18 mm", -1},
		{"18 mm2", "18 mm", -1},
		{"-18 mm", "18 mm", -1},
		{"3 1/2 in", "1/2 in", -1},
		{"saw 1/2 in off", "1/2 in", 4},
		{"1/2 in inches", "1/2 in", 0},
		{"1/2 inches", "1/2 in", -1},
		{"8 15/16 x 7 3/4 x 3/4 in", "3/4 in", 18},
		{"8 15/16 x 7 3/4 x 3/4 in", "8 15/16 x ", 0},
		{"8 15/16 x 7 3/4 x 3/4 in", "3/4 x ", -1},
		{"M8", "M8", 0},
		{"M80", "M8", -1},
		{"118 mm and 18 mm", "18 mm", 11},
	} {
		if got := find(c.text, c.v, 0); got != c.at {
			t.Errorf("%q in %q: at %d, wanted %d", c.v, c.text, got, c.at)
		}
	}
}

// What is marked is the words of that value; values that read alike are taken in turn;
// what a text does not speak of is left alone.
func TestMark(t *testing.T) {
	m := &marker{at: map[string]int{}, secret: newSecret(), values: []value{
		{Path: "plates.width", Text: "240 mm"}, {Path: "plates.height", Text: "240 mm"}, {Path: "plates.thickness", Text: "18 mm"},
		{Path: "rods.hole", Text: "9 mm"}, {Path: "pack.cells", Text: "4"}, {Path: "cell.case", Text: "insulated"}, {Path: "plates.material", Text: "birch plywood"},
	}}
	for _, c := range []struct {
		text, about string
		counts      bool
		want        string
	}{
		{"240 mm x 240 mm x 18 mm", "end plate", false, "[plates.width 240 mm] x [plates.height 240 mm] x [plates.thickness 18 mm]"},
		{"240 x 240 x 18 mm", "end plate", false, "[plates.width 240] x [plates.height 240] x [plates.thickness 18 mm]"},
		{"18 mm", "cells", false, "18 mm"},
		{"drill 9 mm", "holes of the plate", false, "drill [rods.hole 9 mm]"},
		{"4 in 1 row", "cells", true, "[pack.cells 4] in 1 row"},
		{"4 in 1 row", "cells", false, "4 in 1 row"},
		{"", "cells", true, ""},
		{"use tools insulated to one end", "case", false, "use tools insulated to one end"},
		{"insulated", "case", false, "[cell.case insulated]"},
		{"birch plywood, 18 mm", "plate", false, "[plates.material birch plywood], [plates.thickness 18 mm]"},
	} {
		got := signed.ReplaceAllStringFunc(m.mark(c.text, c.about, c.counts), func(s string) string {
			p := signed.FindStringSubmatch(s)
			return "[" + m.values[[]rune(p[2])[0]-firstNumber].Path + " " + p[3] + "]"
		})
		if got != c.want {
			t.Errorf("%q about %q: %s, wanted %s", c.text, c.about, got, c.want)
		}
	}
}

// A name that holds the signs, or what looks like HTML, does no harm.
func TestMarkHostile(t *testing.T) {
	m := &marker{secret: newSecret(), values: []value{{Path: "a", Text: "<b>"}}}
	got := string(m.html("\ue000\ue100\ue100\ue100\ue100x\ue001 \ue000 \ue001 &lt;i&gt;"))
	if strings.Contains(got, "<") || !strings.Contains(got, "x") {
		t.Error(got)
	}
	if got := m.button(0, "&lt;b&gt;"); strings.Contains(got, "<b>") {
		t.Error(got)
	}
}
