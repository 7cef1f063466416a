// Package finding holds the one form in which the whole program judges: what was
// found, what is needed and which way round, where, why it matters, which
// parameters set it and what to do. Rules return findings, searches compare them,
// and words are made of them in one place.
package finding

import (
	"cmp"
	"math"
	"strings"

	"clampwright/parts/geom"
)

// ID names a rule; it is stable: scripts read it in the report.
type ID string

// Verdict is the outcome of a finding, or of many.
type Verdict string

// The verdicts, mildest first.
const (
	Pass Verdict = "pass"
	Warn Verdict = "warn"
	Fail Verdict = "fail"
)

// Rank orders verdicts: 0 passes, 2 fails.
func (v Verdict) Rank() int {
	switch v {
	case Fail:
		return 2
	case Warn:
		return 1
	}
	return 0
}

// Worse is the worse of two verdicts.
func (v Verdict) Worse(o Verdict) Verdict {
	if o.Rank() > v.Rank() {
		return o
	}
	return v
}

// Sense says on which side of what is needed the value found must lie.
type Sense string

// The senses. Within wants it between Need and Most, both included.
const (
	AtLeast Sense = "at_least"
	AtMost  Sense = "at_most"
	Within  Sense = "within"
)

// Group is the heading that a finding is reported under.
type Group string

// The groups, in the order they are reported.
const (
	GroupInterference Group = "interference"
	GroupClear        Group = "keep clear"
	GroupSeats        Group = "seats"
	GroupCover        Group = "cover"
	GroupCutting      Group = "cutting"
	GroupClamp        Group = "clamp"
	GroupTolerances   Group = "tolerances"
	GroupWiring       Group = "wiring"
)

// Finding is the result of one rule at its worst place.
type Finding struct {
	ID      ID      `json:"id"`
	Of      string  `json:"of,omitempty"` // what is judged, where one rule has several findings
	Group   Group   `json:"group"`
	Verdict Verdict `json:"verdict"`
	// Have is what was found and Need the limit that Sense speaks of, both in Unit;
	// Most is the upper limit with Within.
	Have  float64 `json:"measured"`
	Need  float64 `json:"required"`
	Most  float64 `json:"required_most,omitempty"`
	Sense Sense   `json:"sense"`
	Unit  string  `json:"unit"` // "mm", "MPa", "kPa", "pieces"; empty for a bare number
	// Bound says that Have is only a lower bound: things are so far apart that
	// their distance was not worked out.
	Bound   bool       `json:"-"`
	Between []string   `json:"between"` // what the value lies between: instances, parts, states
	At      *geom.Vec3 `json:"-"`       // where, mm; nil where it has no place
	Why     string     `json:"why"`     // why it matters, in a sentence
	// Remedy is the changes of the parameter file that clear it with all that fails,
	// tried on the whole fixture; nil when it passes, or when there are none. Hint says
	// what else to do: it changes no parameter.
	Remedy *Remedy `json:"-"`
	Hint   string  `json:"-"`
	// Also names the other places where the same rule does not pass, worst first;
	// Compared counts the places or pairs that were judged.
	Also     []string `json:"also,omitempty"`
	Compared int      `json:"-"`
	// Params are the paths of the parameters that set Have and Need.
	Params []string `json:"-"`
	// Way says how it was measured where there are several: the way in for a tool,
	// the side of a sheet.
	Way string `json:"-"`
}

// Remedy is changes of the parameter file that clear a finding and make none worse:
// those to make together, and that in words.
type Remedy struct {
	Text string
	Set  []Setting
}

// Setting is a parameter with its new value as it is to stand in the file; empty
// for one to leave out.
type Setting struct{ Path, Value string }

// Key tells findings of one rule apart.
func (f Finding) Key() string { return string(f.ID) + "/" + f.Of }

// Name is the rule in words, with what it judges: "washer flat, leg edge".
func (f Finding) Name() string {
	name := strings.ReplaceAll(strings.TrimPrefix(string(f.ID), string(f.Group)+"-"), "-", " ")
	if f.Of != "" {
		name += ", " + f.Of
	}
	return name
}

// Wanted is the limit in words, with figures written by figure: "at least 250 mm".
func (f Finding) Wanted(figure func(float64) string) string {
	switch f.Sense {
	case AtMost:
		return "at most " + figure(f.Need)
	case Within:
		return figure(f.Need) + " to " + figure(f.Most)
	}
	return "at least " + figure(f.Need)
}

// Margin is how far Have lies on the good side of its limit, in Unit; negative
// when the limit is missed.
func (f Finding) Margin() float64 {
	switch f.Sense {
	case AtMost:
		return f.Need - f.Have
	case Within:
		return math.Min(f.Have-f.Need, f.Most-f.Have)
	}
	return f.Have - f.Need
}

// leastLimit keeps Over finite where the limit is zero.
const leastLimit = 1e-9

// Over is by how much the limit is missed, relative to it; negative when it is
// kept: how much is left.
func (f Finding) Over() float64 {
	limit := f.Need
	if f.Sense == Within && f.Most-f.Have < f.Have-f.Need {
		limit = f.Most
	}
	return -f.Margin() / math.Max(math.Abs(limit), leastLimit)
}

// Compare orders findings from the worst: by verdict, then by margin.
func Compare(f, g Finding) int {
	return cmp.Or(cmp.Compare(g.Verdict.Rank(), f.Verdict.Rank()), cmp.Compare(f.Margin(), g.Margin()))
}

// Worst is the worst verdict of many findings; Pass for none.
func Worst(all []Finding) Verdict {
	v := Pass
	for _, f := range all {
		v = v.Worse(f.Verdict)
	}
	return v
}

// Standing is the verdict of each key before something was changed.
type Standing map[string]Verdict

// StandingOf is the worst verdict of each key.
func StandingOf(found []Finding) Standing {
	s := Standing{}
	for _, f := range found {
		s[f.Key()] = f.Verdict.Worse(s[f.Key()])
	}
	return s
}

// Worsened says whether a finding is worse than it stood: what was not there before may
// warn.
func (s Standing) Worsened(f Finding) bool {
	was, known := s[f.Key()]
	return f.Verdict.Rank() > was.Rank() && (known || f.Verdict == Fail)
}

// JudgeLeast judges a value that must reach fail and should reach warn, each less
// slack. The limit reported is the first one missed, or the greater. NaN fails.
func JudgeLeast(have, fail, warn, slack float64) Finding {
	f := Finding{Verdict: Pass, Have: have, Need: math.Max(fail, warn), Sense: AtLeast}
	switch {
	case !(have >= fail-slack):
		f.Verdict, f.Need = Fail, fail
	case !(have >= warn-slack):
		f.Verdict, f.Need = Warn, warn
	}
	return f
}

// JudgeMost judges a value that must not exceed fail and should not exceed warn,
// each with slack. The limit reported is the first one exceeded, or the lesser.
// NaN fails.
func JudgeMost(have, fail, warn, slack float64) Finding {
	f := Finding{Verdict: Pass, Have: have, Need: math.Min(fail, warn), Sense: AtMost}
	switch {
	case !(have <= fail+slack):
		f.Verdict, f.Need = Fail, fail
	case !(have <= warn+slack):
		f.Verdict, f.Need = Warn, warn
	}
	return f
}
