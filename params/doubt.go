package params

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"clampwright/params/diag"
)

// A file with mistakes is settled too, so that all of them come back at once.
// What can't be read is in doubt: its default stands in for it. An error that
// only the stand-in causes must not be told, so the file is settled several
// times more, with other values in place of those in doubt, and an error is told
// when it comes up whatever they are.

// trials is how often a file with mistakes is settled with other values.
const trials = 3

// told bounds how many errors are taken one after the other, each putting the
// value it blames in doubt for the rest; those beyond are told as they are.
const told = 12

// independent picks the errors of found, which settling gave in this order, that
// are not caused by another mistake. names says which are names without a row:
// these depend on nothing.
func independent(in *File, found diag.List, names map[diag.Range]bool) diag.List {
	at := placesOf(in)
	doubt := slices.Clone(in.broken)
	var out, rest diag.List
	for _, d := range found {
		if names[d.Range] {
			out = append(out, d)
			doubt = append(doubt, at[d.Range]...)
		} else {
			rest = append(rest, d)
		}
	}
	for n := 0; len(rest) > 0; n++ {
		rest = slices.DeleteFunc(rest, func(d diag.Diagnostic) bool {
			return slices.ContainsFunc(at[d.Range], func(path string) bool { return slices.Contains(doubt, path) })
		})
		if rest = lasting(in, doubt, rest); len(rest) == 0 {
			break
		}
		if n == told {
			out = append(out, rest...)
			break
		}
		out = append(out, rest[0])
		doubt = append(doubt, at[rest[0].Range]...)
		rest = rest[1:]
	}
	out.Sort()
	return out
}

// lasting are the diagnostics that come up whatever stands in for the values in
// doubt.
func lasting(in *File, doubt []string, list diag.List) diag.List {
	var values []doubtful
	for _, path := range doubt {
		values = append(values, doubtfulAt(in, path)...)
	}
	for trial := 1; trial <= trials && len(list) > 0; trial++ {
		for i, v := range values {
			v.standIn(i + trial)
		}
		r := newResolver(in, mergeTables(in.Tables))
		r.bare, r.trial, r.doubt = true, trial, doubt
		r.settle()
		list = slices.DeleteFunc(slices.Clone(list), func(d diag.Diagnostic) bool {
			return !slices.ContainsFunc(r.diags, func(e diag.Diagnostic) bool { return e.Range == d.Range && e.Summary == d.Summary })
		})
	}
	for _, v := range values {
		v.at.Set(v.was)
	}
	return list
}

// doubtful is a value of the file that is in doubt, with what the file gave.
type doubtful struct {
	at, was reflect.Value
	f       *field
}

// doubtfulAt finds a value by its path, or all values of a block.
func doubtfulAt(in *File, path string) []doubtful {
	v, f := fieldAt(in, path)
	if f == nil {
		return nil
	}
	return leaves(v, f)
}

// fieldAt finds what stands at a path, such as plates.width or rods.levels[1], and
// its description; nil when there is none.
func fieldAt(in *File, path string) (reflect.Value, *field) {
	v, typ := reflect.ValueOf(in).Elem(), reflect.TypeFor[File]()
	var f field
	for _, part := range strings.Split(path, ".") {
		key, index, inList := strings.Cut(strings.TrimSuffix(part, "]"), "[")
		known := fieldsOf(typ).byKey[key]
		if known == nil || f.kind == kindList {
			return reflect.Value{}, nil
		}
		f, v, typ = *known, v.Field(known.index), known.typ
		if !inList {
			continue
		}
		i, err := strconv.Atoi(index)
		if err != nil || f.kind != kindList || i >= v.Len() {
			return reflect.Value{}, nil
		}
		f.kind, v = f.elem, v.Index(i)
	}
	return v, &f
}

func leaves(v reflect.Value, f *field) []doubtful {
	switch f.kind {
	case kindScalar:
		was := reflect.New(v.Type()).Elem()
		was.Set(v)
		return []doubtful{{v, was, f}}
	case kindBlock:
		var out []doubtful
		for _, sub := range fieldsOf(v.Type()).list {
			out = append(out, leaves(v.Field(sub.index), sub)...)
		}
		return out
	}
	return nil
}

// noName stands for a name that no table has: what looks it up takes another row
// in every trial. No file can hold it.
const noName = "\x00"

// standIn puts the nth stand-in in the value's place.
func (d doubtful) standIn(n int) {
	plain := d.at
	if plain.Kind() == reflect.Struct {
		d.at.FieldByName("Set").SetBool(true)
		plain = d.at.FieldByName("V")
	}
	switch plain.Kind() {
	case reflect.String:
		plain.SetString(append(d.f.enum, noName)[n%(len(d.f.enum)+1)])
	case reflect.Bool:
		plain.SetBool(n%2 == 0)
	case reflect.Int:
		plain.SetInt(int64(d.f.sample(n)))
	case reflect.Float64:
		plain.SetFloat(d.f.sample(n))
	}
}

// sample is one of a few values within a field's limits.
func (f *field) sample(n int) float64 {
	few := []float64{1, 10, 100}
	if l := f.limits; l != nil {
		few = []float64{l.lo, l.hi, math.Sqrt(max(l.lo, 0) * l.hi)}
	}
	return few[n%len(few)]
}

// placesOf maps every place in the file to the paths of what stands there.
func placesOf(in *File) map[diag.Range][]string {
	out := map[diag.Range][]string{}
	var walk func(v reflect.Value, f *field, path string)
	walk = func(v reflect.Value, f *field, path string) {
		switch f.kind {
		case kindList:
			item := *f
			item.kind = f.elem
			for i := range v.Len() {
				walk(v.Index(i), &item, fmt.Sprintf("%s[%d]", path, i))
			}
		case kindBlock:
			if s := v.FieldByName("Section"); s.IsValid() && path != "" {
				at := s.Interface().(Section).At
				out[at] = append(out[at], path)
			}
			for _, sub := range fieldsOf(v.Type()).list {
				walk(v.Field(sub.index), sub, join(path, sub.key))
			}
		default:
			if v.Kind() == reflect.Struct { // not a plain field of a table row
				place := v.FieldByName("At").Interface().(diag.Range)
				out[place] = append(out[place], path)
			}
		}
	}
	walk(reflect.ValueOf(in).Elem(), &field{kind: kindBlock}, "")
	delete(out, diag.Range{})
	return out
}
