package printed

import (
	"strings"

	"clampwright/parts/geom"
)

// strokes draw capital letters, digits and signs as chains of points on a grid
// four wide and six high: two digits a point, chains parted by blanks. Single
// strokes of our own.
var strokes = map[rune]string{
	'A': "0004264440 0242", 'B': "000636454433 0333 3342413000", 'C': "4536160501103041", 'D': "00063645413000",
	'E': "46060040 0333", 'F': "000646 0333", 'G': "45361605011030414222", 'H': "0006 4046 0343",
	'I': "2026", 'J': "4641301001", 'K': "0006 460340", 'L': "060040",
	'M': "0006234640", 'N': "00064046", 'O': "100105163645413010", 'P': "000636454433 0333",
	'Q': "100105163645413010 2240", 'R': "000636454433 0333 2340", 'S': "011030414233130405163645", 'T': "0646 2026",
	'U': "060110304146", 'V': "062046", 'W': "0610233046", 'X': "0046 0640",
	'Y': "062346 2320", 'Z': "06460040", '0': "100105163645413010", '1': "152620",
	'2': "051636454400 0040", '3': "05163645443313 334241301001", '4': "360242 3630", '5': "460603334241301001",
	'6': "4536160501103041423303", '7': "064610", '8': "13334445361605041302011030414233", '9': "0110304145361605041343",
	'.': "2021", '-': "0343", '+': "0343 2125", '/': "0046",
}

// letterAdvance is the step from letter to letter, in sixths of the height.
const letterAdvance = 6.0

// groove is the width of an engraved stroke, mm: what a nozzle leaves open.
const groove = 0.8

// markDepth is how deep marks are engraved, mm: two layers.
const markDepth = 0.4

// textWidth is how wide a text of the given height becomes, mm.
func textWidth(text string, height float64) float64 {
	n := len([]rune(text))
	if n == 0 {
		return 0
	}
	return (float64(n)*letterAdvance-2)*height/6 + groove
}

// lettering returns the grooves of a text centred on c: one rectangle for each
// stroke, square-ended so that strokes join. Signs without strokes are left as
// blanks. Mirrored text reads from the other side.
func lettering(text string, c geom.Vec2, height float64, mirrored bool) []geom.Path {
	k := height / 6
	runes := []rune(strings.ToUpper(text))
	x0 := -(float64(len(runes))*letterAdvance - 2) / 2
	var out []geom.Path
	for i, r := range runes {
		for _, chain := range strings.Fields(strokes[r]) {
			var last geom.Vec2
			for p := 0; p+1 < len(chain); p += 2 {
				at := geom.Vec2{X: (x0 + float64(i)*letterAdvance + float64(chain[p]-'0')) * k, Y: (float64(chain[p+1]-'0') - 3) * k}
				if mirrored {
					at.X = -at.X
				}
				at = at.Add(c)
				if p > 0 && at != last {
					out = append(out, bar(last, at, groove))
				}
				last = at
			}
		}
	}
	return out
}

// bar is a rectangle round a stroke, half a width longer at both ends.
func bar(a, b geom.Vec2, width float64) geom.Path {
	u := b.Sub(a).Unit().Mul(width / 2)
	n := u.Perp()
	a, b = a.Sub(u), b.Add(u)
	return geom.Path{{P: a.Sub(n)}, {P: b.Sub(n)}, {P: b.Add(n)}, {P: a.Add(n)}}
}
