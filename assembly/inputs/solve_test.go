package inputs

import (
	"os"
	"runtime"
	"strconv"
	"sync"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
)

// Every fixture that settles can be pressed, on a coarse grid and some on Solve's: drawn
// at random, as many as CLAMPWRIGHT_DRAWN says.
func TestDrawnFixturesSolve(t *testing.T) {
	n := 60
	if s := os.Getenv("CLAMPWRIGHT_DRAWN"); s != "" {
		var err error
		if n, err = strconv.Atoi(s); err != nil {
			t.Fatal(err)
		}
	}
	var all sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	k := 0
	sample.Draw(t, 12, n, func(text string, f *params.Fixture) {
		slots <- struct{}{}
		in := Clamp(f)
		if k++; k%20 > 0 {
			in.GridMM = max(f.Cell.Width.MM(), f.Cell.Height.MM()) / 10
		}
		all.Go(func() {
			defer func() { <-slots }()
			if _, err := clamp.Solve(in); err != nil {
				t.Errorf("%v\n%s", err, text)
			}
		})
	})
	all.Wait()
}

// Four cells in two rows behind 12 mm plywood: held at the outside alone, the plate bows
// and leaves the middle of the faces free, which fails; with rods between the rows and
// thick plates it does not.
func TestMiddleBehindPlywood(t *testing.T) {
	const base = "fixture: a\npack: {cells: 4, rows: 2}\ncell: {model: 72x174x201, force: 300 kgf}\nstiffeners: none\n"
	for text, want := range map[string]bool{
		"plates: {material: birch plywood, thickness: 12}\nrods: {middle_column: false}\n": true,
		"plates: {material: 6061-T6, thickness: 15}\nrods: {middle_column: true}\n":        false,
	} {
		r, err := clamp.Solve(Clamp(load(t, base+text)))
		if err != nil {
			t.Fatal(err)
		}
		failed := false
		for _, f := range r.States[0].Findings {
			failed = failed || f.ID == clamp.MiddleShare && f.Verdict == finding.Fail
		}
		if failed != want {
			t.Errorf("%s: the middle fails: %t", text, failed)
		}
	}
}
