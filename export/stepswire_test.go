package export

import (
	"strings"
	"testing"

	"clampwright/assembly/wiring"
)

func TestShockIsToldAboveItsLimit(t *testing.T) {
	for cells, want := range map[string]bool{"8": false, "16": true} {
		j := mustWire(t, "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: "+cells+"}\n")
		told := false
		for _, c := range cautions(j.Fixture) {
			told = told || c.Title == "Electric shock and arc"
		}
		if told != want {
			t.Errorf("%s cells: caution told %v", cells, told)
		}
		for _, s := range j.Wiring.Plan.Steps {
			if s.Action == wiring.Fit && s.State == wiring.StateFinal && strings.Contains(j.Wiring.pageStep(s).Caution, "arc") != want {
				t.Errorf("%s cells: step %d: arc told %v", cells, s.Number, !want)
			}
		}
	}
}

func TestFigureCountsBarsOnEachOther(t *testing.T) {
	j := mustWire(t, "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: 4}\nelectrical: {series: 2, parallel: 2}\n")
	told, stacked := "", 0
	for _, s := range j.Wiring.Plan.Steps {
		if s.Action == wiring.Fit && s.State == wiring.StateFinal {
			told += j.Wiring.marks(s)
		}
	}
	for _, k := range j.Wiring.Final().Links {
		if k.Layers > 1 {
			stacked++
			if !strings.Contains(told, "on each other at "+k.ID) {
				t.Errorf("%s is not told: %s", k.ID, told)
			}
		}
	}
	if stacked == 0 {
		t.Fatal("no link has bars on each other")
	}
	sum := 0
	for _, l := range j.Assembly.PartsList() {
		if strings.HasPrefix(l.Part.ID, "link-") {
			sum += l.Quantity
		}
	}
	if got := j.Wiring.linkPieces(); got != sum {
		t.Errorf("links to make %d, parts list %d", got, sum)
	}
	if c := j.Wiring.ampacity(); len(c.Also) != stacked {
		t.Errorf("ampacity names %q", c.Also)
	}
}

func TestGroupIsNotMeasuredByThePacksForce(t *testing.T) {
	j := mustWire(t, "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: 8}\nelectrical: {plan: groups}\n")
	if got := j.Wiring.Plan.ID; got != wiring.Groups {
		t.Fatalf("plan %s", got)
	}
	if step := j.fullCheckOf("balance-1"); len(step.Figures) > 0 || !strings.Contains(step.Text, "of 8 cells") {
		t.Errorf("%+v", step)
	}
}
