package job

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"clampwright/assembly/assure"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/inputs"
	"clampwright/params"
)

// lockedFile is two cells between locked nuts, for which a data sheet gives a force and its limit.
const lockedFile = "fixture: locked\ncell: {model: 72x174x201, force: 300 kgf, force_tolerance: 90 kgf, force_limit: 700 kgf}\npack: {cells: 2}\n" +
	"clamp: {hot: 35 C, cold: 12 C}\nplates: {material: birch plywood}\nstiffeners: {chamfer: 3 mm}\nrods: {thread: M8}\nnuts: {kind: jam}\nsprings: none\nseparators: {material: fr4, thickness: 0.5}\n"

// lockedTwin is what is read in a year of the clamp of lockedFile, drawn with cells that grow
// so many sigmas more than the middle of the ranges, by the errors of the instruments. Nuts are
// turned where the first readings say so.
func lockedTwin(t *testing.T, grow float64) string {
	t.Helper()
	f := locked(t, "")
	reduced, err := clamp.Reduce(inputs.Clamp(f))
	if err != nil {
		t.Fatal(err)
	}
	a := inputs.Assurance(f, reduced)
	c, _ := inputs.Estimate(f, &a)
	z := make([]float64, c.Latents()+3)
	z[assure.OfGrowth[0]], z[assure.OfAgeing[0]] = grow, grow
	z = assure.Seated(z)
	l := c.Life(z, 0)
	r := rand.New(rand.NewPCG(3, 4))
	out := "readings:\n"
	read := func(what, where, when, date, unit string, value, error float64) {
		out += fmt.Sprintf("  - {what: %s, where: %s, when: %s, date: %s, value: %.2f %s, charge: %g}\n", what, where, when, date,
			value+error/assure.EndSigmas*r.NormFloat64(), unit, map[bool]float64{true: 1, false: 0.3}[when == "full"])
	}
	bow := func(when, date string, mm float64) {
		read("bow", "front", when, date, "mm", mm+0.2, 0.02)
		read("bow", "back", when, date, "mm", mm-0.1, 0.02)
	}
	at := func(years, charge float64) float64 { return l.At(years, charge, a.AssemblyC).BowMM }
	snug := l.Tightening(l.Snug())
	l.SetAs(assure.Set{Method: assure.Torque, TargetN: a.TargetN}, z)
	set := l.At(0, a.SetCharge, a.AssemblyC)
	for _, rod := range f.TieNames() {
		read("stack", rod, "snug", "2026-01-10", "mm", c.LengthMM-snug.ClosedMM, 0.1)
		read("stack", rod, "set", "2026-01-10", "mm", c.LengthMM-set.ClosedMM, 0.1)
		read("torque", rod, "set", "2026-01-10", "N.m", 0.212*set.ForceN/4*c.DiameterMM/1000, 0.1)
	}
	bow("snug", "2026-01-10", snug.BowMM)
	bow("set", "2026-01-10", set.BowMM)
	j, err := Read(locked(t, out))
	if err != nil {
		t.Fatal(err)
	}
	if answer := j.Estimate.Answer(); len(answer.Turns) == 4 {
		turns := answer.Turns[0].Turns
		l.SetAs(assure.Set{Method: assure.Turns, TurnMM: turns * c.PitchMM}, z)
		out += fmt.Sprintf("  - {what: turns, when: reset, date: 2026-01-11, value: %.3f, charge: 0.3}\n", turns)
		bow("reset", "2026-01-11", at(0, 0.3))
	}
	bow("full", "2026-01-12", at(0, 1))
	bow("visit", "2026-07-10", at(0.5, 0.3))
	bow("full", "2027-01-08", at(1, 1))
	bow("visit", "2027-01-10", at(1, 0.3))
	return out
}

// locked is lockedFile with readings.
func locked(t *testing.T, readings string) *params.Fixture {
	t.Helper()
	f, list := params.Load("pack.yaml", []byte(lockedFile+readings))
	if list.HasErrors() {
		t.Fatal(list)
	}
	return f
}

// Locked nuts fail until their clamp is read. After a year of readings they pass where the
// cells grow little, read once a year and set again when outside, and still fail where they
// grow much.
func TestLockedNutsRead(t *testing.T) {
	for _, c := range []struct {
		name, readings string
		want           finding.Verdict
	}{{"nothing read", "", finding.Fail}, {"cells that grow little", lockedTwin(t, -1), finding.Pass}, {"cells that grow much", lockedTwin(t, 1), finding.Fail}} {
		j, err := Compute(context.Background(), locked(t, c.readings), func(string) {}, WithAnswers(0))
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range j.Findings {
			if x.Verdict != finding.Pass && strings.HasPrefix(string(x.ID), "clamp-") {
				t.Logf("%s: %s %s %.1f, %.1f wanted", c.name, x.ID, x.Verdict, x.Have, x.Need)
			}
		}
		if _, pieces, _ := SpringsPrice(j); c.want == finding.Pass && pieces != 4 { // beside the price of service
			t.Errorf("%s: %d springs instead", c.name, pieces)
		}
		if j.Verdict() != c.want || (c.readings != "") != j.Assurance.Serve {
			t.Errorf("%s: %s, want %s; %+v", c.name, j.Verdict(), c.want, *j.Assurance)
		}
	}
}
