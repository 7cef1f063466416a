package dxf

import (
	"math"

	"github.com/yofu/dxf/color"
	"github.com/yofu/dxf/entity"
	"github.com/yofu/dxf/handle"
	"github.com/yofu/dxf/table"

	"clampwright/parts/geom"
)

// maker collects the entities of one drawing in fixed order.
type maker struct{ out entity.Entities }

// newEntities makes the ENTITIES section in the order in which a machine runs a file:
// marks, holes, openings, and only then outlines; notes last.
func newEntities(d Drawing) entity.Entities {
	m := &maker{entity.New()}
	m.scribe(LayerMark, d.Marks)
	m.circles(LayerHoles, d.Holes)
	m.paths(LayerHoles, d.Slots, !d.Open)
	m.paths(LayerOutline, d.Outlines, !d.Open)
	m.scribe(LayerNote, d.Notes)
	return m.out
}

// owned is the part of the library's entities that it does not name in its
// interface.
type owned interface {
	entity.Entity
	SetOwner(handle.Handler)
}

func (m *maker) add(layer string, e owned) {
	e.SetLayer(table.NewLayer(layer, color.White, nil)) // of which entities tell the name
	e.SetOwner(modelSpace)
	m.out = m.out.Add(e)
}

func (m *maker) paths(layer string, ps []geom.Path, closed bool) {
	for _, p := range ps {
		l := entity.NewLwPolyline(len(p))
		for i, v := range p {
			l.Vertices[i] = []float64{v.P.X, v.P.Y}
			l.Bulges[i] = v.Bulge
		}
		if closed {
			l.Close()
		}
		m.add(layer, l)
	}
}

func (m *maker) circles(layer string, cs []geom.Circle) {
	for _, c := range cs {
		e := entity.NewCircle()
		e.Center = []float64{c.C.X, c.C.Y, 0}
		e.Radius = c.R
		m.add(layer, e)
	}
}

func (m *maker) scribe(layer string, s Scribe) {
	m.paths(layer, s.Paths, true)
	m.paths(layer, s.Strokes, false)
	for _, l := range s.Lines {
		e := entity.NewLine()
		e.Start = []float64{l.A.X, l.A.Y, 0}
		e.End = []float64{l.B.X, l.B.Y, 0}
		m.add(layer, e)
	}
	for _, t := range s.Texts {
		m.text(layer, t)
	}
}

func (m *maker) text(layer string, t Text) {
	value, err := escape(t.Value)
	if err != nil {
		return // Validate has refused it already
	}
	e := entity.NewText()
	e.Coord1 = []float64{t.At.X, t.At.Y, 0}
	e.Height = t.HeightMM
	e.Rotation = t.Turn * 180 / math.Pi
	e.WidthFactor = 1
	e.Value = value
	if t.Centred {
		e.Anchor(entity.CENTER_CENTER)
	}
	m.add(layer, e)
}
