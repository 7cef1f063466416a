package params

import (
	"math"
	"slices"
	"strings"
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

// Each row is held by the next columns on its either side; a last row that is not full
// is filled up. Counts by hand.
func TestRowsOf(t *testing.T) {
	for _, c := range []struct {
		pack         string
		perRow, last int
		columns      int
		shares       []float64
		sheets       int
		err          string
	}{
		{"{cells: 12, rows: 3}", 4, 4, 4, []float64{1, 2, 2, 1}, 0, ""},
		{"{cells: 14, rows: 3}", 5, 4, 4, []float64{1, 2, 2, 1}, 3, ""},
		{"{cells: 13, rows: 3}", 5, 3, 4, []float64{1, 2, 2, 1}, 3, ""},
		{"{cells: 7, rows: 2}", 4, 3, 3, []float64{1, 2, 1}, 3, ""},
		{"{cells: 16, rows: 8}", 2, 2, 9, []float64{1, 2, 2, 2, 2, 2, 2, 2, 1}, 0, ""},
		{"{cells: 9, rows: 9}", 0, 0, 0, nil, 0, "1 to 8"},
		{"{cells: 10, rows: 4}", 3, 1, 5, []float64{1, 2, 2, 2, 1}, 3, ""},
		{"{cells: 9, rows: 4}", 0, 0, 0, nil, 0, "rows: 3"},
		{"{cells: 2, rows: 3}", 0, 0, 0, nil, 0, "rows: 2"},
	} {
		f, diags := Load("r.yaml", []byte("fixture: r\ncell: {model: 54x174x200, force: 3 kN}\nplates: {thickness: 18 mm}\npack: "+c.pack+"\n"))
		if c.err != "" {
			if f != nil || len(diags) != 1 || !strings.Contains(diags[0].Expected+diags[0].Suggestion, c.err) {
				t.Errorf("%s: %v", c.pack, diags)
			}
			continue
		}
		if f == nil {
			t.Fatal(c.pack, diags)
		}
		var shares []float64
		for i := range f.Rods.Columns {
			shares = append(shares, f.RodShare(i))
		}
		sheets := 0
		if f.Filler != nil {
			sheets = f.Filler.Pieces
		}
		last := f.Pack.Rows - 1
		if f.Pack.PerRow != c.perRow || f.Pack.CellsIn(last) != c.last || f.Pack.CellsIn(0) != c.perRow || !slices.Equal(shares, c.shares) || sheets != c.sheets {
			t.Errorf("%s: %d a row, %d in the last, shares %v, %d sheets", c.pack, f.Pack.PerRow, f.Pack.CellsIn(last), shares, sheets)
		}
		full, short := f.ChainOf(0).Stack.Thick(LayerCell, LayerSeparator), f.ChainOf(last).Stack.Thick(LayerCell, LayerSeparator)
		if math.Abs((full - short).MM()) > 1e-9 {
			t.Errorf("%s: rows of %v and %v", c.pack, full, short)
		}
	}
}

// Fillers insulate also where the plates do not.
func TestFillersOfMetalPlates(t *testing.T) {
	for plates, want := range map[string]string{"hdpe": "hdpe", "6061-T6": "birch plywood"} {
		f, diags := Load("r.yaml", []byte("fixture: r\ncell: {model: 54x174x200, force: 3 kN}\npack: {cells: 5, rows: 2}\nplates: {material: "+plates+"}\n"))
		if f == nil || f.Filler.Material.Name != want {
			t.Errorf("%s: %v %v", plates, f, diags)
		}
	}
}

// A starter takes so many rows that none is longer than LongRow: on both sides of it.
func TestRowsFor(t *testing.T) {
	for cells, want := range map[int]int{4: 1, 17: 1, 18: 2, 64: 4, 128: 8, 256: 8} { // 72.5 mm a cell
		text, diags, err := Starter(StarterOptions{Cells: cells})
		f, _ := Load("s.yaml", text)
		if err != nil || f == nil || f.Pack.Rows != want {
			t.Errorf("%d cells: %v rows, want %d: %v %v", cells, f, want, diags, err)
		}
	}
}

// Four levels of rods where rods between long rows carry double and the face is tall enough.
func TestLevelsOfLongRows(t *testing.T) {
	for _, c := range []struct {
		cell, pack string
		rest       string
		want       int
	}{
		{"72x174x201", "{cells: 24, rows: 2}", "", 4}, // rows of 867.5 mm
		{"72x174x201", "{cells: 22, rows: 2}", "", 2}, // of 795 mm
		{"72x174x201", "{cells: 12, rows: 1}", "", 2}, // no rods between rows
		{"72x174x180", "{cells: 24, rows: 2}", "", 4},
		{"72x174x179", "{cells: 24, rows: 2}", "", 2}, // no room for four angles
		{"72x174x201", "{cells: 24, rows: 2}", "plates: {height: 170}\n", 2},
		{"72x174x201", "{cells: 24, rows: 2}", "rods: {level_count: 3}\n", 3}, // what is given is kept
	} {
		f, diags := Load("r.yaml", []byte("fixture: r\ncell: {model: "+c.cell+", force: 3 kN}\npack: "+c.pack+"\n"+c.rest))
		if f == nil || len(f.Rods.Levels) != c.want {
			t.Errorf("%s %s %s: %v, want %d levels: %v", c.cell, c.pack, c.rest, f, c.want, diags)
		}
	}
}
