package params

import "clampwright/params/unit"

// HeightAt is the height of a spring or spring stack under a force: its free
// height less the deflection, no less than solid.
func (s *Spring) HeightAt(force unit.Force) unit.Length {
	if s.Disc != nil {
		return s.FreeHeight - s.Disc.DeflectionAt(force/unit.Force(s.Parallel))*unit.Length(s.Series)
	}
	return max(s.Coil.Solid, s.FreeHeight-unit.Length(float64(force)/float64(s.Coil.Rate())))
}

// RodShare is a force on one row's face, taken up by every row and shared evenly
// by the rods.
func (f *Fixture) RodShare(perRow unit.Force) unit.Force {
	rods := len(f.Rods.Columns) * len(f.Rods.Levels)
	return perRow * unit.Force(f.Pack.Rows) / unit.Force(max(1, rods))
}

// BulgeLimit is how far a large face may stand proud before the cell is
// rejected: half a percent of the thickness, at least 0.2 mm. Common practice, no
// source.
func (f *Fixture) BulgeLimit() unit.Length { return max(0.2, 0.005*f.Cell.Thickness) }

// Bore is the inner diameter of a spring.
func (s *Spring) Bore() unit.Length {
	if s.Disc != nil {
		return s.Disc.Inner
	}
	return s.Coil.Mean - s.Coil.Wire
}

// OuterDia is the outer diameter of a spring.
func (s *Spring) OuterDia() unit.Length {
	if s.Disc != nil {
		return s.Disc.Outer
	}
	return s.Coil.Mean + s.Coil.Wire
}
