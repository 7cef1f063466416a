package shop

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"sync"

	"clampwright/assembly"
	"clampwright/assembly/job"
	"clampwright/export/drawing"
	"clampwright/export/mark"
	"clampwright/export/pdf"
	"clampwright/export/svg"
	"clampwright/export/views"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/unit"
	"clampwright/params/words"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// draughtsman draws one job on paper.
type draughtsman struct {
	*job.Job
	views *views.Views
}

// tolerance is the general tolerance of a part's drawing: what is sawn to length
// keeps another than what is cut from sheet. Nil: the assembly.
func tolerance(f *params.Fixture, p *parts.Part) string {
	t := f.Tolerances
	out := "sizes " + within(f.Style, t.PlateSize.MM())
	if p != nil && p.Make == parts.MakeSheet && p.Flat != nil {
		out += ", thickness " + within(f.Style, t.Sheet(unit.Length(p.Flat.ThicknessMM)).MM())
	}
	switch {
	case p == nil:
		return "as on the part drawings"
	case p.Make == parts.MakeBar || p.Make == parts.MakeRod:
		out = "length " + within(f.Style, t.CutLength.MM())
	}
	if len(p.Holes) == 0 {
		return out
	}
	return out + ", holes 0 to +" + strings.TrimPrefix(within(f.Style, params.DrillSlack), "\u00b1") + ", position of holes " + within(f.Style, t.HolePosition.MM())
}

// within writes a tolerance to both sides, rounded down: what is printed is never
// looser than what the checks use.
func within(s params.Style, mm float64) string {
	if s.Unit == unit.Inch {
		return "\u00b1" + roundedDown(mm/unit.MMPerInch, 3) + " in"
	}
	return "\u00b1" + roundedDown(mm, 2) + " mm"
}

// roundedDown writes v with at least the given decimals, with more where fewer
// would leave less than nine tenths of it.
func roundedDown(v float64, decimals int) string {
	const slack = 1e-9 // a value that has these decimals stays
	for ; v > 0 && decimals < number.MaxDecimals; decimals++ {
		power := math.Pow10(decimals)
		if n := math.Floor(v*power + slack); n >= 0.9*v*power {
			return number.Trim(n/power, decimals)
		}
	}
	return "0"
}

// fitted says how an angle's standing leg points at every level; empty for any
// other part.
func fitted(f *params.Fixture, p *parts.Part) string {
	s := f.Stiffener
	if s == nil || p.Kind != parts.KindStiffener {
		return ""
	}
	var out []string
	for i, up := range s.StandingUp {
		way := "down"
		if up {
			way = "up"
		}
		out = append(out, fmt.Sprintf("standing leg %s at %s", way, f.Style.Length(f.Rods.Levels[i].MM())))
	}
	return strings.Join(out, ", ") + " above the underside of the cells"
}

// drawn says whether a part gets a drawing of its own: what the workshop cuts,
// saws or drills.
func drawn(p *parts.Part) bool {
	return p.Kind == parts.KindRod || p.Make == parts.MakeBar || p.Make == parts.MakeSheet && p.Flat != nil
}

// papers plans the 1:1 templates.
func (d draughtsman) papers() (out []planned) {
	for _, t := range templates(d.Job) {
		out = append(out, planned{t.Part.ID, "paper/" + t.FileName(), t.Part.Name + ", paper template 1:1", func(w io.Writer, m mark.Mark) error {
			pages, err := t.Pages()
			if err != nil {
				return err
			}
			return pdf.Encode(w, t.Part.Name+" 1:1", m.Line(), stamped(pages, m))
		}})
	}
	return out
}

// templates are of what is made by hand: of a part from a machine the holes that are
// left to drill.
func templates(j *job.Job) (out []drawing.Template) {
	f, m := j.Fixture, j.Nest.Machining
	for _, l := range j.Assembly.PartsList() {
		p := l.Part
		if p.Flat == nil || p.Make != parts.MakeSheet && p.Make != parts.MakeBar {
			continue
		}
		if m.On(p) != params.HandTools {
			left, flat := *p, *p.Flat
			flat.Profile.Slots = nil
			if left.Flat, left.Holes = &flat, m.ByDrill(p); len(left.Holes) == 0 {
				continue
			}
			p = &left
		}
		out = append(out, drawing.Template{
			Part: p, Quantity: l.Quantity, Units: drawing.UnitsOf(f.Style), Paper: drawing.PaperOf(f.Style),
			Fixture: f.Plain, Drill: f.DrillWords, Angle: drawing.AngleOf(f, p), Fitted: fitted(f, p),
		})
	}
	return out
}

// drawings plans a dimensioned sheet for every part that is made, and one of the
// assembly.
func (d draughtsman) drawings() (out []planned) {
	for _, l := range d.Assembly.PartsList() {
		p := l.Part
		if !drawn(p) {
			continue
		}
		s := drawing.PartSheet{
			Part: p, Quantity: l.Quantity, Units: drawing.UnitsOf(d.Fixture.Style), Paper: drawing.PaperOf(d.Fixture.Style), Fixture: d.Fixture.Plain,
			Print: d.Fixture.InputSHA256[:8], Tolerance: tolerance(d.Fixture, p), Drill: d.Fixture.DrillWords, Machine: d.Nest.Machining.On(p), Angle: drawing.AngleOf(d.Fixture, p), Rod: drawing.RodOf(d.Fixture, p), Tube: drawing.TubeOf(d.Fixture, p),
		}
		out = append(out, sheetFiles(p.ID, "drawings/"+p.ID, p.Name+", drawing", s.Draw)...)
	}
	return append(out, sheetFiles("", "drawings/assembly", "assembly drawing", d.assemblySheet().Draw)...)
}

// sheetFiles are one sheet as PDF and SVG.
func sheetFiles(part, name, what string, draw func() (drawing.Sheet, error)) []planned {
	draw = sync.OnceValues(draw)
	return []planned{{part, name + ".pdf", what, func(w io.Writer, m mark.Mark) error {
		s, err := draw()
		if err != nil {
			return err
		}
		return pdf.Encode(w, what, m.Line(), stamped([]drawing.Sheet{s}, m))
	}}, {part, name + ".svg", what + ", as a picture", func(w io.Writer, m mark.Mark) error {
		s, err := draw()
		if err != nil {
			return err
		}
		return svg.Encode(w, &stamped([]drawing.Sheet{s}, m)[0], svg.Options{About: m.Line()})
	}}}
}

// assemblySheet fills the assembly drawing.
func (d draughtsman) assemblySheet() drawing.AssemblySheet {
	items, rows, loose := d.items()
	notes := []string{"Heights from the underside of the cells, widths from the left edge of the plate."}
	if slices.ContainsFunc(d.Assembly.Parts, func(p *parts.Part) bool { return p.Make == parts.MakePrint }) {
		notes = append(notes, "Printed parts have no drawing: their files in print/ give shape, size and how they lie on the bed.")
	}
	return drawing.AssemblySheet{
		Fixture: d.Fixture.Plain, Print: d.Fixture.InputSHA256[:8], Units: drawing.UnitsOf(d.Fixture.Style), Paper: drawing.PaperOf(d.Fixture.Style), Tolerance: tolerance(d.Fixture, nil),
		Mass:  d.Fixture.Style.Mass(d.Assembly.PackMassG()) + " with cells",
		Front: d.frontDrawn(items), Side: d.sideDrawn(items),
		RodEnds: d.rodEnds(items), Parts: rows, Loose: loose,
		Notes: append(notes, "Clamp before the first full charge. Never open at full charge.", "The cell maker's data sheet decides."),
	}
}

// frontDrawn is the front view with the rods' places, the plate's edges and the
// whole height.
func (d draughtsman) frontDrawn(items map[*parts.Part]string) drawing.AssemblyView {
	v := d.view("Front, along the stack", items, views.Front)
	plate := d.Assembly.PlateAt(assembly.Front).Part.Solid.Transform(d.Assembly.PlateAt(assembly.Front).Frame).Bounds()
	l, top := d.Assembly.Placement, plate.Max.Y
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
func (d draughtsman) sideDrawn(items map[*parts.Part]string) drawing.AssemblyView {
	v := d.view("Right side", items, views.Side)
	half := d.Assembly.Placement.Stack / 2
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
func (d draughtsman) items() (items map[*parts.Part]string, rows, loose []drawing.ListRow) {
	items = map[*parts.Part]string{}
	for _, l := range d.Assembly.PartsList() {
		row := drawing.ListRow{Name: l.PieceName(), Mark: l.Part.Mark, Material: l.Part.Material, Quantity: l.Pieces - l.Loose}
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
	for _, x := range d.Assembly.FootFixings() {
		loose = append(loose, drawing.ListRow{Name: x.Part.Name, Material: x.Part.Stock, Quantity: x.Quantity})
	}
	return items, rows, loose
}

// view draws every instance as its outline, far ones first, and keys one
// instance of each part to its item.
func (d draughtsman) view(name string, items map[*parts.Part]string, look views.Look) drawing.AssemblyView {
	v := drawing.AssemblyView{Name: name}
	at := map[*parts.Part]geom.Vec2{}
	for _, s := range d.views.ByDepth(look) {
		v.Shapes = append(v.Shapes, drawing.Shape{Outline: s.Outline, Pen: drawing.Visible, Solid: true, Item: items[s.Part]})
		for _, o := range s.Openings {
			v.Shapes = append(v.Shapes, drawing.Shape{Outline: o, Pen: drawing.Visible, Solid: true})
		}
		at[s.Part] = s.Middle() // the nearest one, drawn last, is the one seen
	}
	for _, l := range d.Assembly.PartsList() {
		if p, ok := at[l.Part]; ok {
			v.Balloons = append(v.Balloons, drawing.BalloonAt{Item: items[l.Part], At: p})
		}
	}
	return v
}

// rodEnds are the sections through the ends of a rod: of the front end, and of
// the back end where only the front has springs.
func (d draughtsman) rodEnds(items map[*parts.Part]string) []drawing.RodEnd {
	front, back := d.rodEnd(items, assembly.Front), d.rodEnd(items, assembly.Back)
	if len(front.Layers) == len(back.Layers) {
		return []drawing.RodEnd{front}
	}
	front.Name, back.Name = "front end", "back end"
	return []drawing.RodEnd{front, back}
}

// rodEnd is the section through one end of one rod.
func (d draughtsman) rodEnd(items map[*parts.Part]string, end assembly.End) drawing.RodEnd {
	f, s := d.Fixture, d.Assembly.Placement.Ends[end]
	t := f.Rods.Thread
	item := func(g assembly.Role) string {
		for _, in := range d.Assembly.Of(g) {
			return items[in.Part]
		}
		return ""
	}
	r := drawing.RodEnd{MajorMM: t.Major.MM(), MinorMM: t.MinorDia.MM(), Item: item(assembly.RoleRod), InsideMM: 20, BeyondMM: max(s.Protrusion(), 0)}
	reach := f.Rods.EdgeDistance.MM() * 1.5
	r.Layers = append(r.Layers, drawing.Layer{Item: item(assembly.RolePlate), Name: "end plate", Kind: drawing.LayerCut, ThicknessMM: s.Plate.Thickness(), HighMM: reach, LowMM: reach, HoleMM: f.Rods.Hole.MM(), BrokenHigh: true, BrokenLow: true, HatchDeg: 45})
	if st := f.Stiffener; st != nil {
		up := st.StandingUp[len(st.StandingUp)-1]
		toe, heel := (st.DrilledLeg - st.Gauge).MM(), st.Gauge.MM()
		high, low := toe, heel
		if up {
			high, low = heel, toe
		}
		r.Layers = append(r.Layers, drawing.Layer{Item: item(assembly.RoleStiffener), Name: "angle", Kind: drawing.LayerAngle, ThicknessMM: s.Leg.Thickness(), HighMM: high, LowMM: low, HoleMM: f.Rods.Hole.MM(), StandMM: st.StandingLeg.MM(), RootMM: st.Section.Root.MM(), StandHigh: up, HatchDeg: 135})
	}
	washer := f.Washer.Outer.MM() / 2
	r.Layers = append(r.Layers, drawing.Layer{Item: item(assembly.RoleWasher), Name: "washer", Kind: drawing.LayerWasher, ThicknessMM: s.Washer.Thickness(), HighMM: washer, LowMM: washer, HoleMM: f.Washer.Inner.MM()})
	if s.Spring.Thickness() > 0 {
		outer := f.Spring.OuterDia().MM() / 2
		turns, wire := turns(f.Spring)
		r.Layers = append(r.Layers,
			drawing.Layer{Item: item(assembly.RoleSpring), Name: "springs", Kind: drawing.LayerSpring, ThicknessMM: s.Spring.Thickness(), HighMM: outer, LowMM: outer, HoleMM: f.Spring.Bore().MM(), Discs: turns, WireMM: wire},
			drawing.Layer{Item: item(assembly.RoleWasher), Name: "washer", Kind: drawing.LayerWasher, ThicknessMM: s.SpringWasher.Thickness(), HighMM: washer, LowMM: washer, HoleMM: f.Washer.Inner.MM()})
	}
	nut := f.Nut.Corners.MM() / 2
	r.Layers = append(r.Layers, drawing.Layer{Item: item(assembly.RoleNut), Name: "nut", Kind: drawing.LayerNut, ThicknessMM: s.Nut.Thickness(), HighMM: nut, LowMM: nut})
	if s.JamNut.Thickness() > 0 {
		r.Layers = append(r.Layers, drawing.Layer{Item: item(assembly.RoleJamNut), Name: "jam nut", Kind: drawing.LayerNut, ThicknessMM: s.JamNut.Thickness(), HighMM: nut, LowMM: nut})
	}
	return r
}

// dieWire is how high the wire of die springs is along the rod as a part of its width;
// common practice, no source. It is only drawn.
const dieWire = 0.6

// turns is how many discs, or turns of a coil, lie in a row, and how high a coil's wire
// is along the rod, mm; of die springs, whose turns no table tells, as many as make up
// the solid length.
func turns(s *params.Spring) (n int, wireMM float64) {
	if s.Coil == nil {
		return s.Series * s.Parallel, 0
	}
	wireMM = s.Coil.Wire.MM()
	if s.Coil.Active == 0 {
		wireMM *= dieWire
	}
	return max(2, int(math.Round(s.Coil.Solid.MM()/wireMM))), wireMM
}
