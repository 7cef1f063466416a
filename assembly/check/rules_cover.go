package check

import (
	"math"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts/geom"
)

// rect is an upright rectangle in the x-y plane, mm.
type rect struct{ x0, x1, y0, y1 float64 }

// inside is how far r lies within o on its worst side; negative when it
// sticks out.
func (r rect) inside(o rect) float64 {
	return math.Min(math.Min(r.x0-o.x0, o.x1-r.x1), math.Min(r.y0-o.y0, o.y1-r.y1))
}

// common is the part of r that o covers.
func (r rect) common(o rect) rect {
	return rect{math.Max(r.x0, o.x0), math.Min(r.x1, o.x1), math.Max(r.y0, o.y0), math.Min(r.y1, o.y1)}
}

func (r rect) middle() (x, y float64) { return (r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2 }

func plateRect(f *params.Fixture) rect {
	p := f.Plate
	w := p.Width.MM() / 2
	return rect{-w, w, p.Bottom.MM(), p.Bottom.MM() + p.Height.MM()}
}

// swellRect is the zone of a row's face that must be pressed: central.
func swellRect(f *params.Fixture, x float64) rect {
	w, h, mid := f.Cell.SwellWidth.MM()/2, f.Cell.SwellHeight.MM()/2, f.Cell.Height.MM()/2
	return rect{x - w, x + w, mid - h, mid + h}
}

func faceRect(l *assembly.Placement, x float64) rect {
	return rect{x - l.CellWidth/2, x + l.CellWidth/2, 0, l.CellHeight}
}

func insertRect(i *params.Insert, x float64) rect {
	w := i.Width.MM() / 2
	return rect{x - w, x + w, i.Bottom.MM(), i.Bottom.MM() + i.Height.MM()}
}

// measureCover compares each plate with the zones that it must press.
func measureCover(b *scene) ([]finding.Finding, error) {
	f := b.fixture
	plate := plateRect(f)
	var t tally
	for row, x := range b.layout.RowX {
		zone := swellRect(f, x)
		for _, e := range []assembly.End{assembly.Front, assembly.Back} {
			p := atLeast(zone.inside(plate), 0, f.Tolerances.PlateSize.MM()/2)
			p.Between = []string{b.nominal.PlateAt(e).ID, b.nominal.EndCell(e, row).ID}
			p.At = spot(faceMiddle(b, e, zone))
			t.add(p)
		}
	}
	return t.finding("", "mm"), nil
}

func faceMiddle(b *scene, e assembly.End, r rect) geom.Vec3 {
	x, y := r.middle()
	return geom.Vec3{X: x, Y: y, Z: e.Sign() * b.layout.Stack / 2}
}

// measureRowFits compares the width of the row or rows with the plate's.
func measureRowFits(b *scene) ([]finding.Finding, error) {
	wide, err := b.variant(assembly.Largest)
	if err != nil {
		return nil, err
	}
	plate := plateRect(b.fixture)
	var t tally
	for row, x := range wide.Placement.RowX {
		face := faceRect(wide.Placement, x)
		for _, e := range []assembly.End{assembly.Front, assembly.Back} {
			p := atLeast(min(face.x0-plate.x0, plate.x1-face.x1), math.Inf(-1), 0)
			p.Between, p.At = []string{b.nominal.PlateAt(e).ID, b.nominal.EndCell(e, row).ID}, spot(faceMiddle(b, e, face))
			t.add(p)
		}
	}
	return t.finding("", "mm"), nil
}

// measureInsulated asks for something that insulates between a metal plate and
// the cells, as large as the metal that faces them.
func measureInsulated(b *scene) ([]finding.Finding, error) {
	if !b.fixture.Plate.Material.Conducts {
		return nil, nil
	}
	var t tally
	for row, x := range b.layout.RowX {
		for _, e := range []assembly.End{assembly.Front, assembly.Back} {
			p := insulation(b.fixture, b.layout, x)
			p.Between = []string{b.nominal.PlateAt(e).ID, b.nominal.EndCell(e, row).ID}
			p.At = spot(faceMiddle(b, e, faceRect(b.layout, x)))
			t.add(p)
		}
	}
	return t.finding("", "mm"), nil
}

// insulation measures what the liner keeps between the plate and one row, then how
// far it reaches past the metal facing the row. Wrapped cells have their own.
func insulation(f *params.Fixture, l *assembly.Placement, x float64) finding.Finding {
	p := insulates(f.Insulation(f.Liner, 1))
	if p.Verdict == finding.Pass {
		facing := faceRect(l, x).common(plateRect(f))
		p = atLeast(facing.inside(insertRect(f.Liner, x)), 0, 0)
	}
	if p.Verdict == finding.Fail && !f.Cell.CaseLive {
		p.Verdict = finding.Warn
	}
	return p
}

// insulates judges what lies between a bare case and its neighbour, or metal: none
// fails, little warns.
func insulates(sheet unit.Length) finding.Finding {
	p := atLeast(sheet.MM(), params.MinInsulation.MM(), params.MinInsulation.MM())
	if p.Verdict == finding.Fail && sheet >= apartLeast {
		p.Verdict = finding.Warn
	}
	return p
}

// airLeast is the least air between bare cases, and between these and bars, mm: a chip or
// a drop bridges less. canEdge is by how much a sheet may be smaller than a case, whose
// edges are round, on each side, mm. Common practice, no source.
const airLeast, canEdge = 1.0, 2.0

// measureCellsInsulated compares the insulation between neighbouring bare cases with the
// least wanted, and the air between rows, which have nothing else between them. Wrapped
// cells bring their own.
func measureCellsInsulated(b *scene) ([]finding.Finding, error) {
	f, x := b.fixture, b.layout.RowX
	if !f.Cell.CaseLive {
		return nil, nil
	}
	var sheets, rows tally
	cells := b.nominal.Of(assembly.RoleCell)
	for i := 1; i < len(cells); i++ {
		p, t := b.betweenCells(), &sheets
		if row := cells[i].Row; row != cells[i-1].Row {
			p, t = atLeast(x[row]-x[row-1]-(f.Cell.Width+f.Cell.WidthTol).MM(), airLeast, f.Clearances.MetalToCell.MM()), &rows
		}
		p.Between, p.At = []string{cells[i-1].ID, cells[i].ID}, spot(cells[i].Frame.O)
		t.add(p)
	}
	return append(sheets.finding("", "mm"), rows.finding("rows", "mm")...), nil
}

// betweenCells measures what the separator keeps between two bare cases, then how far it
// reaches past their faces: where it does not, there is only air as thick as it is.
func (b *scene) betweenCells() finding.Finding {
	f := b.fixture
	p := insulates(f.Insulation(f.Separator, 2))
	if p.Verdict != finding.Pass {
		return p
	}
	air, least := f.Pressed(f.Separator).MM(), -canEdge
	if air >= airLeast {
		least = math.Inf(-1)
	}
	past := atLeast(faceRect(b.layout, 0).inside(insertRect(f.Separator, 0)), least, 0)
	if past.Verdict == finding.Pass || air >= f.Clearances.MetalToCell.MM() {
		return p
	}
	return past
}

// measureInserts asks whether separators and liners press the whole swell zone.
func measureInserts(b *scene) ([]finding.Finding, error) {
	var t tally
	for _, w := range b.nominal.Inserts() {
		spec := b.fixture.Separator
		if w.Role == assembly.RoleLiner {
			spec = b.fixture.Liner
		}
		x := b.layout.RowX[w.Row]
		zone := swellRect(b.fixture, x)
		p := atLeast(zone.inside(insertRect(spec, x)), 0, 0)
		p.Between, p.At = []string{w.ID}, spot(w.Frame.O)
		t.add(p)
	}
	return t.finding("", "mm"), nil
}

// measureRegister asks whether separators stand on the floor that the cells
// stand on, or above it: one that hangs lower lifts the cells off.
func measureRegister(b *scene) ([]finding.Finding, error) {
	var t tally
	for _, w := range b.nominal.Inserts() {
		spec := b.fixture.Separator
		if w.Role == assembly.RoleLiner {
			continue
		}
		p := atLeast(spec.Bottom.MM(), 0, 0)
		p.Between, p.At = []string{w.ID}, spot(w.Frame.O)
		t.add(p)
	}
	return t.finding("", "mm"), nil
}

// tapeMM is what a row is measured to with a tape, mm: common practice, no source.
const tapeMM = 1

// measureRowLength compares a row that was measured with the sum of the data sheet's
// thicknesses, and the plates' distance at snug with what is built for.
func measureRowLength(b *scene) ([]finding.Finding, error) {
	f := b.fixture
	tol := float64(f.Pack.PerRow)*f.Cell.ThicknessTol.MM() + tapeMM
	var t tally
	within := func(have, middle float64, between ...string) {
		q := finding.Finding{Verdict: finding.Pass, Have: have, Sense: finding.Within, Need: middle - tol, Most: middle + tol, Unit: "mm", Between: between}
		if q.Margin() < -Slack {
			q.Verdict = finding.Warn
		}
		t.add(q)
	}
	if f.Pack.Measured {
		within(f.Pack.StackLength.MM(), f.ListedStack().MM(), "row as measured", "data sheet")
	}
	for _, r := range f.Readings {
		if r.What == "stack" && r.When == "snug" {
			within(r.Value, f.Chain().Stack.Free(params.LayerCell, params.LayerLiner).MM(), "plates at snug", "row as built for")
		}
	}
	return t.finding("", "mm"), nil
}

func wordsRowLength(*scene, finding.Finding) string {
	return "measure the row again, and each cell at its middle; do not build with cells that have swollen"
}
