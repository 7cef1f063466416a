package params

import (
	"clampwright/params/diag"
)

// Given is one value of the parameter file together with where it stands.
// The zero value is "not given".
type Given[T any] struct {
	V   T
	Set bool
	At  diag.Range
}

// Or returns the value, or def when the file does not give it.
func (g Given[T]) Or(def T) T {
	if g.Set {
		return g.V
	}
	return def
}

// Section is embedded in every block of the file. Present says that the block
// is there, None that it was written as the single word none.
type Section struct {
	Present bool
	None    bool
	At      diag.Range
}
