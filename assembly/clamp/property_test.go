package clamp

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// randomFixture returns a plausible fixture, symmetric or not, with or without
// stiffeners, springs, gaps, nonlinear cells and two rows.
func randomFixture(r *rand.Rand) Input {
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	w, h, y0 := u(100, 200), u(90, 210), u(0, 10)
	x0 := u(25, 40)
	rows := 1 + r.IntN(2)
	in := Input{
		Plate:          Plate{WidthMM: 2*x0 + w*float64(rows) + 20*float64(rows-1), HeightMM: h + y0 + u(0, 10), ThicknessMM: u(8, 25), ExMPa: math.Exp(u(math.Log(800), math.Log(70000))), Nu: u(0, 0.45), StrengthXMPa: 30, BowMM: u(-0.2, 0.2)},
		Window:         Window{Kind: WindowForce, Min: 500, Target: u(600, 3000), Max: 3500},
		Climate:        Climate{20, 45, 0},
		AssemblyCharge: u(0, 0.5), StorageCharge: 0.5, GridMM: u(14, 20),
	}
	for k := range rows {
		left := x0 + float64(k)*(w+20)
		row := cellRow(Rect{left, y0, left + w, y0 + h}, 1+r.IntN(8))
		row.BulgeMM = u(0, 0.1)
		row.Growth.Aged = 72 * u(0, 0.02)
		if r.IntN(2) == 0 {
			row.Squeeze, row.Stiffness = nil, u(0.1, 1)
		}
		in.Rows = append(in.Rows, row)
	}
	levels := []float64{u(0.1, 0.4) * in.Plate.HeightMM, u(0.6, 0.9) * in.Plate.HeightMM}
	springs := r.IntN(3)
	offset := float64(r.IntN(2)) * u(-8, 8)
	for _, y := range levels {
		if r.IntN(2) == 0 {
			s := testAngle(y)
			s.X0MM, s.X1MM, s.IMM4 = 2, in.Plate.WidthMM-2, u(2000, 40000)
			in.Stiffeners = append(in.Stiffeners, s)
		}
		for _, x := range []float64{12 + math.Abs(offset), in.Plate.WidthMM - 12 + math.Min(offset, 0)} {
			rod := realRod(x, y, u(100, 700))
			rod.Spring = []Spring{{}, {Kind: SpringDisc, Disc: DiscSpring{OuterMM: 25, InnerMM: 12.2, ThicknessMM: 1.5, ConeMM: 0.55}, Series: 4, Ends: 2},
				{Kind: SpringCoil, Coil: CoilSpring{RateNMM: 150, FreeMM: 60, SolidMM: 20}}}[springs]
			in.Rods = append(in.Rods, rod)
		}
	}
	return in
}

// Equilibrium: rod forces sum to the contact force, and their moments agree too;
// no contact pulls; every number is a number.
func TestEquilibrium(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 16 {
		in := randomFixture(r)
		res, err := Solve(in)
		if err != nil {
			t.Fatalf("fixture %d: %v", n, err)
		}
		for _, s := range res.States {
			rods := 0.0
			for _, f := range s.RodForceN {
				rods += f
				if f < 0 {
					t.Errorf("fixture %d, %s: a rod pushes", n, s.Name)
				}
			}
			if math.Abs(rods-s.ForceN) > 1e-6*math.Max(rods, 1) {
				t.Errorf("fixture %d, %s: rods %.9g, contacts %.9g", n, s.Name, rods, s.ForceN)
			}
			if s.Pressure.Least < 0 {
				t.Errorf("fixture %d, %s: a contact pulls", n, s.Name)
			}
		}
		within(t, "target", res.States[0].ForceN, res.Target.TargetN, 1e-6)
		balanceMoments(t, in)
	}
}

// balanceMoments checks moments about the plate's edges as tightened.
func balanceMoments(t *testing.T, in Input) {
	t.Helper()
	f := newFixture(in, in.edge(), nominal)
	if err := f.tighten(); err != nil {
		t.Fatal(err)
	}
	var cx, cy, rx, ry float64
	for _, c := range f.s.full {
		force := f.tight.p[c.solved] * c.area
		cx += force * f.s.fullXS[c.i]
		cy += force * f.s.m.ys[c.j]
	}
	for k, rod := range in.Rods {
		force := f.tight.rodF[f.s.groupOf[k]]
		y := rod.YMM
		if st := bearsOn(in, rod); st >= 0 {
			y = in.Stiffeners[st].YMM
		}
		rx += force * rod.XMM
		ry += force * y
	}
	within(t, "moment about y", cx, rx, 1e-6)
	within(t, "moment about x", cy, ry, 1e-6)
}

// More growth never lowers the total force.
func TestForceRisesWithGrowth(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for n := range 5 {
		in := randomFixture(r)
		last := 0.0
		for _, g := range []float64{0, 0.5, 1, 2, 4} {
			f := newFixture(in, in.edge(), knowledge{1, g})
			s, err := f.state(StateSpec{Name: "aged", Charge: in.AssemblyCharge, Aged: 1, TempC: 20})
			if err != nil {
				t.Fatal(err)
			}
			if s.ForceN < last*(1-1e-9) {
				t.Errorf("fixture %d: %g times the growth lowers the force to %g from %g", n, g, s.ForceN, last)
			}
			last = s.ForceN
		}
	}
}

// Stiffer springs never lower the rise of the force.
func TestForceRiseWithStifferSprings(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for n := range 4 {
		in := randomFixture(r)
		last := 0.0
		for _, rate := range []float64{50, 100, 300, 1000, 0} {
			for k := range in.Rods {
				in.Rods[k].Spring = Spring{Kind: SpringCoil, Coil: CoilSpring{RateNMM: rate, FreeMM: 200, SolidMM: 1}}
				if rate == 0 {
					in.Rods[k].Spring = Spring{}
				}
			}
			s, err := solveState(in, StateSpec{Name: "aged", Charge: in.AssemblyCharge, Aged: 1, TempC: 20})
			if err != nil {
				t.Fatal(err)
			}
			rise := s.ForceN - resolveWindow(in).TargetN
			if rise < last-1e-6*s.ForceN {
				t.Errorf("fixture %d: rate %g gives a rise of %g after %g", n, rate, rise, last)
			}
			last = rise
		}
	}
}

// The half model gives what the whole gives, and a mirrored fixture the mirrored
// result.
func TestSymmetryChangesNothing(t *testing.T) {
	for name, in := range map[string]Input{"four": fourCells(), "two rows": twoRows()} {
		in.GridMM = 12
		if !symmetric(in) {
			t.Fatal(name, "is symmetric")
		}
		half, err := solveState(in, DefaultStates(in)[3])
		if err != nil {
			t.Fatal(err)
		}
		skew := in
		skew.Rods = append([]Rod(nil), in.Rods...)
		skew.Rods[0].AreaMM2 *= 1 + 1e-9 // enough to forbid the half model
		if symmetric(skew) {
			t.Fatal("not symmetric any more")
		}
		whole, err := solveState(skew, DefaultStates(in)[3])
		if err != nil {
			t.Fatal(err)
		}
		within(t, name+" force", half.ForceN, whole.ForceN, 1e-6)
		within(t, name+" centre", half.Pressure.Centre, whole.Pressure.Centre, 1e-5)
		within(t, name+" greatest", half.Pressure.Greatest, whole.Pressure.Greatest, 1e-5)
		within(t, name+" deflection", half.DeflectionMM, whole.DeflectionMM, 1e-5)
		for i := range half.Margins {
			within(t, name+" "+half.Margins[i].Part, half.Margins[i].Stress, whole.Margins[i].Stress, 1e-3)
		}
	}
}

// A fixture that is not symmetric is solved whole, and its mirror image presses
// in mirror image.
func TestMirrorImage(t *testing.T) {
	in := twoRows()
	in.GridMM = 12
	in.Rows[1].Stiffness, in.Rows[1].Squeeze = 0.8, nil
	in.Rods[0].XMM += 3
	mirror := in
	w := in.Plate.WidthMM
	mirror.Rows = []Row{in.Rows[1], in.Rows[0]}
	mirror.Rods = append([]Rod(nil), in.Rods...)
	for i := range mirror.Rows {
		mirror.Rows[i].Face = mirror.Rows[i].Face.mirror(w)
	}
	for i := range mirror.Rods {
		mirror.Rods[i].XMM = w - mirror.Rods[i].XMM
	}
	a, err := solveState(in, DefaultStates(in)[2])
	if err != nil {
		t.Fatal(err)
	}
	b, err := solveState(mirror, DefaultStates(in)[2])
	if err != nil {
		t.Fatal(err)
	}
	within(t, "force", a.ForceN, b.ForceN, 1e-7)
	within(t, "row", a.Rows[0].ForceN, b.Rows[1].ForceN, 1e-6)
	within(t, "centre", a.Rows[1].Pressure.Centre, b.Rows[0].Pressure.Centre, 1e-5)
	if math.Abs(a.Rows[0].ForceN-a.Rows[1].ForceN) < 1 {
		t.Error("the stiffer row should carry another force")
	}
}

// With rigid plates the growth of the stack meets stack and rods in series:
// dF = g / (1/(k_stack) + 1/(sum k_rod)). Each plate moves by half of what the
// rods give.
func TestRigidPlatesShareGrowth(t *testing.T) {
	in := referenceTable[5].input()
	in.Plate.ThicknessMM, in.Plate.ExMPa, in.Plate.Thin = 200, 1e6, false
	in.Rows[0].Cells = 5
	in.Rows[0].Growth = Growth{Shape: ShapeFlat, Points: []GrowthPoint{{0, 0}, {1, 0.05}}}
	in.Window.Limit = 1e6
	s, err := solveState(in, StateSpec{Name: "full", Charge: 1})
	if err != nil {
		t.Fatal(err)
	}
	stack := 0.08 / 5 * 174 * 201
	rods := 4 * 205000 * 36.6 / 330.0
	rise := 5 * 0.05 / (1/stack + 1/rods)
	within(t, "force rise", s.ForceN-2940, rise, 1e-4)
	within(t, "distance between the plates", s.StackMM, rise/rods, 3e-3)
}

// Thermal growth in the same rigid fixture: stack and plates against the rods.
func TestRigidPlatesHot(t *testing.T) {
	in := referenceTable[5].input()
	in.Plate.ThicknessMM, in.Plate.ExMPa, in.Plate.Thin = 200, 1e6, false
	in.Rows[0].CTE = 30e-6
	for i := range in.Rods {
		in.Rods[i].OutgrownMM = 2*200*1e-7 - 330*12e-6
	}
	s, err := solveState(in, StateSpec{Name: "hot", TempC: 25})
	if err != nil {
		t.Fatal(err)
	}
	excess := 25 * (72*30e-6 + 2*200*1e-7 - 330*12e-6)
	stack, rods := 0.08*174*201, 4*205000*36.6/330.0
	within(t, "force change", s.ForceN-2940, excess/(1/stack+1/rods), 1e-3)
}

// The same input gives the same result to the last bit.
func TestDeterministic(t *testing.T) {
	in := sprung()
	in.GridMM = 16
	a, err := Solve(in)
	if err != nil {
		t.Fatal(err)
	}
	b, _ := Solve(in)
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
}
