package wiring

import (
	"math"
	"testing"
)

// Four loose cells, no link: each cell's own terminals, 122 - 22 = 100 mm apart,
// 3.65 V through 0.25 milliohm = 14.6 kA; between cells nothing can flow.
func TestExposureOfLooseCells(t *testing.T) {
	l, s := finalOf(t, pack(4, 1, 4, 1))
	s.Links = nil
	e, err := l.Exposures(s, 100)
	if err != nil {
		t.Fatal(err)
	}
	if len(e) != 4 {
		t.Fatalf("%d exposures", len(e))
	}
	for _, x := range e {
		near(t, "gap", x.GapMM, 100, 1e-9)
		near(t, "volts", x.Volts, 3.65, 1e-9)
		near(t, "amps", x.Amps, 14600, 1e-6)
	}
	if e, _ := l.Exposures(s, 99.9); len(e) != 0 {
		t.Errorf("a 99.9 mm tool bridges %d pairs", len(e))
	}
}

// In the finished string the nearest unlike metal is two neighbouring bars on
// one side: 2 cells apart, 146 - 73 - 22 mm between the pads.
func TestExposureOfString(t *testing.T) {
	l, s := finalOf(t, pack(6, 1, 6, 1))
	e, err := l.Exposures(s, 60)
	if err != nil {
		t.Fatal(err)
	}
	if len(e) == 0 {
		t.Fatal("no exposure")
	}
	for _, x := range e {
		near(t, "gap", x.GapMM, 51, 1e-9)
		near(t, "volts", x.Volts, 7.3, 1e-9)
		f, err := l.FiguresOf(s)
		if err != nil {
			t.Fatal(err)
		}
		if x.Amps > f.CellShortA || x.Amps < f.CellShortA/2 {
			t.Errorf("%.0f A, a cell alone gives %.0f", x.Amps, f.CellShortA)
		}
	}
}

// Gaps run to the true ends of bars, by hand for cells 73 mm apart: two bars of one side lie
// between them with the end beyond the hole of one and beyond the slot of the other, whose
// travel is 1.8; or with their sides where they lie beside each other. Pads and lugs count
// where they stand out farther. A tool of that length bridges the gap, one a tenth shorter
// does not.
func TestGapsRunToTheTrueEnds(t *testing.T) {
	for _, c := range []struct {
		name                   string
		end, round, pad, width float64
		want                   float64
	}{
		{"pads stand out farther", 10, 0, 22, 20, 73 - 22},
		{"as far as the pads: end and slot", 11, 0, 22, 20, 73 - 22 - 0.9},
		{"long ends", 15, 0, 22, 20, 73 - 30 - 0.9},
		{"long ends, corners rounded", 15, 5, 22, 20, 73 - 30 - 0.9},
		{"long ends, rounded to a half circle", 15, 10, 22, 20, 73 - 30 - 0.9},
		{"a wide bar has no longer ends", 15, 0, 22, 30, 73 - 30 - 0.9},
		{"ends by themselves: half the width", 0, 0, 12, 24, 73 - 24 - 0.9},
		{"ends by themselves: one and a half holes", 0, 0, 12, 16, 73 - 1.5*6.6*2 - 0.9},
	} {
		in := rigid(pack(6, 1, 6, 1))
		in.Growth = Growth{PitchTolMM: 0.5, HoleTolMM: 0.2} // 72.1 to 73.9
		in.Bar.EndMM, in.Bar.CornerRadiusMM, in.PadDiaMM, in.Bar.WidthMM = c.end, c.round, c.pad, c.width
		l, s := finalOf(t, in)
		for _, tool := range []float64{c.want + 0.01, c.want - 0.1} {
			e, err := l.Exposures(s, tool)
			if err != nil {
				t.Fatal(err)
			}
			if got := len(e) > 0; got != (tool > c.want) {
				t.Errorf("%s: a tool of %v mm bridges %d pairs", c.name, tool, len(e))
			}
			for _, x := range e {
				near(t, c.name, x.GapMM, c.want, 0.01)
			}
		}
		turn, first := s.Mains.Minus, s.Links[1] // from the pack minus to the bar on its side
		want := math.Inf(1)
		for _, p := range []Post{first.A, first.B} {
			want = min(want, l.Position(turn, s.Turns).Dist(l.Position(p, s.Turns))-max(c.pad/2, l.in.endDistance()))
		}
		if got := roomAt(l, s, turn); got > want+0.01 || got < want-1 {
			t.Errorf("%s: room %v, by hand about %v", c.name, got, want)
		}
	}
}

func TestFiguresAddUp(t *testing.T) {
	for _, in := range []Input{pack(4, 1, 4, 1), pack(8, 1, 4, 2), pack(8, 2, 16, 1), pack(6, 1, 1, 6)} {
		l, s := finalOf(t, in)
		f, err := l.FiguresOf(s)
		if err != nil {
			t.Fatal(err)
		}
		for k, place := range s.Places {
			sum := 0.0
			for _, slot := range place {
				sum += f.CellA[slot]
			}
			near(t, "current of a place", sum, in.RatedA, 1e-6)
			if f.Unevenness[k] < 1-1e-12 {
				t.Errorf("unevenness %v below 1", f.Unevenness[k])
			}
		}
		near(t, "pack resistance", f.PackOhm, f.LinkOhm+idealOhm(l, s), 1e-12)
		near(t, "mains short", f.MainsShortA, 3.65*float64(in.Series)/f.PackOhm, 1e-3)
		if in.Parallel == 1 {
			sum := 0.0
			for _, k := range f.Links {
				sum += k.MicroOhm / 1e6
			}
			near(t, "links in series", f.LinkOhm, sum, 1e-10)
		}
	}
}

// Fed crosswise at the ends, links without joints carry less unevenness the
// thicker they are.
func TestThickerLinksShareBetter(t *testing.T) {
	last := math.Inf(1)
	for _, thick := range []float64{1, 2, 5, 10} {
		in := pack(6, 1, 1, 6)
		in.Bar.ThicknessMM, in.ContactMicroOhm = thick, 1
		in.RatedA = 50 // one layer throughout
		l, s := finalOf(t, in)
		f, err := l.FiguresOf(s)
		if err != nil {
			t.Fatal(err)
		}
		if f.Unevenness[0] >= last {
			t.Errorf("%v mm: unevenness %v, thinner bar %v", thick, f.Unevenness[0], last)
		}
		last = f.Unevenness[0]
	}
}
