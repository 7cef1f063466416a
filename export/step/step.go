// Package step writes exact solids as STEP (ISO 10303-21, application protocol 214):
// planes, cylinders and their edges as they are, millimetres, named products with a
// colour, and an assembly as products that stand in places. The same model always
// gives the same bytes.
package step

import (
	"fmt"
	"io"

	"clampwright/params/number"
	"clampwright/parts/geom"
)

// Model is what one file holds: a single shape, or shapes that stand in places.
type Model struct {
	Name   string   // of the whole
	File   string   // the file's own name
	By     string   // the program, with its version
	About  []string // what the header says of the file
	Shapes []Shape
	Places []Place // empty: the file is of the first shape alone
}

// Shape is one distinct part in its own coordinates.
type Shape struct {
	Name   string
	Solid  geom.Solid
	Colour [3]float64 // red, green and blue, 0 to 1
}

// Place is one instance of a shape.
type Place struct {
	Name  string
	Shape int // index in Shapes
	Frame geom.Frame
}

// fixedTime stands in every header: files must not depend on the clock.
const fixedTime = "2000-01-01T00:00:00"

// Encode writes the model. It errors on a shape whose faces do not close up, on
// coordinates that are not finite, and when w fails.
func Encode(w io.Writer, m Model) error {
	f := &file{once: map[string]int{}}
	f.header(m)
	b := newBook(f)
	if err := b.model(m); err != nil {
		return fmt.Errorf("STEP of %s: %w", m.Name, err)
	}
	f.buf = append(f.buf, "ENDSEC;\nEND-ISO-10303-21;\n"...)
	if _, err := w.Write(f.buf); err != nil {
		return fmt.Errorf("write STEP: %w", err)
	}
	return nil
}

func (f *file) header(m Model) {
	f.put("ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(")
	f.list(len(m.About), func(i int) { f.put(text(m.About[i])) })
	f.put(",'2;1');\nFILE_NAME(")
	for _, s := range []any{text(m.File), ",'" + fixedTime + "',(''),(''),", text(m.By), ",", text(m.By)} {
		f.put(s)
	}
	f.put(",'');\nFILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));\nENDSEC;\nDATA;\n")
}

// book holds what all products of a file refer to.
type book struct {
	*file
	product, definition, context, origin int
	styled                               []int
}

// accuracy is the distance below which points are one, mm: geom.Weld.
const accuracy = "1.E-06"

func newBook(f *file) *book {
	app := f.add("APPLICATION_CONTEXT('core data for automotive mechanical design processes')")
	f.add("APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,", app, ")")
	b := &book{file: f}
	b.product = f.add("PRODUCT_CONTEXT('',", app, ",'mechanical')")
	b.definition = f.add("PRODUCT_DEFINITION_CONTEXT('part definition',", app, ",'design')")
	mm := f.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))")
	rad := f.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))")
	sr := f.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())")
	near := f.add("UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE("+accuracy+"),", mm, ",'distance_accuracy_value','')")
	b.context = f.add("(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT(", []int{near},
		")GLOBAL_UNIT_ASSIGNED_CONTEXT(", []int{mm, rad, sr}, ")REPRESENTATION_CONTEXT('',''))")
	b.origin = b.frame(geom.World())
	return b
}

func (b *book) frame(f geom.Frame) int { return b.placement(f.O, f.Z, f.X) }

// made is a product with its definition and its shape.
type made struct{ definition, shape int }

func (b *book) model(m Model) error {
	var products []made
	for _, s := range m.Shapes {
		p, err := b.part(s)
		if err != nil {
			return fmt.Errorf("%s: %w", s.Name, err)
		}
		products = append(products, p)
	}
	if len(m.Places) > 0 {
		if err := b.assembly(m, products); err != nil {
			return err
		}
	}
	b.add("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',", b.styled, ",", b.context, ")")
	return nil
}

// part writes a shape as a product of its own.
func (b *book) part(s Shape) (made, error) {
	shell, err := s.Solid.Shell()
	if err != nil {
		return made{}, err
	}
	solid := b.solid(s.Name, shell)
	b.colour(solid, s.Colour)
	shape := b.add("ADVANCED_BREP_SHAPE_REPRESENTATION(", text(s.Name), ",", []int{b.origin, solid}, ",", b.context, ")")
	return b.named(s.Name, shape), nil
}

// named gives a shape its product.
func (b *book) named(name string, shape int) made {
	p := b.add("PRODUCT(", text(name), ",", text(name), ",'',", []int{b.product}, ")")
	b.add("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,", []int{p}, ")")
	d := b.add("PRODUCT_DEFINITION('design','',", b.add("PRODUCT_DEFINITION_FORMATION('','',", p, ")"), ",", b.definition, ")")
	b.add("SHAPE_DEFINITION_REPRESENTATION(", b.add("PRODUCT_DEFINITION_SHAPE('','',", d, ")"), ",", shape, ")")
	return made{d, shape}
}

func (b *book) colour(item int, c [3]float64) {
	rgb := b.shared("COLOUR_RGB('',", c[0], ",", c[1], ",", c[2], ")")
	area := b.shared("FILL_AREA_STYLE('',", []int{b.shared("FILL_AREA_STYLE_COLOUR('',", rgb, ")")}, ")")
	side := b.shared("SURFACE_SIDE_STYLE('',", []int{b.shared("SURFACE_STYLE_FILL_AREA(", area, ")")}, ")")
	style := b.shared("PRESENTATION_STYLE_ASSIGNMENT(", []int{b.shared("SURFACE_STYLE_USAGE(.BOTH.,", side, ")")}, ")")
	b.styled = append(b.styled, b.add("STYLED_ITEM('',", []int{style}, ",", item, ")"))
}

// assembly writes the whole as a product whose components stand in their places.
func (b *book) assembly(m Model, products []made) error {
	items := []int{b.origin}
	for _, p := range m.Places {
		o := p.Frame.O
		if err := number.Check(o.X, o.Y, o.Z); err != nil {
			return fmt.Errorf("%s: %w", p.Name, err)
		}
		items = append(items, b.frame(p.Frame))
	}
	whole := b.named(m.Name, b.add("SHAPE_REPRESENTATION(", text(m.Name), ",", items, ",", b.context, ")"))
	for i, p := range m.Places {
		of := products[p.Shape]
		use := b.add("NEXT_ASSEMBLY_USAGE_OCCURRENCE(", text(p.Name), ",", text(p.Name), ",'',", whole.definition, ",", of.definition, ",$)")
		at := b.add("ITEM_DEFINED_TRANSFORMATION('','',", b.origin, ",", items[i+1], ")")
		link := b.add("(REPRESENTATION_RELATIONSHIP('','',", of.shape, ",", whole.shape,
			")REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(", at, ")SHAPE_REPRESENTATION_RELATIONSHIP())")
		b.add("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(", link, ",", b.add("PRODUCT_DEFINITION_SHAPE('','',", use, ")"), ")")
	}
	return nil
}
