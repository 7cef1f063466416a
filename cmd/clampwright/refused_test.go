//go:build unix

package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What the stages after the reading refuse of a file whose every value is within its
// limits: placing, cutting, printing, the links and the mechanics. Each is said at its
// place in the file, with what was found and what it may be in the units of the file, and
// a way out.
func TestRefusedAfterReading(t *testing.T) {
	const bare = "fixture: a\ncell: {model: 72x174x201}\npack: {cells: 4}\n"
	const wired = bare + "electrical: {series: 4, current: 100, "
	number := regexp.MustCompile(`[0-9]`)
	for _, c := range []struct{ name, file, place, says, found, expected string }{
		{"slot off the plate", bare + "plates: {tie_slots: true, height: 60 mm}\n", "4:21", "plates.tie_slots: slot SL1 of the end plate does not clear the ", " mm", " mm or more"},
		{"hole off the plate", bare + "plates: {feet: {hole: 12 mm, inset: 4 mm}}\n", "4:17", "plates.feet: mounting hole H5 of the end plate does not clear the edge", "3.17 mm from the edge", "6 mm or more"},
		{"beyond the corner", bare + "plates: {corner_radius: 40 mm, feet: {hole: 6 mm, inset: 5 mm}}\n", "4:", "mounting hole", "9.5 mm beyond the edge", "3 mm or more"},
		{"in inches", "units: in\n" + bare + "plates: {feet: {hole: 12 mm, inset: 4 mm}}\n", "5:17", "plates.feet: mounting hole H5", " in ", " in "},
		{"no channel", bare + "printer: {min_wall: 4 mm}\nseparators: {printed: true, pattern: ribs, thickness: 3 mm}\n", "5:55", "separators.thickness: the separator has no room for its thickness", "3 mm", "4.3 mm or more"},
		{"rods above the cells", bare + "liners: {material: fr4, bottom: 150 mm}\n", "", "rods.levels: the middle of the rods is above or below the cells: the plate tips", " mm", " mm"},
		{"plate too low", bare + "plates: {height: 30 mm}\n", "4:", "plates: the plate covers too little of the face", "14.9 %", "50 to 100 %"},
		{"half a terminal", wired + "links: [{state: final, links: [1+ 2-, 2+ 3]}]}\n", "4:77", `electrical.links: the link cannot be read: want two terminals, such as "1+ 4-"`, "2+ 3", "two terminals"},
		{"no such cell", wired + "links: [{state: final, links: [1+ 9-]}]}\n", "4:70", `no cell "9" in this pack`, "1+ 9-", "two terminals"},
		{"no such pole", wired + "links: [{state: final, links: [1+ 2 up]}]}\n", "4:70", `"up" is neither +, -, left nor right`, "1+ 2 up", "two terminals"},
		{"to itself", wired + "links: [{state: final, links: [1+ 1+]}]}\n", "4:70", "both ends are the same terminal", "1+ 1+", "two terminals"},
		{"far too long", wired + "links: [{state: final, links: [1+ 2-" + strings.Repeat("-", 100) + "]}]}\n", "4:70", "it has 105 characters, at most 100 are read", "1+ 2-", "two terminals"},
		{"no such state", wired + "links: [{state: nowhere, links: [1+ 2-]}]}\n", "4:55", `electrical.links: no plan has a state "nowhere"; the states are balance and final`, "", ""},
	} {
		code, said := checkedText(t, c.file)
		place := "f.yaml:" + c.place
		if code != exitInput || !strings.Contains(said, place) || !strings.Contains(said, c.says) || !placed.MatchString(said) {
			t.Errorf("%s: exit code %d, want %s and %q:\n%s", c.name, code, place, c.says, said)
		}
		for what, want := range map[string]string{"found: ": c.found, "expected: ": c.expected} {
			_, after, there := strings.Cut(said, what)
			after, _, _ = strings.Cut(after, "\n")
			if want != "" && (!there || !strings.Contains(after, want)) {
				t.Errorf("%s: %s%q, want %q", c.name, what, after, want)
			}
		}
		if bad := innermost.FindString(said); bad != "" || !strings.Contains(said, "suggestion: ") || !number.MatchString(said) {
			t.Errorf("%s: says %q, or no way out:\n%s", c.name, bad, said)
		}
	}
}

// What keeps links from being made is judged, so that it is mended with the rest: the
// finding names the key, its place, the values in the units of the file and the limit, and
// the way out is proved, or that there is none said.
func TestLinksThatCannotBeMade(t *testing.T) {
	const bare = "fixture: a\ncell: {model: 72x174x201, force: 3 kN}\npack: {cells: 4}\n"
	for _, c := range []struct{ name, file, says, way string }{
		{"narrow", bare + "electrical: {series: 4, current: 100, link_width: 4 mm}\n", "electrical.link_width (line 4, column 51): hole 6.6 mm does not fit a bar 4 mm wide, which has to be wider than it", "Let the program derive electrical.link_width"},
		{"narrow, in inches", "units: in\n" + bare + "electrical: {series: 4, current: 100, link_width: 1/4 in}\n", "electrical.link_width (line 5, column 51): hole 0.26 in does not fit a bar 0.25 in wide", "Let the program derive electrical.link_width"},
		{"terminals too near", "fixture: a\ncell: {model: 72x174x201, force: 3 kN, terminals: {pitch: 5 mm}}\npack: {cells: 4}\nelectrical: {series: 4, current: 100}\n", "(line 2, column 52): the two pads of a cell touch: they are 18 mm wide and their middles 5 mm apart", "What stands in the way: parts apart"},
	} {
		code, said := checkedText(t, c.file)
		said = strings.Join(strings.Fields(said), " ")
		if code != exitFouled || !strings.Contains(said, c.says) || !strings.Contains(said, c.way) {
			t.Errorf("%s: exit code %d, want %q and %q:\n%s", c.name, code, c.says, c.way, said)
		}
	}
}

// checkedText is what `check` says of a file, named f.yaml.
func checkedText(t *testing.T, text string) (code int, said string) {
	t.Helper()
	t.Chdir(t.TempDir())
	if err := os.WriteFile(filepath.Join(".", "f.yaml"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	code = run(context.Background(), []string{"clampwright", "check", "f.yaml"}, &console{out: &out, err: &out, width: 100})
	return code, out.String()
}
