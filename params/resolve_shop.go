package params

import (
	"fmt"
	"math"
	"slices"

	"clampwright/params/diag"
	"clampwright/params/unit"
)

func settleStock(r *resolver) {
	in, s := &r.in.Stock, &r.f.Stock
	s.SawKerf = pick(r, "stock.saw_kerf", in.SawKerf, 2, "hand or mitre saw with a metal blade")
	s.BeamKerf = pick(r, "stock.beam_kerf", in.BeamKerf, 0, "no laser")
	cutRoom(r)
	s.Compensate = in.Compensate.Or(false)
	if s.Compensate && s.BeamKerf == 0 && r.f.Tools.Cutter == 0 {
		r.errorf(in.Compensate.At, "nothing to compensate for", "compensate: true", "stock.beam_kerf or tools.cutter", "")
	}
	if s.BeamKerf > 0 && r.f.Tools.Cutter > 0 {
		r.errorf(in.BeamKerf.At, "a laser's kerf and a router's cutter are both given: one machine cuts the sheets", r.text(s.BeamKerf), "stock.beam_kerf or tools.cutter", "leave one of the two out")
	}
	for i, b := range in.Sheets {
		settleSheet(r, i, b)
	}
	thread := r.f.Rods.Thread.Name
	angle := ""
	if r.f.Stiffener != nil {
		angle = r.f.Stiffener.Section.Name
	}
	s.Angles = barStock(r, "A", in.Angles, angle, angleName)
	s.Rods = barStock(r, "R", in.Rods, thread, threadName)
	s.Bars = barStock(r, "B", in.Bars, "", func(_ *resolver, g wordV) string { return g.V })
	defaultStock(r, angle, thread)
}

func settleSheet(r *resolver, i int, b SheetBlock) {
	mat := row(r, "materials", b.Material, "", r.tables.Material)
	quantity := b.Quantity.V
	if b.Offcut.Or(false) || len(b.Holes) > 0 { // what was cut or drilled lies in the shop
		quantity = max(1, quantity)
	}
	r.f.Stock.Sheets = append(r.f.Stock.Sheets, SheetStock{
		ID: fmt.Sprintf("S%d", i+1), Material: mat.Name, Thickness: b.Thickness.V,
		Width: b.Width.V, Height: b.Height.V, Quantity: quantity,
		GrainAlongX: b.Grain.Or("width") == "width", Price: b.Price.V, Holes: holes(r, b.Holes, b.Width.V, b.Height.V),
	})
}

// holes are those of an old piece, which must lie in it.
func holes(r *resolver, in []HoleBlock, width, height unit.Length) (out []Hole) {
	for _, h := range in {
		if h.X.V > width || h.Y.V > height {
			r.errorf(h.At, "the hole is not in the piece", fmt.Sprintf("at %s, %s", r.text(h.X.V), r.text(h.Y.V)), fmt.Sprintf("within %s x %s", r.text(width), r.text(height)), "")
		}
		out = append(out, Hole{h.X.V, h.Y.V, h.Dia.V})
	}
	return out
}

// mostLeg is more than any leg of an angle is wide.
const mostLeg unit.Length = 500

func angleName(r *resolver, g wordV) string {
	return row(r, "angles", g, "", r.tables.Angle).Name
}

func threadName(r *resolver, g wordV) string {
	return row(r, "threads", g, "", r.tables.Thread).Name
}

func barStock(r *resolver, prefix string, in []BarBlock, def string, resolve func(*resolver, wordV) string) []LengthStock {
	var out []LengthStock
	for i, b := range in {
		item := def
		if b.Item.Set {
			item = resolve(r, b.Item)
		}
		if item == "" {
			r.errorf(b.At, "what is this a length of?", "no item", "item: the section, thread or bar", "")
			continue
		}
		out = append(out, LengthStock{ID: fmt.Sprintf("%s%d", prefix, i+1), Item: item, Length: b.Length.V, Quantity: b.Quantity.V, Price: b.Price.V})
		if l := &out[len(out)-1]; len(b.Holes) > 0 && prefix == "R" {
			r.errorf(b.Holes[0].At, "a threaded rod has no holes", "holes", "item, length, quantity, price", "leave the holes out")
		} else if len(b.Holes) > 0 {
			l.Quantity, l.Holes = max(1, l.Quantity), holes(r, b.Holes, b.Length.V, mostLeg)
		}
	}
	return out
}

// defaultStock lets what is not listed be bought in usual sizes (common
// practice, no source): sheets 2440 x 1220 mm or 8 x 4 ft, rods and angles of one,
// two and three metres or three, six and ten feet.
func defaultStock(r *resolver, angle, thread string) {
	s := &r.f.Stock
	lengths, width, height := []unit.Length{1000, 2000, 3000}, unit.Length(2440), unit.Length(1220)
	if r.inch() {
		lengths, width, height = []unit.Length{914.4, 1828.8, 3048}, 2438.4, 1219.2
	}
	buy := func(prefix, item string, list []LengthStock) []LengthStock {
		if item == "" || slices.ContainsFunc(list, func(l LengthStock) bool { return l.Item == item }) {
			return list
		}
		for _, l := range lengths {
			list = append(list, LengthStock{ID: fmt.Sprintf("%s%d", prefix, len(list)+1), Item: item, Length: l, Usual: true})
		}
		return list
	}
	s.Angles, s.Rods = buy("A", angle, s.Angles), buy("R", thread, s.Rods)
	need := func(mat string, t unit.Length) { usualSheet(s, mat, t, width, height) }
	need(r.f.Plate.Material.Name, r.f.Plate.Sheet())
	for _, in := range []*Insert{r.f.Separator, r.f.Liner, r.f.Filler} {
		if in != nil && !in.Printed {
			need(in.Material.Name, in.Thickness)
		}
	}
}

// usualSheet lists a sheet to buy where none of its material and thickness is listed.
func usualSheet(s *Stock, material string, thick, width, height unit.Length) {
	if !slices.ContainsFunc(s.Sheets, func(sh SheetStock) bool { return sh.Takes(material, thick) }) {
		s.Sheets = append(s.Sheets, SheetStock{ID: fmt.Sprintf("S%d", len(s.Sheets)+1), Material: material, Thickness: thick, Width: width, Height: height, GrainAlongX: true, Usual: true})
	}
}

func settlePrinter(r *resolver) {
	in, p := &r.in.Printer, &r.f.Printer
	p.BedX = pick(r, "printer.bed_x", in.BedX, 220, "small printer")
	p.BedY = pick(r, "printer.bed_y", in.BedY, 220, "small printer")
	p.BedZ = pick(r, "printer.bed_z", in.BedZ, 240, "small printer")
	p.Fit = pick(r, "printer.fit", in.Fit, 0.25, "sliding fit")
	p.MinWall = pick(r, "printer.min_wall", in.MinWall, 1.2, "common practice")
	p.Material = r.material("printer.material", in.Material, "petg")
	w := &r.in.Prints
	r.f.Prints = Prints{
		CornerGuards: w.CornerGuards.Or(false), EndCaps: w.EndCaps.Or(false), RodCaps: w.RodCaps.Or(false),
		Feet: w.Feet.Or(false), DrillGuides: w.DrillGuides.Or(false), Gauges: w.Gauges.Or(false),
		Bushing: w.Bushing.Or(0),
	}
}

func settleElectrical(r *resolver) {
	in, e, p := &r.in.Electrical, &r.f.Electrical, &r.f.Pack
	e.Parallel = pick(r, "electrical.parallel", in.Parallel, 1, "single cells in series")
	e.Series = pick(r, "electrical.series", in.Series, max(1, p.Cells/e.Parallel), "all cells")
	if e.Series*e.Parallel != p.Cells && r.sure("pack.cells", "electrical.series", "electrical.parallel") {
		at := in.Series.At
		if !in.Series.Set {
			at = in.Parallel.At
		}
		r.errorf(at, "series times parallel is not the number of cells", fmt.Sprintf("%d x %d = %d", e.Series, e.Parallel, e.Series*e.Parallel), fmt.Sprint(p.Cells), "cells in series times cells side by side is the pack")
	}
	e.VoltageNominal = pick(r, "electrical.nominal_voltage", in.Nominal, 3.2, "lithium iron phosphate")
	e.VoltageFull = pick(r, "electrical.full_voltage", in.Full, 3.65, "lithium iron phosphate; the data sheet decides")
	e.VoltageStorage = pick(r, "electrical.storage_voltage", in.Storage, 3.3, "lithium iron phosphate")
	e.VoltageLow = pick(r, "electrical.low_voltage", in.Low, 2.5, "lithium iron phosphate; the data sheet decides")
	if e.VoltageLow >= e.VoltageFull {
		r.errorf(in.Low.At, "the low voltage is not below the full voltage", fmt.Sprintf("%g V", e.VoltageLow), fmt.Sprintf("less than %g V", e.VoltageFull), "")
	}
	half := r.f.Cell.CapacityAh * 0.5 * float64(e.Parallel)
	e.RatedCurrent = pick(r, "electrical.current", in.Current, max(math.Round(half), min(half, 1)), "half the capacity in an hour")
	e.BalanceCurrent = pick(r, "electrical.balance_current", in.BalanceCurrent, 20, "common practice")
	e.LinkMaterial = pick(r, "electrical.link_material", in.LinkMaterial, "copper", "")
	e.LinkPlated = in.LinkPlated.Or(false)
	e.LinkForm = in.LinkForm.V
	width, thick := unit.Length(20), unit.Length(2)
	if r.inch() {
		width, thick = 0.75*unit.MMPerInch, unit.MMPerInch/8
	}
	e.LinkWidth = pick(r, "electrical.link_width", in.LinkWidth, screwedWide(r, width), "common practice")
	e.LinkThickness = pick(r, "electrical.link_thickness", in.LinkThickness, thick, "common practice")
	usualSheet(&r.f.Stock, e.LinkMaterial, e.LinkThickness, linkSheetLong, linkSheetWide) // for links wider than bar
	e.LinkSheet = pick(r, "electrical.link_sheet", in.LinkSheet, linkSheet(r), "where links lie nearer to live cases than clearances.metal_to_cell")
	e.Contact = pick(r, "electrical.contact", in.Contact, 15, "10 to 20 microohm a joint, from memory")
	e.SpannerLength = pick(r, "electrical.spanner", in.Spanner, 150, "common practice")
	e.Plan, e.Board = in.Plan.V, in.Board.V
	if e.Plan == "series" && e.Board == 0 {
		r.errorf(in.Plan.At, "plan series charges the pack through its protection board", "no electrical.board", "electrical.board, the current of its charger", "")
	}
	e.CellRecords = in.Records.V
	e.TakeOff = in.TakeOff.Or("left")
	settleLinks(r, in.Links)
}

// screwedWide is a usual width of a link, or what the screws beside each other on a terminal
// ask for, 1.2 holes to each edge (EN 1993-1-8), by whole steps.
func screwedWide(r *resolver, usual unit.Length) unit.Length {
	c, step := &r.f.Cell, unit.Length(5)
	across := c.StepX
	if r.f.Pack.Rows > 1 {
		across = max(across, c.StepZ)
	}
	if across == 0 {
		return usual
	}
	if r.inch() {
		step = unit.MMPerInch / 4
	}
	need := unit.Length(c.Screws-1)*across + 2.4*(TerminalScrew(r.f)+linkHolePlay)
	return max(usual, unit.Length(math.Ceil(float64(need/step)))*step)
}

// linkHolePlay is by how much a link's hole is wider than its screw.
const linkHolePlay = 0.6

// linkSheet is the insulating sheet under the links: none where the air under them
// does, or where the terminals are too low for any.
func linkSheet(r *resolver) unit.Length {
	c := &r.f.Cell
	low := min(c.Minus.Height, c.Plus.Height)
	thick := min(usualLinkSheet, low)
	if !c.CaseLive || low >= r.f.Clearances.MetalToCell || thick < MinInsulation {
		return 0
	}
	return thick
}

// linkSheetLong and linkSheetWide are a usual sheet of copper or aluminium that links
// wider than bar are cut from: common practice, no source.
const linkSheetLong, linkSheetWide unit.Length = 1000, 500

// usualLinkSheet is a usual thickness of glass laminate or polycarbonate.
const usualLinkSheet unit.Length = 0.5

// WayError is what holes and outlines are off, plus or minus, by hand or by a machine:
// common practice, no source.
func WayError(way Machine) unit.Length {
	if way == HandTools {
		return 0.5
	}
	return 0.1
}

// settleTolerances settles how well the shop works. Angles, and plates of joined sheets,
// are drilled by hand whatever cuts the sheets, and the rods pass all holes.
func settleTolerances(r *resolver) {
	in, t := &r.in.Tolerances, &r.f.Tolerances
	plate, _ := r.tables.Material(r.in.Plates.Material.Or("birch plywood"))
	cut, _ := machine(r.in.Stock.BeamKerf.Or(0), r.in.Tools.Cutter.Or(0))
	cut = cut.For(plate)
	drilled := cut
	if carriesAngles(r, plate) || r.in.Plates.Laminate.Present && !r.in.Plates.Laminate.None {
		drilled = HandTools
	}
	if in.Holes.Set {
		cut, drilled = Machine(in.Holes.V), Machine(in.Holes.V)
	}
	t.HolePosition = pick(r, "tolerances.hole_error", in.HoleError, WayError(drilled), string(drilled)+" work, common practice")
	t.PlateSize = pick(r, "tolerances.size_error", in.SizeError, WayError(cut), string(cut)+" work, common practice")
	t.SheetShare = pick(r, "tolerances.sheets", in.Sheets, 0.03, "plywood, plastic and rolled sheet, common practice")
	t.CutLength = pick(r, "tolerances.cut_error", in.CutError, 0.5, "saw, common practice")
	t.TurnError = pick(r, "tolerances.turn_error", in.TurnError, 1.0/12, "half a flat of a hexagon")
	t.Seed = int64(in.Seed.Or(1))
}

func settlePrices(r *resolver) {
	in := &r.in.Prices
	r.f.Prices.Currency = in.Currency.V
	for _, e := range in.Each {
		r.f.Prices.Each = append(r.f.Prices.Each, Price{Item: e.Item.V, Each: e.Price.V})
	}
}

// Limits on the whole: a fixture that a person can lift and a shop can hold.
const (
	maxStack = 6000 // mm
	maxPlate = 2000 // mm
)

// moreRows is how many rows make the stack no longer than two people handle well.
func moreRows(r *resolver) string {
	return fmt.Sprintf("rows: %d", RowsFor(r.f))
}

// settleRelations checks what no single block can: sizes that depend on each other.
func settleRelations(r *resolver) {
	f := r.f
	if f.Pack.StackLength > maxStack {
		r.errorf(r.in.Pack.Cells.At, "the stack is too long", r.f.Style.Exact(f.Pack.StackLength.MM()), fmt.Sprintf("%d mm or less", maxStack), "fewer cells, or "+moreRows(r))
	}
	if f.Plate.Width > maxPlate {
		r.errorf(r.in.Plates.Width.At, "the plate is too wide", r.f.Style.Exact(f.Plate.Width.MM()), fmt.Sprintf("%d mm or less", maxPlate), "")
	}
	if f.Plate.Bottom > f.Cell.Height || f.Plate.Bottom+f.Plate.Height < 0 {
		r.errorf(r.in.Plates.Bottom.At, "the plate is not in front of the cells", fmt.Sprintf("%s to %s", r.f.Style.Exact(f.Plate.Bottom.MM()), r.f.Style.Exact((f.Plate.Bottom+f.Plate.Height).MM())), fmt.Sprintf("across 0 to %s", r.f.Style.Exact(f.Cell.Height.MM())), "leave plates.bottom out to have it level with the cells")
	}
	if s := f.Sleeve; s != nil && 2*s.EndGap >= f.Pack.StackLength {
		r.errorf(r.in.Sleeves.EndGap.At, "nothing is left of the sleeve", fmt.Sprintf("end gap %s", r.f.Style.Exact(s.EndGap.MM())), fmt.Sprintf("less than %s", r.f.Style.Exact((f.Pack.StackLength/2).MM())), "leave sleeves.end_gap out")
	}
	for i, x := range f.Rods.Columns {
		for j, rx := range f.Pack.RowX {
			if d := math.Abs(float64(x - rx)); d < float64(f.Cell.Width/2) {
				r.report(diag.Warning, r.f.Origin("rods.columns").Range, fmt.Sprintf("rod column %d runs through row %d", i+1, j+1), fmt.Sprintf("x = %s", r.f.Style.Exact(x.MM())), "beside the cells", "the checks will name the foul")
			}
		}
	}
}
