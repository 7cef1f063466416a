package drawing_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"clampwright/export/drawing"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// randomPlate is a plate a workshop could meet: holes apart from each other and
// inside the edges.
func randomPlate(r *rand.Rand) *parts.Part {
	w, h := 60+r.Float64()*440, 40+r.Float64()*300
	dia := 4 + r.Float64()*8
	var at []geom.Vec2
	for n := 1 + r.Intn(10); n > 0; n-- {
		for try := 0; try < 20; try++ {
			c := v(dia+r.Float64()*(w-2*dia), dia+r.Float64()*(h-2*dia))
			ok := true
			for _, o := range at {
				ok = ok && math.Hypot(o.X-c.X, o.Y-c.Y) > 3*dia
			}
			if ok {
				at = append(at, c)
				break
			}
		}
	}
	p := drilled("plate", parts.KindPlate, roundedRect(w, h, float64(r.Intn(2))*5), 3+r.Float64()*20, dia, 2, "rod M8", at...)
	p.Name, p.Mark, p.Material, p.Stock = "plate", "P1", "HDPE", "HDPE sheet"
	return p
}

func TestRandomPlatesStayLegible(t *testing.T) {
	r := rand.New(rand.NewSource(41))
	for i := range 24 {
		p := randomPlate(r)
		u, paper := drawing.Millimetres(2), drawing.A4
		if i%2 == 1 {
			u, paper = drawing.Inches(32), drawing.Letter
		}
		name := fmt.Sprintf("plate %d: %.1f x %.1f, %d holes", i, outerW(p), outerH(p), len(p.Holes))
		s, err := drawing.PartSheet{Part: p, Quantity: 2, Units: u, Paper: paper}.Draw()
		if err != nil {
			t.Error(name, err)
			continue
		}
		for _, c := range s.Conflicts() {
			t.Error(name, "sheet:", c)
		}
		pages, err := drawing.Template{Part: p, Quantity: 2, Units: u, Paper: paper}.Pages()
		if err != nil {
			t.Error(name, err)
		}
		for _, pg := range pages {
			for _, c := range pg.Conflicts() {
				t.Error(name, pg.Title, c)
			}
		}
	}
}

func outerW(p *parts.Part) float64 { return p.Flat.Profile.Outer[1].P.X }
func outerH(p *parts.Part) float64 { return p.Flat.Profile.Outer[3].P.Y }

func TestRandomAnglesStayLegible(t *testing.T) {
	r := rand.New(rand.NewSource(42))
	for i := range 24 {
		leg, thick := 15+r.Float64()*45, 2+r.Float64()*4
		length := 80 + r.Float64()*900
		n := 2 + r.Intn(2)
		var at []geom.Vec2
		for k := range n {
			at = append(at, v(12+(length-24)*float64(k)/float64(n-1), leg*0.55))
		}
		p := drilled("angle", parts.KindStiffener, roundedRect(length, leg, 0), thick, 4+r.Float64()*4, 1.6, "rod M6", at...)
		p.Name, p.Mark = "stiffener", "A1"
		a := &drawing.AngleShape{DrilledLegMM: leg, StandingLegMM: 15 + r.Float64()*45, ThicknessMM: thick, RootMM: thick, ToeMM: thick / 2, HeelHigh: i%2 == 0}
		if i%3 == 0 {
			a.ChamferMM = 3
		}
		u, paper := drawing.Millimetres(2), drawing.A4
		if i%4 > 1 {
			u, paper = drawing.Inches(32), drawing.Letter
		}
		name := fmt.Sprintf("angle %d: %.0f long, legs %.0f %.0f", i, length, leg, a.StandingLegMM)
		s, err := drawing.PartSheet{Part: p, Units: u, Paper: paper, Angle: a}.Draw()
		if err != nil {
			t.Error(name, err)
			continue
		}
		for _, c := range s.Conflicts() {
			t.Error(name, "sheet:", c)
		}
		pages, err := drawing.Template{Part: p, Units: u, Paper: paper, Angle: a}.Pages()
		if err != nil {
			t.Error(name, err)
		}
		for _, pg := range pages {
			for _, c := range pg.Conflicts() {
				t.Error(name, pg.Title, c)
			}
		}
	}
}
