package clamp

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"clampwright/assembly/finding"
)

func quick(in Input) Input {
	in.GridMM = 14
	return in
}

func mustSolve(t *testing.T, in Input) Result {
	t.Helper()
	r, err := Solve(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func warned(r Result, id string) bool {
	for _, w := range r.Warnings {
		if w.ID == id {
			return true
		}
	}
	return false
}

// 300 kgf over four M6 rods is 735 N each and 0.88 N·m at K = 0.2, less than a
// prevailing-torque nut may drag by itself (ISO 2320, from memory: 3 N·m).
func TestNutDragTrap(t *testing.T) {
	in := quick(fourCells())
	in.Window.Target = 300 * 9.80665
	for i := range in.Rods {
		r := &in.Rods[i]
		r.AreaMM2, r.DiameterMM, r.PitchMM = 20.1, 6, 1
		r.DragMinNMM, r.DragMaxNMM = 300, 3000
	}
	r := mustSolve(t, in)
	if !warned(r, WarnNutDrag) || r.Setting.WrenchOK {
		t.Error("a torque wrench cannot set this")
	}
	within(t, "clamping torque at K low", r.Setting.ClampNMM.Least, 0.15*6*735.5, 1e-3)
	if text := strings.Join(r.Setting.Sentences, " "); !strings.Contains(text, "0.88 N·m") || !strings.Contains(text, "3.00 N·m") {
		t.Error("the figures are missing:", text)
	}
	for i := range in.Rods {
		in.Rods[i].DragMinNMM, in.Rods[i].DragMaxNMM = 0, 0
	}
	r = mustSolve(t, in)
	if warned(r, WarnNutDrag) {
		t.Error("plain nuts have no drag")
	}
	if !warned(r, WarnFriction) {
		t.Error("the friction band is missing")
	}
	within(t, "force band of a wrench", r.Setting.ForceN.Greatest/r.Setting.ForceN.Least, 2, 1e-9)
}

// A little settling takes most of the force of a bare rod between stiff cells;
// springs keep it.
func TestRodStretchTrap(t *testing.T) {
	in := quick(fourCells())
	in.Plate.Creep, in.Plate.ExMPa = nil, 69000
	in.Rows[0].Squeeze, in.Rows[0].Stiffness = nil, 20
	for i := range in.Rods {
		in.Rods[i].SettleMM = 0.05
	}
	bare := mustSolve(t, in)
	if !warned(bare, WarnRodStretch) {
		t.Error("no warning for a bare rod")
	}
	for i := range in.Rods {
		in.Rods[i].Spring = sprung().Rods[0].Spring
	}
	soft := mustSolve(t, in)
	if warned(soft, WarnRodStretch) {
		t.Error("springs follow the settling")
	}
	if bare.States[5].ForceN > 0.7*bare.States[0].ForceN || soft.States[5].ForceN < 0.9*soft.States[0].ForceN {
		t.Errorf("after 1000 h: bare %.0f, sprung %.0f of %.0f N", bare.States[5].ForceN, soft.States[5].ForceN, bare.States[0].ForceN)
	}
}

// 735 N on an M6 normal washer over a 6.6 hole bears 9.3 MPa on polyethylene,
// too much for long; the large washer 3.3 MPa.
func TestWasherOnPlasticTrap(t *testing.T) {
	small, large := Seat{InnerMM: 6.6, OuterMM: 12}, Seat{InnerMM: 6.6, OuterMM: 18}
	within(t, "normal washer", 735/small.Area(), 9.3, 0.01)
	within(t, "large washer", 735/large.Area(), 3.3, 0.02)
	in := quick(fourCells())
	in.Stiffeners = nil
	for i := range in.Rods {
		in.Rods[i].Seat = Seat{InnerMM: 6.6, OuterMM: 12, ShortMPa: 10, LongMPa: 5, Material: "polyethylene"}
	}
	if r := mustSolve(t, in); !warned(r, WarnSeatPlastic) {
		t.Error("no warning for the small washer")
	}
	for i := range in.Rods {
		in.Rods[i].Seat.OuterMM = 24
	}
	in.Rows[0].Growth = Growth{Shape: ShapeFlat}
	if r := mustSolve(t, in); warned(r, WarnSeatPlastic) {
		t.Error("a large washer is enough")
	}
}

// Growth that dips towards full charge gets a state of its own, and is said.
func TestGrowthNotMonotonicTrap(t *testing.T) {
	in := quick(fourCells())
	in.Rows[0].Growth.Points = []GrowthPoint{{0, 0}, {0.7, 0.65}, {0.85, 0.36}, {1, 0.58}}
	r := mustSolve(t, in)
	if !warned(r, WarnGrowth) {
		t.Error("not said")
	}
	last := r.States[len(r.States)-1]
	if last.Name != "most grown" || last.ForceN <= r.States[2].ForceN {
		t.Errorf("%s %g against full %g", last.Name, last.ForceN, r.States[2].ForceN)
	}
}

// Cells whose case carries the load are held, not pressed; a silent data sheet
// gets the mild range and says so.
func TestSilentDataSheets(t *testing.T) {
	in := quick(fourCells())
	in.Window = Window{Kind: WindowNone, Min: 17, Target: 105, Max: 700}
	r := mustSolve(t, in)
	if !warned(r, WarnNone) || r.States[0].Pressure.Mean > 5 {
		t.Errorf("holding means hardly pressing, not %.1f kPa", r.States[0].Pressure.Mean)
	}
	in.Window = Window{Kind: WindowUnknown, Min: 1050, Target: 0.05 * 174 * 201, Max: 3500, Limit: 5250}
	r = mustSolve(t, in)
	if !warned(r, WarnUnknown) {
		t.Error("the mild range must be marked")
	}
	within(t, "mild range", r.States[0].Pressure.Mean, 50, 1e-3)
}

// Cells that are stiffer by readings give what cells of a stiffer table give.
func TestStiffnessByReadings(t *testing.T) {
	told, listed := quick(sprung()), quick(sprung())
	told.Stiffness = 1.6
	listed.Rows = slices.Clone(listed.Rows)
	for i := range listed.Rows {
		r := &listed.Rows[i]
		r.Stiffness *= 1.6
		r.Squeeze = slices.Clone(r.Squeeze)
		for k := range r.Squeeze {
			r.Squeeze[k].PressureMPa *= 1.6
		}
	}
	a, b := mustSolve(t, told), mustSolve(t, listed)
	for k := range a.States {
		within(t, a.States[k].Name, a.States[k].ForceN, b.States[k].ForceN, 1e-6)
	}
	if plain := mustSolve(t, quick(sprung())); math.Abs(plain.Setting.Turns.Least/a.Setting.Turns.Least-1) < 0.02 {
		t.Errorf("stiffer cells take as many turns: %.3f and %.3f", a.Setting.Turns.Least, plain.Setting.Turns.Least)
	}
}

// What a settled fixture can still have wrong names its field; both sides of each limit.
func TestErrorsNameTheField(t *testing.T) {
	tilted := func(y float64) func(*Input) {
		return func(in *Input) {
			in.Rods = []Rod{testRod(14, y), testRod(222, y)}
		}
	}
	for i, c := range []struct {
		field string
		spoil func(*Input)
	}{
		{"rows[0].face", func(in *Input) { in.Rows[0].Face = Rect{31, 105, 205, 306}; tilted(150)(in) }},
		{"", func(in *Input) { in.Rows[0].Face = Rect{31, 104, 205, 305}; tilted(150)(in) }},
		{"rods[0].x_mm", func(in *Input) { in.Rods = []Rod{testRod(31, 25), testRod(31, 180)} }},
		{"", func(in *Input) { in.Rods = []Rod{testRod(32, 25), testRod(32, 180)} }},
		{"rods[0].x_mm", func(in *Input) { in.Rods = []Rod{testRod(205, 25), testRod(205, 180)} }},
		{"", func(in *Input) { in.Rods = []Rod{testRod(204, 25), testRod(204, 180)} }},
		{"", func(in *Input) { in.Rods[1].Share, in.Rods[3].Share = 10, 10 }},
		{"rods[0].x_mm", func(in *Input) { in.Rods[1].Share, in.Rods[3].Share = 12, 12 }},
		{"rods[0].y_mm", tilted(2)}, {"", tilted(3)}, {"", tilted(202)}, {"rods[0].y_mm", tilted(203)},
		{"rods[0].y_mm", func(in *Input) { tilted(102)(in); in.Rows[0].Pressing = []Rect{{31, 110, 205, 203}} }},
	} {
		in := quick(fourCells())
		c.spoil(&in)
		err := Validate(in)
		if bad, _ := errors.AsType[*InputError](err); (err != nil || c.field != "") && (bad == nil || bad.Field != c.field) {
			t.Errorf("case %d: %v, want one of %q", i, err, c.field)
		}
	}
}

// verdictOf is the verdict of a finding in a state; empty where it is not judged.
func verdictOf(s State, id finding.ID) finding.Verdict {
	for _, f := range s.Findings {
		if f.ID == id {
			return f.Verdict
		}
	}
	return ""
}

// A stack that shrinks away from the plates leaves them loose, with zero forces, and
// fails, whatever the data sheet asks and however stiff the plates are.
func TestLooseWhenCold(t *testing.T) {
	for _, kind := range []string{WindowForce, WindowUnknown, WindowNone} {
		for _, thick := range []float64{5, 19, 100} {
			in := quick(fourCells())
			in.Window.Kind, in.Plate.ThicknessMM, in.Plate.ExMPa = kind, thick, 2000*thick
			in.Rows[0].CTE = 9e-4
			in.Climate.ColdC = -40
			r := mustSolve(t, in)
			if cold := r.States[7]; cold.ForceN > 1e-3 || verdictOf(cold, MeanLow) != finding.Fail || !warned(r, WarnLoose) {
				t.Errorf("%s, %g mm: %g N, %s", kind, thick, cold.ForceN, verdictOf(cold, MeanLow))
			}
		}
	}
}

// Rods that cannot carry the force and springs that are flat before it are solved, and
// fail.
func TestTooWeakIsJudged(t *testing.T) {
	in := quick(fourCells())
	in.Window = Window{Kind: WindowForce, Min: 1, Target: 9e5, Max: 9e6}
	if s := mustSolve(t, in).States[0]; verdictOf(s, stressID("rod")) != finding.Fail {
		t.Errorf("%+v", s.Findings)
	}
	flat := Spring{Kind: SpringCoil, Coil: CoilSpring{RateNMM: 10, FreeMM: 50, SolidMM: 20}}
	for target, want := range map[float64]finding.Verdict{1199: finding.Pass, 1201: finding.Fail, 3000: finding.Fail} {
		in := quick(fourCells())
		in.Window = Window{Kind: WindowForce, Min: 1, Target: target, Max: 9e6}
		for i := range in.Rods {
			in.Rods[i].Spring = flat
		}
		s := mustSolve(t, in).States[0]
		if got := verdictOf(s, SpringRange); got != want {
			t.Errorf("springs flat at 300 N under %g N: %s", target/4, got)
		}
	}
}

// Both sides of every limit in the middle of the face, for a floor of 40 and a ceiling
// of 200 kPa.
func TestMiddleLimits(t *testing.T) {
	load := func(change func(*RowLoad)) RowLoad {
		l := RowLoad{Pressure: Pressure{Mean: 100, Swell: 100, SwellLow: 100, Greatest: 100}, SwellContact: 1}
		change(&l)
		return l
	}
	swell := func(v float64) RowLoad { return load(func(l *RowLoad) { l.Pressure.Swell = v }) }
	least := func(v float64) RowLoad { return load(func(l *RowLoad) { l.Pressure.SwellLow = v }) }
	touch := func(v float64) RowLoad { return load(func(l *RowLoad) { l.SwellContact = v }) }
	peak := func(v float64) RowLoad { return load(func(l *RowLoad) { l.Pressure.Greatest = v }) }
	for _, c := range []struct {
		id   finding.ID
		own  float64
		load RowLoad
		want finding.Verdict
	}{
		{MiddleShare, 0, swell(59.9), finding.Fail}, {MiddleShare, 0, swell(60.1), finding.Warn}, {MiddleShare, 0, swell(79.9), finding.Warn}, {MiddleShare, 0, swell(80.1), finding.Pass},
		{MiddleShare, 0.5, swell(49.9), finding.Fail}, {MiddleShare, 0.5, swell(50.1), finding.Pass}, {MiddleShare, 0.9, swell(89.9), finding.Fail}, {MiddleShare, 0.9, swell(90.1), finding.Pass},
		{MiddleTouch, 0, touch(0.899), finding.Fail}, {MiddleTouch, 0, touch(0.901), finding.Warn}, {MiddleTouch, 0, touch(0.998), finding.Warn}, {MiddleTouch, 0, touch(1), finding.Pass},
		{MiddleLeast, 0, least(9.9), finding.Fail}, {MiddleLeast, 0, least(10.1), finding.Warn}, {MiddleLeast, 0, least(19.9), finding.Warn}, {MiddleLeast, 0, least(20.1), finding.Pass},
		{MiddleHigh, 0, swell(249), finding.Pass}, {MiddleHigh, 0, swell(251), finding.Warn}, {MiddleHigh, 0, swell(333), finding.Warn}, {MiddleHigh, 0, swell(334), finding.Fail},
		{Peak, 0, peak(399), finding.Pass}, {Peak, 0, peak(401), finding.Warn}, {Peak, 0, peak(799), finding.Warn}, {Peak, 0, peak(801), finding.Fail},
	} {
		f := &fixture{asked: Asked{FloorKPa: 40, LimitKPa: 200}, in: Input{Window: Window{Middle: c.own}}}
		if got := verdictOf(State{Findings: judgeZone(f, c.load)}, c.id); got != c.want {
			t.Errorf("%s, %+v: %s, want %s", c.id, c.load, got, c.want)
		}
	}
}

// What is held and not pressed is not judged in the middle; what is pressed is.
func TestMiddleOfWindows(t *testing.T) {
	for kind, judged := range map[string]bool{WindowForce: true, WindowUnknown: true, WindowNone: false} {
		in := quick(fourCells())
		in.Window.Kind = kind
		s := mustSolve(t, in).States[0]
		for _, id := range []finding.ID{Middle, MiddleShare, MiddleTouch, MiddleLeast, MiddleHigh, Peak} {
			if got := verdictOf(s, id); (got != "") != judged {
				t.Errorf("%s: %s is %q", kind, id, got)
			}
		}
	}
}

// Whatever part of the face a sheet leaves free, the least pressure is no more than
// the mean, that no more than the greatest; even pressure on a full sheet is all three.
func TestLeastMeanGreatest(t *testing.T) {
	face := Rect{31, 2, 205, 203}
	for name, pressing := range map[string][]Rect{
		"full": nil, "frame": {{31, 2, 51, 203}, {185, 2, 205, 203}, {51, 2, 185, 22}, {51, 183, 185, 203}},
		"ribs": {{51, 2, 81, 203}, {103, 2, 133, 203}, {155, 2, 185, 203}}, "small": {{60, 42, 176, 163}},
	} {
		in := quick(fourCells())
		in.Rows[0].Pressing = pressing
		for _, s := range mustSolve(t, in).States {
			for _, p := range []Pressure{s.Pressure, s.Rows[0].Pressure} {
				if p.Least > p.Mean*(1+1e-9) || p.Mean > p.Greatest*(1+1e-9) || p.SwellLow > p.Swell*(1+1e-9) {
					t.Errorf("%s, %s: %+v", name, s.Name, p)
				}
			}
		}
		in = quick(referenceTable[5].input())
		in.Rows[0].Pressing, in.Plate.ThicknessMM, in.Plate.ExMPa, in.Plate.Thin = pressing, 100, 2e5, false
		covered := 0.0
		for _, r := range in.Rows[0].pressing() {
			covered += r.area() / face.area()
		}
		if p := mustSolve(t, in).States[0].Pressure; math.Abs(p.Least/p.Mean-1) > 0.02 || math.Abs(p.Greatest*covered/p.Mean-1) > 0.02 {
			t.Errorf("%s, between rigid plates: %+v", name, p)
		}
	}
}

// Creep and growth tables.
func TestTables(t *testing.T) {
	creep := []CreepPoint{{1, 0.72}, {1000, 0.39}}
	within(t, "at 1 h", creepFactor(creep, 1), 0.72, 1e-12)
	within(t, "at 1000 h", creepFactor(creep, 1000), 0.39, 1e-12)
	within(t, "between, by the logarithm", creepFactor(creep, math.Sqrt(1000)), (0.72+0.39)/2, 1e-9)
	within(t, "at once", creepFactor(creep, 0), 1, 1e-12)
	// two equal linear layers in series are half as stiff, at every pressure
	c := series([]pwl{newPWL([]SqueezePoint{{0.1, 0.02}, {0.3, 0.1}}), linear(0.5)}, []float64{3, 2})
	for _, p := range []float64{0.01, 0.02, 0.05, 0.3} {
		s := 3*newPWL([]SqueezePoint{{0.1, 0.02}, {0.3, 0.1}}).squeeze(p) + 2*p/0.5
		got, _ := c.at(s)
		within(t, "series", got, p, 1e-9)
	}
}
