package geom

import "math"

// Edge is one straight edge or circular arc of a path.
type Edge struct {
	A, B  Vec2
	Arc   bool
	C     Vec2    // centre of the arc
	R     float64 // radius, mm
	Start float64 // angle of A seen from C, rad
	Sweep float64 // signed angle from A to B, rad, counter-clockwise positive
}

// NewEdge returns the edge from a to b with the given bulge, tan(sweep/4).
func NewEdge(a, b Vec2, bulge float64) Edge {
	e := Edge{A: a, B: b}
	if math.Abs(bulge) < bulgeStraight {
		return e
	}
	// The centre lies on the perpendicular bisector of the chord, at
	// (1-b²)/(4b) chord lengths to the left of it; R = chord (1+b²)/(4|b|).
	ch := b.Sub(a)
	e.Arc = true
	e.Sweep = 4 * math.Atan(bulge)
	e.R = ch.Len() * (1 + bulge*bulge) / (4 * math.Abs(bulge))
	e.C = a.Lerp(b, 0.5).Add(ch.Perp().Mul((1 - bulge*bulge) / (4 * bulge)))
	e.Start = a.Sub(e.C).Angle()
	return e
}

// ArcEdge returns the arc about c from the angle start over sweep, both rad: up
// to a full circle.
func ArcEdge(c Vec2, r, start, sweep float64) Edge {
	return Edge{A: c.Add(Polar(r, start)), B: c.Add(Polar(r, start+sweep)), Arc: true, C: c, R: r, Start: start, Sweep: sweep}
}

// circleEdge is a full circle as one edge, counter-clockwise from angle zero.
func circleEdge(c Circle) Edge {
	e := ArcEdge(c.C, c.R, 0, 2*math.Pi)
	e.B = e.A
	return e
}

// Bulge returns tan(sweep/4), zero when straight.
func (e Edge) Bulge() float64 { return math.Tan(e.Sweep / 4) }

// At returns the point a fraction t of the way along the edge.
func (e Edge) At(t float64) Vec2 {
	switch {
	case !(t > 0): // also on an edge without length
		return e.A
	case t >= 1:
		return e.B
	case !e.Arc:
		return e.A.Lerp(e.B, t)
	}
	return e.C.Add(Polar(e.R, e.Start+t*e.Sweep))
}

// Tangent returns the unit direction of travel at fraction t.
func (e Edge) Tangent(t float64) Vec2 {
	if !e.Arc {
		return e.B.Sub(e.A).Unit()
	}
	d := Polar(1, e.Start+t*e.Sweep).Perp()
	if e.Sweep < 0 {
		return d.Mul(-1)
	}
	return d
}

// holds reports whether the direction at the angle, rad, lies within the arc.
func (e Edge) holds(angle float64) bool {
	_, ok := e.param(angle)
	return ok
}

// param returns the fraction along the arc at which the angle lies.
func (e Edge) param(angle float64) (float64, bool) {
	d := angle - e.Start
	if e.Sweep < 0 {
		d = -d
	}
	d = math.Mod(d, 2*math.Pi)
	if d < 0 {
		d += 2 * math.Pi
	}
	t := d / math.Abs(e.Sweep)
	return t, t <= 1
}

// Param returns the fraction along the edge at which the foot of p on its line
// lies, or p's direction from its centre, and whether that is on the edge.
func (e Edge) Param(p Vec2) (float64, bool) {
	if e.Arc {
		return e.param(p.Sub(e.C).Angle())
	}
	d := e.B.Sub(e.A)
	t := p.Sub(e.A).Dot(d) / d.Dot(d)
	return t, t >= 0 && t <= 1
}

// Bounds returns the exact box of the edge, arc extremes included.
func (e Edge) Bounds() Box2 {
	b := EmptyBox2().Add(e.A).Add(e.B)
	if !e.Arc {
		return b
	}
	for q := 0; q < 4; q++ {
		s, c := sincosExact(float64(q) * math.Pi / 2)
		if e.holds(float64(q) * math.Pi / 2) {
			b = b.Add(e.C.Add(Vec2{e.R * c, e.R * s}))
		}
	}
	return b
}

// support returns the largest d·p over the points p of the edge.
func (e Edge) support(d Vec2) float64 {
	m := max(d.Dot(e.A), d.Dot(e.B))
	if e.Arc && e.holds(d.Angle()) {
		m = max(m, d.Dot(e.C)+e.R*d.Len())
	}
	return m
}

// reversed returns the edge travelled the other way.
func (e Edge) reversed() Edge {
	r := e
	r.A, r.B = e.B, e.A
	r.Start, r.Sweep = e.Start+e.Sweep, -e.Sweep
	return r
}

// chords returns how many chords keep within chordErr of the arc, at least one;
// a full circle gets a multiple of four so that it maps to itself under quarter
// turns and mirroring, whichever frame it is seen in.
func chords(r, sweep, chordErr float64) int {
	step := MaxStep
	if chordErr < r {
		step = min(step, 2*math.Acos(1-chordErr/r))
	}
	n := max(1, int(math.Ceil(math.Abs(sweep)/step-stepSlack)))
	if isFullTurn(sweep) {
		n = (n + 3) / 4 * 4
	}
	return n
}

// chords returns how many chords the edge is cut to.
func (e Edge) chords(chordErr float64) int {
	if !e.Arc {
		return 1
	}
	return chords(e.R, e.Sweep, chordErr)
}

func isFullTurn(sweep float64) bool { return math.Abs(sweep) > 2*math.Pi-stepSlack }

// appendChords appends the points of the edge from A up to but without B.
func (e Edge) appendChords(pts []Vec2, chordErr float64) []Vec2 {
	pts = append(pts, e.A)
	if !e.Arc {
		return pts
	}
	n := e.chords(chordErr)
	for i := 1; i < n; i++ {
		pts = append(pts, e.At(float64(i)/float64(n)))
	}
	return pts
}
