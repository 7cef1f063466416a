package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// values finds the values of a parameter file: after a key, or in a list.
var values = regexp.MustCompile(`(?m)[a-z_]+: *("[^"]*"|[^\s,{}\[\]#"][^,{}\[\]#\n]*)|[\[,] *([-0-9][^,{}\[\]#:\n]*)[,\]]`)

var leadNumber = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?`)

// mutants are what a slip of the hand makes of a value.
func mutants(value string) []string {
	out := []string{"", "word", "-" + value}
	if n := leadNumber.FindString(value); n != "" {
		x, _ := strconv.ParseFloat(n, 64)
		for _, times := range []float64{0, -1, 1e3, 1e-3, 0.3, 0.6, 1.5, 3} {
			out = append(out, strconv.FormatFloat(math.Round(times*x*1e6)/1e6, 'f', -1, 64)+value[len(n):])
		}
	}
	return out
}

// What an error on the input must have, and what it must not.
var (
	placed    = regexp.MustCompile(`(?m)^\S+\.(yaml|csv):[0-9]+:[0-9]+: error: `)
	innermost = regexp.MustCompile(`%!|NaN|[-+]?Inf\b|[0-9]\.[0-9]{7,}|[0-9]e[-+]?[0-9]|[A-Za-z_]\[[0-9]+\]\.[a-z_]+ =|\b[a-z]+_(mm|mpa|n)\b|[a-z]MM\b|goroutine`)
)

// Every value of every example, spoiled in every way that a hand does it, gives an
// exit code of the contract, and what is refused says where. CLAMPWRIGHT_MUTATIONS
// says how many are tried; a few without.
func TestMutations(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 7 {
		t.Fatal(err, files)
	}
	most, _ := strconv.Atoi(os.Getenv("CLAMPWRIGHT_MUTATIONS"))
	dir := t.TempDir()
	records, err := os.ReadFile("../../examples/cells-eight.csv")
	if err != nil {
		t.Fatal(err)
	}
	save := func(name string, text []byte) {
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	save("cells-eight.csv", records)
	type mutation struct{ file, text, what string }
	var all []mutation
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, at := range values.FindAllSubmatchIndex(text, -1) {
			from, to := at[2], at[3]
			if from < 0 {
				from, to = at[4], at[5]
			}
			value := strings.TrimRight(string(text[from:to]), " ")
			for _, m := range mutants(value) {
				spoiled := string(text[:from]) + m + string(text[from+len(value):])
				all = append(all, mutation{filepath.Base(file), spoiled, fmt.Sprintf("line %d: %q -> %q", 1+bytes.Count(text[:from], []byte("\n")), value, m)})
			}
		}
	}
	random := rand.New(rand.NewPCG(1, uint64(most)))
	random.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
	if most == 0 {
		most = 15
	}
	codes := map[int]int{}
	for _, m := range all[:min(most, len(all))] {
		save(m.file, []byte(m.text))
		var out, errs bytes.Buffer
		code := run(context.Background(), []string{"clampwright", "check", filepath.Join(dir, m.file)}, &console{out: &out, err: &errs, width: 100})
		codes[code]++
		said := strings.ReplaceAll(errs.String(), dir+"/", "")
		var shown []string // without the excerpts of the file
		for _, line := range strings.Split(said, "\n") {
			if !strings.Contains(line, " | ") {
				shown = append(shown, line)
			}
		}
		bad := innermost.FindString(strings.Join(shown, "\n"))
		switch {
		case !slices.Contains([]int{exitDone, exitInput, exitFouled}, code):
			t.Errorf("%s %s: exit code %d\n%s", m.file, m.what, code, said)
		case code == exitInput && !placed.MatchString(said):
			t.Errorf("%s %s: without a place\n%s", m.file, m.what, said)
		case code == exitInput && bad != "" || strings.Contains(out.String(), "NaN"):
			t.Errorf("%s %s: says %q\n%s", m.file, m.what, bad, said)
		}
	}
	t.Logf("%d of %d mutations: codes %v", min(most, len(all)), len(all), codes)
}
