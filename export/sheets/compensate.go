package sheets

import (
	"errors"
	"fmt"
	"math"

	"clampwright/parts/geom"
)

// Cut is where the middle of a cutter or beam must run so that the drawn part is
// left.
type Cut struct {
	Profile geom.Profile
	// Drill are round holes that the cutter can't enter: mark their centres and
	// drill them.
	Drill []geom.Circle
	// ByHand are other openings, as drawn, that the cutter can't enter.
	ByHand []geom.Path
	// UncutMM2 is the area of material left in inner corners and notches that
	// are tighter than the tool, mm².
	UncutMM2 float64
}

// freeMM is how much wider than the tool a hole must be, mm: a cutter that
// plunges on the spot makes a hole, but neither round nor to size. Common
// practice, no source. A beam needs no such room.
const freeMM = 0.2

// beamMM is the width up to which a tool is taken for a beam that plunges
// anywhere: laser kerfs are below half a millimetre.
const beamMM = 0.6

// ErrSplit is an outline that falls apart when it is offset.
var ErrSplit = errors.New("the outline falls apart")

// Compensate returns the path of a tool of the given width (a cutter's diameter
// or a laser's kerf, mm) that leaves the profile as drawn. Width zero returns
// the profile itself.
func Compensate(p geom.Profile, widthMM float64) (Cut, error) {
	if !(widthMM >= 0 && widthMM <= 2*maxOffsetMM) {
		return Cut{}, fmt.Errorf("tool width %g mm: want 0 to %d", widthMM, 2*maxOffsetMM)
	}
	if err := p.Validate(); err != nil {
		return Cut{}, err
	}
	if widthMM == 0 {
		return Cut{Profile: p}, nil
	}
	var c Cut
	outer, uncut, err := offsetOne(p.Outer, widthMM/2)
	if err != nil {
		return Cut{}, fmt.Errorf("outline: %w", err)
	}
	c.Profile.Outer, c.UncutMM2 = outer, uncut
	for _, s := range p.Slots {
		if err := c.addSlot(s, widthMM/2); err != nil {
			return Cut{}, err
		}
	}
	for _, h := range p.Circles {
		c.addHole(h, widthMM)
	}
	return c, nil
}

func (c *Cut) addHole(h geom.Circle, widthMM float64) {
	least := widthMM + freeMM
	if widthMM <= beamMM {
		least = widthMM + 2*geom.MinSize
	}
	if 2*h.R < least {
		c.Drill = append(c.Drill, h)
		return
	}
	c.Profile.Circles = append(c.Profile.Circles, geom.Circle{C: h.C, R: h.R - widthMM/2})
}

func (c *Cut) addSlot(s geom.Path, d float64) error {
	loops, err := Offset(s, d)
	if errors.Is(err, ErrVanishes) {
		c.ByHand = append(c.ByHand, s)
		return nil
	}
	if err != nil {
		return err
	}
	left := math.Abs(s.Area())
	for _, l := range loops {
		if l.CCW() {
			return fmt.Errorf("slot: %w", ErrSplit)
		}
		c.Profile.Slots = append(c.Profile.Slots, l)
		left -= sweptArea(l, d)
	}
	c.UncutMM2 += max(0, left)
	return nil
}

// offsetOne offsets an outline outward and returns the outer curve; pockets that
// close up are material that stays. uncut is the area the tool leaves outside
// the drawn outline.
func offsetOne(p geom.Path, d float64) (out geom.Path, uncut float64, err error) {
	loops, err := Offset(p, d)
	if err != nil {
		return nil, 0, err
	}
	for _, l := range loops {
		if l.CCW() && out != nil {
			return nil, 0, ErrSplit
		}
		if l.CCW() {
			out = l
		}
	}
	if out == nil {
		return nil, 0, ErrVanishes
	}
	return out, max(0, sweptArea(out, d)-p.Area()), nil
}

// sweptArea is the area of what lies within the tool path on the material's
// side for an outline, and of what the tool clears for an opening.
func sweptArea(path geom.Path, d float64) float64 {
	back, err := offset(path, -d, 0)
	if err != nil {
		return math.Abs(path.Area())
	}
	area := 0.0
	for _, l := range back {
		area += math.Abs(l.Area())
	}
	return area
}
