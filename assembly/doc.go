// Package assembly places the parts of a fixture: every cell, plate, angle, rod
// and nut at its station, the envelopes of the tools that must get in, and the
// parts list and cut list that follow from them.
//
// Axes: x across the width of the cells, y up from the underside of the cells,
// z along the stack from its middle. The end at +z is the front, the end at -z
// the back; left is -x and right +x. Lengths are millimetres.
package assembly
