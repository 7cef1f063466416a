package params

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"clampwright/params/diag"
)

// Variant is one further fixture of a file. Fixture is nil when Notes holds
// errors.
type Variant struct {
	Name    string // as in the file; unique, safe as a folder name
	Fixture *Fixture
	Notes   diag.List

	row Row
}

// Own has what is wrong with a variant, and not with the file by itself, point at the variant:
// at the one value that it gives, or else at its name. Where the file has it stands beside that.
func (v Variant) Own(list diag.List) diag.List {
	at := v.row.name.At
	if len(v.row.set) == 1 {
		at = v.row.set[0].at
	}
	for i := range list {
		d := &list[i]
		here := d.Range == v.row.name.At || slices.ContainsFunc(v.row.set, func(s setting) bool { return s.at == d.Range })
		if d.Severity == diag.Error && at.Line > 0 && !here {
			d.Related, d.Range = append([]diag.Range{d.Range}, d.Related...), at
		}
	}
	return list
}

// Variants settles every variant of a decoded file, in the file's order. Errors
// on the table itself (a name twice, or one that can't name a folder) are in the
// list; what is wrong with a single variant is in its Notes.
//
// A variant with another cell model leaves out the sizes, tolerances and
// terminals that the file gives for its own model, and one with another model or
// count leaves out what was measured: it belongs to other cells. The clamp window
// stays. Where a variant changes the count without saying how its
// cells are wired, the series count follows.
func Variants(in *File, text []byte) ([]Variant, diag.List) {
	var out []Variant
	var names []wordV
	wrong := 0
	for i := range in.Variants {
		r := in.Variants[i].row()
		if names = append(names, r.name); wrong >= mostWrong {
			out = append(out, Variant{Name: r.name.V, Notes: diag.List{{Summary: unread, Range: in.Variants[i].At}}})
			continue
		}
		v := in.Vary(text, r)
		if out = append(out, v); v.Notes.HasErrors() {
			wrong++
		}
	}
	return out, variantNames(names)
}

// mostWrong is how many variants with mistakes are looked at: to tell what follows from
// what takes long.
const mostWrong = 20

// unread is said of the first variant after those, and of the others.
const unread = "from here on variants are not looked at: mend those above first"

func (v Variant) unread() bool { return len(v.Notes) == 1 && v.Notes[0].Summary == unread }

// Row is one variant: values for keys of the file, each with where it is given.
type Row struct {
	name wordV
	set  []setting
}

type setting struct {
	Change
	at diag.Range
}

// Name is the row's name.
func (r Row) Name() string { return r.name.V }

// Key tells rows apart by all they say.
func (r Row) Key() string {
	out := fmt.Sprintf("%q", r.name.V)
	for _, s := range r.set {
		out += fmt.Sprintf(" %s=%q", s.Path, s.Value)
	}
	return out
}

func (r Row) gives(path string) bool {
	return slices.ContainsFunc(r.set, func(s setting) bool { return s.Path == path || strings.HasPrefix(s.Path, path+".") })
}

// Vary settles the file with what rows say, which make one variant together.
func (in *File) Vary(text []byte, rows ...Row) Variant {
	all := rows[0]
	for _, r := range rows[1:] {
		all.name.V += "-" + r.name.V
		all.set = slices.Concat(all.set, r.set)
	}
	file, err := in.variant(all)
	out := Variant{Name: all.name.V, row: all}
	switch {
	case errors.As(err, &out.Notes):
	case err != nil:
		out.Notes.Errorf(all.name.At, "%v", err)
	default:
		out.Fixture, out.Notes = Resolve(file, text)
	}
	return out
}

// Rows reads a table of variants (CSV): the column name, and a column for every key
// that they change, as "plates.thickness", "stock.sheets[0].quantity" or a whole block
// in braces. A field that is empty leaves what the file says; null takes the key out.
func Rows(name string, text []byte) ([]Row, diag.List) {
	t := table{file: name}
	var out []Row
	var names []wordV
	t.read(text, "name and keys of the parameter file", "variant", func(head []string) {
		if !slices.Contains(head, "name") {
			t.Errorf(t.field(0), "a table of variants has the column name")
		}
		for i, path := range head {
			if slices.Index(head, path) < i {
				t.Errorf(t.field(i), "column %q stands twice", path)
			} else if near, known := knownPath(path); !known && path != "name" {
				t.Add(diag.Diagnostic{Summary: "unknown column", Found: path, Expected: "name, or a key of the parameter file such as plates.thickness", Suggestion: near, Range: t.field(i)})
			}
		}
	}, func(fields []string) {
		var r Row
		for i, value := range fields {
			value = strings.TrimSpace(value)
			switch {
			case t.head[i] == "name":
				r.name = wordV{V: value, Set: true, At: t.field(i)}
				if value == "" {
					t.Errorf(t.field(i), "the variant has no name")
				}
			case value != "":
				if value == "null" {
					value = ""
				}
				r.set = append(r.set, setting{Change{Path: t.head[i], Value: value}, t.field(i)})
			}
		}
		out, names = append(out, r), append(names, r.name)
	})
	return out, append(t.List, variantNames(names)...)
}

// knownPath says whether the file has a key at a path, and else which one may be meant.
func knownPath(path string) (near string, known bool) {
	typ, at := reflect.TypeFor[File](), ""
	for _, token := range tokens(path) {
		if _, item := place(token); item {
			at += token
			continue
		}
		if typ.Kind() != reflect.Struct {
			return "", false
		}
		sub := fieldsOf(typ).byKey[token]
		if sub == nil {
			if word, ok := diag.Nearest(token, fieldsOf(typ).keys()); ok {
				near = fmt.Sprintf("did you mean %q?", join(at, word))
			}
			return near, false
		}
		typ, at = sub.typ, join(at, token)
	}
	return "", true
}

// reservedVariants are folders that a run with variants uses itself.
var reservedVariants = []string{"shared", "base"}

// variantNames wants names that make different folders on any file system.
func variantNames(in []wordV) diag.List {
	var out diag.List
	bad := func(at diag.Range, summary, found, expected string) {
		out = append(out, diag.Diagnostic{Severity: diag.Error, Summary: summary, Found: found, Expected: expected, Range: at})
	}
	seen := map[string]bool{}
	for _, n := range reservedVariants {
		seen[n] = true
	}
	for _, name := range in {
		key := strings.ToLower(name.V)
		switch {
		case name.V == "": // told already
		case deviceName(name.V):
			bad(name.At, "the variant's name is that of a device", fmt.Sprintf("%q", name.V), "a name that is a file name everywhere: not con, prn, aux, nul, com1 to com9, lpt1 to lpt9")
		case !folderName(name.V):
			bad(name.At, "the variant's name can't name a folder", fmt.Sprintf("%q", name.V), "letters, digits, '_', '-' but not first, and '.' inside; 1 to 60 of them")
		case seen[key]:
			bad(name.At, "the variant's name is taken", fmt.Sprintf("%q", name.V), "a name of its own; "+strings.Join(reservedVariants, " and ")+" are used by the program")
		}
		seen[key] = true
	}
	return out
}

// deviceName says whether some systems take a name for a device, with any ending,
// and can't make a folder of it.
func deviceName(s string) bool {
	base, _, _ := strings.Cut(strings.ToLower(s), ".")
	port := len(base) == 4 && (strings.HasPrefix(base, "com") || strings.HasPrefix(base, "lpt")) && base[3] >= '0' && base[3] <= '9'
	return port || slices.Contains([]string{"con", "prn", "aux", "nul"}, base)
}

func folderName(s string) bool {
	if s == "" || len(s) > 60 || strings.ContainsAny(s[:1], ".-") || strings.HasSuffix(s, ".") {
		return false
	}
	for _, c := range s {
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_' || c == '.') {
			return false
		}
	}
	return true
}

// kept are the keys of the cell that hold for another model too: its clamp window.
var kept = []string{"model", "compression", "force", "force_tolerance", "force_limit", "force_always", "pressure", "pressure_tolerance", "swell_zone", "middle_share", "case", "learned"}

// row is the variant as changes of keys.
func (v *VariantBlock) row() Row {
	r := Row{name: v.Name}
	if v.Model.Set {
		r.set = append(r.set, setting{Change{Path: "cell.model", Value: Word(v.Model.V)}, v.Model.At})
	}
	for _, g := range []struct {
		countV
		path string
	}{{v.Cells, "pack.cells"}, {v.Rows, "pack.rows"}, {v.Series, "electrical.series"}, {v.Parallel, "electrical.parallel"}} {
		if g.Set {
			r.set = append(r.set, setting{Change{Path: g.path, Value: strconv.Itoa(g.V)}, g.At})
		}
	}
	return r
}

// variant is a copy of the file with a row's changes made.
func (in *File) variant(r Row) (*File, error) {
	out, err := *in, error(nil)
	set := func(at diag.Range, value string, paths ...string) {
		for _, p := range paths {
			if err == nil {
				err = out.change(Change{Path: p, Value: value}, at)
			}
		}
	}
	none := diag.Range{}
	set(r.name.At, Word(in.Fixture.V+"-"+r.name.V), "fixture")
	set(none, "", "variants")
	model, cells, rows := r.gives("cell.model"), r.gives("pack.cells"), r.gives("pack.rows")
	if model {
		for _, key := range fieldsOf(typeOfCellBlock).keys() {
			if !slices.Contains(kept, key) {
				set(none, "", "cell."+key)
			}
		}
		set(none, "", "clamp.growth", "clamp.squeeze", "clamp.aged")
	}
	if model || cells || rows {
		set(none, "", "pack.stack", "rods.length", "readings", "electrical.records")
		out.beside, out.besideText = nil, nil
	}
	if cells {
		set(none, "", "electrical.series")
	}
	if cells || rows || r.gives("electrical.series") || r.gives("electrical.parallel") {
		set(none, "", "electrical.links")
	}
	for _, s := range r.set {
		set(s.at, s.Value, s.Path)
	}
	if out.Pack.Rows.Or(1) == 1 {
		set(none, "", "pack.row_gap", "rods.middle_column")
	}
	if other := out.Electrical.Records; err == nil && other.Set && other.V != in.Electrical.Records.V {
		err = diag.List{{Summary: "a variant can't name a table of readings", Found: other.V, Expected: "a parameter file for each table of readings", Range: other.At}}
	}
	if other := out.Cell.Learned; err == nil && other.Set && other.V != in.Cell.Learned.V {
		err = diag.List{{Summary: "a variant can't name a file of what was learned", Found: other.V, Expected: "cell.learned of the file itself", Range: other.At}}
	}
	return &out, err
}
