package geom

import (
	"errors"
	"fmt"
)

// Errors of the package, to be told apart with errors.Is.
var (
	ErrNotFinite   = errors.New("not a finite number within 100 m")
	ErrFrame       = errors.New("frame axes are not orthonormal and right-handed")
	ErrTooFew      = errors.New("a closed path needs at least two vertices")
	ErrShortEdge   = errors.New("edge shorter than 0.0001 mm")
	ErrBulge       = errors.New("arc sweeps a full turn or more")
	ErrCrossing    = errors.New("path crosses or touches itself")
	ErrOrientation = errors.New("path runs the wrong way round")
	ErrHoleOutside = errors.New("hole is not inside its outline")
	ErrHolesTouch  = errors.New("holes touch or overlap")
	ErrSize        = errors.New("size out of range")
	ErrChord       = errors.New("chord error must be from 0.00001 mm to 100 m")
	ErrMesh        = errors.New("mesh is not closed and consistently oriented")
)

// SizeError is a dimension out of its range. It is an ErrSize.
type SizeError struct {
	What       string // "root radius"
	Got        float64
	Min, Max   float64 // allowed range, mm; infinite where open
	Constraint string  // why, in words: "legs must be longer than thickness + root + toe"
}

func (e *SizeError) Error() string {
	s := fmt.Sprintf("%s is %g mm, allowed %g to %g mm", e.What, e.Got, e.Min, e.Max)
	if e.Constraint != "" {
		s += ": " + e.Constraint
	}
	return s
}

// Is makes every SizeError an ErrSize.
func (e *SizeError) Is(target error) bool { return target == ErrSize }

// checkSize returns a SizeError unless lo <= v <= hi (false for NaN).
func checkSize(what string, v, lo, hi float64, why string) error {
	if v >= lo && v <= hi {
		return nil
	}
	return &SizeError{What: what, Got: v, Min: lo, Max: hi, Constraint: why}
}

// firstError returns the first error that is not nil.
func firstError(errs ...error) error {
	for _, e := range errs {
		if e != nil {
			return e
		}
	}
	return nil
}
