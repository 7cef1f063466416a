// Package sheets draws nested sheets, and parts by the path of the tool, for a machine.
package sheets
