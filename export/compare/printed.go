package compare

import (
	"math"
	"strings"

	"clampwright/parts"
)

// capPlay is how far a rod cap's length may differ, mm: longer, its end stands
// clear of the rod's; shorter, as much more thread stays bare at the nut, where
// half a millimetre is bare anyway. Common practice, no source.
const capPlay = 1

// rodCaps says whether both are caps for the same thread and nuts, printed alike.
func (c *comparer) rodCaps(was, is *parts.Part) bool {
	const id = "rod-cap"
	return strings.HasPrefix(was.ID, id) && strings.HasPrefix(is.ID, id) &&
		c.old.Rods.Thread.Major == c.now.Rods.Thread.Major && c.outerNut() == [2]float64{}
}

// outerNut is how far the nuts that caps reach over differ in width and height, mm.
func (c *comparer) outerNut() [2]float64 {
	a, b := c.old.Nut, c.now.Nut
	if c.old.JamNut != nil {
		a = *c.old.JamNut
	}
	if c.now.JamNut != nil {
		b = *c.now.JamNut
	}
	return [2]float64{(a.Flats - b.Flats).MM(), (a.Height - b.Height).MM()}
}

// rodCap keeps a cap whose length is within its play.
func (c *comparer) rodCap(was, is *parts.Part) Row {
	across := Proof{"diameter", was.SizeMM[0], is.SizeMM[0], 0}
	length := Proof{"length", was.SizeMM[2], is.SizeMM[2], capPlay}
	switch {
	case across.OldMM < across.NewMM-rounding:
		return Row{Action: Make, Why: c.differs(across) + ": so little thread stands out of the nut now that the cap is to reach over the nut"}
	case !across.holds():
		return Row{Action: Make, Why: c.differs(across) + ": enough thread stands out of the nut now to hold a cap by itself"}
	case !length.holds():
		return Row{Action: Make, Why: c.differs(length)}
	case math.Abs(was.Solid.Volume()-is.Solid.Volume()) > math.Pi/4*across.NewMM*across.NewMM*length.DifferenceMM()+sameVolume*is.Solid.Volume():
		return Row{Action: Make, Why: "another shape within the same box"}
	}
	return Row{Action: Keep, Why: "it still covers the rod's end", Proof: []Proof{across, length}}
}

// longerPrism says whether the old part is the new one's section, only longer.
func longerPrism(was, is *parts.Part) bool {
	for k := range 2 {
		if math.Abs(was.SizeMM[k]-is.SizeMM[k]) > rounding {
			return false
		}
	}
	a, b := was.Solid.Volume()/was.SizeMM[2], is.Solid.Volume()/is.SizeMM[2]
	return was.SizeMM[2] > is.SizeMM[2]+rounding && math.Abs(a-b) <= rounding*math.Max(a, b)
}
