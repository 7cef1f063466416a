package params

import (
	"clampwright/params/catalog"
	"clampwright/params/unit"
)

// FootScrew is the thickest screw of the rods' system that passes the mounting holes,
// and the large washer under its head. ok is false where no thread of the tables
// passes: both are then sized by the hole, the washer three times as wide (ISO 7093-1).
func (f *Fixture) FootScrew() (screw catalog.Thread, washer catalog.Washer, ok bool) {
	hole := f.Plate.Feet.HoleDia
	for _, t := range f.Tables.Threads {
		if t.System == f.Rods.Thread.System && t.HoleFine <= hole && t.Major > screw.Major {
			screw, ok = t, true
		}
	}
	if !ok {
		screw.Major = hole
	}
	washer, known := f.Tables.WasherFor(screw.Name, "large")
	if !ok || !known {
		washer = catalog.Washer{Outer: 3 * screw.Major, Thickness: hole / 4}
	}
	return screw, washer, ok
}

// beyondFeet is how far from the middle a plate must reach for the heads of its feet's
// screws to stand beside the widest cells.
func (f *Fixture) beyondFeet() unit.Length {
	if f.Plate.Feet == nil {
		return 0
	}
	_, washer, _ := f.FootScrew()
	return (f.Pack.Width+f.Cell.WidthTol)/2 + f.Clearances.MetalToCell + washer.Outer/2 + f.Plate.Feet.Inset
}
