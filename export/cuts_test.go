package export

import (
	"math"
	"testing"
)

// The cut list names the stock that the nesting took, piece for piece, and what
// is to be bought is what it counts as bought.
func TestCutsFollowNesting(t *testing.T) {
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		for _, c := range j.Nest.Cuts {
			if c.Missing != 0 || len(c.Taken) == 0 {
				t.Errorf("%s: %d of %s find no stock, taken %v", name, c.Missing, c.Part.ID, c.Taken)
			}
			for _, s := range c.Taken {
				if s.StockMM[0] < c.SizeMM[0]-0.05 && s.StockMM[1] < c.SizeMM[0]-0.05 {
					t.Errorf("%s: %s of %v mm from %v mm", name, c.Part.ID, c.SizeMM, s.StockMM)
				}
			}
		}
	}
}

// Hand-worked: four angles of 8 15/16 in with a 1/16 in kerf take 36 in of a
// length of 72 in at 11.40; four rods of 16 7/16 in take 66 in, which two
// lengths of 36 in (6.40) or one of 72 in (5.60) give.
func TestCostByHand(t *testing.T) {
	c := made(t, "four-cell-offcut").job.Cost
	for what, pair := range map[string][2]float64{
		"stock": {c.Stock, 11.40 + 5.60}, "pieces": {c.Pieces, 0}, "to pay": {c.Pay(), 17.00},
		"share": {c.Share, 11.40*36/72 + 5.60*66/72},
	} {
		if math.Abs(pair[0]-pair[1]) > 0.005 {
			t.Errorf("%s: %.3f, by hand %.3f", what, pair[0], pair[1])
		}
	}
	if len(c.Unpriced) == 0 {
		t.Error("washers, nuts and link bar have no price, but none is named")
	}
}
