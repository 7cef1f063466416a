package catalog

import (
	"clampwright/params/unit"

	"clampwright/params/number"
)

const coilSource = "generic size, no standard: replace it by the maker's figures; closed and ground ends; shear modulus 81.5 GPa of patented wire (EN 13906-1), from memory"

// discRow is De, Di, t, h0 in mm.
type discRow struct{ de, di, t, h0 float64 }

// Series A: De/t about 18, h0/t about 0.4; stiff.
var discSeriesA = []discRow{
	{8, 4.2, 0.4, 0.2}, {10, 5.2, 0.5, 0.25}, {12.5, 6.2, 0.7, 0.3}, {14, 7.2, 0.8, 0.3}, {16, 8.2, 0.9, 0.35},
	{18, 9.2, 1, 0.4}, {20, 10.2, 1.1, 0.45}, {22.5, 11.2, 1.25, 0.5}, {25, 12.2, 1.5, 0.55}, {28, 14.2, 1.5, 0.65},
	{31.5, 16.3, 1.75, 0.7}, {35.5, 18.3, 2, 0.8},
}

// Series B: De/t about 28, h0/t about 0.75.
var discSeriesB = []discRow{
	{8, 4.2, 0.3, 0.25}, {10, 5.2, 0.4, 0.3}, {12.5, 6.2, 0.5, 0.35}, {14, 7.2, 0.5, 0.4}, {16, 8.2, 0.6, 0.45},
	{18, 9.2, 0.7, 0.5}, {20, 10.2, 0.8, 0.55}, {22.5, 11.2, 0.8, 0.65}, {25, 12.2, 0.9, 0.7}, {28, 14.2, 1, 0.8},
	{31.5, 16.3, 1.25, 0.9}, {35.5, 18.3, 1.25, 1},
}

// Series C: De/t about 40, h0/t about 1.3; soft.
var discSeriesC = []discRow{
	{16, 8.2, 0.4, 0.5}, {18, 9.2, 0.45, 0.6}, {20, 10.2, 0.5, 0.65}, {22.5, 11.2, 0.6, 0.8}, {25, 12.2, 0.7, 0.9},
	{28, 14.2, 0.8, 1}, {31.5, 16.3, 0.8, 1.05}, {35.5, 18.3, 0.9, 1.15},
}

func discs() []DiscSpring {
	var out []DiscSpring
	add := func(rows []discRow, source string) {
		for _, r := range rows {
			out = append(out, DiscSpring{
				Name:  number.Trim(r.de, 2) + "x" + number.Trim(r.di, 2) + "x" + number.Trim(r.t, 2),
				Outer: unit.Length(r.de), Inner: unit.Length(r.di), T: unit.Length(r.t), H0: unit.Length(r.h0), Source: source,
			})
		}
	}
	add(discSeriesA, "EN 16983 series A")
	add(discSeriesB, "EN 16983 series B, from memory")
	add(discSeriesC, "EN 16983 series C, from memory")
	return out
}

// coils: round wire that passes M6 to M12 rods and gives some hundreds of newtons, and
// die springs of rectangular wire.
func coils() []CoilSpring {
	row := func(wire, mean, active, free float64) CoilSpring {
		return CoilSpring{
			Name: number.Trim(wire, 2) + "x" + number.Trim(mean, 2) + "x" + number.Trim(free, 2),
			Wire: unit.Length(wire), Mean: unit.Length(mean), Active: active, Free: unit.Length(free),
			Solid: unit.Length(exactly(wire * (active + 2))), Shear: 81500, Source: coilSource,
		}
	}
	out := []CoilSpring{
		row(2.5, 14, 6, 36), row(3, 16, 6, 40), row(3.5, 18, 6, 46),
		row(4, 20, 6, 50), row(4.5, 23, 5, 50), row(5, 26, 5, 56),
	}
	for _, d := range dieSprings {
		for i, rate := range d.rates {
			out = append(out, dieSpring(d.class, d.hole, dieLengths[i], rate, d.stroke))
		}
	}
	return out
}

// dieLengths are the usual free lengths, mm.
var dieLengths = []float64{38, 51, 64, 76, 89, 102}

// dieSprings are rates, N/mm, by free length, and the greatest working stroke as a part
// of that: rods are half as thick as holes.
var dieSprings = []struct {
	class        string
	hole, stroke float64
	rates        [6]float64
}{
	{"light", 16, 0.4, [6]float64{19.3, 15.7, 10.7, 10, 8.6, 7.8}},
	{"medium", 16, 0.35, [6]float64{33.9, 23.5, 18.4, 15.7, 13.5, 11.8}},
	{"heavy", 16, 0.3, [6]float64{72.1, 52, 41, 33.3, 28.5, 25}},
	{"light", 20, 0.4, [6]float64{33.3, 24.5, 20, 16, 14, 12}},
	{"medium", 20, 0.35, [6]float64{56, 41.7, 32.3, 26.1, 22.4, 19.6}},
	{"heavy", 20, 0.3, [6]float64{129, 94, 72.1, 59.7, 50.5, 44.2}},
	{"light", 25, 0.4, [6]float64{62, 44, 35.2, 28, 24, 22}},
	{"medium", 25, 0.35, [6]float64{93, 68.6, 53, 43.2, 37, 32.4}},
	{"heavy", 25, 0.3, [6]float64{187, 130, 99.5, 81.4, 69, 60}},
	{"light", 32, 0.4, [6]float64{94, 68, 53, 44, 37, 32}},
	{"medium", 32, 0.35, [6]float64{185, 134, 99, 80, 69, 58.8}},
	{"heavy", 32, 0.3, [6]float64{388, 272, 212, 172, 141, 120}},
}

const dieSource = "sizes of ISO 10243, rate and strokes usual in trade, from memory: sellers differ; weigh one, or put the seller's figures under tables.coils"

// dieSpring is one for a hole and for a rod half as thick. Solid it is a quarter of the
// stroke shorter than worked.
func dieSpring(class string, hole, free, rate, stroke float64) CoilSpring {
	return CoilSpring{
		Name: "die " + class + " " + number.Trim(hole, 1) + "x" + number.Trim(free, 1), Wire: unit.Length(hole / 4), Mean: unit.Length(0.75 * hole), Free: unit.Length(free),
		Solid: unit.Length(exactly(free * (1 - 1.25*stroke))), Stroke: unit.Length(exactly(free * stroke)), Given: rate, Source: dieSource,
	}
}
