package dxf

import (
	"errors"
	"fmt"
	"math"

	"clampwright/parts/geom"
)

const (
	// sameMM is the distance under which two points are one point of a file
	// that is written to a nanometre and cut to a hundredth: shorter edges are
	// refused, and entities that agree to it are duplicates.
	sameMM = 1e-4
	// limitMM is the largest coordinate: 100 m.
	limitMM = 1e5
	// maxBulge is the bulge of an arc that lacks about 0.2 degree of a full
	// turn; more curved ones are circles and must be given as such.
	maxBulge = 1000
)

// Validate reports everything wrong with d: coordinates that are not finite or
// beyond 100 m, edges without length, paths that enclose nothing, circles
// without radius, text that can't be written, and anything drawn twice. The
// error names each entity by kind and index.
func Validate(d Drawing) error {
	v := &validator{}
	cut := seen{}
	v.paths("outline", d.Outlines, d.Open, cut)
	v.paths("slot", d.Slots, d.Open, cut)
	v.circles("hole", d.Holes, cut)
	v.scribe("mark", d.Marks)
	v.scribe("note", d.Notes)
	return errors.Join(v.errs...)
}

type validator struct{ errs []error }

func (v *validator) fail(what string, i int, format string, args ...any) {
	v.errs = append(v.errs, fmt.Errorf("%s %d: %s", what, i+1, fmt.Sprintf(format, args...)))
}

// inRange reports whether every coordinate can be written.
func inRange(xs ...float64) bool {
	for _, x := range xs {
		if !(math.Abs(x) <= limitMM) {
			return false
		}
	}
	return true
}

func (v *validator) paths(what string, ps []geom.Path, open bool, s seen) {
	for i, p := range ps {
		if problem := pathProblem(p, open); problem != "" {
			v.fail(what, i, "%s", problem)
			continue
		}
		for j, a := range p {
			if !(open && j == len(p)-1) && s.edge(a.P, p[(j+1)%len(p)].P, a.Bulge) {
				v.fail(what, i, "edge %d is drawn twice", j+1)
			}
		}
	}
}

// pathProblem says in words what keeps a path from being a closed outline, or an open line.
func pathProblem(p geom.Path, open bool) string {
	if len(p) < 2 {
		return "fewer than two vertices"
	}
	for j, a := range p {
		b := p[(j+1)%len(p)]
		switch {
		case !inRange(a.P.X, a.P.Y):
			return fmt.Sprintf("vertex %d is not a point within 100 m", j+1)
		case !(math.Abs(a.Bulge) <= maxBulge):
			return fmt.Sprintf("the bulge of edge %d is not within %d", j+1, maxBulge)
		case a.P.Dist(b.P) < sameMM && !(open && j == len(p)-1):
			return fmt.Sprintf("edge %d has no length", j+1)
		}
	}
	if !open && math.Abs(p.Area()) < sameMM*sameMM {
		return "encloses no area"
	}
	return ""
}

func (v *validator) circles(what string, cs []geom.Circle, s seen) {
	for i, c := range cs {
		switch {
		case !inRange(c.C.X, c.C.Y, c.R):
			v.fail(what, i, "not a circle within 100 m")
		case c.R < sameMM:
			v.fail(what, i, "a circle without radius")
		case s.circle(c):
			v.fail(what, i, "drawn twice")
		}
	}
}

func (v *validator) scribe(what string, s Scribe) {
	drawn := seen{}
	v.paths(what+" outline", s.Paths, false, drawn)
	v.paths(what+" stroke", s.Strokes, true, drawn)
	for i, l := range s.Lines {
		switch {
		case !inRange(l.A.X, l.A.Y, l.B.X, l.B.Y):
			v.fail(what+" line", i, "not within 100 m")
		case l.A.Dist(l.B) < sameMM:
			v.fail(what+" line", i, "has no length")
		case drawn.edge(l.A, l.B, 0):
			v.fail(what+" line", i, "drawn twice")
		}
	}
	for i, t := range s.Texts {
		if problem := textProblem(t); problem != "" {
			v.fail(what+" text", i, "%s", problem)
		} else if drawn.text(t) {
			v.fail(what+" text", i, "drawn twice")
		}
	}
}

func textProblem(t Text) string {
	if !inRange(t.At.X, t.At.Y, t.HeightMM, t.Turn) {
		return "its place or height is not within 100 m"
	}
	if t.HeightMM < sameMM {
		return "has no height"
	}
	if t.Value == "" {
		return "is empty"
	}
	if _, err := escape(t.Value); err != nil {
		return err.Error()
	}
	return ""
}
