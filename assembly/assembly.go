package assembly

import (
	"fmt"
	"maps"
	"sync"

	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Role says what an instance is in the fixture.
type Role string

// The groups of instances, in the order they are placed.
const (
	RoleCell      Role = "cell"
	RoleTerminal  Role = "terminal"
	RoleVent      Role = "vent"
	RoleFiller    Role = "filler" // a sheet in a place without a cell; Level counts them forward
	RoleSeparator Role = "separator"
	RoleLiner     Role = "liner"
	RolePlate     Role = "plate"
	RoleStiffener Role = "stiffener"
	RoleRod       Role = "rod"
	RoleSleeve    Role = "sleeve"
	RoleWasher    Role = "washer"
	RoleSpring    Role = "spring"
	RoleNut       Role = "nut"
	RoleJamNut    Role = "jam nut"
	RoleGuard     Role = "corner guard"
	RoleEndCap    Role = "end cap"
	RoleRodCap    Role = "rod cap"
	RoleFoot      Role = "foot"
	RoleTool      Role = "tool"
)

// Layer tells the washers of one rod end apart.
type Layer int

// The layers of washers.
const (
	LayerSeat   Layer = iota // on the angle or the plate
	LayerSpring              // between spring and nut
)

// Instance is one part at its place. Parts are shared between instances.
type Instance struct {
	ID    string // unique, readable: "rod-left-upper"
	Part  *parts.Part
	Frame geom.Frame
	Role  Role
	End   End // plates and everything outside them; the cell's side for liners
	Row   int // cells, separators and liners: row from the left; else -1
	Index int // cells and separators: place in the row from the back; else -1
	// Column and Level are a rod's, or those of the rod that a part sits on;
	// -1 where there is none.
	Column, Level int
	Layer         Layer
}

// Body returns the instance's solid at its place.
func (w *Instance) Body() geom.Body { return geom.NewBody(w.Part.Solid, w.Frame) }

// Assembly is a fixture with everything at its place.
type Assembly struct {
	*factory
	// Parts are the distinct parts in the order they are first placed.
	Parts []*parts.Part
	// Instances are all parts and cells, in a fixed order: cells with terminals
	// and vents row by row, separators, liners, then the ends front and back,
	// then the rods with what sits on them.
	Instances []Instance
	// Tools are the envelopes of the tools that must get in.
	Tools []Tool
	// Aids are printed guides and gauges at a place where they are used.
	Aids []Aid

	turned  []bool // by place, row by row: see Turn
	links   []LinkPlace
	linkAt  map[string]int // by ID
	loose   []Loose
	sheets  []SheetLine
	screws  []geom.Vec2 // see SheetScrews
	holding Holding
}

// Build places a fixture with cells of nominal size. It fails, naming the size,
// when a part cannot be made from the fixture's sizes or cannot be placed.
func Build(f *params.Fixture) (*Assembly, error) { return build(f, Nominal, nil, &sync.Map{}) }

// BuildLike is Build with the printed parts of another fixture where these are alike.
func (a *Assembly) BuildLike(f *params.Fixture) (*Assembly, error) {
	return build(f, Nominal, nil, a.shapes)
}

// Variant places the same fixture with cells at a limit of their tolerance. It
// shares every part but the cells: what is cut keeps its nominal size.
func (a *Assembly) Variant(v Variant) (*Assembly, error) { return build(a.Fixture, v, a, a.shapes) }

// build places a fixture; parts are taken from like where it is given, and the shapes
// of printed ones from those made before.
func build(f *params.Fixture, v Variant, like *Assembly, shapes *sync.Map) (*Assembly, error) {
	l, err := NewPlacement(f, v)
	if err != nil {
		return nil, err
	}
	a := &Assembly{factory: &factory{Fixture: f, Placement: l, shop: map[string][]*parts.Part{}, shapes: shapes}}
	if like != nil {
		maps.Copy(a.shop, like.shop)
		delete(a.shop, cellKey)
		delete(a.shop, fillerKey)
	}
	steps := []struct {
		what  string
		place func(a *Assembly) error
	}{
		{"cells", placeCells}, {"fillers", placeFillers}, {"separators", placeSeparators}, {"liners", placeLiners},
		{"end plates", placePlates}, {"plate sheets", placeSheets}, {"stiffeners", placeStiffeners}, {"rods", placeRods},
		{"sleeves", placeSleeves}, {"hardware", placeHardware},
		{"printed parts", placePrints}, {"tools", placeTools},
	}
	for _, s := range steps {
		if err := s.place(a); err != nil {
			return nil, fmt.Errorf("%s: %w", s.what, err)
		}
	}
	if like != nil && len(like.turned) > 0 {
		if err := a.Turn(like.turned); err != nil {
			return nil, err
		}
	}
	if like != nil && len(like.links) > 0 {
		a.loose = like.loose
		return a, a.AddLinks(like.links)
	}
	return a, nil
}

// put adds an instance and lists its part when it is new.
func (a *Assembly) put(w Instance) {
	known := false
	for _, p := range a.Parts {
		known = known || p == w.Part
	}
	if !known {
		a.Parts = append(a.Parts, w.Part)
	}
	a.Instances = append(a.Instances, w)
}

// bare is an instance that belongs to no row and no rod.
func bare(name string, g Role, p *parts.Part, f geom.Frame) Instance {
	return Instance{ID: name, Role: g, Part: p, Frame: f, Row: -1, Index: -1, Column: -1, Level: -1}
}
