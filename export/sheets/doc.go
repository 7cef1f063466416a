// Package sheets draws nested sheets for a cutter: it moves outlines by half the
// width of the tool.
package sheets
