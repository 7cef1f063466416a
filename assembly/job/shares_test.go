package job

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"clampwright/assembly/assure"
	"clampwright/params"
)

var updateShares = flag.Bool("update", false, "write testdata/shares.txt anew")

// shareLine is a fixture's share as its card says, without and with service, and at both
// ends of what is known least: growth not lessened by holding, and lessened most.
func shareLine(name string, s *assure.Share) string {
	asked := "no"
	if s.Serve {
		asked = "yes"
	}
	return fmt.Sprintf("%-34s %-26s %5.1f %8.1f %8.1f %4s %5.1f %8.1f %8.1f\n", name, string(s.Method), 100*s.Share, 100*s.Left, 100*s.Served, asked, s.Again, 100*s.Least, 100*s.Most)
}

const shareHead = "%-34s %-26s %5s %8s %8s %4s %5s %8s %8s\n"

// The share of every example and starter, and of four, eight and sixteen cells for every
// way of setting, against testdata/shares.txt: a change of any of them is to be seen.
func TestShares(t *testing.T) {
	if testing.Short() {
		t.Skip("every example, starter and way of setting")
	}
	var b strings.Builder
	fmt.Fprintf(&b, shareHead, "fixture", "set by", "share", "unserved", "served", "asks", "again", "at least", "at most")
	share := func(name, text string) {
		f, diags := params.Load(name, []byte(text))
		if f == nil {
			t.Fatal(name, diags)
		}
		b.WriteString(shareLine(name, shareOf(t, f)))
	}
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		share(strings.TrimSuffix(filepath.Base(file), ".yaml"), string(text))
	}
	for _, n := range []int{4, 8, 16} {
		text, _, err := params.Starter(params.StarterOptions{Cells: n})
		if err != nil {
			t.Fatal(err)
		}
		share(fmt.Sprintf("starter of %d", n), string(text))
	}
	for _, way := range []struct{ name, text string }{
		{"locking nuts", "nuts: {kind: prevailing}"}, {"plain nuts, locked", "nuts: {kind: jam}"},
		{"discs", "springs: {disc: 20x10.2x1.1}"}, {"coil springs", "springs: {}"},
		{"cork, locking nuts", "nuts: {kind: prevailing}\nseparators: {material: cork, thickness: 2}"},
	} {
		for _, n := range []int{4, 8, 16} {
			share(fmt.Sprintf("%s, %d cells", way.name, n), fmt.Sprintf("fixture: a\ncell: {model: 72x174x201, force: 300 kgf, force_tolerance: 60 kgf, force_limit: 1000 kgf}\npack: {cells: %d}\nplates: {material: hdpe, thickness: 19 mm}\nrods: {thread: M8}\n%s\n", n, way.text))
		}
	}
	const golden = "testdata/shares.txt"
	if *updateShares {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil || string(want) != b.String() {
		t.Errorf("%v: the shares are not those of %s (-update writes it anew):\n%s", err, golden, b.String())
	}
}

// shareOf is a fixture's share as Compute finds it, without checks and wiring.
func shareOf(t *testing.T, f *params.Fixture) *assure.Share {
	t.Helper()
	j := &Job{Fixture: f}
	if err := atOnce(j.press, j.reduce); err != nil {
		t.Fatal(err)
	}
	j.study()
	return j.Assurance
}
