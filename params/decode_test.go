package params

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"clampwright/params/diag"
)

const least = "fixture: a\ncell: {model: 72x174x201}\npack: {cells: 4}\n"

func rendered(t *testing.T, text string) string {
	t.Helper()
	_, diags := Load("pack.yaml", []byte(text))
	var b bytes.Buffer
	if err := diags.Render(&b, map[string]string{"pack.yaml": text}, false); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Every bad file gets its message: position, what was found, what was expected,
// and a suggestion where one is near.
func TestBadInput(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"empty", "", []string{"pack.yaml:1:1", "the file is empty"}},
		{"not a mapping", "foo", []string{"pack.yaml:1:1", "not a mapping"}},
		{"tab", "cell:\n\tthickness: 1\n", []string{"pack.yaml:2:1", "indent with spaces"}},
		{"two documents", least + "---\na: 1\n", []string{"pack.yaml:4:1", "second document"}},
		{"duplicate key", least + "pack: {cells: 5}\n", []string{"pack.yaml:4:1", "given twice", "the first is in line 3"}},
		{"misspelt key", strings.Replace(least, "model", "modle", 1), []string{"pack.yaml:2:8", `unknown key "modle" in cell`, `did you mean "model"?`}},
		{"decimal comma in braces", least + "plates: {thickness: 12,7 mm}\n", []string{"pack.yaml:4:24", "write numbers with a decimal point"}},
		{"misspelt block", least + "stifeners: none\n", []string{"pack.yaml:4:1", `did you mean "stiffeners"?`}},
		{"misspelt word", least + "nuts: {kind: prevaling}\n", []string{"pack.yaml:4:14", `did you mean "prevailing"?`}},
		{"misspelt row", strings.Replace(least, "72x174x201", "72x174x20l", 1), []string{"pack.yaml:2:15", "cells table"}},
		{"leading zero", strings.Replace(least, "cells: 4", "cells: 010", 1), []string{"pack.yaml:3:15", "leading zero"}},
		{"part of a cell", strings.Replace(least, "cells: 4", "cells: 4.5", 1), []string{"pack.yaml:3:15", "whole number"}},
		{"too many cells", strings.Replace(least, "cells: 4", "cells: 10000", 1), []string{"pack.yaml:3:15", "too large", "1 to 256"}},
		{"forty-metre plate", least + "plates: {width: 40 m}\n", []string{"pack.yaml:4:17", "too large", "30 mm to 2000 mm"}},
		{"a plate too thin, in inches", least + "units: in\nplates: {thickness: 0.039 in}\n", []string{"pack.yaml:5:21", "too small", "0.04 in to 3.937 in"}},
		{"a force too small, in inches", strings.Replace(least, "}", ", force: 1 lbf}", 1) + "units: in\n", []string{"too small", "lbf"}},
		{"negative", least + "plates: {thickness: -3 mm}\n", []string{"pack.yaml:4:21", "too small"}},
		{"not a number", least + "plates: {thickness: .nan}\n", []string{"pack.yaml:4:21"}},
		{"infinite", least + "plates: {thickness: .inf}\n", []string{"pack.yaml:4:21"}},
		{"unknown unit", least + "plates: {thickness: 3 inn}\n", []string{"pack.yaml:4:21", "in"}},
		{"zero denominator", least + "plates: {thickness: 3/0 in}\n", []string{"pack.yaml:4:21"}},
		{"force in millimetres", strings.Replace(least, "model: 72x174x201", "model: 72x174x201, force: 300 mm", 1), []string{"pack.yaml:2:34"}},
		{"list wanted", least + "rods: {levels: 52 mm}\n", []string{"pack.yaml:4:16", "a list"}},
		{"list of what", least + "rods: {columns: 2}\n", []string{"pack.yaml:4:17", "expected: a list, such as [-98 mm, 98 mm]"}},
		{"another unit", least + "electrical: {current: 5 V}\n", []string{"pack.yaml:4:23", "expected: a number of A, such as 100 A"}},
		{"a hundredth too many", least + "clamp: {set_charge: 60 %}\n", []string{"pack.yaml:4:21", "too large"}},
		{"block wanted", least + "rods: M8\n", []string{"pack.yaml:4:7", "a block of keys"}},
		{"no value", least + "rods: {thread: }\n", []string{"pack.yaml:4:", "has no value"}},
		{"missing key", "fixture: a\npack: {cells: 4}\n", []string{"pack.yaml:1:1", "cell is missing"}},
		{"anchor", "fixture: &x a\ncell: {model: 72x174x201}\npack: {cells: 4}\n", []string{"pack.yaml:1:10", "anchors"}},
		{"hole no wider than rod", least + "rods: {thread: M8, hole: 8 mm}\n", []string{"pack.yaml:4:26", "doesn't pass its hole"}},
		{"chamfer over the fillet", least + "stiffeners: {chamfer: 50 mm}\n", []string{"pack.yaml:4:23", "doesn't fit the angle's standing leg"}},
		{"hole far too wide", least + "rods: {thread: M8, hole: 30 mm}\n", []string{"pack.yaml:4:26", "far too wide"}},
		{"rows don't divide", strings.Replace(least, "cells: 4", "cells: 5, rows: 4", 1), []string{"pack.yaml:3:15", "a row would have no cell", "rows: 3"}},
		{"room without sizes", least + "room: {gap: 5 mm}\n", []string{"pack.yaml:4:8", "one of width, height and length"}},
		{"fillers without a place", least + "fillers: {sheets: 4}\n", []string{"pack.yaml:4:11", "every place has a cell"}},
		{"fillers that conduct", strings.Replace(least, "cells: 4", "cells: 5, rows: 2", 1) + "fillers: {material: 6061-T6}\n", []string{"pack.yaml:4:21", "an insulating material"}},
		{"stack far off", strings.Replace(least, "cells: 4", "cells: 4, stack: 100 mm", 1), []string{"pack.yaml:3:25", "measured stack"}},
		{"series times parallel", least + "electrical: {series: 3}\n", []string{"pack.yaml:4:22", "not the number of cells"}},
		{"hole off the plate", least + "plates: {width: 150 mm}\n", []string{"pack.yaml:4:17", "plates.width: a hole is not on the plate"}},
		{"hole off a low plate", least + "rods: {level_count: 6}\nplates: {height: 30 mm}\n", []string{"pack.yaml:5:18", "plates.height: a hole is not on the plate"}},
		{"given place off the plate", least + "plates: {width: 150 mm}\nrods: {columns: [-100, 100]}\n", []string{"pack.yaml:5:18", "rods.columns: a hole is not on the plate"}},
		{"open brace", least + "rods: {thread: M8\nnuts:\n  kind: plain\n", []string{"pack.yaml:4:7", `the "{" is not closed`, `"nuts" in line 5`}},
		{"open brace within one", least + "cell2: {a: 1, b: {c: 1}\nnuts: {kind: plain}\n", []string{"pack.yaml:4:8", `the "{" is not closed`}},
		{"open brace at the end", least + "rods: {thread: M8\n", []string{"pack.yaml:4:7", "is not closed", "the end of the file"}},
		{"open bracket", least + "rods: {levels: [1, 2}\n", []string{"pack.yaml:4:16", `the "[" is not closed`}},
		{"comma left out", least + "rods: {thread: M8 hole: 9 mm}\n", []string{"pack.yaml:4:"}},
		{"cells fewer than rows", strings.Replace(least, "cells: 4", "cells: 1, rows: 2", 1), []string{"pack.yaml:3:15", "rows: 1"}},
		{"endless count", strings.Replace(least, "cells: 4", "cells: 99999999999999999999999", 1), []string{"pack.yaml:3:15", "too large", "1 to 256"}},
		{"thread by its size", least + "rods: {thread: M9}\n", []string{`did you mean "M8" or "M10"?`}},
		{"a length for a force", strings.Replace(least, "model: 72x174x201", "model: 72x174x201, force: 300 mm", 1), []string{"pack.yaml:2:34", "a length where a force"}},
		{"force and pressure", strings.Replace(least, "model: 72x174x201", "model: 72x174x201, force: 300 kgf, pressure: 12 psi", 1), []string{"both force and pressure"}},
		{"control character", "fixture: \"a\\tb\"\ncell: {model: 72x174x201}\npack: {cells: 4}\n", []string{"pack.yaml:1:10", "can't be shown, U+0009"}},
		{"direction mark", strings.Replace(least, "fixture: ", "fixture: \u202e", 1), []string{"pack.yaml:1:10", "can't be shown, U+202E"}},
		{"C1 control", least + "rods: {thread: \"M\u0085\"}\n", []string{"pack.yaml:4:16", "can't be shown, U+0085"}},
		{"no character", least + "prices: {currency: E\uffff}\n", []string{"pack.yaml:4:20", "can't be shown, U+FFFF"}},
		{"a byte of another code", least + "prices: {currency: E\x80}\n", []string{"pack.yaml:4:21", "not UTF-8 text", "the byte 0x80"}},
		{"too many characters", strings.Replace(least, "fixture: ", "fixture: "+strings.Repeat("ü", 120), 1), []string{"pack.yaml:1:10", "longer than 120 characters"}},
		{"curve falls", least + "clamp: {squeeze: [{squeeze: 0 mm, pressure: 0 kPa}, {squeeze: 1 mm, pressure: 90 kPa}, {squeeze: 0.5 mm, pressure: 95 kPa}]}\n", []string{"doesn't rise"}},
		{"row without size", least + "tables: {washers: [{name: W9}]}\n", []string{"lacks"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := rendered(t, c.text)
			for _, w := range c.want {
				if !strings.Contains(got, w) {
					t.Errorf("message lacks %q:\n%s", w, got)
				}
			}
		})
	}
}

// A name may have as many characters as it may, whatever bytes they take.
func TestNamesCountCharacters(t *testing.T) {
	name := strings.Repeat("ü", maxWord)
	if f, list := Load("pack.yaml", []byte("fixture: "+name+least[strings.Index(least, "\n"):])); f == nil || f.Name != name {
		t.Error(list)
	}
}

// All errors of a file come in one run, in the order of the file.
func TestAllErrorsAtOnce(t *testing.T) {
	got := rendered(t, "fixture: a\nunts: mm\ncell: {model: 72x174x201, mas: 5 kg}\npack: {cells: x}\nrods: {thread: M8, hole: 900 mm}\n")
	at := []string{"pack.yaml:2:1", "pack.yaml:3:27", "pack.yaml:4:15", "pack.yaml:5:26"}
	last := -1
	for _, w := range at {
		i := strings.Index(got, w)
		if i <= last {
			t.Fatalf("%s is missing or out of order:\n%s", w, got)
		}
		last = i
	}
}

// The rendered message of one error, whole.
func TestRenderedMessage(t *testing.T) {
	got := rendered(t, least+"nuts: {knd: plain}\n")
	want := "pack.yaml:4:8: error: unknown key \"knd\" in nuts\n"
	if !strings.HasPrefix(got, want) {
		t.Fatalf("got\n%swant it to begin\n%s", got, want)
	}
	for _, w := range []string{"nuts: {knd: plain}", "^~~", `did you mean "kind"?`} {
		if !strings.Contains(got, w) {
			t.Errorf("message lacks %q:\n%s", w, got)
		}
	}
}

// Every tag of every block is sound: limits parse, examples lie within them.
func TestTags(t *testing.T) {
	visited := map[reflect.Type]bool{}
	var visit func(reflect.Type, string)
	visit = func(typ reflect.Type, path string) {
		if visited[typ] {
			return
		}
		visited[typ] = true
		for i := 0; i < typ.NumField(); i++ {
			tag := typ.Field(i).Tag.Get("lim")
			f, ok := fieldsOf(typ).byKey[typ.Field(i).Tag.Get("key")]
			if !ok {
				continue
			}
			if (tag != "") != (f.limits != nil) {
				t.Errorf("%s.%s: limits %q don't parse", path, f.key, tag)
			}
			if f.limits != nil && f.limits.lo > f.limits.hi {
				t.Errorf("%s.%s: limits are the wrong way round", path, f.key)
			}
			if f.kind == kindBlock || f.kind == kindList && f.elem == kindBlock {
				visit(f.typ, path+"."+f.key)
			} else if f.quantity == qNone {
				t.Errorf("%s.%s: a type that the decoder doesn't know", path, f.key)
			}
		}
	}
	visit(reflect.TypeFor[File](), "")
	if len(visited) < 30 {
		t.Errorf("visited %d blocks only", len(visited))
	}
}

// Every example loads without a word.
func TestExamplesLoad(t *testing.T) {
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) < 5 {
		t.Fatalf("examples: %v, %v", files, err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, diags := Load(name, text); len(diags) > 0 {
			t.Errorf("%s: %v", name, diags)
		}
	}
}

// What 'new' writes is accepted unchanged, over the choices it offers.
func TestStarterIsAccepted(t *testing.T) {
	for _, cell := range []string{"72x174x201", "54x174x200", "36x130x200", "40x150x100"} {
		for _, units := range []string{"mm", "in"} {
			for _, cells := range []int{1, 4, 8, 16} {
				for _, o := range []StarterOptions{{}, {NoAngles: true, Plate: "6061-T6"}, {Force: "300 kgf"}, {Plate: "hdpe", Name: `odd "name"`}} {
					o.Cell, o.Units, o.Cells = cell, units, cells
					text, diags, err := Starter(o)
					if o.Name != "" {
						if !diags.HasErrors() {
							t.Errorf("the name %q was accepted", o.Name)
						}
						continue
					}
					if err != nil || len(diags) > 0 {
						t.Fatalf("%+v: %v %v\n%s", o, err, diags, text)
					}
				}
			}
		}
	}
}

// Nothing that a file can hold makes Load panic, and what it accepts is settled.
func FuzzLoad(f *testing.F) {
	files, _ := filepath.Glob("../examples/*.yaml")
	for _, name := range files {
		if text, err := os.ReadFile(name); err == nil {
			f.Add(text)
		}
	}
	f.Add([]byte(least))
	f.Add([]byte("a: [b, {c: *d}]\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		fixture, diags := Load("f.yaml", text)
		if (fixture == nil) != diags.HasErrors() {
			t.Fatalf("fixture %v with %v", fixture != nil, diags)
		}
		var b bytes.Buffer
		if err := diags.Render(&b, map[string]string{"f.yaml": string(text)}, true); err != nil {
			t.Fatal(err)
		}
		for _, d := range diags {
			if d.Severity == diag.Error && (d.Range.Line < 1 || d.Range.Col < 1) {
				t.Fatalf("an error without a place: %v", d)
			}
		}
	})
}

// A number may have its unit behind it; a part of one may be given in hundredths.
func TestNumbersWithTheirUnit(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{{"100", 100}, {"100 A", 100}, {"100A", 100}, {"1/2 A", 0.5}} {
		f, diags := Load("pack.yaml", []byte(least+"electrical: {current: "+c.text+"}\n"))
		if f == nil || f.Electrical.RatedCurrent != c.want {
			t.Errorf("%s: %v", c.text, diags)
		}
	}
	for text, want := range map[string]float64{"0.35": 0.35, "35 %": 0.35, "12.5%": 0.125} {
		f, diags := Load("pack.yaml", []byte(least+"clamp: {set_charge: "+text+"}\n"))
		if f == nil || f.Clamp.SetCharge != want {
			t.Errorf("%s: %v", text, diags)
		}
	}
}
