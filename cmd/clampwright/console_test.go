package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// A text is wrapped to the width, a figure stays with its unit, colours take no
// room, and a word wider than the line stays whole.
func TestPara(t *testing.T) {
	for _, c := range []struct{ first, rest, text, want string }{
		{"", "", "a bolt", "a bolt\n"},
		{"", "  ", "one two three four five six", "one two three\n  four five six\n"},
		{"", "  ", "set nine of 12 mm", "set nine of\n  12 mm\n"},
		{"", "  ", "about 1234 aa 50 %", "about 1234 aa\n  50 %\n"},
		{"\x1b[31mFAIL\x1b[0m  ", "  ", "one two three", "\x1b[31mFAIL\x1b[0m  one two\n  three\n"},
		{"", "", "donaudampfschiff is long", "donaudampfschiff\nis long\n"},
		{"> ", "> ", "", "> \n"},
	} {
		var b strings.Builder
		ui := &console{out: &b, width: 15}
		ui.para(c.first, c.rest, c.text)
		if b.String() != c.want {
			t.Errorf("%q: %q, want %q", c.text, b.String(), c.want)
		}
	}
}

// runs runs a command line and returns what it printed and its code.
func runs(args ...string) (string, int) {
	var out, err strings.Builder
	code := run(context.Background(), append([]string{"clampwright"}, args...), &console{out: &out, err: &err, width: columns})
	return out.String() + err.String(), code
}

// A check that does not fail takes a screen at most, no line is wider than it, and
// the verdict comes first; a quiet one takes none. A failing one still says what
// fails when quiet.
func TestConsoleIsShort(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(examplesDir, "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatal("no examples", err)
	}
	if testing.Short() {
		files = files[:3]
	}
	for _, file := range files {
		text, code := runs("check", file)
		lines := strings.Split(strings.TrimSpace(text), "\n")
		if code == exitDone && len(lines) > 24 {
			t.Errorf("%s: %d lines, at most 24:\n%s", file, len(lines), text)
		}
		for _, l := range lines {
			if utf8.RuneCountInString(l) > columns {
				t.Errorf("%s: %d wide: %s", file, utf8.RuneCountInString(l), l)
			}
		}
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		if !strings.HasPrefix(lines[0], name+": ") {
			t.Errorf("%s: begins with %q", file, lines[0])
		}
		quiet, again := runs("--quiet", "check", file)
		if again != code || (quiet == "") != (code == exitDone) || code == exitFouled && !strings.HasPrefix(quiet, "FAIL  ") {
			t.Errorf("%s: quiet ends with %d and prints %q", file, again, quiet)
		}
	}
}

// JSON is the report and nothing else.
func TestJSONAlone(t *testing.T) {
	file := filepath.Join(examplesDir, "two-cell-frames.yaml")
	text, _ := runs("check", "--json", file)
	to := filepath.Join(t.TempDir(), "report.json")
	_, _ = runs("check", "--report", to, file)
	want, err := os.ReadFile(to)
	if err != nil || text != string(want) {
		t.Errorf("%v, %d bytes, want %d", err, len(text), len(want))
	}
}
