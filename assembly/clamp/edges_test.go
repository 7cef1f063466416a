package clamp

import (
	"math"
	"testing"

	"clampwright/assembly/finding"
)

// Bending stress over strength of a plate 10 mm thick, where 6 M / t² of 16.67 N mm/mm is 1
// MPa: one way alone, both ways alike (the von Mises sum), along and across of unlike
// strength (Hoffman's coupling, from memory), twist alone by the root of three.
func TestUtilization(t *testing.T) {
	const m = 100.0 / 6
	for _, c := range []struct {
		moment  [3]float64
		sx, sy  float64
		squared float64
	}{
		{[3]float64{m, 0, 0}, 1, 1, 1}, {[3]float64{0, m, 0}, 1, 2, 0.25}, {[3]float64{m, m, 0}, 1, 1, 1}, {[3]float64{m, -m, 0}, 1, 1, 3},
		{[3]float64{2 * m, m, 0}, 2, 1, 1.5}, {[3]float64{0, 0, m}, 2, 1, 3}, {[3]float64{0, 0, 0}, 1, 1, 0},
	} {
		if got := utilization(c.moment, 10, c.sx, c.sy); math.Abs(got*got-c.squared) > 1e-9 {
			t.Errorf("%+v: %g", c, got*got)
		}
	}
}

// Turns in flats of a hexagon and degrees to the nearest five.
func TestTurnWords(t *testing.T) {
	for turns, want := range map[float64]string{0.5: "0.50 turns (3 flats)", 1.0 / 6: "0.17 turns (1 flat)", 0.25: "0.25 turns (1 flat, 30°)", 1.0: "1.00 turns (6 flats)", 0.16: "0.16 turns (1 flat)", 0.15: "0.15 turns (55°)", 6.5: "6.50 turns (39 flats)"} {
		if got := TurnWords(turns); got != want {
			t.Errorf("%g: %q, want %q", turns, got, want)
		}
	}
}

// A plate that bows keeps both away from the middle of the stack, most in its own middle;
// a bulge stands out there; neither does at the edge.
func TestInitialGap(t *testing.T) {
	in := fourCells()
	row := in.Rows[0]
	row.BulgeMM = 0.25
	face, middle := row.Face.centre(), [2]float64{in.Plate.WidthMM / 2, in.Plate.HeightMM / 2}
	if got := in.initialGap(row, face[0], face[1]); math.Abs(got+4*0.25) > 1e-9 {
		t.Errorf("bulged: %g", got)
	}
	row.BulgeMM, in.Plate.BowMM = 0, 0.5
	for _, c := range [][3]float64{{middle[0], middle[1], 1}, {0, middle[1], 0}, {middle[0], 0, 0}, {middle[0] / 2, middle[1], 0.75}} {
		if got := in.initialGap(row, c[0], c[1]); math.Abs(got-c[2]) > 1e-9 {
			t.Errorf("bowed, at %g %g: %g", c[0], c[1], got)
		}
	}
}

// A wrench can set the force where friction and drag leave it inside the band, on both sides.
func TestWrenchOK(t *testing.T) {
	for _, c := range []struct {
		name       string
		friction   Friction
		drag, most float64
		want       bool
	}{
		{"friction known", Friction{0.19, 0.2, 0.21}, 0, 3500, true},
		{"it may be too little", Friction{0.19, 0.2, 0.26}, 0, 3500, false},
		{"it may be too much", Friction{0.15, 0.2, 0.21}, 0, 3500, false},
		{"the same under a wider band", Friction{0.15, 0.2, 0.21}, 0, 4000, true},
		{"drag that is not known", Friction{0.19, 0.2, 0.21}, 3000, 3500, false},
	} {
		in := fourCells()
		in.Friction, in.Window.Max = c.friction, c.most
		for i := range in.Rods {
			in.Rods[i].DragMinNMM, in.Rods[i].DragMaxNMM = 0, c.drag
		}
		r, err := Solve(quick(in))
		if err != nil {
			t.Fatal(err)
		}
		if r.Setting.WrenchOK != c.want {
			t.Errorf("%s: %+v", c.name, r.Setting.ForceN)
		}
	}
}

// Heights of springs are told where there are springs; a face that is pressed all over is in
// contact all over, its middle too.
func TestHeightsAndContact(t *testing.T) {
	for _, in := range []Input{fourCells(), sprung()} {
		in.Plate.ExMPa, in.Plate.ThicknessMM = 69000, 30
		r, err := Solve(quick(in))
		if err != nil {
			t.Fatal(err)
		}
		s := r.States[0]
		if want := len(in.Rods); (in.Rods[0].Spring.Kind == SpringNone) != (s.SpringMM == nil) || s.SpringMM != nil && len(s.SpringMM) != want {
			t.Errorf("heights %v", s.SpringMM)
		}
		if row := s.Rows[0]; row.SwellContact != 1 || row.ContactFraction != 1 {
			t.Errorf("contact %g, in the middle %g", row.ContactFraction, row.SwellContact)
		}
	}
}

// What lies farther than 15 mm from all that presses is a hole of the middle: nothing of a
// window 30 mm wide; of one of 40 x 60 mm 10 x 30 mm, less half a step of the grid all round.
func TestHollow(t *testing.T) {
	var lines []float64
	for x := range 101 {
		lines = append(lines, float64(x))
	}
	face := Rect{0, 0, 100, 100}
	window := func(w, h float64) []Rect {
		x, y := 50-w/2, 50-h/2
		return []Rect{{0, 0, 100, y}, {0, 100 - y, 100, 100}, {0, y, x, 100 - y}, {100 - x, y, 100, 100 - y}}
	}
	for _, c := range []struct {
		pressing []Rect
		want     float64
	}{{nil, 0}, {[]Rect{face}, 0}, {window(30, 60), 0}, {window(32, 60), 1 * 29}, {window(40, 60), 9 * 29}, {window(98, 98), 60 * 60}} {
		if got := hollow(lines, lines, Row{Face: face, Pressing: c.pressing}, 0.6); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v: %g mm2, want %g", c.pressing, got, c.want)
		}
	}
	in := fourCells()
	f := in.Rows[0].Face
	in.Rows[0].Pressing = []Rect{{f.X0, f.Y0, f.X1, f.Y0 + 60}, {f.X0, f.Y1 - 60, f.X1, f.Y1}}
	r, err := Solve(quick(in))
	if err != nil {
		t.Fatal(err)
	}
	if row := r.States[0].Rows[0]; !(row.SwellContact < 0.9) || row.Pressure.SwellLow != 0 || r.Verdict != finding.Fail {
		t.Errorf("a slot across the middle: contact %g, least %g kPa, %s", row.SwellContact, row.Pressure.SwellLow, r.Verdict)
	}
}
