package shop

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/export/drawing"
	"clampwright/export/views"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/testdata/ready"
)

// A tolerance on a drawing is never looser than what the checks use, and not
// rounded away.
func TestToleranceIsNotLooserThanUsed(t *testing.T) {
	figure := regexp.MustCompile("(sizes|length|thickness|position of holes) \u00b1([0-9.]+) (in|mm)")
	for _, name := range ready.Names(t) {
		j := ready.Job(t, name)
		used := map[string]float64{
			"sizes": j.Fixture.Tolerances.PlateSize.MM(), "length": j.Fixture.Tolerances.CutLength.MM(), "position of holes": j.Fixture.Tolerances.HolePosition.MM(),
		}
		for _, l := range j.Assembly.PartsList() {
			if !drawn(l.Part) {
				continue
			}
			if l.Part.Flat != nil {
				used["thickness"] = j.Fixture.Tolerances.Sheet(unit.Length(l.Part.Flat.ThicknessMM)).MM()
			}
			found := figure.FindAllStringSubmatch(tolerance(j.Fixture, l.Part), -1)
			if want := 1 + min(1, len(l.Part.Holes)) + map[bool]int{true: 1}[l.Part.Make == parts.MakeSheet]; len(found) != want {
				t.Errorf("%s: %s: %q gives %d tolerances, want %d", name, l.Part.ID, tolerance(j.Fixture, l.Part), len(found), want)
			}
			for _, f := range found {
				v, err := strconv.ParseFloat(f[2], 64)
				if err != nil {
					t.Fatal(err)
				}
				if f[3] == "in" {
					v *= 25.4
				}
				if v > used[f[1]]+1e-9 || v < 0.9*used[f[1]] {
					t.Errorf("%s: %s: %s \u00b1%.4f mm on the drawing, %.4f mm used", name, l.Part.ID, f[1], v, used[f[1]])
				}
			}
		}
	}
}

func TestRoundedDown(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{{0.5 / 25.4, 3, "0.019"}, {0.29, 2, "0.29"}, {0.299, 2, "0.29"}, {0.3, 2, "0.3"}, {0.004, 2, "0.004"}, {0, 2, "0"}, {2, 2, "2"}} {
		if got := roundedDown(c.v, c.decimals); got != c.want {
			t.Errorf("%v to %d decimals: %s, want %s", c.v, c.decimals, got, c.want)
		}
	}
}

// The section shows the springs' own bore, which is wider than the rod.
func TestSectionShowsSpringBore(t *testing.T) {
	for _, name := range []string{"eight-cell-plywood", "three-cell-ribs"} {
		j := ready.Job(t, name)
		d := draughtsman{j, views.New(j.Assembly)}
		want, sprung := j.Fixture.Spring.Disc.Inner.MM(), 0
		items, _, _ := d.items()
		for _, r := range d.rodEnds(items) {
			for _, l := range r.Layers {
				if l.Discs > 0 {
					sprung++
					if math.Abs(l.HoleMM-want) > 1e-9 {
						t.Errorf("%s: bore %v mm, the disc's is %v mm", name, l.HoleMM, want)
					}
				}
			}
		}
		ends := map[bool]int{true: 2, false: 1}[j.Assembly.Placement.Ends[assembly.Back].Spring.Thickness() == 0]
		if got := len(d.rodEnds(items)); got != ends || sprung != 1 {
			t.Errorf("%s: %d sections, %d with springs; want %d and 1", name, got, sprung, ends)
		}
	}
}

// Angles of one part stand up at one level and down at another: the template says
// so for every level.
func TestTemplateSaysHowEveryAngleStands(t *testing.T) {
	for _, name := range ready.Names(t) {
		j := ready.Job(t, name)
		for _, l := range j.Assembly.PartsList() {
			words := fitted(j.Fixture, l.Part)
			if l.Part.Kind != parts.KindStiffener {
				if words != "" {
					t.Errorf("%s: %s: %q", name, l.Part.ID, words)
				}
				continue
			}
			for i, up := range j.Fixture.Stiffener.StandingUp {
				want := "standing leg " + map[bool]string{true: "up", false: "down"}[up] + " at " + j.Fixture.Style.Length(j.Fixture.Rods.Levels[i].MM())
				if !strings.Contains(words, want) {
					t.Errorf("%s: %q does not say %q", name, words, want)
				}
			}
		}
	}
}

// Every paper template marks the datum once, on the corner that coordinates are
// measured from.
func TestTemplatesMarkTheDatum(t *testing.T) {
	for _, name := range ready.Names(t) {
		j := ready.Job(t, name)
		for _, l := range j.Assembly.PartsList() {
			if !drawn(l.Part) || l.Part.Flat == nil {
				continue
			}
			pages, err := drawing.Template{Part: l.Part, Units: drawing.UnitsOf(j.Fixture.Style), Paper: drawing.PaperOf(j.Fixture.Style), Angle: drawing.AngleOf(j.Fixture, l.Part)}.Pages()
			if err != nil {
				t.Fatal(err)
			}
			marks := 0
			for _, p := range pages {
				for _, it := range p.Items {
					if x, ok := it.(drawing.Text); ok && x.S == "datum 0, 0" {
						marks++
					}
				}
			}
			if marks != 1 {
				t.Errorf("%s: %s: the datum is marked %d times", name, l.Part.ID, marks)
			}
		}
	}
}

// The assembly drawing gives the places of the rods, the length of the stack and
// the plate's offset, each once, and a balloon to every item of its list; what is
// not in the finished pack is listed apart.
func TestAssemblyDrawingIsComplete(t *testing.T) {
	for _, name := range ready.Names(t) {
		j := ready.Job(t, name)
		d := draughtsman{j, views.New(j.Assembly)}
		s := d.assemblySheet()
		plate := j.Assembly.PlateAt(assembly.Front)
		low := plate.Part.Solid.Transform(plate.Frame).Bounds().Min
		want := []float64{j.Assembly.Placement.Stack}
		for _, x := range j.Assembly.Placement.Columns {
			want = append(want, x-low.X)
		}
		want = append(want, j.Assembly.Placement.Levels...)
		if math.Abs(low.Y) > 0.01 {
			want = append(want, low.Y)
		}
		sheet, err := s.Draw()
		if err != nil {
			t.Fatal(err)
		}
		page := geom.Box2{Max: geom.Vec2{X: sheet.W, Y: sheet.H}}
		var inks []geom.Box2 // of all texts: none lies on another or leaves the sheet
		for _, it := range sheet.Items {
			x, ok := it.(drawing.Text)
			if c := x.Corners(); ok && c[0] != c[2] {
				ink := geom.EmptyBox2()
				for _, p := range c {
					ink = ink.Add(p)
				}
				if page.Union(ink) != page || slices.ContainsFunc(inks, func(o geom.Box2) bool { return o.Dist(ink) <= 0 }) {
					t.Errorf("%s: %q lies on another text or over the edge", name, x.S)
				}
				inks = append(inks, ink)
			}
		}
		texts, balloons := map[string]int{}, map[string]bool{}
		for _, it := range sheet.Items {
			x, ok := it.(drawing.Text)
			switch {
			case ok && x.Face == drawing.Bold && x.Height == 3.5 && x.Anchor == drawing.MidMid:
				balloons[x.S] = true
			case ok && x.Height == 2.5:
				texts[x.S]++
			}
		}
		for _, v := range want {
			if texts[drawing.UnitsOf(j.Fixture.Style).Dim(v)] == 0 {
				t.Errorf("%s: %s is not on the assembly drawing", name, drawing.UnitsOf(j.Fixture.Style).Dim(v))
			}
		}
		loose, joined := len(j.Assembly.FootFixings()), map[string]bool{}
		for _, l := range j.Assembly.PartsList() {
			loose += min(1, l.Loose)
			joined[l.Part.Name] = l.Part.Kind == parts.KindPlySheet // seen as the plate
		}
		if len(s.Loose) != loose {
			t.Errorf("%s: %d loose parts listed of %d", name, len(s.Loose), loose)
		}
		for _, r := range s.Parts {
			if !balloons[r.Item] && !joined[r.Name] {
				t.Errorf("%s: item %s, %s, has no balloon", name, r.Item, r.Name)
			}
		}
	}
}

// Holes of the plate that nothing covers are seen in the front view.
func TestFrontViewShowsMountingHoles(t *testing.T) {
	j := ready.Job(t, "sixteen-cell-two-rows")
	d := draughtsman{j, views.New(j.Assembly)}
	v := d.frontDrawn(map[*parts.Part]string{})
	plate := j.Assembly.PlateAt(assembly.Front)
	mounting := 0
	for _, h := range plate.Part.Holes {
		if h.For != "mounting" {
			continue
		}
		mounting++
		at := plate.Frame.Point(geom.Vec3{X: h.C.X, Y: h.C.Y})
		if !slices.ContainsFunc(v.Shapes, func(s drawing.Shape) bool {
			b := s.Outline.Bounds()
			return b.Center().Dist(geom.Vec2{X: at.X, Y: at.Y}) < 0.1 && math.Abs(b.Size().X-h.DiaMM) < 0.2
		}) {
			t.Errorf("mounting hole at %v is not drawn", at)
		}
	}
	if mounting != 2 {
		t.Errorf("%d mounting holes", mounting)
	}
}

// A coil is drawn as turns that fill its solid length, discs as discs.
func TestTurnsOfSprings(t *testing.T) {
	coil := func(wire, active, solid float64) *params.Spring {
		return &params.Spring{Coil: &catalog.CoilSpring{Wire: unit.Length(wire), Active: active, Solid: unit.Length(solid)}}
	}
	for _, c := range []struct {
		what  string
		s     *params.Spring
		turns int
		wire  float64
	}{
		{"round wire, six active turns and two dead ones", coil(3, 6, 24), 8, 3},
		{"rectangular wire 5 wide", coil(5, 0, 30), 10, 3},
		{"shorter than two turns", coil(5, 0, 3), 2, 3},
		{"discs", &params.Spring{Series: 6, Parallel: 2}, 12, 0},
	} {
		if n, wire := turns(c.s); n != c.turns || math.Abs(wire-c.wire) > 1e-9 {
			t.Errorf("%s: %d turns of %v mm, want %d of %v mm", c.what, n, wire, c.turns, c.wire)
		}
	}
}
