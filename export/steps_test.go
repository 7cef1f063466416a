package export

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"clampwright/export/page"
)

// allSteps are the steps of an example in one list.
func allSteps(j *Job) []page.Step {
	var out []page.Step
	for _, p := range j.steps() {
		out = append(out, p.Steps...)
	}
	return out
}

// The order of work keeps the cells safe: clamped before any charge, balanced
// before the final links, the nuts looked after at the end.
func TestOrderOfWork(t *testing.T) {
	for _, name := range exampleNames(t) {
		steps := allSteps(made(t, name).job)
		at := func(title string) int {
			for i, s := range steps {
				if strings.HasPrefix(s.Title, title) {
					return i
				}
			}
			return -1
		}
		order := []string{"Drill", "Dry fit", "Stand the cells", "Bring the nuts to snug", "Set the force", "Charge", "Check the force at full charge", "Take links off", "Check the nuts"}
		for i := 1; i < len(order); i++ {
			if a, b := at(order[i-1]), at(order[i]); a < 0 || b <= a {
				t.Errorf("%s: %q is step %d, %q step %d", name, order[i-1], a+1, order[i], b+1)
			}
		}
	}
}

// Creep is made good by the share it took: doubling the setting would double
// the force.
func TestRecheckTurnsOnlyWhatCreepTook(t *testing.T) {
	j := made(t, "four-cell-offcut").job
	left := j.forceLeft("after 1000 h")
	if left <= 0.5 || left >= 1-littleCreep {
		t.Fatalf("polyethylene creeps: %.2f of the force left", left)
	}
	for _, f := range j.recheck().Figures {
		if f.Label != "turn on, in all" {
			continue
		}
		word, _, _ := strings.Cut(f.Value, " ")
		got, err := strconv.ParseFloat(word, 64)
		if want := (j.Clamp.Setting.Turns.Least + j.Clamp.Setting.Turns.Greatest) / 2 * (1 - left); err != nil || math.Abs(got-want) > 0.006 || got > 0.5*j.Clamp.Setting.Turns.Least {
			t.Errorf("turn on %q, want %.3f", f.Value, want)
		}
		return
	}
	t.Error("no figure for turning the nuts on")
}

// The sentence names what others follow from, not what follows from others.
func TestSentenceNamesACause(t *testing.T) {
	s := made(t, "fouled-on-purpose").job.Sentence()
	if !strings.Contains(s, "grip room") || !strings.Contains(s, "more checks fail") {
		t.Error(s)
	}
	only := []Check{{ID: "chain-closed", Group: "interference", Unit: "mm", Measured: 3}, {ID: "washer-flat", Group: "seats", Unit: "mm", Measured: -1}}
	if c := cause(only); c.ID != "washer-flat" {
		t.Errorf("%s is named before what causes it", c.ID)
	}
}
