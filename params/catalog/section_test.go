package catalog

import (
	"math"
	"math/rand"
	"testing"

	"clampwright/params/unit"
)

func rel(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: %v, want %v within %.2g", what, got, want, tol)
	}
}

func sharp(a, b, t unit.Length) AngleSection {
	return AngleSection{LegA: a, LegB: b, Thickness: t}
}

// Sharp-cornered equal angles: A = t(2b - t), y = (b² + bt - t²)/(2(2b - t)),
// I = (b⁴ - (b-t)⁴)/3 - A(b-y)². The 65 x 10 row stands in a mechanics
// textbook's worked case; 2 x 1/8 and 2 x 1/4 in stand in an aluminium handbook
// as .484/.546/.190/.131 and .938/.592/.348/.247.
func TestSharpAngles(t *testing.T) {
	for _, tt := range []struct{ b, t, area, y, i, z float64 }{
		{65, 10, 1200, 19.896, 458737, 10171},
		{20, 2, 76, 5.737, 2880, 202},
		{25, 3, 141, 7.351, 8204, 465},
		{30, 3, 171, 8.605, 14580, 681},
		{40, 4, 304, 11.474, 46081, 1615},
	} {
		s := Section(sharp(unit.Length(tt.b), unit.Length(tt.b), unit.Length(tt.t)))
		rel(t, "area", s.Area, tt.area, 1e-12)
		rel(t, "centroid", s.CentroidA, tt.y, 1e-4)
		rel(t, "I", s.IA, tt.i, 1e-4)
		rel(t, "Z", s.ZA, tt.z, 2e-3)
		if math.Abs(s.IA-s.IB) > 1e-9*s.IA || math.Abs(s.CentroidA-s.CentroidB) > 1e-9 {
			t.Errorf("equal legs differ: %+v", s)
		}
	}
	for _, tt := range []struct{ t, area, y, i, z float64 }{{.125, .484, .546, .190, .131}, {.25, .938, .592, .348, .247}} {
		s := Section(sharp(in(2), in(2), in(tt.t)))
		near(t, "area in2", s.Area/in2, tt.area, 0.0006)
		near(t, "centroid in", s.CentroidA/25.4, tt.y, 0.0006)
		near(t, "I in4", s.IA/in2/in2, tt.i, 0.0006)
		near(t, "Z in3", s.ZA/in2/25.4, tt.z, 0.0006)
	}
}

// Unequal angles of a design handbook, sharp corners: 2 x 1-1/2 x 1/8 and
// x 1/4 in, with long-way A, I, Z, centroid and short-way I, Z, centroid. The
// page cuts to two figures, so these are loose.
func TestUnequalSharpAngles(t *testing.T) {
	for _, tt := range []struct{ t, area, i1, z1, y, i2, z2, x, imin float64 }{
		{.125, .42, .17, .12, .60, .08, .07, .36, .04},
		{.25, .81, .31, .23, .66, .15, .14, .41, .08},
	} {
		s := Section(sharp(in(2), in(1.5), in(tt.t)))
		near(t, "A", s.Area/in2, tt.area, 0.01)
		near(t, "I1", s.IA/in2/in2, tt.i1, 0.01)
		near(t, "Z1", s.ZA/in2/25.4, tt.z1, 0.01)
		near(t, "y", s.CentroidA/25.4, tt.y, 0.02)
		near(t, "I2", s.IB/in2/in2, tt.i2, 0.01)
		near(t, "Z2", s.ZB/in2/25.4, tt.z2, 0.01)
		near(t, "x", s.CentroidB/25.4, tt.x, 0.01)
		near(t, "least I", s.IMin/in2/in2, tt.imin, 0.01)
	}
}

// EN 10056-1 unequal angles with root and toe radii, from a table of the
// standard (cm, cm², cm⁴, cm³; three figures): area, centroids, moments, moduli
// and principal moments.
func TestRolledUnequalAngles(t *testing.T) {
	b := Builtin()
	for _, tt := range []struct {
		name                                         string
		area, cy, cz, iy, wy, iz, wz, imax, imin, kg float64
	}{
		{"30x20x3 mm steel", 1.43, 0.99, 0.50, 1.25, 0.62, 0.44, 0.29, 1.43, 0.26, 1.12},
		{"30x20x4 mm steel", 1.86, 1.03, 0.54, 1.59, 0.81, 0.55, 0.38, 1.81, 0.33, 1.46},
		{"40x20x4 mm steel", 2.26, 1.47, 0.48, 3.59, 1.42, 0.60, 0.39, 3.80, 0.39, 1.77},
		{"40x25x4 mm steel", 2.46, 1.36, 0.62, 3.89, 1.47, 1.16, 0.62, 4.35, 0.70, 1.93},
		{"45x30x4 mm steel", 2.87, 1.48, 0.74, 5.78, 1.91, 2.05, 0.91, 6.65, 1.18, 2.25},
		{"50x30x5 mm steel", 3.78, 1.73, 0.74, 9.36, 2.86, 2.51, 1.11, 10.3, 1.54, 2.96},
	} {
		a, ok := b.Angle(tt.name)
		if !ok {
			t.Fatalf("no %s", tt.name)
		}
		s := Section(a)
		near(t, tt.name+" area", s.Area/100, tt.area, 0.0055)
		near(t, tt.name+" cy", s.CentroidA/10, tt.cy, 0.0055)
		near(t, tt.name+" cz", s.CentroidB/10, tt.cz, 0.0055)
		near(t, tt.name+" Iy", s.IA/1e4, tt.iy, 0.0055)
		near(t, tt.name+" Wy", s.ZA/1e3, tt.wy, 0.0055)
		near(t, tt.name+" Iz", s.IB/1e4, tt.iz, 0.0055)
		near(t, tt.name+" Wz", s.ZB/1e3, tt.wz, 0.0055)
		rel(t, tt.name+" Imax", s.IMax/1e4, tt.imax, 0.01)
		rel(t, tt.name+" Imin", s.IMin/1e4, tt.imin, 0.02)
		near(t, tt.name+" kg/m", s.Area*7.85/1000, tt.kg, 0.0055)
	}
}

// EN 10056-1 equal angles: 25 x 25 x 3 and the others from memory (2 %).
func TestRolledEqualAngles(t *testing.T) {
	b := Builtin()
	for _, tt := range []struct {
		name       string
		area, c, i float64
	}{
		{"25x25x3 mm steel", 1.42, 0.72, 0.80}, {"30x30x3 mm steel", 1.74, 0.835, 1.40},
		{"40x40x4 mm steel", 3.08, 1.12, 4.47}, {"50x50x5 mm steel", 4.80, 1.40, 11.0},
	} {
		a, _ := b.Angle(tt.name)
		s := Section(a)
		rel(t, tt.name+" area", s.Area/100, tt.area, 0.02)
		rel(t, tt.name+" centroid", s.CentroidA/10, tt.c, 0.02)
		rel(t, tt.name+" I", s.IA/1e4, tt.i, 0.02)
	}
}

// A slow twin: the section sampled on a fine grid, for random sections.
func TestSectionAgainstGrid(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	for range 12 {
		tenth := func(lo, hi int) unit.Length { return unit.Length(lo+r.Intn(hi-lo)) / 10 }
		th := tenth(20, 60) // sizes on the grid, radii anywhere
		a := AngleSection{
			LegA: tenth(200, 500), LegB: tenth(200, 500), Thickness: th,
			Root: unit.Length(7 * r.Float64()), Toe: th * unit.Length(r.Float64()),
		}
		got, want := Section(a), gridSection(a, 0.02)
		rel(t, "area", got.Area, want.Area, 2e-4)
		rel(t, "centroid A", got.CentroidA, want.CentroidA, 2e-4)
		rel(t, "centroid B", got.CentroidB, want.CentroidB, 2e-4)
		rel(t, "IA", got.IA, want.IA, 5e-4)
		rel(t, "IB", got.IB, want.IB, 5e-4)
		rel(t, "IAB", got.IAB, want.IAB, 1e-3)
	}
}

// gridSection sums squares of the given side whose middles are in the section.
func gridSection(s AngleSection, h float64) SectionProps {
	var m moments
	a, b := s.LegA.MM(), s.LegB.MM()
	for x := h / 2; x < a; x += h {
		for y := h / 2; y < b; y += h {
			if inside(s, x, y) {
				m.area += h * h
				m.x += h * h * x
				m.y += h * h * y
				m.xx += h * h * x * x
				m.yy += h * h * y * y
				m.xy += h * h * x * y
			}
		}
	}
	return m.about(a, b)
}

func inside(s AngleSection, x, y float64) bool {
	a, b, t, root, toe := s.LegA.MM(), s.LegB.MM(), s.Thickness.MM(), s.Root.MM(), s.Toe.MM()
	switch {
	case x > t+root || y > t+root:
	case x > t && y > t:
		return math.Hypot(x-t-root, y-t-root) >= root
	}
	if x > t && y > t {
		return false
	}
	if x > a-toe && y > t-toe {
		return math.Hypot(x-a+toe, y-t+toe) <= toe
	}
	if y > b-toe && x > t-toe {
		return math.Hypot(x-t+toe, y-b+toe) <= toe
	}
	return true
}

func TestSectionRefusesTheImpossible(t *testing.T) {
	for _, a := range []AngleSection{
		{}, sharp(10, 10, 0), sharp(10, 10, -1), sharp(10, 10, 10), sharp(-10, 10, 1), sharp(10, 3, 3),
		{LegA: 20, LegB: 20, Thickness: 3, Root: 15, Toe: 3}, {LegA: 20, LegB: 20, Thickness: 3, Root: -1},
		{LegA: 20, LegB: 20, Thickness: 3, Toe: 4}, sharp(unit.Length(math.NaN()), 20, 3),
		sharp(20, 20, unit.Length(math.NaN())), sharp(unit.Length(math.Inf(1)), 20, 3),
	} {
		if s := Section(a); s != (SectionProps{}) {
			t.Errorf("%+v gives %+v", a, s)
		}
	}
	for _, a := range Builtin().Angles {
		if Section(a).Area <= 0 {
			t.Errorf("%s can't exist", a.Name)
		}
	}
}
