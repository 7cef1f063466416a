// Package tell is the one model of what is said of a job, in words: report, page,
// lists and terminal take it from here.
package tell

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"clampwright/assembly/assure"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/assembly/work"
	"clampwright/export/steps"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
)

// Said is a finding in a few words with its figures.
func Said(s params.Style, f finding.Finding) string {
	if f.ID == clamp.Share {
		only := "only "
		if f.Verdict == finding.Pass {
			only = ""
		}
		return only + fmt.Sprintf("%s %% of %s stay within %s, over the assumed ranges%s (wanted at least %s %%)", number.Trim(f.Have, 0), f.Between[0], f.Between[1], strings.TrimPrefix(f.Unit, job.ShareUnit), number.Trim(f.Need, 0))
	}
	if f.ID == job.Planned {
		return strings.TrimSuffix(words.Lower(f.Why), ".")
	}
	figure := func(v float64) string {
		unit := f.Unit
		if v == 1 && len(unit) > len("kPa") { // a word: "faults"
			unit = strings.TrimSuffix(unit, "s")
		}
		return s.Quantity(v, unit)
	}
	between := things(f.Between)
	at := " between " + strings.Join(between, " and ")
	if len(f.Between) < 2 { // a state, or one part
		at = ""
		for _, one := range between {
			at = ", " + one + ","
		}
	}
	return fmt.Sprintf("%s%s is %s (wanted %s)", strings.Replace(f.Name(), " high", "", 1), at, figure(f.Have), f.Wanted(figure))
}

// ids are names of parts within a text, inRow those of cells in rows, link those of links.
var ids, inRow, link = regexp.MustCompile(`\b[a-z]+(-[a-z0-9]+)+\b`), regexp.MustCompile(`^cell-row-([0-9]+)-([0-9]+)`), regexp.MustCompile(`^link-[jk][0-9]+$`)

// drillSizes are what drills are sought for.
var drillSizes = strings.NewReplacer("rods.hole", "rods' holes", "rods.pilot", "pilot holes", "plates.feet.hole", "mounting holes")

// Plain has the names of parts within a text as they are spoken, for the terminal, which
// shows no picture that names them: "nut front left lower", "cell B3", "link J1".
func Plain(text string) string {
	return ids.ReplaceAllStringFunc(drillSizes.Replace(text), func(id string) string {
		id = inRow.ReplaceAllStringFunc(id, func(cell string) string {
			at := inRow.FindStringSubmatch(cell)
			row, _ := strconv.Atoi(at[1])
			return "cell-" + words.Row(row-1) + at[2]
		})
		if link.MatchString(id) {
			id = "link " + strings.ToUpper(id[len("link-"):])
		}
		return strings.ReplaceAll(id, "-", " ")
	})
}

// things are what a finding lies between, in words: a tool in use by what it is of.
func things(ids []string) (out []string) {
	for _, id := range ids {
		id = strings.TrimPrefix(id, "tool: ")
		tool, is := strings.CutPrefix(id, "tool-")
		what, of, through := strings.Cut(tool, "side-of-")
		switch k := strings.LastIndexByte(of, '-'); {
		case is && through && k > 0: // "screw-outside-of-end-plate-front-H5"
			what, way, _ := strings.Cut(what, "-")
			id = fmt.Sprintf("%s through %s of %s, %sside", what, of[k+1:], of[:k], way)
		case is:
			id = strings.Replace(tool, "-on-", " on ", 1)
		}
		out = append(out, id)
	}
	return out
}

// Advice is what the finding says to do.
func Advice(f finding.Finding) string {
	if f.Remedy == nil {
		return f.Hint
	}
	return f.Remedy.Text
}

// Origins are the parameters behind a finding with where each came from.
func Origins(j *job.Job, f finding.Finding) []string {
	var out []string
	for _, path := range f.Params {
		switch o := j.Fixture.Origin(path); {
		case o.Kind == params.FromFile && o.Range.Line > 0:
			out = append(out, path+" ("+o.Range.Place()+")")
		case o.Note != "":
			out = append(out, path+" ("+string(o.Kind)+": "+o.Note+")")
		default:
			out = append(out, path)
		}
	}
	return out
}

// effects are checks that fail because another one does: the chain stays open
// where a washer rides on a fillet. They are not named first.
var effects = map[finding.ID]bool{"gap": true}

// cause is the failure to read first: that the fixture fails its purpose, then the seat,
// grip or foul that others follow from before the mechanics, and those before a mere
// effect; the one furthest from what is wanted of those alike.
func cause(fails []finding.Finding) finding.Finding {
	rank := func(c finding.Finding) int {
		switch {
		case clamp.Purpose(c.ID):
			return -1
		case effects[c.ID]:
			return 3
		case c.Group == finding.GroupWiring:
			return 2
		case c.Group == finding.GroupClamp:
			return 1
		}
		return 0
	}
	short := func(c finding.Finding) float64 { return math.Abs(c.Margin()) }
	return slices.MinFunc(fails, func(a, b finding.Finding) int {
		if d := cmp.Compare(rank(a), rank(b)); d != 0 || rank(a) != 0 || a.Unit != b.Unit {
			return d
		}
		return cmp.Compare(short(b), short(a))
	})
}

// others ends "and 3 more checks fail", "and 1 more check fails"; empty for none.
func others(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return " and 1 more check fails"
	}
	return fmt.Sprintf(" and %d more checks fail", n)
}

// Sentence says the verdict in one sentence.
func Sentence(j *job.Job) string {
	by := map[finding.Verdict][]finding.Finding{}
	for _, f := range j.Findings {
		by[f.Verdict] = append(by[f.Verdict], f)
	}
	fails, warns, unknown := by[finding.Fail], by[finding.Warn], ""
	if all := j.Fixture.Cell.Unknown(); len(all) > 0 {
		unknown = " Find before you fit links: " + words.Join(all) + "."
	}
	unknown = share(j) + unknown
	switch {
	case len(fails) == 1:
		return "Do not build this yet: " + words.Lower(Said(j.Fixture.Style, fails[0])) + "."
	case len(fails) > 1:
		return "Do not build this yet: " + words.Lower(Said(j.Fixture.Style, cause(fails))) + "," + others(len(fails)-1) + "."
	case j.Assurance != nil && j.Assurance.Gate != nil && slices.ContainsFunc(warns, func(f finding.Finding) bool { return f.ID == clamp.Share }):
		return fmt.Sprintf("Fit to build up to storage charge. Charge further only if the plates came at least %s closer from snug to as set; %d point%s to read first.",
			j.Fixture.Style.Small(j.Assurance.Gate.LeastMM), len(warns), words.Plural(len(warns))) + unknown
	case len(warns) > 0:
		return fmt.Sprintf("Fit to build, with %d point%s to read first.", len(warns), words.Plural(len(warns))) + unknown
	}
	return "Fit to build: every check passes." + unknown
}

// share is the part of such fixtures that stay within their bands, as a sentence; empty
// where none was drawn.
func share(j *job.Job) string {
	s := j.Assurance
	if s == nil || s.Draws == 0 {
		return ""
	}
	return fmt.Sprintf(" %s %% of such fixtures stay within their bands for %s, over the assumed ranges%s.", number.Trim(100*s.Share, 0), number.Years(s.Years, 0), s.Narrowed())
}

// Pressing says what presses as tightened, in the shop's units, and what decides.
func Pressing(j *job.Job) string {
	r, force, pressure := j.Clamp, j.Fixture.Style.Forces(), j.Fixture.Style.Pressures()
	s := r.States[0]
	said := fmt.Sprintf("%s: %s presses the face with %s on average and %s in its middle.", words.Upper(s.Name), force.Text(s.ForceN), pressure.Text(s.Pressure.Mean), pressure.Text(s.Pressure.Swell))
	if r.Limiting != "" {
		said += fmt.Sprintf(" Verdict %s by %s.", r.Verdict, r.Limiting)
	}
	return said
}

// ClampLines is the clamp in a few lines for a terminal.
func ClampLines(j *job.Job) []string {
	r := j.Clamp
	lines := []string{Pressing(j)}
	lines = append(lines, words.NonEmpty(j.Assurance.Sentence(), Rests(j))...)
	lines = append(lines, Readings(j)...)
	for _, w := range r.Warnings {
		lines = append(lines, w.Text)
	}
	lines = append(lines, settingSentences(j)...)
	for i, l := range lines {
		lines[i] = j.Fixture.Style.Say(l)
	}
	return lines
}

// settingSentences say how the force is set, and what turns are good for.
func settingSentences(j *job.Job) []string {
	s := &j.Clamp.Setting
	if j.Assurance.Method == assure.Torque && !s.SnugIsEnough() {
		return []string{fmt.Sprintf("By torque, threads and faces greased: %s N·m on every front nut, then each locked by a second. That gives %s N in a rod, in two of three within %s %%.",
			steps.Span(work.GreasedNMM(j.Fixture, s.RodN.Least)/1000, work.GreasedNMM(j.Fixture, s.RodN.Greatest)/1000, 2), steps.Span(s.RodN.Least, s.RodN.Greatest, 0), number.Trim(100*assure.TorqueError, 0))}
	}
	if s.Method != clamp.MethodTurns || s.SnugIsEnough() {
		return s.Sentences
	}
	return slices.Concat(s.Sentences, words.NonEmpty(j.Assurance.TurnsSentence()))
}

// Unplaced lists what found no stock.
func Unplaced(j *job.Job) string {
	var out []string
	for _, c := range j.Nest.Cuts {
		if c.Missing > 0 {
			out = append(out, fmt.Sprintf("%d of %s", c.Missing, c.Part.ID))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "No stock listed takes " + strings.Join(out, ", ") + "."
}
