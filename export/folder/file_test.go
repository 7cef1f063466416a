package folder

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"clampwright/export/mark"
)

func TestWriteFile(t *testing.T) {
	parent := t.TempDir()
	one, two := mark.Seal([]byte("1 "+mark.Unsealed)), mark.Seal([]byte("2 "+mark.Unsealed))
	for name, c := range map[string]struct {
		before string // there already; "" nothing
		want   string // afterwards
	}{
		"new":             {"", string(two)},
		"ours":            {string(one), string(two)},
		"edited":          {string(one) + "note", string(one) + "note"},
		"somebody else's": {"mine", "mine"},
	} {
		path := filepath.Join(parent, strings.ReplaceAll(name, " ", "-"))
		if c.before != "" {
			put(t, path, c.before)
			if err := os.Chmod(path, 0o640); err != nil {
				t.Fatal(err)
			}
		}
		err := WriteFile(context.Background(), path, two)
		if got, _ := os.ReadFile(path); string(got) != c.want || (err == nil) != (c.want == string(two)) {
			t.Errorf("%s: %q, %v", name, got, err)
		}
		if info, _ := os.Stat(path); c.before != "" && info.Mode() != 0o640 {
			t.Errorf("%s: mode %v", name, info.Mode())
		}
	}
	onlyOut(t, parent)
	for name, want := range map[string]error{"no/such/folder": ErrNotFolder, "new/below": ErrNotFolder} {
		if err := WriteFile(context.Background(), filepath.Join(parent, name), two); !errors.Is(err, want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, name := range []string{parent, os.DevNull} {
		if err := WriteFile(context.Background(), name, two); err == nil || !strings.Contains(err.Error(), "it was left alone") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestFileKilledAnywhere: at every moment the file is the old or the new one.
func TestFileKilledAnywhere(t *testing.T) {
	one, two := mark.Seal([]byte("1 "+mark.Unsealed)), mark.Seal([]byte("2 "+mark.Unsealed))
	for _, missing := range []map[string]bool{nil, {"link": true}} {
		for _, there := range []bool{false, true} {
			for n, ended := 1, false; !ended; n++ {
				path := filepath.Join(t.TempDir(), "report.json")
				if there {
					put(t, path, string(one))
				}
				f := &fault{kill: n, missing: missing}
				_ = f.disk().writeFile(context.Background(), path, two, Free)
				got, err := os.ReadFile(path)
				if there != (err == nil) && string(got) != string(two) || err == nil && string(got) != string(one) && string(got) != string(two) {
					t.Errorf("killed at %d: %q, %v", n, got, err)
				}
				if err := WriteFile(context.Background(), path, two); err != nil {
					t.Errorf("after a kill at %d: %v", n, err)
				}
				onlyOut(t, filepath.Dir(path))
				ended = f.n < n
			}
		}
	}
}
