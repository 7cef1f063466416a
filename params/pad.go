package params

import (
	"fmt"

	"clampwright/params/catalog"
	"clampwright/params/unit"
)

// Soft says whether a sheet is a pad: one with a curve of pressure against squeeze of
// its own or its material's.
func (i *Insert) Soft() bool { return i != nil && (len(i.Curve) > 0 || len(i.Material.Squeeze) > 0) }

// squeezing is the curve of one sheet: its own, or its material's at its thickness.
func (i *Insert) squeezing() []SqueezePoint {
	if len(i.Curve) > 0 {
		return i.Curve
	}
	var out []SqueezePoint
	for _, p := range i.Material.Squeeze {
		out = append(out, SqueezePoint{Squeeze: unit.Length(p.Strain) * i.Thickness, Pressure: p.Pressure})
	}
	return out
}

// SqueezedAt is by how much a force presses one sheet together, new; 0 of a sheet that
// is no pad. It lies between the curve's points on straight lines from 0, and goes on
// beyond the last.
func (f *Fixture) SqueezedAt(i *Insert, force unit.Force) unit.Length {
	if !i.Soft() {
		return 0
	}
	p := float64(force) / (min(i.Width, f.Cell.Width).MM() * min(i.Height, f.Cell.Height).MM())
	var a, b SqueezePoint
	for _, q := range i.squeezing() {
		if q.Pressure <= 0 {
			continue
		}
		if a, b = b, q; p <= q.Pressure.MPa() {
			break
		}
	}
	if !(b.Pressure > a.Pressure) { // refused elsewhere
		return 0
	}
	at := a.Squeeze + (b.Squeeze-a.Squeeze)*unit.Length((p-a.Pressure.MPa())/(b.Pressure-a.Pressure).MPa())
	return min(at, i.Thickness)
}

// Pressed is a sheet's thickness in the set clamp.
func (f *Fixture) Pressed(i *Insert) unit.Length {
	return i.Thickness - f.SqueezedAt(i, f.Cell.ForceTarget)
}

// PadsGive is by how much all pads of a row are pressed together at a force on it, new.
func (f *Fixture) PadsGive(force unit.Force) unit.Length {
	return unit.Length(f.Pack.PerRow-1)*f.SqueezedAt(f.Separator, force) + 2*f.SqueezedAt(f.Liner, force)
}

// Pads says whether the stack has any.
func (f *Fixture) Pads() bool { return f.Separator.Soft() || f.Liner.Soft() }

// padded checks a sheet that is a pad: all of it presses, and it is not pressed flat.
func padded(r *resolver, path string, in InsertBlock, s *Insert) {
	if !s.Soft() {
		return
	}
	if s.Pattern != "sheet" {
		r.errorf(in.Pattern.At, path+": a pad with a pattern", s.Pattern, "a full sheet", "leave pattern out, or take a stiff material")
	}
	if s.Printed {
		r.errorf(in.Printed.At, path+": a pad that is printed", "printed: true", "a pad that is bought and cut", "leave printed out")
	}
	last := s.squeezing()
	most := last[len(last)-1]
	if len(in.Curve) > 0 && most.Squeeze > mostStrain*s.Thickness {
		r.errorf(in.Curve[len(in.Curve)-1].At, path+".curve squeezes the pad to nothing", r.text(most.Squeeze), fmt.Sprintf("%s or less of %s", r.text(mostStrain*s.Thickness), r.text(s.Thickness)), "")
		return
	}
	if r.sure("cell") && r.f.SqueezedAt(s, r.f.Cell.ForceTarget) > most.Squeeze {
		r.errorf(in.Material.At, path+": the pad is squeezed beyond its curve when the clamp is set", r.text(r.f.SqueezedAt(s, r.f.Cell.ForceTarget)),
			fmt.Sprintf("%s or less of %s", r.text(most.Squeeze), r.text(s.Thickness)), "take a firmer pad")
	}
}

// stiff refuses a pad where a part must not give way.
func stiff(r *resolver, path string, g wordV, m catalog.Material) catalog.Material {
	if len(m.Squeeze) > 0 {
		r.errorf(g.At, path+" is a pad, which gives way", m.Name, "a stiff material", "pads go into liners or separators")
		return standIn(r, "materials", "birch plywood", r.tables.Material)
	}
	return m
}
