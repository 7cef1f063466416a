// Package clamp computes what a clamping fixture does to a row of prismatic
// cells: how hard every spot of the large face is pressed, as tightened and as
// the cells grow, creep takes its share and the temperature moves.
//
// # Model
//
// Both end plates are alike and press the same stack from its two ends, so the
// middle plane z = 0 is a plane of symmetry and one plate is enough. Let w(x,y)
// be the outward displacement of that plate (mm). The stack then is shortened by
//
//	s(x,y) = G(x,y) - 2 w(x,y)
//
// because both plates give way by w; G is what the stack would be longer than
// the room between two flat plates that just touch it: growth with charge and
// age, thermal growth, less initial gaps. Growth g therefore moves each plate by
// up to g/2. The pressure is p = f(s), the through-thickness curve of the whole
// stack (cells, separators, liners in series; zero for s <= 0: contact cannot
// pull). A rod is stretched by u = 2 w_r + d, w_r the plate's displacement
// averaged over the washer seat and d what the nut was advanced since everything
// just touched; its force is F = h(u), rod and springs in series (zero for
// u <= 0: a rod cannot push). Equilibrium of one plate with its stiffeners is
//
//	K w = sum over contacts p A - sum over rods F
//
// K from four-node shear-flexible plate elements (element.go) and Euler beams
// that share only the deflection with the plate (beam.go). f and h never fall,
// so the equilibrium is the least point of a convex energy; it is found by
// Newton's method with a line search, that is, by an active-set iteration whose
// contact set is final when nothing changes any more (contact.go).
//
// Where plate, rows, rods and stiffeners are mirror images of each other about
// the plate's vertical centre line, and only there, one half is solved
// (symmetry.go).
//
// # Coordinates and units
//
// Plate coordinates: origin at the plate's lower left corner, x across, y up.
// Lengths are mm, forces N, pressures and moduli MPa, torques N·mm, angles rad,
// temperatures °C, times hours; pressures in results are kPa where the name says
// so. Charge is 0 (empty) to 1 (full).
//
// # Entry points
//
//   - Solve does everything: all states, setting, band, warnings.
//   - SolveState solves one state on the default (or given) grid.
//   - Screen is for searching: a coarse grid, three states, a few milliseconds.
package clamp
