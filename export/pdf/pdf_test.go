package pdf_test

import (
	"bytes"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"clampwright/export/drawing"
	"clampwright/export/pdf"
	"clampwright/parts/geom"
	"clampwright/testdata/outside"
)

func page() drawing.Sheet {
	return drawing.Sheet{Title: "test", W: 215.9, H: 279.4, Items: []drawing.Item{
		drawing.Line{A: geom.Vec2{X: 20, Y: 20}, B: geom.Vec2{X: 120, Y: 20}, Pen: drawing.Centre},
		drawing.Circle{C: geom.Vec2{X: 100, Y: 100}, R: 40, Pen: drawing.Visible},
		drawing.Arc{C: geom.Vec2{X: 50, Y: 200}, R: 30, Start: 1, Sweep: -2, Pen: drawing.Hidden},
		drawing.Text{At: geom.Vec2{X: 30, Y: 150}, S: "Ø 8.73 ± 0.1 × 45° ½ in", Height: 3.5},
		drawing.Text{At: geom.Vec2{X: 30, Y: 160}, S: "bold", Height: 3.5, Face: drawing.Bold, Angle: math.Pi / 2},
		drawing.Text{At: geom.Vec2{X: 60, Y: 170}, S: "mono (a\\b)", Height: 3.5, Face: drawing.Mono},
	}}
}

func encode(t *testing.T, sheets ...drawing.Sheet) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Encode(&b, "a title", "what it is", sheets); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestSameSheetsSameBytes(t *testing.T) {
	want := encode(t, page())
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			var b bytes.Buffer
			if err := pdf.Encode(&b, "a title", "what it is", []drawing.Sheet{page()}); err != nil || !bytes.Equal(want, b.Bytes()) {
				t.Errorf("bytes differ between runs (%v)", err)
			}
		})
	}
	wg.Wait()
}

// poppler and qpdf agree that the file is sound, the page of true size, all
// fonts embedded, and every sign readable.
func TestOutsideReaders(t *testing.T) {
	file := filepath.Join(t.TempDir(), "t.pdf")
	if err := os.WriteFile(file, encode(t, page()), 0o644); err != nil {
		t.Fatal(err)
	}
	run := func(name string, args ...string) string {
		out, err := exec.Command(outside.Program(t, name), args...).CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v\n%s", name, err, out)
		}
		return string(out)
	}
	run("qpdf", "--check", file)
	if info := run("pdfinfo", file); !regexp.MustCompile(`Page size:\s+612 x 792 pts`).MatchString(info) {
		t.Errorf("page size: %s", info)
	}
	fonts := strings.Split(strings.TrimSpace(run("pdffonts", file)), "\n")[2:]
	if len(fonts) != 3 {
		t.Errorf("%d fonts, want 3: %v", len(fonts), fonts)
	}
	for _, f := range fonts {
		if !regexp.MustCompile(`yes (yes|no)\s+yes`).MatchString(f) {
			t.Errorf("font not embedded with a map to text: %s", f)
		}
	}
	text := run("pdftotext", "-layout", file, "-")
	for _, w := range []string{"Ø 8.73 ± 0.1 × 45° ½ in", `mono (a\b)`} {
		if !strings.Contains(text, w) {
			t.Errorf("text %q not found in %q", w, text)
		}
	}
}

// A sign outside the base set brings the whole face in rather than a gap.
func TestRareSigns(t *testing.T) {
	s := page()
	s.Items = append(s.Items, drawing.Text{At: geom.Vec2{X: 20, Y: 30}, S: "Ωλ Ж", Height: 3})
	file := filepath.Join(t.TempDir(), "t.pdf")
	if err := os.WriteFile(file, encode(t, s), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(outside.Program(t, "pdftotext"), file, "-").Output()
	if err != nil || !strings.Contains(string(out), "Ωλ Ж") {
		t.Errorf("%v: %q", err, out)
	}
}

// The drawn length of text is what the layout measured: poppler's word boxes
// against TextWidth. Poppler rounds widths to 1/1000 em.
func TestMeasuredWidthIsPrintedWidth(t *testing.T) {
	const words = "Measure_the_width_of_11/32_in_(8.73_mm)"
	s := drawing.Sheet{W: 210, H: 297, Items: []drawing.Item{drawing.Text{At: geom.Vec2{X: 20, Y: 100}, S: words, Height: 5}}}
	file := filepath.Join(t.TempDir(), "t.pdf")
	if err := os.WriteFile(file, encode(t, s), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(outside.Program(t, "pdftotext"), "-bbox", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`xMin="([\d.]+)".*xMax="([\d.]+)"`).FindSubmatch(out)
	if m == nil {
		t.Fatalf("no word box in %s", out)
	}
	got := (number(t, m[2]) - number(t, m[1])) / 72 * 25.4
	if want := drawing.TextWidth(words, drawing.Regular, 5); math.Abs(got-want) > 0.15 {
		t.Errorf("printed %v mm, measured %v mm", got, want)
	}
}

func TestRefusesWhatCannotBeDrawn(t *testing.T) {
	bad := page()
	bad.Items = append(bad.Items, drawing.Line{B: geom.Vec2{X: math.NaN()}})
	inf := page()
	inf.Items = append(inf.Items, drawing.Arc{R: 1, Sweep: math.Inf(1)})
	textInf := page()
	textInf.Items = append(textInf.Items, drawing.Text{At: geom.Vec2{X: math.Inf(1)}, S: "x", Height: 2})
	for _, sheets := range [][]drawing.Sheet{nil, {{W: 0, H: 10}}, {{W: math.NaN(), H: 10}}, {bad}, {inf}, {textInf}} {
		if err := pdf.Encode(&bytes.Buffer{}, "bad", "what it is", sheets); err == nil {
			t.Errorf("accepted %v", sheets)
		}
	}
	if err := pdf.Encode(failing{}, "full", "what it is", []drawing.Sheet{page()}); err == nil {
		t.Error("a failing writer went unnoticed")
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func number(t *testing.T, b []byte) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(string(b), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
