package job

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/inputs"
	"clampwright/assembly/wiring"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/number"
	"clampwright/parts"
)

// Wiring is the electrical side of a job.
type Wiring struct {
	Layout *wiring.Layout
	Plans  []wiring.Plan
	// Plan is the one followed: the recommended one, or the first when none is
	// proven (Proven is then false).
	Plan   wiring.Plan
	Advice wiring.Advice
	Proven bool
	// Problem says why the pack could not be planned; all else is then empty.
	Problem string
	blame   []string // the parameters behind it

	// Arrangement says which recorded cell goes where; nil without records, or
	// when too few of them are usable (Short says so). Remarks are on single
	// records.
	Arrangement *wiring.Arrangement
	Remarks     []wiring.Remark
	Short       string

	of wiring.Input
}

// Final returns the state of the finished pack.
func (w *Wiring) Final() wiring.State {
	s, _ := w.Plan.State(wiring.StateFinal)
	return s
}

// Quantities are what the rest of the finished pack is chosen by, of a plan that is proven.
func (w *Wiring) Quantities() wiring.Quantities {
	return w.Layout.QuantitiesOf(w.Final(), w.Figures())
}

// wire plans the wiring and places the finished pack's link bars. What the user
// wrote wrong comes back as a diag.List with its place in the file.
func (j *Job) wire() error {
	in := inputs.Wiring(j.Fixture)
	if was := j.Wiring; was != nil && was.Problem == "" && reflect.DeepEqual(was.of, in) {
		same := *was
		j.Wiring = &same
		return same.place(j.Assembly)
	}
	w := &Wiring{of: in}
	j.Wiring = w
	l, err := wiring.NewLayout(in)
	if err != nil {
		return w.refused(j.Fixture, err)
	}
	w.Layout = l
	if err := w.arrange(len(in.Records) > 0); err != nil {
		return err
	}
	if w.Plans, err = w.Layout.Plans(); err != nil {
		return w.refused(j.Fixture, err)
	}
	w.choose()
	return w.place(j.Assembly)
}

// refused sorts errors: links as written are the user's to mend; other problems
// leave the pack without a plan, which the checks then say.
func (w *Wiring) refused(f *params.Fixture, err error) error {
	var link *wiring.LinkError
	if errors.As(err, &link) {
		return wrongLink(f, link)
	}
	var in *wiring.InputError
	if !errors.As(err, &in) {
		return err
	}
	var texts []string
	for _, p := range in.Problems {
		if p.Field == "UserLinks" {
			return diag.List{{Summary: "electrical.links: " + p.Text, Range: wrongState(f, p.Text), Suggestion: computedLinks}}
		}
		path := wiringParam(p.Field)
		at := ""
		if r := f.Place(path); r.Line > 0 {
			at = fmt.Sprintf(" (line %d, column %d)", r.Line, r.Col)
		}
		texts, w.blame = append(texts, path+at+": "+p.Text), append(w.blame, path)
	}
	w.Plans, w.Layout, w.Problem = nil, nil, f.Style.Say(strings.Join(texts, "; "))
	return nil
}

// computedLinks is the way out of links given wrongly.
const computedLinks = "leave electrical.links out: the program makes them"

// wrongLink places the error on the link as written.
func wrongLink(f *params.Fixture, e *wiring.LinkError) error {
	d := diag.Diagnostic{Summary: "electrical.links: the link cannot be read: " + e.Reason, Found: e.Text,
		Expected: "two terminals, each a cell of the pack and + or -, or left or right", Suggestion: computedLinks}
	for _, s := range f.Electrical.Links {
		for _, k := range s.Links {
			if k.Text == e.Text && d.Range.Line == 0 {
				d.Range = k.At
			}
		}
	}
	return diag.List{d}
}

// wrongState is where the state that an error quotes is written.
func wrongState(f *params.Fixture, text string) diag.Range {
	for _, s := range f.Electrical.Links {
		if strings.Contains(text, fmt.Sprintf("%q", s.State)) {
			return s.At
		}
	}
	return f.Origin("electrical.links").Range
}

// wiringParams maps inputs of the wiring to the parameters they come from.
var wiringParams = map[string]string{
	"PitchMM": "cell.thickness", "CellWidthMM": "cell.width", "RowGapMM": "pack.row_gap", "PadDiaMM": "cell.terminals.diameter",
	"StudDiaMM": "cell.terminals.thread", "StudHeightMM": "cell.terminals.stud", "WasherMM": "cell.terminals.thread", "NutMM": "cell.terminals.thread", "HoleDiaMM": "cell.terminals.thread",
	"PlusAt": "cell.terminals.pitch", "Screws": "cell.terminals.screws", "ScrewStep": "cell.terminals.spacing", "MinusAt": "cell.terminals.pitch", "Volts": "electrical.nominal_voltage",
	"StorageCharge": "clamp.storage_charge", "ArrivalCharge": "clamp.set_charge", "CapacityAh": "cell.capacity", "CellMilliOhm": "cell.resistance", "RatedA": "electrical.current",
	"CellLimitA": "cell.current", "ChargerA": "electrical.balance_current", "DischargerA": "electrical.balance_current",
	"Bar": "electrical.link_width", "ContactMicroOhm": "electrical.contact", "AmbientC": "clamp.hot", "Growth": "clamp.growth",
	"SpannerMM": "electrical.spanner", "Records": "electrical.records",
}

func wiringParam(field string) string {
	name, _, _ := strings.Cut(field, ".")
	name, _, _ = strings.Cut(name, "[")
	if p, ok := wiringParams[name]; ok {
		return p
	}
	return "electrical." + strings.ToLower(name)
}

// choose follows the recommended plan; where no plan is proven the forced or
// first one, so that its faults are shown.
func (w *Wiring) choose() {
	in := w.Layout.Input()
	w.Advice, w.Proven = wiring.Recommend(in, w.Plans)
	want := w.Advice.Plan
	if !w.Proven {
		want = in.Forced
	}
	w.Plan = w.Plans[0]
	for _, p := range w.Plans {
		if p.ID == want {
			w.Plan = p
		}
	}
}

// arrange puts the recorded cells in order, and their resistances and capacities into
// the circuit.
func (w *Wiring) arrange(recorded bool) error {
	if !recorded {
		return nil
	}
	a, remarks, err := w.Layout.Arrange(w.Layout.Finished())
	w.Remarks = remarks
	switch {
	case errors.Is(err, wiring.ErrTooFewCells):
		w.Short = err.Error()
	case err != nil:
		return err
	default:
		w.Arrangement, w.Layout = &a, wiring.WithCells(w.Layout, a.Slots)
	}
	return nil
}

// place makes the link parts and puts the bars of the finished pack into the
// assembly; links of earlier states are made too, but loose.
func (w *Wiring) place(a *assembly.Assembly) error {
	made, err := linkParts(a.Fixture, w.Plan.Specs)
	if err != nil {
		return err
	}
	final := w.Final()
	turned := make([]bool, len(final.Turns))
	for slot, plus := range final.Turns {
		turned[slot] = plus == wiring.Left
	}
	if err := a.Turn(turned); err != nil {
		return err
	}
	placed := map[string]int{}
	var places []assembly.LinkPlace
	for _, k := range final.Links {
		sp, _ := w.Layout.SpecFor(k, final.Turns, w.Plan.Specs)
		at := assembly.LinkPlace{ID: "link-" + strings.ToLower(k.ID), From: w.terminal(k.A), To: w.terminal(k.B), JogMM: sp.JogMM}
		if k.Cable {
			places = append(places, at)
			continue
		}
		if at.Part = made[sp.Mark]; w.of.Welded {
			sp = w.Layout.SpecOf(k, final.Turns)
			if at.Part, err = strip(a.Fixture, sp); err != nil {
				return err
			}
			at.JogMM = sp.JogMM
		}
		at.HighMM = w.Plan.HighMM(k)
		for i := range max(1, k.Layers) {
			bar := at
			bar.HighMM += float64(i) * sp.ThicknessMM
			if i > 0 {
				bar.ID += fmt.Sprintf("-%d", i+1)
			}
			places = append(places, bar)
			placed[sp.Mark]++
		}
	}
	a.Hold(w.holding())
	if nut := a.Of(assembly.RoleNut); w.Plan.Openings > 0 && a.Fixture.Nut.DragMax > 0 { // one that was off holds less
		a.AddLoose(assembly.Loose{Part: nut[0].Part, Quantity: len(a.Of(assembly.RoleRod)) * w.Plan.Openings})
	}
	for _, sp := range w.Plan.Specs {
		if n := sp.Bars - placed[sp.Mark]; n > 0 {
			a.AddLoose(assembly.Loose{Part: made[sp.Mark], Quantity: n})
		}
	}
	return a.AddLinks(places)
}

// holding is what holds the links of the plan followed.
func (w *Wiring) holding() assembly.Holding {
	if w.of.Welded {
		return assembly.Holding{}
	}
	screws, washers, spacers := w.Plan.Screws(w.Layout)
	h := assembly.Holding{Washers: washers}
	for s, n := range screws {
		h.Screws = append(h.Screws, assembly.Screw{LongMM: s.LongMM, GripMM: s.GripMM, Count: n})
	}
	for mm, n := range spacers {
		h.Spacers = append(h.Spacers, assembly.Screw{LongMM: mm, Count: n})
	}
	for _, list := range [][]assembly.Screw{h.Screws, h.Spacers} {
		slices.SortFunc(list, func(a, b assembly.Screw) int {
			return cmp.Or(cmp.Compare(a.LongMM, b.LongMM), cmp.Compare(a.GripMM, b.GripMM))
		})
	}
	return h
}

// terminal names a post in the assembly's words.
func (w *Wiring) terminal(p wiring.Post) assembly.TerminalAt {
	n := w.Layout.Input().CellsPerRow
	return assembly.TerminalAt{Row: p.Slot / n, Index: p.Slot % n, Side: int(p.Side)}
}

// linkParts makes one part for every kind of link, by mark.
func linkParts(f *params.Fixture, specs []wiring.LinkSpec) (map[string]*parts.Part, error) {
	made := map[string]*parts.Part{}
	for _, sp := range specs {
		p, err := linkPart(f, sp)
		if err != nil {
			return nil, err
		}
		made[sp.Mark] = &p
	}
	return made, nil
}

// strip is a link that is welded on elsewhere: it takes its room.
func strip(f *params.Fixture, sp wiring.LinkSpec) (*parts.Part, error) {
	m, _ := f.Tables.Material(sp.Material)
	spec := sp.Bar()
	spec.Label, spec.Material = parts.Label{ID: "strip", Name: "strip"}, parts.Material{Name: m.Name, DensityGCM3: m.DensityGCM3, Conducts: true}
	p, err := parts.Strip(spec)
	return &p, err
}

// LinkID is the part ID of a kind of link.
func LinkID(sp wiring.LinkSpec) string { return "link-" + strings.ToLower(sp.Mark) }

func linkPart(f *params.Fixture, sp wiring.LinkSpec) (parts.Part, error) {
	id := LinkID(sp)
	m, ok := f.Tables.Material(sp.Material)
	if !ok {
		return parts.Part{}, fmt.Errorf("link %s: material %q is in no table", sp.Mark, sp.Material)
	}
	if sp.Shape == wiring.Cable {
		return parts.Part{
			ID: id, Kind: parts.KindLink, Name: "link cable", Mark: sp.Mark, Make: parts.MakeBuy, Material: sp.Material, Conducts: true,
			Stock:  f.Style.Say(fmt.Sprintf("insulated copper cable %g mm2, %s lugs both ends", sp.SectionMM2, f.Cell.TerminalThread)),
			SizeMM: [3]float64{sp.LengthMM}, MassG: sp.SectionMM2 * sp.LengthMM / 1000 * m.DensityGCM3, // its copper
		}, nil
	}
	plating := ""
	if sp.Plated {
		plating = "plated "
	}
	bar := sp.Bar()
	bar.Label = parts.Label{ID: id, Name: barName(sp), Mark: sp.Mark, Stock: f.Style.Say(barStock(plating, sp))}
	bar.Material = parts.Material{Name: m.Name, DensityGCM3: m.DensityGCM3, Conducts: true}
	p, err := parts.LinkBar(bar)
	switch {
	case sp.Braided: // drawn as it lies fitted, listed as it is bought
		p.Make, p.MassG, p.SizeMM[0], p.Holes = parts.MakeBuy, sp.MassG, sp.LengthMM, nil
	case sp.JogMM == 0:
		p.Make = parts.MakeBar // sawn from strip; a jogged bar is cut from sheet
	}
	return p, err
}

// barName names a link by its form.
func barName(sp wiring.LinkSpec) string {
	if sp.Braided {
		return "braided link"
	}
	return string(sp.Shape) + " link bar"
}

// atEachEnd says how the holes for several screws lie.
func atEachEnd(sp wiring.LinkSpec) string {
	if sp.Screws < 2 {
		return ""
	}
	way := "across it"
	if math.Abs(sp.ScrewStep.X) > math.Abs(sp.ScrewStep.Y) {
		way = "along it"
	}
	return fmt.Sprintf(", middle to middle, %d at each end %g mm apart %s", sp.Screws, number.Length.Round(sp.ScrewStep.Len()), way)
}

// barStock is what a bar is cut from, strip of its section or sheet, or how a braided
// link is ordered.
func barStock(plating string, sp wiring.LinkSpec) string {
	if sp.Braided {
		how := "braided"
		if sp.Material == wiring.Aluminium {
			how = "laminated"
		}
		return fmt.Sprintf("%s %s%s %g mm2, %g mm holes %g mm apart", how, plating, sp.Material, sp.WidthMM*sp.ThicknessMM, sp.RoundMM, sp.FlatMM) + atEachEnd(sp)
	}
	if sp.JogMM > 0 {
		return fmt.Sprintf("%s%s sheet %g mm", plating, sp.Material, sp.ThicknessMM)
	}
	return fmt.Sprintf("%s%s bar %g x %g mm", plating, sp.Material, sp.WidthMM, sp.ThicknessMM)
}
