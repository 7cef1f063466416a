package export

import (
	"fmt"
	"strings"
	"testing"

	"clampwright/assembly/wiring"
	"clampwright/export/tell"
)

func TestShockIsToldAboveItsLimit(t *testing.T) {
	for cells, want := range map[string]bool{"8": false, "16": true} {
		j := pressed(t, "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: "+cells+"}\n")
		warned := false
		for _, c := range tell.Cautions(j.Fixture) {
			warned = warned || c.Title == "Electric shock and arc"
		}
		if warned != want {
			t.Errorf("%s cells: caution told %v", cells, warned)
		}
		for _, p := range told(j) {
			for _, s := range p.Steps {
				if p.Title == "Link in series" && s.Title == "Fit the links" && strings.Contains(s.Caution, "arc") != want {
					t.Errorf("%s cells: %s: arc told %v", cells, s.Text, !want)
				}
			}
		}
	}
}

func TestFigureCountsBarsOnEachOther(t *testing.T) {
	j := pressed(t, "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: 4}\nelectrical: {series: 2, parallel: 2}\n")
	said, stacked := "", 0
	for _, s := range allSteps(j) {
		if s.Title == "Fit the links" {
			said += figure(t, s, "links")
		}
	}
	for _, k := range j.Wiring.Final().Links {
		if k.Layers > 1 {
			stacked++
			if !strings.Contains(said, "on each other at "+k.ID) {
				t.Errorf("%s is not told: %s", k.ID, said)
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
	if got := tell.Wiring(j.Job).Facts[0].Value; got != fmt.Sprint(sum) {
		t.Errorf("links to make %s, parts list %d", got, sum)
	}
	if c := checkOf(t, j, "link-ampacity"); len(c.Also) != stacked {
		t.Errorf("ampacity names %q", c.Also)
	}
}

func TestGroupIsNotMeasuredByThePacksForce(t *testing.T) {
	j := pressed(t, "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: 8}\nelectrical: {plan: groups}\n")
	if got := j.Wiring.Plan.ID; got != wiring.Groups {
		t.Fatalf("plan %s", got)
	}
	if step := stepTitled(t, j, "Look at the clamp with this group full"); len(step.Figures) > 0 || !strings.Contains(step.Text, "of 8 cells") {
		t.Errorf("%+v", step)
	}
}

func TestTerminalsHaveTheirFixings(t *testing.T) {
	for stud, want := range map[string]string{"0": "terminal-screw", "20 mm": "terminal-nut"} {
		j := mustWire(t, "fixture: t\ncell: {model: 72x174x201, compression: none, terminals: {stud: "+stud+"}}\npack: {cells: 4}\n")
		found := 0
		for _, l := range j.Assembly.Bill() {
			if l.Part.ID == want || l.Part.ID == "terminal-washer" || l.Part.ID == "terminal-lock-washer" {
				found++
				if l.Pieces != 8 {
					t.Errorf("stud %s: %d of %s", stud, l.Pieces, l.Part.ID)
				}
			}
		}
		if found != 3 {
			t.Errorf("stud %s: %d of 3 kinds listed", stud, found)
		}
	}
}

func TestClampClosedAgainSaysHow(t *testing.T) {
	j := pressed(t, "fixture: t\ncell: {model: 72x174x201}\npack: {cells: 4}\nnuts: {kind: prevailing}\nclamp: {set_charge: 0.3, storage_charge: 0.4}\nelectrical: {plan: turn}\n")
	text := stepTitled(t, j, "Close the clamp").Text
	for _, want := range []string{"snug anew", "new locking nuts", "30 %", "40 %"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
}

func TestMassNamesOnlyWhatIsWeighed(t *testing.T) {
	j := mustWire(t, "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: 4}\nnuts: {kind: prevailing}\n")
	for _, fact := range tell.Parts(j.Job).Totals {
		if strings.Contains(fact.Note, "plain nut") {
			t.Errorf("%+v", fact)
		}
	}
}
