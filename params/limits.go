package params

import (
	"clampwright/params/catalog"
	"clampwright/params/unit"
)

// HeightAt is the height of a spring or spring stack under a force: its free
// height less the deflection, no less than solid.
func (s *Spring) HeightAt(force unit.Force) unit.Length {
	one := force / unit.Force(s.Parallel)
	var v unit.Length
	if s.Disc != nil {
		v = s.Disc.DeflectionAt(one)
	} else {
		v = min(s.Coil.Free-s.Coil.Solid, unit.Length(float64(one)/float64(s.Coil.Rate())))
	}
	return s.FreeHeight - unit.Length(s.Series)*v
}

// freeHeight is the height of one unloaded stack; nested discs lie in one another.
func (s *Spring) freeHeight() unit.Length {
	if s.Disc != nil {
		return unit.Length(s.Series) * (s.Disc.T*unit.Length(s.Parallel) + s.Disc.H0)
	}
	return unit.Length(s.Series) * s.Coil.Free
}

// SolidHeight is the height of a stack that gives no more.
func (s *Spring) SolidHeight() unit.Length {
	if s.Disc != nil {
		return unit.Length(s.Series*s.Parallel) * s.Disc.T
	}
	return unit.Length(s.Series) * s.Coil.Solid
}

// workForce is the most that a stack carries within its stroke.
func (s *Spring) workForce() unit.Force {
	one := unit.Force(0)
	if s.Disc != nil {
		one = s.Disc.ForceAt(s.Disc.Work())
	} else {
		one = unit.Force(float64(s.Coil.Rate()) * s.Coil.Work().MM())
	}
	return one * unit.Force(s.Parallel)
}

// Pieces is how many springs are on a rod's end.
func (s *Spring) Pieces() int { return max(1, s.Parallel*s.Series) }

// GuidedBy says whether a rod of a thread's major diameter passes the spring and keeps
// it in line.
func (s *Spring) GuidedBy(major unit.Length) bool {
	if s.Disc != nil {
		return s.Disc.GuidedBy(major)
	}
	return s.Coil.GuidedBy(major)
}

// A guide bush is a piece of tube round the rod inside a spring: its play on the rod
// and in the spring, and its thinnest wall, mm; common practice, no source.
const bushOnRod, bushInSpring, bushWall = 0.1, 0.2, 0.5

// bush gives the spring a guide bush where the rod does not guide it and there is room
// for one.
func (s *Spring) bush(major unit.Length) {
	in, out := major+bushOnRod, s.Bore()-bushInSpring
	if s.Bore() > major && !s.GuidedBy(major) && out-in >= 2*bushWall {
		s.BushInner, s.BushOuter = in, out
	}
}

// Play is by how much the spring may move across a rod of a thread's major diameter,
// its bush too where it has one, in diameter.
func (s *Spring) Play(major unit.Length) unit.Length {
	return s.Bore() - s.BushOuter + s.BushInner - major
}

// SpringRest compares the washer's radius with where the spring rests on it.
func (f *Fixture) SpringRest() (have, need unit.Length) {
	return f.Washer.Outer / 2, f.Spring.rest(f.Rods.Thread.Major, f.Washer)
}

// rest is at what radius a spring rests on a washer when both have moved by their play
// on the rod: a disc with its inner edge, a coil with the middle of its wire.
func (s *Spring) rest(major unit.Length, w catalog.Washer) unit.Length {
	at := s.Bore() / 2
	if s.Coil != nil {
		at = s.Coil.Mean / 2
	}
	return at + (s.Play(major)+w.Inner-major)/2
}

// RodShare is what a rod of a column carries relative to an outer one. Each row is
// held as much from its one side as from its other, by the next columns there: those
// between two rows take as much as those outside all rows on both sides together.
func (f *Fixture) RodShare(column int) float64 {
	load, count := f.gapLoads()
	if column >= len(f.Rods.Columns) {
		return 1
	}
	g := f.gapOf(f.Rods.Columns[column])
	n := len(count) - 1
	outer := count[0] + count[n]
	if outer == 0 || g == 0 || g == n {
		return 1
	}
	return load[g] / (load[0] + load[n]) * float64(outer) / float64(count[g])
}

// gapOf says between which rows a column at x stands: 0 before the first.
func (f *Fixture) gapOf(x unit.Length) (g int) {
	for i, row := range f.Pack.RowX {
		if x > row || x == row && i == len(f.Pack.RowX)-1 {
			g++
		}
	}
	return g
}

// gapLoads is how many rows' force each gap's columns take, and how many columns.
func (f *Fixture) gapLoads() (load []float64, count []int) {
	n := len(f.Pack.RowX)
	load, count = make([]float64, n+1), make([]int, n+1)
	for _, x := range f.Rods.Columns {
		count[f.gapOf(x)]++
	}
	for row := range n {
		left, right := row, row+1
		for left > 0 && count[left] == 0 {
			left--
		}
		for right < n && count[right] == 0 {
			right++
		}
		load[left], load[right] = load[left]+0.5, load[right]+0.5
	}
	return load, count
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

// ResistanceMost is how many times the data sheet's resistance a cell may have when it
// comes in. Common practice, no source.
const ResistanceMost = 1.5

// Bore is the inner diameter of a spring.
func (s *Spring) Bore() unit.Length {
	if s.Disc != nil {
		return s.Disc.Inner
	}
	return s.Coil.Mean - s.Coil.Wire
}

// mostSlender is the height of a stack in outer diameters (EN 16983 without a guide of its
// own).
const mostSlender = 3

// Tallest is how high a stack may be free and not give way sideways; one on top of the
// other, coils buckle.
func (s *Spring) Tallest() unit.Length {
	if s.Coil != nil {
		return min(s.Coil.Free, mostSlender*s.OuterDia())
	}
	return mostSlender * s.OuterDia()
}

// OuterDia is the outer diameter of a spring.
func (s *Spring) OuterDia() unit.Length {
	if s.Disc != nil {
		return s.Disc.Outer
	}
	return s.Coil.Mean + s.Coil.Wire
}
