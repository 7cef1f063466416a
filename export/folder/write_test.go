package folder

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// planOf is a plan of files with the given contents.
func planOf(files map[string]string) Contents {
	var p Contents
	for name, content := range files {
		p.Add(name, Bytes([]byte(content)))
	}
	return p
}

// snapshot is every file and folder below dir with its content.
func snapshot(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(dir, path)
		name := filepath.ToSlash(rel)
		switch {
		case e.IsDir():
			out[name+"/"] = ""
		case e.Type()&fs.ModeSymlink != 0:
			out[name], err = os.Readlink(path)
		default:
			var b []byte
			b, err = os.ReadFile(path)
			out[name] = string(b)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func sameState(t *testing.T, what string, got, want map[string]string) {
	t.Helper()
	for name := range want {
		if g, ok := got[name]; !ok || g != want[name] {
			t.Errorf("%s: %s is %q (there: %v), want %q", what, name, g, ok, want[name])
		}
	}
	for name := range got {
		if _, ok := want[name]; !ok {
			t.Errorf("%s: %s should not be there", what, name)
		}
	}
}

func put(t *testing.T, path, content string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(content), 0o666); err != nil {
		t.Fatal(err)
	}
}

func mustWrite(t *testing.T, dir string, files map[string]string) Result {
	t.Helper()
	r, err := disk{hold: true}.write(context.Background(), dir, planOf(files))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

var (
	first  = map[string]string{"report.json": "{1}", "cut/plate.dxf": "plate 1", "cut/liner.dxf": "liner", "print/cap.stl": "cap"}
	second = map[string]string{"report.json": "{2}", "cut/plate.dxf": "plate 2", "model/rod.stl": "rod"}
)

func TestWriteMakesFolderAndParents(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b", "out")
	r := mustWrite(t, dir, first)
	got := snapshot(t, dir)
	for name, want := range first {
		if got[name] != want {
			t.Errorf("%s = %q, want %q", name, got[name], want)
		}
	}
	if want := []string{"cut/liner.dxf", "cut/plate.dxf", "print/cap.stl", "report.json"}; !reflect.DeepEqual(r.Written, want) {
		t.Errorf("Written = %v", r.Written)
	}
	if got[ListName] == "" {
		t.Error("no list")
	}
}

func TestSecondRunReplacesAndRemoves(t *testing.T) {
	for _, foreign := range []bool{false, true} {
		t.Run(fmt.Sprintf("foreign %v", foreign), func(t *testing.T) {
			parent := t.TempDir()
			dir := filepath.Join(parent, "out")
			mustWrite(t, dir, first)
			if foreign {
				put(t, filepath.Join(dir, "notes.txt"), "mine")
				put(t, filepath.Join(dir, "print", "own.gcode"), "mine too")
				put(t, filepath.Join(dir, "photos", "a.jpg"), "picture")
			}
			r := mustWrite(t, dir, second)
			clean := filepath.Join(t.TempDir(), "out")
			mustWrite(t, clean, second)
			want := snapshot(t, clean)
			if foreign {
				maps.Copy(want, map[string]string{"notes.txt": "mine", "print/": "", "print/own.gcode": "mine too", "photos/": "", "photos/a.jpg": "picture"})
				if w := []string{"notes.txt", "photos/", "print/own.gcode"}; !reflect.DeepEqual(r.Foreign, w) {
					t.Errorf("Foreign = %v, want %v", r.Foreign, w)
				}
			}
			sameState(t, "after", snapshot(t, dir), want)
			if w := []string{"cut/liner.dxf", "print/cap.stl"}; !reflect.DeepEqual(r.Removed, w) {
				t.Errorf("Removed = %v", r.Removed)
			}
			onlyOut(t, parent)
		})
	}
}

// onlyOut checks that no temporary folder is left beside the output.
func onlyOut(t *testing.T, parent string) {
	t.Helper()
	entries, err := os.ReadDir(parent)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.Contains(e.Name(), stageMark) {
			t.Errorf("%s is left behind", e.Name())
		}
	}
}

func TestEditedOutputIsKeptBeside(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	mustWrite(t, dir, first)
	for i, want := range [][]string{{"cut/liner.dxf.edited", "report.json.edited"}, {"report.json.edited-2"}} {
		put(t, filepath.Join(dir, "report.json"), fmt.Sprint("edited ", i))
		if i == 0 {
			put(t, filepath.Join(dir, "cut", "liner.dxf"), "edited and no longer made")
		}
		if r := mustWrite(t, dir, second); !reflect.DeepEqual(r.Edited, want) {
			t.Errorf("Edited = %v, want %v", r.Edited, want)
		}
	}
	want := map[string]string{"report.json": "{2}", "report.json.edited": "edited 0", "report.json.edited-2": "edited 1", "cut/liner.dxf.edited": "edited and no longer made"}
	for name, text := range want {
		if got := snapshot(t, dir)[name]; got != text {
			t.Errorf("%s = %q, want %q", name, got, text)
		}
	}
}

// A list that somebody has put there names the user's files: they are kept.
func TestPlantedList(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	put(t, filepath.Join(dir, "notes.txt"), "mine")
	put(t, filepath.Join(dir, "cut", "mine"), "too")
	put(t, filepath.Join(dir, ListName), `{"files":[{"name":"notes.txt"},{"name":"cut/mine","sha256":"00"},{"name":"gone"}]}`)
	r := mustWrite(t, dir, second)
	if want := []string{"cut/mine.edited", "notes.txt.edited"}; !reflect.DeepEqual(r.Edited, want) {
		t.Errorf("Edited = %v, want %v", r.Edited, want)
	}
	if got := snapshot(t, dir); got["notes.txt.edited"] != "mine" || got["cut/mine.edited"] != "too" {
		t.Errorf("%v", got)
	}
}

// A planted list may even have the digests of the user's files: they are not ours by
// their content, and kept, whether the new output has a file of that name or not.
func TestPlantedListWithDigests(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	put(t, filepath.Join(dir, "notes.txt"), "mine")
	put(t, filepath.Join(dir, "report.json"), "mine too")
	put(t, filepath.Join(dir, "print", "cap.stl"), "{ours}")
	var files []string
	for name, text := range map[string]string{"notes.txt": "mine", "report.json": "mine too", "print/cap.stl": "{ours}"} {
		files = append(files, fmt.Sprintf(`{"name":%q,"sha256":"%x"}`, name, sha256.Sum256([]byte(text))))
	}
	put(t, filepath.Join(dir, ListName), `{"files":[`+strings.Join(files, ",")+`]}`)
	plan := planOf(second)
	plan.Ours = func(_ string, content []byte) bool { return content[0] == '{' }
	r, err := Write(context.Background(), dir, plan)
	if want := []string{"notes.txt.edited", "report.json.edited"}; err != nil || !reflect.DeepEqual(r.Edited, want) || !slices.Equal(r.Removed, []string{"print/cap.stl"}) {
		t.Errorf("%+v, %v", r, err)
	}
	if got := snapshot(t, dir); got["notes.txt.edited"] != "mine" || got["report.json.edited"] != "mine too" || got["report.json"] != "{2}" {
		t.Errorf("%v", got)
	}
}

// Names that differ in case only are one file on some systems.
func TestForeignNameInOtherCase(t *testing.T) {
	for _, name := range []string{"Report.JSON", "CUT/mine", "cut/PLATE.dxf"} {
		dir := filepath.Join(t.TempDir(), "out")
		put(t, inside(dir, name), "mine")
		if _, err := Write(context.Background(), dir, planOf(second)); !errors.Is(err, ErrForeign) || !strings.Contains(err.Error(), strings.TrimSuffix(name, "/mine")) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func TestTooManyForeignFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	for i := range mostCarried + 1 {
		put(t, filepath.Join(dir, "mine", fmt.Sprint(i)), "")
	}
	if _, err := Write(context.Background(), dir, planOf(second)); !errors.Is(err, ErrPlace) {
		t.Errorf("got %v", err)
	}
}

func TestSamePlanGivesTheSameBytes(t *testing.T) {
	a, b := filepath.Join(t.TempDir(), "out"), filepath.Join(t.TempDir(), "other")
	mustWrite(t, a, first)
	mustWrite(t, b, first)
	mustWrite(t, b, first)
	sameState(t, "second folder", snapshot(t, b), snapshot(t, a))
}

func TestFailuresChangeNothing(t *testing.T) {
	boom := errors.New("boom")
	slow := func(n int, end func() error) func(io.Writer) error {
		return func(w io.Writer) error {
			for range n {
				if _, err := w.Write(bytes.Repeat([]byte("x"), 1<<15)); err != nil {
					return err
				}
			}
			return end()
		}
	}
	for name, c := range map[string]struct {
		prepare func(dir string, p *Contents, cancel func())
		want    error
		says    string
	}{
		"encoder fails half-way": {func(_ string, p *Contents, _ func()) {
			p.Add("z.pdf", slow(8, func() error { return boom }))
		}, boom, "can't make the file z.pdf: boom"},
		"encoder panics": {func(_ string, p *Contents, _ func()) {
			p.Add("z.pdf", slow(1, func() error { panic("index out of range") }))
		}, ErrEncode, "z.pdf: index out of range"},
		"interrupted half-way": {func(_ string, p *Contents, cancel func()) {
			p.Add("z.pdf", slow(100, func() error { cancel(); return nil }))
		}, context.Canceled, "interrupted; nothing was changed"},
		"interrupted in a long file": {func(_ string, p *Contents, cancel func()) {
			p.Add("a.pdf", func(w io.Writer) error {
				cancel()
				return slow(1<<20, func() error { return nil })(w)
			})
		}, ErrCancelled, "interrupted"},
		"foreign file in the way": {func(dir string, p *Contents, _ func()) {
			put(t, filepath.Join(dir, "cuts.csv"), "my own list")
			p.Add("cuts.csv", Bytes(nil))
		}, ErrForeign, "cuts.csv (not written by this program"},
		"foreign folder in the way": {func(dir string, p *Contents, _ func()) {
			put(t, filepath.Join(dir, "cuts.csv", "x"), "")
			p.Add("cuts.csv", Bytes(nil))
		}, ErrForeign, "cuts.csv"},
		"file where a folder must be": {func(dir string, p *Contents, _ func()) {
			put(t, filepath.Join(dir, "paper"), "")
			p.Add("paper/plate.pdf", Bytes(nil))
		}, ErrForeign, "paper"},
		"list unreadable": {func(dir string, p *Contents, _ func()) {
			put(t, filepath.Join(dir, ListName), "not a list")
		}, ErrList, "choose another folder"},
		"list names a file elsewhere": {func(dir string, p *Contents, _ func()) {
			put(t, filepath.Join(dir, ListName), `{"files":[{"name":"../../victim"}]}`)
		}, ErrList, "victim"},
		"bad name": {func(_ string, p *Contents, _ func()) { p.Add("../x", Bytes(nil)) }, ErrName, "../x"},
	} {
		t.Run(name, func(t *testing.T) {
			parent := t.TempDir()
			dir := filepath.Join(parent, "out")
			mustWrite(t, dir, first)
			ctx, cancel := context.WithCancel(context.Background())
			defer cancel()
			p := planOf(second)
			c.prepare(dir, &p, cancel)
			before := snapshot(t, parent)
			_, err := Write(ctx, dir, p)
			if !errors.Is(err, c.want) || !strings.Contains(fmt.Sprint(err), c.says) {
				t.Errorf("got %v, want %v saying %q", err, c.want, c.says)
			}
			if err != nil && !strings.HasSuffix(err.Error(), "nothing was changed") {
				t.Errorf("%v", err)
			}
			sameState(t, "after", snapshot(t, parent), before)
		})
	}
}

func TestCancelledBeforeItBeginsMakesNoFolder(t *testing.T) {
	parent := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Write(ctx, filepath.Join(parent, "a", "out"), planOf(first)); !errors.Is(err, ErrCancelled) {
		t.Errorf("got %v", err)
	}
	sameState(t, "after", snapshot(t, parent), map[string]string{"./": ""})
}

func TestFailedFirstRunTakesItsParentsAway(t *testing.T) {
	parent := t.TempDir()
	p := planOf(first)
	p.Add("z", func(io.Writer) error { return io.ErrUnexpectedEOF })
	if _, err := Write(context.Background(), filepath.Join(parent, "a", "b", "out"), p); err == nil {
		t.Error("no error")
	}
	sameState(t, "after", snapshot(t, parent), map[string]string{"./": ""})
}

func TestOutputIsNotAFolder(t *testing.T) {
	parent := t.TempDir()
	put(t, filepath.Join(parent, "file"), "x")
	if err := os.Symlink("nowhere", filepath.Join(parent, "dangling")); err != nil {
		t.Skip("skipped: no symbolic links here")
	}
	before := snapshot(t, parent)
	for _, dir := range []string{"file", "file/out", "file/a/out", "dangling", ""} {
		full := filepath.Join(parent, dir)
		if dir == "" {
			full = ""
		}
		if _, err := Write(context.Background(), full, planOf(first)); !errors.Is(err, ErrNotFolder) {
			t.Errorf("%q: got %v", dir, err)
		}
	}
	if _, err := Write(context.Background(), string(filepath.Separator), planOf(first)); !errors.Is(err, ErrNotFolder) {
		t.Errorf("root: got %v", err)
	}
	sameState(t, "after", snapshot(t, parent), before)
}

func TestLinkedOutputIsFollowed(t *testing.T) {
	parent := t.TempDir()
	real, link := filepath.Join(parent, "disk", "real"), filepath.Join(parent, "out")
	mustWrite(t, real, first)
	if err := os.Symlink(real, link); err != nil {
		t.Skip("skipped: no symbolic links here")
	}
	mustWrite(t, link, second)
	if got, err := os.Readlink(link); err != nil || got != real {
		t.Errorf("the link is %q, %v", got, err)
	}
	if got := snapshot(t, real)["report.json"]; got != "{2}" {
		t.Errorf("report.json = %q", got)
	}
}

func TestLinkedSubfolderIsForeign(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "out")
	mustWrite(t, dir, map[string]string{"report.json": "{}"})
	if err := os.Symlink(parent, filepath.Join(dir, "cut")); err != nil {
		t.Skip("skipped: no symbolic links here")
	}
	if _, err := Write(context.Background(), dir, planOf(second)); !errors.Is(err, ErrForeign) {
		t.Errorf("got %v", err)
	}
	if _, err := os.Stat(filepath.Join(parent, "plate.dxf")); err == nil {
		t.Error("written through the link")
	}
}

func TestWorkingFolderIsRefused(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "out")
	mustWrite(t, dir, first)
	put(t, filepath.Join(dir, "below", "mine"), "x")
	before := snapshot(t, parent)
	t.Chdir(filepath.Join(dir, "below"))
	for _, name := range []string{".", "..", dir} {
		if _, err := Write(context.Background(), name, planOf(second)); !errors.Is(err, ErrPlace) || !strings.Contains(err.Error(), "you stand in "+dir) {
			t.Errorf("%s: got %v", name, err)
		}
	}
	sameState(t, "after", snapshot(t, parent), before)
	mustWrite(t, "out", second)
}

func TestTwoRunsAtOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	mustWrite(t, dir, first)
	var inner error
	p := planOf(second)
	p.Add("z", func(w io.Writer) error {
		_, inner = Write(context.Background(), dir, planOf(first))
		return nil
	})
	if _, err := Write(context.Background(), dir, p); err != nil {
		t.Fatal(err)
	}
	if !errors.Is(inner, ErrBusy) {
		t.Errorf("the run inside got %v", inner)
	}
	if got := snapshot(t, dir)["report.json"]; got != "{2}" {
		t.Errorf("report.json = %q", got)
	}
}

func TestStartedIsCalledForEveryArtifact(t *testing.T) {
	p := planOf(first)
	told := map[string]bool{}
	p.Started = func(name string) { told[name] = true }
	if _, err := Write(context.Background(), filepath.Join(t.TempDir(), "out"), p); err != nil {
		t.Fatal(err)
	}
	if len(told) != len(first) {
		t.Errorf("told %v", told)
	}
}
