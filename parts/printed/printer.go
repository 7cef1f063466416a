// Package printed builds the parts that a small printer makes: separators with
// locating lips, corner guards, end caps, rod sleeves and caps, feet, drill
// guides and gauges. Parameters are plain numbers, results are parts.Part with a
// closed mesh, chosen print orientation, measured walls and advice. Parts that are flat
// layers are built by package relief, exactly; rounded ones about an axis are distance
// functions cut by rays. Parts too large for the bed, or too slender to stand on it,
// come in pieces with a joint.
package printed

import (
	"fmt"

	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed/relief"
)

// Printer is the user's printer and what it prints with.
type Printer struct {
	BedMM     [3]float64 // x, y, z
	FitMM     float64    // clearance per side of a sliding fit, as measured
	MinWallMM float64
	Material  parts.Material
}

// Deviation and chord of the meshes, mm: under the 0.05 mm that a printer could
// show, and fine enough that gaps measured on the mesh are good to 0.02 mm.
const (
	chordMM     = 0.01
	deviationMM = 0.03
)

// wall is the thickness of walls that carry something: twice the least.
func (p Printer) wall() float64 { return max(2*p.MinWallMM, 2) }

// check reports a printer that prints nothing.
func (p Printer) check(id string) error {
	for _, b := range p.BedMM {
		if !(b >= 20 && b <= 5000) {
			return refuse(id, "printer bed", b, 20, 5000)
		}
	}
	if !(p.FitMM >= 0 && p.FitMM <= 5) {
		return refuse(id, "fit", p.FitMM, 0, 5)
	}
	if !(p.MinWallMM >= 0.1 && p.MinWallMM <= 20) {
		return refuse(id, "least wall", p.MinWallMM, 0.1, 20)
	}
	if !(p.Material.DensityGCM3 >= 0 && p.Material.DensityGCM3 <= 30) {
		return refuse(id, "density in g/cm³", p.Material.DensityGCM3, 0, 30)
	}
	return nil
}

func refuse(id, what string, got, lo, hi float64) error {
	return &parts.Error{Part: id, What: what, Err: &geom.SizeError{What: what, Got: got, Min: lo, Max: hi}}
}

// span is one dimension with its allowed range, mm.
type span struct {
	what      string
	v, lo, hi float64
}

// checked reports the first bad dimension; NaN is always bad.
func (p Printer) checked(id string, spans ...span) error {
	if err := p.check(id); err != nil {
		return err
	}
	for _, s := range spans {
		if !(s.v >= s.lo && s.v <= s.hi) {
			return refuse(id, s.what, s.v, s.lo, s.hi)
		}
	}
	return nil
}

// finish turns a solid into a printed part: mass, size, orientation and walls.
// markMM is the depth of engraved marks, which are no walls.
func (p Printer) finish(l parts.Label, k parts.Kind, s geom.Solid, markMM float64) (parts.Part, error) {
	m, err := s.Mesh(chordMM)
	if err != nil {
		return parts.Part{}, &parts.Error{Part: l.ID, What: "mesh", Err: err}
	}
	b := s.Bounds().Size()
	print := &parts.Print{WallMM: Wall(m, markMM)}
	print.Lie, print.SteepMM2, print.UprightMM2 = Lie(m, p.BedMM)
	advise(k, m, print)
	return parts.Part{
		ID: l.ID, Kind: k, Name: l.Name, Mark: l.Mark, Stock: p.Material.Name + " print", Make: parts.MakePrint,
		Material: p.Material.Name, Conducts: p.Material.Conducts, Solid: s, SizeMM: [3]float64{b.X, b.Y, b.Z},
		MassG: s.Volume() / 1000 * p.Material.DensityGCM3, Print: print,
	}, nil
}

// setNeed says why steep overhangs remain on a part that has some.
func setNeed(p *parts.Part, why string) {
	if p.Print != nil && p.Print.SteepMM2 > 1 {
		p.Print.Need = why
	}
}

// layered builds a part from layers.
func (p Printer) layered(l parts.Label, k parts.Kind, layers []relief.Layer, markMM float64) (parts.Part, error) {
	s, err := relief.Solid(layers, chordMM)
	if err != nil {
		return parts.Part{}, &parts.Error{Part: l.ID, What: "outline", Err: err}
	}
	return p.finish(l, k, s, markMM)
}

// fits reports whether a box of the given size fits the bed lying in some way.
func (p Printer) fits(x, y, z float64) bool {
	s, b := sorted(x, y, z), sorted(p.BedMM[0], p.BedMM[1], p.BedMM[2])
	return s[0] <= b[0] && s[1] <= b[1] && s[2] <= b[2]
}

func sorted(x, y, z float64) [3]float64 {
	lo, hi := min(x, y, z), max(x, y, z)
	return [3]float64{lo, x + y + z - lo - hi, hi}
}

// longest is the greatest length that the bed takes.
func (p Printer) longest() float64 { return max(p.BedMM[0], p.BedMM[1], p.BedMM[2]) }

// piece names one of several pieces: "sleeve-2".
func piece(l parts.Label, i, n int) parts.Label {
	if n > 1 {
		l.ID = fmt.Sprintf("%s-%d", l.ID, i+1)
		l.Name = fmt.Sprintf("%s, piece %d of %d", l.Name, i+1, n)
		if l.Mark != "" {
			l.Mark = fmt.Sprintf("%s.%d", l.Mark, i+1)
		}
	}
	return l
}

func rect(x0, y0, x1, y1 float64) geom.Path {
	return geom.Rect(geom.Vec2{X: x0, Y: y0}, geom.Vec2{X: x1, Y: y1})
}

func box(x0, y0, x1, y1 float64) geom.Box2 {
	return geom.Box2{Min: geom.Vec2{X: x0, Y: y0}, Max: geom.Vec2{X: x1, Y: y1}}
}

func circle(x, y, dia float64) geom.Path {
	return geom.Circle{C: geom.Vec2{X: x, Y: y}, R: dia / 2}.Path()
}

// polygon is a path of straight edges through x, y, x, y, ...
func polygon(xy ...float64) geom.Path {
	var p geom.Path
	for i := 0; i+1 < len(xy); i += 2 {
		p = append(p, geom.Vertex{P: geom.Vec2{X: xy[i], Y: xy[i+1]}})
	}
	return p
}
