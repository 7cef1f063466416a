package params

import (
	"math"
	"strings"
	"testing"
)

// Figures that cannot stand beside each other are refused, on both sides of each limit.
// The cell has 2000 cm3; its low voltage is 0.7 V below the nominal.
func TestPlausible(t *testing.T) {
	for _, c := range []struct{ cell, electrical, want string }{
		{"mass: 2.39 kg", "", "the mass doesn't fit"}, {"mass: 2.41 kg", "", ""},
		{"mass: 6.99 kg", "", ""}, {"mass: 7.01 kg", "", "the mass doesn't fit"},
		{"capacity: 437", "", ""}, {"capacity: 438", "", "the capacity doesn't fit"},
		{"resistance: 6.99", "current: 100, series: 4", ""}, {"resistance: 7.01", "current: 100, series: 4", "cells of this resistance"},
		{"resistance: 13.9", "current: 100, series: 2, parallel: 2", ""}, {"resistance: 14.1", "current: 100, series: 2, parallel: 2", "cells of this resistance"},
		{"resistance: 6.99", "current: 100, series: 4, low_voltage: 2.6", "cells of this resistance"},
		{"terminals: {thread: M77}", "", `no row "M77" in the threads table`},
		{"terminals: {thread: M8, diameter: 8.1 mm}", "", ""}, {"terminals: {thread: M8, diameter: 8 mm}", "", "the terminals' thread is as wide"},
		{"terminals: {thread: M6, torque: 14.3 N.m}", "", ""}, {"terminals: {thread: M6, torque: 14.4 N.m}", "", "the terminals' torque breaks"},
		{"terminals: {thread: M8, torque: 14.4 N.m}", "", ""},
		{"terminals: {thread: M6, torque: 60 N.m, diameter: oops}", "", "where a number should stand"},
	} {
		text := "fixture: f\ncell: {thickness: 50, width: 200, height: 200, force: 3000 N, " + c.cell + "}\npack: {cells: 4}\nelectrical: {" + c.electrical + "}\n"
		f, diags := Load("p.yaml", []byte(text))
		switch {
		case c.want == "" && f == nil:
			t.Errorf("%s, %s: %v", c.cell, c.electrical, diags)
		case c.want != "" && (len(diags) != 1 || !strings.Contains(diags[0].Summary, c.want)):
			t.Errorf("%s, %s: %v, want one that says %q", c.cell, c.electrical, diags, c.want)
		}
	}
}

// Least breaking torques of class 8.8, ISO 898-7 (from memory), which are those of the
// smallest root: up to an eighth less than of the nominal one.
func TestBreakingTorque(t *testing.T) {
	for thread, want := range map[string]float64{"M5": 7.6, "M6": 13, "M8": 33, "M10": 66} {
		f, diags := Load("p.yaml", []byte("fixture: f\ncell: {model: 72x174x201, force: 3000 N}\npack: {cells: 4}\n"))
		if f == nil {
			t.Fatal(diags)
		}
		row, _ := f.Tables.Thread(thread)
		if got := breakingTorque(row.MinorDia.MM()).NMM() / 1000; got < want || got > want*1.13 || math.IsNaN(got) {
			t.Errorf("%s breaks at %.3g N·m, ISO 898-7 has at least %g", thread, got, want)
		}
	}
}
