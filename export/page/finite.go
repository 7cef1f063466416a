package page

import (
	"fmt"
	"math"
	"reflect"
	"unicode/utf8"

	"clampwright/parts/geom"
)

// maxMM bounds every number: a thousand kilometres is no fixture, and arithmetic on
// such numbers stays finite.
const maxMM = 1e9

// drawable refuses what no page can show: a number that is not finite or beyond
// maxMM, and text that is not UTF-8.
func drawable(v reflect.Value) (err error) {
	if v.Type() == reflect.TypeFor[[]geom.Triangle]() {
		return nil // many, and whole numbers
	}
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.Abs(x) > maxMM {
			err = fmt.Errorf("the number %g", x)
		}
	case reflect.String:
		if !utf8.ValidString(v.String()) {
			err = fmt.Errorf("text that is not UTF-8: %q", v.String())
		}
	case reflect.Pointer:
		if !v.IsNil() {
			err = drawable(v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := 0; i < v.Len() && err == nil; i++ {
			err = drawable(v.Index(i))
		}
	case reflect.Struct:
		for i := 0; i < v.NumField() && err == nil; i++ {
			if err = drawable(v.Field(i)); err != nil {
				err = fmt.Errorf("%s: %w", v.Type().Field(i).Name, err)
			}
		}
	}
	return err
}
