package export

import (
	"strings"
	"testing"

	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/export/tell"
)

// toolWord is a word by which the card must name a kind of tool where it lists what to
// have ready; written from the steps' own texts, not from the list.
var toolWord = map[work.ToolKind]string{
	work.Bit: "drill", work.Saw: "saw", work.Router: "router", work.Laser: "laser", work.Deburrer: "deburring", work.Clamps: "clamps", work.Spanner: "spanner", work.Pliers: "pliers",
	work.Calliper: "calliper", work.Wrench: "torque wrench", work.Edge: "straight edge", work.Board: "flat board", work.Strips: "strips", work.Raiser: "board under", work.Block: "block of wood",
	work.Pen: "pen", work.File: "file", work.Mask: "mask", work.Goggles: "eye protection", work.Probe: "thin rod", work.Scale: "scale", work.Tape: "tape", work.Driver: "insulated driver", work.Meter: "meter", work.Pad: "scouring pad", work.TestLead: "test lead",
	work.FusedLead: "fuse", work.Supply: "charger", work.Load: "load", work.Ties: "cable ties", work.BedPrint: "printer", work.Insulated: "gloves", work.Knife: "knife", work.Turner: "screwdriver", work.Weights: "weights",
}

// taken are further things that a step's words ask the hand to take.
var taken = []string{"scouring pad", "thin rod", "second spanner", "block of wood", "flat board", "straight edge", "test lead", "fused lead", "torque wrench", "scale until", "pen", "pliers", "tape", "countersink", "mask"}

// A walk through the card with nothing else at hand: what it tells to take lies ready, it
// has the steps of the order of work and no others, in that order, a place to write for
// every reading that is to be written down, and every figure that is set.
func TestTheCardAloneIsEnough(t *testing.T) {
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		ready := ""
		for _, f := range tell.Ready(j.Job) {
			ready += strings.ToLower(f.Label+" "+f.Value) + "\n"
		}
		phases := told(j)
		if len(phases) != len(j.Work) {
			t.Fatalf("%s: %d phases on the card, %d in the order of work", name, len(phases), len(j.Work))
		}
		for i, p := range j.Work {
			if len(phases[i].Steps) != len(p.Steps) {
				t.Fatalf("%s: %s: %d steps on the card, %d in the order of work", name, phases[i].Title, len(phases[i].Steps), len(p.Steps))
			}
			for k, s := range p.Steps {
				said := phases[i].Steps[k]
				for _, tool := range s.Tools {
					if w := toolWord[tool.Kind]; w == "" || !strings.Contains(ready, w) {
						t.Errorf("%s: %s: a %s is used, but does not lie ready", name, said.Title, tool.Kind)
					}
				}
				for _, w := range taken {
					if strings.Contains(said.Text, w) && !strings.Contains(ready, strings.NewReplacer("second ", "", "fused lead", "fuse", " until", "").Replace(w)) {
						t.Errorf("%s: %s tells to take a %s, but none lies ready", name, said.Title, w)
					}
				}
				blank, record := 0, 0
				for _, f := range said.Figures {
					if f.Value == page.ToFill {
						blank++
					}
				}
				for _, r := range s.Readings {
					if r.Record {
						record++
					}
				}
				for _, row := range said.Table {
					for _, c := range row {
						if c == page.ToFill {
							blank++
						}
					}
				}
				if record > 0 && blank == 0 {
					t.Errorf("%s: %s: %d readings to write down, and no place for one", name, said.Title, record)
				}
				if len(s.Sets) > 0 && len(said.Figures) == 0 && !strings.ContainsAny(said.Text, "0123456789") {
					t.Errorf("%s: %s: %d figures to set, none told", name, said.Title, len(s.Sets))
				}
			}
		}
	}
}
