package params

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"

	"clampwright/params/catalog"
	"clampwright/params/diag"
	"clampwright/params/unit"
)

// resolver settles a File into a Fixture. Each step reads the file's block,
// falls back to the tables, then to a derivation, and notes which it was.
type resolver struct {
	in     *File
	f      *Fixture
	tables catalog.Tables
	diags  diag.List
	bare   bool // no notes of where values came from: for searches
}

// Load decodes and settles a parameter file. The fixture is nil when the list
// holds errors; warnings alone leave it usable.
func Load(name string, text []byte) (*Fixture, diag.List) {
	file, diags := Decode(name, text)
	if diags.HasErrors() {
		return nil, diags
	}
	f, more := Resolve(file, text)
	diags = append(diags, more...)
	diags.Sort()
	return f, diags
}

// Resolve settles a decoded file. text is hashed into the fixture's identity.
// Errors name the place in the file; the fixture is nil when there are any.
func Resolve(in *File, text []byte) (*Fixture, diag.List) {
	sum := sha256.Sum256(text)
	r := newResolver(in, mergeTables(in.Tables))
	r.f.InputSHA256 = hex.EncodeToString(sum[:])
	return r.settle()
}

func newResolver(in *File, tables catalog.Tables) *resolver {
	f := &Fixture{Name: in.Fixture.V, Tables: tables, origins: map[string]Origin{}}
	return &resolver{in: in, f: f, tables: tables}
}

// settle runs all steps.
func (r *resolver) settle() (*Fixture, diag.List) {
	in := r.in
	r.safeName("fixture", in.Fixture)
	steps := []func(){
		r.style, r.tolerances, r.cell, r.pack, r.inserts, r.thread, r.hardware, r.tools, r.clearances,
		r.plateMaterial, r.sleeve, r.columns, r.levels, r.clamp, r.springs, r.plateSize, r.stiffener,
		r.rodLength, r.stock, r.printer, r.electrical, r.prices,
	}
	for _, step := range steps {
		step()
		if r.diags.HasErrors() {
			// Later steps build on earlier ones; within a step all errors are
			// reported together.
			r.diags.Sort()
			return nil, r.diags
		}
	}
	r.relations()
	r.diags.Sort()
	if r.diags.HasErrors() {
		return nil, r.diags
	}
	return r.f, r.diags
}

// note records where the value at path came from.
func (r *resolver) note(path string, kind OriginKind, at diag.Range, how string) {
	if r.bare {
		return
	}
	r.f.origins[path] = Origin{Kind: kind, Range: at, Note: how}
}

// pick returns the given value, or def with a note of how def was derived.
func pick[T any](r *resolver, path string, g Given[T], def T, how string) T {
	kind, v := Derived, def
	if g.Set {
		kind, v, how = FromFile, g.V, ""
	}
	if r.bare {
		return v
	}
	r.f.origins[path] = Origin{Kind: kind, Range: g.At, Note: how, Text: r.text(v)}
	return v
}

// text writes a settled value for people.
func (r *resolver) text(v any) string {
	switch v := v.(type) {
	case unit.Length:
		return v.Short(unit.Style{Unit: r.f.Style.Unit, Decimals: 2, Denominator: r.f.Style.Denominator})
	case unit.Force:
		return fmt.Sprintf("%.0f N", float64(v))
	case unit.Mass:
		return fmt.Sprintf("%.0f g", float64(v))
	case unit.Temperature:
		return fmt.Sprintf("%g \u00b0C", float64(v))
	case float64:
		return fmt.Sprintf("%.4g", v)
	}
	return fmt.Sprint(v)
}

func (r *resolver) errorf(at diag.Range, summary, found, expected, suggestion string) {
	r.report(diag.Error, at, summary, found, expected, suggestion)
}

func (r *resolver) report(sev diag.Severity, at diag.Range, summary, found, expected, suggestion string) {
	if at.Line == 0 {
		at = r.in.Fixture.At
	}
	r.diags = append(r.diags, diag.Diagnostic{Severity: sev, Summary: summary, Found: found, Expected: expected, Suggestion: suggestion, Range: at})
}

// missingRow reports a name that no table row carries.
func (r *resolver) missingRow(table string, g wordV, names []string) {
	hint := "'clampwright list " + table + "' prints them"
	if near, ok := diag.Nearest(g.V, names); ok {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	r.errorf(g.At, fmt.Sprintf("no row %q in the %s table", g.V, table), fmt.Sprintf("%q", g.V), "a row of the "+table+" table", hint)
}

// safeName refuses names that can't stand on a document or in a file name.
func (r *resolver) safeName(what string, g wordV) {
	for _, c := range g.V {
		ok := c == ' ' || c == '-' || c == '_' || c == '.' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c > 127
		if !ok {
			r.errorf(g.At, "a name with "+fmt.Sprintf("%q", c), fmt.Sprintf("%q", g.V), what+": letters, digits, spaces, '-', '_' and '.'", "")
			return
		}
	}
}

// roundUp rounds a derived length up to a size that a shop measures: half a
// millimetre, or a thirty-second of an inch.
func (r *resolver) roundUp(l unit.Length) unit.Length {
	step := r.step()
	return unit.Length(math.Ceil(float64(l)/step-1e-9) * step)
}

// roundNear rounds a derived length to the nearest such size.
func (r *resolver) roundNear(l unit.Length) unit.Length {
	step := r.step()
	return unit.Length(math.Round(float64(l)/step) * step)
}

func (r *resolver) step() float64 {
	if r.inch() {
		return 25.4 / 32
	}
	return 0.5
}

func (r *resolver) inch() bool { return r.f.Style.Unit == unit.Inch }

func (r *resolver) style() {
	s := &r.f.Style
	s.Unit = unit.Millimetre
	if r.in.Units.Or("mm") == "in" {
		s.Unit = unit.Inch
	}
	s.Denominator = pick(r, "fractions", r.in.Fractions, 32, "thirty-seconds")
	if d := s.Denominator; d&(d-1) != 0 {
		r.errorf(r.in.Fractions.At, "fractions is not a power of two", fmt.Sprint(d), "2, 4, 8, 16, 32, 64 or 128", "")
	}
	s.Decimals = 2
	paper := "a4"
	if r.inch() {
		paper = "letter"
	}
	s.Paper = pick(r, "paper", r.in.Paper, paper, "by the unit of the file")
}
