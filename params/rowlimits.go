package params

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"clampwright/params/catalog"
	"clampwright/params/diag"
	"clampwright/params/number"
)

// rowLimits are what the numbers of a user's row may be, in the unit of their field
// (pressures in MPa), so that a slipped point or a wrong unit is seen. A zero stands for
// what is left out.
var rowLimits = map[string][2]float64{
	"nu":            {0.001, 0.5},
	"cte_per_k":     {1e-7, 1e-3},
	"density_g_cm3": {0.01, 23},
	"hot_factor":    {0.01, 1},
	"factor":        {0.01, 1},
	"modulus":       {50000, 250000}, // of rods
}

// rowOrders are sizes of which the first is no more than times the second.
var rowOrders = []struct {
	row          reflect.Type
	small, large string
	times        float64
}{
	{reflect.TypeFor[catalog.Thread](), "minor_diameter", "pitch_diameter", 1},
	{reflect.TypeFor[catalog.Thread](), "pitch_diameter", "major", 1},
	{reflect.TypeFor[catalog.Thread](), "major", "hole_fine", 1},
	{reflect.TypeFor[catalog.Grade](), "proof", "yield", 1},
	{reflect.TypeFor[catalog.Grade](), "yield", "tensile", 1},
	{reflect.TypeFor[catalog.Nut](), "height_min", "height", 1},
	{reflect.TypeFor[catalog.Nut](), "flats", "corners", 1},
	{reflect.TypeFor[catalog.Nut](), "bearing", "corners", 1},
	{reflect.TypeFor[catalog.Washer](), "inner", "outer", 1},
	{reflect.TypeFor[catalog.Washer](), "outer", "thickness", washerThin},
	{reflect.TypeFor[catalog.DiscSpring](), "inner", "outer", 1},
	{reflect.TypeFor[catalog.CoilSpring](), "wire", "mean_diameter", 1},
	{reflect.TypeFor[catalog.CoilSpring](), "solid_length", "free_length", 1},
	{reflect.TypeFor[catalog.Material](), "seat_long", "seat_short", 1},
}

// washerThin is how wide a washer may be in its thicknesses: a thinner one bends and does
// not spread the force. ISO 7093 has 10 to 13; common practice, no source.
const washerThin = 20

// checkRowLimits holds the numbers of a row against their limits and each other.
func (d *decoder) checkRowLimits(at diag.Range, v reflect.Value, path string) {
	value := func(key string) float64 {
		f, ok := fieldsOf(v.Type()).byKey[key]
		if !ok || slices.Contains(d.broken, path+"."+key) {
			return 0
		}
		x, _ := numberIn(v.Field(f.index))
		return x
	}
	for _, f := range fieldsOf(v.Type()).list {
		if limit, ok := rowLimits[f.key]; ok {
			if x := value(f.key); x != 0 && (x < limit[0] || x > limit[1]) {
				d.breaks(path + "." + f.key)
				d.errorf(at, path+"."+f.key+" is out of range", number.Trim(x, 7), number.Trim(limit[0], 7)+" to "+number.Trim(limit[1], 7), "look at the point and the unit")
			}
		}
	}
	for _, o := range rowOrders {
		if small, large := value(o.small), value(o.large); o.row == v.Type() && small > 0 && large > 0 && small > o.times*large {
			d.breaks(path + "." + o.small)
			times := ""
			if o.times != 1 {
				times = fmt.Sprintf("%g times ", o.times)
			}
			d.errorf(at, fmt.Sprintf("%s: %s is more than %s%s", path, o.small, times, o.large), number.Trim(small, 4), "no more than "+number.Trim(o.times*large, 4), "measure both again")
		}
	}
	if m, ok := v.Addr().Interface().(*catalog.Material); ok && !slices.Contains(catalog.Families, m.Family) && !slices.Contains(d.broken, path+".family") {
		d.breaks(path + ".family")
		d.errorf(at, path+" is of no known family", fmt.Sprintf("%q", m.Family), "one of "+strings.Join(catalog.Families, ", "), "it decides what is assumed of creep and heat, and whether it conducts")
	}
}
