package geom

import "math"

// Rect returns the counter-clockwise rectangle with the given corners.
func Rect(min, max Vec2) Path {
	return Path{{P: min}, {P: Vec2{max.X, min.Y}}, {P: max}, {P: Vec2{min.X, max.Y}}}
}

// RectAt returns a rectangle of width w and height h about c.
func RectAt(c Vec2, w, h float64) Path {
	d := Vec2{w / 2, h / 2}
	return Rect(c.Sub(d), c.Add(d))
}

// quarter is the bulge of a quarter circle.
const quarter = math.Sqrt2 - 1

// RoundedRect returns a rectangle about c with corner radius r; r = 0 gives
// square corners, r equal to half a side gives round ends.
func RoundedRect(c Vec2, w, h, r float64) (Path, error) {
	err := firstError(
		checkSize("width", w, MinSize, MaxSize, ""), checkSize("height", h, MinSize, MaxSize, ""),
		checkSize("corner radius", r, 0, min(w, h)/2, "no more than half the shorter side"))
	if err != nil {
		return nil, err
	}
	if r < MinSize {
		return RectAt(c, w, h), nil
	}
	x, y := w/2, h/2
	p := Path{
		{Vec2{-x + r, -y}, 0}, {Vec2{x - r, -y}, quarter}, {Vec2{x, -y + r}, 0}, {Vec2{x, y - r}, quarter},
		{Vec2{x - r, y}, 0}, {Vec2{-x + r, y}, quarter}, {Vec2{-x, y - r}, 0}, {Vec2{-x, -y + r}, quarter},
	}
	return p.Moved(c).WithoutShort(), nil
}

// WithoutShort returns the path without vertices whose edge is shorter than
// MinSize.
func (p Path) WithoutShort() Path {
	var q Path
	for i, v := range p {
		if v.P.Dist(p[(i+1)%len(p)].P) >= MinSize {
			q = append(q, v)
		}
	}
	return q
}

// RegularPolygon returns a polygon of n sides about c with the given distance
// across flats (twice the inscribed radius); the first vertex lies at the angle
// turn, rad, from the x axis.
func RegularPolygon(c Vec2, n int, acrossFlats, turn float64) (Path, error) {
	if n < 3 || n > 1000 {
		return nil, &SizeError{What: "number of sides", Got: float64(n), Min: 3, Max: 1000}
	}
	if err := checkSize("size across flats", acrossFlats, MinSize, MaxSize, ""); err != nil {
		return nil, err
	}
	r := acrossFlats / 2 / math.Cos(math.Pi/float64(n))
	p := make(Path, n)
	for i := range p {
		p[i].P = c.Add(Polar(r, turn+2*math.Pi*float64(i)/float64(n)))
	}
	return p, nil
}

// Hexagon returns a hexagon about the origin, two corners on the x axis.
func Hexagon(acrossFlats float64) (Path, error) { return RegularPolygon(Vec2{}, 6, acrossFlats, 0) }

// Annulus returns a ring about c.
func Annulus(c Vec2, outerR, innerR float64) (Profile, error) {
	err := firstError(checkSize("outer radius", outerR, MinSize, MaxSize, ""),
		checkSize("inner radius", innerR, MinSize, outerR-MinLigament, "inner less than outer"))
	if err != nil {
		return Profile{}, err
	}
	return Profile{Outer: Circle{c, outerR}.Path(), Circles: []Circle{{c, innerR}}}, nil
}

// Obround returns a counter-clockwise slot with round ends of the given width
// whose end centres are a and b.
func Obround(a, b Vec2, width float64) (Path, error) {
	d := b.Sub(a)
	err := firstError(checkSize("slot width", width, MinSize, MaxSize, ""),
		checkSize("slot centre distance", d.Len(), MinSize, MaxSize, ""))
	if err != nil {
		return nil, err
	}
	n := d.Unit().Perp().Mul(width / 2)
	return Path{{a.Sub(n), 0}, {b.Sub(n), 1}, {b.Add(n), 0}, {a.Add(n), 1}}, nil
}

// LProfile returns the section of an angle with its heel at the origin, leg A
// along +x, leg B along +y, both of thickness t. The heel is sharp; root is the
// fillet radius in the inner corner, toe the radius on the inner edge of each
// leg's tip (the form of rolled angles, EN 10056-1; zero for sharp extrusions).
func LProfile(legA, legB, t, root, toe float64) (Path, error) {
	err := firstError(
		checkSize("leg thickness", t, MinSize, MaxSize, ""),
		checkSize("toe radius", toe, 0, t, "no more than the leg thickness"),
		checkSize("root radius", root, 0, MaxSize, ""),
		checkSize("leg", legA, t+root+toe+MinSize, MaxSize, "longer than thickness + root + toe"),
		checkSize("leg", legB, t+root+toe+MinSize, MaxSize, "longer than thickness + root + toe"))
	if err != nil {
		return nil, err
	}
	p := Path{
		{Vec2{0, 0}, 0}, {Vec2{legA, 0}, 0}, {Vec2{legA, t - toe}, quarter}, {Vec2{legA - toe, t}, 0},
		{Vec2{t + root, t}, -quarter}, {Vec2{t, t + root}, 0},
		{Vec2{t, legB - toe}, quarter}, {Vec2{t - toe, legB}, 0}, {Vec2{0, legB}, 0},
	}
	return p.WithoutShort(), nil
}
