//go:build !linux && !darwin

package folder

import "errors"

// exchange is not offered by this system.
func exchange(a, b string) error { return errors.ErrUnsupported }
