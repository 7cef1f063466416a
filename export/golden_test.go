package export

import (
	"bytes"
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write what the examples give now to testdata/examples")

// Every example is a regression: what it gives is kept as a text to be read when
// it changes, with the checksum of each file below. The checksums hold on one
// architecture only, because others fuse multiplications and additions; files
// compressed by the tool chain's library have no checksum.
func TestExamplesGiveWhatTheyGave(t *testing.T) {
	for _, name := range exampleNames(t) {
		t.Run(name, func(t *testing.T) {
			e := made(t, name)
			got := summaryText(e.job) + checksums(e.files)
			file := filepath.Join("testdata", "examples", name+".txt")
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatalf("%v; go test ./export -run Gave -update writes it", err)
			}
			if runtime.GOARCH != "amd64" {
				t.Skip("skipped: kept figures are those of amd64")
			}
			if line := firstDifference(string(want), got); line != "" {
				t.Errorf("%s; if that is meant: go test ./export -run Gave -update, and read the difference", line)
			}
		})
	}
}

// summaryText is what a reviewer reads: verdict, checks, parts, cuts, forces.
func summaryText(j *Job) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\nchecks\n", j.Sentence())
	for _, c := range j.Findings {
		fmt.Fprintf(&b, "  %-5s %-24s %10.3f  %-8s %10.3f %-4s %s\n", c.Verdict, c.ID, c.Have, c.Sense, c.Need, c.Unit, strings.Join(c.Between, ", "))
	}
	fmt.Fprint(&b, "\nstates\n")
	for _, s := range j.Clamp.States {
		fmt.Fprintf(&b, "  %-16s %8.0f N  mean %6.1f  centre %6.1f kPa  contact %.2f\n", s.Name, s.ForceN, s.Pressure.Mean, s.Pressure.Centre, s.ContactFraction)
	}
	fmt.Fprint(&b, "\nfiles\n")
	return b.String()
}

func checksums(files map[string][]byte) string {
	var names []string
	for name := range files {
		names = append(names, name)
	}
	slices.Sort(names)
	var b bytes.Buffer
	for _, name := range names {
		sum := fmt.Sprintf("%x", sha256.Sum256(files[name]))[:16]
		if ext := filepath.Ext(name); ext == ".pdf" || ext == ".3mf" || ext == ".html" {
			sum = "compressed"
		}
		fmt.Fprintf(&b, "  %-16s %s\n", sum, name)
	}
	return b.String()
}

// firstDifference names the first line in which two texts differ.
func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range max(len(w), len(g)) {
		a, b := "", ""
		if i < len(w) {
			a = w[i]
		}
		if i < len(g) {
			b = g[i]
		}
		if a != b {
			return fmt.Sprintf("line %d: was %q, is %q", i+1, a, b)
		}
	}
	return ""
}
