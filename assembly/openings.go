package assembly

import (
	"clampwright/parts"
	"clampwright/parts/geom"
)

// A screw's head and nut are as high as it is thick, about (ISO 4762, ISO 4032).
// tieRoom, mm, is what fingers need on both sides of a slot to thread a tie: common
// practice, no source.
const (
	screwHead = 1.0
	tieRoom   = 10.0
)

// placeOpenings places what goes through every mounting hole and slot of the plates:
// the head of a screw on its washer inside, the nut with its driver outside, and a tie
// with fingers on both sides. Holes of rods hold the rods.
func placeOpenings(a *Assembly) error {
	for _, plate := range a.Of(RolePlate) {
		if err := placeHeads(a, plate); err != nil {
			return err
		}
		for _, h := range plate.Part.Holes {
			if h.For != parts.ForMounting {
				continue
			}
			if err := placeScrew(a, plate, h); err != nil {
				return err
			}
		}
		for i, slot := range plate.Part.Flat.Profile.Slots {
			for _, way := range []string{Inside, Outside} {
				lo, hi := through(plate, way, tieRoom)
				err := putOpening(a, plate, ToolTie, parts.SlotID(i), way, geom.Vec2{}, func() (geom.Solid, error) {
					return geom.Prism(geom.Profile{Outer: slot.Oriented(true)}, lo, hi)
				})
				if err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// The sides of a plate, as the approach of what goes through it.
const (
	Inside  = "inside"
	Outside = "outside"
)

// through is the space before one side of a plate, along its outward axis, mm.
func through(plate *Instance, way string, deep float64) (lo, hi float64) {
	if way == Inside {
		return -deep, 0
	}
	thick := plate.Part.Flat.ThicknessMM
	return thick, thick + deep
}

// placeScrew places a screw's head with its washer, and its nut with the socket.
func placeScrew(a *Assembly, plate *Instance, h parts.Hole) error {
	screw, washer, _ := a.Fixture.FootScrew()
	deep := map[string]float64{Inside: (washer.Thickness + screwHead*screw.Major).MM()}
	deep[Outside] = deep[Inside] + a.Fixture.Tools.SocketWith.MM()
	for _, way := range []string{Inside, Outside} {
		lo, hi := through(plate, way, deep[way])
		err := putOpening(a, plate, ToolScrew, h.ID, way, h.C, func() (geom.Solid, error) { return geom.Cylinder(washer.Outer.MM()/2, lo, hi) })
		if err != nil {
			return err
		}
	}
	return nil
}

// putOpening adds what goes through an opening of a plate on one side of it; at is its
// place on the plate's flat.
func putOpening(a *Assembly, plate *Instance, k ToolKind, name, way string, at geom.Vec2, build func() (geom.Solid, error)) error {
	w := *plate
	w.ID = id("tool", string(k), way, "of", plate.ID, name)
	w.Frame.O = plate.FlatPoint(at)
	return putTool(a, Tool{Instance: w, Kind: k, On: plate.ID + " " + name, Approach: way}, string(k)+" "+way+name+plate.Part.ID, build)
}
