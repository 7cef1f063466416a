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

// coils: sizes that pass M6 to M12 rods and give some hundreds of newtons.
func coils() []CoilSpring {
	row := func(wire, mean, active, free float64) CoilSpring {
		return CoilSpring{
			Name: number.Trim(wire, 2) + "x" + number.Trim(mean, 2) + "x" + number.Trim(free, 2),
			Wire: unit.Length(wire), Mean: unit.Length(mean), Active: active, Free: unit.Length(free),
			Solid: unit.Length(exactly(wire * (active + 2))), Shear: 81500, Source: coilSource,
		}
	}
	return []CoilSpring{
		row(2.5, 14, 6, 36), row(3, 16, 6, 40), row(3.5, 18, 6, 46),
		row(4, 20, 6, 50), row(4.5, 23, 5, 50), row(5, 26, 5, 56),
	}
}
