package clamp

import (
	"fmt"
	"math"
	"reflect"
	"strings"
)

// validator collects the first thing wrong with an input.
type validator struct{ err *InputError }

func (v *validator) fail(field string, value float64, reason string) {
	if v.err == nil {
		v.err = &InputError{Field: field, Value: value, Reason: reason}
	}
}

func (v *validator) check(ok bool, field string, value float64, reason string) {
	if !ok || !finite(value) {
		if !finite(value) {
			reason = "must be a number"
		}
		v.fail(field, value, reason)
	}
}

// within asks for lo <= value <= hi.
func (v *validator) within(field string, value, lo, hi float64) {
	v.check(value >= lo && value <= hi, field, value, fmt.Sprintf("must be from %g to %g", lo, hi))
}

// positive asks for 0 < value <= hi.
func (v *validator) positive(field string, value, hi float64) {
	v.check(value > 0 && value <= hi, field, value, fmt.Sprintf("must be above 0 and at most %g", hi))
}

// Limits of plausible properties.
const (
	maxModulus    = 1e7 // MPa, ten times diamond
	maxForce      = 1e7 // N
	maxCTE        = 1e-3
	maxRate       = 1e6  // MPa/mm
	leastStrength = 0.01 // MPa
)

// Validate returns an *InputError naming the first field that cannot be used, or
// nil. All entry points call it.
func Validate(in Input) error {
	if field, value, ok := firstNonFinite(reflect.ValueOf(in), ""); ok {
		return &InputError{Field: field, Value: value, Reason: "must be a number"}
	}
	v := &validator{}
	v.plate(in.Plate)
	v.check(len(in.Rows) >= 1 && len(in.Rows) <= 8, "rows", float64(len(in.Rows)), "there must be one to eight rows")
	for i, r := range in.Rows {
		v.row(fmt.Sprintf("rows[%d]", i), r, in.Plate)
	}
	v.apart(in.Rows)
	v.check(len(in.Stiffeners) <= maxStiffeners, "stiffeners", float64(len(in.Stiffeners)), "too many stiffeners")
	for i, s := range in.Stiffeners {
		v.stiffener(fmt.Sprintf("stiffeners[%d]", i), s, in.Plate)
	}
	v.check(len(in.Rods) >= 1 && len(in.Rods) <= maxRods, "rods", float64(len(in.Rods)), "without rods nothing holds the plate")
	for i, r := range in.Rods {
		v.rod(fmt.Sprintf("rods[%d]", i), r, in.Plate)
	}
	v.rest(in)
	if v.err == nil {
		v.centred(in)
	}
	if v.err != nil {
		return v.err
	}
	return nil
}

// firstNonFinite finds the first number in v that is NaN or infinite and names
// it by its JSON names.
func firstNonFinite(v reflect.Value, path string) (field string, value float64, found bool) {
	switch v.Kind() {
	case reflect.Float64:
		return path, v.Float(), !finite(v.Float())
	case reflect.Pointer:
		if !v.IsNil() {
			return firstNonFinite(v.Elem(), path)
		}
	case reflect.Slice:
		for i := range v.Len() {
			if f, x, ok := firstNonFinite(v.Index(i), fmt.Sprintf("%s[%d]", path, i)); ok {
				return f, x, true
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
			if f, x, ok := firstNonFinite(v.Field(i), strings.TrimPrefix(path+"."+name, ".")); ok {
				return f, x, true
			}
		}
	}
	return "", 0, false
}

func (v *validator) plate(p Plate) {
	v.positive("plate.width_mm", p.WidthMM, maxPlateMM)
	v.positive("plate.height_mm", p.HeightMM, maxPlateMM)
	v.positive("plate.thickness_mm", p.ThicknessMM, 500)
	v.positive("plate.ex_mpa", p.ExMPa, maxModulus)
	v.within("plate.ey_mpa", p.EyMPa, 0, maxModulus)
	v.within("plate.gxy_mpa", p.GxyMPa, 0, maxModulus)
	v.within("plate.gxz_mpa", p.GxzMPa, 0, maxModulus)
	v.within("plate.gyz_mpa", p.GyzMPa, 0, maxModulus)
	v.within("plate.nu", p.Nu, 0, 0.499)
	if p.ExMPa > 0 {
		ey, _ := p.moduli()
		v.check(p.Nu*p.Nu*ey/p.ExMPa < 0.999, "plate.nu", p.Nu, "nu² Ey/Ex must be below 1")
	}
	v.within("plate.strength_x_mpa", p.StrengthXMPa, leastStrength, maxModulus)
	v.check(p.StrengthYMPa == 0 || (p.StrengthYMPa >= leastStrength && p.StrengthYMPa <= maxModulus), "plate.strength_y_mpa", p.StrengthYMPa, "must be a strength in MPa")
	v.creep("plate.creep", p.Creep)
	v.within("plate.hot_factor", p.HotFactor, 0, 2)
	v.within("plate.bow_mm", p.BowMM, -50, 50)
}

func (v *validator) creep(field string, points []CreepPoint) {
	for i, p := range points {
		f := fmt.Sprintf("%s[%d]", field, i)
		v.within(f+".hours", p.Hours, 0, 1e7)
		v.positive(f+".factor", p.Factor, 1.5)
		v.check(i == 0 || p.Hours > points[i-1].Hours, f+".hours", p.Hours, "hours must rise from point to point")
	}
}

func (v *validator) row(f string, r Row, p Plate) {
	v.face(f+".face", r.Face, p)
	v.check(len(r.Pressing) <= maxRects, f+".pressing", float64(len(r.Pressing)), "too many rectangles")
	for i, q := range r.Pressing {
		v.rect(fmt.Sprintf("%s.pressing[%d]", f, i), q, r.Face, "the face")
		for j := range i {
			v.check(q.overlap(r.Pressing[j]) <= 1e-6, fmt.Sprintf("%s.pressing[%d]", f, i), 0, "pressing rectangles must not overlap")
		}
	}
	v.check(r.Cells >= 1 && r.Cells <= maxCells, f+".cells", float64(r.Cells), "there must be 1 to 1000 cells in a row")
	v.positive(f+".cell_thickness_mm", r.CellThicknessMM, 1000)
	if len(r.Squeeze) == 0 {
		v.positive(f+".stiffness_mpa_per_mm", r.Stiffness, maxRate)
	}
	v.squeeze(f+".squeeze", r.Squeeze)
	v.within(f+".cte_per_k", r.CTE, -maxCTE, maxCTE)
	v.within(f+".short_mm", r.ShortMM, 0, 100)
	v.within(f+".bulge_mm", r.BulgeMM, 0, 50)
	for i, l := range r.Layers {
		v.layer(fmt.Sprintf("%s.layers[%d]", f, i), l)
	}
	v.growth(f+".growth", r.Growth)
	if r.Gap != nil {
		v.gap(f+".gap", *r.Gap)
	}
}

// face asks for a face the plate covers in the main: an offcut may be a little
// smaller than the cells.
func (v *validator) face(f string, r Rect, p Plate) {
	v.rect(f, r, Rect{-maxPlateMM, -maxPlateMM, 2 * maxPlateMM, 2 * maxPlateMM}, "a plausible size")
	if v.err == nil {
		covered := r.overlap(Rect{0, 0, p.WidthMM, p.HeightMM}) / r.area()
		v.check(covered >= 0.5, f, covered, "less than half of the face is covered by the plate")
	}
}

// rect asks for a proper rectangle inside another. Sizes under a tenth of a
// millimetre cannot be meant.
func (v *validator) rect(f string, r, in Rect, what string) {
	const least = 0.1
	for _, q := range []float64{r.X0, r.X1, r.Y0, r.Y1} {
		v.check(true, f, q, "")
	}
	v.check(r.X1-r.X0 >= least, f+".x1_mm", r.X1, "must lie right of x0")
	v.check(r.Y1-r.Y0 >= least, f+".y1_mm", r.Y1, "must lie above y0")
	v.check(r.X0 >= in.X0-sameLineMM && r.X1 <= in.X1+sameLineMM && r.Y0 >= in.Y0-sameLineMM && r.Y1 <= in.Y1+sameLineMM,
		f, r.X0, "must lie inside "+what)
}

func (v *validator) squeeze(f string, points []SqueezePoint) {
	last := SqueezePoint{}
	for i, p := range points {
		g := fmt.Sprintf("%s[%d]", f, i)
		v.within(g+".squeeze_mm", p.SqueezeMM, 0, 1000)
		v.within(g+".pressure_mpa", p.PressureMPa, 0, maxModulus)
		if i == 0 && p == last {
			v.check(len(points) > 1, f, 0, "needs a point with pressure: zero stiffness")
			continue
		}
		v.check(p.SqueezeMM > last.SqueezeMM, g+".squeeze_mm", p.SqueezeMM, "squeeze must rise from point to point, from 0")
		v.check(p.PressureMPa > last.PressureMPa, g+".pressure_mpa", p.PressureMPa, "pressure must rise from point to point: zero stiffness")
		last = p
	}
}

func (v *validator) layer(f string, l Layer) {
	v.check(l.Count >= 0 && l.Count <= 10*maxCells, f+".count", float64(l.Count), "must be 0 or more")
	if l.Count == 0 {
		return
	}
	v.positive(f+".thickness_mm", l.ThicknessMM, 1000)
	if len(l.Curve) == 0 {
		v.positive(f+".e_mpa", l.EMPa, maxModulus)
	}
	v.squeeze(f+".curve", l.Curve)
	v.creep(f+".creep", l.Creep)
	v.within(f+".cte_per_k", l.CTE, -maxCTE, maxCTE)
}

func (v *validator) growth(f string, g Growth) {
	for i, p := range g.Points {
		q := fmt.Sprintf("%s.points[%d]", f, i)
		v.within(q+".charge", p.Charge, 0, 1)
		v.within(q+".value", p.Value, -50, 50)
		v.check(i == 0 || p.Charge > g.Points[i-1].Charge, q+".charge", p.Charge, "charge must rise from point to point")
	}
	v.within(f+".aged", g.Aged, -50, 50)
	v.within(f+".edge_share", g.Edge, 0, 1)
	v.check(g.Shape == ShapeDomed || g.Shape == ShapeFlat, f+".shape", 0, "must be "+ShapeDomed+" or "+ShapeFlat)
}

func (v *validator) gap(f string, g GapGrid) {
	v.check(len(g.XMM) > 0 && len(g.YMM) > 0 && len(g.GapMM) == len(g.YMM), f, 0, "needs one line of gaps for every y")
	v.rising(f+".x_mm", g.XMM)
	v.rising(f+".y_mm", g.YMM)
	for _, line := range g.GapMM {
		v.check(len(line) == len(g.XMM), f+".gap_mm", float64(len(line)), "needs one gap for every x")
		for _, x := range line {
			v.within(f+".gap_mm", x, -100, 100)
		}
	}
}

func (v *validator) rising(f string, xs []float64) {
	for i, x := range xs {
		v.check(i == 0 || x > xs[i-1], f, x, "must rise")
	}
}

// apart asks that no two faces overlap.
func (v *validator) apart(rows []Row) {
	for i := range rows {
		for j := range i {
			v.check(rows[i].Face.overlap(rows[j].Face) <= 1e-6, fmt.Sprintf("rows[%d].face", i), rows[i].Face.X0, "faces must not overlap")
		}
	}
}

func (v *validator) stiffener(f string, s Stiffener, p Plate) {
	v.within(f+".y_mm", s.YMM, 0, p.HeightMM)
	v.check(s.X1MM > s.X0MM, f+".x1_mm", s.X1MM, "must lie right of x0")
	v.within(f+".x0_mm", s.X0MM, -maxPlateMM, p.WidthMM)
	v.within(f+".x1_mm", s.X1MM, 0, 2*maxPlateMM)
	v.positive(f+".e_mpa", s.EMPa, maxModulus)
	v.positive(f+".i_mm4", s.IMM4, 1e10)
	v.positive(f+".section_modulus_mm3", s.SectionMM3, 1e8)
	v.positive(f+".yield_mpa", s.YieldMPa, maxModulus)
	v.within(f+".leg_mm", s.LegMM, 0, 100)
	v.within(f+".stand_mm", s.StandMM, 0, 500)
	v.check(!s.hasLeg() || s.LegMM > 0 && math.Abs(s.ToeMM-s.HeelMM) > s.LegMM && s.HeelMM*s.ToeMM <= 0, f+".heel_mm", s.HeelMM, "must lie across the hole line from the toe, more than the thickness away")
	v.within(f+".reach_mm", s.ReachMM, 0, 200)
}

func (v *validator) rod(f string, r Rod, p Plate) {
	v.within(f+".x_mm", r.XMM, 0, p.WidthMM)
	v.within(f+".y_mm", r.YMM, 0, p.HeightMM)
	v.positive(f+".stress_area_mm2", r.AreaMM2, 1e5)
	v.positive(f+".diameter_mm", r.DiameterMM, 200)
	v.positive(f+".pitch_mm", r.PitchMM, 20)
	v.check(r.PitchMM < r.DiameterMM/2, f+".pitch_mm", r.PitchMM, "must be less than half the diameter")
	v.within(f+".pitch_diameter_mm", r.PitchDiaMM, 0, 200)
	v.within(f+".nut_minor_diameter_mm", r.NutMinorMM, 0, 200)
	v.positive(f+".e_mpa", r.EMPa, maxModulus)
	v.positive(f+".proof_mpa", r.ProofMPa, maxModulus)
	v.positive(f+".free_mm", r.FreeMM, 1e5)
	v.positive(f+".engaged_mm", r.EngagedMM, 500)
	v.within(f+".outgrown_mm_per_k", r.OutgrownMM, -1e5*maxCTE, 1e5*maxCTE)
	v.within(f+".settle_mm", r.SettleMM, 0, 20)
	v.within(f+".share", r.Share, 0, 1000)
	v.within(f+".seat.inner_mm", r.Seat.InnerMM, 0, 500)
	v.check(r.Seat.OuterMM > r.Seat.InnerMM && r.Seat.OuterMM < 500, f+".seat.outer_mm", r.Seat.OuterMM, "must be greater than the bore")
	v.positive(f+".seat.short_mpa", r.Seat.ShortMPa, maxModulus)
	v.within(f+".seat.long_mpa", r.Seat.LongMPa, 0, maxModulus)
	v.within(f+".drag_min_nmm", r.DragMinNMM, 0, 1e7)
	v.within(f+".drag_max_nmm", r.DragMaxNMM, 0, 1e7)
	v.check(r.DragMaxNMM >= r.DragMinNMM, f+".drag_max_nmm", r.DragMaxNMM, "must not be less than the least drag")
	v.spring(f+".spring", r.Spring)
}

func (v *validator) spring(f string, s Spring) {
	v.check(s.Parallel >= 0 && s.Parallel <= 100, f+".parallel", float64(s.Parallel), "must be 1 to 100")
	v.check(s.Series >= 0 && s.Series <= 100, f+".series", float64(s.Series), "must be 1 to 100")
	v.check(s.Ends >= 0 && s.Ends <= 2, f+".ends", float64(s.Ends), "must be 1 or 2")
	switch s.Kind {
	case SpringNone:
	case SpringDisc:
		v.disc(f+".disc", s.Disc)
	case SpringCoil:
		v.coil(f+".coil", s.Coil)
	default:
		v.fail(f+".kind", 0, "must be "+SpringDisc+", "+SpringCoil+" or empty")
	}
}

func (v *validator) disc(f string, d DiscSpring) {
	v.positive(f+".thickness_mm", d.ThicknessMM, 50)
	v.positive(f+".inner_mm", d.InnerMM, 500)
	v.check(d.OuterMM > 1.05*d.InnerMM && d.OuterMM < 1000, f+".outer_mm", d.OuterMM, "must be well above the inner diameter")
	v.check(d.ConeMM > 0 && d.ConeMM < math.Sqrt2*d.ThicknessMM, f+".cone_height_mm", d.ConeMM,
		"must be above 0 and below 1.41 times the thickness: a taller cone snaps through and holds no force")
	v.within(f+".e_mpa", d.EMPa, 0, maxModulus)
	v.within(f+".nu", d.Nu, 0, 0.499)
}

func (v *validator) coil(f string, c CoilSpring) {
	v.within(f+".rate_n_per_mm", c.RateNMM, 0, 1e6)
	if c.RateNMM == 0 {
		v.positive(f+".wire_mm", c.WireMM, 50)
		v.positive(f+".mean_diameter_mm", c.MeanMM, 500)
		v.check(c.MeanMM > 2*c.WireMM, f+".mean_diameter_mm", c.MeanMM, "must be more than twice the wire")
		v.positive(f+".active_coils", c.Active, 1000)
		v.positive(f+".g_mpa", c.GMPa, maxModulus)
	}
	v.within(f+".solid_mm", c.SolidMM, 0, 5000)
	v.check(c.FreeMM > c.SolidMM && c.FreeMM < 5000, f+".free_mm", c.FreeMM, "must be greater than the solid length")
}

func (v *validator) rest(in Input) {
	v.window(in.Window)
	if in.Friction != (Friction{}) {
		v.positive("friction.low", in.Friction.Low, 2)
		v.check(in.Friction.Nominal >= in.Friction.Low, "friction.nominal", in.Friction.Nominal, "must not be less than low")
		v.check(in.Friction.High >= in.Friction.Nominal && in.Friction.High <= 2, "friction.high", in.Friction.High, "must not be less than nominal, and at most 2")
	}
	v.within("climate.assembly_c", in.Climate.AssemblyC, -60, 150)
	v.within("climate.hot_c", in.Climate.HotC, -60, 150)
	v.within("climate.cold_c", in.Climate.ColdC, -60, 150)
	v.within("assembly_charge", in.AssemblyCharge, 0, 1)
	v.within("storage_charge", in.StorageCharge, 0, 1)
	v.within("snug_n", in.SnugN, 0, maxForce)
	v.within("swell_zone", in.SwellZone, 0, 1)
	v.within("grid_mm", in.GridMM, 0, maxPlateMM)
	if in.GridMM > 0 {
		nodes := (in.Plate.WidthMM/in.GridMM + 1) * (in.Plate.HeightMM/in.GridMM + 1)
		v.check(nodes <= maxNodes, "grid_mm", in.GridMM, "is too fine for this plate")
	}
	b := in.Band
	v.within("band.stiffness_low", b.StiffLow, 0, 100)
	v.within("band.stiffness_high", b.StiffHigh, 0, 100)
	for i, s := range in.States {
		f := fmt.Sprintf("states[%d]", i)
		v.within(f+".charge", s.Charge, 0, 1)
		v.within(f+".aged", s.Aged, 0, 1)
		v.within(f+".hours", s.Hours, 0, 1e7)
		v.within(f+".temp_c", s.TempC, -60, 150)
	}
	if in.Bench != nil {
		v.bench(in)
	}
}

func (v *validator) window(w Window) {
	switch w.Kind {
	case WindowNone, WindowUnknown, WindowForce:
	default:
		v.fail("window.kind", 0, "must be force, none or unknown")
	}
	for _, x := range []float64{w.Floor, w.Min, w.Target, w.Max, w.Limit} {
		v.within("window", x, 0, maxForce)
	}
	v.check(w.Target > 0, "window.target", w.Target, "needs a value above 0")
	v.check(w.Target >= w.Min, "window.target", w.Target, "is below the least: the window cannot be met")
	v.check(w.Target <= w.Max, "window.target", w.Target, "is above the most: the window cannot be met")
	v.check(w.Floor <= w.Min, "window.floor", w.Floor, "is above the least at tightening")
	v.check(orElse(w.Limit, w.Max) >= w.Max, "window.limit", w.Limit, "is below the most at tightening")
}

// centred asks that the rods' resultant lies within the faces' outline; outside
// it no pressure can balance it.
func (v *validator) centred(in Input) {
	var x, y, sum float64
	for _, r := range in.Rods {
		sum += orElse(r.Share, 1)
	}
	out := Rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, r := range in.Rods {
		x += r.XMM * orElse(r.Share, 1) / sum
		y += r.YMM * orElse(r.Share, 1) / sum
	}
	for _, r := range in.Rows {
		for _, q := range r.pressing() {
			out = Rect{math.Min(out.X0, q.X0), math.Min(out.Y0, q.Y0), math.Max(out.X1, q.X1), math.Max(out.Y1, q.Y1)}
		}
	}
	v.check(x > out.X0 && x < out.X1, "rods[0].x_mm", x, "the rods pull beside the cells: the plate tips")
	v.check(y > out.Y0 && y < out.Y1, "rods[0].y_mm", y, "the rods pull above or below the cells: the plate tips")
}

func (v *validator) bench(in Input) {
	b := in.Bench
	v.positive("bench.snug_mm", b.SnugMM, 1e5)
	v.positive("bench.tight_mm", b.TightMM, 1e5)
	v.check(b.TightMM < b.SnugMM, "bench.tight_mm", b.TightMM, "must be less than the length at snug")
	v.within("bench.turns", b.Turns, 0, 1000)
	v.within("bench.spring_mm", b.SpringMM, 0, 5000)
	v.within("bench.resolution_mm", b.ResolutionMM, 0, 10)
	v.check(b.Turns > 0 || b.SpringMM > 0, "bench.turns", b.Turns, "give the turns past snug or the spring height")
	if b.SpringMM > 0 && len(in.Rods) > 0 {
		v.check(in.Rods[0].Spring.Kind != SpringNone, "bench.spring_mm", b.SpringMM, "no spring is fitted")
		if v.err == nil {
			c := newRodCurve(in.Rods[0])
			lo := c.spring.FreeHeight() - float64(c.spring.Series)*c.spring.travel()
			v.within("bench.spring_mm", b.SpringMM, lo, c.spring.FreeHeight())
		}
	}
}
