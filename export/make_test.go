package export

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"clampwright/assembly/job"
	"clampwright/export/mark"
	"clampwright/export/report"
	"clampwright/params"
)

func noStep(string) {}

// Job is a job whose tests are told by what it is.
type Job struct{ *job.Job }

func show(j *job.Job) *Job { return &Job{j} }

// compute computes a fixture and shows it.
func compute(ctx context.Context, f *params.Fixture, step job.Step) (*Job, error) {
	j, err := job.Compute(ctx, f, step)
	if err != nil {
		return nil, err
	}
	return show(j), nil
}

// reportJSON is the report as it stands alone.
func reportJSON(j *Job) ([]byte, error) {
	var b bytes.Buffer
	err := mark.Sealed(func(w io.Writer) error { return report.Encode(w, j.Job, mark.Version(), nil) })(&b)
	return b.Bytes(), err
}

// locked is the first example without its springs.
func locked(t testing.TB) *Job {
	return computed(t, "four-cell-offcut", "springs: {}", "springs: none")
}

// computed computes an example, with other words in its text.
func computed(t testing.TB, name string, other ...string) *Job {
	t.Helper()
	file := filepath.Join("..", "examples", name+".yaml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	text = []byte(strings.NewReplacer(other...).Replace(string(text)))
	f, diags := params.Load(file, text)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	j, err := job.Compute(context.Background(), f, noStep)
	if err != nil {
		t.Fatal(err)
	}
	return show(j)
}

// artifacts encodes everything a job writes, marked by the name of its family.
func artifacts(t testing.TB, j *Job, family ...string) map[string][]byte {
	t.Helper()
	plan, err := Plan(j.Job, Options{Cut: true, Fixture: strings.Join(family, "")})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	for _, a := range plan.Artifacts {
		var b bytes.Buffer
		if err := a.Encode(&b); err != nil {
			t.Fatalf("%s: %v", a.Name, err)
		}
		out[a.Name] = b.Bytes()
	}
	return out
}

// example is one example, computed and encoded.
type example struct {
	job   *Job
	files map[string][]byte
}

var (
	madeLock sync.Mutex
	madeOnce = map[string]*example{}
)

// made is an example as it comes, computed once for all tests that only read.
func made(t testing.TB, name string) *example {
	t.Helper()
	madeLock.Lock()
	defer madeLock.Unlock()
	e := madeOnce[name]
	if e == nil {
		j := computed(t, name)
		e = &example{j, artifacts(t, j)}
		madeOnce[name] = e
	}
	return e
}

func benchmarkMake(b *testing.B, name string) {
	for b.Loop() {
		artifacts(b, computed(b, name))
	}
}

func BenchmarkMakeFourCells(b *testing.B) { benchmarkMake(b, "four-cell-offcut") }
func BenchmarkMakeTwoRows(b *testing.B)   { benchmarkMake(b, "sixteen-cell-two-rows") }
