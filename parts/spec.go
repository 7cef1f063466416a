package parts

import (
	"fmt"
	"math"
	"regexp"

	"clampwright/parts/geom"
)

// Material is what a part is made of, as far as its description needs it.
type Material struct {
	Name        string
	DensityGCM3 float64 // g/cm³; zero when unknown: the mass is then zero
	Conducts    bool
}

// Label is what names a part. ID must be safe as a file name; the rest may be
// empty.
type Label struct {
	ID, Name, Mark, Stock string
}

// Error is a part that cannot be made as specified: which part, what about it,
// and the cause, often a geom.SizeError or geom.HoleError.
type Error struct {
	Part, What string
	Err        error
}

func (e *Error) Error() string { return fmt.Sprintf("%s: %s: %v", e.Part, e.What, e.Err) }

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

var safeID = regexp.MustCompile(`^[a-z0-9][a-z0-9._-]{0,79}$`)

// size is one dimension and its allowed range, mm.
type size struct {
	what   string
	v      float64
	lo, hi float64
	why    string
}

// longest is the greatest dimension of a part, mm: more than any stock.
const longest = 12000

// check reports the first bad dimension, or an unusable ID or density.
func (l Label) check(m Material, sizes ...size) error {
	if !safeID.MatchString(l.ID) {
		return &Error{l.ID, "identifier", fmt.Errorf("%q must be lower-case letters, digits, dots and dashes", l.ID)}
	}
	if !(m.DensityGCM3 >= 0 && m.DensityGCM3 <= 30) {
		return &Error{l.ID, "density", &geom.SizeError{What: "density in g/cm³", Got: m.DensityGCM3, Max: 30}}
	}
	for _, s := range sizes {
		if !(s.v >= s.lo && s.v <= s.hi) {
			return &Error{l.ID, s.what, &geom.SizeError{What: s.what, Got: s.v, Min: s.lo, Max: s.hi, Constraint: s.why}}
		}
	}
	return nil
}

// positive is a dimension that must be there.
func positive(what string, v float64) size { return size{what: what, v: v, lo: 0.01, hi: longest} }

// part fills in what every part has. Mass is exact volume times density.
func (l Label) part(k Kind, mk Make, m Material, s geom.Solid, sizeMM [3]float64) Part {
	return Part{
		ID: l.ID, Kind: k, Name: l.Name, Mark: l.Mark, Stock: l.Stock, Make: mk, Material: m.Name,
		Conducts: m.Conducts, Solid: s, SizeMM: sizeMM, MassG: s.Volume() / 1000 * m.DensityGCM3,
	}
}

// flatPart builds a part cut from sheet: the profile from z = 0 to thickness.
func (l Label) flatPart(k Kind, m Material, p geom.Profile, thicknessMM float64, holes []Hole) (Part, error) {
	s, err := geom.Prism(p, 0, thicknessMM)
	if err != nil {
		return Part{}, &Error{l.ID, "outline", err}
	}
	b := p.Bounds().Size()
	out := l.part(k, MakeSheet, m, s, [3]float64{b.X, b.Y, thicknessMM})
	out.Flat = &Flat{Profile: p.Normalized(), ThicknessMM: thicknessMM}
	out.Holes = holes
	return out, nil
}

// numbered gives holes without an ID the next free of H1, H2, ...
func numbered(groups ...[]Hole) []Hole {
	var out []Hole
	taken := map[string]bool{}
	for _, g := range groups {
		for _, h := range g {
			out = append(out, h)
			taken[h.ID] = true
		}
	}
	n := 0
	for i := range out {
		for out[i].ID == "" {
			n++
			if id := fmt.Sprintf("H%d", n); !taken[id] {
				out[i].ID = id
			}
		}
	}
	return out
}

// checkHoles reports, as a geom.HoleError, the first hole that breaks out of the
// outline or into a neighbour.
func (l Label) checkHoles(outer geom.Path, holes []Hole) error {
	seen := map[string]bool{}
	for i, h := range holes {
		if seen[h.ID] {
			return &Error{l.ID, h.name(), fmt.Errorf("two holes have this name")}
		}
		seen[h.ID] = true
		if err := l.check(Material{}, positive("diameter of hole "+h.ID, h.DiaMM)); err != nil {
			return err
		}
		need := h.DiaMM/2 + geom.MinLigament
		if have := outer.DistTo(h.C); !(have >= need) {
			return &Error{l.ID, h.name(), &geom.HoleError{Hole: h.ID, Where: "edge", NeedMM: need, HaveMM: have, MeasuredFrom: "edge"}}
		}
		for _, g := range holes[:i] {
			need, have := (g.DiaMM+h.DiaMM)/2+geom.MinLigament, g.C.Dist(h.C)
			if !(have >= need) {
				return &Error{l.ID, h.name(), &geom.HoleError{Hole: h.ID, Where: "hole " + g.ID, NeedMM: need, HaveMM: have, MeasuredFrom: "other centre"}}
			}
		}
	}
	return nil
}

func circles(holes []Hole) []geom.Circle {
	var cs []geom.Circle
	for _, h := range holes {
		cs = append(cs, geom.Circle{C: h.C, R: h.DiaMM / 2})
	}
	return cs
}

// inf leaves a range open.
var inf = math.Inf(1)
