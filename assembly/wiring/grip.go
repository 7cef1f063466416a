package wiring

import "fmt"

// Grip is what is clamped under one nut or screw head.
type Grip struct {
	Post  Post
	Links int
	// MetalMM is the thickness of all bars on the terminal; a cable lug counts
	// as two millimetres (common practice, no source).
	MetalMM float64
}

const lugMM = 2.0

// Grips lists what is stacked on every terminal that carries a link, in slot
// order.
func (l *Layout) Grips(s State) []Grip {
	var out []Grip
	for node := range 2 * l.Cells() {
		g := Grip{Post: postOf(node)}
		for _, k := range s.Links {
			if !k.on(g.Post) {
				continue
			}
			g.Links++
			if k.Cable {
				g.MetalMM += lugMM
			} else {
				g.MetalMM += float64(k.layers()) * l.in.Bar.ThicknessMM
			}
		}
		if g.Links > 0 {
			out = append(out, g)
		}
	}
	return out
}

// studWarnings names studs too short for what they carry: bars, a washer of a
// fifth and a nut of nine tenths of the diameter (ISO 7089 and ISO 4032 in round
// numbers).
func (l *Layout) studWarnings(s State) []string {
	if l.in.StudHeightMM == 0 {
		return nil
	}
	var out []string
	for _, g := range l.Grips(s) {
		need := g.MetalMM + 1.1*l.in.StudDiaMM
		if need > l.in.StudHeightMM {
			out = append(out, fmt.Sprintf("%s carries %s of bars: with washer and nut the stud needs %s and has %s",
				l.PostName(g.Post, s.Turns), mm(g.MetalMM), mm(need), mm(l.in.StudHeightMM)))
		}
	}
	return out
}
