package export

import (
	"archive/zip"
	"bytes"
	"compress/zlib"
	"fmt"
	"html"
	"io"
	"math"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"
)

// readable is a file as a reviewer reads it: what a page says by its sections,
// the text runs of each sheet with their places, the holes of an outline, the
// bodies of a file to print. Empty for files that are text themselves or meshes.
func readable(t testing.TB, name string, data []byte) string {
	t.Helper()
	var lines []string
	switch path.Ext(name) {
	case ".html":
		lines = pageText(string(data))
	case ".pdf":
		lines = pdfText(t, data)
	case ".3mf":
		lines = bodiesText(t, data)
	case ".dxf":
		lines = dxfText(string(data))
	default:
		return ""
	}
	return "\n" + name + "\n  " + strings.Join(lines, "\n  ") + "\n"
}

var (
	notText   = regexp.MustCompile(`(?s)<(script|style|head|nav)\b.*?</(script|style|head|nav)>|<section id="files".*?</section>`)
	lineEnd   = regexp.MustCompile(`</(p|li|tr|h1|h2|h3|h4|dl|caption|figcaption|svg|summary|section|label)>`)
	cellEnd   = regexp.MustCompile(`</(td|th|dt|dd|text|tspan|span|b)>|<br>|<small`)
	anyTag    = regexp.MustCompile(`(?s)<[^>]*>`)
	manySpace = regexp.MustCompile(`\s+`)
)

// pageText is what a page says, a line for every paragraph, row and picture.
func pageText(page string) []string {
	page = notText.ReplaceAllString(page, "")
	page = manySpace.ReplaceAllString(page, " ")
	page = lineEnd.ReplaceAllString(page, "\x00")
	page = anyTag.ReplaceAllString(cellEnd.ReplaceAllString(page, " | "), "")
	var out []string
	for line := range strings.SplitSeq(html.UnescapeString(page), "\x00") {
		if line = strings.Trim(manySpace.ReplaceAllString(line, " "), " |"); line != "" {
			out = append(out, line)
		}
	}
	return out
}

var (
	pdfStream = regexp.MustCompile(`(?s)/FlateDecode\s*/Length \d+>>\s*stream\n(.*?)\nendstream`)
	pdfPlace  = regexp.MustCompile(`(?:[-\d.]+ ){4}([-\d.]+) ([-\d.]+) cm\s*$`)
	pdfRun    = regexp.MustCompile(`(?s)BT ([-\d.]+) ([-\d.]+) Td (?:/\S+ [\d.]+ Tf )?\((.*?[^\\]|)\) ?Tj ET`)
)

// pdfText are the text runs of every page, those of one height in a line with
// their distance from the left, mm.
func pdfText(t testing.TB, data []byte) []string {
	t.Helper()
	var out []string
	for i, content := range pdfPages(t, data) {
		rows := map[int][]run{}
		for _, r := range textRuns(content) {
			rows[r.y] = append(rows[r.y], r)
		}
		strokes := len(regexp.MustCompile(`(?m)^.*\b[SBf]$`).FindAllString(content, -1))
		out = append(out, fmt.Sprintf("page %d: %d strokes", i+1, strokes))
		for y := 500; y >= -500; y-- {
			slices.SortStableFunc(rows[y], func(a, b run) int { return a.x - b.x })
			var line []string
			for _, r := range rows[y] {
				line = append(line, fmt.Sprintf("%d %s", r.x, r.text))
			}
			if line != nil {
				out = append(out, fmt.Sprintf("%4d: %s", y, strings.Join(line, " | ")))
			}
		}
	}
	return out
}

// run is a text with its place, whole mm from the lower left corner.
type run struct {
	x, y int
	text string
}

// pdfPages are the content streams, unpacked: those that show text or strokes.
func pdfPages(t testing.TB, data []byte) []string {
	t.Helper()
	var out []string
	for _, m := range pdfStream.FindAllSubmatch(data, -1) {
		r, err := zlib.NewReader(bytes.NewReader(m[1]))
		if err != nil {
			continue
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(content, []byte("1 J 1 j")) {
			out = append(out, string(content))
		}
	}
	if want := bytes.Count(data, []byte("/Type /Page\n")); len(out) != want || want == 0 {
		t.Fatalf("%d pages read of %d", len(out), want)
	}
	return out
}

func textRuns(content string) []run {
	var out []run
	for _, at := range pdfRun.FindAllStringSubmatchIndex(content, -1) {
		x, y := number64(content[at[2]:at[3]]), number64(content[at[4]:at[5]])
		before := content[max(0, at[0]-120):at[0]]
		if m := pdfPlace.FindStringSubmatch(before); m != nil { // turned: its own origin
			x, y = x+number64(m[1]), y+number64(m[2])
		}
		out = append(out, run{wholeMM(x), wholeMM(y), pdfString(content[at[6]:at[7]])})
	}
	return out
}

func number64(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}

func wholeMM(points float64) int { return int(math.Round(points * 25.4 / 72)) }

// pdfString reads UTF-16 with the escapes of a literal string.
func pdfString(s string) string {
	s = strings.NewReplacer(`\\`, `\`, `\(`, `(`, `\)`, `)`, `\r`, "\r").Replace(s)
	var units []uint16
	for i := 0; i+1 < len(s); i += 2 {
		units = append(units, uint16(s[i])<<8|uint16(s[i+1]))
	}
	return string(utf16.Decode(units))
}

// bodiesText are the files in a 3MF, with the bodies' names and counts.
func bodiesText(t testing.TB, data []byte) []string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, fmt.Sprintf("%s: %d bytes, %d vertices, %d triangles, names %s", f.Name, len(text),
			bytes.Count(text, []byte("<vertex ")), bytes.Count(text, []byte("<triangle ")), regexp.MustCompile(`(?: name|unit)="[^"]*"`).FindAllString(string(text), -1)))
	}
	return out
}

// dxfText counts a drawing's entities by layer and names its circles.
func dxfText(text string) []string {
	_, text, _ = strings.Cut(text, "\nENTITIES\n")
	fields := strings.Split(text, "\n")
	counts, circles := map[string]int{}, []string{}
	kind, layer, at := "", "", map[string]string{}
	end := func() {
		if layer != "" {
			counts[layer+" "+kind]++
		}
		if kind == "CIRCLE" {
			circles = append(circles, fmt.Sprintf("%s at %s, %s radius %s", layer, at["10"], at["20"], at["40"]))
		}
		layer, at = "", map[string]string{}
	}
	for i := 0; i+1 < len(fields); i += 2 {
		code, value := strings.TrimSpace(fields[i]), strings.TrimSpace(fields[i+1])
		switch {
		case code == "0":
			end()
			if kind = value; value == "ENDSEC" {
				i = len(fields)
			}
		case code == "8":
			layer = value
		default:
			at[code] = value
		}
	}
	var out []string
	for k, n := range counts {
		out = append(out, fmt.Sprintf("%d %s", n, k))
	}
	slices.Sort(out)
	return append([]string{strings.Join(out, ", ")}, circles...)
}
