package drawing

import "testing"

// The signs that dimensions, tables and notes use must be in every face.
func TestFacesPrintTheSignsOfTheTrade(t *testing.T) {
	for f := Regular; f < faceCount; f++ {
		for _, r := range "0123456789Ø±°½¼¾⅛⅜⅝⅞×·–—→←↑↓≤≥≈²³µ⁄" {
			if !f.Has(r) {
				t.Errorf("face %d lacks %q", f, r)
			}
		}
	}
}

func TestCleanLeavesNothingThatCannotBePrinted(t *testing.T) {
	if got := Clean(Regular, "⌀8\n漢🔩"); got != "Ø8 Han ?" {
		t.Errorf("got %q", got)
	}
}
