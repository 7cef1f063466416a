package page

import (
	"bytes"
	"os"
	"testing"
)

func encoded(t testing.TB, s Sheet) string {
	t.Helper()
	var b bytes.Buffer
	if err := Encode(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestWritePage(t *testing.T) {
	name := os.Getenv("CLAMPWRIGHT_PAGE_OUT")
	if name == "" {
		t.Skip("set CLAMPWRIGHT_PAGE_OUT=FILE to keep the sample page")
	}
	if err := os.WriteFile(name, []byte(encoded(t, sampleSheet())), 0o644); err != nil {
		t.Fatal(err)
	}
}

func BenchmarkEncode(b *testing.B) {
	s := sampleSheet()
	for b.Loop() {
		var w bytes.Buffer
		if err := Encode(&w, s); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(w.Len()), "bytes")
	}
}
