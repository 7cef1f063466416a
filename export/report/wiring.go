package report

import (
	"clampwright/assembly/job"
	"clampwright/assembly/wiring"
	"clampwright/export/tell"
)

// wiringJSON is the report's wiring key.
type wiringJSON struct {
	Problem    string          `json:"problem,omitempty"`
	Plan       wiring.PlanID   `json:"plan"`
	Proven     bool            `json:"proven"`
	Forced     bool            `json:"forced"`
	Why        []string        `json:"why"`
	Plans      []wirePlanJSON  `json:"plans"`
	States     []wireStateJSON `json:"states"`
	Steps      []wireStepJSON  `json:"steps"`
	Apart      []wireStepJSON  `json:"apart"` // the way back, and one cell replaced
	Links      []wireSpecJSON  `json:"links"`
	Joints     []wireJointJSON `json:"joints"`               // of the finished pack
	Quantities *quantitiesJSON `json:"quantities,omitempty"` // what the rest is chosen by; nothing is chosen here
	Exposures  []exposureJSON  `json:"exposures"`
	Cells      []slotJSON      `json:"cells"`
	CellNotes  []string        `json:"cell_notes"`
	SpareCells []string        `json:"spare_cells"`
}

type wirePlanJSON struct {
	ID              wiring.PlanID `json:"id"`
	Name            string        `json:"name"`
	Proven          bool          `json:"proven"`
	LinksMade       int           `json:"links_made"`
	BarMM           float64       `json:"bar_mm"`
	Cuts            int           `json:"cuts"`
	CableMM         float64       `json:"cable_mm"`
	Handlings       int           `json:"handlings"`
	Openings        int           `json:"openings"`
	CellsTurned     int           `json:"cells_turned"`
	InsulatedLinks  int           `json:"insulated_links"`
	InsulatedPlaces int           `json:"insulated_places"`
	Exposures       int           `json:"exposures"`
	WorstA          float64       `json:"worst_a"`
	Hours           float64       `json:"hours"`
	Burns           float64       `json:"burns"` // in a thousand packs, all that Harm tells
	Harm            wiring.Harm   `json:"harm"`
	Faults          []string      `json:"faults"`
}

type wireStateJSON struct {
	ID       string          `json:"id"`
	Name     string          `json:"name"`
	PlusSide []string        `json:"plus_side"` // by slot, row by row
	Minus    string          `json:"minus"`
	Plus     string          `json:"plus"`
	CurrentA float64         `json:"current_a"`
	Charge   float64         `json:"charge"`
	Links    []wireLinkJSON  `json:"links"`
	Proof    proofJSON       `json:"proof"`
	Figures  wireFiguresJSON `json:"figures"`
}

type wireLinkJSON struct {
	ID       string  `json:"id"`
	Kind     string  `json:"kind"` // mark of its spec
	From     string  `json:"from"`
	To       string  `json:"to"`
	Cable    bool    `json:"cable"`
	Layers   int     `json:"layers"`
	MicroOhm float64 `json:"microohm"`
	Amps     float64 `json:"amps"`
	MilliV   float64 `json:"millivolt"`
	Watts    float64 `json:"watts"`
	Celsius  float64 `json:"celsius"`
	Class    string  `json:"class"`
	TableA   float64 `json:"table_amps"`
}

type proofJSON struct {
	Holds     bool     `json:"holds"`
	PackV     float64  `json:"pack_v"`
	IntendedV float64  `json:"intended_v"`
	IdleA     float64  `json:"idle_a"`
	Faults    []string `json:"faults"`
}

type wireFiguresJSON struct {
	PackMilliOhm float64   `json:"pack_milliohm"`
	LinkMilliOhm float64   `json:"link_milliohm"`
	DropV        float64   `json:"drop_v"`
	LinkW        float64   `json:"link_w"`
	HottestC     float64   `json:"hottest_c"`
	Class        string    `json:"class"`
	Unevenness   []float64 `json:"unevenness"`
	CellA        []float64 `json:"cell_a"`
	CellShortA   float64   `json:"cell_short_a"`
	MainsShortA  float64   `json:"mains_short_a"`
}

type wireStepJSON struct {
	Number  int     `json:"number"`
	Action  string  `json:"action"`
	State   string  `json:"state"`
	Text    string  `json:"text"`
	ExpectV float64 `json:"expect_v,omitempty"`
	LowV    float64 `json:"low_v,omitempty"`
	HighV   float64 `json:"high_v,omitempty"`
	Hours   float64 `json:"hours,omitempty"`
	// Links are those handled, each with what is read before it is closed or loosened.
	Links []wireHandJSON `json:"links,omitempty"`
}

type wireHandJSON struct {
	ID       string   `json:"id"`
	Readings string   `json:"readings"`
	OnFirst  []string `json:"on_first_terminal"`
	OnOther  []string `json:"on_other_terminal"`
}

// wireJointJSON is a terminal's screw and what it holds, in text the lowest first.
type wireJointJSON struct {
	Terminal string  `json:"terminal"`
	Text     string  `json:"text"`
	GripMM   float64 `json:"grip_mm"`
	ScrewMM  float64 `json:"screw_mm,omitempty"`
	Packing  int     `json:"more_washers,omitempty"`
	ThreadMM float64 `json:"in_thread_mm,omitempty"`
}

type wireSpecJSON struct {
	Mark       string   `json:"mark"`
	Part       string   `json:"part"`
	Shape      string   `json:"shape"`
	Material   string   `json:"material"`
	WidthMM    float64  `json:"width_mm"`
	ThickMM    float64  `json:"thickness_mm"`
	LengthMM   float64  `json:"length_mm"`
	SectionMM2 float64  `json:"section_mm2"`
	RunMM      float64  `json:"run_mm"`
	JogMM      float64  `json:"jog_mm"`
	HoleMM     float64  `json:"hole_mm"`
	SlotMM     float64  `json:"slot_mm"`
	TravelMM   float64  `json:"travel_mm"`
	GrownMM    float64  `json:"grown_mm"`
	Layers     int      `json:"layers"`
	Links      int      `json:"links"`
	Bars       int      `json:"bars"`
	Braided    bool     `json:"braided"`
	Flexible   string   `json:"flexible,omitempty"`
	States     []string `json:"states"`
	Warnings   []string `json:"warnings"`
}

type quantitiesJSON struct {
	LeastV    float64     `json:"least_v"`
	NominalV  float64     `json:"nominal_v"`
	FullV     float64     `json:"full_v"`
	RatedA    float64     `json:"continuous_a"`
	BornA     float64     `json:"peak_most_a"` // what the cells bear for long
	ShortA    float64     `json:"short_a"`
	KWh       float64     `json:"energy_kwh"`
	Sense     []senseJSON `json:"sense_leads"` // in their order
	Sensors   []string    `json:"temperature_at"`
	RoomMinus float64     `json:"lug_room_minus_mm"`
	RoomPlus  float64     `json:"lug_room_plus_mm"`
	NotChosen string      `json:"not_chosen"`
}

type senseJSON struct {
	At       string  `json:"at"`
	LengthMM float64 `json:"length_mm"`
}

func quantities(w *job.Wiring) *quantitiesJSON {
	q, t := w.Quantities(), w.Final().Turns
	out := &quantitiesJSON{q.LeastV, q.NominalV, q.FullV, q.RatedA, q.BornA, q.ShortA, q.KWh, nil, nil, q.Room[0], q.Room[1], tell.NotChosen}
	for _, x := range q.Sense {
		out.Sense = append(out.Sense, senseJSON{w.Layout.PostName(x.At, t), x.LengthMM})
	}
	for _, slot := range q.Sensors {
		out.Sensors = append(out.Sensors, "cell "+w.Layout.CellName(slot))
	}
	if q.Hottest.ID != "" {
		out.Sensors = append(out.Sensors, "link "+q.Hottest.ID)
	}
	return out
}

type exposureJSON struct {
	State string  `json:"state"`
	A     string  `json:"a"`
	B     string  `json:"b"`
	GapMM float64 `json:"gap_mm"`
	Volts float64 `json:"volts"`
	Amps  float64 `json:"amps"`
}

type slotJSON struct {
	Slot       string  `json:"slot"`
	Serial     string  `json:"serial"`
	CapacityAh float64 `json:"capacity_ah"`
	MilliOhm   float64 `json:"milliohm"`
	CentreMM   float64 `json:"centre_mm"`
	BulgeMM    float64 `json:"bulge_mm"`
}

// Wiring is what the report holds under its wiring key; nil without a plan.
func Wiring(w *job.Wiring) *wiringJSON {
	if w == nil {
		return nil
	}
	r := &wiringJSON{Problem: w.Problem, Plan: w.Plan.ID, Proven: w.Proven, Forced: w.Advice.Forced,
		Why: some(w.Advice.Why), Plans: []wirePlanJSON{}, States: []wireStateJSON{}, Steps: []wireStepJSON{}, Apart: []wireStepJSON{},
		Links: []wireSpecJSON{}, Joints: []wireJointJSON{}, Exposures: []exposureJSON{}, Cells: []slotJSON{}, CellNotes: []string{}, SpareCells: []string{}}
	if w.Problem != "" {
		return r
	}
	for _, p := range w.Plans {
		r.Plans = append(r.Plans, planJSON(p))
	}
	for i := range w.Plan.States {
		r.States = append(r.States, stateOf(w, i))
	}
	for _, s := range w.Plan.Steps {
		r.Steps = append(r.Steps, stepJSON(w, s))
	}
	for _, s := range w.Plan.Apart(w.Layout) {
		r.Apart = append(r.Apart, stepJSON(w, s))
	}
	for _, sp := range w.Plan.Specs {
		r.Links = append(r.Links, specJSON(sp))
	}
	if w.Proven {
		r.Quantities = quantities(w)
	}
	reach(w, r)
	cells(w, r)
	out := rounded(*r)
	return &out
}

func planJSON(p wiring.Plan) wirePlanJSON {
	return wirePlanJSON{ID: p.ID, Name: p.Name, Proven: p.Proven(), LinksMade: p.LinksMade, BarMM: p.BarMM, Cuts: p.Cuts, CableMM: p.CableMM,
		Handlings: p.Handlings, CellsTurned: p.Turned, InsulatedLinks: p.InsulatedLinks, InsulatedPlaces: p.InsulatedPlaces,
		Exposures: len(p.Exposures), WorstA: p.WorstA, Hours: p.Hours,
		Openings: p.Openings, Burns: p.Harm.Burns(), Harm: p.Harm, Faults: faultTexts(p.Faults())}
}

func stepJSON(w *job.Wiring, s wiring.Step) wireStepJSON {
	out := wireStepJSON{s.Number, string(s.Action), s.State, s.Text, s.ExpectV, s.Band.LowV, s.Band.HighV, s.Hours, nil}
	for i, k := range s.Links {
		b := s.Before[i]
		read, _ := w.Layout.BeforeText(b, k, s.Turns)
		out.Links = append(out.Links, wireHandJSON{k.ID, read, some(b.Under[0]), some(b.Under[1])})
	}
	return out
}

func faultTexts(faults []wiring.Fault) []string {
	out := []string{}
	for _, f := range faults {
		out = append(out, f.Text)
	}
	return out
}

func stateOf(w *job.Wiring, i int) wireStateJSON {
	s := w.Plan.States[i]
	out := wireStateJSON{ID: s.ID, Name: s.Name, CurrentA: s.CurrentA, Charge: s.Charge, Links: []wireLinkJSON{}, PlusSide: []string{},
		Minus: w.Layout.PostName(s.Mains.Minus, s.Turns), Plus: w.Layout.PostName(s.Mains.Plus, s.Turns)}
	for _, side := range s.Turns {
		out.PlusSide = append(out.PlusSide, side.String())
	}
	f := w.FiguresOf(s.ID)
	for k, link := range s.Links {
		sp, _ := w.Layout.SpecFor(link, s.Turns, w.Plan.Specs)
		row := wireLinkJSON{ID: link.ID, Kind: sp.Mark, From: w.Layout.PostName(link.A, s.Turns), To: w.Layout.PostName(link.B, s.Turns), Cable: link.Cable, Layers: max(1, link.Layers)}
		if k < len(f.Links) {
			x := f.Links[k]
			row.MicroOhm, row.Amps, row.MilliV, row.Watts, row.Celsius, row.Class, row.TableA = x.MicroOhm, x.Amps, x.MilliV, x.Watts, x.Celsius, string(x.Class), x.TableAmps
		}
		out.Links = append(out.Links, row)
	}
	out.Figures = wireFiguresJSON{PackMilliOhm: 1000 * f.PackOhm, LinkMilliOhm: 1000 * f.LinkOhm, DropV: f.DropV, LinkW: f.LinkW, HottestC: f.HottestC,
		Class: string(f.Class), Unevenness: some(f.Unevenness), CellA: some(f.CellA), CellShortA: f.CellShortA, MainsShortA: f.MainsShortA}
	if i < len(w.Plan.Proofs) {
		p := w.Plan.Proofs[i]
		out.Proof = proofJSON{p.Holds(), p.PackV, p.IntendedV, p.IdleA, faultTexts(p.Faults)}
	}
	return out
}

func specJSON(sp wiring.LinkSpec) wireSpecJSON {
	return wireSpecJSON{Mark: sp.Mark, Part: job.LinkID(sp), Shape: string(sp.Shape), Material: sp.Material, WidthMM: sp.WidthMM, ThickMM: sp.ThicknessMM,
		LengthMM: sp.LengthMM, SectionMM2: sp.SectionMM2, RunMM: sp.RunMM, JogMM: sp.JogMM, HoleMM: sp.RoundMM, SlotMM: sp.SlotMM, TravelMM: sp.TravelMM,
		GrownMM: sp.GrownMM, Layers: sp.Layers, Links: sp.Links, Bars: sp.Bars, Braided: sp.Braided, Flexible: sp.FlexibleWhy, States: some(sp.States), Warnings: some(sp.Warnings)}
}

func reach(w *job.Wiring, r *wiringJSON) {
	for _, e := range w.Plan.Exposures {
		s, _ := w.Plan.State(e.State)
		r.Exposures = append(r.Exposures, exposureJSON{e.State, w.Layout.PostName(e.A, s.Turns), w.Layout.PostName(e.B, s.Turns), e.GapMM, e.Volts, e.Amps})
	}
	if all := w.Plan.Joints(w.Layout); len(all) > 0 {
		for _, j := range all[len(all)-1] {
			t := w.Final().Turns
			r.Joints = append(r.Joints, wireJointJSON{Terminal: w.Layout.PostName(j.Post, t), GripMM: j.GripMM, ScrewMM: j.ScrewMM, Packing: j.Packing, ThreadMM: j.HoldsMM, Text: w.Layout.JointText(j, t)})
		}
	}
}

func cells(w *job.Wiring, r *wiringJSON) {
	for _, m := range w.Remarks {
		r.CellNotes = append(r.CellNotes, m.Serial+" "+m.Text)
	}
	if w.Short != "" {
		r.CellNotes = append(r.CellNotes, w.Short)
	}
	if w.Arrangement == nil {
		return
	}
	for slot, c := range w.Arrangement.Slots {
		r.Cells = append(r.Cells, slotJSON{w.Layout.CellName(slot), c.Serial, c.CapacityAh, c.MilliOhm, c.CentreMM, c.BulgeMM()})
	}
	for _, c := range w.Arrangement.Spare {
		r.SpareCells = append(r.SpareCells, c.Serial)
	}
}

// some is the list, never nil: JSON then says [] and not null.
func some[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
