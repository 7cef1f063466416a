package wiring

import (
	"slices"
	"testing"
)

// The path through rows visits every cell once and goes from neighbour to neighbour,
// also where the last row is not full: by hand, and by the distance of each step.
func TestPathOfRows(t *testing.T) {
	for _, c := range []struct {
		perRow, rows, empty int
		right               bool
		want                []int
	}{
		{3, 1, 0, false, []int{0, 1, 2}},
		{3, 2, 0, false, []int{0, 1, 2, 5, 4, 3}},
		{3, 2, 0, true, []int{3, 4, 5, 2, 1, 0}},
		{2, 3, 0, false, []int{0, 1, 3, 2, 4, 5}},
		{2, 3, 0, true, []int{4, 5, 3, 2, 0, 1}},
		{3, 2, 1, false, []int{2, 1, 0, 3, 4}},
		{3, 2, 1, true, []int{4, 3, 0, 1, 2}},
		{3, 3, 2, false, []int{0, 1, 2, 5, 4, 3, 6}},
		{3, 3, 1, true, []int{7, 6, 3, 4, 5, 2, 1, 0}},
		{1, 8, 0, false, []int{0, 1, 2, 3, 4, 5, 6, 7}},
	} {
		n := c.perRow*c.rows - c.empty
		in := pack(c.perRow, c.rows, n, 1)
		in.Empty, in.FromRight, in.FillerMM = c.empty, c.right, 72
		l := mustLayout(t, in)
		got := pathOf(l)
		if !slices.Equal(got, c.want) {
			t.Errorf("%d rows of %d less %d, from the right %v: %v, want %v", c.rows, c.perRow, c.empty, c.right, got, c.want)
		}
		for k := 1; k < len(got); k++ {
			if d := l.Middle(got[k]).Dist(l.Middle(got[k-1])); d > max(in.PitchMM, in.CellWidthMM+in.RowGapMM)+1e-9 {
				t.Errorf("%d rows of %d less %d: step %d is %.0f mm", c.rows, c.perRow, c.empty, k, d)
			}
		}
	}
	for _, bad := range []int{-1, 3} {
		in := pack(3, 2, 6-bad, 1)
		if in.Empty = bad; in.Series > 0 {
			if _, err := NewLayout(in); err == nil {
				t.Errorf("%d empty places of three are taken", bad)
			}
		}
	}
}

// A filler counts in the sum of its row, and rows of unlike cells are evened out also
// where there are three: brute force over all ways to deal six cells in three rows of two.
func TestThreeRowsAreEvened(t *testing.T) {
	in := pack(2, 3, 6, 1)
	thick := []float64{71.2, 71.9, 72.4, 72.0, 71.5, 72.6}
	for i, mm := range thick {
		in.Records = append(in.Records, Record{Serial: string(rune('a' + i)), CapacityAh: 280, MilliOhm: 0.25, Volts: 3.29, CentreMM: mm, EdgeLeftMM: mm - 0.1, EdgeRightMM: mm - 0.1})
	}
	l := mustLayout(t, in)
	plans := mustPlans(t, l)
	a, _, err := l.Arrange(plans[0].States[len(plans[0].States)-1])
	if err != nil {
		t.Fatal(err)
	}
	least, perm := 1e9, []int{0, 1, 2, 3, 4, 5}
	var deal func(k int)
	deal = func(k int) {
		if k == len(perm) {
			sums := []float64{thick[perm[0]] + thick[perm[1]], thick[perm[2]] + thick[perm[3]], thick[perm[4]] + thick[perm[5]]}
			least = min(least, slices.Max(sums)-slices.Min(sums))
			return
		}
		for i := k; i < len(perm); i++ {
			perm[k], perm[i] = perm[i], perm[k]
			deal(k + 1)
			perm[k], perm[i] = perm[i], perm[k]
		}
	}
	deal(0)
	if a.DifferenceMM > least+0.2 {
		t.Errorf("rows differ by %.2f mm, the best deal gives %.2f", a.DifferenceMM, least)
	}
}
