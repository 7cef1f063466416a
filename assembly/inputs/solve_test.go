package inputs

import (
	"runtime"
	"sync"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
)

// Every fixture that settles can be pressed: 1,000 drawn at random.
func TestDrawnFixturesSolve(t *testing.T) {
	n := 1000
	if testing.Short() {
		n = 60
	}
	var all sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	sample.Draw(t, 12, n, func(text string, f *params.Fixture) {
		slots <- struct{}{}
		all.Go(func() {
			defer func() { <-slots }()
			in := Clamp(f)
			in.Search.Off = true
			if _, err := clamp.Solve(in); err != nil {
				t.Errorf("%v\n%s", err, text)
			}
		})
	})
	all.Wait()
}
