package check

import (
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/unit"
)

// inMM writes lengths in tenths of a millimetre.
func inMM(f *params.Fixture) { f.Style = sample.TwoRows().Style }

// Hints say what to do at the bench, the file as it is; what only a change of the file
// would clear has none. Lengths are in round figures on the safe side.
func TestHints(t *testing.T) {
	for i, c := range []struct {
		id, of string
		base   func() *params.Fixture
		set    func(*params.Fixture)
		want   string
	}{
		{"drill-access", "", sample.FourCells, all(gauge(15), func(f *params.Fixture) { f.Stiffener.StandingLeg = 90 }), "drill from the flat face, or let the drill stand 87.4 mm out of the chuck"},
		{"hole-edge", "end-plate", sample.FourCells, plateWidth(12), ""},
		{"plate-insulated", "", sample.TwoRows, noLiner, ""},
		{"washer-flat", "root fillet", sample.FourCells, gauge(14), ""},
		{"wall-printable", "", sleeved, func(f *params.Fixture) { f.Printer.MinWall = 1.55 }, ""},
	} {
		f := c.base()
		all(c.set, inMM)(f)
		a, err := assembly.Build(f)
		if err != nil {
			t.Fatalf("case %d: %v", i, err)
		}
		checkHint(t, c.id, c.of, c.want, judged(t, c.id, a))
	}
}

func checkHint(t *testing.T, id, of, want string, found []finding.Finding) {
	t.Helper()
	for _, f := range found {
		if f.Of == of {
			if f.Hint != want {
				t.Errorf("%s %s: %q, want %q", id, of, f.Hint, want)
			}
			return
		}
	}
	t.Errorf("%s: no finding %q", id, of)
}

// The socket at a terminal is sleeved where it goes there at all.
func TestTerminalDriverHint(t *testing.T) {
	b := newScene(linked(t, 20, inMM))
	for have, want := range map[float64]string{
		0.009: "", -0.35: "",
		0.01:  "sleeve the socket down to its rim, and cap the neighbours: 0.01 mm are left",
		0.011: "sleeve the socket down to its rim, and cap the neighbours: 0.01 mm are left",
	} {
		if got := wordsTerminalDriver(b, finding.Finding{Have: have, Need: 10}); got != want {
			t.Errorf("%g mm: %q, want %q", have, got, want)
		}
	}
}

// Lengths of hints are in the user's own steps, up or down; a step is kept.
func TestHintLengths(t *testing.T) {
	style := func(s params.Style) *scene { return &scene{fixture: &params.Fixture{Style: s}} }
	tenths, whole, fine := style(params.Style{Unit: unit.Millimetre, Decimals: 1}), style(params.Style{Unit: unit.Millimetre}), style(params.Style{Unit: unit.Millimetre, Decimals: 9})
	inches, bare := style(params.Style{Unit: unit.Inch, Denominator: 16, Decimals: 2}), style(params.Style{Unit: unit.Inch, Decimals: 1})
	for i, c := range []struct {
		b            *scene
		mm           float64
		up, as, step string
	}{
		{tenths, 10.04, "10.1 mm", "10.04 mm", "0.1 mm"},
		{tenths, 10.1, "10.1 mm", "10.1 mm", "0.1 mm"},
		{whole, 10.1, "11 mm", "10.1 mm", "1 mm"},
		{inches, 25.4 * 17.3 / 16, "1 1/8 in", "27.46 mm", "1/16 in"},
		{inches, 25.4 * 17 / 16, "1 1/16 in", "1 1/16 in", "1/16 in"},
	} {
		if up, as, step := c.b.up(c.mm), c.b.length(c.mm), c.b.length(roundStep(c.b.fixture.Style)); up != c.up || as != c.as || step != c.step {
			t.Errorf("case %d: %s, %s, %s, want %+v", i, up, as, step, c)
		}
	}
	if a, b := roundStep(fine.fixture.Style), roundStep(bare.fixture.Style); a != 1e-4 || b != 0.1 {
		t.Errorf("steps %g and %g", a, b)
	}
}
