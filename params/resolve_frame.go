package params

import (
	"cmp"
	"fmt"
	"sort"

	"clampwright/params/catalog"
	"clampwright/params/diag"
	"clampwright/params/unit"
)

// Default plate thicknesses by family, mm; common practice, no source.
var plateThickness = map[string]unit.Length{"plastic": 25, "wood": 18, "metal": 10, "laminate": 12}

const inchPlate = unit.MMPerInch * 3 / 4

// settlePlateMaterial settles what the plates are made of, how thick they are, and
// whether they need a liner.
func settlePlateMaterial(r *resolver) {
	in, p := &r.in.Plates, &r.f.Plate
	p.Material = stiff(r, "plates.material", in.Material, r.material("plates.material", in.Material, "birch plywood"))
	t := orLength(plateThickness[p.Material.Family], 18)
	if r.inch() && p.Material.Family != "metal" {
		t = inchPlate
	}
	how := "usual for " + p.Material.Family
	if l := &in.Laminate; l.Present && !l.None && l.Sheet.Set {
		t, how = unit.Length(l.Sheets.Or(usualSheets))*l.Sheet.V, "the sheets on each other"
	}
	p.Thickness = pick(r, "plates.thickness", in.Thickness, t, how)
	laminate(r)
	if at, found := r.tables.MaterialAt(p.Material.Name, p.Sheet()); found {
		p.Material = at
	}
	p.CornerRadius = pick(r, "plates.corner_radius", in.CornerRadius, 6, "no sharp corners")
	p.GrainAcross = in.Grain.Or("across") == "across"
	p.FlatnessGap = pick(r, "plates.flatness", in.Flatness, 0, "flat")
	p.EngraveMark = in.Mark.Or(true)
	p.TieSlots = in.TieSlots.Or(false)
	if (in.Feet.Present || r.in.Prints.Feet.Or(false)) && !in.Feet.None {
		hole := in.Feet.Hole.Or(6.6)
		p.Feet = &Feet{HoleDia: hole, Inset: in.Feet.Inset.Or(r.roundUp(1.5 * hole))}
	}
	settleLiner(r)
}

// linerBeyond is how far a liner reaches past the cells, so that metal behind it
// never faces a case; common practice, no source.
const linerBeyond = 2

// settleLiner adds an insulating sheet in front of metal plates by default.
func settleLiner(r *resolver) {
	in := r.in.Liners
	wanted := in.Present || r.f.Plate.Material.Conducts
	if wanted && !in.Present {
		r.note("liners", Derived, diag.Range{}, "metal plates are kept off the cells")
	}
	r.f.Liner = r.insert("liners", in, insertDefaults{material: "fr4", thickness: 1, beyond: linerBeyond}, wanted)
}

func settleSleeve(r *resolver) {
	in := r.in.Sleeves
	if !in.Present || in.None {
		return
	}
	mat := r.material("sleeves.material", in.Material, "petg")
	fit := pick(r, "sleeves.fit", in.Fit, 0.3, "sliding")
	wall := pick(r, "sleeves.wall", in.Wall, 1.2, "common practice")
	inner := r.f.Rods.Thread.Major + 2*fit
	// Never carry load with the thinnest cells, and slide aside far enough to
	// bare the rod for the pliers.
	p := r.f.Tools.Pliers
	gap := max(2+unit.Length(r.f.Pack.PerRow)*r.f.Cell.ThicknessTol/2, r.roundUp(p.JawWidth/2+p.Room))
	gap = pick(r, "sleeves.end_gap", in.EndGap, gap, "free of load, and slides aside for the pliers")
	r.f.Sleeve = &Sleeve{Material: mat, Inner: inner, Outer: inner + 2*wall, EndGap: gap, Printed: in.Printed.Or(true)}
}

// lips is how far the lips of printed separators and liners stand out beside the
// widest cell: a sliding fit and a wall.
func lips(r *resolver) unit.Length {
	for _, in := range []InsertBlock{r.in.Separators, r.in.Liners} {
		if in.Present && !in.None && in.Printed.Or(false) {
			return r.in.Printer.Fit.Or(0.25) + r.in.Printer.MinWall.Or(1.2)
		}
	}
	return 0
}

// settleColumns settles where the rods stand across the cells.
func settleColumns(r *resolver) {
	in, rods, p := &r.in.Rods, &r.f.Rods, &r.f.Pack
	tools, c := &r.f.Tools, &r.f.Cell
	half := rods.Thread.Major / 2
	wall := unit.Length(0)
	if s := r.f.Sleeve; s != nil {
		wall = s.Outer/2 - half
	}
	need := max(wall+tools.Pliers.TipOverhang+tools.Pliers.Room, wall+1, r.f.Clearances.MetalToCell) + c.WidthTol + lips(r)
	rods.Clearance = in.Clearance.Or(r.roundUp(need))
	middle := p.Rows > 1 && in.MiddleColumn.Or(true)
	if p.Rows == 1 && in.MiddleColumn.Or(false) {
		r.errorf(in.MiddleColumn.At, "a middle column with one row", "middle_column: true", "rows: 2 or more", "leave middle_column out")
	}
	rowPlaces(r, middle, half, wall)
	side := p.Width/2 + rods.Clearance + half
	if !in.Clearance.Set { // what is given is kept to the hair
		side = r.roundUp(side)
	}
	rods.Columns = []unit.Length{-side, side}
	if middle {
		rods.Columns = rods.Columns[:1]
		for i, x := range p.RowX[1:] {
			rods.Columns = append(rods.Columns, (p.RowX[i]+x)/2)
		}
		rods.Columns = append(rods.Columns, side)
	}
	if len(in.Columns) > 0 {
		rods.Columns = r.positions("rods.columns", in.Columns, 2, 12)
		side = min(-rods.Columns[0], rods.Columns[len(rods.Columns)-1])
	} else {
		r.note("rods.columns", Derived, diag.Range{}, "row width and the rods' clearance to the cells")
	}
	left := side - p.Width/2 - half
	rods.Clearance = pick(r, "rods.clearance", in.Clearance, left, "room for the pliers' tips, with the cell at its widest, where the rods stand")
	if left < rods.Clearance-exact && r.sure("cell", "rods", "pack") {
		r.errorf(in.Clearance.At, "the rods' columns leave less than rods.clearance", r.text(left), r.text(rods.Clearance)+" or more", "leave one of the two out")
	}
}

// rowPlaces settles the gap between rows and where each row stands. A middle
// column needs room for a rod with its clearance on both sides.
func rowPlaces(r *resolver, middle bool, half, wall unit.Length) {
	p, c := &r.f.Pack, &r.f.Cell
	gap := unit.Length(6)
	how := "rows kept apart"
	if middle {
		need := max(wall+r.f.Tools.Pliers.JawThickness+r.f.Tools.Pliers.Room, r.f.Rods.Clearance)
		gap, how = r.roundUp(2*(half+need)+2*c.WidthTol), "room for the middle rods and the pliers' jaws on both sides"
	}
	if p.Rows == 1 {
		gap = 0
	} else {
		gap = pick(r, "pack.row_gap", r.in.Pack.RowGap, gap, how)
	}
	p.RowGap = gap
	p.Width = c.Width*unit.Length(p.Rows) + gap*unit.Length(p.Rows-1)
	p.RowX = nil
	for i := range p.Rows {
		p.RowX = append(p.RowX, (unit.Length(i)-unit.Length(p.Rows-1)/2)*(c.Width+gap))
	}
}

// positions reads a list of positions: sorted, distinct, within counts.
func (r *resolver) positions(path string, in []lengthV, least, most int) []unit.Length {
	var out []unit.Length
	for _, g := range in {
		out = append(out, g.V)
	}
	at := firstGiven(in).at
	if len(out) < least || len(out) > most {
		r.errorf(at, fmt.Sprintf("%s has %d places", path, len(out)), fmt.Sprint(len(out)), fmt.Sprintf("%d to %d", least, most), "")
	}
	sort.Slice(out, func(i, j int) bool { return out[i] < out[j] })
	for i := 1; i < len(out); i++ {
		if need := max(r.f.Rods.Thread.Major, r.f.Rods.Hole); out[i]-out[i-1] < need {
			r.errorf(at, path+": two places are in each other", fmt.Sprintf("%s and %s", r.f.Style.Exact(out[i-1].MM()), r.f.Style.Exact(out[i].MM())), fmt.Sprintf("%s apart or more", r.f.Style.Exact(need.MM())), "fewer places, or further apart")
		}
	}
	r.note(path, FromFile, at, "")
	return out
}

// plateSpan is the plate's lower edge and height, as given or derived.
func (r *resolver) plateSpan() (bottom, height unit.Length) {
	in, c := &r.in.Plates, &r.f.Cell
	height = in.Height.Or(c.Height)
	def := unit.Length(0)
	if height < c.Height {
		def = (c.Height - height) / 2
	}
	return in.Bottom.Or(def), height
}

// settleLevels settles the rods' heights: by default at the quarter points of the
// part of the face that the plate covers, so that the angles press near the
// middle of each half. (For a uniformly loaded beam on two supports the moments
// over supports and in the middle are equal with supports 0.207 of the length
// from each end, and the ends sag as much as the middle at 0.223.)
func settleLevels(r *resolver) {
	in, rods := &r.in.Rods, &r.f.Rods
	bottom, height := r.plateSpan()
	lo := max(bottom, 0)
	hi := min(bottom+height, r.f.Cell.Height)
	n, how := 2, "the middle of each equal share of the face's height"
	if p := &r.f.Pack; p.Rows > 1 && p.StackLength > longRows && hi-lo >= tallFace {
		n, how = 4, how+"; four, as rods between long rows carry double"
	}
	n = in.LevelCount.Or(n)
	if len(in.Levels) > 0 {
		if in.LevelCount.Set && n != len(in.Levels) {
			r.errorf(in.LevelCount.At, "level_count doesn't match levels", fmt.Sprint(n), fmt.Sprint(len(in.Levels)), "remove level_count")
		}
		rods.Levels = r.positions("rods.levels", in.Levels, 2, 6)
		return
	}
	for i := 0; i < n; i++ {
		share := (float64(i) + 0.5) / float64(n)
		rods.Levels = append(rods.Levels, r.roundNear(lo+(hi-lo)*unit.Length(share)))
	}
	r.note("rods.levels", Derived, diag.Range{}, how)
}

// A rod between two rows carries a share of both. Beside rows longer than longRows, mm,
// springs on two levels of such rods take up too little of the growth; a face of less
// than tallFace, mm, has no room for four angles on each other. Found by trying packs
// of 20 to 128 cells of 72 mm.
const longRows, tallFace = 800, 180

// settlePlateSize settles the plate's outline.
func settlePlateSize(r *resolver) {
	in, p, rods := &r.in.Plates, &r.f.Plate, &r.f.Rods
	edge := max(1.5*rods.Hole, r.f.Washer.Outer/2+2)
	rods.EdgeDistance = pick(r, "rods.edge_distance", r.in.Rods.EdgeDistance, r.roundUp(edge), "1.5 hole diameters, and the washer 2 mm inside")
	far := unit.Length(0)
	for _, x := range rods.Columns {
		far = max(far, x, -x)
	}
	how := "rod columns and edge distance"
	width := 2 * (far + rods.EdgeDistance)
	if feet := 2 * r.f.beyondFeet(); feet > width {
		width, how = feet, "the screws of the feet beside the cells"
	}
	if !r.in.Rods.EdgeDistance.Set {
		width = r.roundUp(width)
	}
	p.Width = pick(r, "plates.width", in.Width, width, how)
	bottom, height := r.plateSpan()
	p.Height = pick(r, "plates.height", in.Height, height, "the height of the cells")
	p.Bottom = pick(r, "plates.bottom", in.Bottom, bottom, "level with the cells, or centred when shorter")
	if 2*p.CornerRadius > min(p.Width, p.Height) {
		r.errorf(in.CornerRadius.At, "the corner radius is larger than half the plate", r.f.Style.Exact(p.CornerRadius.MM()), fmt.Sprintf("%s or less", r.f.Style.Exact((min(p.Width, p.Height)/2).MM())), "leave corner_radius out")
	}
	r.onPlate("rods.columns", rods.Columns, -p.Width/2, p.Width/2, firstGiven(r.in.Rods.Columns),
		cause("plates.width", in.Width), cause("rods.edge_distance", r.in.Rods.EdgeDistance))
	r.onPlate("rods.levels", rods.Levels, p.Bottom, p.Bottom+p.Height, firstGiven(r.in.Rods.Levels),
		cause("plates.height", in.Height), cause("plates.bottom", in.Bottom), cause("rods.level_count", r.in.Rods.LevelCount), cause("rods.hole", r.in.Rods.Hole))
}

// given is a key of the file with where it stands; a place in line 0 is that of
// a key that is not given.
type given struct {
	path string
	at   diag.Range
}

func cause[T any](path string, g Given[T]) given { return given{path, g.At} }

// firstGiven is the place of a list: that of its first item that could be read.
func firstGiven(in []lengthV) given {
	for _, g := range in {
		if g.Set {
			return given{at: g.At}
		}
	}
	return given{}
}

// onPlate refuses holes that are not wholly on the plate. It points at the list
// of the places when that is given, else at the first given key of those that
// may be the cause.
func (r *resolver) onPlate(path string, places []unit.Length, lo, hi unit.Length, own given, causes ...given) {
	half := r.f.Rods.Hole / 2
	for _, v := range places {
		if v-half > lo && v+half < hi {
			continue
		}
		at, what, hint := own.at, path, "move the rod, or leave the plate's size out to have it derived"
		for _, c := range causes {
			if at.Line == 0 && c.at.Line != 0 {
				at, what, hint = c.at, c.path, "leave "+c.path+" out to have it derived, or give "+path
			}
		}
		r.errorf(at, what+": a hole is not on the plate", fmt.Sprintf("a hole at %s", r.f.Style.Exact(v.MM())), fmt.Sprintf("%s from %s to %s", path, r.f.Style.Exact((lo+half).MM()), r.f.Style.Exact((hi-half).MM())), hint)
		return
	}
}

// carriesAngles says whether plates of a material carry angles: of metal, none unless
// asked for.
func carriesAngles(r *resolver, plate catalog.Material) bool {
	return !r.in.Stiffeners.None && (r.in.Stiffeners.Present || !plate.Conducts)
}

func settleStiffener(r *resolver) {
	in := &r.in.Stiffeners
	if !carriesAngles(r, r.f.Plate.Material) {
		return
	}
	sec := row(r, "angles", in.Angle, usualAngle(r), r.tables.Angle)
	r.note("stiffeners.angle", originOf(in.Angle.Set), in.Angle.At, sec.Source)
	mat := r.material("stiffeners.angle", wordV{}, sec.Material)
	s := &Stiffener{Section: sec, Material: mat}
	short, long := min(sec.LegA, sec.LegB), max(sec.LegA, sec.LegB)
	s.DrilledLeg, s.StandingLeg = short, long
	if in.DrilledLeg.Or("short") == "long" {
		s.DrilledLeg, s.StandingLeg = long, short
	}
	s.Length = pick(r, "stiffeners.length", in.Length, r.f.Plate.Width, "the plate's width")
	settleChamfer(r, s, in.Chamfer)
	s.Gauge = pick(r, "stiffeners.gauge", in.Gauge, settleGauge(r, s), "washer clear of the fillet and inside the leg, socket clear of the standing leg")
	if half := r.f.Rods.Hole / 2; s.Gauge-half <= sec.Thickness+sec.Root || s.Gauge+half >= s.DrilledLeg {
		at := cmp.Or(in.Gauge.At, in.DrilledLeg.At, r.in.Rods.Hole.At, r.in.Rods.Thread.At, in.Angle.At)
		r.errorf(at, "the angle's hole doesn't fit its leg", fmt.Sprintf("gauge %s", r.f.Style.Exact(s.Gauge.MM())), fmt.Sprintf("more than %s and less than %s", r.f.Style.Exact((sec.Thickness+sec.Root+half).MM()), r.f.Style.Exact((s.DrilledLeg-half).MM())), "take a wider angle or a thinner rod")
	}
	r.f.Stiffener = s
	settleStanding(r, in.StandingLeg)
	stiffenerHoles(r, in)
}

// settleChamfer settles the cut off the standing leg's ends: more than the toe radius,
// clear of the root fillet, or none.
func settleChamfer(r *resolver, s *Stiffener, g lengthV) {
	lo, hi := s.Section.Toe+chamferRoom, s.StandingLeg-s.Section.Thickness-s.Section.Root-chamferRoom
	def := min(3, s.StandingLeg/4)
	if def < lo || def > hi {
		def = 0 // the toe is round enough, or the leg too short
	}
	s.Chamfer = pick(r, "stiffeners.chamfer", g, def, "no sharp corners")
	if s.Chamfer != 0 && (s.Chamfer < lo || s.Chamfer > hi) {
		r.errorf(g.At, "the chamfer doesn't fit the angle's standing leg", r.f.Style.Exact(s.Chamfer.MM()),
			fmt.Sprintf("0, or %s to %s: more than the toe radius, clear of the root fillet", r.f.Style.Exact(lo.MM()), r.f.Style.Exact(hi.MM())), "leave it out")
		s.Chamfer = 0
	}
}

// chamferRoom, mm, keeps a chamfer off the roundings of the leg.
const chamferRoom = 0.01

// settleGauge puts the hole where the washer sits flat wherever it slides to and the
// socket turns, as near the standing leg as that allows. When the leg is too
// short for all of it the hole goes to the middle of the flat, and the checks
// say what is short.
func settleGauge(r *resolver, s *Stiffener) unit.Length {
	lo, hi, slide := gaugeRoom(r, s)
	switch {
	case lo <= hi:
		return min(r.roundUp(lo), hi)
	case lo <= hi+slide:
		return lo
	}
	return (s.Section.Thickness + s.Section.Root + s.DrilledLeg - s.Section.Toe) / 2
}

// gaugeRoom is from where to where the hole may be, heel to centre, and by how much
// the washer may slide, which is in both.
func gaugeRoom(r *resolver, s *Stiffener) (lo, hi, slide unit.Length) {
	t, toe := s.Section.Thickness, s.Section.Toe
	// The washer may slide on the rod, the rod in its hole, and the hole be off.
	slide = (r.f.Washer.Inner-r.f.Rods.Thread.Major)/2 + (r.f.Rods.Hole-r.f.Rods.Thread.Major)/2 + r.f.Tolerances.HolePosition
	washer := r.f.Washer.Outer/2 + slide
	lo = max(t+s.Section.Root+washer, t+r.f.Tools.Socket.Outer/2+r.f.Clearances.ToolToMetal)
	if spring := r.f.Spring; spring != nil {
		lo = max(lo, t+spring.OuterDia()/2+slide+spring.Play(r.f.Rods.Thread.Major)/2)
	}
	hi = s.DrilledLeg - toe - max(washer, 1.5*r.f.Rods.Hole-toe)
	return lo, hi, slide
}

// usualAngles are what angles are taken from where none is given, lightest first.
var usualAngles = map[bool][]string{
	false: {"30x30x3 mm aluminium", "35x35x3 mm aluminium", "40x40x3 mm aluminium", "50x50x3 mm aluminium"},
	true:  {"1-1/4 x 1-1/4 x 1/8 in aluminium", "1-1/2 x 1-1/2 x 1/8 in aluminium", "2 x 2 x 1/8 in aluminium"},
}

// usualAngle is the first usual angle that has room for washer, hole and socket.
func usualAngle(r *resolver) string {
	list := usualAngles[r.inch()]
	for _, name := range list {
		if sec, ok := r.tables.Angle(name); ok {
			if lo, hi, _ := gaugeRoom(r, &Stiffener{Section: sec, DrilledLeg: min(sec.LegA, sec.LegB)}); lo <= hi {
				return name
			}
		}
	}
	return list[0]
}

// settleStanding settles on which side of its holes each level's standing leg is.
func settleStanding(r *resolver, g wordV) {
	mode := pick(r, "stiffeners.standing_leg", g, "inward", "stiff web nearest the middle of the plate")
	mid := r.f.Plate.Bottom + r.f.Plate.Height/2
	for _, y := range r.f.Rods.Levels {
		up := mode == "up" || mode == "inward" && y < mid || mode == "outward" && y >= mid
		r.f.Stiffener.StandingUp = append(r.f.Stiffener.StandingUp, up)
	}
}

// stiffenerHoles wants every rod column inside the angle's length.
func stiffenerHoles(r *resolver, in *StiffenerBlock) {
	half := r.f.Stiffener.Length / 2
	for _, x := range r.f.Rods.Columns {
		if x-r.f.Rods.Hole/2 <= -half || x+r.f.Rods.Hole/2 >= half {
			r.errorf(in.Length.At, "the angle is too short for its holes", r.f.Style.Exact((2 * half).MM()), "more than "+r.f.Style.Exact(2*float64(max(x, -x)+r.f.Rods.Hole/2)), "leave stiffeners.length out to have it derived")
			return
		}
	}
}

// protrudePitches is how many pitches of thread stand out of the last nut.
// Common practice, no source: at least two.
const protrudePitches = 2

// settleRodLength adds up the clamped chain.
func settleRodLength(r *resolver) {
	in, rods := &r.in.Rods, &r.f.Rods
	rods.Protrusion = pick(r, "rods.protrusion", in.Protrusion, protrudePitches*rods.Thread.Pitch, "two pitches of thread")
	if s := r.f.Spring; s != nil {
		springHeight(r, s)
	}
	parts := r.f.Chain()
	beyond := func(e int) unit.Length {
		return in.EndAllowance.Or(parts.Ends[e].Free(LayerWasher, LayerJamNut) + rods.Protrusion)
	}
	rods.EndAllowance, rods.EndAllowanceFar = beyond(0), beyond(1)
	clamped := parts.All().Thick(LayerCell, LayerLeg)
	chain := clamped + rods.EndAllowance + rods.EndAllowanceFar
	if !in.EndAllowance.Set { // the thickest cells that may come, and pads before they are pressed
		chain += r.f.Tolerances.CutLength + parts.Stack.Excess(LayerCell, LayerCell) + parts.All().Free(LayerCell, LayerLeg) - clamped
	}
	length := chain
	if !in.EndAllowance.Set {
		length = r.roundRod(chain)
	}
	rods.Length = pick(r, "rods.length", in.Length, length, "the clamped chain with the thickest cells, and both ends")
	extra := (rods.Length - clamped - rods.EndAllowance - rods.EndAllowanceFar) / 2
	rods.EndAllowance += extra
	rods.EndAllowanceFar += extra
	given, how := in.EndAllowance, "washer, spring, nut and protrusion, and what the rod's length leaves"
	if given.Set && extra < -exact {
		r.errorf(in.Length.At, "the rod is too short for rods.end_allowance", r.text(rods.Length), r.text(chain)+" or more", "leave one of the two out")
	} else if extra > exact {
		given = lengthV{} // more than that
	}
	rods.EndAllowance = pick(r, "rods.end_allowance", given, rods.EndAllowance, how)
	if rods.EndAllowanceFar <= 0 || rods.EndAllowance <= 0 {
		r.errorf(in.Length.At, "the rod doesn't reach through the clamp", r.f.Style.Exact(rods.Length.MM()), fmt.Sprintf("%s or so", r.f.Style.Exact(chain.MM())), "leave rods.length out to have it derived")
	}
}

// springHeight is the height of an outer rod's spring at the target force; between two
// rows springs are shorter.
func springHeight(r *resolver, s *Spring) {
	s.SetHeight = s.HeightAt(r.f.RodForce(r.f.Cell.ForceTarget, 0))
}

// roundRod rounds a rod length up to a millimetre or a sixteenth.
func (r *resolver) roundRod(l unit.Length) unit.Length { return 2 * r.roundUp(l/2) }
