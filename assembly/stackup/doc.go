// Package stackup adds up tolerances: cell thickness, plate thickness, drilling
// and sawing errors, and errors in turning the nuts. For each outcome it gives
// the worst case, in which every error lies at its limit the bad way, and a
// statistical one from seeded samples: does the rod still pass its holes, is the
// rod still long enough, how far may the force be off when set by turns; and
// which tolerance matters most.
//
// In the samples every error is even over its range (positions: over a disc), a
// cautious choice where nothing is known of a shop. The same seed gives the same
// numbers.
package stackup
