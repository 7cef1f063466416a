package check

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/params"
)

// derivedText is a file that leaves sizes to be derived: it gives names alone.
func derivedText(r *rand.Rand) string {
	pick := func(words ...string) string { return words[r.IntN(len(words))] }
	text := fmt.Sprintf("fixture: d\nunits: %s\ncell: {model: %s}\npack: {cells: %d, rows: %d}\n", pick("mm", "in"), pick("72x174x201", "54x174x200", "36x130x200", "27x100x130"), 2*(1+r.IntN(4)), 1+r.IntN(2))
	text += fmt.Sprintf("plates: {material: %s, feet: {}}\n", pick("hdpe", "birch plywood", "6061-T6", "acetal"))
	text += fmt.Sprintf("rods: {thread: %s, fit: %s}\n", pick("M5", "M6", "M8", "M10", "1/4-20", "5/16-18", "3/8-16"), pick("medium", "coarse", "shop"))
	text += fmt.Sprintf("nuts: {kind: %s}\nwashers: {series: %s}\n", pick("plain", "prevailing", "jam"), pick("standard", "large"))
	text += fmt.Sprintf("tolerances: {holes: %s}\n", pick("hand", "router"))
	text += pick("", "stiffeners: {}\n", "stiffeners: {standing_leg: outward}\n")
	text += pick("", "sleeves: {}\n")
	text += pick("", "springs: {ends: one}\n", "springs: {ends: both}\n")
	text += pick("", "separators: {}\n", "separators: {pattern: frame, printed: true}\n")
	return text
}

// What is derived passes the checks that compare it with what it was derived for.
func TestDerivedPasses(t *testing.T) {
	own := []finding.ID{"washer-flat", "screw-to-cell", "hole-edge", "driver-to-metal", "wall-printable", "print-wall"}
	list := slices.DeleteFunc(rules(), func(r rule) bool { return !slices.Contains(own, r.id) })
	r := rand.New(rand.NewPCG(11, 12))
	for i := range 240 {
		text := derivedText(r)
		if i%24 == 0 { // shaping the printed parts takes long
			text += "prints: {corner_guards: true, rod_caps: true, feet: true, drill_guides: true, gauges: true}\n"
		}
		f, diags := params.Load("d.yaml", []byte(text))
		if f == nil {
			t.Fatalf("%v\n%s", diags, text)
		}
		a, err := assembly.Build(f)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		found, err := judge(newScene(a), list)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range found {
			if g.Verdict == finding.Fail {
				t.Errorf("%s %s: %g, wanted %s %g\n%s", g.ID, g.Of, g.Have, g.Sense, g.Need, text)
			}
		}
	}
}
