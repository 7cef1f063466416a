package sizing

import (
	"math"
	"testing"

	"clampwright/params"
	"clampwright/params/unit"
)

// A share is of a sheet that the part is cut from: 17.7 mm plates of one sold as
// 18 mm, but no 0.5 mm liner of a sheet of 1 mm.
func TestSharesAreOfTheirOwnSheet(t *testing.T) {
	const w, h = 1000.0, 500.0
	for name, c := range map[string]struct {
		sheet unit.Length
		part  piece
		price float64 // of one part; below 0 for one that is guessed
	}{
		"plate":           {18, piece{metal: "birch plywood", thick: 18, areaM2: 0.1}, 60 * 0.1 / 0.5},
		"measured":        {18, piece{metal: "birch plywood", thick: 17.7, areaM2: 0.1}, 60 * 0.1 / 0.5},
		"another size":    {18, piece{metal: "birch plywood", thick: 15, areaM2: 0.1}, -1},
		"another sheet":   {18, piece{metal: "hdpe", thick: 18, areaM2: 0.1}, -1},
		"liner":           {0.5, piece{metal: "birch plywood", thick: 0.5, areaM2: 0.05}, 60 * 0.05 / 0.5},
		"liner, too thin": {1, piece{metal: "birch plywood", thick: 0.5, areaM2: 0.05}, -1},
	} {
		f := &params.Fixture{}
		f.Stock.Sheets = []params.SheetStock{{Material: "birch plywood", Thickness: c.sheet, Width: w, Height: h, Price: 60}}
		got, known := sheetPrice(f, c.part)
		if known != (c.price >= 0) || known && math.Abs(got-c.price) > 1e-9 {
			t.Errorf("%s: %g, from the file: %v, want %g", name, got, known, c.price)
		}
	}
}
