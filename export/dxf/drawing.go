// Package dxf writes flat parts as DXF (AC1015 text): true arcs as bulges of
// closed polylines, round holes as circles, millimetres in the header, four
// layers. It is a thin wrapper over github.com/yofu/dxf, its entities in a frame of our
// own (frame.dxf), so that a reader's audit finds
// nothing to repair. Every drawing is checked before the first byte is written.
package dxf

import "clampwright/parts/geom"

// The layers. OUTLINE and HOLES are cut through, MARK is scribed or engraved,
// NOTE is for the eye only and never cut.
const (
	LayerOutline = "OUTLINE"
	LayerHoles   = "HOLES"
	LayerMark    = "MARK"
	LayerNote    = "NOTE"
)

// Drawing is everything one file holds, in millimetres, x to the right and y
// up.
type Drawing struct {
	About    string        // a comment before all else, printable ASCII; empty for none
	Outlines []geom.Path   // closed outer boundaries, layer OUTLINE
	Slots    []geom.Path   // closed openings that are not full circles, layer HOLES
	Open     bool          // outlines and openings are open: ways of a tool's middle
	Holes    []geom.Circle // round openings, layer HOLES
	Marks    Scribe        // layer MARK
	Notes    Scribe        // layer NOTE
}

// Scribe is what is drawn on a part without cutting it.
type Scribe struct {
	Lines   []Line
	Texts   []Text
	Paths   []geom.Path // closed
	Strokes []geom.Path // open
}

// Line is a straight stroke from A to B.
type Line struct{ A, B geom.Vec2 }

// Text is one line of lettering. At is the left end of its base line, or its
// middle when Centred. Turn is counter-clockwise from x, radians.
type Text struct {
	Value    string
	At       geom.Vec2
	HeightMM float64
	Turn     float64
	Centred  bool
}

// Cross returns the two lines of an upright cross with arms of the given
// length (mm), as scribed where a hole is drilled by hand.
func Cross(at geom.Vec2, armMM float64) []Line {
	return []Line{
		{geom.Vec2{X: at.X - armMM, Y: at.Y}, geom.Vec2{X: at.X + armMM, Y: at.Y}},
		{geom.Vec2{X: at.X, Y: at.Y - armMM}, geom.Vec2{X: at.X, Y: at.Y + armMM}},
	}
}

// AddProfile adds a region's outer boundary and openings to the cut layers.
func (d *Drawing) AddProfile(p geom.Profile) {
	d.Outlines = append(d.Outlines, p.Outer)
	d.Slots = append(d.Slots, p.Slots...)
	d.Holes = append(d.Holes, p.Circles...)
}
