package wiring

import "fmt"

// CrossingKind says what a link comes too close to.
type CrossingKind string

// The kinds of crossing.
const (
	CrossesLink  CrossingKind = "crosses-link"  // two links of unlike potential overlap in plan view
	OverTerminal CrossingKind = "over-terminal" // a link lies over a terminal of unlike potential
	NearLink     CrossingKind = "near-link"     // less than the touching distance apart
	NearTerminal CrossingKind = "near-terminal"
	OverVent     CrossingKind = "over-vent"
)

// Crossing is one place where a link needs insulation or is in the way. Widths
// are those of the bar, ends are taken round, so gaps are exact along the bar.
type Crossing struct {
	Kind  CrossingKind
	State string
	Link  Link
	Other Link // second link of CrossesLink and NearLink
	Post  Post // terminal of OverTerminal and NearTerminal
	Slot  int  // cell of OverVent
	GapMM float64
	Text  string
}

// Insulate says whether the place needs insulation (a vent needs air instead).
func (c Crossing) Insulate() bool { return c.Kind != OverVent }

// Crossings finds all places of a state where links of unlike potential come
// together in plan view, and every vent that a link covers.
func (l *Layout) Crossings(s State) []Crossing {
	n := netsOf(l.Cells(), s.Links)
	var out []Crossing
	for i, k := range s.Links {
		for _, o := range s.Links[i+1:] {
			if n.find(k.A.node()) != n.find(o.A.node()) {
				out = append(out, l.linkNearLink(s, k, o)...)
			}
		}
		out = append(out, l.nearPosts(s, k, n)...)
		out = append(out, l.overVents(s, k)...)
	}
	return out
}

func (l *Layout) segmentOf(k Link, t Turns) segment {
	return segment{l.Position(k.A, t), l.Position(k.B, t)}
}

func (l *Layout) linkNearLink(s State, k, o Link) []Crossing {
	gap := l.segmentOf(k, s.Turns).gap(l.segmentOf(o, s.Turns)) - l.in.Bar.WidthMM
	c := Crossing{Kind: NearLink, State: s.ID, Link: k, Other: o, GapMM: max(0, gap)}
	switch {
	case gap <= 0:
		c.Kind = CrossesLink
		c.Text = fmt.Sprintf("%s crosses %s", l.LinkName(k, s.Turns), l.LinkName(o, s.Turns))
	case gap < l.in.TouchMM:
		c.Text = fmt.Sprintf("%s passes %s from %s: sleeve one of them",
			l.LinkName(k, s.Turns), mm(gap), l.LinkName(o, s.Turns))
	default:
		return nil
	}
	return []Crossing{c}
}

func (l *Layout) nearPosts(s State, k Link, n *nets) []Crossing {
	var out []Crossing
	seg := l.segmentOf(k, s.Turns)
	for node := range 2 * l.Cells() {
		p := postOf(node)
		if n.find(node) == n.find(k.A.node()) {
			continue
		}
		gap := seg.distanceTo(l.Position(p, s.Turns)) - (l.in.Bar.WidthMM+l.in.PadDiaMM)/2
		c := Crossing{Kind: NearTerminal, State: s.ID, Link: k, Post: p, GapMM: max(0, gap)}
		switch {
		case gap <= 0:
			c.Kind = OverTerminal
			c.Text = fmt.Sprintf("%s lies over %s", l.LinkName(k, s.Turns), l.PostName(p, s.Turns))
		case gap < l.in.TouchMM:
			c.Text = fmt.Sprintf("%s passes %s from %s: cap the terminal or sleeve the link",
				l.LinkName(k, s.Turns), mm(gap), l.PostName(p, s.Turns))
		default:
			continue
		}
		out = append(out, c)
	}
	return out
}

func (l *Layout) overVents(s State, k Link) []Crossing {
	v := l.in.Vent
	if v.LengthMM <= 0 || v.WidthMM <= 0 {
		return nil
	}
	var out []Crossing
	seg := l.segmentOf(k, s.Turns)
	for slot := range l.Cells() {
		gap := seg.gapToBox(l.Middle(slot), v.LengthMM, v.WidthMM) - l.in.Bar.WidthMM/2
		if gap <= 0 {
			out = append(out, Crossing{Kind: OverVent, State: s.ID, Link: k, Slot: slot,
				Text: fmt.Sprintf("%s lies over the vent of cell %s", l.LinkName(k, s.Turns), l.CellName(slot))})
		}
	}
	return out
}

// insulated returns the links with every one that would cross another or lie
// over a foreign terminal made an insulated cable.
func (l *Layout) insulated(s State) []Link {
	cable := map[[2]int]bool{}
	for _, c := range l.Crossings(s) {
		switch c.Kind {
		case CrossesLink:
			cable[c.Link.key()], cable[c.Other.key()] = true, true
		case OverTerminal:
			cable[c.Link.key()] = true
		}
	}
	out := append([]Link(nil), s.Links...)
	for i, k := range out {
		out[i].Cable = cable[k.key()]
	}
	return out
}
