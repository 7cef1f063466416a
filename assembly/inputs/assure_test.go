package inputs

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/params"
)

// The reduced model against the full one: tightening and
// growth with cells, growth and plates as drawn at random, half of them near a bound
// of the force. The force agrees within 2.5 in a hundred (2.1 measured).
func TestReducedAgainstFull(t *testing.T) {
	points := 20
	if testing.Short() {
		points = 3
	}
	for _, name := range []string{"four-cell-offcut", "eight-cell-plywood"} {
		text, err := os.ReadFile("../../examples/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		f, diags := params.Load(name, text)
		if f == nil {
			t.Fatal(diags)
		}
		in := Clamp(f)
		r, err := clamp.Reduce(in)
		if err != nil {
			t.Fatal(err)
		}
		worst, random := 0.0, rand.New(rand.NewPCG(3, 4))
		for range points {
			worst = math.Max(worst, reducedError(t, in, r, random))
		}
		t.Logf("%s: at most %.2f %% off", name, 100*worst)
		if worst > 0.025 {
			t.Errorf("%s: the reduced model is off by %.1f %% of the force", name, 100*worst)
		}
	}
}

// reducedError draws cells and growth, and compares the force after growth with nuts
// left alone.
func reducedError(t *testing.T, in clamp.Input, r clamp.Reduced, random *rand.Rand) float64 {
	t.Helper()
	modulus, rise := math.Exp(math.Log(13)+random.Float64()*math.Log(59.0/13)), 0.2+0.4*random.Float64()
	even, grown := 0.5+0.5*random.Float64(), random.Float64()*0.012
	row := &in.Rows[0]
	row.Squeeze = nil
	strain := func(p float64) float64 { return math.Pow(0.084, rise) * math.Pow(p, 1-rise) / (modulus * (1 - rise)) }
	for p := 0.001; p < 3; p *= 1.25 {
		row.Squeeze = append(row.Squeeze, clamp.SqueezePoint{SqueezeMM: row.CellThicknessMM * strain(p), PressureMPa: p})
	}
	row.Growth = clamp.Growth{Points: []clamp.GrowthPoint{{Charge: 0}, {Charge: 1, Value: grown * row.CellThicknessMM}}, Shape: clamp.ShapeDomed, Edge: (even - 4.0/9) / (1 - 4.0/9)}
	in.AssemblyCharge = 0
	in.States = []clamp.StateSpec{{Name: "tight", Tighten: true, TempC: in.Climate.AssemblyC}, {Name: "grown", Charge: 1, TempC: in.Climate.AssemblyC}}
	full, err := clamp.Solve(in)
	if err != nil {
		t.Fatal(err)
	}
	area := (row.Face.X1 - row.Face.X0) * (row.Face.Y1 - row.Face.Y0)
	stack := float64(row.Cells) * row.CellThicknessMM
	stretch := func(n float64) float64 { return at(r.StretchN, r.StretchMM, n) }
	bendAt := func(f float64) clamp.Bending { return reducedBending(r.Plates, modulus*math.Pow(f/area/0.084, rise)) }
	bend := bendAt(full.States[0].ForceN)
	taken := func(f float64) float64 {
		bend := bendAt(f)
		return stretch(f/float64(len(in.Rods))) + stack*strain(f/area) + at(r.LayersMPa, r.LayersMM, f/area) + f*(bend.Angles+bend.Plate)
	}
	seen := 1 - 2*(1-even)*(1-bend.Dome)
	want := taken(full.States[0].ForceN) + stack*grown*seen
	lo, hi := 0.0, 1e6
	for range 80 {
		if mid := (lo + hi) / 2; taken(mid) < want {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Abs(lo/full.States[1].ForceN - 1)
}

// reducedBending interpolates in the logarithm of the modulus.
func reducedBending(list []clamp.Bending, mpa float64) clamp.Bending {
	i := 1
	for i < len(list)-1 && list[i].ModulusMPa < mpa {
		i++
	}
	a, b := list[i-1], list[i]
	t := math.Log(mpa/a.ModulusMPa) / math.Log(b.ModulusMPa/a.ModulusMPa)
	return clamp.Bending{Angles: a.Angles + t*(b.Angles-a.Angles), Plate: a.Plate + t*(b.Plate-a.Plate), Dome: a.Dome + t*(b.Dome-a.Dome)}
}

// at interpolates a rising curve, straight on beyond its end.
func at(x, y []float64, v float64) float64 {
	if len(x) < 2 {
		return 0
	}
	i := 1
	for i < len(x)-1 && x[i] < v {
		i++
	}
	return y[i-1] + (v-x[i-1])*(y[i]-y[i-1])/(x[i]-x[i-1])
}
