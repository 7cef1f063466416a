package page

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"clampwright/parts/geom"
)

// boxShot is a cube that is there with a smaller one that goes on it, at +z.
func boxShot() (*shots, *Shot) {
	cube := func(s float64) geom.Mesh { return prism(rectangle(-s/2, -s/2, s/2, s/2), s) }
	c := newShots([]Body{{Name: "big", Class: Cell, Mesh: cube(100)}, {Name: "small", Class: Plate, Mesh: cube(40)}})
	return c, &Shot{Alt: "a step", Actors: []ShotActor{
		{Body: "big", Place: at(0, 0, -50)},
		{Body: "small", Place: at(0, 0, 50), Role: ShotAdds, From: geom.Vec3{Z: 30}, Label: "P1 ×2"},
	}}
}

// svg draws one shot.
func (c *shots) svg(s *Shot) string { return c.step(Step{Shot: s})() }

// What is added is filled in its colour, named and led to its place; what is there is
// lines alone, and the step's words are there for those who do not see.
func TestShotShowsWhatIsAdded(t *testing.T) {
	c, s := boxShot()
	svg := c.svg(s)
	for _, want := range []string{`fill="#e9dfca"`, `class="there"`, `class="ink"`, `class="way head"`, "P1 ×2", "<title>a step</title>", ">front<", ">right<", ">UP<"} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s in %s", want, svg)
		}
	}
	if strings.Contains(svg, `fill="#8fb3c9"`) || strings.Contains(svg, ">left<") {
		t.Error("what is there is filled, or a side behind the fixture is named")
	}
	if again := c.svg(s); again != svg {
		t.Error("drawn twice, it differs")
	}
}

// The view stays where it shows enough and turns where it hides what is added: to the
// back for what goes on at the back.
func TestShotTurnsToWhatIsHidden(t *testing.T) {
	c, s := boxShot()
	c.svg(s)
	if c.last != 0 {
		t.Errorf("seen from view %d, the front is 0", c.last)
	}
	s.Actors[1].Place, s.Actors[1].From = at(0, 0, -90), geom.Vec3{}
	if c.svg(s); c.last != 2 && c.last != 3 {
		t.Errorf("what is at the back is seen from view %d", c.last)
	}
	last := c.last
	s.Actors[1].Place = at(0, 70, -20) // on top: every corner shows it
	if c.svg(s); c.last != last {
		t.Errorf("the view turned from %d to %d for nothing", last, c.last)
	}
}

// Nothing to add, or nothing that can be drawn, is no picture.
func TestShotOfNothing(t *testing.T) {
	c, s := boxShot()
	s.Actors[1].Role = ShotThere
	if c.svg(s) != "" || c.svg(nil) != "" {
		t.Error("a picture without anything new")
	}
	s.Actors[1].Role, s.Actors[1].Body = ShotAdds, "gone"
	if c.svg(s) != "" {
		t.Error("a picture of what has no body")
	}
}

// Labels keep their distance and stay on the paper, whatever they name.
func TestShotLabelsDoNotMeet(t *testing.T) {
	c, s := boxShot()
	for i := range 9 {
		s.Actors = append(s.Actors, ShotActor{Body: "small", Place: at(float64(i)*3, 40, 51), Role: ShotAdds, Label: "N1"})
	}
	sides := map[string][]float64{}
	for _, m := range regexp.MustCompile(`<text class="(on[a-z ]*)" x="[0-9.]+" y="([0-9.]+)"`).FindAllStringSubmatch(c.svg(s), -1) {
		y, err := strconv.ParseFloat(m[2], 64)
		if err != nil || y < 10 || y > shotMost {
			t.Errorf("a label at %s: %v", m[2], err)
		}
		for _, other := range sides[m[1]] {
			if math.Abs(other-y) < shotLine-0.01 {
				t.Errorf("labels at %g and %g", other, y)
			}
		}
		sides[m[1]] = append(sides[m[1]], y)
	}
	if len(sides) == 0 {
		t.Fatal("no labels")
	}
}

// A traced region encloses as much as its pixels, less what the smoothing cuts, holes
// left open.
func TestRegionArea(t *testing.T) {
	const w, h = 60, 50
	keys := make([]uint8, w*h)
	n := 0.0
	for y := range h {
		for x := range w {
			d := math.Hypot(float64(x)-29.5, float64(y)-24.5)
			if d < 22 && d > 9 {
				keys[y*w+x], n = 7, n+1
			}
		}
	}
	paths := regionPaths(keys, w)
	if len(paths) != 1 || strings.Count(paths[7], "Z") != 2 {
		t.Fatalf("%d paths, %q", len(paths), paths[7])
	}
	if got := math.Abs(pathArea(t, paths[7])); math.Abs(got-n) > 0.05*n {
		t.Errorf("area %.0f, %.0f pixels", got, n)
	}
	if got := regionPaths(make([]uint8, w*h), w); len(got) != 0 {
		t.Errorf("an empty picture has %v", got)
	}
}

// pathArea is the signed area of closed relative path data.
func pathArea(t *testing.T, d string) (sum float64) {
	t.Helper()
	for _, loop := range strings.Split(strings.TrimSuffix(d, "Z"), "Z") {
		var pts Polyline
		for i, m := range regexp.MustCompile(`[Ml](-?[0-9.]+) ?(-?[0-9.]+)`).FindAllStringSubmatch(loop, -1) {
			x, errX := strconv.ParseFloat(m[1], 64)
			y, errY := strconv.ParseFloat(m[2], 64)
			if errX != nil || errY != nil {
				t.Fatal(m, errX, errY)
			}
			v := geom.Vec2{X: x, Y: y}
			if i > 0 {
				v = v.Add(pts[i-1])
			}
			pts = append(pts, v)
		}
		for i, p := range pts {
			sum += p.Cross(pts[(i+1)%len(pts)]) / 2
		}
	}
	return sum
}
