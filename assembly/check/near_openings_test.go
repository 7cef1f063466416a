package check

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/parts"
	"clampwright/testdata/outside"
)

func tall(bottom float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Plate.Bottom, f.Plate.Height = mm(bottom), mm(198-bottom) }
}

// A screw in a hole of 6.6 mm has a washer of 19.8 mm; it must lie 3 mm beside the
// widest cells, or below them.
func TestScrewToCellNear(t *testing.T) {
	four, two := 9.75*inch/2-9.9-87.25-3, 241-9.9-199.25-3.0
	checkNear(t, "screw-to-cell", []near{
		{"", sample.FourCells, feet(four-over, 6.6), finding.Pass, 3 + over, 3},
		{"", sample.FourCells, feet(four-under, 6.6), finding.Fail, 3 + under, 3},
		{"", sample.TwoRows, feet(two-over, 6.6), finding.Pass, 3 + over, 3},
		{"", sample.TwoRows, feet(two-under, 6.6), finding.Fail, 3 + under, 3},
		{"", sample.FourCells, all(feet(50, 6.6), tall(-62.9-over)), finding.Pass, 3 + over, 3},
		{"", sample.FourCells, all(feet(50, 6.6), tall(-62.9-under)), finding.Fail, 3 + under, 3},
		{"", sample.FourCells, none, "", 0, 0},
	})
}

// Outside a nut with its socket must clear the angle; a slot for ties must be free on
// both sides.
func TestOpeningFreeNear(t *testing.T) {
	under18 := 52 + 18 - 1.25*inch - 3 - 9.9 // from the plate's edge to the angle's, less the washer
	narrow := func(half float64) func(*params.Fixture) {
		return all(columns(-85, 85), func(f *params.Fixture) { f.Plate.Width, f.Plate.TieSlots = mm(2*half), true })
	}
	checkNear(t, "opening-free", []near{
		{"mounting hole", sample.FourCells, feet(under18-0.5-over, 6.6), finding.Pass, 0.5 + over, 0.5},
		{"mounting hole", sample.FourCells, feet(under18-0.49, 6.6), finding.Warn, 0.49, 0.5},
		{"mounting hole", sample.FourCells, feet(under18-0.05, 6.6), finding.Warn, 0.05, 0.5},
		{"mounting hole", sample.FourCells, feet(under18+0.05, 6.6), finding.Fail, -0.05, 0},
		{"tie slot", sample.FourCells, narrow(87.25 + 8.5 + 0.05), finding.Pass, 0.05, 0},
		{"tie slot", sample.FourCells, narrow(87.25 + 8.5 - 0.05), finding.Fail, -0.05, 0},
		{"tie slot", sample.FourCells, func(f *params.Fixture) { f.Plate.TieSlots = true }, finding.Pass, (198 - 12 - 14 - 2.5) - (149 - 18 + 1.25*inch), 0},
		{"tie slot", sample.FourCells, none, "", 0, 0},
		{"mounting hole", sample.FourCells, none, "", 0, 0},
	})
}

// Over all insets, heights and holes the distance is that of a disc to a rectangle.
func TestScrewToCellEverywhere(t *testing.T) {
	for _, bottom := range []float64{-70, -40, -20, 3} {
		for inset := 9.0; inset < 70; inset += 3 {
			for _, dia := range []float64{4.5, 6.6, 9} {
				f := sample.FourCells()
				all(feet(inset, dia), tall(bottom))(f)
				a, err := assembly.Build(f)
				if err != nil {
					continue // the holes meet
				}
				dx, dy := max(0, 9.75*inch/2-inset-87.25), max(0, -(bottom+inset))
				gap := math.Hypot(dx, dy) - 1.5*dia
				if found := judged(t, "screw-to-cell", a)[0]; (found.Verdict == finding.Fail) != (gap < 3-Slack) {
					t.Errorf("inset %g, bottom %g, hole %g: %s at %g, by hand %g", inset, bottom, dia, found.Verdict, found.Have, gap)
				}
			}
		}
	}
}

// Ties stay clear of rod holes whatever the levels; slots are one on each side.
func TestTieSlotsBesideRods(t *testing.T) {
	for y := 120.0; y < 185; y += 2.5 {
		f := sample.FourCells()
		f.Plate.TieSlots, f.Stiffener = true, nil
		levels(52, mm(y))(f)
		a, err := assembly.Build(f)
		if err != nil {
			t.Fatalf("level %g: %v", y, err)
		}
		if n := len(parts.Slots(a.PlateAt(assembly.Front).Part.Flat)); n != 2 {
			t.Errorf("level %g: %d slots", y, n)
		}
		if found := judged(t, "opening-free", a); len(found) != 1 || found[0].Verdict != finding.Pass {
			t.Errorf("level %g: %+v", y, found)
		}
	}
}

// sweptMesh is a prism along z over a round-ended slot, upright and as long between the
// middles of its ends as said, 0 for a circle: of 128 sides, as wide as round on average.
func sweptMesh(x, y, r, long, z0, z1 float64) outsideMesh {
	const n = 128
	var m outsideMesh
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / n)
		y := y + math.Copysign(long/2, s)
		m.Vertices = append(m.Vertices, x+r*c, y+r*s, z0, x+r*c, y+r*s, z1)
	}
	for i := int32(0); i < n; i++ {
		a, b := 2*i, 2*((i+1)%n)
		m.Triangles = append(m.Triangles, a, b, b+1, a, b+1, a+1)
		if i > 0 && i < n-1 {
			m.Triangles = append(m.Triangles, 0, b, a, 1, a+1, b+1)
		}
	}
	return m
}

// Verdicts on the feet and slots of 300 random fixtures against manifold-3d 3.5.4: the
// swept screw and tie, placed by this test's own sums, set against the meshes of all
// solids near them.
func TestOpeningsAgainstManifold(t *testing.T) {
	dir := outside.Modules(t, "manifold-3d")
	r := rand.New(rand.NewPCG(15, 1))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	failed, tied, n := 0, 0, 300
	ref := &reference{job: outsideJob{Reach: 6}}
	for len(ref.got) < n {
		f := []func() *params.Fixture{sample.FourCells, sample.TwoRows, sleeved}[r.IntN(3)]()
		dia := between(4, 9)
		feet(between(1.3*dia, 60), dia)(f)
		tall(between(-60, 4))(f)
		if f.Plate.TieSlots = r.IntN(2) == 0; f.Plate.TieSlots {
			f.Plate.Height -= mm(between(0, 30))
			f.Plate.Width += mm(between(-12, 12))
		}
		a, err := assembly.Build(f)
		if err != nil {
			continue // the holes meet
		}
		got := map[finding.ID]bool{}
		for _, id := range []string{"screw-to-cell", "opening-free"} {
			for _, g := range judged(t, id, a) {
				got[g.ID] = got[g.ID] || g.Verdict == finding.Fail
				if g.Of == "tie slot" && g.Verdict == finding.Fail {
					tied++
				}
			}
		}
		ref.add(t, f, a, got)
		if got["screw-to-cell"] || got["opening-free"] {
			failed++
		}
	}
	if failed < n/5 || failed > n*4/5 || tied < n/30 {
		t.Errorf("%d of %d fail, %d by their slots: no fair sample", failed, n, tied)
	}
	ref.compare(t, dir)
}

// reference collects the front plates' screws with the solids near them.
type reference struct {
	job   outsideJob
	pairs []screwPair
	got   []map[finding.ID]bool // of each fixture
	what  []string
}

type screwPair struct {
	fixture int
	id      finding.ID
	need    float64
}

func (r *reference) add(t *testing.T, f *params.Fixture, nominal *assembly.Assembly, got map[finding.ID]bool) {
	t.Helper()
	a, err := nominal.Variant(assembly.Largest)
	if err != nil {
		t.Fatal(err)
	}
	r.got, r.what = append(r.got, got), append(r.what, fmt.Sprintf("inset %.2f, bottom %.2f, hole %.2f", f.Plate.Feet.Inset, f.Plate.Bottom, f.Plate.Feet.HoleDia))
	hole := f.Plate.Feet.HoleDia.MM()
	inner, thick := a.Placement.Ends[assembly.Front].Plate.Inner, f.Plate.Thickness.MM()
	side, y, deep := (f.Plate.Width/2 - f.Plate.Feet.Inset).MM(), (f.Plate.Bottom + f.Plate.Feet.Inset).MM(), hole*1.25
	for _, x := range []float64{-side, side} {
		for _, z := range [][2]float64{{inner - deep, inner}, {inner + thick, inner + thick + deep + 80}} {
			r.near(t, a, [3]float64{x, y, 1.5 * hole}, 0, z, true)
		}
	}
	if !f.Plate.TieSlots {
		return
	}
	for _, slot := range a.PlateAt(assembly.Front).Part.Flat.Profile.Slots {
		b := slot.Bounds()
		for _, z := range [][2]float64{{inner - 10, inner}, {inner + thick, inner + thick + 10}} {
			at := b.Center()
			r.near(t, a, [3]float64{at.X, (f.Plate.Bottom + f.Plate.Height/2).MM() + at.Y, b.Size().X / 2}, b.Size().Y-b.Size().X, z, false)
		}
	}
}

// near sets a swept screw or tie, at x and y with a radius, beside what may reach it.
func (r *reference) near(t *testing.T, a *assembly.Assembly, at [3]float64, long float64, z [2]float64, screw bool) {
	t.Helper()
	x, y, swept := at[0], at[1], len(r.job.Meshes)
	r.job.Meshes = append(r.job.Meshes, sweptMesh(x, y, at[2], long, z[0], z[1]))
	for i := range a.Instances {
		w := &a.Instances[i]
		box, reach := w.Body().Bounds(), at[2]+4
		if w.Role == assembly.RolePlate || box.Max.Z < z[0] || box.Min.Z > z[1] || box.Max.X < x-reach || box.Min.X > x+reach || box.Max.Y < y-reach-long/2 || box.Min.Y > y+reach+long/2 {
			continue
		}
		p := screwPair{len(r.got) - 1, "opening-free", 0}
		if screw && w.Role == assembly.RoleCell {
			p.id, p.need = "screw-to-cell", 3
		}
		r.job.Meshes = append(r.job.Meshes, meshOf(t, w))
		r.job.Pairs, r.pairs = append(r.job.Pairs, [2]int{swept, len(r.job.Meshes) - 1}), append(r.pairs, p)
	}
}

// compare asks the outside library; what lies within a hair of its limit is left out.
func (r *reference) compare(t *testing.T, dir string) {
	t.Helper()
	fails, unclear := map[screwPair]bool{}, map[screwPair]bool{}
	for k, g := range runOutside(t, dir, r.job) {
		p := r.pairs[k]
		fails[p] = fails[p] || g.Shared > 1e-3 || g.Gap < p.need-Slack
		unclear[p] = unclear[p] || math.Abs(g.Gap-p.need) < 0.02 && (p.need > 0 || g.Shared < 1)
	}
	for i, got := range r.got {
		for id, need := range map[finding.ID]float64{"screw-to-cell": 3, "opening-free": 0} {
			if p := (screwPair{i, id, need}); got[id] != fails[p] && !unclear[p] {
				t.Errorf("%s: %s fails: %v, reference %v", r.what[i], id, got[id], fails[p])
			}
		}
	}
}
