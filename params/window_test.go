package params

import (
	"math"
	"strings"
	"testing"
)

// Cells of a size that is usually pressed are warned of where the file says that they are
// not; other cells that carry the load, and those that are pressed, are not.
func TestPressedCellsThatAreHeld(t *testing.T) {
	for cell, want := range map[string]bool{
		"model: 72x174x201, compression: none": true, "model: 72x174x201": false, "model: 36x130x200, compression: none": false,
		"thickness: 66, width: 180, height: 190, compression: none, terminals: {pitch: 120, diameter: 18}": false,
	} {
		_, diags := Load("w.yaml", []byte("fixture: f\ncell: {"+cell+"}\npack: {cells: 4}\n"))
		if got := strings.Contains(diags.Error(), "usually pressed"); got != want || diags.HasErrors() {
			t.Errorf("%s: %v", cell, diags)
		}
	}
}

// The bands of a face of 10 000 mm2, where 100 N are 10 kPa.
func TestWindow(t *testing.T) {
	for _, c := range []struct {
		cell                            string
		floor, low, target, high, limit float64
	}{
		{"compression: unknown", 300, 300, 580, 1000, 1500},
		{"compression: none", 5, 5, 30, 200, 200},
		{"compression: none, force_limit: 500 N", 5, 5, 30, 200, 500},
		{"force: 800 N", 400, 640, 800, 960, 1500},                                           // half the target
		{"force: 500 N", 300, 400, 500, 600, 1500},                                           // not below 30 kPa
		{"force: 310 N, force_tolerance: 20 N", 290, 290, 310, 330, 1500},                    // nor above the setting band
		{"force: 800 N, force_tolerance: 90 N", 400, 710, 800, 890, 1500},                    // the sheet's own tolerance
		{"force: 1400 N, force_tolerance: 200 N", 700, 1200, 1400, 1600, 1600},               // more than 150 kPa when set
		{"force: 800 N, force_limit: 1200 N", 400, 640, 800, 960, 1200},                      // the sheet's limit
		{"force: 800 N, force_tolerance: 90 N, force_always: true", 710, 710, 800, 890, 890}, // one band
		{"pressure: 80 kPa, pressure_tolerance: 25 kPa", 400, 550, 800, 1050, 1500},
	} {
		f, diags := Load("w.yaml", []byte("fixture: f\ncell: {thickness: 40, width: 100, height: 100, terminals: {pitch: 60, diameter: 10}, "+c.cell+"}\npack: {cells: 4}\n"))
		if f == nil {
			t.Fatal(c.cell, diags)
		}
		got := []float64{f.Cell.ForceFloor.N(), f.Cell.ForceLow.N(), f.Cell.ForceTarget.N(), f.Cell.ForceHigh.N(), f.Cell.ForceLimit.N()}
		for i, want := range []float64{c.floor, c.low, c.target, c.high, c.limit} {
			if math.Abs(got[i]-want) > 1e-6 {
				t.Errorf("%s: %v, wanted %g at %d", c.cell, got, want, i)
			}
		}
	}
	for cell, want := range map[string]string{
		"model: 72x174x201, force_tolerance: 60 kgf":                                          "", // of the table's force
		"thickness: 40, width: 100, height: 100, force_tolerance: 90 N":                       "a force tolerance without a force",
		"compression: none, thickness: 40, width: 100, height: 100, force_tolerance: 90 N":    "a force tolerance without a force",
		"pressure: 80 kPa, thickness: 40, width: 100, height: 100, force_tolerance: 90 N":     "a force tolerance without a force",
		"force: 800 N, thickness: 40, width: 100, height: 100, pressure_tolerance: 9 kPa":     "a pressure tolerance without a pressure",
		"pressure: 80 kPa, thickness: 40, width: 100, height: 100, pressure_tolerance: 9 kPa": "",

		"force: 800 N, thickness: 40, width: 100, height: 100, force_tolerance: 90 N, force_always: true, force_limit: 891 N": "the force limit is above the tolerance that holds in every state",
		"force: 800 N, thickness: 40, width: 100, height: 100, force_tolerance: 90 N, force_always: true, force_limit: 890 N": "",
		"force: 800 N, thickness: 40, width: 100, height: 100, force_tolerance: 90 N, force_always: false, force_limit: 2 kN": "",
		"compression: unknown, thickness: 40, width: 100, height: 100, force_always: true":                                    "force_always without a force",
	} {
		f, diags := Load("w.yaml", []byte("fixture: f\ncell: {terminals: {pitch: 60, diameter: 10}, "+cell+"}\npack: {cells: 4}\n"))
		if (want == "") != (f != nil) || want != "" && (len(diags) != 1 || diags[0].Summary != want) {
			t.Errorf("%s: %v, want %q", cell, diags, want)
		} else if want == "" && cell[0] == 'm' && math.Abs(f.Cell.ForceHigh.N()-f.Cell.ForceTarget.N()-588.4) > 0.1 {
			t.Errorf("%s: %g N", cell, (f.Cell.ForceHigh - f.Cell.ForceTarget).N())
		}
	}
	if f, diags := Load("w.yaml", []byte("fixture: f\ncell: {model: 72x174x201, force: 3000 N, force_tolerance: 500 N, force_limit: 3400 N}\npack: {cells: 4}\n")); f != nil || len(diags) != 1 || diags[0].Summary != "the force limit is below the most when tightening" {
		t.Error(diags)
	}
}
