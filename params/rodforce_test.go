package params

import (
	"math"
	"testing"

	"clampwright/params/unit"
)

// What the rods carry adds up to the force on all rows, and balances each row: as
// much to its left as to its right. Shares are by hand.
func TestRodForce(t *testing.T) {
	one, two := []unit.Length{0}, []unit.Length{-112, 112}
	for name, c := range map[string]struct {
		rows, columns []unit.Length
		levels        int
		shares        []float64
	}{
		"one row":                   {one, []unit.Length{-108, 108}, 2, []float64{1, 1}},
		"one row, three columns":    {one, []unit.Length{-108, 0, 108}, 2, []float64{1, 1, 1}},
		"two rows, no middle":       {two, []unit.Length{-222, 222}, 3, []float64{1, 1}},
		"two rows, middle":          {two, []unit.Length{-222, 0, 222}, 2, []float64{1, 2, 1}},
		"two rows, two middle":      {two, []unit.Length{-222, -14, 14, 222}, 2, []float64{1, 1, 1, 1}},
		"two rows, pairs outside":   {two, []unit.Length{-240, -222, 0, 222, 240}, 2, []float64{1, 1, 4, 1, 1}},
		"two rows, between only":    {two, []unit.Length{-14, 14}, 2, []float64{1, 1}},
		"two rows, on the middle":   {two, []unit.Length{-222, -112, 222}, 2, []float64{1, 1, 1}},
		"two rows, just inside it":  {two, []unit.Length{-222, -111, 222}, 2, []float64{1, 2, 1}},
		"two rows, on the right's":  {two, []unit.Length{-222, 112, 222}, 2, []float64{1, 1, 1}},
		"two rows, left of right's": {two, []unit.Length{-222, 111, 222}, 2, []float64{1, 2, 1}},
	} {
		f := &Fixture{Pack: Pack{Rows: len(c.rows), RowX: c.rows}, Rods: Rods{Columns: c.columns, Levels: make([]unit.Length, c.levels)}}
		sum, all, most := 0.0, 0.0, 0.0
		for _, s := range c.shares {
			sum += s
		}
		for i, s := range c.shares {
			want := 3000 * float64(len(c.rows)) * s / sum / float64(c.levels)
			got := float64(f.RodForce(3000, i))
			if math.Abs(got-want) > 1e-9 || math.Abs(f.RodShare(i)-s) > 1e-12 {
				t.Errorf("%s: column %d carries %.3f N, share %g, want %.3f, %g", name, i, got, f.RodShare(i), want, s)
			}
			all, most = all+got*float64(c.levels), max(most, got)
		}
		if math.Abs(all-3000*float64(len(c.rows))) > 1e-9 || math.Abs(float64(f.MostRodForce(3000))-most) > 1e-9 {
			t.Errorf("%s: %.3f N in all, most %.3f", name, all, float64(f.MostRodForce(3000)))
		}
	}
}

// A fixture without rods yet gives a number all the same.
func TestRodForceWithoutRods(t *testing.T) {
	f := &Fixture{Pack: Pack{Rows: 1, RowX: []unit.Length{0}}}
	if got := f.RodForce(3000, 0); math.IsNaN(float64(got)) || math.IsInf(float64(got), 0) {
		t.Errorf("%g N", float64(got))
	}
}
