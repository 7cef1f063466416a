package drawing

import (
	"fmt"
	"testing"

	"clampwright/params"
	"clampwright/params/diag"
)

// A fixture's name has only letters that every face of the drawings has; others are
// refused at their place, one error each.
func TestNamesCanBeDrawn(t *testing.T) {
	taken := 0
	for r := rune(0xa0); r < 0x3000; r += 1 + r/0x600 {
		_, diags := params.Load("f.yaml", fmt.Appendf(nil, "fixture: n%c\ncell: {model: 72x174x201}\npack: {cells: 4}\n", r))
		if errors := diags.Count(diag.Error); errors > 0 {
			continue
		}
		taken++
		for _, f := range []Face{Regular, Bold, Mono} {
			if !f.Has(r) {
				t.Errorf("%q is taken, but face %d lacks it", r, f)
			}
		}
	}
	if taken < 200 {
		t.Errorf("only %d letters are taken", taken)
	}
	for _, name := range []string{"块", "ب", "ह", "한"} {
		_, diags := params.Load("f.yaml", []byte("fixture: "+name+"\ncell: {model: 72x174x201}\npack: {cells: 4}\n"))
		if n := diags.Count(diag.Error); n != 1 || diags[0].Range.Line != 1 {
			t.Errorf("%s: %v", name, diags)
		}
	}
}
