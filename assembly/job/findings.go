package job

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/params"
)

// findings are those of every rule in the order they are reported: the assembly's,
// the clamp's, the tolerances', the wiring's.
func (j *Job) findings() []finding.Finding {
	return slices.Concat(j.Findings, j.clampFindings(), j.toleranceFindings(), j.wiringFindings())
}

func (j *Job) clampFindings() []finding.Finding {
	if j.Clamp == nil {
		return nil
	}
	return append(clampFindings(j.Clamp.States), certainty(j.Clamp, j.Fixture.Spring != nil)...)
}

// named are findings as they are reported: what is judged is named only where one
// rule has several.
func named(found []finding.Finding) []finding.Finding {
	times := map[finding.ID]int{}
	for _, f := range found {
		times[f.ID]++
	}
	for i := range found {
		if times[found[i].ID] == 1 {
			found[i].Of = ""
		}
	}
	return found
}

// clampFindings are the clamp's: of each kind that of the state with the worst
// verdict and, of these, nearest to its limit or furthest over it, so that eight
// states make one row and not eight.
func clampFindings(states []clamp.State) []finding.Finding {
	var out []finding.Finding
	at := map[string]int{}
	missed := map[string][]string{} // names of states that do not pass
	for _, s := range states {
		for _, f := range s.Findings {
			key := f.Key()
			if f.Verdict != finding.Pass {
				missed[key] = append(missed[key], s.Name)
			}
			k, known := at[key]
			switch {
			case !known:
				at[key] = len(out)
				out = append(out, f)
			case f.Verdict.Rank() > out[k].Verdict.Rank(), f.Verdict == out[k].Verdict && f.Over() > out[k].Over()+sameOver:
				out[k] = f
			}
		}
	}
	for i := range out {
		f := &out[i]
		f.Also = slices.DeleteFunc(missed[f.Key()], func(s string) bool { return s == f.Between[0] })
	}
	return out
}

// certainty compares the verdict with those over the band of what is not known of
// the cells; none when no band was asked for, or when it fails already.
func certainty(r *clamp.Result, sprung bool) []finding.Finding {
	b := r.Band
	if len(b.Cases) == 0 || b.Cases[0].Verdict == finding.Fail {
		return nil
	}
	c := finding.Finding{ID: clamp.Certainty, Group: finding.GroupClamp, Verdict: finding.Pass, Sense: finding.AtLeast, Need: float64(len(b.Cases)), Unit: "cases", Why: b.Sentence}
	for _, k := range b.Cases {
		if k.Verdict.Rank() <= b.Cases[0].Verdict.Rank() {
			c.Have++
		}
	}
	c.Between = []string{"soft and stiff cells", "little and much growth"}
	if c.Have < c.Need {
		c.Verdict = finding.Warn
		c.Hint = "springs under the nuts keep the force whatever the cells are like; with locked nuts no measurement of the stack tells enough"
		if sprung {
			c.Hint = "measure the stack as the build sheet says, give the lengths under clamp.bench and make the sheet anew before the first charge; until then go by the springs"
		}
	}
	return []finding.Finding{c}
}

// sameOver keeps rounding from choosing among states that are alike.
const sameOver = 1e-7

// clampError names the parameter behind an error of the mechanics.
func clampError(f *params.Fixture, err error) error {
	var in *clamp.InputError
	field := ""
	if errors.As(err, &in) {
		field = in.Field
	}
	var solve *clamp.SolveError
	if errors.As(err, &solve) {
		field = solve.Field
	}
	path := clampParam(field)
	if path == "" {
		return err
	}
	if o := f.Origin(path); o.Range.Line > 0 {
		return fmt.Errorf("%s: parameter %s: %w", o.Range, path, err)
	}
	return fmt.Errorf("parameter %s: %w", path, err)
}

// clampParams maps the inputs of the mechanics to the parameters they come
// from, by the longest prefix.
var clampParams = []struct{ field, param string }{
	{"rows[0].squeeze", "clamp.squeeze"}, {"rows[0].growth", "clamp.growth"}, {"rows[0].layers", "separators.thickness"},
	{"rows", "pack.cells"}, {"plate.e", "plates.material"}, {"plate", "plates.thickness"}, {"stiffeners", "stiffeners.angle"},
	{"rods", "rods.levels"}, {"window", "cell.force"}, {"friction", "clamp.friction_low"}, {"climate", "clamp.hot"},
	{"bench.tight_mm", "clamp.bench.length_after"}, {"bench.snug_mm", "clamp.bench.snug_length"}, {"bench", "clamp.bench"}, {"band", "clamp.stiffness_low"}, {"spring", "springs.series"},
}

func clampParam(field string) string {
	best, length := "", 0
	for _, m := range clampParams {
		if strings.HasPrefix(field, m.field) && len(m.field) > length {
			best, length = m.param, len(m.field)
		}
	}
	return best
}
