package steps

import (
	"strings"
	"testing"

	"clampwright/assembly/nest"
	"clampwright/assembly/work"
	"clampwright/params"
	"clampwright/parts"
)

// A plate whose sheets at hand have its size is not cut by hand, whichever way they lie; one
// that is a little smaller than a sheet is, and one of which some are missing.
func TestCutOfWholeSheets(t *testing.T) {
	for _, c := range []struct {
		stock   [][2]float64
		missing int
		whole   bool
	}{
		{[][2]float64{{216, 200}, {200, 216}}, 0, true}, {[][2]float64{{216 + 0.9*nest.FitMM, 200}}, 0, true}, {[][2]float64{{216 + 2*nest.FitMM, 200}}, 0, false},
		{[][2]float64{{216, 200 + 2*nest.FitMM}}, 0, false}, {[][2]float64{{216, 200}, {600, 400}}, 0, false}, {[][2]float64{{216, 200}}, 1, false},
	} {
		cut := work.Cut{Cut: nest.Cut{Part: &parts.Part{Kind: parts.KindPlate}, Sheet: true, SizeMM: [2]float64{216, 200}, Missing: c.missing}, Machine: params.HandTools}
		for _, s := range c.stock {
			cut.Taken = append(cut.Taken, nest.Taken{Sheet: true, StockMM: s})
		}
		if text := cutText(&cut); strings.Contains(text, "Leave their edges") != c.whole || strings.Contains(text, "free the part") == c.whole || !strings.Contains(text, "UP edge") {
			t.Errorf("%v, %d missing: %q", c.stock, c.missing, text)
		}
	}
}
