package assembly

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// RoleLink is the link bars of the finished pack, at the end of the instances.
const RoleLink Role = "link"

// ToolDriver is the socket over a terminal's nut or screw.
const ToolDriver ToolKind = "terminal driver"

// TerminalAt names one terminal: a cell, and the side of its lid as seen from
// the front: 0 is the low x.
type TerminalAt struct{ Row, Index, Side int }

// LinkPlace is one bar of the finished pack: its round hole on From, its slot on
// To. The part lies as parts.LinkBar makes it.
type LinkPlace struct {
	ID       string
	Part     *parts.Part // nil for a cable, which joins but is not placed
	From, To TerminalAt
	JogMM    float64 // sideways distance of slot and hole; 0 for a straight bar
	HighMM   float64 // of its underside above the pad at From

	pads []string // names of the instances at its ends
}

// Loose is a part to make that is no part of the finished fixture: a temporary
// link, say.
type Loose struct {
	Part     *parts.Part
	Quantity int
}

// AddLinks places the link bars of the finished pack and the driver over every
// terminal. It fails when a link names a terminal that is not there.
func (a *Assembly) AddLinks(links []LinkPlace) error {
	if a.linkAt == nil {
		a.linkAt = map[string]int{}
	}
	for _, k := range links {
		a.linkAt[k.ID] = len(a.links)
		a.links = append(a.links, k)
		if err := placeLink(a, k); err != nil {
			return err
		}
	}
	return placeDrivers(a)
}

// Links returns the links as they were added.
func (a *Assembly) Links() []LinkPlace { return a.links }

// AddLoose lists parts that are made but are not in the finished fixture.
func (a *Assembly) AddLoose(loose ...Loose) { a.loose = append(a.loose, loose...) }

// terminalSides is the number of terminals of a cell.
const terminalSides = 2

// TerminalID is the name of the instance at a terminal.
func (a *Assembly) TerminalID(t TerminalAt) string {
	return id("cell", rowName(t.Row, a.Fixture.Pack.Rows), fmt.Sprint(t.Index+1), "terminal", params.ColumnName(t.Side, terminalSides))
}

// padsOf are the names of a terminal's pads.
func padsOf(a *Assembly, t TerminalAt) []string {
	out := []string{a.TerminalID(t)}
	for i := 1; i < a.Fixture.Cell.Screws; i++ {
		out = append(out, id(out[0], fmt.Sprint(i+1)))
	}
	return out
}

// terminalTop is the middle of a terminal's pad, where the lowest bar lies.
func terminalTop(a *Assembly, t TerminalAt) (geom.Vec3, error) {
	p, c := a.Fixture.Pack, a.Fixture.Cell
	if t.Row < 0 || t.Row >= p.Rows || t.Index < 0 || t.Index >= p.CellsIn(t.Row) || t.Side < 0 || t.Side >= terminalSides || c.Plus.Dia <= 0 {
		return geom.Vec3{}, fmt.Errorf("there is no terminal %d of cell %d in row %d", t.Side+1, t.Index+1, t.Row+1)
	}
	pad := c.Terminals(isTurned(a, t.Row, t.Index))[t.Side]
	return geom.Vec3{
		X: a.Placement.RowX[t.Row] + pad.X.MM(),
		Y: a.Placement.CellHeight + padHigh(pad),
		Z: a.Placement.CellZ(t.Index, p.PerRow) + pad.Z.MM(),
	}, nil
}

func placeLink(a *Assembly, k LinkPlace) error {
	from, err := terminalTop(a, k.From)
	if err != nil {
		return fmt.Errorf("link %s: %w", k.ID, err)
	}
	to, err := terminalTop(a, k.To)
	if err != nil {
		return fmt.Errorf("link %s: %w", k.ID, err)
	}
	if k.From == k.To {
		return fmt.Errorf("link %s: both ends are on one terminal", k.ID)
	}
	a.links[a.linkAt[k.ID]].pads = append(padsOf(a, k.From), padsOf(a, k.To)...)
	if k.Part == nil {
		return nil
	}
	a.put(bare(k.ID, RoleLink, k.Part, linkFrame(from, to, k.JogMM, k.Part.SizeMM[2], k.HighMM)))
	return nil
}

// linkFrame lays a bar from one terminal to another. The bar's x runs along the
// greater offset as nearly as its jog allows; where the terminal lies on the
// other side of it, the bar is turned over.
func linkFrame(from, to geom.Vec3, jog, thick, high float64) geom.Frame {
	v := to.Sub(from)
	axis := geom.Vec3{X: math.Copysign(1, v.X)}
	if math.Abs(v.Z) >= math.Abs(v.X) {
		axis = geom.Vec3{Z: math.Copysign(1, v.Z)}
	}
	up := geom.Vec3{Y: 1}
	side := math.Copysign(1, v.Dot(up.Cross(axis)))
	f := geom.Frame{O: from, Z: up}
	f.O.Y += high
	if side < 0 && jog > 0 {
		f.Z = geom.Vec3{Y: -1}
		f.O.Y += thick
	}
	d := math.Hypot(v.X, v.Z)
	along := math.Sqrt(max(0, d*d-jog*jog))
	// v = along X + jog Y with Y = Z x X: X is v turned back by the jog's angle.
	u := geom.Vec3{X: v.X / d, Z: v.Z / d}
	w := f.Z.Cross(u)
	f.X = u.Mul(along / d).Sub(w.Mul(jog / d))
	f.Y = f.Z.Cross(f.X)
	return f
}

// topOn is the height of a terminal with all the bars on it.
func topOn(a *Assembly, t TerminalAt) (geom.Vec3, error) {
	top, err := terminalTop(a, t)
	for _, k := range a.links {
		if (k.From == t || k.To == t) && k.Part != nil && err == nil {
			var from geom.Vec3
			from, err = terminalTop(a, k.From)
			top.Y = max(top.Y, from.Y+k.HighMM+k.Part.SizeMM[2])
		}
	}
	return top, err
}

// DriverFlats is the hexagon of a terminal's nut or screw: that of a plain nut
// of its thread, or one and two thirds of the pad's clear hole when the thread
// is in no table.
func (a *Assembly) DriverFlats() unit.Length {
	if n, ok := a.Fixture.Tables.NutFor(a.Fixture.Cell.TerminalThread, "plain"); ok {
		return n.Flats
	}
	return unit.Length(a.studDia() * 5 / 3)
}

// placeDrivers stands a socket on every terminal, on top of its bars.
func placeDrivers(a *Assembly) error {
	f := a.Fixture
	if f.Cell.Plus.Dia <= 0 || f.Cell.Welded {
		return nil
	}
	r := f.Tables.SocketFor(a.DriverFlats()).Outer.MM() / 2
	for row := range f.Pack.Rows {
		for i := range f.Pack.CellsIn(row) {
			for side := range terminalSides {
				t := TerminalAt{row, i, side}
				o, err := topOn(a, t)
				if err != nil {
					return err
				}
				if err := placeDriver(a, t, o, r); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// placeDriver stands a socket of radius r on every screw of a terminal whose bars end at o.
func placeDriver(a *Assembly, t TerminalAt, o geom.Vec3, r float64) error {
	long := a.Fixture.Tools.SocketWith.MM()
	for i, at := range a.Fixture.Cell.ScrewsAt() {
		on := a.TerminalID(t)
		name := "tool-driver-on-" + on
		if i > 0 {
			name = id(name, fmt.Sprint(i+1))
		}
		w := bare(name, RoleTool, nil, geom.Frame{O: o.Add(geom.Vec3{X: at[0].MM(), Z: at[1].MM()}), X: geom.Vec3{Z: 1}, Y: geom.Vec3{X: 1}, Z: geom.Vec3{Y: 1}})
		w.Row, w.Index = t.Row, t.Index
		if err := putTool(a, Tool{Instance: w, Kind: ToolDriver, On: on}, "terminal driver", func() (geom.Solid, error) { return geom.Cylinder(r, 0, long) }); err != nil {
			return err
		}
	}
	return nil
}

// LinkNets numbers what the links join: terminals and bars by instance ID (a
// stud with its pad). Terminals of one net carry the same number.
func (a *Assembly) LinkNets() map[string]int {
	p := a.Fixture.Pack
	up := map[TerminalAt]TerminalAt{}
	find := func(t TerminalAt) TerminalAt {
		for up[t] != t {
			t = up[t]
		}
		return t
	}
	var all []TerminalAt
	for row := range p.Rows {
		for i := range p.CellsIn(row) {
			for side := range terminalSides {
				t := TerminalAt{row, i, side}
				up[t], all = t, append(all, t)
			}
		}
	}
	for _, k := range a.links {
		up[find(k.From)] = find(k.To)
	}
	nets, number := map[string]int{}, map[TerminalAt]int{}
	for _, t := range all {
		root := find(t)
		if _, ok := number[root]; !ok {
			number[root] = len(number)
		}
		for _, pad := range padsOf(a, t) {
			nets[pad], nets[id(pad, "stud")] = number[root], number[root]
		}
	}
	for _, k := range a.links {
		nets[k.ID] = number[find(k.From)]
	}
	return nets
}

// linkMeets: a bar lies on the terminals it joins and on the bars it shares one
// with.
func linkMeets(a *Assembly, link, v *Instance) Meeting {
	k := linkOf(a, link)
	if k == nil {
		return Clear
	}
	switch v.Role {
	case RoleTerminal:
		if pad := strings.TrimSuffix(v.ID, "-stud"); slices.Contains(k.pads, pad) {
			return Sits
		}
	case RoleLink:
		o := linkOf(a, v)
		if o != nil && (k.From == o.From || k.From == o.To || k.To == o.From || k.To == o.To) {
			return Sits
		}
	}
	return Clear
}

func linkOf(a *Assembly, w *Instance) *LinkPlace {
	if i, ok := a.linkAt[w.ID]; ok {
		return &a.links[i]
	}
	return nil
}
