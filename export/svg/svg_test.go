package svg_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"clampwright/export/drawing"
	"clampwright/export/svg"
	"clampwright/parts/geom"
)

func sheet() *drawing.Sheet {
	q := math.Tan(math.Pi / 8)
	return &drawing.Sheet{Title: "a <b> & c", W: 210, H: 297, Items: []drawing.Item{
		drawing.Line{B: geom.Vec2{X: 50, Y: 0}, Pen: drawing.Hidden},
		drawing.Arc{C: geom.Vec2{X: 100, Y: 100}, R: 10, Sweep: math.Pi / 2, Pen: drawing.Thin},
		drawing.Chain{Closed: true, Fill: drawing.Grey, Path: geom.Path{{P: geom.Vec2{X: 10, Y: 10}, Bulge: q}, {P: geom.Vec2{X: 20, Y: 20}}, {P: geom.Vec2{X: 10, Y: 20}}}},
		drawing.Clip{Box: geom.Box2{Max: geom.Vec2{X: 20, Y: 20}}, Items: []drawing.Item{drawing.Circle{R: 15, Fill: drawing.Black, Bare: true}}},
		drawing.Text{At: geom.Vec2{X: 30, Y: 40}, S: `Ø 8 < 9 & "10"`, Height: 3.5, Angle: math.Pi / 2, Mask: true},
	}}
}

func encode(t *testing.T, s *drawing.Sheet, o svg.Options) string {
	t.Helper()
	var b bytes.Buffer
	if err := svg.Encode(&b, s, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The file is well-formed XML by the standard library's reader, in mm.
func TestWellFormed(t *testing.T) {
	text := encode(t, sheet(), svg.Options{Prefix: "p1-"})
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	for _, want := range []string{
		`width="210mm" height="297mm" viewBox="0 0 210 297"`,
		`<title>a &lt;b&gt; &amp; c</title>`,
		`Ø 8 &lt; 9 &amp; `,
		`id="p1-clip1"`, `url(#p1-clip1)`,
		// a quarter arc counter-clockwise from (110, 100) to (100, 110): screen y
		// is 297 - y, and the sweep flag 0 runs against it
		`M110 197A10 10 0 0 0 107.0711 189.9289A10 10 0 0 0 100 187`,
		`rotate(-90 30 257)`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %s in\n%s", want, text)
		}
	}
	if text != encode(t, sheet(), svg.Options{Prefix: "p1-"}) {
		t.Error("bytes differ between runs")
	}
	if fluid := encode(t, sheet(), svg.Options{Fluid: true}); strings.Contains(fluid, "mm\"") {
		t.Error("a fluid picture has a fixed size")
	}
}

func TestRefusesWhatCannotBeDrawn(t *testing.T) {
	bad := sheet()
	bad.Items = append(bad.Items, drawing.Circle{R: math.Inf(1)})
	for _, s := range []*drawing.Sheet{{}, {W: math.NaN(), H: 1}, bad} {
		if err := svg.Encode(io.Discard, s, svg.Options{}); err == nil {
			t.Errorf("accepted %v", s)
		}
	}
	if err := svg.Encode(failing{}, sheet(), svg.Options{}); err == nil {
		t.Error("a failing writer went unnoticed")
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("disk full") }
