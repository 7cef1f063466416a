package wiring

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"

	"clampwright/params/number"
	"clampwright/params/words"
)

// shimMM is the difference of two rows under one plate above which a shim is
// asked for: less is lost in the liner. Common practice, no source.
const shimMM = 0.3

// Arrangement is which cell goes into which slot.
type Arrangement struct {
	Grouping
	Slots []Record // by slot
	// Doubtful are the cells built in with a remark against them, since too few
	// have none.
	Doubtful []Record
	// RowCentreMM and RowEdgeMM are the summed thicknesses of each row in the
	// middle and at the edges of the large faces.
	RowCentreMM, RowEdgeMM []float64
	// DifferenceMM is row A's centre sum less row B's; with more rows the greatest less
	// the least, with one 0.
	DifferenceMM float64
	// WedgeMM is for each row the summed thickness on the right less that on the
	// left, cells turned as in the finished pack: the plates lean by it.
	WedgeMM []float64
	Remarks []string
}

// Arrange screens the input's records, groups them and puts them into slots of
// the final order; a cell with a remark against it only where the others do not
// suffice. Cells of high resistance go to the ends of the stack, where
// they cool best; then groups change places between rows until these are
// equally thick in the middle.
func (l *Layout) Arrange(final State) (Arrangement, []Remark, error) {
	if f, bad := brokenState(l, final); bad {
		return Arrangement{}, nil, errors.New(f.Text)
	}
	if !isFinished(l, final) {
		return Arrangement{}, nil, errors.New("the state is not the finished pack")
	}
	sound, noted, remarks := Screen(l.in.Records, l.in.Screen)
	use, doubtful := enlist(sound, noted, l.Cells(), remarks)
	g, err := Group(use, l.in.Series, l.in.Parallel)
	if err != nil {
		return Arrangement{}, remarks, err
	}
	order := coolOrder(l, final, g)
	evenRows(l, final, g, order)
	a := Arrangement{Grouping: g, Slots: make([]Record, l.Cells()), Doubtful: doubtful}
	dealt := make([][]Record, len(order))
	for k, gi := range order {
		dealt[k] = g.Places[gi]
		for i, slot := range final.Places[k] {
			a.Slots[slot] = dealt[k][i]
		}
	}
	a.Places = dealt
	a.account()
	a.measure(l, final)
	return a, remarks, nil
}

// isFinished says whether a state has all series places of the pack, each full.
func isFinished(l *Layout, s State) bool {
	for _, place := range s.Places {
		if len(place) != l.in.Parallel {
			return false
		}
	}
	return len(s.Places) == l.in.Series
}

// coolOrder returns for every series place the group that goes there: the
// higher the resistance, the nearer to an end of a row.
func coolOrder(l *Layout, final State, g Grouping) []int {
	n := l.in.CellsPerRow
	places, groups := make([]int, len(final.Places)), make([]int, len(g.Places))
	depth := make([]int, len(places))
	for k, slots := range final.Places {
		places[k], groups[k], depth[k] = k, k, n
		for _, s := range slots {
			depth[k] = min(depth[k], s%n, n-1-s%n)
		}
	}
	sort.SliceStable(places, func(i, j int) bool { return depth[places[i]] < depth[places[j]] })
	sort.SliceStable(groups, func(i, j int) bool { return g.MilliOhm[groups[i]] > g.MilliOhm[groups[j]] })
	order := make([]int, len(places))
	for i, k := range places {
		order[k] = groups[i]
	}
	return order
}

// emptyRows are the rows' thicknesses without the cells: fillers.
func emptyRows(l *Layout) []float64 {
	rows := make([]float64, l.in.Rows)
	rows[l.in.Rows-1] = float64(l.in.Empty) * l.in.FillerMM
	return rows
}

// rowDifference returns the centre sum of the thickest row less that of the thinnest.
func rowDifference(l *Layout, final State, g Grouping, order []int) float64 {
	rows := emptyRows(l)
	for k, gi := range order {
		for i, slot := range final.Places[k] {
			rows[l.Row(slot)] += g.Places[gi][i].CentreMM
		}
	}
	return slices.Max(rows) - slices.Min(rows)
}

// evenRows exchanges the groups of two places, or two cells within a place that
// reaches over both rows, as long as the difference of the rows falls.
func evenRows(l *Layout, final State, g Grouping, order []int) {
	if l.in.Rows < 2 {
		return
	}
	least := rowDifference(l, final, g, order)
	try := func(swap func()) bool {
		swap()
		if d := rowDifference(l, final, g, order); d < least-lengthTolMM/10 {
			least = d
			return true
		}
		swap()
		return false
	}
	for better, rounds := true, 0; better && rounds < mostCells; rounds++ {
		better = false
		for a := range order {
			for b := a + 1; b < len(order); b++ {
				better = try(func() { order[a], order[b] = order[b], order[a] }) || better
			}
			cells := g.Places[order[a]]
			for i := range cells {
				for j := i + 1; j < len(cells); j++ {
					better = try(func() { cells[i], cells[j] = cells[j], cells[i] }) || better
				}
			}
		}
	}
}

func (a *Arrangement) measure(l *Layout, final State) {
	a.RowCentreMM, a.RowEdgeMM = emptyRows(l), emptyRows(l)
	a.WedgeMM = make([]float64, l.in.Rows)
	for slot, r := range a.Slots {
		row := l.Row(slot)
		a.RowCentreMM[row] += r.CentreMM
		a.RowEdgeMM[row] += r.EdgeMM()
		wedge := r.EdgeRightMM - r.EdgeLeftMM
		if final.Turns[slot] == Left {
			wedge = -wedge
		}
		a.WedgeMM[row] += wedge
	}
	switch {
	case l.in.Rows == 2:
		a.DifferenceMM = a.RowCentreMM[0] - a.RowCentreMM[1]
	case l.in.Rows > 2:
		a.DifferenceMM = slices.Max(a.RowCentreMM) - slices.Min(a.RowCentreMM)
	}
	a.remark(l)
}

func (a *Arrangement) remark(l *Layout) {
	if d := math.Abs(a.DifferenceMM); d > shimMM {
		thin := words.Row(slices.Index(a.RowCentreMM, slices.Min(a.RowCentreMM)))
		a.Remarks = append(a.Remarks, fmt.Sprintf("the rows differ by %s mm in the middle: shim row %s by that much, or the shared plates press it less", number.Trim(d, 2), thin))
	}
	for row, w := range a.WedgeMM {
		if math.Abs(w) <= shimMM {
			continue
		}
		name := "the row"
		if l.in.Rows > 1 {
			name = "row " + words.Row(row)
		}
		thick := "right"
		if w < 0 {
			thick = "left"
		}
		a.Remarks = append(a.Remarks, fmt.Sprintf("%s is %s mm thicker on the %s: the plates lean by that", name, number.Trim(math.Abs(w), 2), thick))
	}
}
