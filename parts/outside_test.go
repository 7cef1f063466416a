package parts

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"clampwright/parts/geom"
	"clampwright/testdata/outside"
)

type reply struct {
	Bodies []struct {
		Status string
		Volume float64
	}
	Pairs []struct{ Shared, Gap float64 }
}

// askManifold hands the bodies' meshes to the reference.
func askManifold(t *testing.T, bodies []geom.Body, pairs [][2]int, search float64) reply {
	dir := outside.Modules(t, "manifold-3d")
	type mesh struct {
		Vertices  [][3]float64    `json:"vertices"`
		Triangles []geom.Triangle `json:"triangles"`
	}
	in := map[string]any{"pairs": pairs, "search": search}
	var ms []mesh
	for _, b := range bodies {
		m, err := b.Solid.Mesh(0.002)
		if err != nil {
			t.Fatal(err)
		}
		w := mesh{Triangles: m.Triangles}
		for _, v := range m.Transform(b.Frame).Vertices {
			w.Vertices = append(w.Vertices, [3]float64{v.X, v.Y, v.Z})
		}
		ms = append(ms, w)
	}
	in["bodies"] = ms
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "in.json")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("node", filepath.Join("testdata", "gaps.mjs"), dir, file).Output()
	if err != nil {
		t.Fatalf("node: %v", err)
	}
	var r reply
	if err := json.Unmarshal(out, &r); err != nil {
		t.Fatalf("%v in %s", err, out)
	}
	return r
}

// corner is a clamp's corner: plate, angle, rod, washer, nut, a second angle
// standing the other way, a cell, a tool beside.
func corner(t *testing.T) []geom.Body {
	plate := plateSpec()
	plate.Slots = nil
	p := made(t)(EndPlate(plate))
	a := made(t)(Stiffener(stiffenerSpec(true)))
	chamfered := stiffenerSpec(false)
	chamfered.ChamferMM = 8
	c := made(t)(Stiffener(chamfered))
	rod := made(t)(Rod(RodSpec{Label{ID: "rod"}, steel, 7.9, 0, 1.25, 80}))
	w := made(t)(Washer(RingSpec{Label{ID: "washer"}, steel, 17, 8.4, 1.6, 0}))
	n := made(t)(Nut(NutSpec{Label: Label{ID: "nut"}, Material: steel, AcrossFlatsMM: 13, BoreMM: 8.2, HeightMM: 6.8}))
	cell := made(t)(CellCase(CellSpec{Label: Label{ID: "cell"}, WidthMM: 174, HeightMM: 201, ThicknessMM: 72}))
	at := func(x, y, z float64) geom.Frame { return geom.At(geom.Vec3{X: x, Y: y, Z: z}) }
	tool := geom.Frame{O: geom.Vec3{X: 60, Y: 40, Z: 30}, X: geom.Vec3{X: 0.8, Z: 0.6}, Y: geom.Vec3{Y: 1}, Z: geom.Vec3{X: -0.6, Z: 0.8}}
	return []geom.Body{
		geom.NewBody(p.Solid, geom.World()), geom.NewBody(a.Solid, at(0, 50, 12.75)),
		geom.NewBody(c.Solid, at(0.5, 4, 12.8)), geom.NewBody(rod.Solid, at(-99.9, 50.1, -40)),
		geom.NewBody(w.Solid, at(-100, 52, 16.1)), geom.NewBody(n.Solid, at(-100, 50, 18)),
		geom.NewBody(cell.Solid, at(0, -100, -72.3)), geom.NewBody(rod.Solid, tool),
		geom.NewBody(n.Solid, at(-100, 57, 17)), // into the standing leg
	}
}

func TestGapsAgainstManifold(t *testing.T) {
	bodies := corner(t)
	var ours []geom.PairGap
	err := geom.AllPairs(bodies, 60, func(g geom.PairGap) { ours = append(ours, g) })
	if err != nil {
		t.Fatal(err)
	}
	ours = slices.DeleteFunc(ours, func(p geom.PairGap) bool { return p.Bound })
	var pairs [][2]int
	for _, p := range ours {
		pairs = append(pairs, [2]int{p.I, p.J})
	}
	r := askManifold(t, bodies, pairs, 61)
	for i, b := range r.Bodies {
		if b.Status != "NoError" {
			t.Errorf("body %d: %s", i, b.Status)
		}
		v := bodies[i].Solid.Volume()
		near(t, "volume", b.Volume, v, 0.001*v)
	}
	inside := 0
	for k, p := range ours {
		q := r.Pairs[k]
		if p.Relation == geom.Interfering {
			inside++
			if !(q.Shared > 1e-4) {
				t.Errorf("%d-%d: ours interfering by %g, the reference shares %g mm³", p.I, p.J, -p.MM, q.Shared)
			}
			checkMove(t, bodies, p)
			continue
		}
		if q.Shared > 1e-2 {
			t.Errorf("%d-%d: ours %g apart, the reference shares %g mm³", p.I, p.J, p.MM, q.Shared)
		}
		if math.Abs(p.MM-q.Gap) > 0.01 {
			t.Errorf("%d-%d: gap %g, reference %g", p.I, p.J, p.MM, q.Gap)
		}
	}
	t.Logf("%d pairs, %d interfering", len(ours), inside)
	if inside < 1 {
		t.Error("nothing interferes")
	}
}

// checkMove verifies with the reference that the move offered parts the bodies,
// and that nine tenths of it do not.
func checkMove(t *testing.T, bodies []geom.Body, p geom.PairGap) {
	for _, k := range []float64{1, 0.9} {
		move := p.Push.Mul(-p.MM * k)
		if k == 1 {
			move = p.Push.Mul(-p.MM + 0.005)
		}
		r := askManifold(t, []geom.Body{bodies[p.I], geom.NewBody(bodies[p.J].Solid, bodies[p.J].Frame.Moved(move))}, [][2]int{{0, 1}}, 1)
		if clear := r.Pairs[0].Shared < 1e-4; clear != (k == 1) {
			t.Errorf("%d-%d: after %g of the move they share %g mm³", p.I, p.J, k, r.Pairs[0].Shared)
		}
	}
}
