package compare

import (
	"clampwright/assembly/clamp"
	"clampwright/assembly/job"
	"clampwright/params"
	"clampwright/params/number"
)

// SettingRow is one figure of how the nuts are set, in words; empty where it does
// not apply.
type SettingRow struct {
	Name string `json:"name"`
	Old  string `json:"old"`
	New  string `json:"new"`
}

// settingRows sets the two settings side by side.
func settingRows(old, now *job.Job, s params.Style) []SettingRow {
	was, is := settingWords(old, s), settingWords(now, s)
	var out []SettingRow
	for k, name := range [4]string{"force on each rod", "turns past snug", "spring height", "torque"} {
		if was[k] != "" || is[k] != "" {
			out = append(out, SettingRow{name, was[k], is[k]})
		}
	}
	return out
}

// settingWords are a job's rod force, turns, spring height and torque.
func settingWords(j *job.Job, s params.Style) (out [4]string) {
	if j.Clamp == nil {
		return out
	}
	set := j.Clamp.Setting
	out[0] = s.Forces().Span(set.RodN.Least, set.RodN.Greatest)
	out[1] = spanWords(set.Turns, func(v float64) string { return number.Fixed(v, 2) })
	if set.SpringFree > 0 {
		out[2] = spanWords(set.SpringMM, s.Spring)
	}
	out[3] = s.Torques().Span(set.TorqueNMM.Least, set.TorqueNMM.Greatest)
	return out
}

// spanWords words a span, once where both ends read the same.
func spanWords(s clamp.Span, words func(float64) string) string {
	a, b := words(s.Least), words(s.Greatest)
	if a == b {
		return a
	}
	return a + " to " + b
}

// Reset says whether the nuts are to be set otherwise than before.
func (r *Report) Reset() bool {
	for _, s := range r.Setting {
		if s.Old != s.New {
			return true
		}
	}
	return false
}
