package drawing

import (
	"fmt"

	"clampwright/parts/geom"
)

// Conflict is lettering that cannot be read because something lies across it.
type Conflict struct {
	Text string
	With string // the other text, or what kind of line
	At   geom.Vec2
}

func (c Conflict) String() string {
	return fmt.Sprintf("%q meets %s at (%.1f, %.1f)", c.Text, c.With, c.At.X, c.At.Y)
}

// Conflicts lists every text of the sheet that another text or a line crosses,
// or that leaves the sheet. A text with a Mask may lie over lines drawn before
// it.
func (s *Sheet) Conflicts() []Conflict {
	texts, strokes := collect(s.Items, 0, nil, nil)
	var out []Conflict
	page := geom.Box2{Max: pt(s.W, s.H)}
	for i, t := range texts {
		b := t.t.bounds()
		if b.Min.X < page.Min.X || b.Min.Y < page.Min.Y || b.Max.X > page.Max.X || b.Max.Y > page.Max.Y {
			out = append(out, Conflict{t.t.S, "the edge of the sheet", b.Min})
		}
		for _, o := range texts[i+1:] {
			if boxesMeet(t.c, o.c) {
				out = append(out, Conflict{t.t.S, fmt.Sprintf("%q", o.t.S), t.t.At})
			}
		}
		for _, k := range strokes {
			if t.t.Mask && k.order < t.order {
				continue
			}
			if segmentMeets(k.a, k.b, t.c) {
				out = append(out, Conflict{t.t.S, fmt.Sprintf("a line of pen %d", k.pen), t.t.At})
				break
			}
		}
	}
	return out
}
