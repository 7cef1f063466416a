package mesh

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"github.com/hschendel/stl"

	"clampwright/parts/geom"
)

// stlHeaderBytes are before the triangles. What they say must not begin with
// "solid", which begins the ASCII form of the format.
const stlHeaderBytes = 80

// NameBytes is how much of a name the header takes.
const NameBytes = stlHeaderBytes - 1

// EncodeSTL writes the bodies, in order, as one binary STL file whose header
// carries the name (anything but printable ASCII becomes '?', and the end is cut).
// Each body must pass Snap; bodies are not checked against each other.
func EncodeSTL(w io.Writer, name string, bodies ...geom.Mesh) error {
	if len(bodies) == 0 {
		return fmt.Errorf("STL of %s: %w", name, ErrEmpty)
	}
	solid := stl.Solid{BinaryHeader: header(name)}
	total := 0
	snapped := make([]geom.Mesh, len(bodies))
	for i, b := range bodies {
		m, err := Snap(b)
		if err != nil {
			return fmt.Errorf("STL of %s, body %d: %w", name, i+1, err)
		}
		snapped[i] = m
		if total += len(m.Triangles); total > maxTriangles {
			return fmt.Errorf("STL of %s: %w", name, ErrTooLarge)
		}
	}
	solid.SetTriangleCount(uint32(total))
	for _, m := range snapped {
		for _, t := range m.Triangles {
			solid.AppendTriangle(facet(m, t))
		}
	}
	bw := bufio.NewWriterSize(w, 1<<16)
	if err := solid.WriteAll(bw); err != nil {
		return fmt.Errorf("write STL: %w", err)
	}
	if err := bw.Flush(); err != nil {
		return fmt.Errorf("write STL: %w", err)
	}
	return nil
}

// facet is one triangle with its unit normal, computed before rounding it to
// float32; a triangle without area gets the zero normal the format allows.
func facet(m geom.Mesh, t geom.Triangle) stl.Triangle {
	a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
	n := b.Sub(a).Cross(c.Sub(a))
	if l := n.Len(); l > 0 {
		n = n.Mul(1 / l)
	}
	return stl.Triangle{Normal: vec32(n), Vertices: [3]stl.Vec3{vec32(a), vec32(b), vec32(c)}}
}

func vec32(v geom.Vec3) stl.Vec3 { return stl.Vec3{round(v.X), round(v.Y), round(v.Z)} }

func header(name string) []byte {
	h := ascii(name)
	if strings.HasPrefix(strings.ToLower(h), "solid") {
		h = "STL " + h
	}
	return []byte(h[:min(len(h), NameBytes)] + " ") // which ends the last word
}

// ascii replaces what is not printable ASCII.
func ascii(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '?'
		}
		return r
	}, s)
}
