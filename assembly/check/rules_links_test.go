package check

import (
	"math"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/parts"
)

// linked is four cells in series, turned about, with bars 20 mm wide of which
// the ends stand 10 mm beyond the terminals.
func linked(t *testing.T, width float64, change func(*params.Fixture)) *assembly.Assembly {
	t.Helper()
	f := sample.FourCells()
	if change != nil {
		change(f)
	}
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	bar, err := parts.LinkBar(parts.LinkSpec{
		Label: parts.Label{ID: "link-k1"}, Material: parts.Material{Name: "copper", DensityGCM3: 8.9, Conducts: true},
		HolesMM: a.Placement.Pitch, WidthMM: width, ThicknessMM: 2, HoleMM: 6.6, TravelMM: 2, EndMM: 10, CornerRadiusMM: 2,
	})
	if err != nil {
		t.Fatal(err)
	}
	var places []assembly.LinkPlace
	for i, side := range []int{1, 0, 1} {
		places = append(places, assembly.LinkPlace{ID: []string{"link-l1", "link-l2", "link-l3"}[i], Part: &bar,
			From: assembly.TerminalAt{Index: i, Side: side}, To: assembly.TerminalAt{Index: i + 1, Side: side}})
	}
	if err := a.AddLinks(places); err != nil {
		t.Fatal(err)
	}
	return a
}

// only runs one rule.
func only(t *testing.T, a *assembly.Assembly, id string) map[string]finding.Finding {
	t.Helper()
	out := map[string]finding.Finding{}
	for _, r := range linkRules() {
		if string(r.id) != id {
			continue
		}
		found, err := r.eval(newScene(a))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			out[f.Of] = f
		}
	}
	return out
}

// The bars' gaps by hand: on one side two bars end at neighbouring terminals,
// pitch less both end distances (10 mm, and 1 mm more past the slot) apart; a
// terminal of another net stands a pitch less pad radius and end away; the case
// lies under the bar by the pad's height.
func TestLinkGapsByHand(t *testing.T) {
	a := linked(t, 20, nil)
	f := a.Fixture
	pitch := a.Placement.Pitch
	bars := only(t, a, "link-to-link")["link"]
	if want := pitch - 10 - 11; math.Abs(bars.Have-want) > 0.01 || bars.Compared != 3 {
		t.Errorf("bars are %.3f mm apart in %d pairs, want %.3f in 3", bars.Have, bars.Compared, want)
	}
	post := only(t, a, "link-to-terminal")["terminal"]
	if want := pitch - 11 - f.Cell.Plus.Dia.MM()/2; math.Abs(post.Have-want) > 0.01 {
		t.Errorf("bar to terminal %.3f mm, want %.3f", post.Have, want)
	}
	if c := only(t, a, "link-to-case")["case"]; math.Abs(c.Have-f.Cell.Plus.Height.MM()) > 0.01 {
		t.Errorf("bar to case %.3f mm, want the pad's height %.3f", c.Have, f.Cell.Plus.Height.MM())
	}
}

// A clearance beyond what is there must be found short.
func TestLinkRulesCanFail(t *testing.T) {
	a := linked(t, 20, func(f *params.Fixture) {
		f.Clearances.MetalToTerminal, f.Clearances.ToolToTerminal = 300, 300
		f.Clearances.MetalToCell, f.Cell.CaseLive = 4, true
	})
	for _, id := range []string{"link-to-link", "link-to-terminal", "link-to-case", "link-to-metal"} {
		for kind, f := range only(t, a, id) {
			if f.Verdict == finding.Pass {
				t.Errorf("%s %s: %s", id, kind, f.Verdict)
			}
		}
	}
	if f := only(t, a, "terminal-driver")["live"]; f.Verdict != finding.Warn {
		t.Errorf("terminal driver: %s", f.Verdict)
	}
}

// The socket over a terminal stands clear of the next live one by the pitch of
// terminals less its radius, the pad's radius and the bar's lie.
func TestTerminalDriverFouls(t *testing.T) {
	a := linked(t, 20, nil)
	before := only(t, a, "terminal-driver")["live"]
	if before.Verdict == finding.Fail || before.Have <= 0 {
		t.Fatalf("driver %s at %.2f mm", before.Verdict, before.Have)
	}
	for i := range a.Tools { // a socket pushed over the neighbour's bar
		if d := &a.Tools[i]; d.Kind == assembly.ToolDriver && d.On == "cell-1-terminal-left" {
			d.Frame.O.Z += a.Placement.Pitch
			d.Frame.O.Y--
		}
	}
	if after := only(t, a, "terminal-driver")["live"]; after.Verdict != finding.Fail {
		t.Errorf("a socket in the neighbour's bar: %s at %.2f mm", after.Verdict, after.Have)
	}
}

// Without links the rules say nothing; the vent rule sees a bar laid over vents.
func TestLinkRulesWithoutLinks(t *testing.T) {
	a, err := assembly.Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range linkRules() {
		if found, err := r.eval(newScene(a)); err != nil || len(found) != 0 {
			t.Errorf("%s: %v %v", r.id, found, err)
		}
	}
}
