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
