package tell

import (
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/testdata/ready"
)

// The sentence names what others follow from, not what follows from others.
func TestSentenceNamesACause(t *testing.T) {
	s := Sentence(ready.Job(t, "fouled-on-purpose"))
	if !strings.Contains(s, "grip room") || !strings.Contains(s, "more checks fail") {
		t.Error(s)
	}
	only := []finding.Finding{{ID: "gap", Group: "interference", Unit: "mm", Have: 3}, {ID: "washer-flat", Group: "seats", Unit: "mm", Have: -1}}
	if c := cause(only); c.ID != "washer-flat" {
		t.Errorf("%s is named before what causes it", c.ID)
	}
}

// What is measured between two things says so; a state or one part is named without.
func TestSaid(t *testing.T) {
	for want, f := range map[string]finding.Finding{
		"grip room between rod and cell is 1 mm (wanted at least 3 mm)":            {ID: "grip-room", Group: "tools", Between: []string{"rod", "cell"}, Have: 1, Need: 3, Unit: "mm"},
		"mean pressure, full and aged, is 250 kPa (wanted at most 150 kPa)":        {ID: "clamp-mean-pressure-high", Group: "clamp", Between: []string{"full and aged"}, Have: 250, Need: 150, Unit: "kPa", Sense: finding.AtMost},
		"mean pressure, row 1, full and aged, is 250 kPa (wanted at most 150 kPa)": {ID: "clamp-mean-pressure-high", Of: "row 1", Group: "clamp", Between: []string{"full and aged"}, Have: 250, Need: 150, Unit: "kPa", Sense: finding.AtMost},
		"fits sheet, end-plate is 0 pieces (wanted at least 2 pieces)":             {ID: "fits-sheet", Of: "end-plate", Have: 0, Need: 2, Unit: "pieces"},
	} {
		if got := Said(params.Style{}, f); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A tool in use is named by what it is of, as the trade says; all else by its own name.
func TestThings(t *testing.T) {
	for id, want := range map[string]string{
		"tool-screw-outside-of-end-plate-front-H5": "screw through H5 of end-plate-front, outside", "tool-tie-inside-of-end-plate-back-SL1": "tie through SL1 of end-plate-back, inside",
		"tool-socket-on-nut-back-left-lower": "socket on nut-back-left-lower", "tool-driver-on-cell-1-terminal-left": "driver on cell-1-terminal-left",
		"tool: cutter": "cutter", "tool: socket on nut-front-left-lower": "socket on nut-front-left-lower", "end-plate-front": "end-plate-front", "edge of sheet 2": "edge of sheet 2", "": "",
	} {
		if got := things([]string{id}); len(got) != 1 || got[0] != want {
			t.Errorf("%q: %q, want %q", id, got, want)
		}
	}
}

// Parts are named on the terminal as they are spoken. Sizes of stock and materials stay as
// the trade writes them, keys as they stand in the file.
func TestPlain(t *testing.T) {
	for text, want := range map[string]string{
		"screw through H5 of end-plate-front, outside and cell-3": "screw through H5 of end plate front, outside and cell 3", "driver on cell-1-terminal-left": "driver on cell 1 terminal left",
		"cell-row-2-13-vent": "cell B13 vent", "cell-row-1-1 / rod-column-1-lower": "cell A1 / rod column 1 lower", "link-j12": "link J12", "link-bar": "link bar",
		"drill at hand, rods.hole between rods.hole and drill 9": "drill at hand, rods' holes between rods' holes and drill 9", "rods.pilot": "pilot holes", "plates.feet.hole": "mounting holes",
		"stock of 6061-T6": "stock of 6061-T6", "drill 5/16-18": "drill 5/16-18", "stock of 1-1/2x1-1/2x1/8 in aluminium": "stock of 1-1/2x1-1/2x1/8 in aluminium",
		"rod-left-lower of 20-14": "rod left lower of 20-14", "(cell.terminals.depth)": "(cell.terminals.depth)", "gap is -0.35 mm": "gap is -0.35 mm", "": "",
	} {
		if got := Plain(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
