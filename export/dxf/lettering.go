package dxf

import (
	"strings"
	"unicode"

	"clampwright/parts/geom"
)

// Letters are drawn on a grid of four by six squares, standing on the base line.
const (
	letterHigh    = 6.0
	letterAdvance = 5.4 // squares from a letter to the next: 0.9 of the height
	letterBefore  = 0.7 // of which free before the letter
)

// strokes are the letters of engraved marks: every stroke is a row of corners,
// x and y on the grid.
var strokes = map[rune]string{
	'A': "00 04 26 44 40;03 43", 'B': "00 06 36 45 44 33 03;33 42 41 30 00", 'C': "45 36 16 05 01 10 30 41",
	'D': "00 06 26 44 42 20 00", 'E': "46 06 00 40;03 33", 'F': "46 06 00;03 33", 'G': "45 36 16 05 01 10 30 41 43 23",
	'H': "00 06;40 46;03 43", 'I': "20 26;10 30;16 36", 'J': "46 41 30 10 01", 'K': "00 06;46 03 40", 'L': "06 00 40",
	'M': "00 06 23 46 40", 'N': "00 06 40 46", 'O': "10 30 41 45 36 16 05 01 10", 'P': "00 06 36 45 44 33 03",
	'Q': "10 30 41 45 36 16 05 01 10;22 40", 'R': "00 06 36 45 44 33 03;23 40", 'S': "45 36 16 05 04 13 33 42 41 30 10 01",
	'T': "20 26;06 46", 'U': "06 01 10 30 41 46", 'V': "06 20 46", 'W': "06 10 23 30 46", 'X': "00 46;06 40",
	'Y': "06 23 46;23 20", 'Z': "06 46 00 40",
	'0': "10 30 41 45 36 16 05 01 10;01 45", '1': "14 26 20;10 30", '2': "05 16 36 45 44 00 40",
	'3': "05 16 36 45 44 33 42 41 30 10 01;13 33", '4': "30 36 02 42", '5': "46 06 03 33 42 41 30 10 01",
	'6': "45 36 16 05 01 10 30 41 42 33 03", '7': "06 46 10", '8': "13 04 05 16 36 45 44 33 13 02 01 10 30 41 42 33",
	'9': "01 10 30 41 45 36 16 05 04 13 43", '-': "13 33", '.': "20 21", ' ': "",
}

// unknown stands for a letter that is not in strokes.
const unknown = "00 06 46 40 00"

// Lettering draws text as strokes that an engraver follows, its left end and base
// line at the given point. Programs for machines often leave text out of a
// drawing. Small letters become capitals; a letter without strokes is a box.
func Lettering(text string, at geom.Vec2, heightMM float64) []geom.Path {
	var out []geom.Path
	square := heightMM / letterHigh
	left := at.Add(geom.Vec2{X: letterBefore * square})
	for _, r := range text {
		shape, known := strokes[unicode.ToUpper(r)]
		if !known {
			shape = unknown
		}
		for _, stroke := range strings.Split(shape, ";") {
			var p geom.Path
			for _, corner := range strings.Fields(stroke) {
				v := geom.Vec2{X: float64(corner[0] - '0'), Y: float64(corner[1] - '0')}
				p = append(p, geom.Vertex{P: left.Add(v.Mul(square))})
			}
			if len(p) > 0 {
				out = append(out, p)
			}
		}
		left.X += letterAdvance * square
	}
	return out
}
