package job

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"

	"clampwright/assembly/clamp"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/number"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// wrong turns the errors of a stage, all that are joined, into diagnostics: where the
// parameter stands that is most likely at fault, its value and the limit in the user's
// unit, and a way out.
func wrong(f *params.Fixture, err error) error {
	if err == nil {
		return nil
	}
	var list diag.List
	for _, e := range apart(err) {
		if told, ok := errors.AsType[diag.List](e); ok {
			list.Add(told...)
			continue
		}
		d, path := diagnosis(f, e)
		d.Range = f.Place(path)
		d.Summary = path + ": " + d.Summary
		list.Add(d)
	}
	list.Sort()
	return f.AsTyped(list)
}

// apart are the errors that one error joins, as deep as they are joined.
func apart(err error) []error {
	for e := err; e != nil; e = errors.Unwrap(e) {
		if many, ok := e.(interface{ Unwrap() []error }); ok {
			var out []error
			for _, e := range many.Unwrap() {
				out = append(out, apart(e)...)
			}
			return out
		}
	}
	return []error{err}
}

// diagnosis is what an error says, and the path of the parameter at fault.
func diagnosis(f *params.Fixture, err error) (diag.Diagnostic, string) {
	if e, ok := errors.AsType[*parts.Error](err); ok {
		s := source(partSources, e.Part)
		d := diag.Diagnostic{Summary: e.What + ": " + plain(e.Err), Suggestion: s.way}
		size, isSize := errors.AsType[*geom.SizeError](err)
		hole, isHole := errors.AsType[*geom.HoleError](err)
		switch {
		case isSize:
			d.Summary, d.Found, d.Expected = fmt.Sprintf("the %s has no room for its %s", s.name, size.What), f.Style.Exact(size.Got), bounds(f.Style, size.Min, size.Max)
			if size.Got > size.Max {
				d.Summary = fmt.Sprintf("the %s has too much %s", s.name, size.What)
			}
			if size.Constraint != "" {
				d.Summary += ": " + size.Constraint
			}
		case isHole:
			if o := source(openingSources, e.What); o.path != "" {
				s.path, d.Suggestion = o.path, o.way
			}
			d.Summary = fmt.Sprintf("%s of the %s does not clear the %s", e.What, s.name, hole.Where)
			d.Found, d.Expected = f.Style.Exact(hole.HaveMM)+" from the "+hole.MeasuredFrom, bounds(f.Style, hole.NeedMM, math.Inf(1))
			if hole.HaveMM < 0 {
				d.Found = f.Style.Exact(-hole.HaveMM) + " beyond the " + hole.MeasuredFrom
			}
		}
		return d, f.Key(s.path, e.What)
	}
	if e, ok := errors.AsType[*clamp.InputError](err); ok {
		s := source(clampSources, indices.ReplaceAllString(e.Field, ""))
		d := diag.Diagnostic{Summary: e.Reason, Suggestion: s.way}
		switch {
		case e.Lo == e.Hi:
		case strings.HasSuffix(e.Field, "_mm"):
			d.Found, d.Expected = f.Style.Exact(e.Value), bounds(f.Style, e.Lo, e.Hi)
		default: // of the whole
			d.Found, d.Expected = number.Trim(e.Value, 1)+" %", fmt.Sprintf("%g to %g %%", e.Lo, e.Hi)
		}
		return d, s.path
	}
	if e, ok := errors.AsType[*clamp.SolveError](err); ok {
		s := source(clampSources, e.Field)
		return diag.Diagnostic{Summary: e.Detail, Found: "the state " + e.State, Suggestion: s.way}, s.path
	}
	return diag.Diagnostic{Summary: plain(err)}, "fixture"
}

// plain is an error's innermost text.
func plain(err error) string {
	for errors.Unwrap(err) != nil {
		err = errors.Unwrap(err)
	}
	return err.Error()
}

// bounds are the limits of a length in the user's unit.
func bounds(s params.Style, lo, hi float64) string {
	switch {
	case math.IsInf(hi, 1):
		return s.Exact(lo) + " or more"
	case math.IsInf(lo, -1):
		return s.Exact(hi) + " or less"
	}
	return s.Exact(lo) + " to " + s.Exact(hi)
}

// cause is the parameter that a stage's word comes from, and a way out.
type cause struct{ word, path, name, way string }

// source is the cause with the longest word that a text begins with.
func source(all []cause, text string) (best cause) {
	for _, c := range all {
		if strings.HasPrefix(text, c.word) && len(c.word) >= len(best.word) {
			best = c
		}
	}
	return best
}

// partSources are the causes by part.
var partSources = []cause{
	{"", "fixture", "part", ""},
	{"cell", "cell", "cell", "see the data sheet"}, {"terminal", "cell.terminals", "terminal", "see the data sheet"},
	{"end-plate", "plates", "end plate", "a larger plate, or holes and slots further in"},
	{"plate-sheets", "plates.laminate", "plate", "thinner screws, or a larger plate"},
	{"stiffener", "stiffeners", "angle", "a wider angle, another gauge, or 'stiffeners: none'"},
	{"rod", "rods", "rod", "another thread or rod length"}, {"nut", "nuts", "nut", "see tables"}, {"washer", "washers", "washer", "see tables"},
	{"spring", "springs", "spring", "another spring, or 'springs: none'"}, {"sleeve", "sleeves", "sleeve", "a thinner wall, or 'sleeves: none'"},
	{"separator", "separators", "separator", "another pattern or thickness, or 'separators: none'"}, {"liner", "liners", "liner", "another pattern or thickness, or 'liners: none'"},
	{"corner-guard", "prints.corner_guards", "corner guard", "more rods.clearance, or 'corner_guards: false'"},
	{"end-cap", "prints.end_caps", "end cap", "'end_caps: false'"}, {"rod-cap", "prints.rod_caps", "rod cap", "'rod_caps: false'"}, {"foot", "prints.feet", "foot", "'feet: false'"},
	{"plate-guide", "prints.drill_guides", "drill guide", "'drill_guides: false'"}, {"angle-guide", "prints.drill_guides", "drill guide", "'drill_guides: false'"}, {"spring-gauge", "prints.gauges", "spring gauge", "'gauges: false'"}, {"bulge-feeler", "prints.gauges", "bulge feeler", "'gauges: false'"},
	{"link", "electrical", "link bar", "a narrower or thinner link, or another plan"},
}

// openingSources are the causes by the openings of the plates.
var openingSources = []cause{
	{"slot", "plates.tie_slots", "", "a larger plate, or 'tie_slots: false'"},
	{"mounting hole", "plates.feet", "", "a larger plate, a smaller hole or another inset, or no 'feet'"},
}

// indices are the places of lists in the names of the mechanics' inputs.
var indices = regexp.MustCompile(`\[[0-9]+\]`)

// clampSources are the causes by the inputs of the mechanics, without indices.
var clampSources = []cause{
	{"", "fixture", "", ""},
	{"rows", "pack.cells", "", "see the cell's sizes and curves"}, {"rows.squeeze", "clamp.squeeze", "", "fewer or smoother points"}, {"rows.growth", "clamp.growth", "", "fewer or smoother points"},
	{"rows.layers", "separators", "", "see the thickness and the curve of separators and liners"}, {"rows.face", "plates", "", "a plate that covers the cells"},
	{"plate", "plates.thickness", "", "another thickness or material"}, {"stiffeners", "stiffeners", "", "another angle"},
	{"rods", "rods", "", "a thicker thread, or more rods"}, {"rods.x", "rods.columns", "", "columns on both sides of the cells"}, {"rods.y", "rods.levels", "", "levels on both sides of the middle of the cells"},
	{"window", "cell.force", "", "see the data sheet"}, {"friction", "clamp.friction_low", "", ""}, {"climate", "clamp.hot", "", ""}, {"band", "clamp.stiffness_low", "", ""},
	{"rods.spring", "springs", "", "a stronger spring, more in parallel, or more rods"},
}
