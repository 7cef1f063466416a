package inputs

import (
	"maps"
	"math"
	"slices"
	"strings"

	"clampwright/assembly/assure"
	"clampwright/assembly/clamp"
	"clampwright/assembly/estimate"
	"clampwright/params"
)

// Assurance returns the input of the share of fixtures that stay within their bands.
func Assurance(f *params.Fixture, r clamp.Reduced) assure.Fixture {
	rows := float64(f.Pack.Rows)
	all := func(one float64) float64 { return rows * one }
	ties := f.Ties()
	out := assure.Fixture{
		Cells: f.Pack.PerRow, ThicknessMM: f.Pack.CellThickness.MM(), FaceMM2: all(f.Cell.Width.MM() * f.Cell.Height.MM()),
		Ties: len(ties), Stretch: assure.Curve{Y: r.StretchN, X: r.StretchMM},
		OutgrownMM: f.Chain().Outgrows(ties[0], params.LayerSeparator), Layers: assure.Curve{Y: r.LayersMPa, X: r.LayersMM},
		SettleMM: assure.UsualSettleMM, TurnErrorMM: f.Tolerances.TurnError * f.Rods.Thread.Pitch.MM(), Stiffness: [2]float64{f.Clamp.BandStiffnessLow, f.Clamp.BandStiffness},
		TargetN: all(f.Cell.ForceTarget.N()), SnugN: Clamp(f).SnugTotalN(all(f.Cell.ForceTarget.N())),
		Setting: assure.Band{Least: all(f.Cell.ForceLow.N()), Most: all(f.Cell.ForceHigh.N())},
		Service: assure.Band{Least: all(f.Cell.ForceFloor.N()), Most: all(f.Cell.ForceLimit.N())},
		Method:  assure.Turns, Wrench: f.JamNut != nil && f.Nut.DragMax == 0, SetCharge: f.Clamp.SetCharge,
		AssemblyC: float64(f.Clamp.AssemblyTemp), HotC: float64(f.Clamp.HotTemp), ColdC: float64(f.Clamp.ColdTemp), Years: f.Clamp.Years,
	}
	for _, b := range r.Plates {
		out.Plates = append(out.Plates, assure.Bending(b))
	}
	for _, p := range f.Plate.Material.Creep {
		out.Creep.Y, out.Creep.X = append(out.Creep.Y, math.Log1p(p.Hours/8766)), append(out.Creep.X, p.Factor)
	}
	if f.Pads() {
		for i, c := range r.CreptMM {
			out.CreptAt, out.Crept = append(out.CreptAt, math.Log1p(r.CreptHours[i])), append(out.Crept, assure.Curve{Y: c[0], X: c[1]})
		}
	}
	full := f.Clamp.Growth[len(f.Clamp.Growth)-1].Growth - f.Clamp.Growth[0].Growth
	for _, p := range f.Clamp.Growth {
		if full > 0 {
			out.Charge.Y, out.Charge.X = append(out.Charge.Y, p.Charge), append(out.Charge.X, float64((p.Growth-f.Clamp.Growth[0].Growth)/full))
		}
	}
	if len(out.Charge.Y) == 0 { // none that could be scaled: a ramp
		out.Charge = assure.Curve{Y: []float64{0, 1}, X: []float64{0, 1}}
	}
	out.Sheet, out.Flat = sheet(f), f.Clamp.Shape == "flat"
	out.Worn = worn(f)
	if s := f.Spring; s != nil {
		out.SpringTol = assure.CoilForce
		if s.Disc != nil {
			out.SpringTol = s.Disc.ForceSpread() / assure.EndSigmas
		}
		out.Rub = s.Friction * float64(s.Parallel) / assure.EndSigmas
	}
	return out
}

// sheet is what the file gives of the cells over the middle of what is assumed.
func sheet(f *params.Fixture) map[string]float64 {
	c, out := &f.Clamp, map[string]float64{}
	thick := f.Cell.Thickness.MM()
	for _, g := range []struct {
		path  string
		value float64
		over  []assure.Range
	}{
		{"clamp.growth", (c.Growth[len(c.Growth)-1].Growth - c.Growth[0].Growth).MM() / thick, []assure.Range{assure.FreeGrowth, assure.HeldGrowth}},
		{"clamp.aged", c.Aged.MM() / thick, []assure.Range{assure.FreeAgeing, assure.HeldAgeing, assure.UsedIn10}},
		{"clamp.cell_expansion", c.CellCTE, []assure.Range{assure.Expansion}},
		{"clamp.squeeze", cellModulus(c.Squeeze, thick), []assure.Range{assure.CellModulus}},
	} {
		if !f.Gives(g.path) {
			continue
		}
		for _, r := range g.over {
			g.value /= r.Middle()
		}
		out[g.over[0].Key] = math.Max(g.value, leastOfSheet)
	}
	return out
}

// leastOfSheet is what at least is taken of the middle of a range where the file gives next
// to nothing: no cell keeps its thickness.
const leastOfSheet = 0.02

// cellModulus is a cell's about 84 kPa: the chord from half of that to half as much again, MPa.
func cellModulus(squeeze []params.SqueezePoint, thick float64) float64 {
	c := assure.Curve{}
	for _, p := range squeeze {
		c.Y, c.X = append(c.Y, p.Pressure.MPa()), append(c.X, p.Squeeze.MM())
	}
	const low, high = 0.042, 0.126
	if by := c.At(high) - c.At(low); by > 0 {
		return (high - low) * thick / by
	}
	return 0
}

// Estimate returns the input of the estimate: the fixture as its readings need it, and
// the readings at the clamp in the order in which they were taken. Springs are taken as set
// as the card says where nothing tells.
func Estimate(f *params.Fixture, reduced *assure.Fixture) (*estimate.Clamp, []estimate.Reading) {
	tie := f.Ties()[0]
	c := &estimate.Clamp{Fixture: reduced, RodPerN: tie.Length.MM() / (float64(tie.Area) * tie.E.MPa()), PitchMM: f.Rods.Thread.Pitch.MM(), DiameterMM: f.Rods.Thread.Major.MM(),
		Friction: [2]float64{f.Clamp.FrictionLow, f.Clamp.FrictionHigh}, DragNMM: [2]float64{f.Clamp.DragMin.NMM(), f.Clamp.DragMax.NMM()},
		LengthMM: f.Chain().Stack.Free(params.LayerCell, params.LayerLiner).MM(), StorageCharge: f.Clamp.StorageCharge}
	sum := 0.0
	for _, t := range f.Ties() {
		sum += t.Share
	}
	for _, t := range f.Ties() {
		c.Shares = append(c.Shares, t.Share/sum)
	}
	c.Errors = map[estimate.What][2]float64{}
	for _, w := range []estimate.What{estimate.Length, estimate.Height, estimate.Turned, estimate.Torque, estimate.Running, estimate.Bow, estimate.Weighed, estimate.Bare} {
		much, part := params.UsualError(strings.Replace(string(w), string(estimate.Bare), string(estimate.Length), 1))
		c.Errors[w] = [2]float64{much, part}
	}
	if f.Spring != nil {
		reduced.Method = reduced.SetBy(uint64(f.Tolerances.Seed))
		c.FreeMM, c.Stacks = f.Spring.FreeHeight.MM(), f.Spring.Stacks()
	}
	return c, clampReadings(f)
}

// stages are the words of a reading's when; part is of the way from snug to as set.
var stages = map[string]struct {
	stage estimate.Stage
	part  float64
}{"": {estimate.Before, 0}, "snug": {estimate.Snug, 0}, "quarter": {estimate.Part, 0.25}, "half": {estimate.Part, 0.5}, "three_quarters": {estimate.Part, 0.75},
	"set": {estimate.Set, 0}, "storage": {estimate.Visit, 0}, "full": {estimate.Visit, 0}, "visit": {estimate.Visit, 0}, "reset": {estimate.Reset, 0}}

const daysOfYear = 365.25

// begun is the day of setting, or else that of the first reading that is dated; 0 without.
func begun(f *params.Fixture) (day int) {
	for _, x := range f.Readings {
		if x.When == "set" && x.Day > 0 || x.AtClamp() && x.Day > 0 && day == 0 {
			day = x.Day
		}
	}
	return day
}

// worn is what cells have aged by where readings count their cycles: of the years up to the
// last of these the part that goes with cycles is spread as those were. Afterwards they are
// used as they were on the whole.
func worn(f *params.Fixture) (out assure.Curve) {
	day, first, cycles := begun(f), 0, map[int]int{}
	for _, x := range f.Readings {
		switch {
		case x.Day == day:
			first = max(first, x.Cycles)
		case x.Day > day && x.Cycles > 0:
			cycles[x.Day] = max(cycles[x.Day], x.Cycles)
		}
	}
	days := slices.Sorted(maps.Keys(cycles))
	if len(days) == 0 || cycles[days[len(days)-1]] <= first {
		return out
	}
	last := days[len(days)-1]
	years, all := float64(last-day)/daysOfYear, float64(cycles[last]-first)
	out = assure.Curve{Y: []float64{0}, X: []float64{0}}
	for _, d := range days {
		at := float64(d-day) / daysOfYear
		out.Y, out.X = append(out.Y, at), append(out.X, (1-assure.ByCycles)*at+assure.ByCycles*years*math.Max(0, float64(cycles[d]-first)/all))
	}
	return assure.Curve{Y: append(out.Y, years+1), X: append(out.X, years+1)}
}

// clampReadings are the readings at the clamp. Years count from the day of setting.
func clampReadings(f *params.Fixture) (out []estimate.Reading) {
	begun := begun(f)
	for i, x := range f.Readings {
		if !x.AtClamp() {
			continue
		}
		s := stages[x.When]
		r := estimate.Reading{What: estimate.What(x.What), Stage: s.stage, Part: s.part, Charge: f.Clamp.SetCharge, TempC: float64(f.Clamp.AssemblyTemp),
			Value: x.Value, Sigma: x.Uncertainty / assure.EndSigmas, LoadN: x.LoadN, HighMM: x.HighMM, Name: x.Name(), Ref: i}
		r.At, _ = f.Spot(x)
		if x.LoadN > 0 {
			r.What = estimate.Bare
		}
		switch {
		case x.Charged:
			r.Charge = x.Charge
		case x.When == "full":
			r.Charge = 1
		case x.When == "storage":
			r.Charge = f.Clamp.StorageCharge
		default:
			r.Unsaid = true
		}
		if x.Warmed {
			r.TempC = x.TempC
		}
		if s.stage >= estimate.Visit && x.Day > 0 {
			r.Years = math.Max(0, float64(x.Day-begun)/daysOfYear)
		}
		out = append(out, r)
	}
	return estimate.InOrder(out)
}
