package page

import "clampwright/parts/geom"

// Class is what a body is made for; it sets its colour. An unknown Class is
// drawn as Hardware.
type Class string

// The classes of bodies.
const (
	Cell      Class = "cell"
	Terminal  Class = "terminal"
	Plate     Class = "plate"
	Angle     Class = "angle"
	Rod       Class = "rod"
	Hardware  Class = "hardware"
	Spring    Class = "spring"
	Separator Class = "separator"
	Liner     Class = "liner"
	Link      Class = "link"
	Printed   Class = "printed"
	Foul      Class = "foul"
)

// Scene is the finished fixture as triangles. The axes are the project's: x
// across the cells, y up, z along the stack with 0 at its middle.
type Scene struct {
	Bodies      []Body
	Description string // what the picture shows, in words, for those who do not see it
}

// Body is one distinct shape and all the places it stands in, so that a mesh
// is stored once however often it occurs.
type Body struct {
	Name   string // as in the parts list
	Group  string // check box that shows and hides it; empty: Name
	Class  Class
	Mesh   geom.Mesh // mm, in the body's own frame
	Places []Place
}

// Place is one instance of a Body.
type Place struct {
	Name  string // e.g. "rod 3"; empty: the body's name
	Frame geom.Frame
}
