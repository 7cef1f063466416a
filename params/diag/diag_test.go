package diag

import (
	"errors"
	"strings"
	"testing"
)

const source = "fixture: four\nrods:\n  thread: M7\n\thole: 9 mm\n  naïve: 盒子 x\nlast: y"

func render(t *testing.T, l List, src string, color bool) string {
	t.Helper()
	var b strings.Builder
	if err := l.Render(&b, map[string]string{"f.yaml": src}, color); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func at(line, col, endCol int) Range {
	return Range{File: "f.yaml", Line: line, Col: col, EndLine: line, EndCol: endCol}
}

func TestRenderWholeMessage(t *testing.T) {
	l := List{{
		Summary: "rods.thread is not in the threads table", Found: `"M7"`,
		Expected: "a thread, such as M8", Suggestion: `did you mean "M8"?`,
		Range: at(3, 11, 13), Related: []Range{at(4, 2, 6)},
	}}
	want := `f.yaml:3:11: error: rods.thread is not in the threads table
    3 |   thread: M7
      |           ^~
      found: "M7"
      expected: a thread, such as M8
      suggestion: did you mean "M8"?
      also: f.yaml:4:2
    4 | ` + "\thole: 9 mm" + `
      | ` + "\t^~~~" + "\n"
	if got := render(t, l, source, false); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestRenderExcerpts(t *testing.T) {
	long := strings.Repeat("a", 70) + "BAD" + strings.Repeat("z", 500)
	tests := []struct {
		name, src string
		rng       Range
		want      string
	}{
		{"wide and accented", source, at(5, 13, 14), "    5 |   naïve: 盒子 x\n      |               ^\n"},
		{"mark on wide", source, at(5, 10, 12), "    5 |   naïve: 盒子 x\n      |          ^~~~\n"},
		{"combining", "e\u0301x: 1", at(1, 5, 6), "    1 | e\u0301x: 1\n      |    ^\n"},
		{"last line, no newline", source, at(6, 7, 8), "    6 | last: y\n      |       ^\n"},
		{"one past the end", source, at(1, 14, 15), "    1 | fixture: four\n      |              ^\n"},
		{"far past the end", source, at(1, 999, 1005), "    1 | fixture: four\n      |              ^\n"},
		{"no end", source, Range{File: "f.yaml", Line: 1, Col: 10}, "    1 | fixture: four\n      |          ^\n"},
		{"no column", source, Range{File: "f.yaml", Line: 1}, "    1 | fixture: four\n      | ^\n"},
		{"several lines", source, Range{File: "f.yaml", Line: 1, Col: 10, EndLine: 3, EndCol: 4}, "    1 | fixture: four\n      |          ^~~~\n"},
		{"carriage return", "a: b\r\nc: d\r\n", at(1, 4, 5), "    1 | a: b\n      |    ^\n"},
		{"escape", "a: \x1b[31mred", at(1, 4, 5), "    1 | a: \uFFFD[31mred\n      |    ^\n"},
		{"not UTF-8", "a: \xff\xfe!", at(1, 6, 7), "    1 | a: \uFFFD\uFFFD!\n      |      ^\n"},
		{"line not there", source, at(99, 1, 2), ""},
		{"file not there", source, Range{File: "other", Line: 1, Col: 1}, ""},
		{"endless line", long, at(1, 71, 74), "    1 | …" + strings.Repeat("a", 39) + "BAD" + strings.Repeat("z", 56) + "…\n      | " + strings.Repeat(" ", 40) + "^~~\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := render(t, List{{Summary: "bad", Range: tt.rng}}, tt.src, false)
			want := tt.rng.String() + ": error: bad\n" + tt.want
			if got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

func TestRenderColour(t *testing.T) {
	got := render(t, List{{Severity: Warning, Summary: "odd", Range: at(6, 7, 8)}}, source, true)
	want := "\x1b[1mf.yaml:6:7\x1b[0m: \x1b[1;33mwarning:\x1b[0m \x1b[1modd\x1b[0m\n" +
		"    6 | last: y\n      |       \x1b[1;33m^\x1b[0m\n"
	if got != want {
		t.Errorf("got %q\nwant %q", got, want)
	}
}

func TestRenderSafeText(t *testing.T) {
	got := render(t, List{{Summary: "a\x1b[2Jb\nc\u202ed", Range: Range{File: "x\x07"}}}, "", false)
	if want := "x\uFFFD: error: a\uFFFD[2Jb c\uFFFDd\n"; got != want {
		t.Errorf("got %q want %q", got, want)
	}
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestRenderReportsWriteError(t *testing.T) {
	if err := (List{{Summary: "x"}}).Render(brokenWriter{}, nil, false); err == nil || err.Error() != "full" {
		t.Errorf("got %v", err)
	}
}

func TestSort(t *testing.T) {
	l := List{
		{Summary: "c", Range: at(9, 1, 2)},
		{Summary: "warn", Severity: Warning, Range: at(2, 1, 2)},
		{Summary: "b", Range: at(2, 1, 2)},
		{Summary: "a", Range: at(1, 5, 6)},
		{Summary: "b", Range: at(2, 1, 2)},
		{Summary: "whole", Range: Range{File: "f.yaml"}},
		{Summary: "b", Range: at(2, 1, 2), Related: []Range{at(3, 1, 2)}},
	}
	l.Sort()
	want := "f.yaml: error: whole\nf.yaml:1:5: error: a\nf.yaml:2:1: error: b\nf.yaml:2:1: error: b\nf.yaml:2:1: warning: warn\nf.yaml:9:1: error: c"
	if got := l.Error(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if e, w := l.Count(Error), l.Count(Warning); e != 5 || w != 1 {
		t.Errorf("%d errors and %d warnings, want 5 and 1", e, w)
	}
}

func TestErr(t *testing.T) {
	var l List
	if l.Err() != nil || l.HasErrors() {
		t.Error("an empty list is an error")
	}
	l.Add(Diagnostic{Severity: Warning, Summary: "w"}, Diagnostic{Severity: Note, Summary: "n"})
	if l.Err() != nil {
		t.Error("a warning is an error")
	}
	l.Errorf(Range{}, "no %s", "go")
	err := l.Err()
	var as List
	if err == nil || !errors.As(err, &as) || as.Count(Error) != 1 {
		t.Errorf("got %v", err)
	}
}

func TestNearest(t *testing.T) {
	keys := []string{"thickness", "width", "height", "rods", "M8", "M10", "prevailing", "edge_distance"}
	tests := []struct {
		word, want string
	}{
		{"thicknes", "thickness"}, {"tihckness", "thickness"}, {"Widht", "width"}, {"hight", "height"},
		{"rdos", "rods"}, {"m8", "M8"}, {"M9", "M8"}, {"M1O", "M10"}, {"prevail", "prevailing"},
		{"edge-distance", "edge_distance"}, {"rods_extra", "rods"},
		{"", ""}, {"x", ""}, {"qqqq", ""}, {"colour", ""}, {strings.Repeat("width", 1000), ""},
	}
	for _, tt := range tests {
		got, ok := Nearest(tt.word, keys)
		if got != tt.want || ok != (tt.want != "") {
			t.Errorf("Nearest(%.20q) = %q, %v; want %q", tt.word, got, ok, tt.want)
		}
	}
	if got, ok := Nearest("a", nil); ok {
		t.Errorf("found %q in nothing", got)
	}
}

// What the input can make endless is cut: a message, and their number.
func TestRenderCuts(t *testing.T) {
	var l List
	for i := range MostTold + 1 {
		l.Errorf(Range{File: "f.yaml", Line: 1, Col: 1 + i}, "bad")
	}
	if got := render(t, l[:MostTold], "", false); strings.Count(got, "bad") != MostTold || strings.Contains(got, "more") {
		t.Errorf("of %d errors: %s", MostTold, got)
	}
	if got := render(t, l, "", false); strings.Count(got, "bad") != MostTold || !strings.HasSuffix(got, "\n1 more are not shown: mend those above first\n") {
		t.Errorf("of %d errors: %s", MostTold+1, got)
	}
	for _, n := range []int{mostSaid, mostSaid + 1} {
		d := Diagnostic{Summary: "bad", Found: strings.Repeat("é", n)}
		if got := render(t, List{d}, "", false); strings.Contains(got, "éé…") != (n > mostSaid) || strings.Count(got, "é") > mostSaid {
			t.Errorf("of %d letters: %s", n, got)
		}
	}
}
