package drawing_test

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"testing"

	"clampwright/export/drawing"
	"clampwright/export/pdf"
	"clampwright/parts/geom"
)

// paperTolerance is how true a template must be over a page, mm.
const paperTolerance = 0.05

// glued is a template put together from its pages by the seam diamonds alone,
// as a person with scissors does: per page its offset in the common frame.
type glued struct {
	pages  []pdfPage
	at     [][2]int // row, column of each page
	offset []geom.Vec2
}

var pageName = regexp.MustCompile(`page (\d+)-(\d+)`)

func glue(t *testing.T, sheets []drawing.Sheet, pages []pdfPage) glued {
	t.Helper()
	g := glued{pages: pages}
	index := map[[2]int]int{}
	for i, s := range sheets {
		m := pageName.FindStringSubmatch(s.Title)
		if m == nil {
			t.Fatalf("page title %q names no row and column", s.Title)
		}
		r, _ := strconv.Atoi(m[1])
		c, _ := strconv.Atoi(m[2])
		g.at = append(g.at, [2]int{r, c})
		index[[2]int{r, c}] = i
	}
	g.offset = make([]geom.Vec2, len(pages))
	rows, cols := 0, 0
	for _, a := range g.at {
		rows, cols = max(rows, a[0]), max(cols, a[1])
	}
	for r := 1; r <= rows; r++ {
		for c := 1; c <= cols; c++ {
			me := index[[2]int{r, c}]
			switch {
			case c > 1:
				g.join(t, index[[2]int{r, c - 1}], me, true)
			case r > 1:
				g.join(t, index[[2]int{r - 1, c}], me, false)
			}
		}
	}
	return g
}

// join lays page b over page a so that the diamonds on b's cut edge meet those
// of a's strip: right neighbours at the side, else the page above.
func (g *glued) join(t *testing.T, a, b int, side bool) {
	t.Helper()
	on := func(page int, low bool) []geom.Vec2 {
		var out []geom.Vec2
		clip := g.pages[page].clip
		for _, p := range g.pages[page].paths {
			if d, ok := p.isDiamond(); ok {
				atLow := math.Abs(d.Y-clip.Min.Y) < 0.01
				inner := d.Y > clip.Max.Y-20 && d.Y < clip.Max.Y-1 && math.Abs(d.Y-clip.Max.Y+15) < 1
				if side {
					atLow = math.Abs(d.X-clip.Min.X) < 0.01
					inner = math.Abs(d.X-clip.Max.X+15) < 1
				}
				if (low && atLow) || (!low && inner) {
					out = append(out, d)
				}
			}
		}
		return out
	}
	pa, pb := on(a, false), on(b, true)
	if len(pa) != 2 || len(pb) != 2 {
		t.Fatalf("seam marks: %d on one page, %d on its neighbour, want 2 and 2", len(pa), len(pb))
	}
	d0 := geom.Vec2{X: pa[0].X - pb[0].X, Y: pa[0].Y - pb[0].Y}
	d1 := geom.Vec2{X: pa[1].X - pb[1].X, Y: pa[1].Y - pb[1].Y}
	if math.Hypot(d0.X-d1.X, d0.Y-d1.Y) > 0.001 {
		t.Fatalf("the two seam marks disagree by %v", math.Hypot(d0.X-d1.X, d0.Y-d1.Y))
	}
	g.offset[b] = geom.Vec2{X: g.offset[a].X + d0.X, Y: g.offset[a].Y + d0.Y}
}

// visible lists the circles of radius r that can be seen whole or in part once
// everything is glued, by centre in the common frame, hidden strips left out.
func (g *glued) visible(t *testing.T, r float64) []geom.Vec2 {
	t.Helper()
	last := [2]int{}
	for _, a := range g.at {
		last[0], last[1] = max(last[0], a[0]), max(last[1], a[1])
	}
	var out []geom.Vec2
	for i, pg := range g.pages {
		right, top := pg.clip.Max.X, pg.clip.Max.Y
		if g.at[i][1] < last[1] {
			right -= 15
		}
		if g.at[i][0] < last[0] {
			top -= 15
		}
		for _, p := range pg.paths {
			c, pr, worst, ok := p.circle()
			if !ok || math.Abs(pr-r) > 0.01 {
				continue
			}
			if worst > 0.001 {
				t.Errorf("a circle of radius %v mm is untrue by %v mm", r, worst)
			}
			if c.X >= pg.clip.Min.X && c.X < right && c.Y >= pg.clip.Min.Y && c.Y < top {
				out = append(out, geom.Vec2{X: c.X + g.offset[i].X, Y: c.Y + g.offset[i].Y})
			}
		}
	}
	return out
}

// wanted are the hole centres as they must lie on the glued paper: the flat for
// plates; for angles mirrored, because the paper shows the face on the plate.
func wanted(tp drawing.Template) []geom.Vec2 {
	var out []geom.Vec2
	for _, h := range tp.Part.Holes {
		c := h.C
		switch {
		case tp.Angle != nil && tp.Angle.HeelHigh:
			c.Y = -c.Y
		case tp.Angle != nil:
			c.X = -c.X
		}
		out = append(out, c)
	}
	return out
}

// Every hole is there exactly once on the glued template, and every distance
// between holes is true to 0.05 mm, read from the PDF by qpdf.
func TestTemplateHolesAreTrueAcrossPages(t *testing.T) {
	for _, s := range append(templateSamples(), manyHoles()) {
		t.Run(s.name, func(t *testing.T) {
			sheets, err := s.t.Pages()
			if err != nil {
				t.Fatal(err)
			}
			var b bytes.Buffer
			if err := pdf.Encode(&b, s.name, "what it is", sheets); err != nil {
				t.Fatal(err)
			}
			pages := readPDF(t, b.Bytes())
			if len(pages) != len(sheets) {
				t.Fatalf("%d pages, want %d", len(pages), len(sheets))
			}
			if len(sheets) == 1 {
				sheets[0].Title = "page 1-1"
			}
			g := glue(t, sheets, pages)
			for _, r := range []float64{s.t.Part.Holes[0].DiaMM / 2, s.t.Part.Holes[0].PilotMM / 2} {
				compare(t, g.visible(t, r), wanted(s.t))
			}
			for i, p := range pages {
				long := 100.0
				if s.t.Units.Name == "inches" {
					long = 4 * 25.4
				}
				if !hasBar(p, long) {
					t.Errorf("page %d lacks a true scale bar", i+1)
				}
			}
		})
	}
}

// compare matches two point sets up to one common move.
func compare(t *testing.T, got, want []geom.Vec2) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d holes on the glued paper, want %d", len(got), len(want))
	}
	lo := func(p []geom.Vec2) geom.Vec2 {
		m := geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}
		for _, q := range p {
			m.X, m.Y = math.Min(m.X, q.X), math.Min(m.Y, q.Y)
		}
		return m
	}
	lg, lw := lo(got), lo(want)
	for _, w := range want {
		best := math.Inf(1)
		for _, q := range got {
			best = math.Min(best, math.Hypot(q.X-lg.X-w.X+lw.X, q.Y-lg.Y-w.Y+lw.Y))
		}
		if best > paperTolerance {
			t.Errorf("hole at %v is off by %.4f mm", w, best)
		}
	}
}

func hasBar(p pdfPage, length float64) bool {
	for _, s := range p.paths {
		if s.lines == 1 && s.curves == 0 && math.Abs(s.points[0].Y-s.points[1].Y) < 1e-3 &&
			math.Abs(math.Abs(s.points[1].X-s.points[0].X)-length) < 0.005 {
			return true
		}
	}
	return false
}

// manyHoles is a plate of 3 by 3 pages with an uneven grid of 35 holes, so that
// many lie in or near the strips.
func manyHoles() templateSample {
	var at []geom.Vec2
	for i := 0; i < 7; i++ {
		for j := 0; j < 5; j++ {
			at = append(at, v(15+float64(i)*77.7, 15+float64(j)*143.3))
		}
	}
	p := drilled("big-plate", "end-plate", roundedRect(500, 620, 10), 12, 6.6, 2, "bolt", at...)
	p.Name, p.Mark = "big plate", "P9"
	return templateSample{"t-big", drawing.Template{Part: p, Quantity: 1, Units: drawing.Millimetres(2), Paper: drawing.A4}}
}

// The outline itself is true: the plate's straight edges, measured on one page.
func TestTemplateOutlineIsTrue(t *testing.T) {
	p := drilled("small", "end-plate", roundedRect(150.37, 120.21, 4), 12, 6.6, 2, "bolt", v(20, 20))
	sheets, err := drawing.Template{Part: p, Paper: drawing.Letter}.Pages()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := pdf.Encode(&b, "small", "what it is", sheets); err != nil {
		t.Fatal(err)
	}
	for _, s := range readPDF(t, b.Bytes())[0].paths {
		if s.lines == 4 && s.curves > 4 {
			lo, hi := s.points[0], s.points[0]
			for _, q := range s.points {
				lo.X, hi.X = math.Min(lo.X, q.X), math.Max(hi.X, q.X)
				lo.Y, hi.Y = math.Min(lo.Y, q.Y), math.Max(hi.Y, q.Y)
			}
			if math.Abs(hi.X-lo.X-150.37) > paperTolerance || math.Abs(hi.Y-lo.Y-120.21) > paperTolerance {
				t.Errorf("outline is %.3f x %.3f mm", hi.X-lo.X, hi.Y-lo.Y)
			}
			return
		}
	}
	t.Error("no rounded outline found")
}

// Words on the paper, read by pdftotext: what to drill, and the page's place.
func TestTemplateSaysWhatToDrill(t *testing.T) {
	for _, s := range templateSamples() {
		if s.name != "t-wide-in" {
			continue
		}
		sheets, err := s.t.Pages()
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := pdf.Encode(&b, s.name, "what it is", sheets); err != nil {
			t.Fatal(err)
		}
		text := pdfText(t, b.Bytes())
		for i := 1; i <= 6; i++ {
			if n := len(regexp.MustCompile(fmt.Sprintf(`H%d: pilot 1/16 in \(0.0625\)`, i)).FindAllString(text, -1)); n != 1 {
				t.Errorf("hole H%d is described %d times, want once", i, n)
			}
		}
		for _, w := range []string{"then 11/32 in (0.3438)", "BOTTOM EDGE", "UP", "make 2", "4 in", "row 2, column 1"} {
			if !bytes.Contains([]byte(text), []byte(w)) {
				t.Errorf("the paper does not say %q", w)
			}
		}
	}
}
