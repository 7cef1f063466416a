// Package page writes the build sheet: one self-contained HTML page that a
// person at the bench reads on a phone or on paper. It knows nothing of
// assemblies or mechanics; it lays out a Sheet, a view model of plain data that
// the caller fills. Every text of a Sheet is escaped, every number checked, and
// the same Sheet always gives the same bytes.
//
// Lengths that are drawn are millimetres; texts carry the user's units.
//
// The phases: validate the Sheet (validate.go), draw its pictures as SVG
// (still.go, maps.go, chart.go, sketch.go, nest.go, drill.go, wiring.go), pack
// the scene for the turnable picture (pack.go), fill the templates (encode.go).
package page
