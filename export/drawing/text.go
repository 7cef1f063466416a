package drawing

import (
	"cmp"
	"math"
	"strings"
	"sync"

	"github.com/mozillazg/go-unidecode"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"clampwright/parts/geom"
)

// Face is a typeface of the sheets.
type Face uint8

// The faces, all embedded by the encoders that can.
const (
	Regular Face = iota
	Bold
	Mono
	faceCount
)

// TTF is the TrueType file of the face; callers must not change it.
func (f Face) TTF() []byte {
	switch f {
	case Bold:
		return gobold.TTF
	case Mono:
		return gomono.TTF
	}
	return goregular.TTF
}

// Anchor says which point of the text its position is: first along the line,
// then across it.
type Anchor uint8

// The anchors. Low is the baseline, Mid half the capital height, High the
// capital height.
const (
	LeftLow Anchor = iota
	LeftMid
	LeftHigh
	MidLow
	MidMid
	MidHigh
	RightLow
	RightMid
	RightHigh
)

// Text is one line of lettering. Height is the height of capitals, mm
// (ISO 3098 h); Angle turns it counter-clockwise about At, radians.
type Text struct {
	At     geom.Vec2
	S      string
	Height float64
	Face   Face
	Anchor Anchor
	Angle  float64
	// Mask paints the ground white under the text first.
	Mask bool
}

// ink is the extent of a glyph in em, y up.
type ink struct {
	advance                float64
	minX, minY, maxX, maxY float64
	empty                  bool
}

// metrics holds what layout needs of one face.
type metrics struct {
	latin  [256]ink // filled once, read without the lock
	mu     sync.Mutex
	font   *sfnt.Font
	buf    sfnt.Buffer
	glyphs map[rune]ink
	cap    float64 // capital height, em
}

var faces = sync.OnceValue(func() (m [faceCount]*metrics) {
	for f := Regular; f < faceCount; f++ {
		m[f] = loadFace(f.TTF())
	}
	return m
})

const measureEm = 2048 // the faces' own units per em: measuring is exact

func loadFace(ttf []byte) *metrics {
	m := &metrics{glyphs: make(map[rune]ink), cap: 0.72}
	fnt, err := sfnt.Parse(ttf)
	if err != nil {
		for r := range m.latin {
			m.latin[r] = m.read(rune(r))
		}
		return m // the embedded faces parse; glyph falls back to a fixed pitch
	}
	m.font = fnt
	for r := range m.latin {
		m.latin[r] = m.read(rune(r))
	}
	if mt, err := fnt.Metrics(&m.buf, fixed.I(measureEm), font.HintingNone); err == nil && mt.CapHeight > 0 {
		m.cap = fl(mt.CapHeight)
	}
	return m
}

func fl(v fixed.Int26_6) float64 { return float64(v) / 64 / measureEm }

func (m *metrics) glyph(r rune) ink {
	if r >= 0 && r < rune(len(m.latin)) {
		return m.latin[r]
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if g, ok := m.glyphs[r]; ok {
		return g
	}
	g := m.read(r)
	m.glyphs[r] = g
	return g
}

func (m *metrics) read(r rune) ink {
	if m.font == nil {
		return ink{advance: 0.6, maxX: 0.6, maxY: 0.72}
	}
	i, err := m.font.GlyphIndex(&m.buf, r)
	if err != nil {
		return ink{advance: 0.6, maxX: 0.6, maxY: 0.72}
	}
	b, adv, err := m.font.GlyphBounds(&m.buf, i, fixed.I(measureEm), font.HintingNone)
	if err != nil {
		return ink{advance: 0.6, maxX: 0.6, maxY: 0.72}
	}
	return ink{advance: fl(adv), minX: fl(b.Min.X), maxX: fl(b.Max.X), minY: -fl(b.Max.Y), maxY: -fl(b.Min.Y),
		empty: b.Min.X >= b.Max.X}
}

// Has says whether the face can print the rune.
func (f Face) Has(r rune) bool {
	m := faces()[f]
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.font == nil {
		return r < 127
	}
	i, err := m.font.GlyphIndex(&m.buf, r)
	return err == nil && i != 0
}

// EmMM is the font size, mm, that gives capitals of the given height.
func (f Face) EmMM(capHeight float64) float64 { return capHeight / faces()[f].cap }

// Clean replaces what the face cannot print, so that no sheet shows an empty
// box: control characters become spaces, other missing signs Latin letters or a
// question mark.
func Clean(f Face, s string) string {
	var out strings.Builder
	for _, r := range s {
		switch {
		case r < ' ' || r == 127:
			out.WriteByte(' ')
		case f.Has(r):
			out.WriteRune(r)
		case r == '\u2300':
			out.WriteRune('Ø')
		default:
			out.WriteString(cmp.Or(unidecode.Unidecode(string(r)), "?"))
		}
	}
	return out.String()
}

// TextWidth is the advance of a line of text, mm.
func TextWidth(s string, face Face, capHeight float64) float64 {
	m, w := faces()[face], 0.0
	for _, r := range s {
		w += m.glyph(r).advance
	}
	return w * face.EmMM(capHeight)
}

// WidthMM is the advance of the text, mm.
func (t Text) WidthMM() float64 { return TextWidth(t.S, t.Face, t.Height) }

// Origin is the left end of the baseline on the sheet.
func (t Text) Origin() geom.Vec2 {
	dx, dy := t.offset()
	s, c := math.Sincos(t.Angle)
	return pt(t.At.X+dx*c-dy*s, t.At.Y+dx*s+dy*c)
}

// offset is the baseline's left end relative to At, unturned.
func (t Text) offset() (dx, dy float64) {
	switch t.Anchor {
	case MidLow, MidMid, MidHigh:
		dx = -t.WidthMM() / 2
	case RightLow, RightMid, RightHigh:
		dx = -t.WidthMM()
	}
	switch t.Anchor {
	case LeftMid, MidMid, RightMid:
		dy = -t.Height / 2
	case LeftHigh, MidHigh, RightHigh:
		dy = -t.Height
	}
	return dx, dy
}

// Corners are the four corners of the box round the ink, counter-clockwise from
// the lower left of the unturned text. Text without ink gives four equal points.
func (t Text) Corners() [4]geom.Vec2 {
	b := t.inkBox()
	s, c := math.Sincos(t.Angle)
	turn := func(x, y float64) geom.Vec2 { return pt(t.At.X+x*c-y*s, t.At.Y+x*s+y*c) }
	return [4]geom.Vec2{turn(b.Min.X, b.Min.Y), turn(b.Max.X, b.Min.Y), turn(b.Max.X, b.Max.Y), turn(b.Min.X, b.Max.Y)}
}

// inkBox is the box round the ink relative to At, unturned.
func (t Text) inkBox() geom.Box2 {
	m, em := faces()[t.Face], t.Face.EmMM(t.Height)
	b, x := geom.EmptyBox2(), 0.0
	for _, r := range t.S {
		g := m.glyph(r)
		if !g.empty {
			b = b.Union(geom.Box2{Min: pt((x+g.minX)*em, g.minY*em), Max: pt((x+g.maxX)*em, g.maxY*em)})
		}
		x += g.advance
	}
	if b.Min.X > b.Max.X {
		return geom.Box2{}
	}
	dx, dy := t.offset()
	return geom.Box2{Min: b.Min.Add(pt(dx, dy)), Max: b.Max.Add(pt(dx, dy))}
}

func (t Text) shift(d geom.Vec2) Item { t.At = t.At.Add(d); return t }

func (t Text) bounds() geom.Box2 {
	b := geom.EmptyBox2()
	for _, p := range t.Corners() {
		b = b.Add(p)
	}
	return b
}

// Wrap breaks text into lines no wider than widthMM at spaces; a single word
// that is wider stays whole.
func Wrap(s string, face Face, capHeight, widthMM float64) []string {
	var lines []string
	for _, para := range strings.Split(s, "\n") {
		line := ""
		for _, word := range strings.Fields(para) {
			next := strings.TrimSpace(line + " " + word)
			if line != "" && TextWidth(next, face, capHeight) > widthMM {
				lines = append(lines, line)
				next = word
			}
			line = next
		}
		lines = append(lines, line)
	}
	return lines
}

// Fit returns the greatest of the usual lettering heights, at most want, at
// which s is no wider than widthMM; the least height if none is.
func Fit(s string, face Face, want, widthMM float64) float64 {
	h := want
	for _, step := range []float64{7, 5, 3.5, 2.5, 2.2, 1.8} {
		if step > want {
			continue
		}
		h = step
		if TextWidth(s, face, step) <= widthMM {
			break
		}
	}
	return h
}
