package hunt

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"strings"
	"sync"
	"testing"

	"clampwright/assembly/job"
	"clampwright/params"
)

// hunt counts what the judges compare and find.
type hunt struct {
	sync.Mutex
	t          *testing.T
	fixtures   int
	compared   map[string]int
	passes     []string
	failedOnes map[string]bool // fixtures with a false fail
}

func newHunt(t *testing.T) *hunt {
	return &hunt{t: t, compared: map[string]int{}, failedOnes: map[string]bool{}}
}

func (h *hunt) count(judge string) { h.compared[judge]++ }

func (h *hunt) falsePass(text string, r rule, at string) {
	h.passes = append(h.passes, fmt.Sprintf("%v passes: %s", r, at))
	h.t.Logf("after %d: false pass: %v: %s\n%s", h.fixtures, r, at, text)
}

func (h *hunt) falseFail(text string, r rule, at string) {
	h.failedOnes[text] = true
	h.t.Logf("after %d: false fail: %v: %s\n%s", h.fixtures, r, at, text)
}

// failMost is the share of fixtures of which anything may be failed that a judge passes.
const failMost = 0.02

// failsOf is the most such fixtures that a share of failMost gives among n in 19 of 20
// hunts, by the normal distribution: one more, and the share is greater.
func failsOf(n int) int {
	return int(failMost*float64(n) + 1.645*math.Sqrt(failMost*(1-failMost)*float64(n)))
}

// sum ends a hunt: no false pass, few false fails.
func (h *hunt) sum() {
	h.t.Logf("%d fixtures, compared %v: %d false passes, %d with false fails", h.fixtures, h.compared, len(h.passes), len(h.failedOnes))
	for _, p := range h.passes {
		h.t.Errorf("false pass: %s", p)
	}
	if len(h.failedOnes) > failsOf(h.fixtures) {
		h.t.Errorf("%d of %d fixtures have a false fail", len(h.failedOnes), h.fixtures)
	}
}

// judged is a job with what the program says of it.
func judged(f *params.Fixture) (*job.Job, error) {
	return job.Compute(context.Background(), f, func(string) {}, job.WithAnswers(0))
}

// Drawn fixtures, judged by the program and by judges that share no code with it: solids
// built anew in an outside library, sums by hand from what is written, plates by
// polynomials, and a circuit simulator. CLAMPWRIGHT_DRAWN_SEED draws others.
func TestDrawnFixtures(t *testing.T) {
	h, l := newHunt(t), startLibrary(t)
	refused := map[string]int{}
	var all sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	draw(t, uint64(fromEnv(t, "CLAMPWRIGHT_DRAWN_SEED", 21)), drawn(t, 100), func(text string, f *params.Fixture) {
		slots <- struct{}{}
		all.Go(func() {
			defer func() { <-slots }()
			j, err := judged(f)
			var fine, coarse map[string][]pressed
			// the plates' own error was measured on one row and two
			if _, read := f.Measured("stack", "set"); err == nil && !read && f.Pack.Rows <= 2 {
				fine, coarse = pressures(f, ownDegree), pressures(f, lessDegree)
			}
			h.Lock()
			defer h.Unlock()
			if err != nil {
				refused[err.Error()]++
				return
			}
			h.fixtures++
			h.bySolids(text, j, l)
			o := read(t, j)
			h.byArithmetic(text, j, o)
			h.byCircuit(text, j, o.report.Wiring)
			h.byPlates(text, j, fine, coarse)
			if h.fixtures%25 == 0 {
				h.t.Logf("%d fixtures, compared %v: %d false passes, %d with false fails", h.fixtures, h.compared, len(h.passes), len(h.failedOnes))
			}
		})
	})
	all.Wait()
	for why, n := range refused {
		t.Logf("%d refused: %s", n, strings.TrimSpace(why))
	}
	h.sum()
}
