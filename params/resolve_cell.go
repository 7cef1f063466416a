package params

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strconv"

	"clampwright/params/catalog"
	"clampwright/params/diag"
	"clampwright/params/unit"
)

// genericDensity is the mass of a prismatic cell over its case volume, g/mm3:
// 5.42 kg for 72 x 174 x 205 mm.
const genericDensity = 5420.0 / (72 * 174 * 205)

var sizeName = regexp.MustCompile(`^(\d+(?:\.\d+)?)[xX](\d+(?:\.\d+)?)[xX](\d+(?:\.\d+)?)$`)

func settleCell(r *resolver) {
	in := &r.in.Cell
	row := cellRow(r)
	c := &r.f.Cell
	c.Cell = row
	c.Thickness = cellSize(r, "cell.thickness", in.Thickness, row.Thickness)
	c.Width = cellSize(r, "cell.width", in.Width, row.Width)
	c.Height = cellSize(r, "cell.height", in.Height, row.Height)
	c.ThicknessTol = pick(r, "cell.thickness_tolerance", in.ThicknessTolerance, orLength(row.ThicknessTol, c.Thickness*0.01), "1 % of the thickness")
	c.WidthTol = pick(r, "cell.width_tolerance", in.WidthTolerance, orLength(row.WidthTol, 0.5), "common practice")
	c.HeightTol = pick(r, "cell.height_tolerance", in.HeightTolerance, orLength(row.HeightTol, 0.5), "common practice")
	volume := float64(c.Thickness * c.Width * c.Height)
	c.Mass = pick(r, "cell.mass", in.Mass, unit.Mass(orFloat(float64(row.Mass), volume*genericDensity)), "by the case volume")
	c.CapacityAh = pick(r, "cell.capacity", in.Capacity, orFloat(row.CapacityAh, math.Round(volume*280/(72*174*205))), "by the case volume")
	c.ResistanceMOhm = pick(r, "cell.resistance", in.Resistance, orFloat(row.ResistanceMOhm, 0.3), "common practice")
	c.CurrentA = pick(r, "cell.current", in.Current, c.CapacityAh, "the capacity in an hour, common practice; the data sheet decides")
	settleTerminals(r, row)
	zone := unit.Length(in.SwellZone.Or(0.6))
	r.note("cell.swell_zone", originOf(in.SwellZone.Set), in.SwellZone.At, "the central 60 % of each edge")
	c.SwellWidth, c.SwellHeight = c.Width*zone, c.Height*zone
	c.MiddleShare = in.MiddleShare.Or(0)
	c.CaseLive = in.Case.Or("live") == "live"
	c.Batch = in.Batch.V
	settleWindow(r)
}

// cellRow finds the cells table row that the file names, or makes one from a
// name that is itself three sizes, or an empty one when all sizes are given.
func cellRow(r *resolver) catalog.Cell {
	g := r.in.Cell.Model
	if !g.Set {
		return catalog.Cell{Name: "own"}
	}
	if c, ok := r.tables.Cell(g.V); ok {
		r.note("cell.model", FromTable, g.At, c.Source)
		return c
	}
	if m := sizeName.FindStringSubmatch(g.V); m != nil {
		sizes := [3]unit.Length{}
		for i := range sizes {
			x, _ := strconv.ParseFloat(m[i+1], 64)
			sizes[i] = unit.Length(x)
		}
		return cellFromName(r, g, sizes)
	}
	return row(r, "cells", g, usualCell, r.tables.Cell)
}

// usualCell is the model of the starter file.
const usualCell = "72x174x201"

// cellFromName checks sizes that came from a model name against the limits of
// the keys they stand for.
func cellFromName(r *resolver, g wordV, s [3]unit.Length) catalog.Cell {
	fields := fieldsOf(typeOfCellBlock).byKey
	for i, key := range []string{"thickness", "width", "height"} {
		l := fields[key].limits
		if float64(s[i]) < l.lo || float64(s[i]) > l.hi {
			r.errorf(g.At, fmt.Sprintf("cell %s from the model name is out of range", key), r.f.Style.Exact(s[i].MM()), l.words(r.f.Style.Unit), "")
			return standIn(r, "cells", usualCell, r.tables.Cell)
		}
	}
	return catalog.Cell{Name: g.V, Thickness: s[0], Width: s[1], Height: s[2], Source: "sizes from the model name"}
}

func cellSize(r *resolver, path string, g lengthV, row unit.Length) unit.Length {
	if !g.Set && row <= 0 {
		r.errorf(r.in.Cell.At, path+" is not known", "", path[len("cell."):]+": a length from the data sheet", "give it, or a model from 'clampwright list cells'")
		return [...]unit.Length{80, 40, 200, 120}[r.trial]
	}
	if !g.Set {
		r.note(path, FromTable, r.in.Cell.Model.At, "cells table")
		return row
	}
	return pick(r, path, g, 0, "")
}

// settleTerminals settles terminals and vent; the defaults are proportions common on
// prismatic cells (common practice, no source).
func settleTerminals(r *resolver, row catalog.Cell) {
	in, c := r.in.Cell.Terminals, &r.f.Cell
	c.TerminalPitch = pick(r, "cell.terminals.pitch", in.Pitch, orLength(row.TerminalPitch, c.Width*0.7), "0.7 of the width")
	c.TerminalDia = pick(r, "cell.terminals.diameter", in.Diameter, orLength(row.TerminalDia, min(18, c.Thickness*0.6)), "common practice")
	c.TerminalHeight = pick(r, "cell.terminals.height", in.Height, orLength(row.TerminalHeight, 3), "common practice")
	c.TerminalThread = pick(r, "cell.terminals.thread", in.Thread, orString(row.TerminalThread, "M6"), "common practice")
	c.StudHeight = pick(r, "cell.terminals.stud", in.Stud, row.StudHeight, "tapped hole")
	c.ThreadDepth = known(r, "cell.terminals.depth", in.Depth)
	c.TerminalTorque = known(r, "cell.terminals.torque", in.Torque)
	settleKind(r)
	settleScrews(r)
	c.Minus = settlePole(r, "cell.terminals.minus", in.Minus, in.Plus.FromEdge, -1)
	c.Plus = settlePole(r, "cell.terminals.plus", in.Plus, in.Minus.FromEdge, 1)
	got := c.Plus.X - c.Minus.X
	switch {
	case !in.Pitch.Set && (in.Plus.FromEdge.Set || in.Minus.FromEdge.Set):
		c.TerminalPitch = pick(r, "cell.terminals.pitch", in.Pitch, got, "by the places of both terminals")
	case in.Pitch.Set && max(got-in.Pitch.V, in.Pitch.V-got) > sameSize:
		r.errorf(in.Pitch.At, "cell.terminals.pitch is not the distance of the two places", r.f.Style.Exact(in.Pitch.V.MM()), r.f.Style.Exact(got.MM())+", by from_edge of both", "leave the pitch out, or one from_edge")
	}
	terminalsFit(r)
	settleVent(r, row)
}

// settleKind settles how links are held, which the other values must go with.
func settleKind(r *resolver) {
	in, c := r.in.Cell.Terminals, &r.f.Cell
	usual := "tapped"
	if c.StudHeight > 0 {
		usual = "stud"
	}
	kind := pick(r, "cell.terminals.kind", in.Kind, usual, "by the stud")
	if c.Welded = kind == "weld_tab"; c.Welded {
		c.StudHeight = 0
	}
	for _, g := range []struct {
		key string
		set bool
		at  diag.Range
	}{{"thread", in.Thread.Set, in.Thread.At}, {"stud", in.Stud.Set && in.Stud.V > 0, in.Stud.At}, {"depth", in.Depth.Set, in.Depth.At}, {"torque", in.Torque.Set, in.Torque.At}} {
		if g.set && (c.Welded || kind == "tapped" && g.key == "stud" || kind == "stud" && g.key == "depth") {
			r.errorf(g.at, "cell.terminals."+g.key+" is given for terminals of kind "+kind, "", "terminals that have it", "leave it out, or correct cell.terminals.kind")
			return
		}
	}
	if kind == "stud" && c.StudHeight == 0 {
		r.errorf(in.Kind.At, "the height of the studs is not known", "", "cell.terminals.stud: a length above the pad", "measure from the pad to the end of the stud")
	}
}

// settleScrews settles how many screws a terminal has and which way they stand.
func settleScrews(r *resolver) {
	in, c := r.in.Cell.Terminals, &r.f.Cell
	c.Screws = pick(r, "cell.terminals.screws", in.Screws, 1, "one")
	along := pick(r, "cell.terminals.along", in.Along, "width", "common practice")
	apart := known(r, "cell.terminals.spacing", in.Spacing)
	switch {
	case c.Screws == 1:
		return
	case c.Welded:
		r.errorf(in.Screws.At, "cell.terminals.screws is given for terminals of kind weld_tab", "", "terminals that have screws", "leave it out, or correct cell.terminals.kind")
	case !in.Spacing.Set:
		r.errorf(in.Screws.At, "how far the screws of a terminal are apart is not known", "", "cell.terminals.spacing: from one to the next, middle to middle", "measure it")
	case along == "width":
		c.StepX = apart
	default:
		c.StepZ = apart
	}
}

// settlePole settles one terminal on its side of the lid: -1 for the left, 1 for the right.
// Where the other's place is given and the pitch, these say this one's.
func settlePole(r *resolver, path string, in PoleBlock, other lengthV, side unit.Length) Terminal {
	c := &r.f.Cell
	edge := (c.Width - c.TerminalPitch) / 2
	if other.Set && r.in.Cell.Terminals.Pitch.Set {
		edge = c.Width - other.V - c.TerminalPitch
	}
	return Terminal{
		X:      side * (c.Width/2 - pick(r, path+".from_edge", in.FromEdge, edge, "by the pitch")),
		Z:      c.Thickness/2 - pick(r, path+".from_front", in.FromFront, c.Thickness/2, "the middle"),
		Dia:    pick(r, path+".diameter", in.Diameter, c.TerminalDia, "as both"),
		Height: pick(r, path+".height", in.Height, c.TerminalHeight, "as both"),
	}
}

// terminalsFit wants both pads on the lid, the plus on the right.
func terminalsFit(r *resolver) {
	in, c := r.in.Cell.Terminals, &r.f.Cell
	size := func(l unit.Length) string { return r.f.Style.Exact(l.MM()) }
	if !in.Plus.FromEdge.Set && !in.Minus.FromEdge.Set && c.TerminalPitch+c.TerminalDia > c.Width {
		want := "cell.terminals.pitch of " + size(c.Width-c.TerminalDia) + " or less"
		if most := c.Width - c.TerminalPitch; most > 0 {
			want += ", or cell.terminals.diameter of " + size(most) + " or less"
		}
		at := cmp.Or(in.Pitch.At, in.Diameter.At, r.in.Cell.Width.At, r.in.Cell.Model.At)
		r.errorf(at, "the terminals stand outside the case", fmt.Sprintf("pitch %s and a pad of %s, together %s, on a case of %s", size(c.TerminalPitch), size(c.TerminalDia), size(c.TerminalPitch+c.TerminalDia), size(c.Width)),
			want, "measure the pitch from middle to middle of the terminals")
		return
	}
	if c.TerminalDia > c.Thickness {
		r.errorf(cmp.Or(in.Diameter.At, r.in.Cell.Thickness.At, r.in.Cell.Model.At), "a terminal is wider than the cell", size(c.TerminalDia), size(c.Thickness)+" or less", "measure both again, or correct cell.thickness")
		return
	}
	for _, p := range []struct {
		name string
		in   PoleBlock
		t    Terminal
	}{{"minus", in.Minus, c.Minus}, {"plus", in.Plus, c.Plus}} {
		for _, way := range []struct {
			key            string
			given          lengthV
			at, half, step unit.Length
		}{{"from_edge", p.in.FromEdge, p.t.X, c.Width / 2, c.StepX}, {"from_front", p.in.FromFront, p.t.Z, c.Thickness / 2, c.StepZ}} {
			wide := p.t.Dia + unit.Length(c.Screws-1)*way.step
			if least, most := wide/2, 2*way.half-wide/2; max(way.at, -way.at) > way.half-least+sameLength {
				r.errorf(cmp.Or(way.given.At, in.Spacing.At, p.in.Diameter.At, in.Pitch.At, in.At), "the "+p.name+" terminal stands outside the case", fmt.Sprintf("%s wide with its middle %s from the lid's", size(wide), size(max(way.at, -way.at))),
					fmt.Sprintf("cell.terminals.%s.%s of %s to %s", p.name, way.key, size(least), size(most)), "measure from the case to the middle of the terminal")
				return
			}
		}
	}
	if c.Plus.X <= c.Minus.X {
		r.errorf(cmp.Or(in.Plus.FromEdge.At, in.Minus.FromEdge.At, in.At), "the plus terminal does not stand on the right of the minus", "", "places that leave the plus on the right",
			"look at the cell from the side from which its plus is on the right; from_edge of the plus is measured from the right narrow side, that of the minus from the left")
	}
}

// sameLength is what rounding may make of a length, sameSize how exact a size is written
// twice, mm.
const sameLength, sameSize = 1e-6, 0.05

// settleVent settles the vent, which must be on the lid.
func settleVent(r *resolver, row catalog.Cell) {
	in, c := r.in.Cell.Vent, &r.f.Cell
	c.VentLength = pick(r, "cell.vent.length", in.Length, orLength(row.VentLength, c.Width*0.18), "common practice")
	c.VentWidth = pick(r, "cell.vent.width", in.Width, orLength(row.VentWidth, c.Thickness*0.25), "common practice")
	c.VentX = pick(r, "cell.vent.from_minus", in.FromMinus, c.Width/2, "the middle") - c.Width/2
	c.VentZ = c.Thickness/2 - pick(r, "cell.vent.from_front", in.FromFront, c.Thickness/2, "the middle")
	size := func(l unit.Length) string { return r.f.Style.Exact(l.MM()) }
	for _, way := range []struct {
		key           string
		given         lengthV
		at, long, lid unit.Length
	}{{"from_minus", in.FromMinus, c.VentX, c.VentLength, c.Width}, {"from_front", in.FromFront, c.VentZ, c.VentWidth, c.Thickness}} {
		if way.given.Set && max(way.at, -way.at)+way.long/2 > way.lid/2+sameLength {
			r.errorf(way.given.At, "the vent is not on the lid", size(way.given.V), fmt.Sprintf("cell.vent.%s of %s to %s", way.key, size(way.long/2), size(way.lid-way.long/2)), "measure from the case to the middle of the vent")
		}
	}
}

// known is a value that is not guessed where the file leaves it out.
func known[T any](r *resolver, path string, g Given[T]) T {
	v := pick(r, path, g, g.V, "")
	if !g.Set && !r.bare {
		r.f.origins[path] = Origin{Kind: Default, Note: "to be measured or looked up", Text: "not known"}
	}
	return v
}

func originOf(set bool) OriginKind {
	if set {
		return FromFile
	}
	return Default
}

func orLength(a, b unit.Length) unit.Length {
	if a > 0 {
		return a
	}
	return b
}

func orFloat(a, b float64) float64 {
	if a > 0 {
		return a
	}
	return b
}

func orString(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
