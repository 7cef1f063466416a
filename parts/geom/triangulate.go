package geom

// Triangulate flattens the profile to chordErr, mm, and returns its points and
// counter-clockwise triangles that cover it, using every point.
func (p Profile) Triangulate(chordErr float64) ([]Vec2, []Triangle, error) {
	return nil, nil, ErrMesh
}
