package params

import (
	"slices"

	"clampwright/params/diag"
)

// LoadAll decodes and settles a parameter file with its variants. All errors are
// in the list; the fixture and the variants are nil when there are any. What is
// wrong with a variant alone begins with its name; its warnings are in its Notes.
func LoadAll(name string, text []byte, open ...Opener) (*Fixture, []Variant, diag.List) {
	file, diags := Decode(name, text)
	if file == nil {
		return nil, nil, diags
	}
	diags = append(diags, file.readBeside(open)...)
	f, more := Resolve(file, text)
	diags = append(diags, more...)
	variants, more := Variants(file, text)
	base := append(diags, more...)
	diags = slices.Clone(base)
	for i, v := range variants {
		if v.unread() && i > 0 && variants[i-1].unread() {
			break // said once
		}
		for _, d := range v.Notes {
			same := func(b diag.Diagnostic) bool { return b.Range == d.Range && b.Summary == d.Summary }
			if d.Severity == diag.Error && !slices.ContainsFunc(base, same) && (!v.unread() || len(diags) > len(base)) {
				d.Summary = "variant " + v.Name + ": " + d.Summary
				diags = append(diags, v.Own(diag.List{d})...)
			}
		}
	}
	diags.Sort()
	if diags.HasErrors() {
		return nil, nil, diags
	}
	return f, variants, diags
}
