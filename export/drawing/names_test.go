package drawing

import (
	"fmt"
	"testing"
	"unicode"

	"clampwright/params"
	"clampwright/params/diag"
)

// A fixture's name may be in any script. How drawings and cut files write it has only
// letters that every face of the drawings has; where that is not the name as given, a
// warning at its place says so.
func TestNamesCanBeDrawn(t *testing.T) {
	taken := 0
	for r := rune(0xa0); r < 0x2fa20; r += 1 + r/0x180 {
		if !unicode.IsLetter(r) {
			continue
		}
		f, diags := params.Load("f.yaml", fmt.Appendf(nil, "fixture: n%c\ncell: {model: 72x174x201}\npack: {cells: 4}\n", r))
		if diags.Count(diag.Error) > 0 {
			continue
		}
		taken++
		for _, c := range f.Plain {
			for _, face := range []Face{Regular, Bold, Mono} {
				if !face.Has(c) {
					t.Errorf("%q is written %q, but face %d lacks %q", r, f.Plain, face, c)
				}
			}
		}
		if (f.Plain != f.Name) != (diags.Count(diag.Warning) == 1) {
			t.Errorf("%q is written %q with %v", r, f.Plain, diags)
		}
	}
	if taken < 1100 {
		t.Errorf("only %d letters are taken", taken)
	}
}

func TestNamesInAnyScript(t *testing.T) {
	for _, c := range []struct{ name, plain string }{
		{"four-cell", "four-cell"}, {"Prüfling 4", "Prüfling 4"}, {"блок № 4", ""}, {"блок 4", "блок 4"}, {"Πακέτο", "Πακέτο"},
		{"电池", "Dian Chi"}, {"بطارية", "bTry@"}, {"हिंदी", "hiNdii"}, {"한글", "hangeul"}, {"🔋", ""}, {"a/b", ""}, {"a:b", ""},
	} {
		f, diags := params.Load("f.yaml", []byte("fixture: "+c.name+"\ncell: {model: 72x174x201}\npack: {cells: 4}\n"))
		if c.plain == "" {
			if n := diags.Count(diag.Error); n != 1 || diags[0].Range.Line != 1 {
				t.Errorf("%s: %v", c.name, diags)
			}
			continue
		}
		if f == nil {
			t.Errorf("%s: %v", c.name, diags)
		} else if f.Plain != c.plain || f.Name != c.name {
			t.Errorf("%s: written %q, want %q", c.name, f.Plain, c.plain)
		}
	}
}
