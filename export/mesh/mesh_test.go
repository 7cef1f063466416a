package mesh

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/hpinc/go3mf"
	"github.com/hschendel/stl"

	"clampwright/parts/geom"
)

// plate is a plate with rounded corners, three holes and a slot, turned by an
// odd angle so that no coordinate is a round float32.
func plate(t testing.TB) (geom.Solid, geom.Mesh) {
	t.Helper()
	outer, err := geom.RoundedRect(geom.Vec2{X: 100, Y: 90}, 200, 180, 7)
	if err != nil {
		t.Fatal(err)
	}
	slot, err := geom.Obround(geom.Vec2{X: 90, Y: 90}, geom.Vec2{X: 120, Y: 95}, 9)
	if err != nil {
		t.Fatal(err)
	}
	p := geom.Profile{Outer: outer, Slots: []geom.Path{slot.Oriented(false)}, Circles: []geom.Circle{
		{C: geom.Vec2{X: 14, Y: 52}, R: 5.5}, {C: geom.Vec2{X: 186, Y: 52}, R: 5.5}, {C: geom.Vec2{X: 14, Y: 130}, R: 5.5},
	}}
	return prism(t, p.Turned(0.3), 12.7)
}

func prism(t testing.TB, p geom.Profile, h float64) (geom.Solid, geom.Mesh) {
	t.Helper()
	s, err := geom.Prism(p, 0, h)
	if err != nil {
		t.Fatal(err)
	}
	m, err := s.Mesh(0.01)
	if err != nil {
		t.Fatal(err)
	}
	return s, m
}

// tetra is the smallest closed mesh.
func tetra() geom.Mesh {
	return geom.Mesh{
		Vertices:  []geom.Vec3{{}, {X: 10}, {Y: 10}, {Z: 10}},
		Triangles: []geom.Triangle{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {0, 3, 2}},
	}
}

func encodeSTL(t testing.TB, name string, ms ...geom.Mesh) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := EncodeSTL(&b, name, ms...); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestSTLLayout(t *testing.T) {
	_, m := plate(t)
	b := encodeSTL(t, "solid Größe "+strings.Repeat("x", 90), m)
	n := binary.LittleEndian.Uint32(b[80:])
	if len(b) != 84+50*int(n) || int(n) != len(m.Triangles) {
		t.Errorf("%d bytes, %d triangles, the mesh has %d", len(b), n, len(m.Triangles))
	}
	if bytes.HasPrefix(bytes.ToLower(b), []byte("solid")) {
		t.Error("the header begins like the ASCII form")
	}
	for _, c := range b[:80] {
		if c < ' ' || c > '~' {
			t.Fatalf("header byte %#x", c)
		}
	}
	s, err := stl.ReadAll(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	if bad := s.Validate(); len(bad) != 0 {
		t.Errorf("the library finds %d bad triangles", len(bad))
	}
}

func TestSTLIsTheSameEachTime(t *testing.T) {
	_, m := plate(t)
	if !bytes.Equal(encodeSTL(t, "p", m, tetra()), encodeSTL(t, "p", m, tetra())) {
		t.Error("two runs differ")
	}
}

func TestSnapRefuses(t *testing.T) {
	open, flipped, far, empty := tetra(), tetra(), tetra(), geom.Mesh{}
	open.Triangles = open.Triangles[1:]
	for i, t := range flipped.Triangles {
		flipped.Triangles[i] = geom.Triangle{t[0], t[2], t[1]}
	}
	one := tetra()
	one.Triangles[2] = geom.Triangle{1, 3, 2}
	far.Vertices[1].X = math.Inf(1)
	nan := tetra()
	nan.Vertices[3].Z = math.NaN()
	index := tetra()
	index.Triangles[0][1] = 9
	flat := tetra()
	flat.Vertices[3] = geom.Vec3{X: 1e-9, Y: 1e-9, Z: 1e-9}
	for name, m := range map[string]geom.Mesh{
		"open": open, "inside out": flipped, "one triangle turned": one, "infinite": far, "NaN": nan,
		"no such vertex": index, "empty": empty, "collapsed": flat,
	} {
		var b bytes.Buffer
		if err := EncodeSTL(&b, "x", m); err == nil || b.Len() != 0 {
			t.Errorf("%s: STL error %v, %d bytes written", name, err, b.Len())
		}
		if err := Encode3MF(&b, "x", "what it is", Body{"x", m}); err == nil || b.Len() != 0 {
			t.Errorf("%s: 3MF error %v, %d bytes written", name, err, b.Len())
		}
	}
	if _, err := Snap(flipped); !errors.Is(err, ErrInside) {
		t.Errorf("flipped: %v", err)
	}
	if EncodeSTL(io.Discard, "x") == nil || Encode3MF(io.Discard, "x", "what it is") == nil {
		t.Error("no bodies, no error")
	}
	if Encode3MF(io.Discard, "x", "what it is", Body{"a\x01", tetra()}) == nil || Encode3MF(io.Discard, "", "what it is", Body{"a", tetra()}) == nil {
		t.Error("bad names, no error")
	}
}

// TestRoundingDoesNotOpenEdges puts vertices closer together than float32 can
// tell apart, far from the origin: the sliver between them must close.
func TestRoundingDoesNotOpenEdges(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 300 {
		o := geom.Vec3{X: 900 * r.Float64(), Y: 900 * r.Float64(), Z: 900 * r.Float64()}
		m := split(tetra(), r)
		for i := range m.Vertices {
			m.Vertices[i] = m.Vertices[i].Add(o)
		}
		got, err := Snap(m)
		if err != nil {
			t.Fatal(err)
		}
		if err := got.Check(); err != nil {
			t.Fatal(err)
		}
		if want := 1000.0 / 6; math.Abs(got.Volume()/want-1) > 1e-4 {
			t.Fatalf("volume %g, want %g", got.Volume(), want)
		}
	}
}

// split cuts edges of a closed mesh at points from 1e-9 to 1 mm from an end.
func split(m geom.Mesh, r *rand.Rand) geom.Mesh {
	for range 12 {
		t := m.Triangles[r.IntN(len(m.Triangles))]
		a, b := t[0], t[1]
		pa, pb := m.Vertices[a], m.Vertices[b]
		n := int32(len(m.Vertices))
		at := math.Pow(10, -9*r.Float64()) / max(1, pa.Dist(pb))
		m.Vertices = append(m.Vertices, pa.Lerp(pb, at/2))
		for i, t := range m.Triangles {
			for k := range 3 {
				u, v, w := t[k], t[(k+1)%3], t[(k+2)%3]
				if u == a && v == b || u == b && v == a {
					m.Triangles[i] = geom.Triangle{u, n, w}
					m.Triangles = append(m.Triangles, geom.Triangle{n, v, w})
					break
				}
			}
		}
	}
	return m
}

func TestCancelFolds(t *testing.T) {
	ts := append(tetra().Triangles, geom.Triangle{0, 1, 5}, geom.Triangle{5, 1, 0})
	if got := cancelFolds(ts); len(got) != 4 {
		t.Errorf("%d triangles left, want 4", len(got))
	}
}

func Test3MFIsReadByTheLibrary(t *testing.T) {
	_, m := plate(t)
	var b bytes.Buffer
	if err := Encode3MF(&b, "Prüfling", "what it is", Body{"corner guard <left> & \"right\"", m}, Body{"cap", tetra()}); err != nil {
		t.Fatal(err)
	}
	var got go3mf.Model
	if err := go3mf.NewDecoder(bytes.NewReader(b.Bytes()), int64(b.Len())).Decode(&got); err != nil {
		t.Fatal(err)
	}
	if err := got.Validate(); err != nil {
		t.Error(err)
	}
	if got.Units != go3mf.UnitMillimeter || len(got.Build.Items) != 2 {
		t.Errorf("units %v, %d items", got.Units, len(got.Build.Items))
	}
	if name := got.Resources.Objects[0].Name; name != `corner guard <left> & "right"` {
		t.Errorf("name %q", name)
	}
	if n := len(got.Resources.Objects[0].Mesh.Triangles.Triangle); n != len(m.Triangles) {
		t.Errorf("%d triangles, want %d", n, len(m.Triangles))
	}
}

func Test3MFIsTheSameEachTime(t *testing.T) {
	_, m := plate(t)
	var a bytes.Buffer
	for i := range 20 { // enough for a hash table to show its order
		var b bytes.Buffer
		if err := Encode3MF(&b, "plate", "what it is", Body{"plate", m}); err != nil {
			t.Fatal(err)
		}
		if i > 0 && !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Fatal("two runs differ")
		}
		a = b
	}
	r, err := zip.NewReader(bytes.NewReader(a.Bytes()), int64(a.Len()))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.File {
		if !f.Modified.Equal(zipTime) {
			t.Errorf("%s carries the time %v", f.Name, f.Modified)
		}
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

var errFull = errors.New("no room")

func TestFailedWriteIsReported(t *testing.T) {
	if err := EncodeSTL(fullDisk{}, "x", tetra()); !errors.Is(err, errFull) {
		t.Errorf("STL: %v", err)
	}
	if err := Encode3MF(fullDisk{}, "x", "what it is", Body{"x", tetra()}); !errors.Is(err, errFull) {
		t.Errorf("3MF: %v", err)
	}
}

func BenchmarkEncodeSTL(b *testing.B) {
	_, m := plate(b)
	b.ReportAllocs()
	for b.Loop() {
		if err := EncodeSTL(io.Discard, "plate", m); err != nil {
			b.Fatal(err)
		}
	}
}
