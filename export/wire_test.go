package export

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/assembly/wiring"
	"clampwright/assembly/work"
	"clampwright/export/report"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/parts"
)

// wired places a fixture and plans its wiring, without checks and mechanics, with a
// table of readings beside the file where one is given.
func wiredOf(t *testing.T, text string, table ...string) (*Job, error) {
	t.Helper()
	var open []params.Opener
	for _, b := range table {
		open = append(open, func(string) ([]byte, error) { return []byte(b), nil })
	}
	f, diags := params.Load("pack.yaml", []byte(text), open...)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	j, err := job.Place(f)
	return &Job{Job: j}, err
}

const eightInTwo = `fixture: t
cell: {model: 72x174x201, compression: none}
pack: {cells: 8, rows: 2}
`

// computedText is a fixture computed in full.
func computedText(t *testing.T, text string) *job.Job {
	t.Helper()
	f, diags := params.Load("pack.yaml", []byte(text))
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	j, err := job.Compute(context.Background(), f, noStep)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func mustWire(t *testing.T, text string, table ...string) *Job {
	t.Helper()
	j, err := wiredOf(t, text, table...)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// Every bar of the finished pack is in the assembly with its round hole and the
// line of its slot on the two terminals the plan says.
func TestBarsLieOnTheirTerminals(t *testing.T) {
	for _, layout := range []string{"{series: 8}", "{series: 4, parallel: 2}", "{series: 2, parallel: 4, current: 400}"} {
		j := mustWire(t, eightInTwo+"electrical: "+layout+"\n")
		w := j.Wiring
		if !w.Proven {
			t.Fatalf("%s: not proven: %v", layout, w.Plan.Faults())
		}
		final, bars := w.Final(), 0
		for _, k := range final.Links {
			if k.Cable {
				continue
			}
			bars += max(1, k.Layers)
			sp, ok := w.Layout.SpecFor(k, final.Turns, w.Plan.Specs)
			if !ok {
				t.Fatalf("%s: no kind for %s", layout, k.ID)
			}
			in := instance(t, j, "link-"+strings.ToLower(k.ID))
			a, b := w.Layout.Position(k.A, final.Turns), w.Layout.Position(k.B, final.Turns)
			hole := in.FlatPoint(in.Part.Flat.Profile.Circles[0].C)
			if math.Hypot(hole.X-a.X, hole.Z-a.Y) > 1e-9 {
				t.Errorf("%s: hole of %s at %v, terminal at %v", layout, k.ID, hole, a)
			}
			// The terminal in the bar's own coordinates lies within the slot.
			dx, dz := b.X-a.X, b.Y-a.Y
			along := in.Frame.X.X*dx + in.Frame.X.Z*dz
			across := in.Frame.Y.X*dx + in.Frame.Y.Z*dz
			if math.Abs(across-sp.JogMM) > 1e-9 || math.Abs(along-sp.RunMM) > sp.TravelMM/2+1e-9 {
				t.Errorf("%s: terminal of %s at %.3f, %.3f along the bar; slot at %.3f +- %.3f", layout, k.ID, along, across, sp.RunMM, sp.TravelMM/2)
			}
		}
		if got := len(j.Assembly.Of(assembly.RoleLink)); got != bars {
			t.Errorf("%s: %d bars placed, the plan has %d", layout, got, bars)
		}
	}
}

func instance(t *testing.T, j *Job, id string) *assembly.Instance {
	t.Helper()
	for i := range j.Assembly.Instances {
		if j.Assembly.Instances[i].ID == id {
			return &j.Assembly.Instances[i]
		}
	}
	t.Fatalf("no instance %s", id)
	return nil
}

// The parts list makes as many of every kind as its specification says, and the
// part is the specification's size and mass.
func TestLinkPartsAreAsSpecified(t *testing.T) {
	j := mustWire(t, eightInTwo+"electrical: {series: 4, parallel: 2}\n")
	made := map[string]assembly.PartLine{}
	for _, l := range j.Assembly.PartsList() {
		made[l.Part.Mark] = l
	}
	for _, sp := range j.Wiring.Plan.Specs {
		l, ok := made[sp.Mark]
		if !ok || l.Quantity != sp.Bars || l.Part.Kind != parts.KindLink {
			t.Fatalf("%s: %d made, want %d", sp.Mark, l.Quantity, sp.Bars)
		}
		if sp.Shape == wiring.Cable {
			continue
		}
		if sp.JogMM == 0 && math.Abs(l.Part.SizeMM[0]-sp.LengthMM) > 1e-6 {
			t.Errorf("%s is %.3f mm long, want %.3f", sp.Mark, l.Part.SizeMM[0], sp.LengthMM)
		}
		// Two densities of copper are in use, 8.89 (IEC 60028) and the table's 8.9x.
		if math.Abs(l.Part.MassG-sp.MassG) > 0.02*sp.MassG {
			t.Errorf("%s weighs %.2f g, want %.2f", sp.Mark, l.Part.MassG, sp.MassG)
		}
	}
}

// A wrong link is named with its place in the file, and the pack fails.
func TestWrongLinkIsNamed(t *testing.T) {
	text := eightInTwo + `electrical:
  links:
    - state: final
      links: [A1+ A2-, A2+ A3-, A3+ A4+, A4+ B4-, B4+ B3-, B3+ B2-, B2+ B1-]
`
	j := mustWire(t, text)
	if j.Wiring.Proven {
		t.Fatal("a pack with A3+ on A4+ was proven")
	}
	var c finding.Finding
	for _, x := range grouped(j, finding.GroupWiring) {
		if x.ID == "polarity-proof" && x.Verdict == finding.Fail {
			c = x
		}
	}
	all := c.Why + strings.Join(c.Also, " ")
	if !strings.Contains(all, "A3+ to A4+") || !strings.Contains(strings.Join(tell.Origins(j.Job, c), " "), "electrical.links (6:") {
		t.Errorf("the finding does not name the link and line 6: %+v", c)
	}
	if p := tell.Wiring(j.Job); !strings.Contains(strings.Join(p.Warnings, " "), "Do not fit a link") {
		t.Errorf("the page does not warn: %v", p.Warnings)
	}
}

func TestUnreadableLinks(t *testing.T) {
	for _, c := range []struct{ links, want string }{
		{"[{state: final, links: [A1+ C2-]}]", `no cell "C2"`},
		{"[{state: middle, links: [A1+ A2-]}]", `no plan has a state "middle"`},
	} {
		_, err := wiredOf(t, eightInTwo+"electrical:\n  links: "+c.links+"\n")
		var l diag.List
		if !errors.As(err, &l) || !strings.Contains(l[0].String(), c.want) || l[0].Range.Line != 5 {
			t.Errorf("%s: %v, want %q at line 5", c.links, err, c.want)
		}
	}
}

// A pack that cannot be wired fails, with a finding that names the parameter.
func TestPackWithoutPlan(t *testing.T) {
	j := mustWire(t, strings.Replace(eightInTwo, "model: 72x174x201", "model: 72x174x201, terminals: {pitch: 15 mm}", 1))
	found := grouped(j, finding.GroupWiring)
	if len(found) != 1 || found[0].Verdict != finding.Fail || !strings.Contains(found[0].Why, "cell.terminals.diameter") {
		t.Errorf("findings %+v", found)
	}
	if p := tell.Wiring(j.Job); len(p.States) > 0 {
		t.Error("states are drawn for a pack without a plan")
	}
}

// exampleRecords is the example's table of cells without the first few of them.
func exampleRecords(t *testing.T, without int) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "examples", "cells-eight.csv"))
	if err != nil {
		t.Fatal(err)
	}
	head, cells, _ := strings.Cut(string(text), "\n")
	for range without {
		_, cells, _ = strings.Cut(cells, "\n")
	}
	return head + "\n" + cells
}

// Recorded cells further apart than may be joined are named; closer ones pass.
func TestJoinVoltageOfRecords(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "examples", "eight-cell-plywood.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	records := exampleRecords(t, 0)
	for _, c := range mustWire(t, string(text), records).Findings {
		if c.ID == "join-voltage" {
			t.Errorf("balanced one by one, yet %+v", c)
		}
	}
	text = []byte(strings.Replace(string(text), "\nelectrical:\n", "\nelectrical:\n  plan: cross\n", 1))
	if c := checkOf(t, mustWire(t, string(text), records), "join-voltage"); c.Verdict != finding.Pass || math.Abs(c.Have-3) > 1e-6 {
		t.Errorf("3.296 to 3.299 V: %+v", c)
	}
	records = strings.Replace(records, "0.203,3.298", "0.203,3.320", 1)
	c := checkOf(t, mustWire(t, string(text), records), "join-voltage")
	if c.Verdict != finding.Warn || math.Abs(c.Have-24) > 1e-6 || c.Need > 20 || c.Between[1] != "DEMO-05" || tell.Advice(c) == "" {
		t.Errorf("3.296 to 3.320 V: %+v", c)
	}
}

// A link that must give way is braided, and that is what is listed, bought and told;
// a rigid one that the file asks for is warned of. The page warns before cells are
// joined.
func TestBraidedLinkIsCalledSoEverywhere(t *testing.T) {
	j := mustWire(t, eightInTwo+"electrical: {series: 8, plan: cross}\n")
	p := tell.Wiring(j.Job)
	if !strings.Contains(strings.Join(p.Warnings, " "), "Join cells in parallel only when") {
		t.Errorf("no word on joining in %q", p.Warnings)
	}
	braided := 0
	for _, l := range j.Assembly.PartsList() {
		for _, sp := range j.Wiring.Plan.Specs {
			if sp.Mark != l.Part.Mark || sp.Shape == wiring.Cable {
				continue
			}
			if strings.Contains(l.Part.Name, "braided") != sp.Braided || sp.Braided != (l.Part.Make == parts.MakeBuy) {
				t.Errorf("%s is called %q, made by %s, braided %v", sp.Mark, l.Part.Name, l.Part.Make, sp.Braided)
			}
			if sp.Braided {
				braided++
			}
		}
	}
	if braided == 0 || !strings.Contains(p.Facts[0].Note, "braided") {
		t.Errorf("%d braided kinds, facts %q", braided, p.Facts[0].Note)
	}
	for _, c := range []struct {
		form string
		want finding.Verdict
	}{{"braided", finding.Pass}, {"bar", finding.Warn}} {
		j := mustWire(t, eightInTwo+"electrical: {series: 8, link_form: "+c.form+"}\n")
		if f := checkOf(t, j, "link-flexible"); f.Verdict != c.want {
			t.Errorf("%s: %+v", c.form, f)
		}
	}
}

// Where bars lie nearer to live cases than wanted a sheet lies under them, on the
// parts list and in the order of work; without one the check warns.
func TestSheetUnderLinks(t *testing.T) {
	for _, c := range []struct {
		cell  string
		sheet string
		want  finding.Verdict
		strip bool
	}{
		{"terminals: {height: 2.5}", "", finding.Pass, true},
		{"terminals: {height: 2.5}", "link_sheet: 0", finding.Warn, false},
		{"terminals: {height: 2.5}", "link_sheet: 0.2", finding.Warn, true}, // too thin to insulate
		{"terminals: {height: 3}", "", finding.Pass, false},
		{"terminals: {height: 0.25}", "", finding.Fail, false}, // less than air holds apart
		{"terminals: {height: 2.5}, case: insulated", "", finding.Pass, false},
	} {
		j := computedText(t, "fixture: t\ncell: {model: 36x130x200, "+c.cell+"}\npack: {cells: 4}\nseparators: {}\nelectrical: {series: 4, "+c.sheet+"}\n")
		got := finding.Pass
		for _, f := range j.Findings {
			if f.ID == "link-to-case" {
				got = f.Verdict
			}
		}
		listed, used := false, false
		for _, l := range j.Assembly.Bill() {
			listed = listed || l.Part.ID == "cover-strip"
		}
		for _, p := range j.Work {
			for _, s := range p.Steps {
				for _, l := range s.Uses {
					used = used || l.Part.ID == "cover-strip"
				}
			}
		}
		if got != c.want || listed != c.strip || used != c.strip {
			t.Errorf("%s %s: %s, listed %v, used %v", c.cell, c.sheet, got, listed, used)
		}
	}
}

// Links and cells are judged in every state, at the greatest current: too hot in the
// balance alone fails as well.
func TestCurrentsFailInEveryState(t *testing.T) {
	for _, c := range []struct {
		electrical string
		id         string
		want       finding.Verdict
	}{
		{"series: 8, current: 120", "link-temperature", finding.Pass},
		{"series: 8, current: 1000", "link-temperature", finding.Fail},
		{"series: 8, current: 120, balance_current: 1000, plan: turn", "link-temperature", finding.Fail},
		{"series: 8, current: 120, balance_current: 1000", "link-temperature", finding.Pass}, // no link is fitted by then
		{"series: 8, current: 280", "cell-current", finding.Pass},
		{"series: 8, current: 281", "cell-current", finding.Fail},
		{"series: 8, current: 120, board: 280", "cell-current", finding.Pass},
		{"series: 8, current: 120, board: 281, plan: series", "cell-current", finding.Fail},
		{"series: 8, current: 120, board: 281, plan: turn", "cell-current", finding.Pass},
		{"series: 8, current: 120, board: 900, plan: series", "link-temperature", finding.Fail},
		{"series: 8, current: 120, board: 20, balance_current: 1000", "cell-current", finding.Pass}, // the charger for one cell is turned down
		{"series: 4, parallel: 2, current: 281", "cell-current", finding.Pass},
		{"series: 1, parallel: 8, current: 100, balance_current: 1000", "cell-current", finding.Pass},
	} {
		if f := checkOf(t, mustWire(t, eightInTwo+"electrical: {"+c.electrical+"}\n"), c.id); f.Verdict != c.want {
			t.Errorf("%s: %+v", c.electrical, f)
		}
	}
}

// Rods are not left cut for cells of another thickness: the cells as measured set the
// row, and a row measured otherwise may be off by the cells' tolerance.
func TestStackAsMeasured(t *testing.T) {
	const text = "fixture: t\ncell: {model: 54x174x200, thickness_tolerance: 0.5 mm}\npack: {cells: 8%s}\nseparators: {thickness: 0.5}\nelectrical: {records: cells.csv}\n"
	for _, c := range []struct {
		thick float64
		stack string
		row   float64
		want  finding.Verdict
	}{
		{54, "", 435.5, finding.Pass}, {58, "", 467.5, finding.Pass}, {53, "", 427.5, finding.Pass},
		{54.5, ", stack: 435.5 mm", 435.5, finding.Pass}, {54.51, ", stack: 435.5 mm", 435.5, finding.Fail},
		{53.5, ", stack: 435.5 mm", 435.5, finding.Pass}, {53.49, ", stack: 435.5 mm", 435.5, finding.Fail},
		{58, ", stack: 435.5 mm", 435.5, finding.Fail},
	} {
		table := "serial,capacity_ah,resistance_mohm,voltage_v,centre_mm,edge_left_mm,edge_right_mm\n"
		for i := range 8 {
			table += fmt.Sprintf("C%d,204,0.2,3.3,%[2]v,%[2]v,%[2]v\n", i, c.thick)
		}
		j := mustWire(t, fmt.Sprintf(text, c.stack), table)
		f := checkOf(t, j, "stack-as-measured")
		if f.Verdict != c.want || math.Abs(f.Have-8*c.thick-3.5) > 1e-6 || math.Abs(j.Fixture.Pack.StackLength.MM()-c.row) > 1e-9 {
			t.Errorf("%v mm%s, row %v: %+v", c.thick, c.stack, j.Fixture.Pack.StackLength, f)
		}
	}
}

// Cells that share within the limit in no grouping are not fit to build; take_off is the side of
// the pack minus.
func TestUnlikeCellsAndTakeOff(t *testing.T) {
	const text = "fixture: t\ncell: {model: 54x174x200, resistance: 0.5}\npack: {cells: 4}\nseparators: {}\nelectrical: {series: 2, parallel: 2, records: c.csv, take_off: %s}\n"
	for _, c := range []struct {
		side string
		ohms [4]float64
		want finding.Verdict
	}{
		{"left", [4]float64{0.4, 0.4, 0.4, 0.4}, finding.Pass},
		{"right", [4]float64{0.36, 0.64, 0.36, 0.64}, finding.Pass}, // like with like
		{"right", [4]float64{0.36, 0.60, 0.40, 0.45}, finding.Fail},
		{"left", [4]float64{0.45, 0.55, 0.45, 0.55}, finding.Pass},
		{"left", [4]float64{0.40, 0.50, 0.60, 0.75}, finding.Fail},
	} {
		table := "serial,capacity_ah,resistance_mohm,voltage_v,centre_mm,edge_left_mm,edge_right_mm\n"
		for i, r := range c.ohms {
			table += fmt.Sprintf("C%d,204,%v,3.3,54,54,54\n", i, r)
		}
		j := mustWire(t, fmt.Sprintf(text, c.side), table)
		if f := checkOf(t, j, "current-share"); f.Verdict != c.want {
			t.Errorf("%v: %+v", c.ohms, f)
		}
		if m := j.Wiring.Final().Mains.Minus.Side.String(); m != c.side {
			t.Errorf("take_off %s: pack minus on the %s", c.side, m)
		}
	}
}

// Nothing of the wiring is warned of in the files that new writes.
func TestStartersWireWithoutWarning(t *testing.T) {
	for _, cells := range []int{4, 8, 16} {
		text, _, err := params.Starter(params.StarterOptions{Cells: cells, Cell: "54x174x200"})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range computedText(t, string(text)).Findings {
			if (f.Group == finding.GroupWiring || strings.HasPrefix(string(f.ID), "link-")) && f.Verdict != finding.Pass {
				t.Errorf("%d cells: %+v", cells, f)
			}
		}
	}
}

// Every terminal is capped before the first spanner with the cells in the clamp.
func TestTerminalsAreCappedFirst(t *testing.T) {
	j := computedText(t, eightInTwo+"electrical: {series: 8}\n")
	capped := false
	for _, p := range j.Work {
		for _, s := range p.Steps {
			switch s.Kind {
			case work.CapCells:
				capped = len(s.Uses) == 1 && s.Uses[0].Count == 16
			case work.StandCells, work.CloseFront, work.Snug, work.SetForce:
				if !capped {
					t.Errorf("%s before the caps", s.Kind)
				}
			}
		}
	}
	if !capped {
		t.Error("no caps")
	}
}

// checkOf is the electrical finding with an id.
func checkOf(t *testing.T, j *Job, id string) finding.Finding {
	t.Helper()
	for _, c := range grouped(j, finding.GroupWiring) {
		if string(c.ID) == id {
			return c
		}
	}
	t.Fatalf("no finding %s", id)
	return finding.Finding{}
}

// The example's bulged cell is refused and the one that lost charge kept out,
// every slot gets one cell, and report and checks say so.
func TestExampleRecords(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "examples", "eight-cell-plywood.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	j := mustWire(t, string(text), exampleRecords(t, 0))
	b, err := json.Marshal(report.Wiring(j.Wiring))
	if err != nil {
		t.Fatal(err)
	}
	var r struct {
		Proven bool
		Cells  []struct{ Serial string }
		Spare  []string `json:"spare_cells"`
		Notes  []string `json:"cell_notes"`
	}
	if err := json.Unmarshal(b, &r); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, c := range r.Cells {
		seen[c.Serial] = true
	}
	if !r.Proven || len(seen) != 8 || seen["DEMO-09"] || seen["DEMO-10"] || len(r.Spare) != 0 {
		t.Errorf("cells %v, spare %v; want the eight with nothing against them", r.Cells, r.Spare)
	}
	if notes := strings.Join(r.Notes, ";"); !strings.Contains(notes, "DEMO-09 bulges") || !strings.Contains(notes, "kept out") {
		t.Errorf("notes %v", r.Notes)
	}
	if c := checkOf(t, j, "cells-fit"); c.Verdict != finding.Pass || c.Have != 8 || c.Need != 8 {
		t.Errorf("%+v", c)
	}
	one := mustWire(t, string(text), exampleRecords(t, 1))
	if c := checkOf(t, one, "cells-fit"); c.Verdict != finding.Warn || c.Have != 7 || !strings.Contains(tell.Advice(c), "DEMO-10") {
		t.Errorf("a doubtful cell is built in: %+v", c)
	}
	if in := tell.Incoming(j.Job); len(in.Cells) != 8 || !strings.Contains(strings.Join(in.Reject, ";"), "Rejected: cell DEMO-09") {
		t.Errorf("inspection %v %v", in.Cells, in.Reject)
	}
	few := mustWire(t, string(text), exampleRecords(t, 2))
	if few.Wiring.Short == "" {
		t.Error("seven usable cells fill a pack of eight")
	}
}
