package params

import (
	"errors"
	"fmt"
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
	diags := variantNames(in.Variants)
	var out []Variant
	for i := range in.Variants {
		v := &in.Variants[i]
		file, err := in.variant(v)
		var f *Fixture
		var notes diag.List
		if !errors.As(err, &notes) {
			f, notes = Resolve(file, text)
		}
		out = append(out, Variant{Name: v.Name.V, Fixture: f, Notes: notes})
	}
	return out, diags
}

// reservedVariants are folders that a run with variants uses itself.
var reservedVariants = []string{"shared", "base"}

// variantNames wants names that make different folders on any file system.
func variantNames(in []VariantBlock) diag.List {
	var out diag.List
	bad := func(at diag.Range, summary, found, expected string) {
		out = append(out, diag.Diagnostic{Severity: diag.Error, Summary: summary, Found: found, Expected: expected, Range: at})
	}
	seen := map[string]bool{}
	for _, n := range reservedVariants {
		seen[n] = true
	}
	for _, v := range in {
		key := strings.ToLower(v.Name.V)
		switch {
		case v.Name.V == "": // told already
		case deviceName(v.Name.V):
			bad(v.Name.At, "the variant's name is that of a device", fmt.Sprintf("%q", v.Name.V), "a name that is a file name everywhere: not con, prn, aux, nul, com1 to com9, lpt1 to lpt9")
		case !folderName(v.Name.V):
			bad(v.Name.At, "the variant's name can't name a folder", fmt.Sprintf("%q", v.Name.V), "letters, digits, '-', '_', and '.' inside; 1 to 60 of them")
		case seen[key]:
			bad(v.Name.At, "the variant's name is taken", fmt.Sprintf("%q", v.Name.V), "a name of its own; "+strings.Join(reservedVariants, " and ")+" are used by the program")
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
var kept = []string{"model", "compression", "force", "force_tolerance", "force_limit", "force_always", "pressure", "pressure_tolerance", "swell_zone", "middle_share", "case"}

// variant is a copy of the file with one variant's changes made.
func (in *File) variant(v *VariantBlock) (*File, error) {
	out, err := *in, error(nil)
	set := func(at diag.Range, value string, paths ...string) {
		for _, p := range paths {
			if err == nil {
				err = out.change(Change{Path: p, Value: value}, at)
			}
		}
	}
	count := func(g countV, path string) {
		if g.Set {
			set(g.At, strconv.Itoa(g.V), path)
		}
	}
	none := diag.Range{}
	set(v.Name.At, Word(in.Fixture.V+"-"+v.Name.V), "fixture")
	set(none, "", "variants")
	if v.Model.Set {
		for _, key := range fieldsOf(typeOfCellBlock).keys() {
			if !slices.Contains(kept, key) {
				set(none, "", "cell."+key)
			}
		}
		set(v.Model.At, Word(v.Model.V), "cell.model")
		set(none, "", "clamp.growth", "clamp.squeeze", "clamp.aged")
	}
	count(v.Cells, "pack.cells")
	count(v.Rows, "pack.rows")
	if v.Model.Set || v.Cells.Set || v.Rows.Set {
		set(none, "", "pack.stack", "rods.length", "readings", "electrical.records")
		out.beside, out.besideText = nil, nil
	}
	if out.Pack.Rows.Or(1) == 1 {
		set(none, "", "pack.row_gap", "rods.middle_column")
	}
	if v.Cells.Set && !v.Series.Set {
		set(none, "", "electrical.series")
	}
	count(v.Series, "electrical.series")
	count(v.Parallel, "electrical.parallel")
	if v.Cells.Set || v.Rows.Set || v.Series.Set || v.Parallel.Set {
		set(none, "", "electrical.links")
	}
	return &out, err
}
