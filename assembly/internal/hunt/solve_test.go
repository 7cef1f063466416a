package hunt

import (
	"runtime"
	"sync"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/assembly/inputs"
	"clampwright/params"
)

// Every fixture that settles can be pressed, on a coarse grid and some on Solve's: drawn
// at random, as many as CLAMPWRIGHT_DRAWN says.
func TestDrawnFixturesSolve(t *testing.T) {
	var all sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	k := 0
	draw(t, 12, drawn(t, 60), func(text string, f *params.Fixture) {
		slots <- struct{}{}
		in := inputs.Clamp(f)
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
