package compare

import (
	"fmt"
	"io"
	"text/tabwriter"

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
	out[0] = spanWords(set.RodN, func(v float64) string { return number.Trim(v, 0) + " N" })
	out[1] = spanWords(set.Turns, func(v float64) string { return number.Fixed(v, 2) })
	if set.SpringFree > 0 {
		out[2] = spanWords(set.SpringMM, func(v float64) string { return lengthWords(s, v) })
	}
	out[3] = spanWords(set.TorqueNMM, func(v float64) string { return number.Trim(v/1000, 2) + " N·m" })
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

// settingText writes the setting for a terminal.
func (r *Report) settingText(out io.Writer) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "\nsetting\tbefore\tnow\n")
	for _, s := range r.Setting {
		fmt.Fprintf(w, "%s\t%s\t%s\n", s.Name, s.Old, s.New)
	}
	if r.Reset() {
		fmt.Fprintln(w, "set the nuts anew, on kept parts too")
	}
	return w.Flush()
}
