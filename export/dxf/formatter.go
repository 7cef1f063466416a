package dxf

import (
	"strings"

	"github.com/yofu/dxf/format"

	"clampwright/params/number"
)

// formatter is the library's ASCII formatter with numbers written by our own
// rule: no exponent, no negative zero, no digits below a nanometre.
type formatter struct {
	*format.ASCII
}

func newFormatter() formatter { return formatter{format.NewASCII()} }

// codeBulge is the group code of a polyline vertex's bulge.
const codeBulge = 42

// Float returns the group code and the number as two lines.
func (f formatter) Float(code int, v float64) string { return f.String(code, real(code, v)) }

// WriteFloat appends a real to the buffer.
func (f formatter) WriteFloat(code int, v float64) { f.WriteString(code, real(code, v)) }

// real is the text of a real number; its point tells it from an integer.
func real(code int, v float64) string {
	kind := number.Coordinate
	if code == codeBulge {
		kind = number.Bulge
	}
	text := kind.Text(v)
	if !strings.ContainsRune(text, '.') {
		text += ".0"
	}
	return text
}
