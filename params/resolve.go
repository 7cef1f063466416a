package params

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/mozillazg/go-unidecode"

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
	bare   bool                // no notes of where values came from
	kept   *Settler            // what copies of a file have alike; may be nil
	brief  bool                // stop after the first step with errors: for searches
	trial  int                 // which stand-ins to take for what can't be found: see independent
	doubt  []string            // paths of values that are stood in for
	names  map[diag.Range]bool // places of names that no row has
}

// Load decodes and settles a parameter file with the table of readings that it
// names, when told how to open that. The fixture is nil when the list holds errors;
// warnings alone leave it usable.
func Load(name string, text []byte, open ...Opener) (*Fixture, diag.List) {
	file, diags := Decode(name, text)
	if file == nil {
		return nil, diags
	}
	diags = append(diags, file.readBeside(open)...)
	f, more := Resolve(file, text)
	diags = append(diags, more...)
	diags.Sort()
	return f, diags
}

// Resolve settles a decoded file. text is hashed into the fixture's identity.
// Errors name the place in the file; the fixture is nil when there are any, or
// when Decode had errors. What only follows from a mistake that is told already,
// here or by Decode, is not told. in must not be used meanwhile.
func Resolve(in *File, text []byte) (*Fixture, diag.List) {
	r := newResolver(in, mergeTables(in.Tables))
	r.f.InputSHA256 = in.sum(text)
	r.settle()
	r.givens(reflect.ValueOf(in).Elem(), "")
	if in.wrong || r.diags.HasErrors() {
		return nil, in.asTyped(text, independent(in, r.diags, r.names))
	}
	r.diags.Sort()
	return r.f, r.diags
}

// sum is the hash of all that is read: the file and those that it names.
func (in *File) sum(text []byte) string {
	h := sha256.New()
	h.Write(text)
	for i, t := range [][]byte{in.besideText, in.knownText} {
		if t != nil {
			h.Write([]byte{byte(i)})
			h.Write(t)
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

func newResolver(in *File, tables catalog.Tables) *resolver {
	f := &Fixture{file: in, Name: in.Fixture.V, Tables: tables, origins: map[string]Origin{}}
	return &resolver{in: in, f: f, tables: tables, doubt: in.broken}
}

// settle runs all steps. Where something is wrong it takes a stand-in and goes
// on, so that every step is run.
func (r *resolver) settle() {
	settleName(r)
	steps := []func(*resolver){
		settleStyle, settleReadings, settleBenched, settleTolerances, settleCell, learn, settlePack, settleInserts, settleThread, settleHardware, settleTools, settleClearances, settleRoom,
		settlePlateMaterial, settleFiller, settleSleeve, settleColumns, settleLevels, settleClamp, settleSprings, settlePlateSize, settleShear, settleStiffener,
		settleRodLength, settleStock, settlePrinter, settleElectrical, settlePlausible, settlePrices, settleRelations, settleTied,
	}
	for _, step := range steps {
		step(r)
		if r.brief && r.diags.HasErrors() {
			return
		}
	}
}

// note records where the value at path came from.
func (r *resolver) note(path string, kind OriginKind, at diag.Range, how string) {
	if r.bare {
		return
	}
	r.f.origins[path] = Origin{Kind: kind, Range: at, Note: how}
}

// givens notes what is given and no step has noted.
func (r *resolver) givens(v reflect.Value, path string) {
	for _, f := range fieldsOf(v.Type()).list {
		at, g := join(path, f.key), v.Field(f.index)
		switch {
		case f.kind == kindBlock:
			r.givens(g, at)
		case f.kind == kindScalar && at != "fixture" && g.FieldByName("Set").Bool() && r.f.Origin(at).Kind == Default:
			r.f.origins[at] = Origin{Kind: FromFile, Range: g.FieldByName("At").Interface().(diag.Range), Text: r.text(g.FieldByName("V").Interface())}
		}
	}
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
		return r.f.Style.Say(fmt.Sprintf("%.0f N", float64(v)))
	case unit.Pressure:
		return r.f.Style.Say(fmt.Sprintf("%.4g kPa", 1000*float64(v)))
	case unit.Torque:
		return r.f.Style.Say(fmt.Sprintf("%.4g N\u00b7m", float64(v)/1000))
	case unit.Mass:
		return r.f.Style.Say(fmt.Sprintf("%.0f g", float64(v)))
	case unit.Temperature:
		return r.f.Style.Say(fmt.Sprintf("%g \u00b0C", float64(v)))
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
	if at.Line == 0 {
		at = r.in.At // no fixture either: the first key
	}
	r.diags = append(r.diags, diag.Diagnostic{Severity: sev, Summary: summary, Found: found, Expected: expected, Suggestion: suggestion, Range: at})
}

// row finds the row of a table that is asked for, or def. When there is none it
// says so and takes another.
func row[T any](r *resolver, table string, g wordV, def string, find func(string) (T, bool)) T {
	if !g.Set && def == "" {
		return standIn(r, table, def, find) // its lack is told already
	}
	if t, ok := find(g.Or(def)); ok {
		return t
	}
	r.missingRow(table, wordV{V: g.Or(def), At: g.At}, r.tables.Names(table))
	return standIn(r, table, def, find)
}

// standIn is a row for one that can't be found: the usual one, and in trials
// another.
func standIn[T any](r *resolver, table, def string, find func(string) (T, bool)) T {
	if t, ok := find(def); ok && r.trial == 0 {
		return t
	}
	names := r.tables.Names(table)
	t, _ := find(names[r.trial*(len(names)-1)/trials])
	return t
}

// missingRow reports a name that no table row carries. Where the file's own rows
// of the table have names that can't be read, it may be one of these.
func (r *resolver) missingRow(table string, g wordV, names []string) {
	if r.unreadNames(table) {
		return
	}
	if r.names == nil {
		r.names = map[diag.Range]bool{}
	}
	r.names[g.At] = true
	hint := "'clampwright list " + table + "' prints them"
	if near := nearRows(table, g.V, names); r.trial == 0 && near != "" {
		hint = "did you mean " + near + "?"
	}
	r.errorf(g.At, fmt.Sprintf("no row %q in the %s table", g.V, table), fmt.Sprintf("%q", g.V), "a row of the "+table+" table", hint)
}

// sure says that none of the values is stood in for. Most errors that a stand-in
// causes go away with another one; those that want two values to agree do not.
func (r *resolver) sure(paths ...string) bool {
	return !slices.ContainsFunc(r.doubt, func(d string) bool {
		return slices.ContainsFunc(paths, func(p string) bool {
			return d == p || strings.HasPrefix(p, d+".") || strings.HasPrefix(d, p+".") || strings.HasPrefix(d, p+"[")
		})
	})
}

// unreadNames says whether the file has rows of a table that could not be read,
// so far that their names are not known.
func (r *resolver) unreadNames(table string) bool {
	for _, path := range r.in.broken {
		if path == "tables" || path == "tables."+table {
			return true
		}
		if row, isName := strings.CutSuffix(path, ".name"); isName && strings.HasPrefix(row, "tables."+table+"[") {
			return true
		}
		if strings.HasPrefix(path, "tables."+table+"[") && strings.HasSuffix(path, "]") {
			return true
		}
	}
	return false
}

var metricThread = regexp.MustCompile(`^[Mm](\d+(?:\.\d+)?)$`)

// nearRows names the rows that were probably meant, quoted: metric threads are
// near by their size, all else by its letters. It returns "" when none is near.
func nearRows(table, name string, names []string) string {
	if size := metricThread.FindStringSubmatch(name); table == "threads" && size != nil {
		return nearThreads(size[1], names)
	}
	if near, ok := diag.Nearest(name, names); ok {
		return fmt.Sprintf("%q", near)
	}
	return ""
}

// nearThreads names the next metric threads below and above a size.
func nearThreads(size string, names []string) string {
	want, _ := strconv.ParseFloat(size, 64)
	var below, above string
	lo, hi := 0.0, math.Inf(1)
	for _, n := range names {
		m := metricThread.FindStringSubmatch(n)
		if m == nil {
			continue
		}
		switch x, _ := strconv.ParseFloat(m[1], 64); {
		case x < want && x > lo:
			lo, below = x, n
		case x > want && x < hi:
			hi, above = x, n
		}
	}
	switch {
	case below == "":
		return fmt.Sprintf("%q", above)
	case above == "":
		return fmt.Sprintf("%q", below)
	}
	return fmt.Sprintf("%q or %q", below, above)
}

// lettered are the letters beyond ASCII that every output has, for the drawings' font
// has them; others are written in Latin letters there.
var lettered = &unicode.RangeTable{R16: []unicode.Range16{{Lo: 0xc0, Hi: 0x17f, Stride: 1}, {Lo: 0x386, Hi: 0x386, Stride: 1},
	{Lo: 0x388, Hi: 0x38a, Stride: 1}, {Lo: 0x38c, Hi: 0x38c, Stride: 1}, {Lo: 0x38e, Hi: 0x3a1, Stride: 1}, {Lo: 0x3a3, Hi: 0x3ce, Stride: 1}, {Lo: 0x400, Hi: 0x45f, Stride: 1}}}

// settleName settles the fixture's name, and how it stands where its letters can't be shown. It
// refuses what can't stand on a document or in a file name.
func settleName(r *resolver) {
	g, plain := r.in.Fixture, ""
	refuse := func(c any) {
		r.errorf(g.At, fmt.Sprintf("a name with %q", c), fmt.Sprintf("%q", g.V), "fixture: letters, digits, spaces, '-', '_' and '.'", "")
	}
	for _, c := range g.V {
		switch {
		case !strings.ContainsRune(" -_.", c) && !unicode.In(c, unicode.Nd, unicode.L, unicode.M):
			refuse(c)
			return
		case c > 127 && !unicode.In(c, lettered):
			plain += unidecode.Unidecode(string(c))
		default:
			plain += string(c)
		}
	}
	if r.f.Plain = strings.TrimSpace(plain); r.f.Plain == "" && g.Set {
		refuse(g.V)
	} else if r.f.Plain != strings.TrimSpace(g.V) {
		r.report(diag.Warning, g.At, "drawings and cut files can't show this name", fmt.Sprintf("%q", g.V), "Latin, Greek or Cyrillic letters", fmt.Sprintf("there it is written %q", r.f.Plain))
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
		return unit.MMPerInch / 32
	}
	return 0.5
}

func (r *resolver) inch() bool { return r.f.Style.Unit == unit.Inch }

func settleStyle(r *resolver) {
	s := &r.f.Style
	s.Unit = r.in.LengthUnit()
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
