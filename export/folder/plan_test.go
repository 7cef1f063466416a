package folder

import (
	"errors"
	"strings"
	"testing"
)

func TestCheckName(t *testing.T) {
	for _, ok := range []string{"report.json", "cut/end-plate.dxf", "paper/P1-A4.pdf", "a_b/c.d.e", "console.txt", "0"} {
		if err := CheckName(ok); err != nil {
			t.Error(err)
		}
	}
	for _, bad := range []string{
		"", "/abs", "../x", "a/../b", "a//b", "a/", ".hidden", "a/.git/x", "-rf", "a b", "ä", "a\\b", "c:x", "a\nb",
		"x.", "con", "NUL.txt", "cut/com1.dxf", "a*", strings.Repeat("x", 101), strings.Repeat("abc/", 60) + "x",
	} {
		if err := CheckName(bad); !errors.Is(err, ErrName) {
			t.Errorf("%q: got %v", bad, err)
		}
	}
}

func TestPlanCheck(t *testing.T) {
	nothing := Bytes(nil)
	for name, p := range map[string]Contents{
		"twice":           {Artifacts: []Artifact{{"a", nothing}, {"a", nothing}}},
		"case":            {Artifacts: []Artifact{{"cut/P.dxf", nothing}, {"cut/p.DXF", nothing}}},
		"file and folder": {Artifacts: []Artifact{{"Cut/p.dxf", nothing}, {"cut", nothing}}},
	} {
		if err := p.check(); !errors.Is(err, ErrName) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}
