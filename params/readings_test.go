package params

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"clampwright/params/diag"
)

const cellHead = "serial,capacity_ah,resistance_mohm,voltage_v,centre_mm,edge_left_mm,edge_right_mm\n"

const beside = least + "electrical: {records: cells.csv}\n"

// besideOf loads a file with a table of readings beside it.
func besideOf(text, table string) (*Fixture, diag.List) {
	return Load("pack.yaml", []byte(text), func(name string) ([]byte, error) { return []byte(table), nil })
}

// A row of a table is a cell with its quantities or one reading; columns stand in any
// order, and the instrument's error comes with each.
func TestReadingsBeside(t *testing.T) {
	f, list := besideOf(beside, "\ufeff"+cellHead+"\"C 1\",281.5,0.18,3.291,72.1,71.6,71.8\r\nC2, 280 ,0.19,3.29,72.4,71.9,71.9\n")
	if f == nil || len(f.Readings) != 12 {
		t.Fatal(list, f)
	}
	want := Reading{What: "capacity", Where: "C 1", Value: 281.5, Unit: "Ah", Uncertainty: 2.815, Instrument: "cell tester", At: diag.Range{File: "cells.csv", Line: 2, Col: 7}}
	if f.Readings[0] != want || f.Readings[6].Value != 280 || f.Readings[3].Uncertainty != 0.1 {
		t.Errorf("got %+v", f.Readings)
	}
	f, list = besideOf(beside, "instrument,value,unit,what,when,where\n,11.5,in,stack,snug,rod 1\ntape,292.2,,stack,snug,rod 2\n,291,mm,stack,set,\n,0.9,,turns,set,\n")
	if f == nil || len(f.Readings) != 4 {
		t.Fatal(list, f)
	}
	if m, ok := f.Measured("stack", "snug"); !ok || math.Abs(m.Value-292.15) > 1e-9 || m.Uncertainty != 1 {
		t.Errorf("mean %+v", m)
	}
	if m, ok := f.Measured("spring", "set"); ok || m.Value != 0 {
		t.Errorf("mean of nothing %+v", m)
	}
}

// What is in the file is what would be in a table; the measured stack is a reading.
func TestReadingsInTheFile(t *testing.T) {
	text := strings.Replace(least, "cells: 4", "cells: 4, stack: 290 mm", 1) + `readings:
  - {what: stack, when: snug, value: 292 mm, uncertainty: 0.05 mm}
  - {what: stack, when: set, value: 11.45, unit: in, instrument: micrometer}
  - {what: turns, when: set, value: 1}
`
	f, list := Load("pack.yaml", []byte(text))
	if f == nil {
		t.Fatal(list)
	}
	for _, c := range []struct {
		what, when string
		value, off float64
	}{{"stack", "", 290, 0.1}, {"stack", "snug", 292, 0.05}, {"stack", "set", 290.83, 0.02}, {"turns", "set", 1, 0.08}} {
		if m, ok := f.Measured(c.what, c.when); !ok || math.Abs(m.Value-c.value) > 1e-9 || m.Uncertainty != c.off {
			t.Errorf("%s %s: %+v", c.what, c.when, m)
		}
	}
	if f.Pack.StackLength != 290 || !f.Pack.Measured || f.Origin("pack.stack").Kind != FromFile {
		t.Errorf("%+v", f.Pack)
	}
	if f, _ := Load("pack.yaml", []byte(least+"readings: [{what: stack, value: 290 mm}]\n")); f == nil || f.Pack.StackLength != 290 {
		t.Error("a stack among the readings is not the stack")
	}
}

// Every error with its place; columns count characters; all errors come at once.
func TestReadingErrors(t *testing.T) {
	row := "A,280,0.2,3.3,72,72,72\n"
	for _, c := range []struct{ text, want string }{
		{"", "cells.csv:1:1: error: no header line"},
		{cellHead, "cells.csv:2:1: error: no reading after"},
		{"serial,capacity_ha\n", "cells.csv:1:8: error: unknown column"},
		{strings.Replace(cellHead, "serial,", "serial,serial,", 1), "cells.csv:1:8: error: column \"serial\" stands twice"},
		{"what,when\n", "cells.csv:1:1: error: a table of cells has the column serial"},
		{strings.Replace(cellHead, ",edge_right_mm", "", 1) + "A,280,0.2,3.3,72,72\n", "cells.csv:2:3: error: the edge_right of cell \"A\" is missing"},
		{cellHead + "A,280,0.2,3.3,72,72\n", "cells.csv:2:1: error: 6 fields, the header has 7"},
		{cellHead + "A,x,0.2,3.3,72,72,72\n", "cells.csv:2:3: error: capacity: "},
		{cellHead + "Ä,280,zz,3.3,72,72,72\n", "cells.csv:2:7: error: resistance: "},
		{cellHead + "A,280,,3.3,72,72,72\n", "cells.csv:2:3: error: the resistance of cell \"A\" is missing"},
		{cellHead + "A,NaN,0.2,3.3,72,72,72\n", "cells.csv:2:3: error: capacity: "},
		{cellHead + "A,0x10,0.2,3.3,72,72,72\n", "cells.csv:2:3: error: capacity: "},
		{cellHead + "A,280,0.2,33,72,72,72\n", "cells.csv:2:11: error: voltage is out of range"},
		{cellHead + "A,-280,0.2,3.3,72,72,72\n", "cells.csv:2:3: error: capacity is out of range"},
		{cellHead + row + row, "cells.csv:3:1: error: \"A\" is measured twice"},
		{cellHead + "<b>,280,0.2,3.3,72,72,72\n", "cells.csv:2:1: error: the serial can't be used"},
		{cellHead + "A,\"280,0.2\n", "cells.csv:"},
		{cellHead + "A\xff,280,0.2,3.3,72,72,72\n", "cells.csv:2:2: error: the file is not UTF-8 text"},
		{cellHead + strings.Repeat("A\n", maxTable/2), "cells.csv:1:1: error: the table is larger"},
		{"what,value\nstak,3\n", "cells.csv:2:1: error: there is no quantity \"stak\""},
		{"what,value,when\nturns,1,set\nstack,290,snug\nstack,291,set\n", "cells.csv:4:7: error: the stack got no shorter"},
		{"what,value,instrument\nstack,290,ruler\n", "cells.csv:2:11: error: the instrument is not known"},
		{"what,value,uncertainty\nstack,290,-1\n", "cells.csv:2:11: error: stack is out of range"},
		{"what,value,uncertainty\nstack,290,0\n", "cells.csv:2:11: error: stack is out of range"},
		{"what,value\nstack,290\nstack,290\n", "cells.csv:3:7: error: \"stack\" is measured twice"},
	} {
		f, list := besideOf(beside, c.text)
		if f != nil || !strings.Contains(list.Error(), c.want) {
			t.Errorf("%q:\n%v\nwant %s", c.text[:min(len(c.text), 200)], list, c.want)
		}
	}
	_, list := besideOf(beside, cellHead+"A,x,0.2,y,72,72,72\nB,280,0.2,3.3,72,72,z\n")
	if len(list) != 3 {
		t.Errorf("%d errors: %v", len(list), list)
	}
	_, list = besideOf(beside, cellHead+strings.Repeat("A\n", 5000))
	if len(list) != maxTableErrors {
		t.Errorf("%d errors are told", len(list))
	}
	var b strings.Builder
	for i := range mostCells + 1 {
		fmt.Fprintf(&b, "S%d,280,0.2,3.3,72,72,72\n", i)
	}
	if f, list := besideOf(beside, cellHead+b.String()); f != nil || !strings.Contains(list.Error(), "too many cells") {
		t.Errorf("%v", list)
	}
	f, list := Load("pack.yaml", []byte(strings.Replace(beside, "cells.csv", "/home/own/cells.csv", 1)), func(string) ([]byte, error) { return nil, errors.New("disk gone") })
	if f != nil || len(list) != 1 || list[0].Range.Place() != "4:23" || list[0].Found != "disk gone" || strings.Contains(list.Error(), "/home") {
		t.Errorf("%v", list)
	}
}

// The table is part of what is read: of its hash, of every change of the file, and of
// the variants that have the same cells. No text holds an absolute path.
func TestTheTableIsInput(t *testing.T) {
	text := strings.Replace(beside, "cells.csv", "/home/own/cells.csv", 1) + "variants: [{name: two, parallel: 2, series: 2}, {name: more, cells: 8}]\n"
	table := cellHead + "A,280,0.2,3.3,72,72,72\n"
	f, list := besideOf(text, table)
	if f == nil {
		t.Fatal(list)
	}
	other, _ := besideOf(text, strings.Replace(table, "280", "281", 1))
	none, _ := Load("pack.yaml", []byte(text))
	if f.InputSHA256 == other.InputSHA256 || f.InputSHA256 == none.InputSHA256 || len(none.Readings) != 0 {
		t.Error("the table is not part of the hash")
	}
	for _, c := range []Change{{Path: "rods.thread", Value: "M10"}, {Path: "tables.grades", Value: ""}} {
		if got, err := f.Set(c); err != nil || len(got.Readings) != 6 {
			t.Errorf("%s: %v", c.Path, err)
		}
	}
	for _, v := range f.Values() {
		if strings.Contains(v.Text, "/home") {
			t.Errorf("%s is told as %s", v.Path, v.Text)
		}
	}
	_, vs, list := LoadAll("pack.yaml", []byte(text), func(string) ([]byte, error) { return []byte(table), nil })
	if len(vs) != 2 || len(vs[0].Fixture.Readings) != 6 || len(vs[1].Fixture.Readings) != 0 {
		t.Errorf("%v, variants %d", list, len(vs))
	}
}

func FuzzTable(f *testing.F) {
	f.Add(cellHead + "A,280,0.2,3.3,72,72,72\n")
	f.Add("serial\n\"")
	f.Add("what,value,unit\nstack,11,in\n")
	f.Add("\ufeff" + cellHead + "\"a\nb\",1,1,1,1,1,1")
	f.Fuzz(func(t *testing.T, text string) {
		got, list := besideOf(beside, text)
		if list.HasErrors() == (got != nil) {
			t.Fatalf("%v and errors %v", got, list)
		}
		for _, d := range list {
			if d.Severity == diag.Error && (d.Range.Line < 1 || d.Range.Col < 1) {
				t.Errorf("without place: %v", d)
			}
		}
		if got == nil {
			return
		}
		for _, r := range got.Readings {
			if !(r.Value >= 0 && r.Uncertainty >= 0) || r.At.Line < 1 || r.OfCell() && r.Where == "" {
				t.Errorf("%+v", r)
			}
		}
	})
}

// The schema knows every quantity and instrument.
func TestReadingWords(t *testing.T) {
	keys := fieldsOf(reflect.TypeFor[ReadingBlock]()).byKey
	if got := keys["what"].enum; !slices.Equal(got, quantities()) {
		t.Errorf("quantities %v", got)
	}
	got := slices.Sorted(slices.Values(keys["instrument"].enum))
	if !slices.Equal(got, instrumentNames()) {
		t.Errorf("instruments %v", got)
	}
}

// A change settles quickly with as many readings as a pack has.
func BenchmarkSetWithReadings(b *testing.B) {
	var t strings.Builder
	for i := range 256 {
		fmt.Fprintf(&t, "S%d,280,0.2,3.3,72,72,72\n", i)
	}
	f, _ := besideOf(beside, cellHead+t.String())
	for b.Loop() {
		if _, err := f.Set(Change{Path: "rods.thread", Value: "M10"}); err != nil {
			b.Fatal(err)
		}
	}
}

// A table has its bound, told at the first row beyond.
func TestReadingsAreBounded(t *testing.T) {
	for _, n := range []int{maxReadings, maxReadings + 1} {
		got, list := parseTable("cells.csv", []byte("what,value\n"+strings.Repeat("stack,290\n", n)))
		if len(got) != maxReadings || list.HasErrors() != (n > maxReadings) || n > maxReadings && list[0].Range.Place() != "20002:1" {
			t.Errorf("%d readings: %d taken, %v", n, len(got), list)
		}
	}
}

// What is wrong with a table is told of every variant that has it, though it is read once.
func TestMeasuredOnce(t *testing.T) {
	table := cellHead + "C1,281.5,0.18,3.291,72.1,71.6,71.8\n"
	open := func(string) ([]byte, error) { return []byte(table), nil }
	text := beside + "variants: [{name: a, series: 4}, {name: b, parallel: 1}]\n"
	_, variants, list := LoadAll("f.yaml", []byte(text), open)
	if len(variants) != 2 || len(variants[1].Fixture.Readings) != 6 {
		t.Fatal(variants, list)
	}
	table = strings.Replace(table, "281.5", "-1", 1)
	if _, _, list = LoadAll("f.yaml", []byte(text), open); len(list) != 1 || list[0].Range.Place() != "2:4" {
		t.Error(list)
	}
}

// On the way to be set plates and springs only get closer, turns and torque only more, but for
// the errors of the instruments: on both sides, with both lines.
func TestTightening(t *testing.T) {
	for _, c := range []struct {
		first, then string
		want        bool
	}{
		{"turns,,half,9", "turns,,set,1", true}, {"turns,,set,1", "turns,,half,9", true}, {"turns,,half,1", "turns,,set,9", false}, {"turns,,half,1.16", "turns,,set,1", false}, {"turns,,half,1.17", "turns,,set,1", true},
		{"turns,,snug,40", "turns,,quarter,9", true}, {"turns,left lower,half,9", "turns,right lower,set,1", false}, {"turns,left lower,half,1", "turns,left lower,set,9", false}, {"torque,,quarter,3 N m", "torque,,three_quarters,2 N m", true}, {"torque,,quarter,3 N m", "torque,,set,2.9 N m", false},
		{"stack,left lower,snug,290 mm", "stack,left lower,half,290.3 mm", true}, {"stack,left lower,snug,290 mm", "stack,left lower,half,290.2 mm", false}, {"turns,,set,4", "turns,,set,1", false},
		{"turns,left lower,set,4", "turns,right lower,set,40", true}, {"turns,left lower,set,4", "turns,right lower,set,7", false}, {"turns,left lower,set,4", "turns,right lower,set,7.1", true},
	} {
		f, list := besideOf(beside, "what,where,when,value,date\n"+c.first+",2026-01-01\n"+c.then+",2026-01-02\n")
		if got := strings.Contains(list.Error(), "cannot both be right"); got != c.want || !got && f == nil {
			t.Errorf("%s, %s: %v", c.first, c.then, list)
		}
		if c.want && (len(list) != 1 || len(list[0].Related) != 1 || list[0].Range.Line+list[0].Related[0].Line != 5) {
			t.Errorf("%s, %s: both lines are wanted: %v", c.first, c.then, list)
		}
	}
}
