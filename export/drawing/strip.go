package drawing

import (
	"fmt"
	"math"

	"clampwright/params/unit"
	"clampwright/params/words"
	"clampwright/parts/geom"
)

// strip is the information along the lower edge of a template page: what it is,
// how to use it, a bar to check the scale by, and a map of the pages.
func (t Template) strip(f *figure, tl *tiling, c, r int) []Item {
	l, right := unprintableMM, tl.pageW-unprintableMM
	top := unprintableMM + stripMM - 3.5
	mapW := 40.0
	out := t.stripWords(f, tl, c, r, l, top, right-mapW-l-4)
	if t.Units.Name == Inches(0).Name {
		out = append(out, scaleBar(pt(l+1, unprintableMM+4.5), 4*unit.MMPerInch, 12.7, 2, "4 in")...)
	} else {
		out = append(out, scaleBar(pt(l+1, unprintableMM+4.5), 100, 10, 5, "100 mm")...)
	}
	return append(out, keyMap(f, tl, c, r, geom.Box2{Min: pt(right-mapW, unprintableMM+1), Max: pt(right, top)})...)
}

func (t Template) stripWords(f *figure, tl *tiling, c, r int, x, top, room float64) []Item {
	head := words.Upper(t.Part.Name)
	if t.Part.Mark != "" {
		head = t.Part.Mark + "  " + head
	}
	h := Fit(head, Bold, 5, room)
	out := []Item{Text{At: pt(x, top), S: ellipsis(head, Bold, h, room), Height: h, Face: Bold, Anchor: LeftHigh}}
	y := top - 7.2
	page := "1 page"
	if n := tl.cols * tl.rows; n > 1 {
		page = fmt.Sprintf("page %s (row %d, column %d) of %d", tl.name(c, r), r+1, c+1, n)
	}
	facts := join(", ", fmt.Sprintf("make %d", t.Quantity), stockWords(t.Part, t.Units), page, t.Fixture)
	lines := append(Wrap(facts, Regular, textMM, room), Wrap(f.how, Regular, smallTextMM, room)...)
	for i, line := range lines {
		size := smallTextMM
		if i < len(lines)-len(Wrap(f.how, Regular, smallTextMM, room)) {
			size = textMM
		}
		if y-size < unprintableMM+16.5 {
			break
		}
		out = append(out, Text{At: pt(x, y), S: line, Height: size, Anchor: LeftHigh})
		y -= size * 1.55
	}
	bars := x + 4*unit.MMPerInch + 16
	check, _ := paragraph(bars, unprintableMM+13.5, Wrap("Print at 100 %, not fitted to the page. Measure the bar before you drill.", Bold, smallTextMM, room-(bars-x)), Bold, smallTextMM)
	return append(out, check...)
}

// join joins the parts that are not empty.
func join(sep string, parts ...string) string {
	out := ""
	for _, p := range parts {
		if p == "" {
			continue
		}
		if out != "" {
			out += sep
		}
		out += p
	}
	return out
}

// scaleBar is a bar of exact length with ticks, its left end and lower edge at
// p; every majors-th tick is long.
func scaleBar(p geom.Vec2, length, pitch float64, majors int, name string) []Item {
	out := []Item{Line{p, pt(p.X+length, p.Y), Thin}}
	n := int(math.Round(length / pitch))
	for i := 0; i <= n; i++ {
		h := 2.0
		if i%majors == 0 {
			h = 4
		}
		x := p.X + length*float64(i)/float64(n)
		out = append(out, Line{pt(x, p.Y), pt(x, p.Y+h), Thin})
	}
	return append(out, Text{At: pt(p.X+length+2, p.Y+0.4), S: name, Height: textMM, Face: Bold})
}

// keyMap shows all pages over the part's outline, this page tinted.
func keyMap(f *figure, tl *tiling, c, r int, b geom.Box2) []Item {
	lo, hi := tl.window(0, 0).Min, tl.window(tl.cols-1, tl.rows-1).Max
	k := math.Min(width(b)/(hi.X-lo.X), height(b)/(hi.Y-lo.Y))
	off := pt(b.Max.X-(hi.X-lo.X)*k, (b.Min.Y+b.Max.Y)/2-(hi.Y-lo.Y)*k/2)
	at := func(p geom.Vec2) geom.Vec2 { return off.Add(p.Sub(lo).Mul(k)) }
	rect := func(q geom.Box2, pen Pen, fill Tone) Item {
		p0, p1 := at(q.Min), at(q.Max)
		return Chain{Path: rectPath(p0.X, p0.Y, p1.X-p0.X, p1.Y-p0.Y), Closed: true, Pen: pen, Fill: fill}
	}
	out := []Item{rect(tl.core(c, r), Hair, Grey)}
	for j := 0; j < tl.rows; j++ {
		for i := 0; i < tl.cols; i++ {
			out = append(out, rect(tl.core(i, j), Hair, NoFill))
		}
	}
	out = append(out, rect(f.box, Thin, NoFill))
	p := newPlacer(out[len(out)-1:], b)
	for j := 0; j < tl.rows; j++ {
		for i := 0; i < tl.cols; i++ {
			core := tl.core(i, j)
			size := math.Min(textMM, 0.4*k*math.Min(width(core), height(core)))
			if size >= 1.2 && tl.cols*tl.rows > 1 {
				out = append(out, p.inCore(at(core.Min), at(core.Max), tl.name(i, j), size))
			}
		}
	}
	return out
}

// inCore writes a page's number into its field of the map, where the part's
// outline does not run through it.
func (p *placer) inCore(lo, hi geom.Vec2, name string, size float64) Text {
	at := func(fx, fy float64) Text {
		return Text{At: pt(lo.X+fx*(hi.X-lo.X), lo.Y+fy*(hi.Y-lo.Y)), S: name, Height: size, Face: Bold, Anchor: MidMid, Mask: true}
	}
	for _, f := range [][2]float64{{0.5, 0.5}, {0.7, 0.5}, {0.3, 0.5}, {0.5, 0.7}, {0.5, 0.3}, {0.7, 0.7}, {0.3, 0.7}, {0.7, 0.3}, {0.3, 0.3}} {
		if t := at(f[0], f[1]); p.free(t, 0.4) {
			return t
		}
	}
	return at(0.5, 0.5)
}
