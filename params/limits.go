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

// RodShare is what a rod of a column carries relative to an outer one. Each row is
// held as much from its one side as from its other, so that the rods between two
// rows take half of all the force, and the rods outside them the other half: a
// single middle column carries twice what an outer one does.
func (f *Fixture) RodShare(column int) float64 {
	inner := 0
	for _, x := range f.Rods.Columns {
		if f.betweenRows(x) {
			inner++
		}
	}
	outer := len(f.Rods.Columns) - inner
	if outer == 0 || !f.betweenRows(f.Rods.Columns[column]) {
		return 1
	}
	return float64(outer) / float64(inner)
}

// betweenRows says whether a column at x stands between two rows.
func (f *Fixture) betweenRows(x unit.Length) bool {
	row := f.Pack.RowX
	return len(row) == 2 && x > row[0] && x < row[1]
}

// RodForce is the force of a rod of a column, at any level, when the face of every
// row carries perRow.
func (f *Fixture) RodForce(perRow unit.Force, column int) unit.Force {
	sum := 0.0
	for i := range f.Rods.Columns {
		sum += f.RodShare(i)
	}
	part := f.RodShare(column) / (max(1, sum) * float64(max(1, len(f.Rods.Levels))))
	return perRow * unit.Force(float64(f.Pack.Rows)*part)
}

// MostRodForce is RodForce of the rods that carry most.
func (f *Fixture) MostRodForce(perRow unit.Force) (most unit.Force) {
	for i := range f.Rods.Columns {
		most = max(most, f.RodForce(perRow, i))
	}
	return most
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
