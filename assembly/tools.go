package assembly

import (
	"fmt"

	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// ToolKind is a tool that must get in.
type ToolKind string

// The tools.
const (
	ToolSocket  ToolKind = "socket"  // with its drive, swept outward along the rod
	ToolSpanner ToolKind = "spanner" // the head of an open spanner, at the nut's height
	ToolPliers  ToolKind = "pliers"  // one jaw, at mid-span of a rod
	ToolDrill   ToolKind = "drill"   // chuck, over an angle's hole
	ToolVent    ToolKind = "vent"    // no tool: the free space above a vent
	ToolHead    ToolKind = "head"    // of a screw through the sheets of a plate
	ToolScrew   ToolKind = "screw"   // in a mounting hole: its head and washer inside, its nut with a socket outside
	ToolTie     ToolKind = "tie"     // with the fingers that thread it, on one side of its slot
)

// Tool is the envelope of a tool in use.
type Tool struct {
	Instance
	Kind ToolKind
	// On is what is worked on: the nut, the rod, the angle, the vent, the opening.
	On string
	// Approach is the way in, where there are several: "from the side".
	Approach string
}

// placeTools places the envelopes of every tool at every place it is used.
func placeTools(a *Assembly) error {
	for _, step := range []func(*Assembly) error{placeSockets, placePliers, placeDrills, placeVentSpace, placeOpenings} {
		if err := step(a); err != nil {
			return err
		}
	}
	return nil
}

// putTool adds one envelope, of a solid shared under its key.
func putTool(a *Assembly, t Tool, key string, build func() (geom.Solid, error)) error {
	p, err := a.obtain("tool "+key, func() (*parts.Part, error) {
		s, err := build()
		return notMade(string(t.Kind), kindTool, s), err
	})
	if err != nil {
		return fmt.Errorf("%s: %w", t.Kind, err)
	}
	t.Part, t.Role = p, RoleTool
	a.Tools = append(a.Tools, t)
	return nil
}

// ToolStart is where a socket or spanner begins at one end: at the nut's seat,
// and no nearer to the face the washer lies on than the clearance wanted, as
// the nut keeps the tool off that face.
func (a *Assembly) ToolStart(e End) float64 {
	s := a.Placement.Ends[e]
	return max(s.Seat(), s.Leg.Outer+a.Fixture.Clearances.ToolToMetal.MM())
}

// placeSockets places socket and spanner on every nut. The socket's cylinder
// reaches from the nut's seat to its drive; swept outward it covers putting on
// and taking off.
func placeSockets(a *Assembly) error {
	t := a.Fixture.Tools
	for _, nut := range a.Of(RoleNut) {
		s := a.Placement.Ends[nut.End]
		start, outer := a.ToolStart(nut.End), s.NutOuter()
		o := nut.Frame.O
		o.Z = nut.End.Sign() * start
		w := *nut
		w.Frame = outward(nut.End, o)
		w.ID = "tool-socket-on-" + nut.ID
		if r := t.Socket.Outer.MM() / 2; r > 0 {
			err := putTool(a, Tool{Instance: w, Kind: ToolSocket, On: nut.ID}, "socket "+nut.End.String(),
				func() (geom.Solid, error) { return geom.Cylinder(r, 0, outer-start+t.SocketWith.MM()) })
			if err != nil {
				return err
			}
		}
		w.ID = "tool-spanner-on-" + nut.ID
		if r := t.Spanner.MM() / 2; r > 0 {
			err := putTool(a, Tool{Instance: w, Kind: ToolSpanner, On: nut.ID}, "spanner "+nut.End.String(),
				func() (geom.Solid, error) { return geom.Cylinder(r, 0, max(s.Nut.Outer-start, geom.MinSize)) })
			if err != nil {
				return err
			}
		}
	}
	return nil
}

// approach is one way of bringing pliers to a rod: dir points from the tool to
// the rod.
type approach struct {
	name string
	dir  geom.Vec3
}

// approaches returns the ways to a rod of a column: rods outside all rows from
// their free side, and every rod from above and from below.
func approaches(a *Assembly, column int) []approach {
	x := a.Placement.Columns[column]
	var all []approach
	first, last := a.Placement.RowX[0], a.Placement.RowX[len(a.Placement.RowX)-1]
	switch {
	case x < first-a.Placement.CellWidth/2:
		all = append(all, approach{"from the side", geom.Vec3{X: 1}})
	case x > last+a.Placement.CellWidth/2:
		all = append(all, approach{"from the side", geom.Vec3{X: -1}})
	}
	return append(all, approach{"from above", geom.Vec3{Y: -1}}, approach{"from below", geom.Vec3{Y: 1}})
}

// GripRadius is the radius that the pliers close on: the rod, or the sleeve
// round it.
func (a *Assembly) GripRadius() float64 {
	if a.Fixture.Sleeve != nil {
		return a.Fixture.Sleeve.Outer.MM() / 2
	}
	return a.Fixture.Rods.Thread.Major.MM() / 2
}

// placePliers places two jaws astride every rod at mid-span for each approach:
// their tips beyond the rod, their length back to the joint.
func placePliers(a *Assembly) error {
	p := a.Fixture.Tools.Pliers
	if p.JawThickness <= 0 || p.JawWidth <= 0 || p.Reach <= 0 {
		return nil
	}
	r := a.GripRadius()
	tip := r + p.TipOverhang.MM()
	lo := geom.Vec3{X: tip - p.Reach.MM(), Y: r, Z: -p.JawWidth.MM() / 2}
	hi := geom.Vec3{X: tip, Y: r + p.JawThickness.MM(), Z: p.JawWidth.MM() / 2}
	for _, rod := range a.Of(RoleRod) {
		for _, way := range approaches(a, rod.Column) {
			for side, z := range []float64{1, -1} {
				t := Tool{Instance: *rod, Kind: ToolPliers, On: rod.ID, Approach: way.name}
				t.ID = fmt.Sprintf("tool-jaw-%d-on-%s-%s", side+1, rod.ID, way.name)
				o := rod.Frame.O
				o.Z = 0
				zAxis := geom.Vec3{Z: z}
				t.Frame = geom.Frame{O: o, X: way.dir, Y: zAxis.Cross(way.dir), Z: zAxis}
				if err := putTool(a, t, "jaw", func() (geom.Solid, error) { return geom.Box(lo, hi) }); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// StandOut is how far a drill of the given diameter stands out of the chuck:
// eight diameters, less than the flute length of jobber drills from 5 to 14 mm
// (from memory of ISO 235, unverified).
func StandOut(dia float64) float64 { return 8 * dia }

// placeDrills places the chuck over every hole of the angles, on the side the
// standing leg is on.
func placeDrills(a *Assembly) error {
	r := a.Fixture.Tools.DrillBody.MM() / 2
	if r <= 0 || a.Fixture.Stiffener == nil {
		return nil
	}
	for _, angle := range a.Of(RoleStiffener) {
		for c, x := range a.Placement.Columns {
			t := Tool{Instance: *angle, Kind: ToolDrill, On: angle.ID}
			t.Column = c
			t.ID = id("tool-drill-on", angle.ID, params.ColumnName(c, len(a.Placement.Columns)))
			from := a.Placement.Ends[angle.End].Leg.Outer + StandOut(a.Fixture.Rods.Hole.MM())
			t.Frame = outward(angle.End, geom.Vec3{X: x, Y: a.Placement.Levels[angle.Level], Z: angle.End.Sign() * from})
			if err := putTool(a, t, "chuck", func() (geom.Solid, error) { return geom.Cylinder(r, 0, 4*r) }); err != nil {
				return err
			}
		}
	}
	return nil
}

// placeVentSpace places the space above every vent that must stay free.
func placeVentSpace(a *Assembly) error {
	high, c := a.Fixture.Clearances.VentFree.MM(), a.Fixture.Cell
	if high <= ventRise {
		return nil
	}
	x, z := c.VentLength.MM()/2, c.VentWidth.MM()/2
	for _, vent := range a.Of(RoleVent) {
		t := Tool{Instance: *vent, Kind: ToolVent, On: vent.ID}
		t.ID = id("space-above", vent.ID)
		err := putTool(a, t, "vent space", func() (geom.Solid, error) {
			return geom.Box(geom.Vec3{X: -x, Y: ventRise, Z: -z}, geom.Vec3{X: x, Y: high, Z: z})
		})
		if err != nil {
			return err
		}
	}
	return nil
}
