package page

import (
	"math"
	"strings"

	"clampwright/parts/geom"
)

// Sizes of a chart in picture units.
const (
	chartW, chartH             = 460.0, 300.0
	chartLeft, chartRight      = 52.0, 448.0
	chartTop, chartBottom      = 26.0, 252.0
	chartTicksX, chartTicksY   = 6, 5
	chartLabelRunes            = 44
	chartDash                  = 3 // series are told apart by this many dashes
	chartLabelClear            = 13.0
	chartMarkRadius            = 3.4
	chartWindowLabelOffset     = 4.0
	chartAxisTitleY            = 290.0
	chartTickLabelDown         = 16.0
	chartTickLabelLeft         = 7.0
	chartYTitleX, chartYTitleY = 6.0, 13.0
)

// chartSVG draws the curves with the window behind them.
func chartSVG(c Chart) string {
	box := chartBox(c)
	var b strings.Builder
	openSVG(&b, "chart", firstOf(c.Title, "Chart"), chartW, chartH)
	p := plot{b: &b}
	p.sx = (chartRight - chartLeft) / (box.Max.X - box.Min.X)
	p.sy = -(chartBottom - chartTop) / (box.Max.Y - box.Min.Y)
	p.ox, p.oy = chartLeft-p.sx*box.Min.X, chartBottom-p.sy*box.Min.Y
	chartWindow(p, c.Window, box)
	chartGrid(p, c, box)
	chartWindowLabel(p, c.Window)
	for i, s := range c.Series {
		p.path("curve curve"+itoa(i%chartDash), false, zip(s.X, s.Y))
	}
	chartMarks(p, c)
	b.WriteString("</svg>")
	return b.String()
}

// chartBox holds all points, from zero up, ends on round figures.
func chartBox(c Chart) geom.Box2 {
	var all []Polyline
	for _, s := range c.Series {
		all = append(all, zip(s.X, s.Y))
	}
	for _, m := range c.Marks {
		all = append(all, Polyline{{X: m.X, Y: m.Y}})
	}
	b, ok := boxOf(all...)
	if !ok {
		b = geom.Box2{Max: geom.Vec2{X: 1, Y: 1}}
	}
	if c.Window.Given {
		b.Min.Y, b.Max.Y = min(b.Min.Y, c.Window.Low), max(b.Max.Y, c.Window.High)
	}
	b.Min.Y = min(b.Min.Y, 0)
	if b.Max.X <= b.Min.X {
		b.Max.X = b.Min.X + 1
	}
	if b.Max.Y <= b.Min.Y {
		b.Max.Y = b.Min.Y + 1
	}
	step := niceStep((b.Max.Y - b.Min.Y) / chartTicksY)
	b.Min.Y = math.Floor(b.Min.Y/step+1e-9) * step
	b.Max.Y = math.Ceil(b.Max.Y/step-1e-9) * step
	return b
}

func chartWindow(p plot, w Window, box geom.Box2) {
	if !w.Given {
		return
	}
	p.rect("window", geom.Box2{Min: geom.Vec2{X: box.Min.X, Y: w.Low}, Max: geom.Vec2{X: box.Max.X, Y: w.High}})
	for _, v := range []float64{w.Low, w.High} {
		lineAt(p.b, "limit", chartLeft, p.y(v), chartRight, p.y(v))
	}
}

// chartWindowLabel stands on the lower limit, or above the band when the band
// is lower than a line of text.
func chartWindowLabel(p plot, w Window) {
	if !w.Given {
		return
	}
	y := p.y(w.Low)
	if y-p.y(w.High) < chartLabelClear+chartWindowLabelOffset {
		y = p.y(w.High)
	}
	textAt(p.b, "on small end", chartRight-4, y-chartWindowLabelOffset, shorten(firstOf(w.Label, "window"), chartLabelRunes))
}

func chartGrid(p plot, c Chart, box geom.Box2) {
	stepY := niceStep((box.Max.Y - box.Min.Y) / chartTicksY)
	for k := math.Ceil(box.Min.Y/stepY - 1e-9); k*stepY <= box.Max.Y+1e-9*stepY; k++ {
		y := p.y(k * stepY)
		lineAt(p.b, "grid", chartLeft, y, chartRight, y)
		textAt(p.b, "end", chartLeft-chartTickLabelLeft, y+4, tick(k*stepY, stepY))
	}
	stepX := niceStep((box.Max.X - box.Min.X) / chartTicksX)
	for k := math.Ceil(box.Min.X/stepX - 1e-9); k*stepX <= box.Max.X+1e-9*stepX; k++ {
		x := p.x(k * stepX)
		lineAt(p.b, "axis", x, chartBottom, x, chartBottom+4)
		textAt(p.b, "mid", x, chartBottom+chartTickLabelDown, tick(k*stepX, stepX))
	}
	lineAt(p.b, "axis", chartLeft, chartBottom, chartRight, chartBottom)
	textAt(p.b, "start", chartYTitleX, chartYTitleY, c.YLabel)
	textAt(p.b, "mid", (chartLeft+chartRight)/2, chartAxisTitleY, c.XLabel)
}

// chartMarks draws the named points, each label to the side with more room.
func chartMarks(p plot, c Chart) {
	for _, m := range c.Marks {
		x, y := p.x(m.X), p.y(m.Y)
		dotAt(p.b, "mark", x, y, chartMarkRadius)
		if x > (chartLeft+chartRight)/2 {
			textAt(p.b, "on end", x-6, y-7, shorten(m.Label, chartLabelRunes))
		} else {
			textAt(p.b, "on start", x+6, y+chartLabelClear+2, shorten(m.Label, chartLabelRunes))
		}
	}
}

// zip pairs two lists of numbers, as long as the shorter.
func zip(xs, ys []float64) Polyline {
	n := min(len(xs), len(ys))
	out := make(Polyline, n)
	for i := range n {
		out[i] = geom.Vec2{X: xs[i], Y: ys[i]}
	}
	return out
}
