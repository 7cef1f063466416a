package compare

import (
	"fmt"
	"math"
	"strings"

	"clampwright/assembly"
	"clampwright/params/number"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// overlay is a flat part of the new fixture over its predecessor.
type overlay struct {
	Name, Action string
	Old, New     *parts.Flat // either may be nil
	Turned       bool        // the old part stands on its head
	At           geom.Vec2   // the new part's middle on the old one
	Left         []geom.Circle
}

// overlays pairs the flats of plates and angles by the rows.
func overlays(old, now *assembly.Assembly, rows []Row) []overlay {
	flats := func(a *assembly.Assembly) map[string]*parts.Flat {
		out := map[string]*parts.Flat{}
		for _, l := range a.PartsList() {
			if l.Part.Flat != nil && l.Part.Kind != parts.KindLink {
				out[l.Part.ID] = l.Part.Flat
			}
		}
		return out
	}
	was, is := flats(old), flats(now)
	var out []overlay
	seen := map[string]bool{}
	for _, r := range rows {
		o, n := was[r.Old], is[r.New]
		if o == nil && n == nil || seen[r.New+"/"+r.Old] || r.Action == Spare && seen["/"+r.Old] {
			continue
		}
		seen[r.New+"/"+r.Old], seen["/"+r.Old] = true, true
		out = append(out, overlay{r.Name, string(r.Action), o, n, r.turned, r.at, r.left})
	}
	return out
}

// pictureMM is the width of a picture's longer side in user units.
const pictureMM = 640

// layer is one outline of a picture.
type layer struct {
	class string
	shape geom.Profile
}

// layers are the old outline and the new one at its place on it.
func (o overlay) layers() []layer {
	var out []layer
	if o.Old != nil {
		p := o.Old.Profile
		if o.Turned {
			p = p.Turned(math.Pi)
		}
		out = append(out, layer{"old", p})
	}
	if o.New != nil {
		out = append(out, layer{"new", o.New.Profile.Moved(o.At)})
	}
	return out
}

// SVG draws the old outline under the new one, and the holes left over.
func (o overlay) SVG() string {
	box := geom.Box2{Min: geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, Max: geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, l := range o.layers() {
		b := l.shape.Bounds()
		box.Min = geom.Vec2{X: math.Min(box.Min.X, b.Min.X), Y: math.Min(box.Min.Y, b.Min.Y)}
		box.Max = geom.Vec2{X: math.Max(box.Max.X, b.Max.X), Y: math.Max(box.Max.Y, b.Max.Y)}
	}
	size := box.Size()
	scale := pictureMM / math.Max(size.X, size.Y)
	const rim = 8
	var b strings.Builder
	fmt.Fprintf(&b, `<svg viewBox="0 0 %s %s" role="img" aria-label="%s, old and new outline">`,
		number.Fixed(size.X*scale+2*rim, 1), number.Fixed(size.Y*scale+2*rim, 1), o.Name)
	place := func(v geom.Vec2) (x, y string) {
		return number.Fixed((v.X-box.Min.X)*scale+rim, 2), number.Fixed((box.Max.Y-v.Y)*scale+rim, 2)
	}
	for _, l := range o.layers() {
		fmt.Fprintf(&b, `<path class="%s" d="%s"/>`, l.class, pathData(l.shape, place))
	}
	for _, c := range o.Left {
		x, y := place(c.C)
		fmt.Fprintf(&b, `<circle class="left" cx="%s" cy="%s" r="%s"/>`, x, y, number.Fixed(c.R*scale, 2))
	}
	b.WriteString("</svg>")
	return b.String()
}

// pathData is a profile with its holes as one path. Arcs are flattened finer than
// a screen shows.
func pathData(p geom.Profile, place func(geom.Vec2) (x, y string)) string {
	var b strings.Builder
	loop := func(points []geom.Vec2) {
		for i, v := range points {
			x, y := place(v)
			b.WriteString(string("ML"[min(i, 1)]) + x + " " + y)
		}
		b.WriteString("Z")
	}
	loop(p.Outer.Flatten(0.1))
	for _, s := range p.Slots {
		loop(s.Flatten(0.1))
	}
	for _, c := range p.Circles {
		loop(c.Flatten(0.1))
	}
	return b.String()
}
