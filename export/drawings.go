package export

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"sync"

	"clampwright/assembly"
	"clampwright/export/drawing"
	"clampwright/export/pdf"
	"clampwright/export/svg"
	"clampwright/params/number"
	"clampwright/params/unit"
	"clampwright/params/words"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// paper is the paper the user's file asks for.
func (j *Job) paper() drawing.Paper {
	if j.Fixture.Style.Paper == "letter" {
		return drawing.Letter
	}
	return drawing.A4
}

// units writes lengths on drawings.
func (j *Job) units() drawing.Units {
	if j.Fixture.Style.Unit == unit.Inch {
		return drawing.Inches(j.Fixture.Style.Denominator)
	}
	return drawing.Millimetres(j.Fixture.Style.Decimals)
}

// drill names the drill to take for a hole.
func (j *Job) drill(mm float64) string {
	if d, ok := j.Fixture.Tools.Drill(mm); ok {
		return d.Words()
	}
	return j.Fixture.Style.Exact(mm)
}

// tolerance is the general tolerance of a part's drawing: what is sawn to length
// keeps another than what is cut from sheet. Nil: the assembly.
func (j *Job) tolerance(p *parts.Part) string {
	t := j.Fixture.Tolerances
	out := "sizes " + j.within(t.PlateSize.MM())
	switch {
	case p == nil:
		return "as on the part drawings"
	case p.Make == parts.MakeBar || p.Make == parts.MakeRod:
		out = "length " + j.within(t.CutLength.MM())
	}
	if len(p.Holes) == 0 {
		return out
	}
	return out + ", position of holes " + j.within(t.HolePosition.MM())
}

// within writes a tolerance to both sides, rounded down: what is printed is never
// looser than what the checks use.
func (j *Job) within(mm float64) string {
	if j.Fixture.Style.Unit == unit.Inch {
		return "\u00b1" + roundedDown(mm/25.4, 3) + " in"
	}
	return "\u00b1" + roundedDown(mm, 2) + " mm"
}

// roundedDown writes v with at least the given decimals, with more where fewer
// would leave nothing of it.
func roundedDown(v float64, decimals int) string {
	const slack = 1e-9 // a value that has these decimals stays
	for ; v > 0 && decimals < number.MaxDecimals; decimals++ {
		power := math.Pow10(decimals)
		if n := math.Floor(v*power + slack); n > 0 {
			return number.Trim(n/power, decimals)
		}
	}
	return "0"
}

// angleShape is the section of the fixture's angles for part p; nil when p is
// no stiffener.
func (j *Job) angleShape(p *parts.Part) *drawing.AngleShape {
	s := j.Fixture.Stiffener
	if s == nil || p.Kind != parts.KindStiffener {
		return nil
	}
	return &drawing.AngleShape{
		DrilledLegMM: s.DrilledLeg.MM(), StandingLegMM: s.StandingLeg.MM(), ThicknessMM: s.Section.Thickness.MM(),
		RootMM: s.Section.Root.MM(), ToeMM: s.Section.Toe.MM(), ChamferMM: s.Chamfer.MM(), HeelHigh: heelHigh(p),
	}
}

// fitted says how an angle's standing leg points at every level; empty for any
// other part.
func (j *Job) fitted(p *parts.Part) string {
	s := j.Fixture.Stiffener
	if s == nil || p.Kind != parts.KindStiffener {
		return ""
	}
	var out []string
	for i, up := range s.StandingUp {
		way := "down"
		if up {
			way = "up"
		}
		out = append(out, fmt.Sprintf("standing leg %s at %s", way, j.Fixture.Style.Length(j.Fixture.Rods.Levels[i].MM())))
	}
	return strings.Join(out, ", ") + " above the underside of the cells"
}

// heelHigh says whether the standing leg is at the upper edge of a stiffener's
// flat, measured on the solid: its centroid lies towards the heel.
func heelHigh(p *parts.Part) bool {
	if p.Flat == nil || len(p.Holes) == 0 {
		return false
	}
	box := p.Flat.Profile.Outer.Bounds()
	c := p.Solid.Centroid()
	return c.Y > (box.Min.Y+box.Max.Y)/2
}

func (j *Job) rodShape(p *parts.Part) *drawing.RodShape {
	if p.Kind != parts.KindRod {
		return nil
	}
	t := j.Fixture.Rods.Thread
	return &drawing.RodShape{LengthMM: p.SizeMM[0], MajorMM: t.Major.MM(), MinorMM: t.MinorDia.MM(), Thread: t.Name}
}

// tubeShape is a sleeve sawn from tube; nil for any other part.
func (j *Job) tubeShape(p *parts.Part) *drawing.TubeShape {
	if p.Kind != parts.KindSleeve || p.Make != parts.MakeBar {
		return nil
	}
	s := j.Fixture.Sleeve
	return &drawing.TubeShape{LengthMM: p.SizeMM[0], OuterMM: s.Outer.MM(), InnerMM: s.Inner.MM()}
}

// drawn says whether a part gets a drawing of its own: what the workshop cuts,
// saws or drills.
func drawn(p *parts.Part) bool {
	return p.Kind == parts.KindRod || p.Make == parts.MakeBar || p.Make == parts.MakeSheet && p.Flat != nil
}

// papers plans the 1:1 templates.
func (b *planner) papers() error {
	for _, l := range b.job.Assembly.PartsList() {
		p := l.Part
		if p.Flat == nil || p.Make != parts.MakeSheet && p.Make != parts.MakeBar {
			continue
		}
		t := drawing.Template{
			Part: p, Quantity: l.Quantity, Units: b.job.units(), Paper: b.job.paper(),
			Fixture: b.job.Fixture.Name, Drill: b.job.drill, Angle: b.job.angleShape(p), Fitted: b.job.fitted(p),
		}
		b.add(p.ID, "paper/"+t.FileName(), p.Name+", paper template 1:1", func(w io.Writer) error {
			pages, err := t.Pages()
			if err != nil {
				return err
			}
			return pdf.Encode(w, p.Name+" 1:1", pages)
		})
	}
	return nil
}

// drawings plans a dimensioned sheet for every part that is made, and one of the
// assembly.
func (b *planner) drawings() error {
	j := b.job
	for _, l := range j.Assembly.PartsList() {
		p := l.Part
		if !drawn(p) {
			continue
		}
		s := drawing.PartSheet{
			Part: p, Quantity: l.Quantity, Units: j.units(), Paper: j.paper(), Fixture: j.Fixture.Name,
			Print: j.Fixture.InputSHA256[:8], Tolerance: j.tolerance(p), Drill: j.drill, Angle: j.angleShape(p), Rod: j.rodShape(p), Tube: j.tubeShape(p),
		}
		b.sheetFiles(p.ID, "drawings/"+p.ID, p.Name+", drawing", s.Draw)
	}
	b.sheetFiles("", "drawings/assembly", "assembly drawing", j.assemblySheet().Draw)
	return nil
}

// sheetFiles plans one sheet as PDF and SVG.
func (b *planner) sheetFiles(part, name, what string, draw func() (drawing.Sheet, error)) {
	draw = sync.OnceValues(draw)
	b.add(part, name+".pdf", what, func(w io.Writer) error {
		s, err := draw()
		if err != nil {
			return err
		}
		return pdf.Encode(w, what, []drawing.Sheet{s})
	})
	b.add(part, name+".svg", what+", as a picture", func(w io.Writer) error {
		s, err := draw()
		if err != nil {
			return err
		}
		return svg.Encode(w, &s, svg.Options{})
	})
}

// assemblySheet fills the assembly drawing.
func (j *Job) assemblySheet() drawing.AssemblySheet {
	items, rows, loose := j.items()
	notes := []string{"Heights from the underside of the cells, widths from the left edge of the plate."}
	if slices.ContainsFunc(j.Assembly.Parts, func(p *parts.Part) bool { return p.Make == parts.MakePrint }) {
		notes = append(notes, "Printed parts have no drawing: their files in print/ give shape, size and how they lie on the bed.")
	}
	return drawing.AssemblySheet{
		Fixture: j.Fixture.Name, Print: j.Fixture.InputSHA256[:8], Units: j.units(), Paper: j.paper(), Tolerance: j.tolerance(nil),
		Mass:  number.Trim(j.Assembly.PackMassG()/1000, 2) + " kg with cells",
		Front: j.frontDrawn(items), Side: j.sideDrawn(items),
		RodEnds: j.rodEnds(items), Parts: rows, Loose: loose,
		Notes: append(notes, "Clamp before the first full charge. Never open at full charge.", "The cell maker's data sheet decides."),
	}
}

// frontDrawn is the front view with the rods' places, the plate's edges and the
// whole height.
func (j *Job) frontDrawn(items map[*parts.Part]string) drawing.AssemblyView {
	v := j.view("Front, along the stack", items, frontView)
	plate := j.Assembly.PlateAt(assembly.Front).Part.Solid.Transform(j.Assembly.PlateAt(assembly.Front).Frame).Bounds()
	l, top := j.Assembly.Layout, plate.Max.Y
	for _, s := range v.Shapes {
		top = max(top, s.Outline.Bounds().Max.Y)
	}
	v.Origin = geom.Vec2{X: plate.Min.X}
	v.Along = distinct(append(slices.Clone(l.Columns), plate.Max.X), v.Origin.X)
	v.Up = distinct(append(slices.Clone(l.Levels), plate.Min.Y, plate.Max.Y, top), 0)
	for _, x := range l.Columns {
		for _, y := range l.Levels {
			v.Axes = append(v.Axes, geom.Vec2{X: x, Y: y})
		}
	}
	return v
}

// sideDrawn is the side view with the length of the stack.
func (j *Job) sideDrawn(items map[*parts.Part]string) drawing.AssemblyView {
	v := j.view("Right side", items, sideView)
	half := j.Assembly.Layout.Stack / 2
	v.Spans, v.NoHeight = [][2]float64{{-half, half}}, true
	return v
}

// distinct sorts positions and leaves out what is as good as one before it, or the
// origin.
func distinct(at []float64, origin float64) []float64 {
	const same = 0.005 // mm; no figure of a drawing shows it
	slices.Sort(at)
	var out []float64
	for _, v := range at {
		if math.Abs(v-origin) > same && (len(out) == 0 || v-out[len(out)-1] > same) {
			out = append(out, v)
		}
	}
	return out
}

// items numbers the parts of the finished pack in the order of the parts list.
// What is only at hand while it is built is listed apart, without a number.
func (j *Job) items() (items map[*parts.Part]string, rows, loose []drawing.ListRow) {
	items = map[*parts.Part]string{}
	for _, l := range j.Assembly.PartsList() {
		row := drawing.ListRow{Name: pieceName(l), Mark: l.Part.Mark, Material: l.Part.Material, Quantity: l.Pieces - l.Loose}
		if l.Part.Make == parts.MakeBuy {
			row.Material = words.First(l.Part.Stock, l.Part.Material)
		}
		if row.Quantity > 0 {
			row.Item = fmt.Sprint(len(rows) + 1)
			items[l.Part] = row.Item
			rows = append(rows, row)
		}
		if l.Loose > 0 {
			row.Item, row.Quantity = "", l.Loose
			loose = append(loose, row)
		}
	}
	for _, x := range j.Assembly.FootFixings() {
		loose = append(loose, drawing.ListRow{Name: x.Part.Name, Material: x.Part.Stock, Quantity: x.Quantity})
	}
	return items, rows, loose
}

// pieceName names one of the pieces that a line counts: one disc, where the part
// is a stack of discs.
func pieceName(l assembly.PartLine) string {
	if l.Part.Kind == parts.KindSpring && l.Pieces > l.Quantity {
		return fmt.Sprintf("disc spring, in stacks of %d", l.Pieces/max(1, l.Quantity))
	}
	return l.Part.Name
}

// projection maps space to a view's plane; depth grows towards the viewer.
type projection func(geom.Vec3) (p geom.Vec2, depth float64)

func frontView(v geom.Vec3) (geom.Vec2, float64) { return geom.Vec2{X: v.X, Y: v.Y}, v.Z }
func sideView(v geom.Vec3) (geom.Vec2, float64)  { return geom.Vec2{X: -v.Z, Y: v.Y}, v.X }

// view draws every instance as its outline, far ones first, and keys one
// instance of each part to its item.
func (j *Job) view(name string, items map[*parts.Part]string, look projection) drawing.AssemblyView {
	v := drawing.AssemblyView{Name: name}
	at := map[*parts.Part]geom.Vec2{}
	for _, s := range j.byDepth(look) {
		v.Shapes = append(v.Shapes, drawing.Shape{Outline: s.outline, Pen: drawing.Visible, Solid: true, Item: items[s.part]})
		for _, o := range s.openings {
			v.Shapes = append(v.Shapes, drawing.Shape{Outline: o, Pen: drawing.Visible, Solid: true})
		}
		at[s.part] = middle(s.outline) // the nearest one, drawn last, is the one seen
	}
	for _, l := range j.Assembly.PartsList() {
		if p, ok := at[l.Part]; ok {
			v.Balloons = append(v.Balloons, drawing.BalloonAt{Item: items[l.Part], At: p})
		}
	}
	return v
}

// rodEnds are the sections through the ends of a rod: of the front end, and of
// the back end where only the front has springs.
func (j *Job) rodEnds(items map[*parts.Part]string) []drawing.RodEnd {
	front, back := j.rodEnd(items, assembly.Front), j.rodEnd(items, assembly.Back)
	if len(front.Layers) == len(back.Layers) {
		return []drawing.RodEnd{front}
	}
	front.Name, back.Name = "front end", "back end"
	return []drawing.RodEnd{front, back}
}

// rodEnd is the section through one end of one rod.
func (j *Job) rodEnd(items map[*parts.Part]string, end assembly.End) drawing.RodEnd {
	f, s := j.Fixture, j.Assembly.Layout.Ends[end]
	t := f.Rods.Thread
	item := func(g assembly.Group) string {
		for _, in := range j.Assembly.Of(g) {
			return items[in.Part]
		}
		return ""
	}
	r := drawing.RodEnd{MajorMM: t.Major.MM(), MinorMM: t.MinorDia.MM(), Item: item(assembly.GroupRod), InsideMM: 20, BeyondMM: max(s.Protrusion(), 0)}
	reach := f.Rods.EdgeDistance.MM() * 1.5
	r.Layers = append(r.Layers, drawing.Layer{Item: item(assembly.GroupPlate), Name: "end plate", Kind: drawing.LayerCut, ThicknessMM: s.Plate.Thickness(), HighMM: reach, LowMM: reach, HoleMM: f.Rods.Hole.MM(), BrokenHigh: true, BrokenLow: true, HatchDeg: 45})
	if st := f.Stiffener; st != nil {
		up := st.StandingUp[len(st.StandingUp)-1]
		toe, heel := (st.DrilledLeg - st.Gauge).MM(), st.Gauge.MM()
		high, low := toe, heel
		if up {
			high, low = heel, toe
		}
		r.Layers = append(r.Layers, drawing.Layer{Item: item(assembly.GroupStiffener), Name: "angle", Kind: drawing.LayerAngle, ThicknessMM: s.Leg.Thickness(), HighMM: high, LowMM: low, HoleMM: f.Rods.Hole.MM(), StandMM: st.StandingLeg.MM(), RootMM: st.Section.Root.MM(), StandHigh: up, HatchDeg: 135})
	}
	washer := f.Washer.Outer.MM() / 2
	r.Layers = append(r.Layers, drawing.Layer{Item: item(assembly.GroupWasher), Name: "washer", Kind: drawing.LayerWasher, ThicknessMM: s.Washer.Thickness(), HighMM: washer, LowMM: washer, HoleMM: f.Washer.Inner.MM()})
	if s.Spring.Thickness() > 0 {
		inner, outer, discs := j.springSize()
		r.Layers = append(r.Layers,
			drawing.Layer{Item: item(assembly.GroupSpring), Name: "springs", Kind: drawing.LayerSpring, ThicknessMM: s.Spring.Thickness(), HighMM: outer / 2, LowMM: outer / 2, HoleMM: inner, Discs: discs},
			drawing.Layer{Item: item(assembly.GroupWasher), Name: "washer", Kind: drawing.LayerWasher, ThicknessMM: s.SpringWasher.Thickness(), HighMM: washer, LowMM: washer, HoleMM: f.Washer.Inner.MM()})
	}
	nut := f.Nut.Corners.MM() / 2
	r.Layers = append(r.Layers, drawing.Layer{Item: item(assembly.GroupNut), Name: "nut", Kind: drawing.LayerNut, ThicknessMM: s.Nut.Thickness(), HighMM: nut, LowMM: nut})
	if s.JamNut.Thickness() > 0 {
		r.Layers = append(r.Layers, drawing.Layer{Item: item(assembly.GroupJamNut), Name: "jam nut", Kind: drawing.LayerNut, ThicknessMM: s.JamNut.Thickness(), HighMM: nut, LowMM: nut})
	}
	return r
}

// springSize is the bore and the outside of the fixture's springs, mm, and how
// many discs or turns stand in a row.
func (j *Job) springSize() (inner, outer float64, turns int) {
	s := j.Fixture.Spring
	turns = s.Series * s.Parallel
	if s.Coil != nil {
		turns = max(1, int(s.Coil.Active))
	}
	return s.Bore().MM(), s.OuterDia().MM(), turns
}
