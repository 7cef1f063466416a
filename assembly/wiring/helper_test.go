package wiring

import (
	"slices"
	"testing"
)

// pack returns a plausible input for n cells per row: our own scenario of a
// 72 mm cell with terminals 122 mm apart.
func pack(perRow, rows, series, parallel int) Input {
	return Input{
		CellsPerRow: perRow, Rows: rows, Series: series, Parallel: parallel,
		PitchMM: 73, CellWidthMM: 174, RowGapMM: 10, TerminalPitchMM: 122, PadDiaMM: 22,
		Thread: "M6", StudDiaMM: 6, StudHeightMM: 12, WasherMM: 1.6, NutMM: 5.4,
		Volts:         Voltages{Nominal: 3.2, Full: 3.65, Storage: 3.29, Least: 2.5},
		StorageCharge: 0.4, CapacityAh: 280, CellMilliOhm: 0.25,
		RatedA: 140, CellLimitA: 140, ChargerA: 40, DischargerA: 100,
		Bar:    Bar{Material: Copper, WidthMM: 20, ThicknessMM: 2},
		Growth: Growth{PerCellMM: 0.4, PitchTolMM: 0.5, RowTolMM: 1, HoleTolMM: 0.2},
	}
}

// rigid is a pack whose links are rigid bars.
func rigid(in Input) Input {
	in.Form = RigidBar
	return in
}

// welded is a pack whose links are welded on elsewhere.
func welded(in Input) Input {
	in.Welded, in.StudHeightMM = true, 0
	return in
}

// mustLayout settles an input that is known to be good.
func mustLayout(t testing.TB, in Input) *Layout {
	t.Helper()
	l, err := NewLayout(in)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// mustPlans returns the plans of a layout.
func mustPlans(t testing.TB, l *Layout) []Plan {
	t.Helper()
	p, err := l.Plans()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// sequenceFaults are what must not be done in a plan.
func sequenceFaults(l *Layout, p Plan) []Fault {
	_, faults := Walk(l, p)
	return faults
}

// clone is a state that may be changed without the first.
func (s State) clone() State {
	s.Turns, s.Intended, s.Links = slices.Clone(s.Turns), slices.Clone(s.Intended), slices.Clone(s.Links)
	places := make([][]int, len(s.Places))
	for i, p := range s.Places {
		places[i] = slices.Clone(p)
	}
	s.Places = places
	return s
}
