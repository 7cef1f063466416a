package page

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/png"
	"strings"
	"sync"
)

// stillPalette is clear paper followed by every colour in every light.
func stillPalette() color.Palette {
	pal := color.Palette{color.NRGBA{0xff, 0xff, 0xff, 0}}
	for _, c := range paint {
		for i := range shades {
			k := 0.62 + 0.46*float64(i)/(shades-1)
			pal = append(pal, color.NRGBA{lit(c.rgb.R, k), lit(c.rgb.G, k), lit(c.rgb.B, k), 0xff})
		}
	}
	return pal
}

// lit is one channel under light k; above 1 it goes toward white.
func lit(c uint8, k float64) uint8 {
	v := float64(c) * min(k, 1)
	if k > 1 {
		v += (255 - v) * (k - 1) * 4
	}
	return uint8(min(v, 255) + 0.5)
}

// pngEncoder keeps its buffers from picture to picture: a page has dozens.
var pngEncoder = png.Encoder{BufferPool: &pngBuffers{}}

type pngBuffers struct{ pool sync.Pool }

// Get returns a buffer, nil when there is none to spare.
func (p *pngBuffers) Get() *png.EncoderBuffer {
	b, _ := p.pool.Get().(*png.EncoderBuffer)
	return b
}

// Put keeps a buffer for later.
func (p *pngBuffers) Put(b *png.EncoderBuffer) { p.pool.Put(b) }

// pngData is the image as a data address.
func pngData(m image.Image) (string, error) {
	var b bytes.Buffer
	if err := pngEncoder.Encode(&b, m); err != nil {
		return "", err
	}
	return "data:image/png;base64," + base64.StdEncoding.EncodeToString(b.Bytes()), nil
}

// stillSlack is how far a line may stray where that spares points, pixels.
const stillSlack = 0.3

// stillSVG draws the stage as an SVG picture: tinted surfaces under true lines.
func stillSVG(st *stage, title string) (string, *still, error) {
	p := newStill(st, stillView)
	p.draw(st)
	data, err := pngData(p.pixels())
	if err != nil {
		return "", nil, err
	}
	var b strings.Builder
	openSVG(&b, "still", title, float64(p.w), float64(p.h))
	b.WriteString(`<image width="` + itoa(p.w) + `" height="` + itoa(p.h) + `" href="` + data + `"/>`)
	b.WriteString(`<path class="ink" d="` + p.inked(stillSlack) + `"/></svg>`)
	return b.String(), p, nil
}
