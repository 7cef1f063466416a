package page

import (
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"

	"clampwright/params/number"
	"clampwright/parts/geom"
)

// packed is the scene as the script in the page reads it.
type packed struct {
	Box    [6]json.Number `json:"box"`   // of the whole, mm: min x y z, max x y z
	Ratio  json.Number    `json:"ratio"` // width of the picture over its height
	Yaw    json.Number    `json:"yaw"`
	Pitch  json.Number    `json:"pitch"`
	Groups []string       `json:"groups"`
	Colour []string       `json:"colour"`
	Shapes []packedShape  `json:"shapes"`
	Actors []packedActor  `json:"actors"`
}

// packedShape holds little-endian arrays in base64: V is three 16-bit steps of
// the box for each vertex (on a 1.3 m rod a step is 0.02 mm), T three indices
// for each triangle, E two for each drawn edge; indices take 16 bits when Wide
// is false, 32 when true.
type packedShape struct {
	Box  [6]json.Number `json:"box"`
	Wide bool           `json:"wide"`
	V    string         `json:"v"`
	T    string         `json:"t"`
	E    string         `json:"e"`
}

type packedActor struct {
	Name   string          `json:"n"`
	Shape  int             `json:"s"`
	Group  int             `json:"g"`
	Colour int             `json:"c"`
	Layer  int             `json:"l"`
	Frame  [12]json.Number `json:"f"` // O, X, Y, Z
}

// pack encodes the stage as JSON that is safe inside a script element. Ratio
// is the width of the picture over its height.
func (st *stage) pack(ratio float64) ([]byte, error) {
	p := packed{Box: packBox(st.box), Ratio: num(ratio), Yaw: num(stillView.yaw), Pitch: num(stillView.pitch), Groups: st.groups}
	for _, c := range paint {
		p.Colour = append(p.Colour, fmt.Sprintf("%02x%02x%02x", c.rgb.R, c.rgb.G, c.rgb.B))
	}
	for _, s := range st.shapes {
		p.Shapes = append(p.Shapes, packShape(s))
	}
	for _, a := range st.actors {
		p.Actors = append(p.Actors, packedActor{a.name, a.shape, a.group, classIndex(a.class), a.layer, packFrame(a.frame)})
	}
	return json.Marshal(p) // escapes <, > and &
}

func packShape(s *shape) packedShape {
	box := s.bounds()
	wide := len(s.vertices) > math.MaxUint16
	var v, t, e []byte
	for _, p := range s.vertices {
		v = binary.LittleEndian.AppendUint16(v, step(p.X, box.Min.X, box.Max.X))
		v = binary.LittleEndian.AppendUint16(v, step(p.Y, box.Min.Y, box.Max.Y))
		v = binary.LittleEndian.AppendUint16(v, step(p.Z, box.Min.Z, box.Max.Z))
	}
	for _, tri := range s.triangles {
		t = appendIndices(t, wide, tri[:]...)
	}
	for _, ed := range s.edges {
		if ed.crease {
			e = appendIndices(e, wide, ed.a, ed.b)
		}
	}
	b64 := base64.StdEncoding.EncodeToString
	return packedShape{packBox(box), wide, b64(v), b64(t), b64(e)}
}

// step is the place of v between lo and hi in 65535 steps.
func step(v, lo, hi float64) uint16 {
	if !(hi > lo) {
		return 0
	}
	return uint16(math.Round((v - lo) / (hi - lo) * math.MaxUint16))
}

func appendIndices(b []byte, wide bool, is ...int32) []byte {
	for _, i := range is {
		if wide {
			b = binary.LittleEndian.AppendUint32(b, uint32(i))
		} else {
			b = binary.LittleEndian.AppendUint16(b, uint16(i))
		}
	}
	return b
}

func packBox(b geom.Box3) [6]json.Number {
	return [6]json.Number{num(b.Min.X), num(b.Min.Y), num(b.Min.Z), num(b.Max.X), num(b.Max.Y), num(b.Max.Z)}
}

func packFrame(f geom.Frame) [12]json.Number {
	var out [12]json.Number
	for i, v := range []geom.Vec3{f.O, f.X, f.Y, f.Z} {
		out[3*i], out[3*i+1], out[3*i+2] = num(v.X), num(v.Y), num(v.Z)
	}
	return out
}

func num(v float64) json.Number { return json.Number(number.Trim(v, 6)) }
