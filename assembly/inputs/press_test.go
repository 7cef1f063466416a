package inputs

import (
	"math"
	"os"
	"strings"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/params"
)

func load(t *testing.T, text string) *params.Fixture {
	t.Helper()
	f, diags := params.Load("t.yaml", []byte(text))
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	return f
}

func example(t *testing.T, name string) *params.Fixture {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	return load(t, string(text))
}

// The mechanics see the plate, faces, rods and angles where the fixture has
// them, counted from the plate's lower left corner.
func TestPressPlaces(t *testing.T) {
	f := example(t, "four-cell-offcut")
	in := Clamp(f)
	if in.Plate.WidthMM != f.Plate.Width.MM() || in.Plate.HeightMM != f.Plate.Height.MM() {
		t.Errorf("plate %+v", in.Plate)
	}
	face := in.Rows[0].Face
	if got := (face.X0 + face.X1) / 2; math.Abs(got-in.Plate.WidthMM/2) > 1e-9 {
		t.Errorf("the face is centred on %g, the plate on %g", got, in.Plate.WidthMM/2)
	}
	if math.Abs(face.Y1-face.Y0-f.Cell.Height.MM()) > 1e-9 || face.Y0 > 0 {
		t.Errorf("face %+v on an offcut shorter than the cells", face)
	}
	if len(in.Rods) != 4 || len(in.Stiffeners) != 2 {
		t.Fatalf("%d rods, %d stiffeners", len(in.Rods), len(in.Stiffeners))
	}
	for i, r := range in.Rods {
		if math.Abs(r.YMM-in.Stiffeners[i/2].YMM) > 1e-9 {
			t.Errorf("rod %d at %g is not on its angle at %g", i, r.YMM, in.Stiffeners[i/2].YMM)
		}
	}
}

// The middle column of two rows carries twice what an outer one does.
func TestPressTwoRows(t *testing.T) {
	f := example(t, "sixteen-cell-two-rows")
	in := Clamp(f)
	if len(in.Rows) != 2 || len(in.Rods) != 6 || len(in.Stiffeners) != 0 {
		t.Fatalf("%d rows, %d rods, %d stiffeners", len(in.Rows), len(in.Rods), len(in.Stiffeners))
	}
	for i, r := range in.Rods {
		if want := []float64{1, 2, 1}[i%3]; r.Share != want {
			t.Errorf("rod %d has share %g, want %g", i, r.Share, want)
		}
	}
	a, b := in.Rows[0].Face, in.Rows[1].Face
	if gap := b.X0 - a.X1; math.Abs(gap-f.Pack.RowGap.MM()) > 1e-9 {
		t.Errorf("faces %g apart, the rows %g", gap, f.Pack.RowGap.MM())
	}
}

// The mechanics judge by the fixture's own window, whatever the data sheet says: set
// at its target, as tightened within the setting band, later within the service band.
func TestPressWindow(t *testing.T) {
	const base = "fixture: a\npack: {cells: 4}\ncell: {model: 72x174x201, "
	for text, kind := range map[string]string{
		"force: 300 kgf}": clamp.WindowForce, "force: 300 kgf, force_tolerance: 60 kgf, force_always: true}": clamp.WindowForce,
		"pressure: 12 psi, force_limit: 6 kN}": clamp.WindowForce, "compression: unknown}": clamp.WindowUnknown, "compression: none}": clamp.WindowNone,
	} {
		f := load(t, base+text)
		in := Clamp(f)
		r, err := clamp.Solve(in)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		area := f.Cell.Width.MM() * f.Cell.Height.MM() / 1000
		a := r.Target
		for _, c := range []struct {
			what      string
			have, use float64
		}{
			{"kPa at least when set", a.MinKPa * area, f.Cell.ForceLow.N()}, {"kPa when set", a.TargetKPa * area, f.Cell.ForceTarget.N()},
			{"kPa at most when set", a.MaxKPa * area, f.Cell.ForceHigh.N()}, {"kPa at least in service", a.FloorKPa * area, f.Cell.ForceFloor.N()},
			{"kPa at most in service", a.LimitKPa * area, f.Cell.ForceLimit.N()}, {"N in all", r.Setting.TargetN, f.Cell.ForceTarget.N()},
			{"N as tightened", r.States[0].ForceN, f.Cell.ForceTarget.N()},
		} {
			if math.Abs(c.have-c.use) > 1e-3*c.use {
				t.Errorf("%s: %s: %g N in the mechanics, %g N in the fixture", text, c.what, c.have, c.use)
			}
		}
		if a.Kind != kind {
			t.Errorf("%s: window %q", text, a.Kind)
		}
	}
}

// Plywood bends with its grain: turning the grain swaps the moduli.
func TestPressGrain(t *testing.T) {
	const base = "fixture: a\npack: {cells: 4}\ncell: {model: 72x174x201}\nplates: {material: birch plywood, thickness: 18, grain: GRAIN}\n"
	across := Clamp(load(t, strings.Replace(base, "GRAIN", "across", 1))).Plate
	up := Clamp(load(t, strings.Replace(base, "GRAIN", "up", 1))).Plate
	if !(across.ExMPa > across.EyMPa) || across.ExMPa != up.EyMPa || across.EyMPa != up.ExMPa {
		t.Errorf("across %g, %g; up %g, %g", across.ExMPa, across.EyMPa, up.ExMPa, up.EyMPa)
	}
}

// A frame's or ribs' pressing field covers what the insert covers, once.
func TestInsertField(t *testing.T) {
	for _, pattern := range []string{"sheet", "frame", "ribs"} {
		s := &params.Insert{Width: 100, Height: 200, Border: 10, RibPitch: 25, Pattern: pattern, Bottom: 5}
		var area float64
		boxes := InsertField(s)
		for i, b := range boxes {
			area += (b.Max.X - b.Min.X) * (b.Max.Y - b.Min.Y)
			if b.Min.X < -50-1e-9 || b.Max.X > 50+1e-9 || b.Min.Y < 5 || b.Max.Y > 205 {
				t.Errorf("%s: %v is outside", pattern, b)
			}
			for _, o := range boxes[:i] {
				if min(b.Max.X, o.Max.X) > max(b.Min.X, o.Min.X)+1e-9 && min(b.Max.Y, o.Max.Y) > max(b.Min.Y, o.Min.Y)+1e-9 {
					t.Errorf("%s: %v and %v overlap", pattern, b, o)
				}
			}
		}
		want := map[string]float64{"sheet": 100 * 200, "frame": 100*200 - 80*180, "ribs": 4 * 10 * 200}[pattern]
		if math.Abs(area-want) > 1e-9 {
			t.Errorf("%s: %g mm2, want %g", pattern, area, want)
		}
	}
}

// The stack is as stiff as its layers one behind the other by hand: four cells, three
// sheets between them, two liners. Each kind alone, and all.
func TestPressStiffness(t *testing.T) {
	const base = "fixture: a\npack: {cells: 4}\ncell: {model: 72x174x201, force: 300 kgf}\nplates: {material: 6061-T6, thickness: 12}\nsprings: {}\nclamp: {squeeze: [{squeeze: 1, pressure: 200 kPa}, {squeeze: 2, pressure: 400 kPa}]}\n"
	for _, c := range []struct {
		add  string
		soft func(f *params.Fixture) float64 // mm/MPa
	}{
		{"liners: none\n", func(*params.Fixture) float64 { return 0 }},
		{"liners: none\nseparators: {material: pp, thickness: 3}\n", func(f *params.Fixture) float64 { return 3 * 3 / f.Separator.Material.E.MPa() }},
		{"liners: {material: pp, thickness: 2}\n", func(f *params.Fixture) float64 { return 2 * 2 / f.Liner.Material.E.MPa() }},
		{"liners: none\nseparators: {material: pp, thickness: 3, curve: [{squeeze: 0.5, pressure: 100 kPa}, {squeeze: 1, pressure: 200 kPa}]}\n", func(*params.Fixture) float64 { return 3 * 5 }},
		{"liners: {material: hdpe, thickness: 2}\nseparators: {material: pp, thickness: 3}\n", func(f *params.Fixture) float64 {
			return 3*3/f.Separator.Material.E.MPa() + 2*2/f.Liner.Material.E.MPa()
		}},
	} {
		f := load(t, base+c.add)
		r, err := clamp.Solve(Clamp(f))
		if err != nil {
			t.Fatal(err)
		}
		if got, want := r.Stacks[0].StiffnessMPaPerMM, 1/(4*5+c.soft(f)); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s: %g MPa/mm, %g by hand", c.add, got, want)
		}
	}
}

// Beside slivers of the grid rounding leaves a millionth of the force: that is balance,
// not a plate that is too stiff.
func TestSliversOfTheGridSettle(t *testing.T) {
	f := load(t, `fixture: slivers
cell: {thickness: 11.4 mm, width: 74.2 mm, height: 154.8 mm, mass: 288 g, terminals: {diameter: 10.3 mm}, compression: none, swell_zone: 0.55, vent: {width: 2.8 mm}}
pack: {cells: 10}
rods: {levels: [25 mm, 110 mm], thread: M6}
plates: {material: pc, thickness: 16 mm, flatness: 0.27 mm}
stiffeners: {standing_leg: inward}
nuts: {kind: jam}
separators: {material: pp, thickness: 0.7 mm, pattern: frame, width: 74.01 mm}
liners: {material: fr4, thickness: 3.29 mm, border: 6.1 mm}
clamp: {shape: flat}
`)
	r, err := clamp.Solve(Clamp(f))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.States {
		rods := 0.0
		for _, n := range s.RodForceN {
			rods += n
		}
		if math.Abs(rods-s.ForceN) > 1e-4*s.ForceN+1e-6 {
			t.Errorf("%s: %g N in the rods, %g N on the cells", s.Name, rods, s.ForceN)
		}
	}
}
