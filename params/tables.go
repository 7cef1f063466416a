package params

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"clampwright/params/catalog"
	"clampwright/params/diag"
	"clampwright/params/number"
)

// TablesBlock holds the user's own table rows. A row whose name is in the
// built-in table starts from that row and replaces what it gives; a new name
// adds a row.
type TablesBlock struct {
	Section
	Threads   []catalog.Thread       `key:"threads" doc:"screw threads"`
	Grades    []catalog.Grade        `key:"grades" doc:"strength classes of rods"`
	Nuts      []catalog.Nut          `key:"nuts" doc:"nuts"`
	Washers   []catalog.Washer       `key:"washers" doc:"washers"`
	Angles    []catalog.AngleSection `key:"angles" doc:"angle sections"`
	Materials []catalog.Material     `key:"materials" doc:"materials; of seats, creep and heat what is left out is taken as the least of the family"`
	Cells     []catalog.Cell         `key:"cells" doc:"cells"`
	Drills    []catalog.Drill        `key:"drills" doc:"drills"`
	Sockets   []catalog.Socket       `key:"sockets" doc:"sockets"`
	Discs     []catalog.DiscSpring   `key:"discs" doc:"disc springs"`
	Coils     []catalog.CoilSpring   `key:"coils" doc:"coil springs"`
}

// ownSource is the source of rows that stand in the parameter file.
const ownSource = "the parameter file"

// rowUnits are the suffixes by which the inner names of row fields state their
// unit; the file leaves them out, because every value there carries its unit.
var rowUnits = []string{"_mm2", "_mm", "_mpa", "_nmm", "_n", "_g", "_c"}

// rowKey is the file's key of a table row's field.
func rowKey(jsonTag string) string {
	name, _, _ := strings.Cut(jsonTag, ",")
	if name == "density_g_cm3" || name == "cte_per_k" {
		return name
	}
	for _, s := range rowUnits {
		if k, ok := strings.CutSuffix(name, s); ok {
			return k
		}
	}
	return name
}

// rowZero are the row fields for which zero is a real value.
var rowZero = map[string]bool{
	"root_radius": true, "toe_radius": true, "drag_max": true, "drag_min": true, "mass": true,
	"stud_height": true, "clamp_force": true, "clamp_force_tol": true, "thickness_tol": true, "width_tol": true,
	"height_tol": true, "cte_per_k": true, "vent_length": true, "vent_width": true, "factor": true, "hours": true,
	"terminal_height": true, "capacity_ah": true, "resistance_mohm": true, "terminal_pitch": true, "terminal_diameter": true,
}

// builtinRow returns the built-in row of the type and name, to start a user's
// row from.
func builtinRow(t reflect.Type, name string) (reflect.Value, bool) {
	b := catalog.Builtin()
	var row any
	var ok bool
	switch t {
	case reflect.TypeFor[catalog.Thread]():
		row, ok = b.Thread(name)
	case reflect.TypeFor[catalog.Grade]():
		row, ok = b.Grade(name)
	case reflect.TypeFor[catalog.Nut]():
		row, ok = b.Nut(name)
	case reflect.TypeFor[catalog.Washer]():
		row, ok = b.Washer(name)
	case reflect.TypeFor[catalog.AngleSection]():
		row, ok = b.Angle(name)
	case reflect.TypeFor[catalog.Material]():
		row, ok = b.Material(name)
	case reflect.TypeFor[catalog.Cell]():
		row, ok = b.Cell(name)
	case reflect.TypeFor[catalog.DiscSpring]():
		row, ok = b.Disc(name)
	case reflect.TypeFor[catalog.CoilSpring]():
		row, ok = b.Coil(name)
	}
	return reflect.ValueOf(row), ok
}

// isRow reports whether a type is a table row: the rows live in package catalog
// and the blocks of the file here.
func isRow(t reflect.Type) bool { return t.PkgPath() == reflect.TypeFor[catalog.Cell]().PkgPath() }

// seedRow starts a user's row from the built-in row of the same name.
func (d *decoder) seedRow(m *ast.MappingNode, v reflect.Value) {
	for _, kv := range m.Values {
		if kv.Key.GetToken().Value != "name" {
			continue
		}
		if name, ok := scalarText(kv.Value); ok {
			if row, found := builtinRow(v.Type(), name); found {
				v.Set(row)
			}
		}
	}
	if s := v.FieldByName("Source"); s.IsValid() {
		s.SetString(ownSource)
	}
}

// checkRow wants a name and every size that has no natural zero.
func (d *decoder) checkRow(at diag.Range, v reflect.Value, path string) {
	if n := v.FieldByName("Name"); n.IsValid() && n.String() == "" {
		if slices.Contains(d.broken, path+".name") {
			return
		}
		d.breaks(path + ".name")
		d.errorf(at, path+" has no name", "", "name: ...", "")
		return
	}
	d.checkRowLimits(at, v, path)
	completeRow(v)
	if m, ok := v.Addr().Interface().(*catalog.Material); ok {
		d.checkSqueeze(at, m.Squeeze, path+".squeeze")
	}
	for _, f := range fieldsOf(v.Type()).list {
		x, numeric := numberIn(v.Field(f.index))
		switch {
		case !numeric || f.quantity == qTemperature || slices.Contains(d.broken, path+"."+f.key):
		case x < 0:
			d.breaks(path + "." + f.key)
			d.errorf(at, path+"."+f.key+" is negative", "", "zero or more", "")
		case x == 0 && !f.optional && !rowZero[f.key]:
			d.breaks(path + "." + f.key)
			d.errorf(at, path+" lacks "+f.key, "", f.key+": "+f.quantity.words(), "")
		}
	}
}

// mostStrain is how far a pad can be squeezed together, as a part of its thickness.
const mostStrain = 0.95

// checkSqueeze wants a pad's curve to rise from nothing, and to end before nothing is left.
func (d *decoder) checkSqueeze(at diag.Range, points []catalog.StrainPoint, path string) {
	if len(points) == 1 {
		d.errorf(at, path+" has one point", "1", "two points or more", "")
	}
	last := catalog.StrainPoint{}
	for i, p := range points {
		switch {
		case p.Strain > mostStrain:
			d.errorf(at, fmt.Sprintf("%s: strain of point %d is out of range", path, i+1), number.Trim(p.Strain, 3), fmt.Sprintf("%g or less, of the thickness", mostStrain), "write 30 % as 0.3")
			return
		case p.Strain <= last.Strain || p.Pressure <= last.Pressure:
			d.errorf(at, path+" doesn't rise", fmt.Sprintf("point %d", i+1), "each point with more strain and more pressure than the one before", "sort the points")
			return
		}
		last = p
	}
}

// completeRow fills in what follows from the rest of a user's row.
func completeRow(v reflect.Value) {
	switch t := v.Addr().Interface().(type) {
	case *catalog.Thread:
		if t.Major > 0 && t.Pitch > 0 {
			*t = catalog.CompleteThread(*t)
		}
	case *catalog.Material:
		catalog.CompleteMaterial(t)
	}
}

// mergeTables lays the user's rows over the built-in tables.
func mergeTables(b TablesBlock) catalog.Tables {
	t := catalog.Builtin()
	t.Merge(catalog.Tables{
		Threads: b.Threads, Grades: b.Grades, Nuts: b.Nuts, Washers: b.Washers, Angles: b.Angles,
		Materials: b.Materials, Cells: b.Cells, Drills: b.Drills, Sockets: b.Sockets, Discs: b.Discs, Coils: b.Coils,
	})
	return t
}
