package page

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/parts/geom"
)

// Shot is the picture of one step: what is there already as pale lines, what the
// step adds in colour, drawn off its place with an arrow to it, and the tools.
type Shot struct {
	Alt    string // what the picture shows, in words
	Actors []ShotActor
	Spans  []ShotSpan
	Close  []ShotActor // what is small in it, drawn once more by itself
	Loose  bool        // parts that lie on the bench: no left, right and front
	small  bool        // a close-up, beside another
}

// ShotActor is one thing in a shot.
type ShotActor struct {
	Body  string     // name of one of the sheet's ShotBodies
	Place geom.Frame // where it ends
	From  geom.Vec3  // how far off its place it is drawn, mm
	Role  ShotRole
	Label string // at its visible middle; empty: none
}

// ShotRole says how an actor is drawn.
type ShotRole int

// The roles: there already, added by the step, a tool in its place.
const (
	ShotThere ShotRole = iota
	ShotAdds
	ShotTool
)

// ShotSpan is a distance that the step measures.
type ShotSpan struct {
	A, B geom.Vec3
	Text string
}

// Sizes of a shot in its own pixels.
const (
	shotWidth  = 680
	shotMost   = 430 // high
	shotSmall  = 230 // high, a close-up
	shotMargin = 26
	shotName   = 146 // beside the picture, for the labels
	looseMost  = 560 // width of a picture of loose parts that is printed small
	shotLine   = 23  // between labels
	shotNames  = 6   // labels that stand on one side
)

// shotViews are the corners a shot is seen from, the usual one first: from the front
// right, front left, back right, back left.
var shotViews = []view{{0.75, 0.42}, {-0.75, 0.42}, {math.Pi - 0.75, 0.42}, {math.Pi + 0.75, 0.42}}

// seenEnough is the part of what a step adds that must be visible, beside all that has
// a name, for the view to stay as it was.
const seenEnough = 0.4

// shots draws the pictures of a sheet, one after the other.
type shots struct {
	shapes map[string]*shape
	class  map[string]Class
	last   int // view of the last shot
}

func newShots(bodies []Body) *shots {
	s := &shots{shapes: map[string]*shape{}, class: map[string]Class{}}
	for _, b := range bodies {
		s.shapes[b.Name], s.class[b.Name] = newShape(b.Mesh), classOf(b.Class)
	}
	return s
}

// step chooses the view of a step's picture and returns what draws it; an empty
// picture where there is none.
func (c *shots) step(s Step) func() string {
	if s.Links != nil {
		return func() string { return wiringSVG(*s.Links) }
	}
	if k := c.seen(s.Shot); k != nil {
		view := c.last
		return func() string { return k.write() + c.closeUp(s.Shot, view) }
	}
	return func() string { return "" }
}

// closeUp draws what is small in a shot, seen from where the shot is.
func (c *shots) closeUp(s *Shot, view int) string {
	if len(s.Close) == 0 {
		return ""
	}
	k := &shotPicture{Shot: &Shot{Alt: s.Alt + ": one rod, in order", Actors: s.Close, Loose: true, small: true}, shots: c}
	k.paint(shotViews[view])
	return k.write()
}

// seen paints a shot in the view of the last one, or where that hides what the step
// adds, in the one that shows most of it. Nil when nothing of it can be drawn.
func (c *shots) seen(s *Shot) *shotPicture {
	if s == nil {
		return nil
	}
	if !slices.ContainsFunc(s.Actors, func(a ShotActor) bool { return c.drawn(a) && a.Role == ShotAdds }) {
		return nil
	}
	var best *shotPicture
	most, view := 0.0, c.last
	for i, v := range []int{c.last, 0, 1, 2, 3} {
		if i > 0 && v == c.last {
			continue
		}
		k := &shotPicture{Shot: s, shots: c}
		seen, named := k.paint(shotViews[v])
		switch {
		case seen+named > most+0.02:
			best, most, view = k, seen+named, v
		case best == nil:
			best = k
		}
		if seen >= seenEnough && named == 1 {
			break
		}
	}
	if !s.Loose {
		c.last = view
	}
	return best
}

// shotPicture is one shot in the making.
type shotPicture struct {
	*Shot
	*shots
	still
	at    []geom.Frame  // as drawn
	dots  [][]geom.Vec3 // their corners in pixels
	edge  [2]float64    // room for labels on the left and on the right, pixels
	yours geom.Box3
}

func (c *shots) drawn(a ShotActor) bool {
	s := c.shapes[a.Body]
	return s != nil && len(s.triangles) > 0
}

// paint draws the surfaces in a view and returns which part of what is added is
// not hidden, and of what has a name. The ink of an actor is its place in the list,
// from 1.
func (k *shotPicture) paint(v view) (seen, named float64) {
	k.still = still{w: shotWidth}
	k.look(v)
	k.frame()
	k.dots = make([][]geom.Vec3, len(k.Actors))
	alone := 0
	for _, roles := range [2][]ShotRole{{ShotAdds}, {ShotThere, ShotTool}} {
		for i, a := range k.Actors {
			if !k.drawn(a) || !slices.Contains(roles, a.Role) {
				continue
			}
			k.dots[i] = k.seeAll(k.shapes[a.Body], k.at[i])
			k.paintActor(k.shapes[a.Body], k.at[i], k.dots[i], func(geom.Vec3) uint16 { return uint16(i + 1) })
		}
		if alone == 0 {
			alone = k.count()
		}
	}
	return float64(k.count()) / float64(max(alone, 1)), k.named()
}

// leastSeen is the fewest pixels that tell what a thing is.
const leastSeen = 8

// named is the part of the labels whose actors are seen.
func (k *shotPicture) named() float64 {
	pixels := make([]int, len(k.Actors)+1)
	for _, ink := range k.inks {
		pixels[ink]++
	}
	all, seen := 0, 0
	for i, a := range k.Actors {
		if a.Label == "" || !k.drawn(a) {
			continue
		}
		if all++; pixels[i+1] >= leastSeen {
			seen++
		}
	}
	if all == 0 {
		return 1
	}
	return float64(seen) / float64(all)
}

// count is how many pixels show what is added.
func (k *shotPicture) count() int {
	n := 0
	for _, ink := range k.inks {
		if ink > 0 && k.Actors[ink-1].Role == ShotAdds {
			n++
		}
	}
	return n
}

// frame fits everything that is drawn into the picture.
func (k *shotPicture) frame() {
	k.at = make([]geom.Frame, len(k.Actors))
	flat, first := geom.EmptyBox2(), true
	labels, across := 0.0, 0.0
	for i, a := range k.Actors {
		k.at[i] = a.Place.Moved(a.From)
		if !k.drawn(a) {
			continue
		}
		box := a.Place.Box(k.shapes[a.Body].bounds())
		if first {
			k.yours, first = box, false
		}
		k.yours = k.yours.Union(box)
		for _, v := range k.shapes[a.Body].vertices {
			w := k.at[i].Point(v)
			flat = flat.Add(geom.Vec2{X: w.Dot(k.right), Y: w.Dot(k.up)})
		}
		if a.Label != "" {
			labels, across = labels+1, across+k.at[i].Box(k.shapes[a.Body].bounds()).Center().Dot(k.right)
		}
	}
	wide, high := flat.Max.X-flat.Min.X, flat.Max.Y-flat.Min.Y
	right := 2*across > labels*(flat.Min.X+flat.Max.X)
	for side := range k.edge {
		if labels > 0 && (k.Loose || labels > shotNames || right == (side == 1)) {
			k.edge[side] = shotName
		}
	}
	most := shotMost
	if k.small {
		most = shotSmall
	}
	room := shotWidth - 2*shotMargin - k.edge[0] - k.edge[1]
	k.scale = min(room/max(wide, 1e-6), float64(most-2*shotMargin)/max(high, 1e-6))
	k.paper(flat, int(high*k.scale+2*shotMargin))
	k.origin.X += (k.edge[0] - k.edge[1]) / 2
}

// write draws the lines and the words over the painted surfaces.
func (k *shotPicture) write() string {
	var b strings.Builder
	class, from, to := "shot", 0.0, float64(k.w)
	if k.Loose {
		if from, to = k.used(); to-from < looseMost && !k.small {
			class += " loose"
		}
	}
	if k.small {
		class += " small"
	}
	openSVGAt(&b, class, k.Alt, from, to-from, float64(k.h))
	k.regions(&b)
	for _, r := range []struct {
		role  ShotRole
		class string
		slack float64
	}{{ShotThere, "there", 0.7}, {ShotTool, "tool", 0.5}, {ShotAdds, "ink", 0.4}} {
		for i, a := range k.Actors {
			if a.Role == r.role && k.drawn(a) {
				k.lineActor(k.shapes[a.Body], k.at[i], k.dots[i])
			}
		}
		if d := k.inked(r.slack); d != "" {
			b.WriteString(`<path class="` + r.class + `" d="` + d + `"/>`)
		}
	}
	if !k.Loose {
		k.sides(&b)
	}
	k.arrows(&b)
	k.spans(&b)
	k.names(&b)
	b.WriteString("</svg>")
	return b.String()
}

// used is what of a picture's width holds anything: the things drawn, and the labels on
// either side.
func (k *shotPicture) used() (from, to float64) {
	from, to = float64(k.w), 0
	for i, ink := range k.inks {
		if x := float64(i % k.w); ink > 0 {
			from, to = min(from, x), max(to, x)
		}
	}
	from, to = from-shotMargin, to+shotMargin
	for _, at := range k.middles() {
		switch {
		case at == nil:
		case k.leftward(*at):
			from = 0
		default:
			to = float64(k.w)
		}
	}
	return from, to
}

// regions fills what is added, and the tools, where they are visible, each class in
// its colour.
func (k *shotPicture) regions(b *strings.Builder) {
	keys := make([]uint8, len(k.inks))
	for i, ink := range k.inks {
		if ink == 0 {
			continue
		}
		switch a := k.Actors[ink-1]; a.Role {
		case ShotAdds:
			keys[i] = uint8(1 + classIndex(k.class[a.Body]))
		case ShotTool:
			keys[i] = toolKey
		}
	}
	paths := regionPaths(keys, k.w)
	for i, c := range paint {
		if d := paths[uint8(1+i)]; d != "" {
			b.WriteString(`<path class="now" fill="` + fmt.Sprintf("#%02x%02x%02x", c.rgb.R, c.rgb.G, c.rgb.B) + `" d="` + d + `"/>`)
		}
	}
	if d := paths[toolKey]; d != "" {
		b.WriteString(`<path class="now by" d="` + d + `"/>`)
	}
}

// toolKey is the key of tools beside those of the classes.
const toolKey = 200

// arrows lead from where parts are drawn to their places: one for all that move
// alike, from the first of them that has a name.
func (k *shotPicture) arrows(b *strings.Builder) {
	var done []geom.Vec3
	for i, a := range k.Actors {
		if a.From == (geom.Vec3{}) || a.Label == "" || !k.drawn(a) || slices.Contains(done, a.From) {
			continue
		}
		done = append(done, a.From)
		mid := k.at[i].Box(k.shapes[a.Body].bounds()).Center()
		from, to := k.see(mid), k.see(mid.Sub(a.From))
		arrow(b, geom.Vec2{X: from.X, Y: from.Y}, geom.Vec2{X: to.X, Y: to.Y})
	}
}

// arrow draws an arrow in picture units, on a halo of paper.
func arrow(b *strings.Builder, from, to geom.Vec2) {
	d := to.Sub(from)
	if d.Len() < 4 {
		return
	}
	u := d.Mul(1 / d.Len())
	n := geom.Vec2{X: -u.Y, Y: u.X}
	neck := to.Sub(u.Mul(min(13, d.Len())))
	path := "M" + px(from.X) + " " + px(from.Y) + "L" + px(neck.X) + " " + px(neck.Y)
	head := "M" + px(to.X) + " " + px(to.Y)
	for _, s := range []float64{6, -6} {
		p := neck.Add(n.Mul(s))
		head += "L" + px(p.X) + " " + px(p.Y)
	}
	for _, class := range []string{"halo", "way"} {
		b.WriteString(`<path class="` + class + `" d="` + path + `"/><path class="` + class + ` head" d="` + head + `Z"/>`)
	}
}

// spans draws the measured distances with their figures.
func (k *shotPicture) spans(b *strings.Builder) {
	for _, s := range k.Spans {
		from, to := k.see(s.A), k.see(s.B)
		a, c := geom.Vec2{X: from.X, Y: from.Y}, geom.Vec2{X: to.X, Y: to.Y}
		mid := a.Add(c).Mul(0.5)
		arrow(b, mid, a)
		arrow(b, mid, c)
		textAt(b, "on mid strong", mid.X, mid.Y-8, s.Text)
	}
}

// sides writes which way is left, right, front and up.
func (k *shotPicture) sides(b *strings.Builder) {
	lo, hi := k.yours.Min, k.yours.Max
	mid := lo.Add(hi).Mul(0.5)
	for _, s := range []struct {
		name   string
		at, to geom.Vec3
	}{
		{"left", geom.Vec3{X: lo.X, Y: lo.Y, Z: mid.Z}, geom.Vec3{X: -1}},
		{"right", geom.Vec3{X: hi.X, Y: lo.Y, Z: mid.Z}, geom.Vec3{X: 1}},
		{"front", geom.Vec3{X: mid.X, Y: lo.Y, Z: hi.Z}, geom.Vec3{Z: 1}},
		{"back", geom.Vec3{X: mid.X, Y: lo.Y, Z: lo.Z}, geom.Vec3{Z: -1}},
	} {
		if !k.near(s.to) {
			continue
		}
		p, q := k.see(s.at), k.see(s.at.Add(s.to.Mul(30/k.scale)))
		textAt(b, "side mid", min(max(q.X, 18), float64(k.w)-18), min(max(q.Y, p.Y)+9, float64(k.h)-4), s.name)
	}
	if k.up.Y > 0.5 {
		x, y := 13.0, float64(k.h)-12
		arrow(b, geom.Vec2{X: x, Y: y}, geom.Vec2{X: x, Y: y - 34})
		textAt(b, "side", x+9, y-22, "UP")
	}
}

// near says whether a direction comes toward the eye, so that what stands there is
// not behind the fixture.
func (k *shotPicture) near(d geom.Vec3) bool { return d.Dot(k.eye) > 0.1 }

// names writes the labels beside the picture, each with a line to the visible
// middle of what it names.
func (k *shotPicture) names(b *strings.Builder) {
	type name struct {
		text string
		at   geom.Vec2
		y    float64
	}
	var left, right []name
	middles := k.middles()
	for i, a := range k.Actors {
		at := middles[i+1]
		if at == nil {
			continue
		}
		if n := (name{a.Label, *at, at.Y}); k.leftward(*at) {
			left = append(left, n)
		} else {
			right = append(right, n)
		}
	}
	for side, all := range [2][]name{left, right} {
		slices.SortStableFunc(all, func(a, b name) int { return cmp.Compare(a.y, b.y) })
		low := 14.0
		for i := range all {
			all[i].y = max(all[i].y, low)
			low = all[i].y + shotLine
		}
		high := float64(k.h) - 6
		if side == 0 && !k.Loose {
			high -= 52 // above the arrow up
		}
		for i := len(all) - 1; i >= 0; i-- {
			all[i].y = min(all[i].y, high)
			high = all[i].y - shotLine
		}
		class, x, line := "on end strong", float64(shotName)-8, float64(shotName)-4
		if side == 1 {
			class, x, line = "on strong", float64(k.w)-shotName+8, float64(k.w)-shotName+4
		}
		for _, n := range all {
			lineAt(b, "lead", line, n.y-4, n.at.X, n.at.Y)
			dotAt(b, "leaddot", n.at.X, n.at.Y, 2.2)
			textAt(b, class, x, n.y, shorten(n.text, 14))
		}
	}
}

// leftward reports whether what is seen at a place has its label on the left.
func (k *shotPicture) leftward(at geom.Vec2) bool {
	return k.edge[1] == 0 || k.edge[0] > 0 && at.X < float64(k.w)/2
}

// middles are, for every ink, the pixel nearest to the mean of all that have it; none
// where nothing of it is seen.
func (k *shotPicture) middles() []*geom.Vec2 {
	n := len(k.Actors) + 1
	mean, count := make([]geom.Vec2, n), make([]float64, n)
	at := func(i int) geom.Vec2 { return geom.Vec2{X: float64(i%k.w) + 0.5, Y: float64(i/k.w) + 0.5} }
	for i, ink := range k.inks {
		if ink > 0 {
			mean[ink], count[ink] = mean[ink].Add(at(i)), count[ink]+1
		}
	}
	out, far := make([]*geom.Vec2, n), make([]float64, n)
	for i, ink := range k.inks {
		if ink == 0 || k.Actors[ink-1].Label == "" {
			continue
		}
		p := at(i)
		if d := p.Dist(mean[ink].Mul(1 / count[ink])); out[ink] == nil || d < far[ink] {
			out[ink], far[ink] = &p, d
		}
	}
	return out
}
