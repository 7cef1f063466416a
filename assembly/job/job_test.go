package job

import (
	"os"
	"path/filepath"
	"testing"

	"clampwright/params"
)

// example computes one of the examples.
func example(t *testing.T, name string) *Job {
	t.Helper()
	path := filepath.Join("..", "..", "examples", name+".yaml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f, diags := params.Load(path, text)
	if f == nil {
		t.Fatal(diags)
	}
	j, err := Compute(t.Context(), f, func(string) {})
	if err != nil {
		t.Fatal(err)
	}
	return j
}
