package export

import (
	"slices"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/assembly/stackup"
	"clampwright/export/tell"
)

// A row of the clamp's checks is the worst of its kind over the states: none has
// a worse verdict, and of those with the same none is further over its bound; and
// every other state that does not pass is named.
func TestClampRowsAreTheWorst(t *testing.T) {
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		rows := map[string]finding.Finding{}
		for _, c := range grouped(j, finding.GroupClamp) {
			rows[c.Key()] = c
		}
		for _, s := range j.Clamp.States {
			for _, f := range s.Findings {
				c, v := rows[f.Key()], f.Verdict
				if v.Rank() > c.Verdict.Rank() || c.Verdict == v && f.Over() > c.Over()+1e-6 {
					t.Errorf("%s: %s says %s, %.4g of %.4g in %v; in %q it is %s, %.4g of %.4g",
						name, c.ID, c.Verdict, c.Have, c.Need, c.Between, s.Name, v, f.Have, f.Need)
				}
				if v != finding.Pass && s.Name != c.Between[0] && !slices.Contains(c.Also, s.Name) {
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
		rows := grouped(j, finding.GroupTolerances)
		if len(rows) != 2 {
			t.Fatalf("%s: %d rows", name, len(rows))
		}
		for i, a := range tell.Tolerances(j.Job).Answers[:2] {
			o := j.Tolerances.Outcomes[i]
			want := finding.Pass
			if o.Worst.Least < 0 || !o.Holds && o.Good < 0.99 {
				want = finding.Warn
			}
			have, need := o.Worst.Least, o.Need
			if want == finding.Pass && !o.Holds { // by the share of fixtures, and told so
				have, need = 100*o.Good, 99
			}
			if rows[i].Verdict != want || string(a.Verdict) != string(want) || rows[i].Have != have || rows[i].Need != need || want == finding.Pass && have < need {
				t.Errorf("%s: %s: %s among the checks, %s on the sheet, want %s", name, o.ID, rows[i].Verdict, a.Verdict, want)
			}
		}
	}
	o := stackup.Outcome{Worst: stackup.Span{Least: -0.1}, Good: 0.999}
	if job.OutcomeVerdict(o) != finding.Warn {
		t.Error("a rod that may end inside its nut passes")
	}
}

// grouped are the findings of one group.
func grouped(j *Job, g finding.Group) []finding.Finding {
	return slices.DeleteFunc(slices.Clone(j.Findings), func(f finding.Finding) bool { return f.Group != g })
}
