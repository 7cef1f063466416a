package drawing

import "fmt"

// Paper is a trimmed sheet size, mm, upright.
type Paper struct {
	Name string
	W, H float64
}

// The papers: ISO 216 sizes, and the American office sizes 8.5 x 11 and
// 11 x 17 in.
var (
	A4      = Paper{"A4", 210, 297}
	A3      = Paper{"A3", 297, 420}
	Letter  = Paper{"LETTER", 215.9, 279.4}
	Tabloid = Paper{"TABLOID", 279.4, 431.8}
)

// PaperNamed finds the user's paper: "a4" or "letter".
func PaperNamed(name string) (Paper, error) {
	switch name {
	case "a4", "A4":
		return A4, nil
	case "letter", "LETTER", "Letter":
		return Letter, nil
	}
	return Paper{}, fmt.Errorf("drawing: paper %q is not a4 or letter", name)
}

// larger is the next size that an office of the same habit prints on.
func (p Paper) larger() Paper {
	if p.Name == Letter.Name || p.Name == Tabloid.Name {
		return Tabloid
	}
	return A3
}

// Scale is a ratio of drawn to true size.
type Scale struct{ Drawn, True float64 }

// Factor is drawn size over true size.
func (s Scale) Factor() float64 { return s.Drawn / s.True }

func (s Scale) String() string { return fmt.Sprintf("%g:%g", s.Drawn, s.True) }

// Scales are the standard scales of ISO 5455 that occur here, largest first.
var Scales = []Scale{{10, 1}, {5, 1}, {2, 1}, {1, 1}, {1, 2}, {1, 5}, {1, 10}, {1, 20}, {1, 50}, {1, 100}}

// scaleFor is the largest standard scale not above most at which w x h mm fits
// into the room, with the given paper lengths added on each axis.
func scaleFor(w, h, roomW, roomH float64, most Scale) (Scale, bool) {
	for _, s := range Scales {
		if s.Factor() <= most.Factor() && w*s.Factor() <= roomW && h*s.Factor() <= roomH {
			return s, true
		}
	}
	return Scales[len(Scales)-1], false
}
