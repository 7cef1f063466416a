package catalog

import "clampwright/params/unit"

// sheetPoints is how a sheet material varies with thickness. source is that of
// the built-in row: a row of the user's with another source is left alone.
type sheetPoints struct {
	source string
	step   bool // a point holds up to its thickness; else straight between points
	points []sheetPoint
}

// sheetPoint is one thickness in mm: moduli and bending strengths along and
// across the face grain in MPa (0 across: the same both ways).
type sheetPoint struct {
	t, e, eAcross, s, sAcross float64
}

// byThickness is read only.
var byThickness = map[string]sheetPoints{
	"birch plywood": {source: plywoodSource, points: []sheetPoint{
		{9, 11395, 6105, 45.6, 32.1},
		{12, 10719, 6781, 42.9, 33.2},
		{15, 10316, 7184, 41.3, 33.8},
		{18, 10048, 7452, 40.2, 34.1},
		{21, 9858, 7642, 39.4, 34.3},
		{24, 9717, 7783, 38.9, 34.4},
		{30, 9519, 7981, 38.1, 34.6},
	}},
	"mdf": {source: mdfSource, step: true, points: []sheetPoint{
		{12, 2500, 0, 22, 0},
		{19, 2200, 0, 20, 0},
		{30, 2100, 0, 18, 0},
	}},
}

// at puts the moduli and strengths at thickness t mm into m. Outside the points
// the nearest holds.
func (s sheetPoints) at(t float64, m *Material) {
	last := len(s.points) - 1
	p := s.points[last]
	for i, q := range s.points {
		if t > q.t {
			continue
		}
		p = q
		if i > 0 && !s.step {
			p = between(s.points[i-1], q, t)
		}
		break
	}
	m.E, m.EAcross = unit.Pressure(p.e), unit.Pressure(p.eAcross)
	m.Strength, m.StrengthAcross = unit.Pressure(p.s), unit.Pressure(p.sAcross)
}

// between is the point on the straight line from a to b at thickness t.
func between(a, b sheetPoint, t float64) sheetPoint {
	f := (t - a.t) / (b.t - a.t)
	mix := func(x, y float64) float64 { return x + f*(y-x) }
	return sheetPoint{t, mix(a.e, b.e), mix(a.eAcross, b.eAcross), mix(a.s, b.s), mix(a.sAcross, b.sAcross)}
}
