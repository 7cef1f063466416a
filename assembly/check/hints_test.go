package check

import (
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
	"clampwright/parts"
)

// inMM writes lengths in tenths of a millimetre.
func inMM(f *params.Fixture) { f.Style = sample.TwoRows().Style }

// Hints say by how much and to what, in round figures on the safe side. Sums by
// hand, for four cells: play of washer 1.097 mm; flat of the leg from 6.375 mm.
func TestHints(t *testing.T) {
	for i, c := range []struct {
		id, of string
		base   func() *params.Fixture
		set    func(*params.Fixture)
		want   string
	}{
		{"vent-free", "", plainPlates, func(f *params.Fixture) {
			f.Plate.Height, f.Rods.Columns, f.Rods.Levels = 260, []unit.Length{-108, 0, 108}, []unit.Length{52, mm(201 + 8.04 + halfRod)}
		}, "move rod-middle-upper 12 mm up or out of the space above the vent"}, // 11.96
		{"plate-insulated", "", sample.TwoRows, noLiner, "fit liners of an insulating sheet, 0.3 mm thick or more, 175 mm wide and 201.5 mm high, between plate and cells"},
		{"parts-apart", "cell - rod", sample.FourCells, beside(-0.5), "move cell-1 and rod-left-lower at least 0.51 mm apart"},
		{"chain-closed", "along the stack", sample.FourCells, pitch(0.1), "the sizes along the stack disagree by 0.15 mm: let pack.stack, the cells and separators add up"},
		{"rod-passes", "rod in washer", sample.FourCells, func(f *params.Fixture) { f.Washer.Inner = mm(major - 0.4) }, "give rod in washer 0.5 mm more bore"}, // 0.42
		// 6.375 + 17.475 + 2 x 1.097 + 1.6 = 27.644; 31.75 - 1.6 - 6.375 - 2.194 = 21.581
		{"washer-flat", "root fillet", sample.FourCells, gauge(14), "use an angle with a drilled leg of 27.7 mm or more, or a washer of 21.5 mm or less across"},
		{"washer-flat", "leg edge", sample.FourCells, gauge(22), "use an angle with a drilled leg of 27.7 mm or more, or a washer of 21.5 mm or less across"},
		// 12.306 - 13 = -0.694, twice that and the washer's 17.475
		{"spring-held", "", sprung, discBore(13), "use washers of 18.9 mm or more across, or springs with a bore nearer to the rod's 7.94 mm"},
		{"spring-guided", "", sprung, all(discBore(10), func(f *params.Fixture) { f.Spring.Parallel = 2 }), "take discs with a bore just over 7.94 mm, or so wide that a guide bush goes between"},
		{"drill-access", "", sample.FourCells, all(gauge(15), func(f *params.Fixture) { f.Stiffener.StandingLeg = 90 }), "drill from the flat face, or let the drill stand 87.4 mm out of the chuck"},
		{"inner-radius", "", sample.TwoRows, all(func(f *params.Fixture) { f.Separator.Pattern, f.Separator.Border = "frame", 20 }, cutter(6.3)), "leave a radius of 3.2 mm in the corner, or cut it with a laser (tools.cutter: 0)"},
		{"wall-printable", "", sleeved, func(f *params.Fixture) { f.Printer.MinWall = 1.55 }, "make the wall of the sleeve 1.6 mm or thicker"},
		{"hole-edge", "end-plate", sample.FourCells, plateWidth(12), "1.1 mm more is needed between end-plate H1 and end-plate edge"}, // 1.097
		{"socket-depth", "", sample.FourCells, rodEnds(seat + 82), "2 mm less is needed between tool: socket on nut-front-left-lower and rod-left-lower"},
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

// Bars: how much is missing, or left for a sleeve.
func TestLinkHints(t *testing.T) {
	for _, c := range []struct {
		id, of string
		set    func(*params.Fixture)
		want   string
	}{
		{"link-to-link", "link", terminalClear(8.5*inch/4 - 21 + 1.04), "1.1 mm are missing: sleeve one of the two, or put an insulating wall between them"},
		{"link-to-case", "case", all(live, toCells(4.02)), "lay an insulating sheet under the bars, or raise them by 1.1 mm with washers on every terminal"},
	} {
		checkHint(t, c.id, c.of, c.want, judged(t, c.id, linked(t, 20, all(c.set, inMM))))
	}
	b := newBench(linked(t, 20, inMM))
	for have, want := range map[float64]string{
		0.009: "use a thinner socket, or a ring spanner bent upward: 10 mm are missing",
		0.01:  "sleeve the socket down to its rim, and cap the neighbours: 0.01 mm are left",
		0.011: "sleeve the socket down to its rim, and cap the neighbours: 0.01 mm are left",
		-0.35: "use a thinner socket, or a ring spanner bent upward: 10.4 mm are missing",
	} {
		if got := wordsTerminalDriver(b, finding.Finding{Have: have, Need: 10}); got != want {
			t.Errorf("%g mm: %q, want %q", have, got, want)
		}
	}
}

// Prints: pieces, walls, materials.
func TestPrintHints(t *testing.T) {
	b := printedBench(t, parts.Print{}, inMM)
	for _, c := range []struct {
		words func(*bench, finding.Finding) string
		f     finding.Finding
		want  string
	}{
		{wordsBed, finding.Finding{Have: 200, Need: 401.5, Between: []string{"sleeve"}}, "print sleeve in 3 pieces of 133.9 mm, or on a bed of 401.5 mm"},
		{wordsPrintWall, finding.Finding{Have: 0.81, Need: 1.2, Between: []string{"sleeve"}}, "make sleeve 0.4 mm thicker where it is thinnest, or print with a nozzle that makes walls of 0.9 mm"},
		{wordsAids, finding.Finding{Have: -0.35, Between: []string{"gauge", "cell-1"}}, "leave gauge away: it needs 0.4 mm more room at cell-1"},
		{wordsInner, finding.Finding{Have: 2.56, Need: 3}, "use a cutter of 5 mm or less"},
		{wordsInner, finding.Finding{Have: 0.0049, Need: 3}, "leave a radius of 3 mm in the corner, or cut it with a laser (tools.cutter: 0)"},
		{wordsHeat, finding.Finding{Have: 70, Need: 75, Between: []string{"sleeve"}}, "keep the pack below 60 C, or make sleeve of a sheet material"},
	} {
		if got := c.words(b, c.f); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	b.fixture.Tables.Materials = []catalog.Material{
		{Name: "best", Family: "plastic", StrengthAcross: 1, MaxService: 90}, {Name: "least", Family: "plastic", StrengthAcross: 1, MaxService: 75},
		{Name: "weak", Family: "plastic", StrengthAcross: 1, MaxService: 74}, {Name: "sheet", Family: "plastic", MaxService: 76},
		{Name: "metal", Family: "metal", StrengthAcross: 1, MaxService: 77}, {Name: "also", Family: "plastic", StrengthAcross: 1, MaxService: 80},
	}
	if got := wordsHeat(b, finding.Finding{Need: 75, Between: []string{"sleeve"}}); got != "print sleeve of least, which stands 75 C" {
		t.Error(got)
	}
}

// Lengths of hints are in the user's own steps, up or down; a step is kept.
func TestHintLengths(t *testing.T) {
	style := func(s params.Style) *bench { return &bench{fixture: &params.Fixture{Style: s}} }
	tenths, whole, fine := style(params.Style{Unit: unit.Millimetre, Decimals: 1}), style(params.Style{Unit: unit.Millimetre}), style(params.Style{Unit: unit.Millimetre, Decimals: 9})
	inches, bare := style(params.Style{Unit: unit.Inch, Denominator: 16, Decimals: 2}), style(params.Style{Unit: unit.Inch, Decimals: 1})
	for i, c := range []struct {
		b                  *bench
		mm                 float64
		up, down, as, step string
	}{
		{tenths, 10.04, "10.1 mm", "10 mm", "10.04 mm", "0.1 mm"},
		{tenths, 10.1, "10.1 mm", "10.1 mm", "10.1 mm", "0.1 mm"},
		{whole, 10.1, "11 mm", "10 mm", "10.1 mm", "1 mm"},
		{inches, 25.4 * 17.3 / 16, "1 1/8 in", "1 1/16 in", "27.46 mm", "1/16 in"},
		{inches, 25.4 * 17 / 16, "1 1/16 in", "1 1/16 in", "1 1/16 in", "1/16 in"},
	} {
		if up, down, as, step := c.b.up(c.mm), c.b.down(c.mm), c.b.length(c.mm), c.b.length(roundStep(c.b.fixture.Style)); up != c.up || down != c.down || as != c.as || step != c.step {
			t.Errorf("case %d: %s, %s, %s, %s, want %+v", i, up, down, as, step, c)
		}
	}
	if a, b := roundStep(fine.fixture.Style), roundStep(bare.fixture.Style); a != 1e-4 || b != 0.1 {
		t.Errorf("steps %g and %g", a, b)
	}
}
