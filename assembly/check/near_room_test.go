package check

import (
	"testing"

	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
)

// The pack of the sample is as wide as its plates, as long as the stack with plates and
// the standing legs of its angles, which reach further than the rods, and as high as the
// tallest cells with their terminals; the room must hold that with the tolerances of the
// shop, and should hold what is wanted free beside it.
func TestRoomFitsNear(t *testing.T) {
	base := sample.FourCells()
	wide := base.Plate.Width.MM() + base.Tolerances.PlateSize.MM()
	half := (base.Pack.StackLength/2 + base.Plate.Thickness + base.Stiffener.StandingLeg).MM()
	long := 2*half + base.Tolerances.CutLength.MM()
	nut := (base.Pack.StackLength/2 + base.Plate.Thickness + base.Stiffener.Section.Thickness + base.Washer.Thickness + base.Nut.Height).MM()
	turned := half + nut + base.Tools.SocketWith.MM() + 100 + base.Tolerances.CutLength.MM()
	high := (base.Cell.Height + base.Cell.HeightTol + base.Cell.Plus.Height).MM() + base.Tolerances.PlateSize.MM()/2
	room := func(set func(*params.Room)) func(*params.Fixture) {
		return func(f *params.Fixture) {
			f.Room = &params.Room{Gap: 5, Leads: 30}
			set(f.Room)
		}
	}
	width := func(v float64) func(*params.Fixture) {
		return room(func(r *params.Room) { r.Width = mm(v) })
	}
	length := func(v, hand float64) func(*params.Fixture) {
		return room(func(r *params.Room) { r.Length, r.Hand = mm(v), mm(hand) })
	}
	height := func(v float64) func(*params.Fixture) {
		return room(func(r *params.Room) { r.Height = mm(v) })
	}
	checkNear(t, "room-fits", []near{
		{"width", sample.FourCells, width(wide + 10 + over), finding.Pass, wide + 10 + over, wide + 10},
		{"width", sample.FourCells, width(wide + 10 + under), finding.Warn, wide + 10 + under, wide + 10},
		{"width", sample.FourCells, width(wide + over), finding.Warn, wide + over, wide + 10},
		{"width", sample.FourCells, width(wide + under), finding.Fail, wide + under, wide},
		{"length", sample.FourCells, length(long+10+over, 0), finding.Pass, long + 10 + over, long + 10},
		{"length", sample.FourCells, length(long+over, 0), finding.Warn, long + over, long + 10},
		{"length", sample.FourCells, length(long+under, 0), finding.Fail, long + under, long},
		{"height", sample.FourCells, height(high + 30 + over), finding.Pass, high + 30 + over, high + 30},
		{"height", sample.FourCells, height(high + 30 + under), finding.Fail, high + 30 + under, high + 30},
		{"length", sample.FourCells, length(turned+5+over, 100), finding.Pass, turned + 5 + over, turned + 5},
		{"length", sample.FourCells, length(turned+under, 100), finding.Fail, turned + under, turned},
		{"width", sample.FourCells, none, "", 0, 0},
	})
}
