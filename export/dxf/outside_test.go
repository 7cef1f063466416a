package dxf

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"clampwright/parts/geom"
	"clampwright/testdata/outside"
)

// measured is what an outside reader found in one file.
type measured struct {
	Errors, Fixes         []string
	Version               string
	InsUnits, Measurement int
	Min, Max              [2]float64
	Layers                map[string]int
	Entities              []measuredEntity
}

type measuredEntity struct {
	Kind, Layer, Text string
	Closed            bool
	Vertices          [][3]float64
}

// readableMM is how far an outside reader's figure may be from ours.
const readableMM = 0.001

// wanted lists the entities of d as a reader must find them.
func wanted(d Drawing) []measuredEntity {
	var out []measuredEntity
	paths := func(layer string, ps []geom.Path, closed bool) {
		for _, p := range ps {
			e := measuredEntity{Kind: "LWPOLYLINE", Layer: layer, Closed: closed}
			for _, v := range p {
				e.Vertices = append(e.Vertices, [3]float64{v.P.X, v.P.Y, v.Bulge})
			}
			out = append(out, e)
		}
	}
	circles := func(layer string, cs []geom.Circle) {
		for _, c := range cs {
			out = append(out, measuredEntity{Kind: "CIRCLE", Layer: layer, Vertices: [][3]float64{{c.C.X, c.C.Y, c.R}}})
		}
	}
	scribe := func(layer string, s Scribe) {
		paths(layer, s.Paths, true)
		paths(layer, s.Strokes, false)
		for _, l := range s.Lines {
			out = append(out, measuredEntity{Kind: "LINE", Layer: layer,
				Vertices: [][3]float64{{l.A.X, l.A.Y}, {l.B.X, l.B.Y}}})
		}
		for _, x := range s.Texts {
			out = append(out, measuredEntity{Kind: "TEXT", Layer: layer, Text: x.Value,
				Vertices: [][3]float64{{x.At.X, x.At.Y, x.HeightMM}}})
		}
	}
	scribe(LayerMark, d.Marks) // a machine runs a file from its top: outlines last
	circles(LayerHoles, d.Holes)
	paths(LayerHoles, d.Slots, true)
	paths(LayerOutline, d.Outlines, true)
	scribe(LayerNote, d.Notes)
	return out
}

// write puts drawings into files and returns their paths.
func write(t *testing.T, ds []Drawing) []string {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for i, d := range ds {
		path := filepath.Join(dir, fmt.Sprintf("%03d.dxf", i))
		if err := os.WriteFile(path, encode(t, d), 0o644); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}

func compare(t *testing.T, name string, got, want []measuredEntity, texts bool) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d entities, want %d", name, len(got), len(want))
	}
	for i, w := range want {
		g := got[i]
		if g.Kind != w.Kind || g.Layer != w.Layer || g.Closed != w.Closed || len(g.Vertices) != len(w.Vertices) {
			t.Fatalf("%s: entity %d is %+v, want %+v", name, i, g, w)
		}
		if texts && g.Text != w.Text {
			t.Errorf("%s: entity %d reads %q, want %q", name, i, g.Text, w.Text)
		}
		for j := range w.Vertices {
			for k := range 3 {
				if !(math.Abs(g.Vertices[j][k]-w.Vertices[j][k]) <= readableMM) {
					t.Errorf("%s: entity %d vertex %d is %v, want %v", name, i, j, g.Vertices[j], w.Vertices[j])
				}
			}
		}
	}
}

// TestEzdxfReadsWhatWasDrawn measures the files with ezdxf: an audit with
// nothing to repair, units, layers, and every entity to 0.001 mm. The bulge
// convention is checked by the reader's own arc geometry in the next test.
func TestEzdxfReadsWhatWasDrawn(t *testing.T) {
	ds := drawings()
	out := outside.Python(t, "testdata/measure.py", []string{"ezdxf"}, write(t, ds)...)
	var got []measured
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	for i, d := range ds {
		name := fmt.Sprintf("drawing %d", i)
		g := got[i]
		if len(g.Errors)+len(g.Fixes) != 0 {
			t.Errorf("%s: audit says errors %q, repairs %q", name, g.Errors, g.Fixes)
		}
		if g.Version != "AC1015" || g.InsUnits != 4 || g.Measurement != 1 {
			t.Errorf("%s: version %s, units %d, measurement %d", name, g.Version, g.InsUnits, g.Measurement)
		}
		colours := map[int]bool{}
		for _, l := range []string{LayerOutline, LayerHoles, LayerMark, LayerNote} {
			if g.Layers[l] == 0 || colours[g.Layers[l]] {
				t.Errorf("%s: layer %s is missing or shares a colour", name, l)
			}
			colours[g.Layers[l]] = true
		}
		compare(t, name, g.Entities, wanted(d), true)
	}
}

// TestEzdxfAgreesOnExtents compares $EXTMIN and $EXTMAX with the reader's own
// bounding box of the entities, arcs flattened to 0.0002 mm.
func TestEzdxfAgreesOnExtents(t *testing.T) {
	ds := drawings()
	for i := range ds {
		ds[i].Marks.Texts, ds[i].Notes.Texts = nil, nil // width of lettering is an estimate
	}
	out := outside.Python(t, "testdata/extents.py", []string{"ezdxf"}, write(t, ds)...)
	var got []struct{ Header, Entities [4]float64 }
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	for i, g := range got {
		for k := range 4 {
			if math.Abs(g.Header[k]-g.Entities[k]) > readableMM {
				t.Errorf("drawing %d: header says %v, the entities %v", i, g.Header, g.Entities)
				break
			}
		}
	}
}

// TestDxfParserReadsWhatWasDrawn repeats the measurement with a second reader,
// the npm package dxf-parser.
func TestDxfParserReadsWhatWasDrawn(t *testing.T) {
	ds := drawings()
	out := outside.Node(t, "testdata/measure.js", "dxf-parser", write(t, ds)...)
	var got []measured
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	for i, d := range ds {
		want := wanted(d)
		for j, e := range want {
			if e.Kind == "TEXT" { // this reader gives the first point, we compare ezdxf's
				want[j].Vertices = got[i].Entities[j].Vertices
			}
		}
		if got[i].InsUnits != 4 || got[i].Measurement != 1 {
			t.Errorf("drawing %d: units %d, measurement %d", i, got[i].InsUnits, got[i].Measurement)
		}
		compare(t, fmt.Sprintf("drawing %d", i), got[i].Entities, want, false)
	}
}

// drawings is the plate, an empty drawing, and random parts.
func drawings() []Drawing {
	r := rand.New(rand.NewPCG(3, 5))
	out := []Drawing{plate(), {}}
	for range 16 {
		out = append(out, randomDrawing(r))
	}
	return out
}

// randomDrawing is a rounded or angular outline with holes, slots and marks on
// distinct places of a grid.
func randomDrawing(r *rand.Rand) Drawing {
	w, h := 50+400*r.Float64(), 50+400*r.Float64()
	x, y := 200*r.Float64()-100, 200*r.Float64()-100
	outline := rounded(x, y, w, h, 1+20*r.Float64())
	if r.IntN(2) == 0 {
		outline = randomArcs(r, x+w/2, y+h/2, min(w, h)/2)
	}
	if r.IntN(3) == 0 {
		outline = reversed(outline)
	}
	d := Drawing{Outlines: []geom.Path{outline}}
	for _, cell := range r.Perm(16)[:r.IntN(12)] {
		at := geom.Vec2{X: x + w*(float64(cell%4)+0.5)/4, Y: y + h*(float64(cell/4)+0.5)/4}
		size := 1 + 4*r.Float64()
		switch r.IntN(5) {
		case 4:
			d.Marks.Strokes = append(d.Marks.Strokes, Lettering(fmt.Sprintf("P%d-A", cell), at, size)...)
		case 0:
			d.Slots = append(d.Slots, slot(at.X, at.Y, size, size))
		case 1:
			d.Marks.Lines = append(d.Marks.Lines, Cross(at, size)...)
		case 2:
			d.Marks.Texts = append(d.Marks.Texts, Text{Value: "±" + fmt.Sprint(cell), At: at, HeightMM: size,
				Turn: r.Float64(), Centred: r.IntN(2) == 0})
		default:
			d.Holes = append(d.Holes, geom.Circle{C: at, R: size})
		}
	}
	return d
}

// randomArcs is a closed path round a centre whose edges bulge in and out, from
// a slight arc to more than a half circle.
func randomArcs(r *rand.Rand, cx, cy, radius float64) geom.Path {
	n := 2 + r.IntN(8)
	angles := make([]float64, n)
	for i := range angles {
		angles[i] = (float64(i) + 0.8*r.Float64()) * 2 * math.Pi / float64(n)
	}
	slices.Sort(angles)
	var p geom.Path
	for _, a := range angles {
		b := math.Tan((r.Float64() - 0.4) * math.Pi / 2)
		if r.IntN(3) == 0 && n > 2 {
			b = 0
		}
		p = append(p, geom.Vertex{P: geom.Vec2{X: cx + radius*math.Cos(a), Y: cy + radius*math.Sin(a)}, Bulge: b})
	}
	return p
}
