package params

import (
	"slices"

	"clampwright/params/unit"
)

// Sizes are the lengths that parts of the clamp are made to, by the path of their key;
// of a list each.
func (f *Fixture) Sizes() map[string][]*unit.Length {
	p, r := &f.Plate, &f.Rods
	out := map[string][]*unit.Length{"plates.thickness": {&p.Thickness}, "plates.width": {&p.Width}, "plates.height": {&p.Height}, "plates.bottom": {&p.Bottom},
		"rods.hole": {&r.Hole}, "rods.length": {&r.Length}}
	for path, list := range map[string][]unit.Length{"rods.levels": r.Levels, "rods.columns": r.Columns} {
		for i := range list {
			out[path] = append(out[path], &list[i])
		}
	}
	if s := f.Stiffener; s != nil {
		out["stiffeners.length"], out["stiffeners.gauge"] = []*unit.Length{&s.Length}, []*unit.Length{&s.Gauge}
	}
	if s := f.Sleeve; s != nil {
		out["sleeves.end_gap"] = []*unit.Length{&s.EndGap}
	}
	for name, i := range map[string]*Insert{"separators": f.Separator, "liners": f.Liner} {
		if i != nil {
			for key, l := range map[string]*unit.Length{"width": &i.Width, "height": &i.Height, "bottom": &i.Bottom, "thickness": &i.Thickness} {
				out[name+"."+key] = []*unit.Length{l}
			}
		}
	}
	return out
}

// AsMade is the fixture with the sizes of some paths as they were made and all else as
// settled; false where it has no such size, or not as many. With other separators a row is
// longer or shorter, unless it was measured with them.
func (f *Fixture) AsMade(made map[string][]unit.Length) (*Fixture, bool) {
	g := *f
	g.Stiffener, g.Sleeve, g.Separator, g.Liner = copied(f.Stiffener), copied(f.Sleeve), copied(f.Separator), copied(f.Liner)
	g.Rods.Levels, g.Rods.Columns = slices.Clone(f.Rods.Levels), slices.Clone(f.Rods.Columns)
	sizes := g.Sizes()
	for path, list := range made {
		if len(sizes[path]) != len(list) {
			return nil, false
		}
		for i, l := range list {
			*sizes[path][i] = l
		}
	}
	if g.Separator != nil {
		more := g.Separator.Thickness - f.Separator.Thickness
		if g.Pack.Measured {
			g.Pack.CellThickness -= more * unit.Length(g.Pack.PerRow-1) / unit.Length(g.Pack.PerRow)
		} else {
			g.Pack.StackLength += more * unit.Length(g.Pack.PerRow-1)
		}
		g.Pack.Pitch = g.Pack.CellThickness + g.Separator.Thickness
	}
	return &g, true
}

func copied[T any](p *T) *T {
	if p == nil {
		return nil
	}
	return new(*p)
}
