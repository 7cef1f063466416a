package params

import (
	"fmt"
	"testing"
)

// Fillers are made of sheets that are listed, else of such as are sold, as thick as the plates
// as nearly as may be: of a cell of 50 mm, 16.67 mm is none.
func TestFillerSheets(t *testing.T) {
	for _, c := range []struct {
		thick, plates, stock string
		want                 int
	}{
		{"54", "{material: birch plywood, thickness: 18}", "", 3},                                                 // 18 of 17.7
		{"50", "{material: hdpe, thickness: 20}", "", 2},                                                          // 25, not 3 of 16.67
		{"50", "{material: hdpe, thickness: 12}", "", 4},                                                          // 12.5 of 12.7
		{"50", "{material: hdpe, thickness: 25}", "{material: hdpe, thickness: 10, width: 600, height: 400}", 5},  // as listed
		{"50", "{material: hdpe, thickness: 25}", "{material: hdpe, thickness: 9.5, width: 600, height: 400}", 2}, // 9.5 makes none
		{"50", "{material: birch plywood, thickness: 18}", "", 3},                                                 // none is sold
	} {
		f := settled(t, fmt.Sprintf("fixture: f\ncell: {width: 174, height: 200, thickness: %s, force: 300 kgf, force_tolerance: 60 kgf}\npack: {cells: 5, rows: 2}\nplates: %s\nstock: {sheets: [%s]}\n", c.thick, c.plates, c.stock))
		if f.Filler == nil || f.Filler.Pieces != c.want {
			t.Errorf("%s mm, %s, %s: %+v, want %d", c.thick, c.plates, c.stock, f.Filler, c.want)
		}
	}
}
