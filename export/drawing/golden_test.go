package drawing_test

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"clampwright/export/drawing"
	"clampwright/export/svg"
)

// update writes the golden files anew.
var update = os.Getenv("UPDATE_GOLDEN") != ""

// describe is the reviewable form of a sheet: its size, what it holds, a
// checksum of its picture, and its words in drawing order.
func describe(t *testing.T, b *bytes.Buffer, name string, s *drawing.Sheet) {
	t.Helper()
	var pic bytes.Buffer
	if err := svg.Encode(&pic, s, svg.Options{}); err != nil {
		t.Fatal(err)
	}
	counts := map[string]int{}
	var words []string
	count(s.Items, counts, &words)
	fmt.Fprintf(b, "%s: %q %.1f x %.1f mm, %d lines %d arcs %d circles %d chains, svg %x\n", name, s.Title, s.W, s.H,
		counts["Line"], counts["Arc"], counts["Circle"], counts["Chain"], sha256.Sum256(pic.Bytes()))
	fmt.Fprintf(b, "  %s\n", strings.Join(words, " | "))
}

func count(items []drawing.Item, n map[string]int, words *[]string) {
	for _, it := range items {
		switch it := it.(type) {
		case drawing.Clip:
			count(it.Items, n, words)
		case drawing.Text:
			*words = append(*words, it.S)
		default:
			n[strings.TrimPrefix(fmt.Sprintf("%T", it), "drawing.")]++
		}
	}
}

func TestGolden(t *testing.T) {
	var b bytes.Buffer
	for _, s := range samples() {
		sheet, err := s.sheet.Draw()
		if err != nil {
			t.Fatal(err)
		}
		describe(t, &b, s.name, &sheet)
	}
	a, err := assembly(drawing.Millimetres(2), drawing.A4, true).Draw()
	if err != nil {
		t.Fatal(err)
	}
	describe(t, &b, "assembly", &a)
	for _, s := range templateSamples() {
		pages, err := s.t.Pages()
		if err != nil {
			t.Fatal(err)
		}
		for i := range pages {
			describe(t, &b, s.name, &pages[i])
		}
	}
	file := filepath.Join("testdata", "sheets.txt")
	if update {
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	got, old := strings.Split(b.String(), "\n"), strings.Split(string(want), "\n")
	for i := range min(len(got), len(old)) {
		if got[i] != old[i] {
			t.Fatalf("line %d of %s differs (UPDATE_GOLDEN=1 writes it anew)\n got %s\nwant %s", i+1, file, got[i], old[i])
		}
	}
	if len(got) != len(old) {
		t.Fatalf("%d lines, want %d", len(got), len(old))
	}
}

func TestSheetErrors(t *testing.T) {
	huge := drilled("p", "end-plate", roundedRect(1e7, 1e7, 0), 5, 8, 2, "", v(10, 10))
	for i, s := range []drawing.PartSheet{{}, {Part: huge}} {
		if _, err := s.Draw(); err == nil {
			t.Errorf("part sheet %d: no error", i)
		}
	}
	for i, p := range []drawing.Template{{}, {Part: huge},
		{Part: metricPlate(), Angle: &drawing.AngleShape{DrilledLegMM: 30, StandingLegMM: 30, ThicknessMM: 3}},
		{Part: metricPlate(), Paper: drawing.Paper{Name: "stamp", W: 30, H: 30}}} {
		if _, err := p.Pages(); err == nil {
			t.Errorf("template %d: no error", i)
		}
	}
	if _, err := (drawing.AssemblySheet{}).Draw(); err == nil {
		t.Error("empty assembly: no error")
	}
}
