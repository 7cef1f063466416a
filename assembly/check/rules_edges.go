package check

import (
	"fmt"
	"math"
	"slices"

	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Least distances of holes as multiples of the hole diameter d0.
const (
	edgeLeast, pitchLeast = parts.EdgeLeast, parts.PitchLeast
	// edgeUsual and pitchUsual are comfortable distances: common practice.
	edgeUsual, pitchUsual = 1.5, 3.0
	// washerRim is kept beyond a washer's edge in plastics and wood, mm: common
	// practice, no source.
	washerRim = 2.0
)

// edgeNeed is the least and the comfortable distance of a hole to an edge of a part: that
// of a rod's in a plate is the washer's too. Of angles, measureWasherFlat says that.
func edgeNeed(f *params.Fixture, p *parts.Part, dia float64) (least, want float64) {
	least, want = edgeLeast*dia, edgeUsual*dia
	if p.Kind != parts.KindPlate || math.Abs(dia-f.Rods.Hole.MM()) > Slack {
		return least, want
	}
	rim := f.Washer.Outer.MM() / 2
	if f.Stiffener == nil {
		least = max(least, rim)
	}
	if f.Plate.Material.Family != "metal" {
		rim += washerRim
		want = max(want, rim)
	}
	return least, max(least, want)
}

// drilled are the kinds of part that rods go through.
var drilled = []parts.Kind{parts.KindPlate, parts.KindStiffener}

// ofKind returns the distinct parts of a kind with a flat outline: both hands
// where they differ.
func (b *scene) ofKind(k parts.Kind) []*parts.Part {
	return slices.DeleteFunc(slices.Clone(b.nominal.Parts), func(p *parts.Part) bool { return p.Kind != k || p.Flat == nil })
}

// measureEdges compares every round hole of plates and angles with the nearest
// edge of its part.
func measureEdges(b *scene) ([]finding.Finding, error) {
	var all []finding.Finding
	for _, k := range drilled {
		var t tally
		for _, p := range b.ofKind(k) {
			for i, c := range p.Flat.Profile.Circles {
				least, want := edgeNeed(b.fixture, p, 2*c.R)
				q := atLeast(toFreeEdge(p, c.C), least, want)
				q.Between, q.At = []string{holeName(p, i), p.ID + " edge"}, b.onPart(p, c.C)
				t.add(q)
			}
		}
		all = append(all, t.finding(string(k), "mm")...)
	}
	return all, nil
}

// toFreeEdge is the distance of a hole's centre to the nearest edge that can
// tear: any of a plate's, but not the heel of an angle, from which the standing
// leg goes on.
func toFreeEdge(p *parts.Part, c geom.Vec2) float64 {
	if p.Kind != parts.KindStiffener {
		return p.Flat.Profile.Outer.DistTo(c)
	}
	box := p.Flat.Profile.Bounds() // made standing up: the heel is the upper edge
	return min(c.X-box.Min.X, box.Max.X-c.X, c.Y-box.Min.Y)
}

// holeName names round hole i of a part by its mark, so that it is found again
// on the drawing.
func holeName(p *parts.Part, i int) string {
	if i < len(p.Holes) {
		return p.ID + " " + p.Holes[i].ID
	}
	return fmt.Sprintf("%s hole %d", p.ID, i+1)
}

// onPart is the place of a flat point on the first instance of a part; nil when
// the part is placed nowhere.
func (b *scene) onPart(p *parts.Part, at geom.Vec2) *geom.Vec3 {
	for i := range b.nominal.Instances {
		if w := &b.nominal.Instances[i]; w.Part == p {
			return spot(w.FlatPoint(at))
		}
	}
	return nil
}

// measureLigaments compares the material between neighbouring holes of a part:
// centre distance less both radii must leave (2.2 - 1) d0.
func measureLigaments(b *scene) ([]finding.Finding, error) {
	var all []finding.Finding
	for _, k := range drilled {
		var t tally
		for _, p := range b.ofKind(k) {
			b.ligaments(&t, p)
		}
		all = append(all, t.finding(string(k), "mm")...)
	}
	return all, nil
}

// ligaments measures every hole of a part against the others and the slots.
func (b *scene) ligaments(t *tally, p *parts.Part) {
	cs := p.Flat.Profile.Circles
	for i := range cs {
		for j := range i {
			t.add(ligament(b, p, j, i))
		}
		for k, s := range p.Flat.Profile.Slots {
			need := (pitchLeast - 1) * 2 * cs[i].R
			q := atLeast(-s.DistTo(cs[i].C)-cs[i].R, need, need) // outside the slot: negative
			q.Between, q.At = []string{holeName(p, i), fmt.Sprintf("%s slot %d", p.ID, k+1)}, b.onPart(p, cs[i].C)
			t.add(q)
		}
	}
}

func ligament(b *scene, p *parts.Part, i, j int) finding.Finding {
	c, d := p.Flat.Profile.Circles[i], p.Flat.Profile.Circles[j]
	dia := 2 * max(c.R, d.R)
	q := atLeast(c.C.Dist(d.C)-c.R-d.R, (pitchLeast-1)*dia, (pitchUsual-1)*dia)
	q.Between, q.At = []string{holeName(p, i), holeName(p, j)}, b.onPart(p, c.C.Lerp(d.C, 0.5))
	return q
}
