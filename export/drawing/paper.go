package drawing

import "fmt"

// Paper is a trimmed sheet size, mm, upright.
type Paper struct {
	Name string
	W, H float64
}

// The papers: ISO 216 sizes, and the American sizes 8.5 x 11, 11 x 17 and, of
// ASME Y14.1, C and D.
var (
	A4      = Paper{"A4", 210, 297}
	A3      = Paper{"A3", 297, 420}
	A2      = Paper{"A2", 420, 594}
	A1      = Paper{"A1", 594, 841}
	Letter  = Paper{"LETTER", 215.9, 279.4}
	Tabloid = Paper{"TABLOID", 279.4, 431.8}
	SizeC   = Paper{"C", 431.8, 558.8}
	SizeD   = Paper{"D", 558.8, 863.6}
)

var paperSeries = [][]Paper{{A4, A3, A2, A1}, {Letter, Tabloid, SizeC, SizeD}}

// larger is the next size of the same series; the largest stays.
func (p Paper) larger() Paper {
	for _, series := range paperSeries {
		for i, q := range series {
			if q.Name == p.Name {
				return series[min(i+1, len(series)-1)]
			}
		}
	}
	return p
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
