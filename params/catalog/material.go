package catalog

import "clampwright/params/unit"

func materials() []Material {
	var out []Material
	out = append(out, plastics()...)
	out = append(out, laminates()...)
	out = append(out, woods()...)
	out = append(out, metals()...)
	out = append(out, pads()...)
	return append(out, printed()...)
}

// mm is a list of sheet thicknesses.
func mm(v ...unit.Length) []unit.Length { return v }

// creepFrom makes a relative creep curve of creep moduli in MPa at 1, 10, 100,
// 1000 and 10,000 hours over the short-term modulus.
func creepFrom(short float64, at ...float64) []CreepPoint {
	var out []CreepPoint
	hours := 1.0
	for _, e := range at {
		out = append(out, CreepPoint{Hours: hours, Factor: e / short})
		hours *= 10
	}
	return out
}

// creepTo makes a relative creep curve that falls by the same ratio in every
// decade from one hour to a thousand: the usual straight line on double
// logarithmic paper.
func creepTo(hour, thousand float64) []CreepPoint {
	return []CreepPoint{{Hours: 1, Factor: hour}, {Hours: 1000, Factor: thousand}}
}

const seatJudgement = "washer seat limits are engineering judgement, no source"

func plastics() []Material {
	return []Material{
		{
			Name: "hdpe", Family: "plastic", NoGlue: true, E: 900, Nu: 0.42, Strength: 22, SeatLong: 5, SeatShort: 10,
			Creep: creepFrom(900, 650, 529, 430, 350, 285), HotFactor: 0.7, MaxService: 60,
			DensityGCM3: 0.95, CTE: 200e-6, Thicknesses: mm(6, 8, 10, 12, 12.7, 15, 19.05, 20, 25, 25.4, 30),
			Source: "ISO 527 modulus and ISO 899 creep moduli of a pipe-grade sheet (1 h 650, 1000 h 350 MPa, power law between and beyond); yield the low end of 22 to 30 MPa; 40 C factor from memory of pipe handbook tables; " + seatJudgement,
		},
		{
			Name: "pp", Family: "plastic", NoGlue: true, E: 1300, Nu: 0.42, Strength: 30, SeatLong: 6, SeatShort: 12,
			Creep: creepTo(0.75, 0.40), HotFactor: 0.7, MaxService: 70,
			DensityGCM3: 0.91, CTE: 150e-6, Thicknesses: mm(0.5, 1, 3, 5, 6, 8, 10, 12, 15, 20, 25),
			Source: "homopolymer sheet, low end of 1.3 to 1.7 GPa and 30 to 35 MPa, from memory; creep and 40 C factor from memory; " + seatJudgement,
		},
		{
			Name: "acetal", Family: "plastic", NoGlue: true, E: 2500, Nu: 0.36, Strength: 65, SeatLong: 15, SeatShort: 30,
			Creep: creepTo(0.80, 0.50), HotFactor: 0.8, MaxService: 80,
			DensityGCM3: 1.39, CTE: 120e-6, Thicknesses: mm(6, 8, 10, 12, 15, 20, 25),
			Source: "copolymer data sheets; Poisson's ratio, creep and 40 C factor from memory; " + seatJudgement,
		},
		{
			Name: "pet", Family: "plastic", E: 2800, Nu: 0.39, Strength: 75, SeatLong: 15, SeatShort: 30,
			Creep: creepTo(0.90, 0.65), HotFactor: 0.85, MaxService: 80,
			DensityGCM3: 1.38, CTE: 70e-6, Thicknesses: mm(0.25, 0.35, 0.5, 0.75, 1, 10, 15, 20),
			Source: "polyester sheet and film, from memory; " + seatJudgement,
		},
		{
			Name: "pc", Family: "plastic", NoBeam: true, E: 2350, Nu: 0.38, Strength: 60, SeatLong: 15, SeatShort: 30,
			Creep: creepTo(0.90, 0.70), HotFactor: 0.95, MaxService: 100,
			DensityGCM3: 1.20, CTE: 68e-6, Thicknesses: mm(0.5, 1, 2, 3, 4, 5, 6, 8, 10, 12),
			Source: "polycarbonate sheet, from memory; " + seatJudgement,
		},
	}
}

func laminates() []Material {
	return []Material{{
		Name: "fr4", Family: "laminate", NoBeam: true, E: 18600, EAcross: 15200, Nu: 0.15, Strength: 379, StrengthAcross: 310,
		SeatLong: 100, SeatShort: 200, Creep: creepTo(0.97, 0.90), HotFactor: 0.98, MaxService: 120,
		DensityGCM3: 1.85, CTE: 12e-6, Dust: "glass", Thicknesses: mm(0.2, 0.3, 0.5, 0.8, 1, 1.5, 1.6, 2, 3, 5, 6, 8, 10, 12),
		Source: "glass epoxy data sheets, flexural modulus and strength along and across the weave; Poisson's ratio, creep and 40 C factor from memory; " + seatJudgement,
	}}
}

const (
	plywoodSource = "Finnish plywood handbook, birch, from memory: mean bending moduli and characteristic bending strengths along and across the face grain (strengths of 9, 15, 24 and 30 mm too); long-term factor 1/(1 + kdef) with kdef 0.8 of EN 1995-1-1 and its forerunner's shorter terms, from memory; sheet thicknesses as measured in trade tables; " + seatJudgement
	mdfSource     = "EN 622-5 product minima, not design values, from memory; kdef 2.25 of EN 1995-1-1 and shorter terms from memory; " + seatJudgement
)

func woods() []Material {
	ply := Material{
		Name: "birch plywood", Family: "wood", Shear: 620, RollingShear: 200, Nu: 0.1, SeatLong: 4, SeatShort: 8,
		Creep:     []CreepPoint{{1, 0.98}, {168, 0.90}, {1000, 0.80}, {43800, 0.667}, {87600, 0.556}},
		HotFactor: 0.97, MaxService: 60, DensityGCM3: 0.68, CTE: 4.5e-6,
		Thicknesses: mm(9.2, 12, 14.9, 17.7, 20.5, 23.4, 29.4), Source: plywoodSource,
	}
	mdf := Material{
		Name: "mdf", Family: "wood", Nu: 0.25, SeatLong: 2, SeatShort: 5,
		Creep:     []CreepPoint{{1, 0.95}, {168, 0.75}, {1000, 0.60}, {87600, 0.31}},
		HotFactor: 0.95, MaxService: 50, DensityGCM3: 0.75, CTE: 12e-6,
		Thicknesses: mm(9, 12, 16, 18, 19, 22, 25, 30), Source: mdfSource,
	}
	byThickness[ply.Name].at(18, &ply)
	byThickness[mdf.Name].at(18, &mdf)
	return []Material{ply, mdf}
}

func metals() []Material {
	al := func(name string, e, yield unit.Pressure, density float64, source string) Material {
		return Material{Name: name, Family: "metal", E: e, Nu: 0.33, Strength: yield, SeatLong: yield, SeatShort: yield,
			HotFactor: 1, MaxService: 100, DensityGCM3: density, CTE: 23.5e-6, Conducts: true,
			Thicknesses: mm(3, 4, 5, 6, 8, 10, 12, 15, 20), Source: source}
	}
	return []Material{
		al("aluminium", 68900, 110, 2.70, "alloy not known: 6063-T5, the lowest of the usual extrusions, "+CommonPractice),
		al("6061-T6", 68900, 241, 2.70, "ASTM minimum yield 35 ksi; modulus 68.9 GPa"),
		al("6063-T5", 68900, 110, 2.70, "ASTM minimum yield 16 ksi; modulus 68.9 GPa"),
		al("6063-T6", 68900, 172, 2.70, "ASTM minimum yield 25 ksi; modulus 68.9 GPa"),
		al("5052-H32", 70300, 160, 2.68, "Aluminum Design Manual 160 MPa; density from memory"),
		{Name: "304", Family: "metal", E: 190000, Nu: 0.305, Strength: 205, SeatLong: 205, SeatShort: 205,
			HotFactor: 1, MaxService: 200, DensityGCM3: 8.0, CTE: 17.2e-6, Conducts: true,
			Thicknesses: mm(1, 1.5, 2, 3, 4, 5, 6, 8, 10), Source: "austenitic stainless, annealed; yield and expansion from memory of ASTM A240"},
		{Name: "steel", Family: "metal", E: steelModulus, Nu: 0.29, Strength: 235, SeatLong: 235, SeatShort: 235,
			HotFactor: 1, MaxService: 200, DensityGCM3: steelDensity, CTE: steelCTE, Conducts: true,
			Thicknesses: mm(1, 1.5, 2, 3, 4, 5, 6, 8, 10), Source: "mild steel, yield of EN 10025-2 S235, from memory; modulus 205 GPa, between 200 and 210"},
		{Name: "copper", Family: "metal", E: 119000, Nu: 0.326, Strength: 69, SeatLong: 69, SeatShort: 69,
			HotFactor: 1, MaxService: 100, DensityGCM3: 8.89, CTE: 17.3e-6, Conducts: true,
			Thicknesses: mm(1, 1.5, 2, 3, 4, 5, 6, 10), Source: "C110; yield of the annealed temper, from memory"},
	}
}

// printed are filament prints: strengths along the layers, half of that across
// them.
func printed() []Material {
	fdm := func(name string, e, strength unit.Pressure, thousand, hot float64, most unit.Temperature, density, cte float64) Material {
		return Material{Name: name, Family: "plastic", E: e, Nu: 0.35, Strength: strength, StrengthAcross: strength / 2,
			SeatLong: strength / 5, SeatShort: strength / 2, Creep: creepTo(0.8, thousand), HotFactor: hot, MaxService: most,
			DensityGCM3: density, CTE: cte,
			Source: "filament print, low end of the usual range, from memory; across the layers half, from memory; creep and 40 C factor from memory; " + seatJudgement}
	}
	return []Material{
		fdm("pla", 2500, 45, 0.30, 0.70, 45, 1.24, 70e-6),
		fdm("petg", 1700, 40, 0.45, 0.85, 65, 1.27, 70e-6),
		fdm("abs", 1800, 35, 0.45, 0.90, 80, 1.04, 90e-6),
		fdm("asa", 1800, 40, 0.45, 0.90, 80, 1.07, 90e-6),
	}
}
