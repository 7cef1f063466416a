package clamp

import (
	"fmt"
	"math"
)

// InputError says that one field of the input cannot be used. Field is a path
// in the input by its JSON names, such as "rods[2].stress_area_mm2", for a
// caller to translate into its own parameter's name.
type InputError struct {
	Field  string
	Value  float64
	Lo, Hi float64 // what it may be; both zero where that is no range
	Reason string
}

// Error renders field, value and reason.
func (e *InputError) Error() string {
	return fmt.Sprintf("%s = %g: %s", e.Field, e.Value, e.Reason)
}

// SolveKind says what went wrong in a solution.
type SolveKind string

// The kinds of failed solution.
const (
	Singular SolveKind = "singular" // nothing holds the plate
	Cycling  SolveKind = "cycling"  // the contact set does not settle
	Rigid    SolveKind = "rigid"    // rounding spoils the balance of an absurdly stiff plate
)

// SolveError says that the equations of one state have no usable solution.
// Field is the input most likely at fault.
type SolveError struct {
	Kind   SolveKind
	State  string
	Field  string
	Detail string
}

// Error renders state and cause.
func (e *SolveError) Error() string {
	return fmt.Sprintf("the state %q has no solution: %s", e.State, e.Detail)
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
