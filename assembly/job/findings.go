package job

import (
	"fmt"
	"slices"

	"clampwright/assembly/assure"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/params/number"
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
	return slices.Concat(clampFindings(j.Clamp.States), j.setForce(), j.assurance())
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

// ShareUnit is what a share is of; behind it stands by what the ranges are narrowed.
const ShareUnit = "% of the assumed ranges"

// assurance judges the share of such fixtures that stay within the data sheet's bands,
// over the assumed ranges, made, set and looked after as the card says; none where cells
// are held and not pressed, or none was drawn. A share that a reading brings to what is
// wanted warns; any other that is too small fails.
func (j *Job) assurance() []finding.Finding {
	s := j.Assurance
	if s == nil || s.Draws == 0 {
		return nil
	}
	have, need, where := s.Share, assure.Pass, "their bands for "
	if have >= need && s.Least < assure.PassFree {
		have, need, where = s.Least, assure.PassFree, "their bands, where holding does not lessen growth, for "
	}
	bar, weigh := need, have == s.Share && s.Weighed >= assure.Pass
	if weigh || s.Gate != nil {
		bar = min(assure.Bar, have)
	}
	f := finding.JudgeLeast(100*have, 100*bar, 100*need, 0)
	f.ID, f.Group, f.Unit, f.Between = clamp.Share, finding.GroupClamp, ShareUnit+s.Narrowed(), []string{"fixtures set so", where + number.Years(s.Years, 0)}
	f.Why, f.Params = s.Sentence(), []string{"springs", "rods.levels", "cell.force"}
	switch {
	case f.Verdict == finding.Pass:
	case weigh:
		f.Hint = fmt.Sprintf("weigh one spring of every rod, enter what they carry, and set the nuts again where 'clampwright reading' says so: then %s %% stay", number.Trim(100*s.Weighed, 0))
	case s.Gate == nil && j.Fixture.NoSpringFits():
		f.Hint = fmt.Sprintf("no spring of the tables keeps the force here, and service does not mend it: read every year, and set again %s times on average, %s %% stay", number.Trim(s.Again, 1), number.Trim(100*s.Served, 0))
	case s.Gate != nil:
		f.Hint = fmt.Sprintf("a reading tells which of them stay within: charge above storage charge only if the plates came at least %s closer from snug to as set, which %s %% do", j.Fixture.Style.Small(s.Gate.LeastMM), number.Trim(100*s.Gate.Part, 0))
	}
	return []finding.Finding{f}
}

// setForce judges what the clamp was set to by its readings: outside the setting band it
// fails where that is sure, and warns where it may be, or where the last readings are in doubt.
func (j *Job) setForce() (out []finding.Finding) {
	if j.Estimate == nil {
		return nil
	}
	if n := float64(j.Estimate.Doubted()); n > 0 {
		f := finding.JudgeMost(n, n, 0, 0)
		f.ID, f.Group, f.Unit, f.Params = clamp.InDoubt, finding.GroupClamp, "readings", []string{"readings"}
		f.Why, f.Hint = "Until they are read again it is not known what presses on the cells.", "read again what 'clampwright reading' names, and enter it"
		out = append(out, f)
	}
	at, ok := j.Estimate.AsSet()
	if !ok {
		return out
	}
	all, _ := j.Estimate.Forces(at)
	band := j.reduced.Setting
	fails := band
	if !all.Outside(band, 1) {
		fails = assure.Band{Least: min(all.Value, band.Least), Most: max(all.Value, band.Most)}
	}
	f := finding.JudgeMost(all.Value, fails.Most, band.Most, 0)
	if all.Value < band.Least {
		f = finding.JudgeLeast(all.Value, fails.Least, band.Least, 0)
	}
	if f.Verdict == finding.Pass {
		return out
	}
	f.ID, f.Group, f.Unit, f.Between = clamp.SetForce, finding.GroupClamp, "N", []string{"all rods, by the readings"}
	f.Why, f.Hint = "Cells are pressed with what the nuts were set to, and all later forces go with it.", "do what 'clampwright reading' says, and enter the new reading"
	f.Params = []string{"readings"}
	return append(out, f)
}

// sameOver keeps rounding from choosing among states that are alike.
const sameOver = 1e-7
