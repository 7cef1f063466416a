package params

import (
	"cmp"
	"fmt"
	"strings"

	"clampwright/params/catalog"
	"clampwright/params/unit"
)

// settleThread settles the rod's thread, grade and holes.
func settleThread(r *resolver) {
	in, rods := &r.in.Rods, &r.f.Rods
	def, pilot := "M8", unit.Length(2)
	if r.inch() {
		def, pilot = "5/16-18", unit.MMPerInch/16
	}
	t := row(r, "threads", in.Thread, def, r.tables.Thread)
	rods.Thread = t
	r.note("rods.thread", originOf(in.Thread.Set), in.Thread.At, t.Source)
	rods.Grade = row(r, "grades", in.Grade, "ungraded", r.tables.Grade)
	r.note("rods.grade", originOf(in.Grade.Set), in.Grade.At, rods.Grade.Source)
	series := map[string]unit.Length{"fine": t.HoleFine, "medium": t.HoleMedium, "coarse": t.HoleCoarse, "shop": t.HoleShop}
	fit := in.Fit.Or(usualFit(r, t))
	rods.Hole = pick(r, "rods.hole", in.Hole, series[fit], fit+" clearance hole for "+t.Name)
	if rods.Hole <= t.Major {
		r.errorf(in.Hole.At, "the rod doesn't pass its hole", r.f.Style.Exact(rods.Hole.MM()), fmt.Sprintf("more than %s (%s)", r.f.Style.Exact(t.Major.MM()), t.Name), fmt.Sprintf("%s is the medium hole", r.f.Style.Exact(t.HoleMedium.MM())))
	}
	if rods.Hole > 2*t.Major {
		r.errorf(in.Hole.At, "the hole is far too wide for the rod", r.f.Style.Exact(rods.Hole.MM()), fmt.Sprintf("%s or less", r.f.Style.Exact((2*t.Major).MM())), "")
	}
	rods.Pilot = pick(r, "rods.pilot", in.Pilot, pilot, "common practice")
	if rods.Pilot >= rods.Hole {
		r.errorf(in.Pilot.At, "the pilot drill is as wide as the hole", r.f.Style.Exact(rods.Pilot.MM()), fmt.Sprintf("less than %s", r.f.Style.Exact(rods.Hole.MM())), "leave rods.pilot out to have none")
	}
}

// usualFit is the closest clearance series that a rod passes although each hole
// is off by the shop's error; inch rods start from the shop hole.
func usualFit(r *resolver, t catalog.Thread) string {
	if t.System == "unc" {
		return "shop"
	}
	if (t.HoleMedium-t.Major)/2 >= r.f.Tolerances.HolePosition {
		return "medium"
	}
	return "coarse"
}

// settleHardware settles nuts and washers for the thread.
func settleHardware(r *resolver) {
	settleNut(r)
	settleWasher(r)
	n, w, t := r.f.Nut, r.f.Washer, r.f.Rods.Thread
	size := func(l unit.Length) string { return r.f.Style.Exact(l.MM()) }
	if n.HeightMin < t.Pitch && r.sure("nuts", "rods.thread", "tables") { // what it bears is judged where the force is known
		r.errorf(r.in.Nuts.Name.At, "the nut is thinner than one turn of its thread", size(n.HeightMin), size(t.Pitch)+" or more", "take a nut of a usual height")
	}
	if n.Bearing <= w.Inner && r.sure("nuts", "washers", "rods.thread", "tables") {
		r.errorf(cmp.Or(r.in.Washers.Name.At, r.in.Nuts.Name.At), "the nut slides into its washer", fmt.Sprintf("a bearing face of %s on a hole of %s", size(n.Bearing), size(w.Inner)), "a washer for this thread", "measure the nut's bearing face and the washer's hole")
	}
}

func settleNut(r *resolver) {
	in, t := &r.in.Nuts, r.f.Rods.Thread
	kind := in.Kind.Or("prevailing")
	want := kind
	if kind == "jam" {
		want = "plain"
	}
	if in.Name.Set {
		r.f.Nut = row(r, "nuts", in.Name, "", r.tables.Nut)
	} else if n, ok := r.tables.NutFor(t.Name, want); ok {
		r.f.Nut = n
	} else if r.f.Nut = standIn(r, "nuts", "", r.tables.Nut); r.sure("rods.thread") {
		r.errorf(in.Kind.At, fmt.Sprintf("no %s nut for %s in the nuts table", want, t.Name), kind, "another kind, or a row under tables.nuts", "")
	}
	r.note("nuts.kind", originOf(in.Kind.Set || in.Name.Set), in.Kind.At, r.f.Nut.Source)
	sameThread(r, "nuts.name", in.Name, r.f.Nut.Thread)
	if in.DragMin.Set {
		r.f.Nut.DragMin = in.DragMin.V
	}
	if in.DragMax.Set {
		r.f.Nut.DragMax = in.DragMax.V
	}
	if r.f.Nut.DragMin > r.f.Nut.DragMax {
		r.errorf(cmp.Or(in.DragMin.At, in.DragMax.At), "drag_min is above drag_max", r.text(r.f.Nut.DragMin), r.text(r.f.Nut.DragMax)+" or less", "give both, or leave both out")
	}
	if kind == "jam" {
		jam, found := r.tables.NutFor(t.Name, "jam")
		if !found && r.sure("rods.thread") {
			r.errorf(in.Kind.At, "no jam nut for "+t.Name+" in the nuts table", "jam", "plain or prevailing, or a row under tables.nuts", "")
			return
		}
		r.f.JamNut = &jam
	}
}

func sameThread(r *resolver, path string, g wordV, thread string) {
	if g.Set && r.sure("rods.thread") && !strings.EqualFold(thread, r.f.Rods.Thread.Name) {
		r.errorf(g.At, path+" is for another thread", thread, r.f.Rods.Thread.Name, "leave "+path+" out to have the one for the rods")
	}
}

// settleWasher takes the large series on plastic and wood, where seats are soft and
// no angle spreads the load, and the standard series otherwise.
func settleWasher(r *resolver) {
	in, t := &r.in.Washers, r.f.Rods.Thread
	series := in.Series.Or("standard")
	if in.Name.Set {
		r.f.Washer = row(r, "washers", in.Name, "", r.tables.Washer)
	} else if w, ok := r.tables.WasherFor(t.Name, series); ok {
		r.f.Washer = w
	} else if r.f.Washer = standIn(r, "washers", "", r.tables.Washer); r.sure("rods.thread") {
		r.errorf(in.Series.At, fmt.Sprintf("no %s washer for %s in the washers table", series, t.Name), series, "another series, or a row under tables.washers", "")
	}
	r.note("washers.series", originOf(in.Series.Set || in.Name.Set), in.Series.At, r.f.Washer.Source)
	sameThread(r, "washers.name", in.Name, r.f.Washer.Thread)
}

// Defaults of hand tools, mm; common practice, no source. Measure your own.
const (
	jawThickness, jawWidth, tipOverhang, jawReach, jawRoom = 6, 10, 4, 40, 3
	chuckBody                                              = 36
)

func settleTools(r *resolver) {
	in, t := &r.in.Tools, &r.f.Tools
	p := in.Pliers
	t.Pliers = Pliers{
		JawThickness: pick(r, "tools.pliers.jaw_thickness", p.JawThickness, jawThickness, "common practice"),
		JawWidth:     pick(r, "tools.pliers.jaw_width", p.JawWidth, jawWidth, "common practice"),
		TipOverhang:  pick(r, "tools.pliers.tip_overhang", p.TipOverhang, tipOverhang, "common practice"),
		Reach:        pick(r, "tools.pliers.reach", p.Reach, jawReach, "common practice"),
		Room:         pick(r, "tools.pliers.room", p.Room, jawRoom, "common practice"),
	}
	t.Socket = r.tables.SocketFor(r.f.Nut.Flats)
	t.Socket.Outer = pick(r, "tools.socket", in.Socket, t.Socket.Outer, "planning allowance for "+t.Socket.Name+", not a standard: measure yours")
	t.SocketWith = pick(r, "tools.socket_length", in.Length, orLength(t.Socket.Length, 80), "common practice")
	if t.Socket.Outer <= r.f.Nut.Corners {
		r.errorf(in.Socket.At, "the socket is narrower than the nut", r.f.Style.Exact(t.Socket.Outer.MM()), fmt.Sprintf("more than %s across the nut's corners", r.f.Style.Exact(r.f.Nut.Corners.MM())), "give the outside diameter of the socket")
	}
	t.Spanner = 2.2 * r.f.Nut.Flats // head of an open spanner: planning allowance, from memory
	t.DrillBody = pick(r, "tools.drill_body", in.DrillBody, chuckBody, "common practice")
	t.Cutter = pick(r, "tools.cutter", in.Cutter, 0, "no router")
	t.Drills = ownDrills(r, in.Drills)
}

// ownDrills collects the drills owned: whole series or single ones.
func ownDrills(r *resolver, in []wordV) []catalog.Drill {
	if len(in) == 0 {
		def := "metric"
		if r.inch() {
			def = "fraction"
		}
		in = []wordV{{V: def}}
	}
	var out []catalog.Drill
	for _, g := range in {
		n := len(out)
		for _, d := range r.tables.Drills {
			if d.Series == g.V || strings.EqualFold(d.Name, g.V) {
				out = append(out, d)
			}
		}
		if len(out) == n {
			r.missingRow("drills", g, append([]string{"fraction", "letter", "number", "metric"}, r.tables.Names("drills")...))
		}
	}
	return out
}

// settleRoom settles what the pack goes into; gaps are common practice, no source.
func settleRoom(r *resolver) {
	in := &r.in.Room
	if !in.Present || in.None {
		return
	}
	r.f.Room = &Room{Width: in.Width.V, Height: in.Height.V, Length: in.Length.V,
		Gap:   pick(r, "room.gap", in.Gap, 5, "common practice"),
		Leads: pick(r, "room.leads", in.Leads, 30, "a cap, a lug and the bend of a lead, common practice"),
		Hand:  pick(r, "room.hand", in.Hand, 0, "lifted out to turn the nuts"),
	}
	if !in.Width.Set && !in.Height.Set && !in.Length.Set && r.sure("room") {
		r.errorf(in.At, "a room without sizes", "", "one of width, height and length", "give what it has, or leave room out")
	}
}

// Defaults of clearances, mm; common practice, no source, but for the distance
// to terminals: a shop figure of 10 mm or more.
func settleClearances(r *resolver) {
	in := &r.in.Clearances
	r.f.Clearances = Clearances{
		MetalToCell:     pick(r, "clearances.metal_to_cell", in.MetalToCell, 3, "common practice"),
		MetalToTerminal: pick(r, "clearances.metal_to_terminal", in.MetalToTerminal, 10, "common practice"),
		ToolToCell:      pick(r, "clearances.tool_to_cell", in.ToolToCell, 2, "common practice"),
		ToolToTerminal:  pick(r, "clearances.tool_to_terminal", in.ToolToTerminal, 10, "common practice"),
		VentFree:        pick(r, "clearances.vent_free", in.VentFree, 20, "common practice"),
		ToolToMetal:     pick(r, "clearances.tool_to_metal", in.ToolToMetal, 0.5, "common practice"),
	}
}
