package params

import "clampwright/params/unit"

// MinInsulation is the thinnest sheet wanted between bare cases, or a case and
// metal: common practice is 0.3 to 1 mm of glass laminate, polypropylene or
// polyester, no source.
const MinInsulation unit.Length = 0.3

// Insulation is what a sheet keeps between a bare face and another, or metal: its
// thickness, of a pad what is left of it under the greatest force; nothing where it conducts; where it has windows, what is left of them
// when the cells have domed into them from so many sides.
func (f *Fixture) Insulation(i *Insert, sides int) unit.Length {
	switch {
	case i == nil || i.Material.Conducts:
		return 0
	case i.Pattern == "sheet":
		return i.Thickness - f.SqueezedAt(i, f.Cell.ForceLimit)
	}
	return max(0, i.Thickness-unit.Length(sides)*(f.Clamp.Grown()+f.Clamp.Bulge)/2)
}

// Insulates says whether the sleeve keeps its rod off whatever is beside it.
func (s *Sleeve) Insulates() bool {
	return s != nil && !s.Material.Conducts && (s.Outer-s.Inner)/2 >= MinInsulation
}

// Grown is the most that a free cell's thickness grows: aged, at whatever charge it
// is thickest.
func (c *Clamp) Grown() unit.Length {
	grown := c.Aged
	for _, p := range c.Growth {
		grown = max(grown, c.Aged+p.Growth)
	}
	return grown
}
