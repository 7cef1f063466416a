package compare

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
)

// Report is a whole comparison.
type Report struct {
	Old    Side       `json:"old"`
	New    Side       `json:"new"`
	Same   bool       `json:"same"` // every part is kept and nothing is spare
	Rows   []Row      `json:"parts"`
	Reuse  *Reuse     `json:"reuse,omitempty"`  // changes of the new file that keep more, nothing worse; nil for none
	Warned *Reuse     `json:"warned,omitempty"` // such that keep more still, and something only warns
	Checks []CheckRow `json:"checks"`
	Clamp  []StateRow `json:"clamp"`
	// Setting is how the nuts are set, to be done anew on kept parts too.
	Setting []SettingRow `json:"setting"`

	plans []overlay
	style params.Style
}

// Length words a length in the new file's unit.
func (r *Report) Length(mm float64) string { return exact(r.style, mm) }

// Figures word a state's force and pressures in the new file's units.
func (r *Report) Figures(f StateFigure) []string {
	if f.Verdict == "" {
		return []string{"", "", ""}
	}
	force, pressure := r.style.Forces(), r.style.Pressures()
	return []string{force.Text(f.ForceN.V), pressure.Text(f.MeanKPa.V), pressure.Text(f.MiddleKPa.V)}
}

// Side is one of the two fixtures.
type Side struct {
	Fixture     string          `json:"fixture"`
	InputSHA256 string          `json:"input_sha256"`
	Verdict     finding.Verdict `json:"verdict"`
	Sentence    string          `json:"sentence"`
	PackMassG   number.Value    `json:"pack_mass_g"`
}

// CheckRow is one check in both fixtures; a verdict is empty where it does not
// apply. Measured is the worst place's.
type CheckRow struct {
	ID   string      `json:"id"`
	Name string      `json:"name"` // the id in words
	Unit string      `json:"unit"`
	Old  CheckFigure `json:"old"`
	New  CheckFigure `json:"new"`
}

// CheckFigure is a check's outcome in one fixture.
type CheckFigure struct {
	Verdict  finding.Verdict `json:"verdict,omitempty"`
	Measured number.Value    `json:"measured"`
	Required number.Value    `json:"required"`
}

// StateRow is one state of the clamp in both fixtures: force, mean pressure and
// pressure in the middle of the face.
type StateRow struct {
	Name string      `json:"name"`
	Old  StateFigure `json:"old"`
	New  StateFigure `json:"new"`
}

// StateFigure is a state in one fixture.
type StateFigure struct {
	Verdict   finding.Verdict `json:"verdict,omitempty"`
	ForceN    number.Value    `json:"force_n"`
	MeanKPa   number.Value    `json:"mean_kpa"`
	MiddleKPa number.Value    `json:"middle_kpa"`
}

// Compare compares two computed jobs part by part.
func Compare(old, now *job.Job) *Report { return report(old, now, Parts(old.Assembly, now.Assembly)) }

// Judged is Compare with the old parts judged in the new fixture as it would be built
// with them.
func Judged(old, now *job.Job) (*Report, error) {
	rows := Parts(old.Assembly, now.Assembly)
	reuse, warned, err := (&comparer{old.Fixture, now.Fixture}).reuse(old, now, rows)
	r := report(old, now, rows)
	r.Reuse, r.Warned = reuse, warned
	return r, err
}

func report(old, now *job.Job, rows []Row) *Report {
	r := &Report{Old: side(old), New: side(now), Rows: rows, Checks: checkRows(old, now), Clamp: stateRows(old, now)}
	r.style = now.Fixture.Style
	r.Setting = settingRows(old, now, r.style)
	if r.Old.Fixture == r.New.Fixture {
		r.Old.Fixture, r.New.Fixture = r.Old.Fixture+" (old)", r.New.Fixture+" (new)"
	}
	r.Same = true
	for _, w := range r.Rows {
		r.Same = r.Same && w.Action == Keep
	}
	r.plans = overlays(old.Assembly, now.Assembly, r.Rows)
	return r
}

func side(j *job.Job) Side {
	return Side{j.Fixture.Name, j.Fixture.InputSHA256, j.Verdict(), tell.Sentence(j), number.Mass.Of(j.Assembly.PackMassG())}
}

// checkRows pairs the checks by id, the worst of each.
func checkRows(old, now *job.Job) []CheckRow {
	var out []CheckRow
	at := map[finding.ID]int{}
	take := func(j *job.Job, of func(*CheckRow) *CheckFigure) {
		for _, c := range j.Findings {
			k, known := at[c.ID]
			if !known {
				k = len(out)
				at[c.ID] = k
				out = append(out, CheckRow{ID: string(c.ID), Name: finding.Finding{ID: c.ID, Group: c.Group}.Name(), Unit: c.Unit})
			}
			if f := of(&out[k]); f.Verdict == "" || rank(c.Verdict) > rank(f.Verdict) {
				*f = CheckFigure{c.Verdict, number.Length.Of(c.Have), number.Length.Of(c.Need)}
			}
		}
	}
	take(old, func(r *CheckRow) *CheckFigure { return &r.Old })
	take(now, func(r *CheckRow) *CheckFigure { return &r.New })
	return out
}

func rank(v finding.Verdict) int {
	return map[finding.Verdict]int{finding.Pass: 1, finding.Warn: 2, finding.Fail: 3}[v]
}

func stateRows(old, now *job.Job) []StateRow {
	var out []StateRow
	at := map[string]int{}
	take := func(j *job.Job, of func(*StateRow) *StateFigure) {
		if j.Clamp == nil {
			return
		}
		for _, s := range j.Clamp.States {
			k, known := at[s.Name]
			if !known {
				k = len(out)
				at[s.Name] = k
				out = append(out, StateRow{Name: s.Name})
			}
			*of(&out[k]) = StateFigure{finding.Verdict(s.Verdict), number.Force.Of(s.ForceN), number.Pressure.Of(s.Pressure.Mean), number.Pressure.Of(s.Pressure.Swell)}
		}
	}
	take(old, func(r *StateRow) *StateFigure { return &r.Old })
	take(now, func(r *StateRow) *StateFigure { return &r.New })
	return out
}

// JSON writes the report as indented JSON.
func (r *Report) JSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(r)
}

// order of the actions in text and page: work first, then what is kept.
var order = []Action{Make, Recut, Redrill, Shorten, Buy, Keep, Spare}

// sortedRows puts the rows in that order, otherwise as they are.
func (r *Report) sortedRows() []Row {
	out := slices.Clone(r.Rows)
	slices.SortStableFunc(out, func(a, b Row) int { return cmp.Compare(slices.Index(order, a.Action), slices.Index(order, b.Action)) })
	return out
}

// Line says in one line what changed.
func (r *Report) Line() string {
	if r.Same {
		return "every part is kept"
	}
	count := map[Action]int{}
	for _, w := range r.Rows {
		count[w.Action] += w.Quantity
	}
	var words []string
	for _, a := range order {
		if n := count[a]; n > 0 {
			words = append(words, fmt.Sprintf("%d to %s", n, a))
		}
	}
	s := strings.Join(words, ", ")
	return strings.Replace(s, " to spare", " spare", 1)
}

// Text writes the report for a terminal, so many letters wide.
func (r *Report) Text(out io.Writer, width int) error {
	var b strings.Builder
	say := func(text string) { b.WriteString(strings.Join(words.Wrap(width, text), "\n") + "\n") }
	table := func(rows [][]string, head ...string) {
		b.WriteString(strings.Join(words.Table(width, head, rows), "\n") + "\n\n")
	}
	var parts, clamp, setting, checks [][]string
	for _, row := range r.sortedRows() {
		parts = append(parts, []string{string(row.Action), fmt.Sprint(row.Quantity), row.Name, row.Why + row.proved()})
	}
	for _, s := range r.Clamp {
		was, is := r.Figures(s.Old), r.Figures(s.New)
		clamp = append(clamp, []string{s.Name, was[0], is[0], was[1], is[1], was[2], is[2]})
	}
	for _, s := range r.Setting {
		setting = append(setting, []string{s.Name, s.Old, s.New})
	}
	for _, c := range r.Changed() {
		checks = append(checks, []string{c.Name, r.Outcome(c.Old, c.Unit), r.Outcome(c.New, c.Unit)})
	}
	say(r.Line())
	say("before, " + r.Old.Fixture + ": " + r.Old.Sentence)
	say("now, " + r.New.Fixture + ": " + r.New.Sentence + "\n")
	table(parts, "", "", "part", "why")
	for _, offer := range r.Offers() {
		say(offer + "\n")
	}
	table(clamp, "clamp", "force", "now", "mean", "now", "middle", "now")
	if r.Reset() {
		say("Set the nuts anew, on kept parts too.")
	}
	table(setting, "setting", "before", "now")
	if len(checks) > 0 {
		table(checks, "check", "before", "now")
	}
	say(r.Unchanged())
	_, err := io.WriteString(out, b.String())
	return err
}

// Offers say how more of the old parts are kept.
func (r *Report) Offers() (out []string) {
	const changed = "with these changes of the new file: "
	if u := r.Reuse; u != nil {
		out = append(out, fmt.Sprintf("%d pieces are kept, not %d, and nothing is worse, %s%s", kept(u.Rows), kept(r.Rows), changed, u.Said))
	}
	if u := r.Warned; u != nil {
		out = append(out, fmt.Sprintf("%d pieces are kept and nothing fails, but %s then warns, %s%s", kept(u.Rows), words.Join(u.Warns), changed, u.Said))
	}
	return out
}

// Changed are the checks whose verdict or written figure changes.
func (r *Report) Changed() []CheckRow {
	var out []CheckRow
	for _, c := range r.Checks {
		if c.Old.Verdict != c.New.Verdict || r.Outcome(c.Old, c.Unit) != r.Outcome(c.New, c.Unit) {
			out = append(out, c)
		}
	}
	return out
}

// Unchanged counts the checks that are as before.
func (r *Report) Unchanged() string {
	switch n := len(r.Checks) - len(r.Changed()); n {
	case 0:
		return "no check is as before"
	case 1:
		return "1 check is as before"
	default:
		return fmt.Sprintf("%d checks are as before", n)
	}
}

// Outcome tells a verdict and its figure, lengths in the new file's unit.
func (r *Report) Outcome(f CheckFigure, unit string) string {
	switch {
	case f.Verdict == "":
		return "does not apply"
	case unit == "mm":
		return fmt.Sprintf("%s at %s", f.Verdict, r.style.Small(f.Measured.V))
	}
	return fmt.Sprintf("%s at %s", f.Verdict, r.style.Quantity(f.Measured.V, unit))
}
