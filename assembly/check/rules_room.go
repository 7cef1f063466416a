package check

import (
	"math"
	"slices"

	"clampwright/assembly"
	"clampwright/assembly/finding"
)

// reach is how far the pack reaches one way: the outermost thing there, the limit below
// which it does not go in, and that with what is wanted free.
type reach struct {
	at         float64
	id         string
	fail, want float64
}

// further takes one more thing in.
func (r *reach) further(at, fail, want float64, id string) {
	if r.id == "" || at+want > r.at+r.want {
		r.id, r.at = id, at
		r.want = want
	}
	r.fail = max(r.fail, at+fail)
}

// measureRoom compares the finished pack, with the largest cells and links in place, with
// the inside of what it goes into: width, height and length, where they are given.
func measureRoom(b *scene) ([]finding.Finding, error) {
	room, f := b.fixture.Room, b.fixture
	if room == nil {
		return nil, nil
	}
	wide, err := b.variant(assembly.Largest)
	if err != nil {
		return nil, err
	}
	var ends [3][2]reach // x, y, z: towards less and towards more
	for i := range ends {
		for k := range ends[i] {
			ends[i][k].fail = math.Inf(-1)
		}
	}
	for _, a := range []*assembly.Assembly{b.nominal, wide} {
		for i := range a.Instances {
			b.roomFor(&a.Instances[i], &ends)
		}
	}
	var out []finding.Finding
	for i, x := range []struct {
		of           string
		inside, band float64
	}{
		{"width", room.Width.MM(), f.Tolerances.PlateSize.MM()},
		{"height", room.Height.MM(), f.Tolerances.PlateSize.MM() / 2},
		{"length", room.Length.MM(), f.Tolerances.CutLength.MM()},
	} {
		if x.inside == 0 {
			continue
		}
		lo, hi := ends[i][0], ends[i][1]
		fail := lo.fail + hi.fail + x.band
		p := atLeast(x.inside, fail, max(fail, lo.at+lo.want+hi.at+hi.want+x.band))
		p.Between = slices.Compact([]string{lo.id, hi.id})
		var t tally
		t.add(p)
		out = append(out, t.finding(x.of, "mm")...)
	}
	return out, nil
}

// roomFor is the room that one thing takes: itself and the gap; over a terminal or a link
// the leads, over a vent its free height, in front of a nut that is turned in there the
// driver and the hand.
func (b *scene) roomFor(w *assembly.Instance, ends *[3][2]reach) {
	f, room := b.fixture, b.fixture.Room
	box, gap := w.Part.Solid.Transform(w.Frame).Bounds(), room.Gap.MM()
	lo, hi := []float64{box.Min.X, box.Min.Y, box.Min.Z}, []float64{box.Max.X, box.Max.Y, box.Max.Z}
	over, front := 0.0, 0.0
	switch w.Role {
	case assembly.RoleTerminal, assembly.RoleLink:
		over = room.Leads.MM()
	case assembly.RoleVent:
		over = f.Clearances.VentFree.MM()
	case assembly.RoleNut:
		if room.Hand > 0 && w.End == assembly.Front {
			front = f.Tools.SocketWith.MM() + room.Hand.MM()
		}
	}
	for i := range ends {
		below, above, need := gap, gap, 0.0
		switch i {
		case 1:
			below, above, need = 0, max(gap, over), over // it stands on its floor
		case 2:
			above, need = max(gap, front), front
		}
		ends[i][0].further(-lo[i], 0, below, w.ID)
		ends[i][1].further(hi[i], need, above, w.ID)
	}
}
