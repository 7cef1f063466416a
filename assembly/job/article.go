package job

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/assembly/finding"
	"clampwright/assembly/stackup"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/unit"
	"clampwright/parts"
)

// piece is one made part that was measured.
type piece struct {
	name string // its mark with its number: "P1/2"
	part *parts.Part
	got  []params.Reading
}

// pieces are the made parts that were measured, in the order of the readings.
func (j *Job) pieces() (out []piece, err error) {
	var wrong diag.List
	for _, r := range j.Fixture.Readings {
		if !r.OfPart() {
			continue
		}
		name, _, _ := strings.Cut(r.Where, " ")
		mark, _, _ := strings.Cut(name, "/")
		var part *parts.Part
		var marks []string
		for _, l := range j.Assembly.PartsList() {
			if len(stackup.Sizes(j.Fixture, l.Part)) > 0 {
				if marks = append(marks, l.Part.Mark); l.Part.Mark == mark {
					part = l.Part
				}
			}
		}
		if part == nil || sizeOf(j.Fixture, part, r) == nil {
			wrong.Add(diag.Diagnostic{Summary: fmt.Sprintf("there is no %s of %q", r.What, r.Where), Range: r.At,
				Expected: "a made part by its mark, with the hole where it is of one: " + strings.Join(marks, ", ")})
			continue
		}
		i := slices.IndexFunc(out, func(p piece) bool { return p.name == name })
		if i < 0 {
			i, out = len(out), append(out, piece{name: name, part: part})
		}
		out[i].got = append(out[i].got, r)
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	return out, nil
}

func sizeOf(f *params.Fixture, p *parts.Part, r params.Reading) *stackup.Size {
	_, hole, _ := strings.Cut(r.Where, " ")
	sizes := stackup.Sizes(f, p)
	if i := slices.IndexFunc(sizes, func(s stackup.Size) bool { return s.What == r.What && s.Hole == hole }); i >= 0 {
		return &sizes[i]
	}
	return nil
}

// firstArticle judges the made parts that were measured: good within their limits, else
// by the stack-up and the checks of the assembly with what was measured.
func (j *Job) firstArticle() (out []finding.Finding, err error) {
	all, err := j.pieces()
	for _, p := range all {
		c := finding.Finding{ID: "first-article", Of: p.name, Group: finding.GroupTolerances, Verdict: finding.Pass, Sense: finding.AtMost, Unit: "wrong sizes", Between: []string{p.part.ID, p.name}}
		var said []string
		for _, hole := range outside(j.Fixture, p) {
			c.Have++
			v, text := j.outside(p, hole)
			said = append(said, text)
			if v.Rank() > c.Verdict.Rank() {
				c.Verdict = v
			}
		}
		c.Why = fmt.Sprintf("%s is good: what was measured is within its limits.", p.name)
		if len(said) > 0 {
			c.Why, c.Hint = fmt.Sprintf("%s is outside its limits.", p.name), strings.Join(said, "; ")
		}
		out = append(out, c)
	}
	return out, err
}

// outside are the sizes of a piece that are not within their limits, the two places of a
// hole as one.
func outside(f *params.Fixture, p piece) (out []params.Reading) {
	for _, r := range p.got {
		s := sizeOf(f, p.part, r)
		if r.Value >= s.Low-geom0 && r.Value <= s.High+geom0 {
			continue
		}
		place := func(q params.Reading) bool { return q.Where == r.Where && isPlace(q) && isPlace(r) }
		if !slices.ContainsFunc(out, place) {
			out = append(out, r)
		}
	}
	return out
}

// geom0 forgives rounding, mm.
const geom0 = 1e-9

func isPlace(r params.Reading) bool { return r.What == "hole_x" || r.What == "hole_y" }

// outside says what a size outside its limits means: the fixture is settled with it, and
// added up and checked again.
func (j *Job) outside(p piece, r params.Reading) (finding.Verdict, string) {
	f, s := new(*j.Fixture), sizeOf(j.Fixture, p.part, r)
	what := fmt.Sprintf("%s %s is %s, not %s", strings.TrimPrefix(r.Where, p.name+" "), strings.ReplaceAll(r.What, "_", " "), f.Style.Exact(r.Value), f.Style.Exact(s.Nominal))
	remedy := "good as it is: every check holds with it"
	serves := func(what string) bool {
		return slices.ContainsFunc(p.part.Holes, func(h parts.Hole) bool { return h.ID == s.Hole && strings.HasPrefix(h.For, what) })
	}
	rod, mounting, known := serves("rod "), serves(parts.ForMounting), true
	if mounting {
		f.Plate.Feet = new(*f.Plate.Feet)
	}
	switch {
	case isPlace(r):
		off, most, inward := 0.0, 0.0, 0.0
		for _, q := range p.got {
			if q.Where != r.Where || !isPlace(q) {
				continue
			}
			at := sizeOf(j.Fixture, p.part, q).Nominal
			by := q.Value - at
			by += math.Copysign(q.Uncertainty, by)
			if off = math.Hypot(off, by); math.Abs(by) > most {
				most, inward = math.Abs(by), by
				if q.What == "hole_x" && at > p.part.SizeMM[0]/2 {
					inward = -by
				}
			}
		}
		what = fmt.Sprintf("%s is off its place by up to %s", s.Hole, f.Style.Exact(off))
		switch dia := stackup.Ream(f, off); {
		case mounting: // as if all of them were, both ways
			f.Plate.Feet.Inset += unit.Length(inward)
		case rod && dia > f.Rods.Hole.MM():
			f.Rods.Hole, remedy = unit.Length(dia), fmt.Sprintf("ream %s to %s", s.Hole, f.Style.Exact(dia))
		default:
			known = rod
		}
	case r.What == "hole_dia" && r.Value < s.Low:
		remedy = fmt.Sprintf("ream %s to %s", s.Hole, f.Style.Exact(s.Nominal))
	case r.What == "hole_dia" && mounting:
		f.Plate.Feet.HoleDia = unit.Length(r.Value)
	case r.What == "hole_dia" && rod:
		f.Rods.Hole = unit.Length(r.Value)
	default:
		path, v := block[p.part.Kind]+"."+r.What, unit.Length(r.Value)
		if p.part.Kind == parts.KindSleeve && r.What == "length" {
			path, v = "sleeves.end_gap", f.Sleeve.EndGap-unit.Length(r.Value-s.Nominal)/2
		}
		g, ok := f.AsMade(map[string][]unit.Length{path: {v}})
		if known = ok; ok {
			f = g
		}
	}
	if !known {
		return finding.Fail, fmt.Sprintf("%s: make %s again; that it holds so was not worked out", what, p.name)
	}
	worse := j.worse(f)
	switch {
	case worse.Verdict == finding.Fail:
		return finding.Fail, fmt.Sprintf("%s: make %s again; with it %s does not hold", what, p.name, worse.Name())
	case worse.Verdict == finding.Warn:
		remedy = strings.TrimSuffix(remedy, ": every check holds with it") + "; " + worse.Name() + " is then less than wanted"
	}
	return finding.Warn, what + ": " + remedy
}

// block is that of the file which says what a kind of part is made to.
var block = map[parts.Kind]string{parts.KindPlate: "plates", parts.KindRod: "rods", parts.KindStiffener: "stiffeners", parts.KindLiner: "liners", parts.KindSeparator: "separators"}

// worse is the worst finding of a fixture as measured that is worse than as drawn; empty
// when there is none. How it is cut does not count: it was.
func (j *Job) worse(f *params.Fixture) (worst finding.Finding) {
	t, err := j.Other(f)
	var is []finding.Finding
	if err == nil {
		is, err = (&trial{Job: t}).Checks()
	}
	if err != nil { // what can't even be placed
		return finding.Finding{ID: "the assembly", Verdict: finding.Fail}
	}
	before := finding.StandingOf(j.Findings)
	for _, q := range is {
		if q.Group != finding.GroupCutting && before.Worsened(q) && q.Verdict.Rank() > worst.Verdict.Rank() {
			worst = q
		}
	}
	return worst
}
