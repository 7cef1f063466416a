package folder

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// layouts of the output folder: each is made in a folder and returns the output.
var layouts = map[string]func(t *testing.T, parent string) string{
	"new": func(_ *testing.T, parent string) string { return filepath.Join(parent, "out") },
	"own": func(t *testing.T, parent string) string {
		mustWrite(t, filepath.Join(parent, "out"), first)
		return filepath.Join(parent, "out")
	},
	"with foreign files": func(t *testing.T, parent string) string {
		dir := filepath.Join(parent, "out")
		mustWrite(t, dir, first)
		put(t, filepath.Join(dir, "mine"), "x")
		put(t, filepath.Join(dir, "cut", "mine"), "y")
		put(t, filepath.Join(dir, "photos", "mine"), "z")
		put(t, filepath.Join(dir, "print", "cap.stl"), "edited")
		return dir
	},
	"theirs alone": func(t *testing.T, parent string) string {
		put(t, filepath.Join(parent, "out", "mine"), "x")
		return filepath.Join(parent, "out")
	},
	"working folder": func(t *testing.T, parent string) string {
		dir := filepath.Join(parent, "out")
		mustWrite(t, dir, first)
		put(t, filepath.Join(dir, "mine"), "x")
		t.Chdir(dir)
		return "."
	},
}

// fault is a disk that lets something happen before a change of a name: at one the
// run is killed, that is nothing it does reaches the disk any more; or, once, only
// that change fails; at another somebody else does something.
type fault struct {
	mu           sync.Mutex
	kill, meddle int
	once         bool
	n            int
	missing      map[string]bool // calls that the system does not have
	other        func()
}

var errKilled = errors.New("killed")

func (f *fault) disk() disk {
	d := disk{hold: true}
	if f.missing["case"] {
		d.at = withoutCase
	}
	d.step = func(call, _ string) error {
		f.mu.Lock()
		defer f.mu.Unlock()
		if f.missing[call] {
			return errors.ErrUnsupported
		}
		f.n++
		if f.n == f.meddle {
			f.other()
		}
		if f.kill > 0 && (f.n == f.kill || f.n > f.kill && !f.once) {
			return errKilled
		}
		return nil
	}
	return d
}

// withoutCase is the name under which a system to which case is nothing finds a path.
func withoutCase(path string) string {
	dir, base := filepath.Split(path)
	if dir == path || exists(path) {
		return path
	}
	dir = withoutCase(filepath.Clean(dir))
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if strings.EqualFold(e.Name(), base) {
			return filepath.Join(dir, e.Name())
		}
	}
	return filepath.Join(dir, base)
}

// whole checks that the output is all of one run, or, where it may be, missing,
// and returns which.
func whole(t *testing.T, what, dir string) map[string]string {
	t.Helper()
	got := snapshot(t, dir)
	for _, run := range []map[string]string{first, second} {
		if got["cut/plate.dxf"] != run["cut/plate.dxf"] {
			continue
		}
		for _, name := range []string{"report.json", "cut/plate.dxf", "cut/liner.dxf", "print/cap.stl", "model/rod.stl"} {
			if got[name] != run[name] && got[name] != "edited" && got[name] != "saved" {
				t.Errorf("%s: mixed: %s is %q", what, name, got[name])
			}
		}
		return run
	}
	return nil
}

// keeps checks that everything that was the user's is somewhere in the output,
// under its name or that of an edited file.
func keeps(t *testing.T, what, dir string, theirs ...string) {
	t.Helper()
	var all []string
	for name, text := range snapshot(t, dir) {
		name, _, _ = strings.Cut(filepath.Base(name), editedMark)
		all = append(all, name+" "+text)
	}
	for _, want := range theirs {
		if !slices.Contains(all, want) {
			t.Errorf("%s: %q is lost; there is %q", what, want, all)
		}
	}
}

func theirsIn(t *testing.T, dir string) (out []string) {
	for name, text := range snapshot(t, dir) {
		if filepath.Base(name) == "mine" {
			out = append(out, "mine "+text)
		}
		if text == "edited" {
			out = append(out, "cap.stl edited")
		}
	}
	return out
}

// TestKilledAnywhere kills a run before every change of a name in every layout, or
// lets that change fail, with exchange in one step, hard links and case in names, and without: there is no mixed
// set and no moment without one, nothing of the user's is lost, and the next run
// puts all in order.
func TestKilledAnywhere(t *testing.T) {
	kills := 0
	for name, layout := range layouts {
		for _, missing := range [][]string{{}, {"exchange"}, {"exchange", "link"}, {"exchange", "case"}} {
			for _, once := range []bool{false, true} {
				t.Run(fmt.Sprint(name, missing, once), func(t *testing.T) {
					for n, ended := 1, false; !ended; n++ {
						f := lacking(missing...)
						f.kill, f.once = n, once
						ended = killedAt(t, f, layout, name == "working folder" || name == "read-only parent")
						kills++
					}
				})
			}
		}
	}
	if t.Log(kills, "kills"); kills < 1000 {
		t.Errorf("only %d kills", kills)
	}
}

// lacking is a disk without some calls.
func lacking(calls ...string) *fault {
	f := &fault{missing: map[string]bool{}}
	for _, call := range calls {
		f.missing[call] = true
	}
	return f
}

func killedAt(t *testing.T, f *fault, layout func(*testing.T, string) string, refused bool) (ended bool) {
	what := fmt.Sprintf("at %d", f.kill)
	parent := t.TempDir()
	dir := layout(t, parent)
	before, theirs := map[string]string{}, []string{}
	if exists(dir) {
		before, theirs = snapshot(t, dir+"/"), theirsIn(t, dir+"/")
	}
	_, err := f.disk().write(context.Background(), dir, planOf(second))
	if refused {
		sameState(t, what, snapshot(t, dir+"/"), before)
		return errors.Is(err, ErrPlace) || errors.Is(err, ErrPermission)
	}
	if f.once && errors.Is(err, ErrStuck) {
		t.Errorf("%s: %v", what, err)
	}
	switch run := exists(dir+"/") && whole(t, what, dir+"/") != nil; {
	case run:
		keeps(t, what, dir+"/", theirs...)
	case before["report.json"] != "" && len(f.missing) == 0:
		t.Errorf("%s: a moment without output", what)
	}
	mustWrite(t, dir, second)
	if got := whole(t, what, dir+"/"); got["cut/plate.dxf"] != second["cut/plate.dxf"] {
		t.Errorf("%s: the next run has not written", what)
	}
	keeps(t, what, dir+"/", theirs...)
	onlyOut(t, parent)
	return f.n < f.kill
}

// TestSavedMeanwhile lets the user save a new file, another version of a carried
// one and one of ours, before every change of a name, and kills the run at every
// later one: nothing is lost.
func TestSavedMeanwhile(t *testing.T) {
	for _, missing := range [][]string{{}, {"exchange", "link"}} {
		steps := 1
		for meddle := 1; meddle <= steps; meddle++ {
			for kill := meddle; kill <= max(steps, meddle)+1; kill += 1 + kill/8 {
				what := fmt.Sprintf("saved at %d, killed at %d, without %v", meddle, kill, missing)
				dir := layouts["with foreign files"](t, t.TempDir())
				f := lacking(missing...)
				f.kill, f.meddle = kill, meddle
				want := []string{"mine y", "mine z"}
				f.other = func() { want = append(want, saveThree(t, dir)...) }
				_, _ = f.disk().write(context.Background(), dir, planOf(second))
				steps = max(steps, f.n)
				mustWrite(t, dir, second)
				whole(t, what, dir)
				keeps(t, what, dir, want...)
			}
		}
	}
}

// saveThree saves as editors do, beside and renamed over, where the folder is there
// to save in, and returns what has to be kept.
func saveThree(t *testing.T, dir string) (saved []string) {
	for name, kept := range map[string]string{"mine": "mine", "photos/new": "new", "report.json": "report.json"} {
		path := inside(dir, name)
		if !exists(filepath.Dir(path)) {
			continue
		}
		put(t, path+"~", "saved")
		if err := os.Rename(path+"~", path); err != nil {
			t.Fatal(err)
		}
		saved = append(saved, kept+" saved")
	}
	return saved
}

const killAfter = "CLAMPWRIGHT_TEST_KILL_AFTER"

// TestMain lets the test program stand in for a run that is killed.
func TestMain(m *testing.M) {
	if dir := os.Getenv(killAfter + "_DIR"); dir != "" {
		n, _ := strconv.Atoi(os.Getenv(killAfter))
		d := (&fault{meddle: n, other: func() {
			self, _ := os.FindProcess(os.Getpid())
			_ = self.Kill()
			time.Sleep(time.Minute)
		}}).disk()
		if _, err := d.write(context.Background(), dir, planOf(second)); err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	if info, err := os.Stat("/dev/shm"); err == nil && info.IsDir() && os.Getenv("TMPDIR") == "" {
		_ = os.Setenv("TMPDIR", "/dev/shm") // thousands of runs, which a disk in use by others makes slow
	}
	os.Exit(m.Run())
}

// TestKilledProcess kills a true process before every change of a name: its lock
// ends with it, so that the next run goes on at once.
func TestKilledProcess(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Skip("skipped: the test program can't be run again")
	}
	for n, ended := 1, false; !ended; n++ {
		what := fmt.Sprintf("killed at %d", n)
		parent := t.TempDir()
		dir := layouts["with foreign files"](t, parent)
		theirs := theirsIn(t, dir)
		cmd := exec.Command(self)
		cmd.Env = append(os.Environ(), killAfter+"_DIR="+dir, killAfter+"="+strconv.Itoa(n))
		out, err := cmd.CombinedOutput()
		ended = err == nil
		if !ended && cmd.ProcessState.ExitCode() != -1 {
			t.Fatalf("%s: %v %s", what, err, out)
		}
		if whole(t, what, dir) == nil {
			t.Errorf("%s: a moment without output", what)
		}
		mustWrite(t, dir, second)
		keeps(t, what, dir, theirs...)
		onlyOut(t, parent)
	}
}

// TestLockedFile: where a program holds a file of the output open and the system
// then keeps the folder from being renamed, nothing changes.
func TestLockedFile(t *testing.T) {
	dir := layouts["with foreign files"](t, t.TempDir())
	before := snapshot(t, dir)
	d := disk{hold: true, step: func(call, path string) error {
		if call == "exchange" || call == "rename" && filepath.Base(path) == oldName {
			return errors.New("used by another process")
		}
		return nil
	}}
	if _, err := d.write(context.Background(), dir, planOf(second)); err == nil || !strings.Contains(err.Error(), "used by another process; nothing was changed") {
		t.Errorf("got %v", err)
	}
	sameState(t, "after", snapshot(t, dir), before)
}

// TestHeldFile: where a program holds a file of the earlier output open and the system
// then keeps it from being removed, the new output is there, and the next run tidies up.
func TestHeldFile(t *testing.T) {
	for _, missing := range [][]string{{}, {"exchange"}} {
		parent := t.TempDir()
		dir := layouts["with foreign files"](t, parent)
		theirs := theirsIn(t, dir)
		d := lacking(missing...).disk()
		step, held := d.step, errors.New("used by another process")
		d.step = func(call, path string) error {
			if call == "remove" && filepath.Base(path) == "report.json" {
				return held
			}
			return step(call, path)
		}
		if _, err := d.write(context.Background(), dir, planOf(second)); err != nil {
			t.Errorf("%v: %v", missing, err)
		}
		if got := whole(t, "held", dir); got["report.json"] != second["report.json"] {
			t.Errorf("%v: not the new output", missing)
		}
		if _, err := d.write(context.Background(), dir, planOf(first)); !errors.Is(err, held) {
			t.Errorf("%v: held still: %v", missing, err)
		}
		mustWrite(t, dir, first)
		keeps(t, "let go", dir, theirs...)
		onlyOut(t, parent)
	}
}

// TestWithoutCase: to some systems names that differ in case only are one file.
func TestWithoutCase(t *testing.T) {
	plain := lacking("exchange", "case").disk()
	dir := layouts["with foreign files"](t, t.TempDir())
	put(t, filepath.Join(dir, "print", "CAP.stl.Edited"), "mine")
	res, err := plain.write(context.Background(), dir, planOf(second))
	if err != nil || !slices.Contains(res.Edited, "print/cap.stl.edited-2") {
		t.Errorf("an edited file beside one of the user: %v, %v", res.Edited, err)
	}
	keeps(t, "edited", dir, "cap.stl edited")
	if got := snapshot(t, dir)["print/CAP.stl.Edited"]; got != "mine" {
		t.Errorf("the user's file is %q", got)
	}
	file := filepath.Join(filepath.Dir(dir), "Report.json")
	put(t, file, "mine")
	if err := plain.writeFile(context.Background(), filepath.Join(filepath.Dir(dir), "report.JSON"), []byte("x"), Free); err == nil {
		t.Error("replaced the user's file of another case")
	}
}
