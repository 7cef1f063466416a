package catalog

import (
	"fmt"
	"strconv"

	"clampwright/params/number"
	"clampwright/params/unit"
)

const (
	fractionSource = "ASME B94.11M fractions, by 1/64 in"
	letterSource   = "ASME B94.11M letters"
	numberSource   = "ASME B94.11M numbers"
	metricSource   = "usual metric set: by 0.1 mm to 13 mm, by 0.5 mm above; common practice"
)

// letterDrills are A to Z, numberDrills 1 to 60, thousandths of an inch.
var (
	letterDrills = []float64{234, 238, 242, 246, 250, 257, 261, 266, 272, 277, 281, 290, 295, 302, 316, 323, 332, 339, 348, 358, 368, 377, 386, 397, 404, 413}
	numberDrills = []float64{
		228, 221, 213, 209, 205.5, 204, 201, 199, 196, 193.5, 191, 189, 185, 182, 180, 177, 173, 169.5, 166, 161,
		159, 157, 154, 152, 149.5, 147, 144, 140.5, 136, 128.5, 120, 116, 113, 111, 110, 106.5, 104, 101.5, 99.5, 98,
		96, 93.5, 89, 86, 82, 81, 78.5, 76, 73, 70, 67, 63.5, 59.5, 55, 52, 46.5, 43, 42, 41, 40,
	}
)

func drills() []Drill {
	var out []Drill
	for i := 1; i <= 64; i++ {
		d := float64(i) / 64
		out = append(out, Drill{Name: fractionName(d), Series: "fraction", Dia: in(d), Source: fractionSource})
	}
	for i, mil := range letterDrills {
		out = append(out, Drill{Name: string(rune('A' + i)), Series: "letter", Dia: in(mil / 1000), Source: letterSource})
	}
	for i, mil := range numberDrills {
		out = append(out, Drill{Name: "#" + strconv.Itoa(i+1), Series: "number", Dia: in(mil / 1000), Source: numberSource})
	}
	for tenth := 10; tenth <= 200; {
		out = append(out, Drill{Name: number.Trim(float64(tenth)/10, 1), Series: "metric", Dia: unit.Length(float64(tenth) / 10), Source: metricSource})
		tenth += metricStep(tenth)
	}
	return out
}

// fractionName is 7/16, but 1 in for the whole inch, since 1 is a millimetre.
func fractionName(inches float64) string {
	if inches == 1 {
		return "1 in"
	}
	return mixed(inches)
}

// metricStep is the step above a drill, in tenths of a millimetre.
func metricStep(tenth int) int {
	if tenth < 130 {
		return 1
	}
	return 5
}

const socketSource = "planning allowance for a hand socket, 1.35 s + 2 mm, no standard: measure yours"

// socketLength is a deep socket with its drive, mm; common practice, no source.
const socketLength = 80

// socket is the allowance for one size across flats.
func socket(name string, flats unit.Length) Socket {
	return Socket{Name: name, Flats: flats, Outer: unit.Length(exactly(1.35*flats.MM() + 2)), Length: socketLength, Source: socketSource}
}

func sockets() []Socket {
	var out []Socket
	for _, s := range []unit.Length{7, 8, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 21, 22, 24, 27, 30} {
		out = append(out, socket(fmt.Sprintf("%d mm", int(s)), s))
	}
	for sixteenth := 6; sixteenth <= 16; sixteenth++ {
		s := float64(sixteenth) / 16
		out = append(out, socket(mixed(s)+" in", in(s)))
	}
	return out
}
