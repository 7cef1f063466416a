package page

import (
	"bytes"
	"errors"
	"math"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"clampwright/parts/geom"
)

// encoded is every document of the sheet, one after the other.
func encoded(t testing.TB, s Documents) string {
	t.Helper()
	all := ""
	for _, d := range Docs {
		all += encodedAs(t, s, d.Doc)
	}
	return all
}

func encodedAs(t testing.TB, s Documents, d Doc) string {
	t.Helper()
	var b bytes.Buffer
	if err := Encode(&b, s, d); err != nil {
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
		if err := Encode(&w, s, Card); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(w.Len()), "bytes")
	}
}

func TestSameSheetSameBytes(t *testing.T) {
	first, second := encoded(t, sampleSheet()), encoded(t, sampleSheet())
	if first != second {
		t.Fatal("two runs differ")
	}
}

// A page must open on a phone: the limit for sixteen cells and twelve rods.
func TestSizeOfPage(t *testing.T) {
	if n := len(encoded(t, sampleSheet())); n > 3_000_000 {
		t.Fatalf("%d bytes", n)
	}
}

func TestTitleAloneIsAPage(t *testing.T) {
	page := encoded(t, Documents{Title: "bare"})
	for _, want := range []string{"<h1>bare</h1>", "<main", "</html>"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Contains(page, "<section") || strings.Contains(page, "<canvas") {
		t.Error("a section without data")
	}
}

func TestSectionsInOrder(t *testing.T) {
	for d, ids := range map[Doc][]string{
		Card:   {"findings", "cautions", "ready", "parts", "stock", "steps"},
		Checks: {"clamp", "setting", "wiring", "tolerances", "checks", "given", "files"},
		Forms:  {"incoming", "log"},
	} {
		page, at := encodedAs(t, sampleSheet(), d), 0
		if n := strings.Count(page, "<section id="); n != len(ids) {
			t.Errorf("%s: %d sections, want %d", d, n, len(ids))
		}
		for _, id := range ids {
			i := strings.Index(page[at:], `<section id="`+id+`"`)
			if i < 0 {
				t.Fatalf("%s: no section %s after byte %d", d, id, at)
			}
			at += i
			if strings.Contains(page, `href="#`+id+`"`) != (d != Card) { // the card is read from its top
				t.Errorf("%s is not in the list of contents of %s", id, d)
			}
		}
		for _, o := range Docs {
			if o.Doc != d && !strings.Contains(page, `href="`+string(o.Doc)+`"`) {
				t.Errorf("%s does not lead to %s", d, o.Doc)
			}
		}
	}
}

// Headings go down one level at a time (WCAG technique G141).
func TestHeadingsStepDownByOne(t *testing.T) {
	last := 0
	for _, m := range regexp.MustCompile(`<h([1-6])`).FindAllStringSubmatch(encoded(t, sampleSheet()), -1) {
		level := int(m[1][0] - '0')
		if level > last+1 {
			t.Fatalf("h%d follows h%d", level, last)
		}
		last = level
	}
}

// Tables carry a caption and scoped heads (WCAG techniques H39, H63).
func TestTablesAreLabelled(t *testing.T) {
	page := encoded(t, sampleSheet())
	tables := regexp.MustCompile(`(?s)<table.*?</table>`).FindAllString(page, -1)
	if len(tables) < 10 {
		t.Fatalf("%d tables", len(tables))
	}
	for _, tb := range tables {
		if !regexp.MustCompile(`<caption>[^<]+</caption>`).MatchString(tb) {
			t.Errorf("no caption: %.80s", tb)
		}
		for _, th := range regexp.MustCompile(`<th[ >][^>]*`).FindAllString(tb, -1) {
			if !strings.Contains(th, "scope=") {
				t.Errorf("no scope: %s", th)
			}
		}
	}
}

func TestNothingFromOutside(t *testing.T) {
	page := encoded(t, sampleSheet())
	for _, m := range regexp.MustCompile(`(?:src|href|action|data)="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		if beside := slices.ContainsFunc(Docs, func(d Document) bool { return string(d.Doc) == m[1] }); !beside && !strings.HasPrefix(m[1], "#") && !strings.HasPrefix(m[1], "data:") {
			t.Errorf("address %q", m[1])
		}
	}
	for _, m := range regexp.MustCompile(`url\(([^)]*)\)|@import`).FindAllStringSubmatch(page, -1) {
		if !strings.HasPrefix(m[1], "#") {
			t.Errorf("style asks for %q", m[0])
		}
	}
	for _, m := range regexp.MustCompile(`https?://[^"' ]*`).FindAllString(page, -1) {
		if m != "http://www.w3.org/2000/svg" { // the name of the SVG vocabulary, not fetched
			t.Errorf("address %q", m)
		}
	}
}

const hostile = `</script></style></title><script>pwned=1</script><img src=x onerror="pwned=1">'"` + "`" + `{{.}}\u0000&amp;`

// fillStrings puts s into every plain text of v.
func fillStrings(v reflect.Value, s string) {
	switch v.Kind() {
	case reflect.String:
		if v.Type() == reflect.TypeFor[string]() && v.String() != "x" && v.String() != "y" {
			v.SetString(s)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fillStrings(v.Field(i), s)
		}
	case reflect.Slice:
		for i := range v.Len() {
			fillStrings(v.Index(i), s)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			fillStrings(v.Elem(), s)
		}
	}
}

func hostileSheet() Documents {
	s := sampleSheet()
	fillStrings(reflect.ValueOf(&s).Elem(), hostile)
	return s
}

func TestHostileNamesAreEscaped(t *testing.T) {
	page := encodedAs(t, hostileSheet(), Card)
	if n := strings.Count(page, "<script"); n != 2 { // the scene and the view
		t.Errorf("%d script elements", n)
	}
	if n := strings.Count(page, "</script"); n != 2 {
		t.Errorf("%d ends of scripts", n)
	}
	if strings.Contains(page, "<img") || strings.Contains(page, "</style></title>") {
		t.Error("a name became markup")
	}
}

func TestRefusesWhatCannotBeDrawn(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, spoil := range map[string]func(*Documents){
		"text":                func(s *Documents) { s.Checks[0].Why = "\xff" },
		"vertex":              func(s *Documents) { s.Scene.Bodies[0].Mesh.Vertices[0].X = nan },
		"far vertex":          func(s *Documents) { s.Scene.Bodies[0].Mesh.Vertices[0].X = 1e300 },
		"place":               func(s *Documents) { s.Scene.Bodies[0].Places[0].Frame.O.Z = inf },
		"pressure":            func(s *Documents) { s.Clamp.States[0].Fields[0].P[3] = nan },
		"window":              func(s *Documents) { s.Clamp.Window.High = inf },
		"plate":               func(s *Documents) { s.Clamp.Faces.Plate.Max.X = nan },
		"rod":                 func(s *Documents) { s.Clamp.Faces.Rods[0].R = nan },
		"strip":               func(s *Documents) { s.Clamp.Faces.Angles[0].Box.Min.Y = nan },
		"curve":               func(s *Documents) { s.Clamp.Charge.Series[0].Y[0] = inf },
		"mark":                func(s *Documents) { s.Clamp.Charge.Marks[0].X = nan },
		"sketch outline":      func(s *Documents) { s.Checks[2].Sketch.Shapes[0].Outlines[0][0].X = nan },
		"sketch point":        func(s *Documents) { s.Checks[2].Sketch.Points[0].At.X = nan },
		"sketch gap":          func(s *Documents) { s.Checks[3].Sketch.Gaps[0].To.Y = nan },
		"placed":              func(s *Documents) { s.Stock.Sheets[0].Placed[0].Outlines[0][0].Y = nan },
		"kerf":                func(s *Documents) { s.Stock.Bars[0].Kerf = nan },
		"hole":                func(s *Documents) { s.Steps[0].Steps[1].Holes.Holes[0].Diameter = nan },
		"origin":              func(s *Documents) { s.Steps[0].Steps[1].Holes.Origin.X = nan },
		"terminal":            func(s *Documents) { s.Wiring.States[0].Terminals[0].Radius = inf },
		"link":                func(s *Documents) { s.Wiring.States[0].Links[0].Line[0].X = nan },
		"take-off of a state": func(s *Documents) { s.Wiring.States[0].Takeoffs[0].At.X = nan },
	} {
		s := sampleSheet()
		spoil(&s)
		var b bytes.Buffer
		if err := Encode(&b, s, Card); err == nil {
			t.Errorf("%s: accepted", name)
		} else if b.Len() > 0 {
			t.Errorf("%s: %d bytes were written before %v", name, b.Len(), err)
		}
	}
}

// Poor but legal data must give a page, never a panic.
func TestPoorDataStillGivesAPage(t *testing.T) {
	for name, spoil := range map[string]func(*Documents){
		"flat body": func(s *Documents) {
			s.Scene.Bodies = []Body{{Name: "flat", Mesh: prism(rectangle(0, 0, 1, 1), 0), Places: []Place{{}}}}
		},
		"one point": func(s *Documents) {
			s.Scene.Bodies[0].Mesh = geom.Mesh{Vertices: make([]geom.Vec3, 3), Triangles: []geom.Triangle{{0, 1, 2}}}
		},
		"zero frame":      func(s *Documents) { s.Scene.Bodies[0].Places[0].Frame = geom.Frame{} },
		"no window":       func(s *Documents) { s.Clamp.Window, s.Clamp.Charge.Window = Window{}, Window{} },
		"no pressure":     func(s *Documents) { clear(s.Clamp.States[0].Fields[0].P) },
		"window reversed": func(s *Documents) { s.Clamp.Window.Low, s.Clamp.Window.High = 110, 60 },
		"no faces":        func(s *Documents) { s.Clamp.Faces = Faces{} },
		"empty sketch":    func(s *Documents) { s.Checks[2].Sketch = &Sketch{} },
		"empty outline":   func(s *Documents) { s.Checks[2].Sketch.Shapes[0].Outlines = []Polyline{{}} },
		"point sketch": func(s *Documents) {
			s.Checks[2].Sketch = &Sketch{Shapes: []SketchShape{{Label: "p", Outlines: []Polyline{{{X: 1}}}}}}
		},
		"empty chart":      func(s *Documents) { s.Clamp.Charge.Series = []Series{{}} },
		"flat chart":       func(s *Documents) { s.Clamp.Charge = Chart{Series: []Series{{X: []float64{1}, Y: []float64{0}}}} },
		"empty state":      func(s *Documents) { s.Wiring.States = []WiringState{{}} },
		"empty placed":     func(s *Documents) { s.Stock.Sheets[0].Placed = []Placed{{}, {Outlines: []Polyline{{}}}} },
		"drill no outline": func(s *Documents) { s.Steps[0].Steps[1].Holes.Outlines = nil },
		"empty link":       func(s *Documents) { s.Wiring.States[0].Links[0].Line = nil },
		"unknown class":    func(s *Documents) { s.Scene.Bodies[0].Class = "gold" },
		"unknown role":     func(s *Documents) { s.Checks[2].Sketch.Shapes[0].Role = "third" },
		"unknown link":     func(s *Documents) { s.Wiring.States[0].Links[0].Kind = "rope" },
		"huge pressure":    func(s *Documents) { s.Clamp.States[0].Fields[0].P[0] = 1e9 },
		"long name":        func(s *Documents) { s.Title = strings.Repeat("long ", 2000) },
	} {
		s := sampleSheet()
		s.Scene.Bodies = s.Scene.Bodies[:1]
		spoil(&s)
		page := encoded(t, s)
		if strings.Contains(page, "NaN") || regexp.MustCompile(`="[^"]*Inf`).MatchString(strings.Split(page, "<script")[0]) {
			t.Errorf("%s: a number that is none was written", name)
		}
	}
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestReportsAFailingWriter(t *testing.T) {
	if err := Encode(brokenWriter{}, Documents{Title: "x"}, Card); err == nil {
		t.Fatal("no error")
	}
}
