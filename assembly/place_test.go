package assembly

import (
	"math"
	"strings"
	"testing"

	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

func built(t *testing.T, f *params.Fixture) *Assembly {
	t.Helper()
	a, err := Build(f)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func named(t *testing.T, a *Assembly, name string) *Instance {
	t.Helper()
	w := a.first(func(w *Instance) bool { return w.ID == name })
	if w == nil {
		t.Fatalf("no instance %q", name)
	}
	return w
}

// boxOf is the box of an instance at its place.
func boxOf(w *Instance) geom.Box3 { return w.Part.Solid.Transform(w.Frame).Bounds() }

func wantBox(t *testing.T, w *Instance, x0, x1, y0, y1, z0, z1 float64) {
	t.Helper()
	b := boxOf(w)
	got := [6]float64{b.Min.X, b.Max.X, b.Min.Y, b.Max.Y, b.Min.Z, b.Max.Z}
	for i, want := range [6]float64{x0, x1, y0, y1, z0, z1} {
		if math.Abs(got[i]-want) > 1e-6 {
			t.Errorf("%s: box %v, want %v", w.ID, got, [6]float64{x0, x1, y0, y1, z0, z1})
			return
		}
	}
}

// Places of the four-cell fixture by hand, mm.
func TestFourCellsPlaces(t *testing.T) {
	a := built(t, sample.FourCells())
	cell := 8.5 * inch / 4
	wantBox(t, named(t, a, "cell-1"), -87, 87, 0, 201, -2*cell, -cell)
	wantBox(t, named(t, a, "cell-4"), -87, 87, 0, 201, cell, 2*cell)
	wantBox(t, named(t, a, "cell-4-terminal-left"), -61-9, -61+9, 201, 204, 1.5*cell-9, 1.5*cell+9)
	wantBox(t, named(t, a, "cell-1-vent"), -15, 15, 201, 201.2, -1.5*cell-7, -1.5*cell+7)
	wide := 9.75 * inch / 2
	wantBox(t, named(t, a, "end-plate-front"), -wide, wide, 3, 198, 4.25*inch, 4.75*inch)
	wantBox(t, named(t, a, "end-plate-back"), -wide, wide, 3, 198, -4.75*inch, -4.25*inch)
	rod := 0.3125 * inch / 2
	wantBox(t, named(t, a, "rod-left-upper"), -108-rod, -108+rod, 149-rod, 149+rod, -5.625*inch, 5.625*inch)
	washer := 0.688 * inch / 2
	wantBox(t, named(t, a, "washer-back-right-lower"), 108-washer, 108+washer, 52-washer, 52+washer, -(4.875+0.065)*inch, -4.875*inch)
}

// The lower angles stand up (their standing leg above the holes), the upper
// ones stand down, on both plates; the standing leg points away from the cells.
func TestStiffenerPlaces(t *testing.T) {
	f := sample.FourCells()
	a := built(t, f)
	wide, leg, gauge := 9.75*inch/2, 1.25*inch, 18.0
	outer := 4.75 * inch
	wantBox(t, named(t, a, "stiffener-front-lower"), -wide, wide, 52+gauge-leg, 52+gauge, outer, outer+leg)
	wantBox(t, named(t, a, "stiffener-back-lower"), -wide, wide, 52+gauge-leg, 52+gauge, -outer-leg, -outer)
	wantBox(t, named(t, a, "stiffener-front-upper"), -wide, wide, 149-gauge, 149-gauge+leg, outer, outer+leg)
	wantBox(t, named(t, a, "stiffener-back-upper"), -wide, wide, 149-gauge, 149-gauge+leg, -outer-leg, -outer)
	if n := len(a.Of(RoleStiffener)); n != 4 {
		t.Errorf("%d stiffeners, want 4", n)
	}
	for _, w := range a.Of(RoleStiffener) {
		if w.Part != a.Of(RoleStiffener)[0].Part {
			t.Errorf("%s is a part of its own although the columns are symmetric", w.ID)
		}
	}
}

// The middle of the standing leg is metal, the middle between the legs is not.
func TestStandingLegIsWhereItSays(t *testing.T) {
	a := built(t, sample.FourCells())
	for _, c := range []struct {
		name  string
		y     float64
		z     float64
		metal bool
	}{
		{"stiffener-front-lower", 52 + 18 - inch/16, 4.75*inch + 20, true},
		{"stiffener-front-lower", 52, 4.75*inch + 20, false},
		{"stiffener-front-upper", 149 - 18 + inch/16, 4.75*inch + 20, true},
		{"stiffener-back-upper", 149 - 18 + inch/16, -4.75*inch - 20, true},
		{"stiffener-back-upper", 149, -4.75*inch - 20, false},
	} {
		w := named(t, a, c.name)
		s, err := geom.Box(geom.Vec3{X: -0.1, Y: -0.1, Z: -0.1}, geom.Vec3{X: 0.1, Y: 0.1, Z: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		g, err := geom.DistanceWithin(w.Body(), geom.NewBody(s, geom.At(geom.Vec3{Y: c.y, Z: c.z})), 1)
		if err != nil {
			t.Fatal(err)
		}
		if (g.MM < 0) != c.metal {
			t.Errorf("%s at y %.2f z %.2f: distance %.3f, metal expected %v", c.name, c.y, c.z, g.MM, c.metal)
		}
	}
}

// Two rows with a middle column: mirrored about x = 0.
func TestTwoRowsPlaces(t *testing.T) {
	a := built(t, sample.TwoRows())
	counts := map[Role]int{RoleCell: 16, RoleTerminal: 32, RoleVent: 16, RoleSeparator: 14, RoleLiner: 4,
		RolePlate: 2, RoleStiffener: 0, RoleRod: 6, RoleWasher: 12, RoleNut: 12}
	for g, want := range counts {
		if got := len(a.Of(g)); got != want {
			t.Errorf("%d of %s, want %d", got, g, want)
		}
	}
	half := (8*72 + 7*0.5) / 2.0
	wantBox(t, named(t, a, "cell-row-1-1"), -199, -25, 0, 201, -half, -half+72)
	wantBox(t, named(t, a, "cell-row-2-8"), 25, 199, 0, 201, half-72, half)
	wantBox(t, named(t, a, "separator-row-2-1"), 25, 199, 0, 201, -half+72, -half+72.5)
	wantBox(t, named(t, a, "liner-back-row-1"), -112-89, -112+89, -2, 203, -half-1, -half)
	wantBox(t, named(t, a, "end-plate-front"), -241, 241, 1, 199, half+1, half+11)
	wantBox(t, named(t, a, "rod-middle-upper"), -5, 5, 155, 165, -325, 325)
}

// Columns that are not symmetric make parts of two hands, each with its holes
// where the rods are.
func TestHandedParts(t *testing.T) {
	f := sample.FourCells()
	f.Rods.Columns = []unit.Length{-108, 106}
	a := built(t, f)
	front, back := named(t, a, "end-plate-front"), named(t, a, "end-plate-back")
	if front.Part == back.Part || front.Part.ID == back.Part.ID {
		t.Error("plates of unsymmetric columns are one part")
	}
	for _, w := range append(a.Of(RolePlate), a.Of(RoleStiffener)...) {
		holesOnRods(t, a, w)
	}
	ids := map[string]*parts.Part{}
	for _, p := range a.Parts {
		if q, ok := ids[p.ID]; ok && q != p {
			t.Errorf("two parts are called %q", p.ID)
		}
		ids[p.ID] = p
	}
}

// holesOnRods checks that every round hole of a part is centred on a rod.
func holesOnRods(t *testing.T, a *Assembly, w *Instance) {
	t.Helper()
	for _, c := range w.Part.Flat.Profile.Circles {
		p := w.FlatPoint(c.C)
		found := false
		for _, r := range a.Of(RoleRod) {
			found = found || math.Hypot(p.X-r.Frame.O.X, p.Y-r.Frame.O.Y) < 1e-6
		}
		if !found {
			t.Errorf("%s: hole at %v is on no rod", w.ID, p)
		}
	}
}

func TestHolesOnRods(t *testing.T) {
	for _, f := range []*params.Fixture{sample.FourCells(), sample.TwoRows()} {
		a := built(t, f)
		for _, w := range append(a.Of(RolePlate), a.Of(RoleStiffener)...) {
			holesOnRods(t, a, w)
		}
	}
}

func TestFramesAndNames(t *testing.T) {
	for _, f := range []*params.Fixture{sample.FourCells(), sample.TwoRows()} {
		a := built(t, f)
		seen := map[string]bool{}
		all := a.Instances
		for _, x := range a.Tools {
			all = append(all, x.Instance)
		}
		for i := range all {
			if err := all[i].Frame.Check(); err != nil {
				t.Errorf("%s: %v", all[i].ID, err)
			}
			if seen[all[i].ID] || all[i].ID == "" || strings.Contains(all[i].ID, "--") {
				t.Errorf("name %q is not unique or not well formed", all[i].ID)
			}
			seen[all[i].ID] = true
		}
	}
}

// Twice the same fixture gives the same instances in the same order.
func TestBuildIsDeterministic(t *testing.T) {
	a, b := built(t, sample.TwoRows()), built(t, sample.TwoRows())
	for i := range a.Instances {
		if a.Instances[i].ID != b.Instances[i].ID || a.Instances[i].Frame != b.Instances[i].Frame {
			t.Fatalf("instance %d differs: %s, %s", i, a.Instances[i].ID, b.Instances[i].ID)
		}
	}
}

// Jaws straddle the rod: 4 mm past it towards the cells, closing on its surface.
func TestJawPlaces(t *testing.T) {
	a := built(t, sample.FourCells())
	rod := 0.3125 * inch / 2
	for _, tool := range a.Tools {
		if tool.On != "rod-right-lower" || tool.Approach != "from the side" {
			continue
		}
		y0, y1 := 52+rod, 52+rod+6
		if boxOf(&tool.Instance).Min.Y < 52 {
			y0, y1 = 52-rod-6, 52-rod
		}
		wantBox(t, &tool.Instance, 108-rod-4, 108-rod-4+40, y0, y1, -5, 5)
	}
}

// A socket begins at the nut's seat and ends at the drive; the middle column of
// two rows has no side to come from.
func TestToolPlaces(t *testing.T) {
	a := built(t, sample.FourCells())
	for _, tool := range a.Tools {
		if tool.ID == "tool-socket-on-nut-back-left-lower" {
			seat, outer := (4.875+0.065)*inch, (4.875+0.065+0.359)*inch
			wantBox(t, &tool.Instance, -118, -98, 42, 62, -outer-80, -seat)
		}
	}
	two := built(t, sample.TwoRows())
	for _, tool := range two.Tools {
		if tool.Kind == ToolPliers && tool.Column == 1 && tool.Approach == "from the side" {
			t.Errorf("%s comes through a row", tool.ID)
		}
	}
}
