package params

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

var errorAt = regexp.MustCompile(`pack\.yaml:(\d+:\d+): error`)

// All mistakes of a file come back in one run, whatever their kind, and nothing
// that only follows from one of them.
func TestMistakesComeBackTogether(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string // line:column of each error, in order
	}{
		{"keys, rows and units", "fixture: a\ncell: {modle: 72x174x201}\npack: {cells: 4}\nplates: {material: brich plywood, thicknes: 18 mmm}\nrods: {thread: M9, length: 18 mmm}\n",
			[]string{"2:8", "4:20", "4:35", "4:45", "5:16", "5:28"}},
		{"rows behind a range error", strings.Replace(least, "cells: 4", "cells: 400", 1) + "plates: {material: gold}\nnuts: {kind: prevailing, name: X1}\nwashers: {name: X2}\nsprings: {disc: X3}\nstiffeners: {angle: X4}\n",
			[]string{"3:15", "4:20", "5:32", "6:17", "7:17", "8:21"}},
		{"relations beside other mistakes", least + "plates: {thickness: 18 mmm, width: 60 mm}\nelectrical: {series: 3}\nclamp: {cold: 50 C, hot: 10 C}\n",
			[]string{"4:21", "4:36", "5:22", "6:15"}},
		{"relations with what is wrong", strings.Replace(least, "cells: 4", "cells: x, rows: 2, stack: 144 mm", 1) + "electrical: {series: 3, parallel: 2}\n",
			[]string{"3:15"}},
		{"a thread that is not there", least + "rods: {thread: M9, hole: 8 mm, levels: [50 mm, 58 mm]}\nnuts: {name: ISO 7040 M8}\n", []string{"4:16"}},
		{"one too many, both unknown", least + "springs: {disc: X1, coil: X2}\n", []string{"4:17", "4:27"}},
		{"no cell", "fixture: a\npack: {cells: 4, stack: 500 mm}\n", []string{"1:1"}},
		{"no block", "fixture: a\ncell: prismatic\npack: {cells: 4, stack: 300 mm}\nrods: M8\nsprings: {disc: 20x10.2x1.1}\n", []string{"2:7", "4:7"}},
		{"own rows", least + "tables: {materials: [{name: birch, density: heavy}, {nam: oak}]}\nplates: {material: birch}\nliners: {material: elm}\n", []string{"4:36", "4:45", "4:54", "6:20"}},
		{"one after the other", strings.Replace(least, "cells: 4", "cells: 5, rows: 4, stack: 300 mm", 1), []string{"3:15"}},
		{"given twice", least + "rods: {thread: M8, thread: M9}\nrods: {hole: 9 mmm}\npack: {cells: 5}\n", []string{"4:20", "5:1", "5:14", "6:1"}},
	} {
		got := rendered(t, c.text)
		var at []string
		for _, m := range errorAt.FindAllStringSubmatch(got, -1) {
			if len(at) == 0 || at[len(at)-1] != m[1] {
				at = append(at, m[1])
			}
		}
		if !slices.Equal(at, c.want) {
			t.Errorf("%s: errors at %q, want %q:\n%s", c.name, at, c.want, got)
		}
	}
}

// Many mistakes are told in little time.
func TestManyMistakes(t *testing.T) {
	text := least + "prices:\n  currency: EUR\nstock:\n  sheets:\n" + strings.Repeat("    - {material: gold, thickness: 18 mm, width: 600 mm, height: 300 mm, quantity: 1}\n", 1500)
	begun := time.Now()
	_, diags := Load("pack.yaml", []byte(text))
	if len(diags) != 1500 {
		t.Errorf("%d errors", len(diags))
	}
	if d := time.Since(begun); d > 5*time.Second {
		t.Errorf("took %v", d)
	}
}
