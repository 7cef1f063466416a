package folder

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
)

// kinds of output folder, each with its own way of swapping.
var situations = map[string]func(t *testing.T, dir string){
	"new":  func(*testing.T, string) {},
	"ours": func(t *testing.T, dir string) { mustWrite(t, dir, first) },
	"shared": func(t *testing.T, dir string) {
		mustWrite(t, dir, first)
		put(t, filepath.Join(dir, "cut", "mine"), "x")
	},
	"theirs": func(t *testing.T, dir string) { put(t, filepath.Join(dir, "mine"), "x") },
	"unlisted": func(t *testing.T, dir string) {
		put(t, filepath.Join(dir, "keep"), "")
		os.Remove(filepath.Join(dir, "keep"))
	},
}

// failing fails the n-th step of a swap, and with noExchange every exchange, so
// that the two renames are tried as well; hit tells whether it came to that
// step.
func failing(n int, noExchange bool) (w *writer, hit *bool) {
	step := 0
	hit = new(bool)
	return &writer{hold: true, step: func(what string) error {
		if noExchange && what == "exchange" {
			return errors.ErrUnsupported
		}
		step++
		if step == n {
			*hit = true
			return errInjected
		}
		return nil
	}}, hit
}

var errInjected = errors.New("injected")

// TestEveryFailedStepIsUndone makes each step of each kind of swap fail in turn.
// The output must be as before, or, where another way was found, complete.
func TestEveryFailedStepIsUndone(t *testing.T) {
	for name, prepare := range situations {
		for _, noExchange := range []bool{false, true} {
			for n, fired := 1, true; fired; n++ {
				what := fmt.Sprintf("%s, step %d, exchange %v", name, n, !noExchange)
				parent := t.TempDir()
				dir := filepath.Join(parent, "out")
				prepare(t, dir)
				before := snapshot(t, parent)
				w, hit := failing(n, noExchange)
				_, err := w.write(context.Background(), dir, planOf(second))
				fired = *hit
				if err == nil {
					complete(t, what, parent, before)
					continue
				}
				if !errors.Is(err, errInjected) || errors.Is(err, ErrStuck) {
					t.Errorf("%s: %v", what, err)
				}
				sameState(t, what, snapshot(t, parent), before)
			}
		}
	}
}

// complete checks that the second plan is in place, beside what is not ours.
func complete(t *testing.T, what, parent string, before map[string]string) {
	t.Helper()
	onlyOut(t, parent)
	got := snapshot(t, filepath.Join(parent, "out"))
	for name, want := range second {
		if got[name] != want {
			t.Errorf("%s: %s = %q, want %q", what, name, got[name], want)
		}
	}
	for name := range first {
		if _, still := second[name]; !still && got[name] != "" {
			t.Errorf("%s: %s is still there", what, name)
		}
	}
	for name, want := range before {
		if filepath.Base(name) == "mine" && got[name[len("out/"):]] != want {
			t.Errorf("%s: %s of somebody else is gone", what, name)
		}
	}
}

const (
	killDir  = "CLAMPWRIGHT_TEST_KILL_DIR"
	killStep = "CLAMPWRIGHT_TEST_KILL_STEP"
)

// TestMain lets the test program stand in for a run that is killed in a swap.
func TestMain(m *testing.M) {
	if dir := os.Getenv(killDir); dir != "" {
		killed(dir)
	}
	os.Exit(m.Run())
}

func killed(dir string) {
	n, _ := strconv.Atoi(os.Getenv(killStep))
	noExchange := n < 0
	n = max(n, -n)
	step := 0
	w := &writer{hold: true, step: func(what string) error {
		if noExchange && what == "exchange" {
			return errors.ErrUnsupported
		}
		if step++; step == n {
			os.Exit(9)
		}
		return nil
	}}
	if _, err := w.write(context.Background(), dir, planOf(second)); err != nil {
		os.Exit(1)
	}
	os.Exit(0)
}

// TestKilledRunIsUndoneByTheNext kills a run at each step of its swap. Cleaning
// up must bring back exactly what was there.
func TestKilledRunIsUndoneByTheNext(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Skip("skipped: the test program can't be run again")
	}
	for name, prepare := range situations {
		for _, n := range []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, -1, -2, -3} {
			what := fmt.Sprintf("%s, killed at %d", name, n)
			parent := t.TempDir()
			dir := filepath.Join(parent, "out")
			prepare(t, dir)
			before := snapshot(t, parent)
			cmd := exec.Command(self)
			cmd.Env = append(os.Environ(), killDir+"="+dir, killStep+"="+strconv.Itoa(n))
			if err := cmd.Run(); err == nil {
				complete(t, what, parent, before)
				continue
			} else if cmd.ProcessState.ExitCode() != 9 {
				t.Fatalf("%s: %v", what, err)
			}
			if err := cleanUp(dir); err != nil {
				t.Errorf("%s: %v", what, err)
			}
			sameState(t, what, snapshot(t, parent), before)
		}
	}
}

// TestNextRunAfterAKill goes all the way: the run after a killed one succeeds.
func TestNextRunAfterAKill(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Skip("skipped: the test program can't be run again")
	}
	parent := t.TempDir()
	dir := filepath.Join(parent, "out")
	situations["shared"](t, dir)
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), killDir+"="+dir, killStep+"=7")
	_ = cmd.Run()
	before := snapshot(t, parent)
	mustWrite(t, dir, second)
	complete(t, "after a kill", parent, before)
}
