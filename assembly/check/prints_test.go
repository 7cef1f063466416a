package check

import (
	"os"
	"regexp"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/params"
)

var printsGone = regexp.MustCompile(`(?m)^(prints|printer|clamp):.*\n(?:[ \t].*\n|\n)*`)

// printBench is a bench on an example with printed parts of a material.
func printBench(t *testing.T, material, hot string) *scene {
	t.Helper()
	text, err := os.ReadFile("../../examples/eight-cell-plywood.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text = printsGone.ReplaceAll(text, nil)
	text = append(text, "\nprints: {corner_guards: true, gauges: true}\nprinter: {material: "+material+"}\nclamp: {hot: "+hot+"}\n"...)
	f, diags := params.Load("prints", text)
	if f == nil {
		t.Fatal(diags)
	}
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	return newScene(a)
}

func ruleByID(t *testing.T, id string) rule {
	t.Helper()
	for _, r := range rules() {
		if string(r.id) == id {
			return r
		}
	}
	t.Fatalf("no rule %s", id)
	return rule{}
}

// TestHeatOfPrints has the verdict follow the material's service temperature.
func TestHeatOfPrints(t *testing.T) {
	r := ruleByID(t, "material-heat")
	for _, c := range []struct {
		material, hot string
		want          finding.Verdict
	}{{"pla", "50 C", finding.Fail}, {"pla", "40 C", finding.Warn}, {"petg", "50 C", finding.Pass}, {"petg", "60 C", finding.Warn}, {"abs", "50 C", finding.Pass}} {
		found, err := r.eval(printBench(t, c.material, c.hot))
		if err != nil || len(found) != 1 || found[0].Verdict != c.want || found[0].Unit != "\u00b0C" {
			t.Errorf("%s at %s: %+v, %v", c.material, c.hot, found, err)
		}
	}
}

// TestPrintRulesCanFail spoils the figures of a print and the place of an aid.
func TestPrintRulesCanFail(t *testing.T) {
	b := printBench(t, "petg", "45 C")
	p := prints(b.nominal)[0]
	spoiled := *p.Print
	spoiled.WallMM, spoiled.SteepMM2 = 0.4, 500
	good := p.Print
	p.Print = &spoiled
	for id, want := range map[string]finding.Verdict{"print-wall": finding.Fail, "print-overhang": finding.Warn} {
		found, err := ruleByID(t, id).eval(b)
		if err != nil || len(found) != 1 || found[0].Verdict != want {
			t.Errorf("%s: %+v, %v", id, found, err)
		}
	}
	p.Print = good
	for i := range b.nominal.Aids {
		w := &b.nominal.Aids[i]
		w.Frame.O = w.Frame.O.Sub(w.Frame.Y) // a millimetre into what it stands on
	}
	found, err := ruleByID(t, "aid-fits").eval(b)
	if err != nil || len(found) != 1 || found[0].Verdict != finding.Fail {
		t.Errorf("aid-fits: %+v, %v", found, err)
	}
}
