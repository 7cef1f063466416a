package check

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/params/unit"
)

// Apply returns a copy of the fixture with the settings made. Values that
// other values were derived from are changed alone: this answers whether a
// remedy clears a check, it does not settle the fixture anew. It fails on a
// parameter that it does not know or that the fixture does not have.
func Apply(f *params.Fixture, set []finding.Setting) (*params.Fixture, error) {
	out := clone(f)
	for _, s := range set {
		if err := apply(out, s); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// clone copies every part of a fixture that Apply writes to.
func clone(f *params.Fixture) *params.Fixture {
	out := *f
	out.Rods.Columns = slices.Clone(f.Rods.Columns)
	out.Rods.Levels = slices.Clone(f.Rods.Levels)
	out.Pack.RowX = slices.Clone(f.Pack.RowX)
	out.Stiffener = copyOf(f.Stiffener)
	if out.Stiffener != nil {
		out.Stiffener.StandingUp = slices.Clone(f.Stiffener.StandingUp)
	}
	out.Separator, out.Liner = copyOf(f.Separator), copyOf(f.Liner)
	out.Sleeve, out.Spring = copyOf(f.Sleeve), copyOf(f.Spring)
	out.Plate.Feet = copyOf(f.Plate.Feet)
	return &out
}

func copyOf[T any](p *T) *T {
	if p == nil {
		return nil
	}
	v := *p
	return &v
}

func apply(f *params.Fixture, s finding.Setting) error {
	if s.Word != "" {
		return applyWord(f, s)
	}
	if math.IsNaN(s.Value) || math.IsInf(s.Value, 0) {
		return fmt.Errorf("%s: %g is no length", s.Param, s.Value)
	}
	if s.Param == "pack.row_gap" {
		return applyRowGap(f, unit.Length(s.Value))
	}
	field, err := lengthField(f, s.Param)
	if err != nil {
		return err
	}
	*field = unit.Length(s.Value)
	return nil
}

// lengthField finds the fixture's field for a path such as "rods.columns[1]".
func lengthField(f *params.Fixture, path string) (*unit.Length, error) {
	name, index, err := splitIndex(path)
	if err != nil {
		return nil, err
	}
	if list, ok := lists(f)[name]; ok {
		if index < 0 || index >= len(list) {
			return nil, fmt.Errorf("%s: there are %d of them", path, len(list))
		}
		return &list[index], nil
	}
	if field := lengths(f)[name]; field != nil && index < 0 {
		return field, nil
	}
	return nil, fmt.Errorf("%s cannot be set in this fixture", path)
}

// splitIndex splits "rods.columns[1]" into its name and index, -1 for none.
func splitIndex(path string) (string, int, error) {
	name, rest, found := strings.Cut(path, "[")
	if !found {
		return path, -1, nil
	}
	i, err := strconv.Atoi(strings.TrimSuffix(rest, "]"))
	if err != nil {
		return "", 0, fmt.Errorf("%s: not an index", path)
	}
	return name, i, nil
}

func lists(f *params.Fixture) map[string][]unit.Length {
	return map[string][]unit.Length{"rods.columns": f.Rods.Columns, "rods.levels": f.Rods.Levels}
}

// lengths maps paths of the parameter file to the settled fields.
func lengths(f *params.Fixture) map[string]*unit.Length {
	m := map[string]*unit.Length{
		"plates.width": &f.Plate.Width, "plates.height": &f.Plate.Height, "plates.bottom": &f.Plate.Bottom,
		"plates.corner_radius": &f.Plate.CornerRadius, "plates.thickness": &f.Plate.Thickness,
		"rods.length": &f.Rods.Length, "rods.hole": &f.Rods.Hole, "rods.pilot": &f.Rods.Pilot,
		"tools.cutter": &f.Tools.Cutter, "tools.socket": &f.Tools.Socket.Outer,
		"pack.stack":    &f.Pack.StackLength,
		"printer.bed_x": &f.Printer.BedX, "printer.bed_y": &f.Printer.BedY, "printer.bed_z": &f.Printer.BedZ,
	}
	if s := f.Stiffener; s != nil {
		m["stiffeners.gauge"], m["stiffeners.length"], m["stiffeners.chamfer"] = &s.Gauge, &s.Length, &s.Chamfer
	}
	if s := f.Sleeve; s != nil {
		m["sleeves.end_gap"] = &s.EndGap
	}
	if f.Plate.Feet != nil {
		m["plates.feet.inset"], m["plates.feet.hole"] = &f.Plate.Feet.Inset, &f.Plate.Feet.HoleDia
	}
	insert(m, "separators", f.Separator)
	insert(m, "liners", f.Liner)
	return m
}

func insert(m map[string]*unit.Length, name string, i *params.Insert) {
	if i == nil {
		return
	}
	m[name+".thickness"], m[name+".width"] = &i.Thickness, &i.Width
	m[name+".height"], m[name+".bottom"] = &i.Height, &i.Bottom
}

// applyRowGap moves two rows apart; what stands outside them moves along, as it
// would when derived anew: outer rods and the plates' edges keep their distance.
func applyRowGap(f *params.Fixture, gap unit.Length) error {
	if f.Pack.Rows != 2 {
		return fmt.Errorf("pack.row_gap cannot be set with %d rows", f.Pack.Rows)
	}
	more := gap - f.Pack.RowGap
	f.Pack.RowGap = gap
	f.Pack.Width += more
	f.Plate.Width += more
	spread := func(at []unit.Length) {
		at[0] -= more / 2
		at[len(at)-1] += more / 2
	}
	spread(f.Pack.RowX)
	spread(f.Rods.Columns)
	if f.Stiffener != nil {
		f.Stiffener.Length += more
	}
	return nil
}

func applyWord(f *params.Fixture, s finding.Setting) error {
	return fmt.Errorf("%s cannot be set to %q in this fixture", s.Param, s.Word)
}
