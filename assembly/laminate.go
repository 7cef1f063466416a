package assembly

import (
	"fmt"
	"math"
	"slices"

	"clampwright/params/number"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Screws that press sheets together while glue sets: not further apart than screwApart, mm,
// and one for every ScrewArea, mm2 (screw-press gluing of DIN 1052, from memory). They
// stand screwEdge times their diameter from an edge (EN 1995-1-1, table 8.2, from memory: 4 d
// unloaded), and their heads are headWide times as wide as they are (ISO 7050, from memory).
// screwStep is how far a place is moved at a time where something is in its way; headGap
// what is kept free round a head, headProud how far it may stand out, mm.
const (
	screwApart = 150.0
	ScrewArea  = 15000.0
	screwEdge  = 4.0
	headWide   = 2.0
	screwStep  = 4.0
	headGap    = 2.0
	headProud  = 0.5
)

// ForSheets is what the holes of the screws through glued sheets are for.
const ForSheets = "screw through the sheets"

// SheetScrews are the places of the screws that hold the sheets of a plate together, on its
// flat; none where it is of one piece.
func (a *Assembly) SheetScrews() []geom.Vec2 { return a.screws }

// screwPlaces are a grid, each moved to the nearest place clear of rods with their washers,
// angles, mounting holes and slots on either side of the middle; left out where there is
// none.
func screwPlaces(a *Assembly) (out []geom.Vec2) {
	p := &a.Fixture.Plate
	in := screwEdge * p.Laminate.Screw.MM()
	w, h := p.Width.MM()/2-in, p.Height.MM()/2-in
	nx, ny := int(math.Ceil(2*w/screwApart)), int(math.Ceil(2*h/screwApart))
	for i := range nx + 1 {
		for j := range ny + 1 {
			if at, ok := nearestFree(a, geom.Vec2{X: w * (2*float64(i)/float64(nx) - 1), Y: h * (2*float64(j)/float64(ny) - 1)}, w, h, out); ok {
				out = append(out, at)
			}
		}
	}
	return out
}

// nearestFree is the place nearest to a wish where a screw's head is clear, within w and h
// of the middle and apart from those placed.
func nearestFree(a *Assembly, wish geom.Vec2, w, h float64, placed []geom.Vec2) (geom.Vec2, bool) {
	head := headWide * a.Fixture.Plate.Laminate.Screw.MM() / 2
	best, near := geom.Vec2{}, math.Inf(1)
	const reach = 12
	for i := -reach; i <= reach; i++ {
		for j := -reach; j <= reach; j++ {
			at := wish.Add(geom.Vec2{X: float64(i) * screwStep, Y: float64(j) * screwStep})
			if d := at.Dist(wish); d < near && math.Abs(at.X) <= w+sameHole && math.Abs(at.Y) <= h+sameHole && freeForScrew(a, at, head+headGap, placed) {
				best, near = at, d
			}
		}
	}
	return best, !math.IsInf(near, 1)
}

// freeForScrew says whether nothing of the plate or on it is within r of a place or of its
// mirror, as one sheet serves both plates.
func freeForScrew(a *Assembly, at geom.Vec2, r float64, placed []geom.Vec2) bool {
	f := a.Fixture
	for _, q := range placed {
		if at.Dist(q) < 4*r {
			return false
		}
	}
	round := a.rodHoles(a.Placement.Columns)
	seat := max(f.Washer.Outer, f.Rods.Hole).MM() / 2
	if f.Spring != nil {
		seat = max(seat, f.Spring.OuterDia().MM()/2)
	}
	for _, v := range []geom.Vec2{at, {X: -at.X, Y: at.Y}} {
		for _, hole := range round {
			if v.Dist(hole.C) < r+seat {
				return false
			}
		}
		if f.Plate.Feet != nil {
			_, washer, _ := f.FootScrew()
			for _, hole := range a.footHoles() {
				if v.Dist(hole.C) < r+washer.Outer.MM()/2 {
					return false
				}
			}
		}
		for _, s := range a.tieSlots() {
			if (geom.Edge{A: s.A, B: s.B}).Dist(v) < r+s.WidthMM/2 {
				return false
			}
		}
		if s := f.Stiffener; s != nil {
			for i, y := range a.Placement.Levels {
				lo, hi := y-a.plateMiddle()-(s.DrilledLeg-s.Gauge).MM(), y-a.plateMiddle()+s.Gauge.MM()
				if !s.StandingUp[i] {
					lo, hi = y-a.plateMiddle()-s.Gauge.MM(), y-a.plateMiddle()+(s.DrilledLeg-s.Gauge).MM()
				}
				if v.Y > lo-r && v.Y < hi+r && math.Abs(v.X) < s.Length.MM()/2+r {
					return false
				}
			}
		}
	}
	return true
}

// SheetLine is sheets of one kind in the plates: Of are their places in a plate, the
// outermost 0.
type SheetLine struct {
	Part *parts.Part
	Of   []int
}

// placeSheets makes the sheets that plates are joined of: through all but the innermost
// the screws pass.
func placeSheets(a *Assembly) error {
	p := &a.Fixture.Plate
	if p.Laminate == nil {
		return nil
	}
	a.screws = screwPlaces(a)
	l, screws := p.Laminate, a.screws
	if most := p.Width.MM() * p.Height.MM() / float64(max(1, len(screws))); most > ScrewArea || len(screws) < 4 {
		return &parts.Error{Part: "plate-sheets", What: "screws", Err: fmt.Errorf("%d have room clear of rods, angles, holes and slots, four and one for every %.0f cm2 are wanted", len(screws), ScrewArea/100)}
	}
	for i := range l.Sheets {
		inner, across := i == l.Sheets-1, l.Across(i)
		name, mark := "outer-sheet", "PS1"
		switch {
		case inner:
			name, mark = "inner-sheet", "PI1"
		case !across:
			name, mark = "turned-sheet", "PT1"
		}
		ps, err := a.obtain(name, func() (*parts.Part, error) {
			spec := parts.PlateSpec{Label: parts.Label{ID: "plate-" + name, Name: map[string]string{"outer-sheet": "plate sheet", "inner-sheet": "inner plate sheet", "turned-sheet": "plate sheet, grain turned"}[name], Mark: mark,
				Stock: a.Fixture.Style.Say(fmt.Sprintf("%s sheet %s mm", p.Material.Name, l.Sheet.Decimal(2)))},
				Material: stuff(p.Material), WidthMM: p.Width.MM(), HeightMM: p.Height.MM(), ThicknessMM: l.Sheet.MM(), CornerRadiusMM: p.CornerRadius.MM(),
				EngraveMark: p.EngraveMark, Grain: p.Material.EAcross > 0, GrainAlongX: p.GrainAcross == across}
			if !inner {
				for _, at := range screws {
					spec.Lightening = append(spec.Lightening, parts.Hole{C: at, DiaMM: l.Screw.MM() + 0.5, For: ForSheets})
				}
			}
			sheet, err := parts.EndPlate(spec)
			sheet.Kind = parts.KindPlySheet
			return kept(sheet, err)
		})
		if err != nil {
			return err
		}
		k := slices.IndexFunc(a.sheets, func(l SheetLine) bool { return l.Part == ps })
		if k < 0 {
			k, a.sheets, a.Parts = len(a.sheets), append(a.sheets, SheetLine{Part: ps}), append(a.Parts, ps)
		}
		a.sheets[k].Of = append(a.sheets[k].Of, i)
	}
	return nil
}

// Sheets are those that the plates are joined of; none where they are of one piece.
func (a *Assembly) Sheets() []SheetLine { return a.sheets }

// sheetFixings are the screws and the glue of plates that are joined of sheets.
func sheetFixings(a *Assembly) (out []PartLine) {
	l := a.Fixture.Plate.Laminate
	if l == nil {
		return nil
	}
	mm := func(v float64) string { return a.Fixture.Style.Say(number.Trim(v, 1) + " mm") }
	out = append(out, fixing("sheet-screw", "screw", "countersunk wood screw", mm(l.Screw.MM())+" x "+mm(l.ScrewLong.MM()), 2*len(a.SheetScrews())))
	if l.Glued {
		out = append(out, fixing("sheet-glue", "glue", "glue for plates", "for "+a.Fixture.Plate.Material.Name+", fills gaps of 0.3 mm, heat and damp proof", 1))
	}
	return out
}

// placeHeads places the heads of the sheets' screws, level with the plates' outer faces or
// a little proud.
func placeHeads(a *Assembly, plate *Instance) error {
	l := a.Fixture.Plate.Laminate
	if l == nil {
		return nil
	}
	lo, hi := through(plate, Outside, headProud)
	for i, at := range a.SheetScrews() {
		err := putOpening(a, plate, ToolHead, fmt.Sprintf("W%d", i+1), Outside, at, func() (geom.Solid, error) { return geom.Cylinder(headWide*l.Screw.MM()/2, lo, hi) })
		if err != nil {
			return err
		}
	}
	return nil
}
