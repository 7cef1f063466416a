package report

import (
	"math"
	"reflect"
	"strconv"
)

// reportDigits is how many significant digits computed values keep in the
// report: more than any of them is known to, and few enough to read.
const reportDigits = 6

// rounded returns a deep copy of v with every float64 rounded to reportDigits.
// Values that are not finite become zero: JSON has no word for them, and the
// mechanics return an error rather than such a value.
func rounded[T any](v T) T {
	return roundedValue(reflect.ValueOf(v)).Interface().(T)
}

func roundedValue(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.Float64:
		out.SetFloat(significant(v.Float()))
	case reflect.Struct:
		for i := 0; i < v.NumField(); i++ {
			if v.Type().Field(i).IsExported() {
				out.Field(i).Set(roundedValue(v.Field(i)))
			}
		}
	case reflect.Slice:
		if !v.IsNil() {
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
			for i := 0; i < v.Len(); i++ {
				out.Index(i).Set(roundedValue(v.Index(i)))
			}
		}
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(roundedValue(v.Elem()))
		}
	}
	return out
}

func significant(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) || x == 0 {
		return 0
	}
	r, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', reportDigits, 64), 64)
	return r
}
