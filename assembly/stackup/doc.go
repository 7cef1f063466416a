// Package stackup adds up tolerances: cell thickness, plate thickness, drilling
// and sawing errors. For each outcome it gives the worst case, in which every error
// lies at its limit the bad way, and what becomes of the fixtures that package assure
// draws: does the rod still pass its holes, is the rod still long enough; and which
// tolerance matters most.
package stackup
