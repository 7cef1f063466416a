package export

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"clampwright/assembly/check"
	"clampwright/assembly/clamp"
	"clampwright/export/number"
	"clampwright/params"
	"clampwright/parts/geom"
)

// Check is one line of the report: a finding of the assembly or of the clamp.
type Check struct {
	ID       string   `json:"id"`
	Of       string   `json:"of,omitempty"` // what it is of, where a check is made of several things
	Group    string   `json:"group"`
	Verdict  Verdict  `json:"verdict"`
	Measured float64  `json:"-"`
	Required float64  `json:"-"`
	Unit     string   `json:"unit"`
	Between  []string `json:"between"`
	Why      string   `json:"why"`
	Remedy   string   `json:"remedy"`
	Also     []string `json:"also,omitempty"`
	Causes   []string `json:"parameters,omitempty"`

	at *geom.Vec3
}

// Name is the check's id in words, with what it is of.
func (c Check) Name() string {
	name := strings.ReplaceAll(c.ID, "-", " ")
	if c.Of != "" {
		name += ", " + c.Of
	}
	return name
}

// Said is the check in a few words with its figures.
func (c Check) Said() string {
	return fmt.Sprintf("%s between %s is %s (wanted %s)", c.Name(), strings.Join(c.Between, " and "), c.figure(c.Measured), c.figure(c.Required))
}

func (c Check) figure(v float64) string {
	return strings.TrimSpace(number.Trim(v, 2) + " " + c.Unit)
}

// effects are checks that fail because another one does: the chain stays open
// where a washer rides on a fillet. They are not named first.
var effects = map[string]bool{"chain-closed": true}

// cause is the failure to read first: the seat, grip or foul that others follow
// from before the mechanics, and those before a mere effect; the one furthest
// from what is wanted of those alike.
func cause(fails []Check) Check {
	rank := func(c Check) int {
		switch {
		case effects[c.ID]:
			return 3
		case c.Group == "wiring":
			return 2
		case c.Group == "clamp":
			return 1
		}
		return 0
	}
	short := func(c Check) float64 { return math.Abs(c.Required - c.Measured) }
	return slices.MinFunc(fails, func(a, b Check) int {
		if d := cmp.Compare(rank(a), rank(b)); d != 0 || rank(a) > 0 || a.Unit != b.Unit {
			return d
		}
		return cmp.Compare(short(b), short(a))
	})
}

// failPlural ends "and 3 more checks fail", "and 1 more check fails".
func failPlural(n int) string {
	if n == 1 {
		return " fails"
	}
	return "s fail"
}

// Checks is every check of the job in report order: the assembly's, then the
// clamp's.
func (j *Job) Checks() []Check {
	var out []Check
	times := map[string]int{}
	for _, f := range j.Findings {
		times[f.ID]++
	}
	for _, f := range j.Findings {
		c := fromFinding(f)
		if times[f.ID] > 1 {
			c.Of = f.Kind
		}
		out = append(out, c)
	}
	if j.Clamp != nil {
		out = append(out, clampChecks(j.Clamp, j.Fixture.Spring != nil)...)
	}
	return append(append(out, j.toleranceChecks()...), j.wiringChecks()...)
}

func fromFinding(f check.Finding) Check {
	at := f.At
	c := Check{
		ID: f.ID, Group: string(f.Group), Verdict: Verdict(f.Verdict), Measured: f.Measured, Required: f.Required,
		Unit: f.Unit, Between: f.Between, Why: f.Why, Also: f.Also, at: &at,
	}
	if f.Remedy != nil {
		c.Remedy = f.Remedy.Text
	}
	for _, cause := range f.Causes {
		c.Causes = append(c.Causes, causeText(cause))
	}
	return c
}

func causeText(c check.Cause) string {
	o := c.Origin
	switch {
	case o.Kind == params.FromFile && o.Range.Line > 0:
		return c.Param + " (" + o.Range.String() + ")"
	case o.Note != "":
		return c.Param + " (" + string(o.Kind) + ": " + o.Note + ")"
	}
	return c.Param
}

// clampChecks are the clamp's findings: for each kind of finding the state with
// the worst verdict and of these the one nearest to its bound or furthest over it,
// so that eight states make one row and not eight.
func clampChecks(r *clamp.Result, sprung bool) []Check {
	var out []Check
	at, over := map[string]int{}, map[string]float64{}
	missed := map[string][]string{} // names of states that do not pass
	for _, s := range r.States {
		for _, f := range s.Findings {
			c := Check{
				ID: "clamp-" + slug(f.Name), Group: "clamp", Verdict: Verdict(f.Verdict), Measured: f.Have, Required: f.Need,
				Unit: f.Unit, Between: []string{s.Name}, Why: f.Why,
			}
			if c.Verdict != Pass {
				missed[f.Name] = append(missed[f.Name], s.Name)
			}
			k, known := at[f.Name]
			switch {
			case !known:
				at[f.Name], over[f.Name] = len(out), f.Over()
				out = append(out, c)
			case out[k].Verdict != c.Verdict && worse(out[k].Verdict, c.Verdict) == c.Verdict,
				out[k].Verdict == c.Verdict && f.Over() > over[f.Name]+sameOver:
				out[k], over[f.Name] = c, f.Over()
			}
		}
	}
	for name, k := range at {
		out[k].Also = slices.DeleteFunc(missed[name], func(s string) bool { return s == out[k].Between[0] })
	}
	for i := range out {
		if out[i].Verdict != Pass && r.Advice.Useful {
			out[i].Remedy = r.Advice.Sentence
		}
	}
	return append(out, certainty(r, sprung)...)
}

// certainty compares the verdict with those over the band of what is not known of
// the cells; none when no band was asked for.
func certainty(r *clamp.Result, sprung bool) []Check {
	b := r.Band
	if len(b.Cases) == 0 {
		return nil
	}
	c := Check{ID: "clamp-certainty", Group: "clamp", Verdict: Pass, Required: float64(len(b.Cases)), Unit: "cases", Why: b.Sentence}
	for _, k := range b.Cases {
		if worse(Verdict(b.Cases[0].Verdict), Verdict(k.Verdict)) == Verdict(b.Cases[0].Verdict) {
			c.Measured++
		}
	}
	c.Between = []string{"soft and stiff cells", "little and much growth"}
	if c.Measured < c.Required {
		c.Verdict = Warn
		c.Remedy = "fit springs (springs: {}), which keep the force whatever the cells are like; with locked nuts no measurement of the stack tells enough"
		if sprung {
			c.Remedy = "measure the stack as the build sheet says, give the lengths under clamp.bench and make the sheet anew before the first charge; until then go by the springs"
		}
	}
	return []Check{c}
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

// slug makes a stable id of a name.
func slug(s string) string {
	return strings.Trim(strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '-'
	}, s), "-")
}

func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}
