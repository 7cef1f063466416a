package compare

import (
	"fmt"
	"math"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// angle compares two lengths of angle: section, then length and holes along it.
func (c *comparer) angle(was, is *parts.Part) Row {
	if was.Stock != is.Stock || was.SizeMM[1] != is.SizeMM[1] || was.SizeMM[2] != is.SizeMM[2] {
		return Row{Action: Make, Why: fmt.Sprintf("%s instead of %s", is.Stock, was.Stock)}
	}
	cut := min(c.old.Tolerances.CutLength, c.now.Tolerances.CutLength).MM()
	length := Proof{"length", was.SizeMM[0], is.SizeMM[0], cut}
	gauge := Proof{"hole line from the heel", heel(was), heel(is), c.holeAllow(is.Kind)}
	switch {
	case length.holds():
		return c.sameAngle(was, is, []Proof{length, gauge})
	case length.OldMM < length.NewMM:
		return Row{Action: Make, Why: c.mm(length.NewMM-length.OldMM) + " too short"}
	}
	return c.sawDown(was, is)
}

// heel is the distance of the hole line from the heel: the flat's upper edge, for
// angles are made standing up.
func heel(p *parts.Part) float64 {
	if p.Flat == nil {
		return 0
	}
	return p.Flat.Profile.Bounds().Max.Y
}

// onHeel is the drilled leg with the heel on y = 0: a place of its own.
func onHeel(p *parts.Part) geom.Profile {
	return p.Flat.Profile.Moved(geom.Vec2{Y: -heel(p)})
}

// sameAngle keeps an angle of the right length, trims it, or drills it again.
func (c *comparer) sameAngle(was, is *parts.Part, proof []Proof) Row {
	h := c.matchHoles(onHeel(was), onHeel(is), geom.Vec2{Y: -heel(is)}, is).moved(heel(was))
	// holes have been judged: only the legs' volumes count
	a, b := was.Solid.Volume()+drilled(was), is.Solid.Volume()+drilled(is)
	switch {
	case h.problem != "":
		return Row{Action: Make, Why: h.problem}
	case len(h.todo) > 0:
		return Row{Action: Redrill, Why: h.words() + h.note, at: onOld(was, is, 0), left: h.left}
	case b < a-math.Max(trimmed, proof[0].AllowMM*a/was.SizeMM[0]):
		return Row{Action: Recut, Why: "trim the ends of the standing leg" + h.note, at: onOld(was, is, 0), left: h.left}
	case b > a+math.Max(trimmed, proof[0].AllowMM*a/was.SizeMM[0]):
		return Row{Action: Make, Why: "the ends of the standing leg are trimmed too far"}
	}
	return Row{Action: Keep, Why: "the same length and holes" + h.note, Proof: append(proof, h.proof...), at: onOld(was, is, 0), left: h.left}
}

// trimmed is the volume under which trimming does not count, mm3: a chamfer of
// half a millimetre.
const trimmed = 1.5

// drilled is the volume of a part's round holes.
func drilled(p *parts.Part) float64 {
	v := 0.0
	for _, h := range p.Flat.Profile.Circles {
		v += h.Area() * p.Flat.ThicknessMM
	}
	return v
}

// moved takes left-over holes from the heel back to the part's coordinates.
func (h holes) moved(y float64) holes {
	for k := range h.left {
		h.left[k].C.Y += y
	}
	return h
}

// onOld is where the new angle lies on the old one: heel on heel, x along it.
func onOld(was, is *parts.Part, x float64) geom.Vec2 {
	return geom.Vec2{X: x, Y: heel(was) - heel(is)}
}

// sawDown looks for a place on the longer angle whose holes serve or do not
// disturb.
func (c *comparer) sawDown(was, is *parts.Part) Row {
	a, b := onHeel(was), onHeel(is)
	spare := (was.SizeMM[0] - is.SizeMM[0]) / 2
	at := []float64{0, -spare, spare}
	for _, o := range a.Circles {
		for _, n := range b.Circles {
			if d := o.C.X - n.C.X; math.Abs(d) <= spare {
				at = append(at, d)
			}
		}
	}
	problem := ""
	for _, x := range at {
		shift := geom.Vec2{X: x}
		h := c.matchHoles(a, b.Moved(shift), shift.Sub(geom.Vec2{Y: heel(is)}), is).moved(heel(was))
		if h.problem == "" {
			return Row{Action: Recut, Why: c.sawOff(spare+x, spare-x) + also(h), at: onOld(was, is, x), left: h.left}
		}
		problem = h.problem
	}
	return Row{Action: Make, Why: "it is long enough, but " + problem}
}
