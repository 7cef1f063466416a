package assembly

import (
	"testing"

	"clampwright/assembly/internal/sample"
	"clampwright/params"
)

// How pairs of parts are meant to lie to each other, by hand.
func TestMeeting(t *testing.T) {
	four, two := built(t, sample.FourCells()), built(t, sample.TwoRows())
	for _, c := range []struct {
		a    *Assembly
		u, v string
		want Meeting
	}{
		{four, "cell-1", "cell-2", Bears},
		{four, "cell-1", "cell-3", Clear},
		{four, "cell-1", "cell-1-vent", Sits},
		{four, "cell-1", "cell-2-vent", Clear},
		{four, "cell-1", "end-plate-back", Bears},
		{four, "cell-1", "end-plate-front", Clear},
		{four, "end-plate-front", "stiffener-front-lower", Bears},
		{four, "end-plate-front", "stiffener-back-lower", Clear},
		{four, "stiffener-front-lower", "stiffener-front-upper", Clear},
		{four, "stiffener-front-lower", "washer-front-left-lower", Bears},
		{four, "stiffener-front-lower", "washer-front-left-upper", Clear},
		{four, "end-plate-front", "washer-front-left-lower", Clear},
		{four, "washer-front-left-lower", "nut-front-left-lower", Bears},
		{four, "washer-front-left-lower", "nut-front-left-upper", Clear},
		{four, "washer-front-left-lower", "nut-back-left-lower", Clear},
		{four, "rod-left-lower", "nut-front-left-lower", Engaged},
		{four, "rod-left-lower", "nut-front-left-upper", Clear},
		{four, "rod-left-lower", "washer-back-left-lower", Through},
		{four, "rod-left-lower", "end-plate-back", Through},
		{four, "rod-left-lower", "stiffener-front-lower", Through},
		{four, "rod-left-lower", "stiffener-front-upper", Clear},
		{four, "rod-left-lower", "cell-1", Clear},
		{two, "cell-row-1-1", "cell-row-1-2", Clear},
		{two, "cell-row-1-1", "cell-row-2-1", Clear},
		{two, "cell-row-1-1", "separator-row-1-1", Bears},
		{two, "cell-row-1-2", "separator-row-1-1", Bears},
		{two, "cell-row-1-3", "separator-row-1-1", Clear},
		{two, "cell-row-1-1", "separator-row-2-1", Clear},
		{two, "cell-row-1-1", "liner-back-row-1", Bears},
		{two, "cell-row-1-1", "liner-back-row-2", Clear},
		{two, "cell-row-1-1", "end-plate-back", Clear},
		{two, "liner-back-row-2", "end-plate-back", Bears},
		{two, "end-plate-back", "washer-back-middle-upper", Bears},
	} {
		u, v := named(t, c.a, c.u), named(t, c.a, c.v)
		if got := c.a.Meeting(u, v); got != c.want {
			t.Errorf("%s / %s: %d, want %d", c.u, c.v, got, c.want)
		}
		if c.a.Meeting(u, v) != c.a.Meeting(v, u) {
			t.Errorf("%s / %s: depends on the order", c.u, c.v)
		}
	}
}

// With a spring and a jam nut the order outward is washer, spring, washer, nut,
// jam nut.
func TestMeetingOfSprings(t *testing.T) {
	f := sample.FourCells()
	spring(f)
	jam := f.Nut
	f.JamNut = &jam
	a := built(t, f)
	order := []string{"washer", "spring", "spring-washer", "nut", "jam-nut"}
	for i, u := range order {
		for j, v := range order {
			want := Clear
			if i-j == 1 || j-i == 1 {
				want = Bears
			}
			uu, vv := named(t, a, u+"-front-left-lower"), named(t, a, v+"-front-left-lower")
			if i != j && a.Meeting(uu, vv) != want {
				t.Errorf("%s / %s: %d, want %d", u, v, a.Meeting(uu, vv), want)
			}
		}
	}
	if a.Meeting(named(t, a, "washer-back-left-lower"), named(t, a, "nut-back-left-lower")) != Bears {
		t.Error("no spring at the back, but washer and nut do not meet")
	}
}

// A terminal with a stud is two solids that sit on each other.
func TestStud(t *testing.T) {
	f := sample.FourCells()
	f.Cell.StudHeight = 12
	a := built(t, f)
	pad, stud := named(t, a, "cell-1-terminal-left"), named(t, a, "cell-1-terminal-left-stud")
	if a.Meeting(pad, stud) != Sits {
		t.Error("pad and stud do not sit on each other")
	}
	if top := boxOf(stud).Max.Y; top != 201+3+12 {
		t.Errorf("stud ends at %g mm, want 216", top)
	}
}

func spring(f *params.Fixture) {
	f.Spring = &params.Spring{Disc: disc16, Parallel: 1, Series: 6, FreeHeight: 7.5, SetHeight: 6.5}
}
