package mesh

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/hpinc/go3mf"

	"clampwright/parts/geom"
)

// decimals3MF is the count of decimals of a coordinate, mm: ten nanometres,
// finer than a float32 of 100 mm.
const decimals3MF = 6

// Encode3MF writes the bodies as one 3MF package (3MF Core Specification 1.x):
// unit millimetre, one object and one build item for each body, the body's name
// in the object. title names the whole, about what it is, also in the package's
// comment, which nobody packs. Each body must pass Snap and have a name
// of valid text. The zip entries carry a fixed time, so that the same bodies
// always give the same bytes.
func Encode3MF(w io.Writer, title, about string, bodies ...Body) error {
	model, err := model3MF(title, about, bodies)
	if err != nil {
		return fmt.Errorf("3MF of %s: %w", title, err)
	}
	var packed bytes.Buffer
	enc := go3mf.NewEncoder(&packed)
	enc.FloatPrecision = decimals3MF
	if err := enc.Encode(model); err != nil {
		return fmt.Errorf("3MF of %s: %w", title, err)
	}
	if err := repack(w, about, packed.Bytes()); err != nil {
		return fmt.Errorf("write 3MF: %w", err)
	}
	return nil
}

func model3MF(title, about string, bodies []Body) (*go3mf.Model, error) {
	if len(bodies) == 0 {
		return nil, ErrEmpty
	}
	if err := checkText(title); err != nil {
		return nil, err
	}
	model := &go3mf.Model{
		Units:    go3mf.UnitMillimeter,
		Language: "en",
		Metadata: []go3mf.Metadata{
			{Name: xml.Name{Local: "Title"}, Value: title},
			{Name: xml.Name{Local: "Application"}, Value: "clampwright"},
			{Name: xml.Name{Local: "Description"}, Value: about},
		},
	}
	for i, b := range bodies {
		if err := checkText(b.Name); err != nil {
			return nil, err
		}
		m, err := Snap(b.Mesh)
		if err != nil {
			return nil, fmt.Errorf("body %q: %w", b.Name, err)
		}
		id := uint32(i + 1)
		model.Resources.Objects = append(model.Resources.Objects, &go3mf.Object{ID: id, Name: b.Name, Mesh: mesh3MF(m)})
		model.Build.Items = append(model.Build.Items, &go3mf.Item{ObjectID: id})
	}
	return model, nil
}

func mesh3MF(m geom.Mesh) *go3mf.Mesh {
	out := new(go3mf.Mesh)
	for _, v := range m.Vertices {
		out.Vertices.Vertex = append(out.Vertices.Vertex, go3mf.Point3D{round(v.X), round(v.Y), round(v.Z)})
	}
	for _, t := range m.Triangles {
		out.Triangles.Triangle = append(out.Triangles.Triangle,
			go3mf.Triangle{V1: uint32(t[0]), V2: uint32(t[1]), V3: uint32(t[2])})
	}
	return out
}

// checkText refuses names that XML can't hold or that are empty.
func checkText(s string) error {
	bad := func(r rune) bool { return r < ' ' || r == 0xfffe || r == 0xffff }
	if s == "" || !utf8.ValidString(s) || strings.ContainsFunc(s, bad) {
		return fmt.Errorf("the name %q is empty or holds control characters", s)
	}
	return nil
}
