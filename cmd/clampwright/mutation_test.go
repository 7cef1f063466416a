//go:build unix

package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/params"
)

// values finds the values of a parameter file: after a key, or in a list.
var values = regexp.MustCompile(`(?m)[a-z_]+: *("[^"]*"|[^\s,{}\[\]#"][^,{}\[\]#\n]*)|[\[,] *([-0-9][^,{}\[\]#:\n]*)[,\]]`)

var leadNumber = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?`)

// mutants are what a slip of the hand makes of a value.
func mutants(value string) []string {
	out := []string{"", "word", "-" + value, "0", "null", "[1, 2]", "{a: 1}", "1/0", "9e99", ".", "\"" + value, value + " mm", strings.Repeat(value, 40)}
	if leadNumber.MatchString(value) {
		for _, times := range []float64{0, -1, 1e3, 1e-3, 0.3, 0.6, 1.5, 3} {
			out = append(out, scaled(value, times))
		}
	}
	return out
}

// scaled is a value whose number is multiplied.
func scaled(value string, times float64) string {
	n := leadNumber.FindString(value)
	x, _ := strconv.ParseFloat(n, 64)
	return strconv.FormatFloat(math.Round(times*x*1e3)/1e3, 'f', -1, 64) + value[len(n):]
}

// nearSlip changes a number a little, as a slip that is not seen at once.
func nearSlip(r *rand.Rand, text string) string {
	for range 50 { // other values than numbers are left as they are
		if slipped := nearSlipOnce(r, text); slipped != text {
			return slipped
		}
	}
	return text
}

func nearSlipOnce(r *rand.Rand, text string) string {
	return oneValue(r, text, func(value string) string {
		if times := 0.5 + 1.5*r.Float64(); leadNumber.MatchString(value) && !strings.Contains(value, "x") {
			if n := leadNumber.FindString(value); !strings.Contains(n, ".") && len(n) < 3 {
				return strconv.Itoa(1+r.IntN(20)) + value[len(n):]
			}
			return scaled(value, times)
		}
		return value
	})
}

// valueSlip spoils one value of a text.
func valueSlip(r *rand.Rand, text string) string {
	return oneValue(r, text, func(value string) string {
		m := mutants(value)
		return m[r.IntN(len(m))]
	})
}

// oneValue changes one value of a text.
func oneValue(r *rand.Rand, text string, change func(string) string) string {
	all := values.FindAllStringSubmatchIndex(text, -1)
	if len(all) == 0 {
		return text
	}
	at := all[r.IntN(len(all))]
	from, to := max(at[2], at[4]), max(at[3], at[5])
	value := strings.TrimRight(text[from:to], " ")
	return text[:from] + change(value) + text[from+len(value):]
}

// lineSlip drops, doubles, moves or sets in a line.
func lineSlip(r *rand.Rand, text string) string {
	lines := strings.SplitAfter(text, "\n")
	i, k := r.IntN(len(lines)), r.IntN(len(lines))
	switch r.IntN(5) {
	case 0:
		lines = slices.Delete(lines, i, i+1)
	case 1:
		lines = slices.Insert(lines, k, lines[i])
	case 2:
		lines[i], lines[k] = lines[k], lines[i]
	case 3:
		lines[i] = strings.Repeat(" ", 1+r.IntN(3)) + lines[i]
	default:
		lines[i] = strings.TrimPrefix(lines[i], " ")
	}
	return strings.Join(lines, "")
}

// letters are what a finger hits beside what was meant.
var letters = []string{"", "", "x", "7", ":", "{", "}", "[", "]", "\"", "'", "#", "&", "*", "!", "|", ">", "%", "@", "-", ",", "\t", "\n", "\x00", "\u202e", "\u0085", "é", "\xff"}

// letterSlip puts a letter in the place of another, beside it, or for all that follows.
func letterSlip(r *rand.Rand, text string) string {
	at := r.IntN(len(text) + 1)
	to := min(len(text), at+r.IntN(2))
	if r.IntN(20) == 0 {
		to = len(text)
	}
	return text[:at] + letters[r.IntN(len(letters))] + text[to:]
}

// spoil makes a slip or some, mostly in values.
func spoil(r *rand.Rand, text string) string {
	slips := []func(*rand.Rand, string) string{nearSlip, nearSlip, nearSlip, nearSlip, valueSlip, valueSlip, lineSlip, letterSlip}
	for more := true; more; more = r.IntN(2) == 0 {
		text = slips[r.IntN(len(slips))](r, text)
	}
	return text
}

// What an error on the input must have, and what it must not.
var (
	placed    = regexp.MustCompile(`(?m)^\S+\.(yaml|csv):[0-9]+:[0-9]+: error: `)
	innermost = regexp.MustCompile(`%!|NaN|[-+]?Inf\b|[0-9]\.[0-9]{7,}|[0-9]e[-+]?[0-9]|[A-Za-z_]\[[0-9]+\]\.[a-z_]+ =|\b[a-z]+_(mm|mpa|n)\b|[a-z]MM\b|goroutine`)
	quoted    = regexp.MustCompile(`"[^"]*"`)
	notNumber = regexp.MustCompile(`\b(NaN|[-+]Inf)\b`)
)

// What a run may take: processor time, and memory of all runs one after another.
const (
	mostTime   = 10 * time.Second
	mostMemory = 500 << 20
)

// trial runs one spoiled file and says what is wrong with what came of it.
type trial struct {
	dir  string // with the file and what belongs to it
	read bool   // a file that can be read is not computed
	code int
	took time.Duration

	done     map[string]int // exit codes by what was done with which fixtures
	repeated int            // runs that were done already
}

func (m *trial) run(make, mend bool, name, text string) (wrong string) {
	if err := os.WriteFile(filepath.Join(m.dir, name), []byte(text), 0o600); err != nil {
		return err.Error()
	}
	var out, errs bytes.Buffer
	ui := &console{out: &out, err: &errs, width: 100}
	ctx, file, before := context.Background(), filepath.Join(m.dir, name), used()
	key := fmt.Sprint(make, mend, sayings(ctx, file))
	if code, ok := m.done[key]; ok && !m.read {
		m.repeated++
		m.code = code
		return ""
	}
	defer func() { m.done[key] = m.code }()
	switch {
	case make:
		m.code = run(ctx, []string{"clampwright", "make", "--out", filepath.Join(m.dir, "out"), file}, ui)
	case mend:
		m.code = run(ctx, []string{"clampwright", "check", file}, ui)
	default:
		m.code = checkUnmended(ctx, ui, file, m.read)
	}
	m.took = used() - before
	said := strings.ReplaceAll(errs.String(), m.dir+"/", "")
	var shown []string // without the excerpts of the file and what it says
	for _, line := range strings.Split(said, "\n") {
		if strings.Contains(line, " | ") {
			continue
		}
		line, _, _ = strings.Cut(quoted.ReplaceAllString(line, ""), "found:")
		shown = append(shown, line)
	}
	bad := innermost.FindString(strings.Join(shown, "\n"))
	switch {
	case !slices.Contains([]int{exitDone, exitInput, exitFouled}, m.code):
		return fmt.Sprintf("exit code %d\n%s", m.code, said)
	case m.code == exitInput && !placed.MatchString(said):
		return "without a place\n" + said
	case m.code == exitInput && bad != "" && !strings.Contains(text, bad): // a name of the file's own is said back
		return fmt.Sprintf("says %q\n%s", bad, said)
	case notNumber.MatchString(out.String()):
		return "prints what is no number\n" + out.String()
	case m.took > mostTime:
		return fmt.Sprintf("took %v", m.took)
	}
	return m.numbers()
}

// sayings is all that a file says but for its own text: what is computed of two files
// for which it is the same is the same. It is the name and the notes where a file can't
// be read.
func sayings(ctx context.Context, file string) string {
	var notes bytes.Buffer
	in, err := readAll(ctx, &console{out: &notes, err: &notes, width: 100}, file)
	if err != nil {
		return file + notes.String()
	}
	all := []*params.Fixture{in.base}
	for _, v := range in.variants {
		all = append(all, v.Fixture)
	}
	var b strings.Builder
	for _, f := range all {
		if f == nil {
			continue
		}
		bare := *f
		bare.InputSHA256 = ""
		if err := json.NewEncoder(&b).Encode(bare); err != nil {
			return file + err.Error() + f.InputSHA256
		}
	}
	return fmt.Sprintf("%x", sha256.Sum256([]byte(b.String())))
}

// numbers looks for what is no number in the files that were made, and removes them.
func (m *trial) numbers() (wrong string) {
	dir := filepath.Join(m.dir, "out")
	_ = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !slices.Contains([]string{".json", ".html", ".csv", ".dxf", ".svg", ".step"}, filepath.Ext(path)) {
			return err
		}
		text, err := os.ReadFile(path)
		if bad := notNumber.Find(text); bad != nil && wrong == "" {
			wrong = fmt.Sprintf("%s has %q", path, bad)
		}
		return err
	})
	_ = os.RemoveAll(dir)
	return wrong
}

// checkUnmended is check without the search for what mends, which takes longest.
func checkUnmended(ctx context.Context, ui *console, name string, read bool) int {
	in, err := readAll(ctx, ui, name)
	if err == nil && read {
		return exitDone
	}
	if err == nil {
		var j *job.Job
		if j, err = computeFixture(ctx, ui, in, job.WithAnswers(0)); err == nil {
			printVerdict(ui, j)
			if j.Verdict() == finding.Fail {
				return exitFouled
			}
			return exitDone
		}
	}
	if o, ok := err.(*outcome); ok {
		ui.fail(o.text)
		return o.code
	}
	ui.fail(err.Error())
	return exitFailed
}

// used is the processor time of this process.
func used() time.Duration {
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// mostHeld is the line in which Linux tells the most memory that a program has held. The
// figure of Getrusage would not do: it begins at what the process that started it held.
var mostHeld = regexp.MustCompile(`(?m)^VmHWM:\s*([0-9]+) kB$`)

// peak is the most memory this process has held, bytes.
func peak() int64 {
	if status, err := os.ReadFile("/proc/self/status"); err == nil {
		if s := mostHeld.FindSubmatch(status); s != nil {
			kb, _ := strconv.ParseInt(string(s[1]), 10, 64)
			return kb << 10
		}
	}
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return int64(u.Maxrss) << 10
}

// fromEnv is a number from the environment.
func fromEnv(name string, without int) int {
	if n, err := strconv.Atoi(os.Getenv(name)); err == nil {
		return n
	}
	return without
}

// TestMutations spoils the examples as hands do: every run ends with an exit code of
// the contract and within bounds, what is refused says where, and nothing made holds
// what is no number. One in ten is made as well, one in fifty is mended where it fails.
// CLAMPWRIGHT_MUTATIONS says how many are tried, CLAMPWRIGHT_MUTATIONS_FROM from which
// on; each number always gives the same file. What comes out the same when it is read is
// computed once. CLAMPWRIGHT_MUTATIONS_READ leaves out what
// comes after the reading, which refuses most and costs little.
func TestMutations(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 7 {
		t.Fatal(err, files)
	}
	m := trial{dir: t.TempDir(), done: map[string]int{}, read: os.Getenv("CLAMPWRIGHT_MUTATIONS_READ") != ""}
	records, err := os.ReadFile("../../examples/cells-eight.csv")
	if err == nil {
		err = os.WriteFile(filepath.Join(m.dir, "cells-eight.csv"), records, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	from, most := fromEnv("CLAMPWRIGHT_MUTATIONS_FROM", 0), fromEnv("CLAMPWRIGHT_MUTATIONS", map[bool]int{false: 25, true: 5}[testing.Short()])
	codes, slowest := map[int]int{}, time.Duration(0)
	for n := from; n < from+most; n++ {
		r := rand.New(rand.NewPCG(18, uint64(n)))
		file := files[r.IntN(len(files))]
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		spoiled := spoil(r, string(text))
		if wrong := m.run(n%10 == 0 && !m.read, n%50 == 1 && !m.read, filepath.Base(file), spoiled); wrong != "" {
			t.Errorf("mutation %d of %s: %s", n, filepath.Base(file), wrong)
			if dir := os.Getenv("CLAMPWRIGHT_MUTATIONS_KEEP"); dir != "" {
				_ = os.WriteFile(filepath.Join(dir, fmt.Sprintf("%d-%s", n, filepath.Base(file))), []byte(spoiled), 0o600)
			}
		}
		codes[m.code]++
		slowest = max(slowest, m.took)
	}
	if got := peak(); got > mostMemory && !testing.Short() {
		t.Errorf("%d MB were held", got>>20)
	}
	t.Logf("%d mutations, %d repeated: codes %v, slowest %v, at most %d MB", most, m.repeated, codes, slowest, peak()>>20)
}
