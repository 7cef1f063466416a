package drawing_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"clampwright/export/drawing"
	"clampwright/export/pdf"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// The sample bar's slot runs from x 80 to 82 with ends of 6.6 mm: 8.6 long.
func TestSlotEndsAreFound(t *testing.T) {
	s := parts.Slots(linkBar().Flat)
	if len(s) != 1 {
		t.Fatalf("%d slots", len(s))
	}
	if s[0].ID != "SL1" || s[0].Ends != [2]geom.Vec2{v(80, 10), v(82, 10)} || math.Abs(s[0].DiaMM-6.6) > 1e-9 {
		t.Errorf("slot %+v", s[0])
	}
}

// A link bar has no bottom and no outside; its slot is told in words, and both
// of its ends are crossed where they are, as read by qpdf and pdftotext.
func TestLinkBarTemplate(t *testing.T) {
	p := linkBar()
	text, page := onePage(t, drawing.Template{Part: p, Quantity: 7, Units: drawing.Millimetres(2), Paper: drawing.A4})
	for _, w := range []string{"BOTTOM", "UP", "outside"} {
		if strings.Contains(text, w) {
			t.Errorf("a link bar's template says %q", w)
		}
	}
	for _, w := range []string{"SL1: slot 8.6 mm long", "H1: pilot 2 mm", "then 6.6 mm", "make 7"} {
		if !strings.Contains(text, w) {
			t.Errorf("the template does not say %q:\n%s", w, text)
		}
	}
	hole := circles(page, 3.3)
	if len(hole) != 1 {
		t.Fatalf("%d round holes", len(hole))
	}
	for _, x := range []float64{70, 72} { // from the hole at 10 to the ends
		found := false
		for _, s := range page.paths {
			if s.lines != 1 || s.curves != 0 {
				continue
			}
			m := geom.Vec2{X: (s.points[0].X + s.points[1].X) / 2, Y: (s.points[0].Y + s.points[1].Y) / 2}
			found = found || math.Hypot(m.X-hole[0].X-x, m.Y-hole[0].Y) < paperTolerance && math.Abs(s.points[0].X-s.points[1].X) < 1e-3
		}
		if !found {
			t.Errorf("no cross %v mm right of the hole", x)
		}
	}
}

// An angle's template is true: both legs from the fold, the holes' gauge from
// the fold, and the whole length, read from the PDF by qpdf.
func TestAngleTemplateIsTrue(t *testing.T) {
	for _, high := range []bool{false, true} {
		p, a := angle(236, high)
		_, page := onePage(t, drawing.Template{Part: p, Quantity: 4, Units: drawing.Millimetres(2), Paper: drawing.A4, Angle: a})
		var outline geom.Box2
		fold := math.NaN()
		for _, s := range page.paths {
			lo, hi := s.points[0], s.points[0]
			for _, q := range s.points {
				lo.X, hi.X = math.Min(lo.X, q.X), math.Max(hi.X, q.X)
				lo.Y, hi.Y = math.Min(lo.Y, q.Y), math.Max(hi.Y, q.Y)
			}
			switch {
			case math.Abs(hi.X-lo.X-236) > paperTolerance:
			case s.lines == 1:
				fold = lo.Y
			default:
				outline = geom.Box2{Min: lo, Max: hi}
			}
		}
		near := func(what string, got, want float64) {
			if !(math.Abs(got-want) <= paperTolerance) {
				t.Errorf("heel high %v: %s is %.3f mm, want %.3f", high, what, got, want)
			}
		}
		near("drilled leg", outline.Max.Y-fold, a.DrilledLegMM)
		near("standing leg", fold-outline.Min.Y, a.StandingLegMM)
		holes := circles(page, p.Holes[0].DiaMM/2)
		if len(holes) != 2 {
			t.Fatalf("%d holes", len(holes))
		}
		for _, h := range holes {
			near("gauge", h.Y-fold, 17.5)
			near("distance from the nearer end", math.Min(h.X-outline.Min.X, outline.Max.X-h.X), 14)
		}
	}
}

// onePage is the text and the paths of a template of one page.
func onePage(t *testing.T, tp drawing.Template) (string, pdfPage) {
	t.Helper()
	sheets, err := tp.Pages()
	if err != nil || len(sheets) != 1 {
		t.Fatalf("%d pages, %v", len(sheets), err)
	}
	var b bytes.Buffer
	if err := pdf.Encode(&b, "template", "what it is", sheets); err != nil {
		t.Fatal(err)
	}
	return pdfText(t, b.Bytes()), readPDF(t, b.Bytes())[0]
}

func circles(p pdfPage, r float64) []geom.Vec2 {
	var out []geom.Vec2
	for _, s := range p.paths {
		if c, pr, _, ok := s.circle(); ok && math.Abs(pr-r) < 0.01 {
			out = append(out, c)
		}
	}
	return out
}
