package export

import (
	"clampwright/assembly"
	"clampwright/assembly/finding"
	"fmt"
	"strings"
	"testing"

	"clampwright/export/tell"
)

func TestShockIsToldAboveItsLimit(t *testing.T) {
	for cells, want := range map[string]bool{"8": false, "16": true} {
		j := pressed(t, "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: "+cells+"}\n")
		warned := false
		for _, c := range tell.Cautions(j.Fixture) {
			warned = warned || strings.Contains(c.Text, "a shock from it can kill")
		}
		if warned != want {
			t.Errorf("%s cells: caution told %v", cells, warned)
		}
		for _, p := range told(j) {
			for _, s := range p.Steps {
				if p.Title == "Link in series" && s.Title == "Fit the links" && !strings.Contains(s.Text, "The rest is as in step") && strings.Contains(cautioned(s), "arc") != want {
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

// Every joint has screw or nut and its washers; the screw's length is chosen where the
// depth of the thread is known, and else how it is found is said, in the parts list and
// in the verdict. Torque is told, or has a field.
func TestTerminalsHaveTheirFixings(t *testing.T) {
	for _, c := range []struct{ terminals, hold, stock, ask, torque string }{
		{"stud: 0", "terminal-screw-for-", "M6 for 5.2 mm as long as what it holds", "the terminals' thread depth", "the terminals' torque that you wrote down"},
		{"depth: 8 mm, torque: 5 N.m", "terminal-screw-12", "M6 x 12", "", "Tighten to 5 N\u00b7m"},
		{"stud: 20 mm", "terminal-nut", "M6", "the terminals' torque", "the terminals' torque that you wrote down"},
	} {
		j := pressed(t, "fixture: t\ncell: {model: 72x174x201, compression: none, terminals: {"+c.terminals+"}}\npack: {cells: 4}\n")
		pieces, stock := map[string]int{}, ""
		for _, l := range j.Assembly.Bill() {
			for _, id := range []string{c.hold, "terminal-washer", "terminal-lock-washer"} {
				if strings.HasPrefix(l.Part.ID, id) {
					pieces[id] += l.Pieces
					stock += strings.TrimSpace(l.Part.Stock+" "+l.Rule) + "; "
				}
			}
		}
		if pieces[c.hold] < 6 || pieces["terminal-washer"] < 8 || pieces["terminal-lock-washer"] < 8 || !strings.Contains(stock, c.stock) {
			t.Errorf("%s: %v of %s", c.terminals, pieces, stock)
		}
		if said := tell.Sentence(j.Job); !strings.Contains(said, c.ask) || strings.Contains(said, "Find before you fit links") == (c.ask == "") {
			t.Errorf("%s: %s", c.terminals, said)
		}
		told := false
		for _, s := range allSteps(j) {
			told = told || strings.Contains(s.Text, c.torque)
		}
		if !told {
			t.Errorf("%s: no torque %q", c.terminals, c.torque)
		}
	}
}

// A thread too shallow for any usual screw fails, where a lead's ring lies alone too, and so
// does a stud too short for bars, washers and nut in any state. By hand, for the stud: two
// bars of 2 mm, a washer of 1.6 (ISO 7089), a lock washer of 1.6 (DIN 127), a nut of 5.2
// (ISO 4032): 12.4 mm.
func TestJointsFail(t *testing.T) {
	for _, c := range []struct {
		terminals string
		want      finding.Verdict
	}{
		{"stud: 0", finding.Pass}, {"depth: 4.5 mm", finding.Pass}, {"depth: 4.4 mm", finding.Fail}, {"depth: 3 mm", finding.Fail},
		{"stud: 12.4 mm", finding.Pass}, {"stud: 12.3 mm", finding.Fail},
	} {
		j := mustWire(t, "fixture: t\ncell: {model: 72x174x201, compression: none, terminals: {"+c.terminals+"}}\npack: {cells: 4}\nelectrical: {link_thickness: 2, plan: cross}\n")
		if f := checkOf(t, j, "terminal-joint"); f.Verdict != c.want {
			t.Errorf("%s: %+v", c.terminals, f)
		}
	}
}

// Nuts that lock by their drag are new where the clamp is set a second time.
func TestNewLockingNutsAreListed(t *testing.T) {
	for _, c := range []struct {
		plan, nuts string
		want       int
	}{{"turn", "prevailing", 4}, {"cross", "prevailing", 0}, {"turn", "plain", 0}} {
		j := mustWire(t, "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: 4}\nrods: {level_count: 2}\nnuts: {kind: "+c.nuts+"}\nelectrical: {plan: "+c.plan+"}\n")
		nut := j.Assembly.Of(assembly.RoleNut)[0].Part
		for _, l := range j.Assembly.PartsList() {
			if l.Part == nut && (l.Loose != c.want || l.Pieces != 8+c.want) {
				t.Errorf("%s %s: %d nuts, %d of them loose", c.plan, c.nuts, l.Pieces, l.Loose)
			}
		}
	}
}

func TestClampClosedAgainSaysHow(t *testing.T) {
	j := pressed(t, "fixture: t\ncell: {model: 72x174x201}\npack: {cells: 4}\nnuts: {kind: prevailing}\nclamp: {set_charge: 0.3, storage_charge: 0.4}\nelectrical: {plan: turn}\n")
	text := stepTitled(t, j, "Close the clamp").Text
	for _, want := range []string{"snug again", "new locking nuts", "30 %", "40 %"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
}
