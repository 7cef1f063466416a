package drawing_test

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"clampwright/parts/geom"
	"clampwright/testdata/outside"
)

// subpath is one drawn path of a PDF page in mm.
type subpath struct {
	points []geom.Vec2 // on-curve points, then all control points for curves
	ctrl   []geom.Vec2 // every point in order, for curves: c1 c2 end
	lines  int
	curves int
	closed bool
}

// pdfPage is what a page draws, in mm from its lower left corner.
type pdfPage struct {
	paths []subpath
	clip  *geom.Box2
}

// readPDF takes a PDF apart with qpdf and reads the path operators of every
// page's content stream (ISO 32000-1, 8.5.2); only cm-free drawing counts.
func readPDF(t *testing.T, data []byte) []pdfPage {
	t.Helper()
	qpdf := outside.Program(t, "qpdf")
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.pdf"), filepath.Join(dir, "out.pdf")
	if err := os.WriteFile(in, data, 0o644); err != nil {
		t.Fatal(err)
	}
	if msg, err := exec.Command(qpdf, "--check", in).CombinedOutput(); err != nil {
		t.Fatalf("qpdf --check: %v\n%s", err, msg)
	}
	if msg, err := exec.Command(qpdf, "--qdf", "--object-streams=disable", in, out).CombinedOutput(); err != nil {
		t.Fatalf("qpdf: %v\n%s", err, msg)
	}
	qdf, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	var pages []pdfPage
	for _, part := range bytes.Split(qdf, []byte("%% Contents for page"))[1:] {
		_, body, ok := bytes.Cut(part, []byte("\nstream\n"))
		if !ok {
			t.Fatal("a page without a content stream")
		}
		body, _, _ = bytes.Cut(body, []byte("\nendstream"))
		pages = append(pages, readContent(t, string(body)))
	}
	return pages
}

func readContent(t *testing.T, s string) pdfPage {
	var page pdfPage
	var args []float64
	var cur subpath
	turned := 0 // inside q ... cm ... Q
	pt := func(i int) geom.Vec2 { return geom.Vec2{X: args[i] / 72 * 25.4, Y: args[i+1] / 72 * 25.4} }
	flush := func() {
		if len(cur.points) > 0 && turned == 0 {
			page.paths = append(page.paths, cur)
		}
		cur = subpath{}
	}
	var depth []bool
	for _, line := range strings.Split(s, "\n") {
		if strings.Contains(line, "BT") {
			continue
		}
		for _, w := range strings.Fields(strings.NewReplacer("[", " ", "]", " ").Replace(line)) {
			if v, err := strconv.ParseFloat(w, 64); err == nil {
				args = append(args, v)
				continue
			}
			switch w {
			case "q":
				depth = append(depth, false)
			case "cm":
				if len(depth) > 0 && !depth[len(depth)-1] {
					depth[len(depth)-1] = true
					turned++
				}
			case "Q":
				if len(depth) == 0 {
					t.Fatal("Q without q")
				}
				if depth[len(depth)-1] {
					turned--
				}
				depth = depth[:len(depth)-1]
			case "re":
				lo := pt(0)
				page.clip = &geom.Box2{Min: lo, Max: geom.Vec2{X: lo.X + args[2]/72*25.4, Y: lo.Y + args[3]/72*25.4}}
			case "m":
				flush()
				cur.points = append(cur.points, pt(0))
				cur.ctrl = append(cur.ctrl, pt(0))
			case "l":
				cur.points = append(cur.points, pt(0))
				cur.ctrl = append(cur.ctrl, pt(0))
				cur.lines++
			case "c":
				cur.ctrl = append(cur.ctrl, pt(0), pt(2), pt(4))
				cur.points = append(cur.points, pt(4))
				cur.curves++
			case "h":
				cur.closed = true
			case "S", "f", "B", "n":
				flush()
			}
			args = args[:0]
		}
	}
	return page
}

// circle returns centre and radius when the path is a full circle, and how far
// its curves leave that circle.
func (p *subpath) circle() (c geom.Vec2, r, worst float64, ok bool) {
	if p.lines > 0 || p.curves < 4 || !p.closed {
		return
	}
	box := geom.Box2{Min: p.points[0], Max: p.points[0]}
	for _, q := range p.points {
		box.Min.X, box.Max.X = math.Min(box.Min.X, q.X), math.Max(box.Max.X, q.X)
		box.Min.Y, box.Max.Y = math.Min(box.Min.Y, q.Y), math.Max(box.Max.Y, q.Y)
	}
	c = geom.Vec2{X: (box.Min.X + box.Max.X) / 2, Y: (box.Min.Y + box.Max.Y) / 2}
	r = (box.Max.X - box.Min.X) / 2
	for i := 0; i+3 < len(p.ctrl); i += 3 {
		for k := 0; k <= 20; k++ {
			q := bezier(p.ctrl[i:i+4], float64(k)/20)
			worst = math.Max(worst, math.Abs(math.Hypot(q.X-c.X, q.Y-c.Y)-r))
		}
	}
	return c, r, worst, true
}

func bezier(p []geom.Vec2, t float64) geom.Vec2 {
	u := 1 - t
	a, b, c, d := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return geom.Vec2{X: a*p[0].X + b*p[1].X + c*p[2].X + d*p[3].X, Y: a*p[0].Y + b*p[1].Y + c*p[2].Y + d*p[3].Y}
}

// isDiamond recognises the seam marks: a closed square standing on a corner.
func (p *subpath) isDiamond() (geom.Vec2, bool) {
	if p.curves > 0 || p.lines != 4 || !p.closed {
		return geom.Vec2{}, false
	}
	a, b, c, d := p.points[0], p.points[1], p.points[2], p.points[3]
	if math.Abs(a.Y-c.Y) > 1e-3 || math.Abs(b.X-d.X) > 1e-3 || math.Abs((c.X-a.X)-(d.Y-b.Y)) > 1e-3 {
		return geom.Vec2{}, false
	}
	return geom.Vec2{X: (a.X + c.X) / 2, Y: (b.Y + d.Y) / 2}, true
}

// pdfText is the text of all pages as pdftotext reads it.
func pdfText(t *testing.T, data []byte) string {
	t.Helper()
	cmd := exec.Command(outside.Program(t, "pdftotext"), "-layout", "-", "-")
	cmd.Stdin = bytes.NewReader(data)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("pdftotext: %v", err)
	}
	return string(out)
}
