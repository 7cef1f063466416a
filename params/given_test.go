package params

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"clampwright/params/unit"
)

const plain = `fixture: f
cell: {model: 72x174x201, force: 3 kN}
pack: {cells: 8, rows: 2}
plates: {feet: {}}
stiffeners: {}
sleeves: {}
springs: {disc: 20x10.2x1.1}
separators: {pattern: ribs}
liners: {material: fr4}
`

// holds says whether a fixture holds a number anywhere.
func holds(v reflect.Value, x float64) bool {
	switch v.Kind() {
	case reflect.Pointer:
		return !v.IsNil() && v.Type() != reflect.TypeFor[*File]() && holds(v.Elem(), x)
	case reflect.Struct:
		for i := range v.NumField() {
			if name := v.Type().Field(i).Name; name != "Tables" && name != "origins" && holds(v.Field(i), x) {
				return true
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			if holds(v.Index(i), x) {
				return true
			}
		}
	case reflect.Float64:
		return math.Abs(v.Float()-x) < 1e-9*max(1, math.Abs(x))
	case reflect.Int, reflect.Int64:
		return float64(v.Int()) == x
	}
	return false
}

// measured are values as they come out on the fixture, where the field alone could
// say anything, and those that the fixture holds in another form.
var measured = map[string]func(f *Fixture) float64{
	"rods.clearance":                  func(f *Fixture) float64 { return float64(f.Rods.Columns[2] - f.Pack.Width/2 - f.Rods.Thread.Major/2) },
	"rods.edge_distance":              func(f *Fixture) float64 { return float64(f.Plate.Width/2 - f.Rods.Columns[2]) },
	"rods.end_allowance":              func(f *Fixture) float64 { return float64(f.Rods.Length-f.Chain().All().Thick(LayerCell, LayerLeg)) / 2 },
	"pack.row_gap":                    func(f *Fixture) float64 { return float64(f.Pack.RowX[1] - f.Pack.RowX[0] - f.Cell.Width) },
	"pack.stack":                      func(f *Fixture) float64 { return float64(f.Pack.CellThickness*4 + f.Separator.Thickness*3) },
	"sleeves.wall":                    func(f *Fixture) float64 { return float64(f.Sleeve.Outer-f.Sleeve.Inner) / 2 },
	"sleeves.fit":                     func(f *Fixture) float64 { return float64(f.Sleeve.Inner-f.Rods.Thread.Major) / 2 },
	"cell.swell_zone":                 func(f *Fixture) float64 { return float64(f.Cell.SwellWidth / f.Cell.Width) },
	"cell.force_tolerance":            func(f *Fixture) float64 { return float64(f.Cell.ForceHigh - f.Cell.ForceTarget) },
	"cell.pressure":                   func(f *Fixture) float64 { return float64(f.Cell.ForceTarget) / float64(f.Cell.Width*f.Cell.Height) },
	"clamp.cell_expansion":            func(f *Fixture) float64 { return f.Clamp.CellCTE * 1e6 },
	"electrical.series":               func(f *Fixture) float64 { return float64(f.Electrical.Series) },
	"rods.level_count":                func(f *Fixture) float64 { return float64(len(f.Rods.Levels)) },
	"cell.terminals.minus.from_edge":  func(f *Fixture) float64 { return float64(f.Cell.Width/2 + f.Cell.Minus.X) },
	"cell.terminals.plus.from_edge":   func(f *Fixture) float64 { return float64(f.Cell.Width/2 - f.Cell.Plus.X) },
	"cell.terminals.minus.from_front": func(f *Fixture) float64 { return float64(f.Cell.Thickness/2 - f.Cell.Minus.Z) },
	"cell.terminals.plus.from_front":  func(f *Fixture) float64 { return float64(f.Cell.Thickness/2 - f.Cell.Plus.Z) },
	"cell.vent.from_minus":            func(f *Fixture) float64 { return float64(f.Cell.Width/2 + f.Cell.VentX) },
	"cell.vent.from_front":            func(f *Fixture) float64 { return float64(f.Cell.Thickness/2 - f.Cell.VentZ) },
	"stiffeners.length":               func(f *Fixture) float64 { return float64(f.Stiffener.Length) },
}

// odd are values in a field's limits that nothing rounds to by itself, near what the
// fixture has and far from it.
func odd(p PathInfo, now float64) []string {
	if p.Kind == "count" {
		return []string{"3", "2", "4", "8", "12", fmt.Sprint(p.Hi)}
	}
	suffix := map[string]string{"length": " mm", "force": " N", "pressure": " MPa", "mass": " g", "torque": " N.mm", "temperature": " C"}[p.Kind]
	var out []string
	for _, x := range []float64{now*1.0137 + 0.0171, now*0.9873 + 0.0113, now*1.213 + 0.3371, p.Lo + (p.Hi-p.Lo)*0.01371, p.Lo + (p.Hi-p.Lo)*0.4137, p.Lo*1.0371 + 0.0173} {
		x = math.Round(x*1e4) / 1e4
		if p.Hi == 0 || x > p.Lo && x < p.Hi {
			out = append(out, fmt.Sprintf("%g", x)+suffix)
		}
	}
	return out
}

// What is given is kept: every number of the file, given oddly, comes out as it was
// given and is told as given, or the file is refused.
func TestGivenIsKept(t *testing.T) {
	base, diags := Load("g.yaml", []byte(plain))
	if base == nil {
		t.Fatal(diags)
	}
	var refused []string
	for _, p := range Paths() {
		quantity := quantity(p.Kind)
		if quantity == qWord || quantity == qSwitch || p.Path == "fractions" || p.Path == "tolerances.seed" {
			continue
		}
		now := 0.0
		if l, err := unit.ParseNumber(strings.Fields(base.Origin(p.Path).Text + " 0")[0]); err == nil {
			now = l
		}
		settled := false
		for _, value := range odd(p, now) {
			changes := []Change{{Path: p.Path, Value: value}}
			if strings.HasPrefix(p.Path, "cell.pressure") {
				changes = append(changes, Change{Path: "cell.force"}, Change{Path: "cell.force_tolerance"})
				if p.Path == "cell.pressure_tolerance" {
					changes = append(changes, Change{Path: "cell.pressure", Value: "0.09 MPa"})
				}
			}
			if p.Path == "fillers.sheets" {
				changes = append(changes, Change{Path: "pack.cells", Value: "7"})
			}
			if slices.Contains([]string{"room.gap", "room.leads", "room.hand"}, p.Path) {
				changes = append(changes, Change{Path: "room.width", Value: "900 mm"})
			}
			if p.Path == "cell.terminals.spacing" {
				changes = append(changes, Change{Path: "cell.terminals.screws", Value: "2"})
			}
			if p.Path == "cell.terminals.screws" {
				changes = append(changes, Change{Path: "cell.terminals.spacing", Value: "5 mm"})
			}
			_, f, err := Set("g.yaml", []byte(plain), changes)
			if err != nil {
				continue
			}
			settled = true
			x, _ := quantity.parse(value, unit.Millimetre)
			kept := holds(reflect.ValueOf(*f), x)
			if p.Path == "cell.pressure_tolerance" {
				kept = math.Abs(float64(f.Cell.ForceHigh-f.Cell.ForceTarget)/float64(f.Cell.Width*f.Cell.Height)-x) < 1e-9
			} else if m := measured[p.Path]; m != nil {
				kept = math.Abs(m(f)-x) < 1e-9*max(1, x)
			}
			if !kept {
				t.Errorf("%s: %s is not in the fixture", p.Path, value)
			}
			if o := f.Origin(p.Path); o.Kind != FromFile {
				t.Errorf("%s: %s is told as %s", p.Path, value, o.Kind)
			}
			break
		}
		if !settled {
			refused = append(refused, p.Path)
		}
	}
	if len(refused) > 0 {
		t.Errorf("no odd value of these settles: %v", refused)
	}
}

// What contradicts itself is refused, and what is more than asked is told as it is.
func TestGivenTwice(t *testing.T) {
	for _, c := range []struct{ path, value, with, also, want string }{
		{"rods.clearance", "9 mm", "rods.columns", "[-200 mm, 0 mm, 187 mm]", "the rods' columns leave less than rods.clearance"},
		{"rods.clearance", "9 mm", "rods.columns", "[-220 mm, 0 mm, 220 mm]", ""},
		{"rods.end_allowance", "30 mm", "rods.length", "350 mm", "the rod is too short for rods.end_allowance"},
		{"rods.end_allowance", "30 mm", "rods.length", "900 mm", ""},
	} {
		_, f, err := Set("g.yaml", []byte(plain), []Change{{Path: c.path, Value: c.value}, {Path: c.with, Value: c.also}})
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s %s with %s %s: %v", c.path, c.value, c.with, c.also, err)
		}
		if f != nil && c.path == "rods.end_allowance" && f.Origin(c.path).Kind == FromFile {
			t.Errorf("%g mm at each end is told as the 30 mm given", float64(f.Rods.EndAllowance))
		}
	}
}
