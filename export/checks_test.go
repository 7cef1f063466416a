package export

import (
	"slices"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/assembly/stackup"
)

// A row of the clamp's checks is the worst of its kind over the states: none has
// a worse verdict, and of those with the same none is further over its bound; and
// every other state that does not pass is named.
func TestClampRowsAreTheWorst(t *testing.T) {
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		rows := map[string]Check{}
		for _, c := range clampChecks(j.Clamp, j.Fixture.Spring != nil) {
			rows[c.ID] = c
		}
		for _, s := range j.Clamp.States {
			for _, f := range s.Findings {
				c := rows["clamp-"+slug(f.Name)]
				v := Verdict(f.Verdict)
				row := clamp.Finding{Have: c.Measured, Need: c.Required, AtLeast: f.AtLeast}
				if worse(c.Verdict, v) != c.Verdict || c.Verdict == v && f.Over() > row.Over()+1e-6 {
					t.Errorf("%s: %s says %s, %.4g of %.4g in %v; in %q it is %s, %.4g of %.4g",
						name, c.ID, c.Verdict, c.Measured, c.Required, c.Between, s.Name, v, f.Have, f.Need)
				}
				if v != Pass && s.Name != c.Between[0] && !slices.Contains(c.Also, s.Name) {
					t.Errorf("%s: %s does not name %q, which does not pass", name, c.ID, s.Name)
				}
			}
		}
	}
}

// What the tolerances leave is among the checks, and told there as on the sheet: it
// warns when something is lost at worst, or when more than one fixture in a hundred
// would miss what is wanted.
func TestTolerancesAmongTheChecks(t *testing.T) {
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		rows := j.toleranceChecks()
		if len(rows) != 2 {
			t.Fatalf("%s: %d rows", name, len(rows))
		}
		for i, a := range j.pageTolerances().Answers[:2] {
			o := j.Tolerances.Outcomes[i]
			want := Pass
			if o.Worst.Least < 0 || !o.Holds && o.Good < 0.99 {
				want = Warn
			}
			if rows[i].Verdict != want || string(a.Verdict) != string(want) || rows[i].Measured != o.Worst.Least {
				t.Errorf("%s: %s: %s among the checks, %s on the sheet, want %s", name, o.ID, rows[i].Verdict, a.Verdict, want)
			}
		}
	}
	o := stackup.Outcome{Worst: stackup.Span{Least: -0.1}, Good: 0.999}
	if outcomeVerdict(o) != Warn {
		t.Error("a rod that may end inside its nut passes")
	}
}
