package geom

import "slices"

// Triangulate flattens the profile to chordErr, mm, and returns its points and
// counter-clockwise triangles that cover it, using every point and adding none:
// V + 2·holes - 2 of them, Delaunay but for the boundaries.
func (p Profile) Triangulate(chordErr float64) ([]Vec2, []Triangle, error) {
	loops := [][]Vec2{p.Outer.Oriented(true).Flatten(chordErr)}
	for _, s := range p.Slots {
		loops = append(loops, s.Oriented(false).Flatten(chordErr))
	}
	for _, c := range p.Circles {
		l := c.Flatten(chordErr)
		slices.Reverse(l)
		loops = append(loops, l)
	}
	return triangulate(loops)
}

// triangulate covers the polygon loops[0] less the holes loops[1:].
func triangulate(loops [][]Vec2) ([]Vec2, []Triangle, error) {
	var pts []Vec2
	var edges [][2]int32
	for _, l := range loops {
		first, n := int32(len(pts)), int32(len(l))
		pts = append(pts, l...)
		for i := range n {
			edges = append(edges, [2]int32{first + i, first + (i+1)%n})
		}
	}
	t, err := Constrained(pts, edges)
	if err != nil {
		return nil, nil, err
	}
	t.Fill(func(q Vec2) (odd uint64) {
		for _, l := range loops {
			if InPolygon(l, q) {
				odd ^= 1
			}
		}
		return odd
	})
	var tris []Triangle
	for i, v := range t.Tri {
		if t.Mask[i] == 1 {
			tris = append(tris, Triangle{v[0] - frameCorners, v[1] - frameCorners, v[2] - frameCorners})
		}
	}
	if len(tris) != len(pts)+2*len(loops)-4 { // by Euler; else a hole lies outside, or in another
		return nil, nil, ErrHoleOutside
	}
	return pts, tris, nil
}
