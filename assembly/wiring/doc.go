// Package wiring works out the electrical side of a clamped stack: which way
// round every cell stands, which links join which terminals, and by which way
// a pack goes from loose cells through a parallel balance to its final series
// order without ever opening the clamp on full cells.
//
// Everything is a pure function of an Input of plain numbers. The road through
// the package:
//
//	Input.Settle    fill in what is left open, refuse what cannot be
//	NewLayout       where every terminal is (plan view)
//	Layout.Final    order and orientation of the finished pack
//	Plans           the alternatives, each a list of states and steps
//	Prove           the polarity proof of one state
//	Walk            the proof of a whole plan, one handling at a time
//	Slips           every slip of the hand against the readings
//	Recommend       which plan, and why
//	Specs           link bars to make: holes, slots, layers
//	FiguresOf       resistance, drop, loss, temperature, current share
//	Arrange         the incoming cells, screened and grouped, in their places
//
// Axes: x across the width of the cells (right is positive), z along the stack
// (the near end is negative), y up; millimetres. Currents are amperes, voltages
// volts, resistances ohms unless the name says otherwise, temperatures degrees
// Celsius, charge a fraction 0..1.
package wiring
