// Package drawing is a neutral model of workshop paper: sheets in millimetres
// carrying lines, true arcs, hatches, dimensions, tables and text, and the
// layouts built on them: one dimensioned sheet per part, an assembly sheet, and
// 1:1 templates tiled onto the pages of an office printer. The encoders (pdf,
// svg) only copy what a Sheet says.
//
// Practice follows ISO 128 (line types and views), ISO 129-1 (dimensions),
// ISO 3098 (lettering heights), ISO 5455 (scales) and ISO 7200 (data fields of
// the title block), all from memory, unverified.
//
// Sheet coordinates: x to the right, y up, origin at the lower left corner of
// the trimmed sheet, millimetres.
package drawing
