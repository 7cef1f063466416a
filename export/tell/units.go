package tell

import (
	"reflect"

	"clampwright/export/page"
	"clampwright/params"
	"clampwright/params/unit"
)

// inShop puts the figures that were worded in SI units, deep in the sums, into the shop's
// own, wherever the sheet has them: this is the one place. Values as the file gives them,
// names of files, and what is typed into a printer stay.
func inShop(s params.Style, sheet *page.Documents) {
	if s.Unit != unit.Inch {
		return
	}
	given, files, prints := sheet.Given, sheet.Files, sheet.Prints
	sheet.Given, sheet.Files, sheet.Prints = nil, nil, nil
	inUnits(s, reflect.ValueOf(sheet).Elem())
	sheet.Given, sheet.Files, sheet.Prints = given, files, prints
}

// inUnits goes through all texts that can be reached. Lists and what is pointed at are
// copied on the way: they may be the job's own, which other files are written from.
func inUnits(s params.Style, v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		if v.CanSet() {
			v.SetString(s.Say(v.String()))
		}
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() || !v.CanSet() {
			return
		}
		own := reflect.New(v.Elem().Type())
		own.Elem().Set(v.Elem())
		inUnits(s, own.Elem())
		if v.Kind() == reflect.Interface {
			own = own.Elem()
		}
		v.Set(own)
	case reflect.Struct:
		for i := range v.NumField() {
			inUnits(s, v.Field(i))
		}
	case reflect.Slice, reflect.Array:
		if k := v.Type().Elem().Kind(); k >= reflect.Bool && k <= reflect.Complex128 {
			return
		}
		if v.Kind() == reflect.Slice && v.CanSet() && !v.IsNil() {
			own := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			reflect.Copy(own, v)
			v.Set(own)
		}
		for i := range v.Len() {
			inUnits(s, v.Index(i))
		}
	}
}
