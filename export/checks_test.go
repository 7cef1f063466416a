package export

import (
	"slices"
	"testing"

	"clampwright/assembly/clamp"
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
