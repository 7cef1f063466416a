package wiring

import (
	"errors"
	"math"
)

// LinkFigures are the electrical figures of one link at the state's current.
type LinkFigures struct {
	Link     Link
	MicroOhm float64 // with both joints, at 20 C
	Amps     float64 // magnitude
	MilliV   float64
	Watts    float64
	// Celsius is the estimated temperature, cooling into terminals left out.
	Celsius float64
	Class   HeatClass
	// TableAmps is the continuous current of one such bar by the table (35 C
	// air, bar 65 C), 0 where the table does not hold it.
	TableAmps float64
}

// Figures are the electrical figures of a state.
type Figures struct {
	State    string
	CurrentA float64
	Links    []LinkFigures
	// CellA is the current of every slot; cells that take no part have none.
	CellA []float64
	// Unevenness of each place: greatest cell current over the mean.
	Unevenness []float64
	// PackOhm is the resistance between the mains, LinkOhm the links' share.
	PackOhm, LinkOhm float64
	// DropV is the voltage lost at the current in cells and links, LinkW the
	// heat in all links.
	DropV, LinkW float64
	// Prospective short-circuit currents with full cells and a bridge without
	// resistance, A: one cell, and between the mains.
	CellShortA, MainsShortA float64
	// HottestC is the temperature of the hottest link, Class its class.
	HottestC float64
	Class    HeatClass
}

// FiguresOf solves a state at its current with all cells at nominal voltage.
func (l *Layout) FiguresOf(s State) (Figures, error) {
	f := Figures{State: s.ID, CurrentA: s.CurrentA, HottestC: l.in.AmbientC}
	if x, bad := brokenState(l, s); bad {
		return f, errors.New(x.Text)
	}
	solver, err := NewSolver(networkOf(l, s, l.in.Volts.Nominal))
	if err != nil {
		return f, err
	}
	sol, err := solver.Load(s.Mains, s.CurrentA)
	if err != nil {
		return f, err
	}
	v, ohms, _ := solver.Between(s.Mains.Minus, s.Mains.Plus)
	full := l.in.Volts.Full / l.in.Volts.Nominal
	f.PackOhm, f.MainsShortA = ohms, math.Abs(v)*full/ohms
	f.LinkOhm = max(0, ohms-idealOhm(l, s))
	f.DropV = ohms * math.Abs(s.CurrentA)
	f.CellA = sol.CellA
	for _, place := range s.Places {
		f.Unevenness = append(f.Unevenness, unevenness(place, sol.CellA))
		for _, slot := range place {
			f.CellShortA = max(f.CellShortA, l.in.Volts.Full/cellOhm(l, slot))
		}
	}
	for i, k := range s.Links {
		x := linkFigures(l, k, s.Turns, sol.LinkA[i])
		f.Links, f.LinkW, f.HottestC = append(f.Links, x), f.LinkW+x.Watts, max(f.HottestC, x.Celsius)
	}
	f.Class = heatClass(f.HottestC, l.in.AmbientC, l.in.LimitC)
	return f, nil
}

// idealOhm is the resistance of the cells alone, joined without links.
func idealOhm(l *Layout, s State) float64 {
	sum := 0.0
	for _, place := range s.Places {
		siemens := 0.0
		for _, slot := range place {
			siemens += 1 / cellOhm(l, slot)
		}
		sum += 1 / siemens
	}
	return sum
}

func linkFigures(l *Layout, k Link, t Turns, a float64) LinkFigures {
	in := l.in
	r := l.LinkOhm(k, t)
	f := LinkFigures{Link: k, MicroOhm: r * 1e6, Amps: math.Abs(a)}
	width, thick := in.Bar.WidthMM, in.Bar.ThicknessMM*float64(k.layers())
	c := conductors[in.Bar.Material]
	if k.Cable {
		// A round cable is reckoned as a square bar of the same section: its
		// insulation and its larger surface roughly cancel.
		width = math.Sqrt(max(k.CableMM2, cableSections[0]))
		thick, c = width, conductors[Copper]
	} else if in.Bar.Material == Copper {
		f.TableAmps, _ = TableAmps(width, in.Bar.ThicknessMM)
	}
	f.Celsius = c.BarCelsius(width, thick, in.AmbientC, f.Amps)
	hot := linkOhmAt(l, k, t, f.Celsius)
	f.MilliV, f.Watts = f.Amps*hot*1000, f.Amps*f.Amps*hot
	f.Class = heatClass(f.Celsius, in.AmbientC, in.LimitC)
	return f
}

// unevenness returns the greatest magnitude over the mean; 1 is even.
func unevenness(place []int, current []float64) float64 {
	most, sum := 0.0, 0.0
	for _, slot := range place {
		a := math.Abs(current[slot])
		most, sum = max(most, a), sum+a
	}
	if sum == 0 {
		return 1
	}
	return most * float64(len(place)) / sum
}

// sizedFor gives every link of a state the layers or the cable section that its
// current asks for, or the strongest there is: the figures then show it too hot. A jumper
// of a balance is made for the whole current.
// Currents come from the solved network with single bars: where links form a tree they
// do not depend on the sections at all.
func sizedFor(l *Layout, s State) (State, error) {
	solver, err := NewSolver(networkOf(l, s, l.in.Volts.Nominal))
	if err != nil {
		return s, err
	}
	sol, err := solver.Load(s.Mains, s.CurrentA)
	if err != nil {
		return s, err
	}
	s.Links = append([]Link(nil), s.Links...)
	for i := range s.Links {
		k, a := &s.Links[i], math.Abs(sol.LinkA[i])
		if s.ID != StateFinal {
			a = math.Abs(s.CurrentA) // all of it, where another jumper is missing
		}
		if k.Cable {
			k.CableMM2 = cableFor(a)
		} else {
			k.Layers = l.in.layersFor(a)
		}
	}
	return s, nil
}

// evenMains picks the take-offs of a parallel state among the ends of the
// slots: those that share the current most evenly, the first of equals.
func evenMains(l *Layout, s State) (Mains, error) {
	place := s.Places[0]
	ends := []int{place[0], place[len(place)-1]}
	best := Mains{s.Turns.At(ends[1], Minus), s.Turns.At(ends[0], Plus)}
	solver, err := NewSolver(networkOf(l, s, l.in.Volts.Nominal))
	if err != nil {
		return best, err
	}
	least := math.Inf(1)
	for _, c := range [][2]int{{1, 0}, {0, 1}, {0, 0}, {1, 1}} {
		m := Mains{s.Turns.At(ends[c[0]], Minus), s.Turns.At(ends[c[1]], Plus)}
		sol, err := solver.Load(m, s.CurrentA)
		if err != nil {
			return best, err
		}
		if u := unevenness(place, sol.CellA); u < least-1e-9 {
			best, least = m, u
		}
	}
	return best, nil
}
