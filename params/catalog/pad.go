package catalog

import "clampwright/params/unit"

// Sources of pads: no maker's curve stands here.
const (
	spongeSource = "closed-cell sponge rubber: pressure at a quarter squeeze the middle of its grade in ASTM D1056, from memory; shape of the curve, relaxation, modulus and density assumed, unverified: give the maker's curve as squeeze in tables.materials"
	siliconeSrc  = "silicone foam: pressure at a quarter squeeze the middle of the usual range, from memory; shape of the curve, relaxation and density assumed, unverified: give the maker's curve as squeeze in tables.materials"
	corkSource   = "composition cork: 30 % squeeze at 2.8 MPa, the usual test of gasket cork, from memory; shape of the curve, relaxation and density assumed, unverified: give the maker's curve as squeeze in tables.materials"
)

// foamShape is pressure against squeeze of a closed-cell foam as parts of that at a
// quarter: walls that buckle, then the shut-in gas and walls that meet. Assumed,
// unverified.
var foamShape = []StrainPoint{{0.05, 0.25}, {0.1, 0.47}, {0.25, 1}, {0.4, 1.8}, {0.5, 2.8}, {0.6, 4.6}, {0.7, 9}}

// foam is a pad whose pressure at a quarter squeeze is known.
func foam(name string, quarter unit.Pressure, creep []CreepPoint, most unit.Temperature, density float64, thick []unit.Length, source string) Material {
	m := Material{Name: name, Family: "pad", E: 4 * quarter, Nu: 0.1, Strength: 0.3, Creep: creep, HotFactor: 1, MaxService: most,
		DensityGCM3: density, CTE: 250e-6, Thicknesses: thick, Source: source}
	for _, p := range foamShape {
		m.Squeeze = append(m.Squeeze, StrainPoint{p.Strain, quarter * p.Pressure})
	}
	return m
}

// CompletePad fills in what follows from a pad's curve: the secant modulus at its first
// point, and what nobody asks of a pad.
func CompletePad(m *Material) {
	if len(m.Squeeze) == 0 || m.Squeeze[0].Strain <= 0 {
		return
	}
	if m.E == 0 {
		m.E = m.Squeeze[0].Pressure / unit.Pressure(m.Squeeze[0].Strain)
	}
	if m.Nu == 0 {
		m.Nu = 0.1
	}
	if m.Strength == 0 {
		m.Strength = m.Squeeze[len(m.Squeeze)-1].Pressure
	}
}

// pads are soft sheets that give way as cells grow. Creep is what is left of the
// pressure at an unchanged squeeze.
func pads() []Material {
	rests := []CreepPoint{{1, 0.85}, {1000, 0.65}, {87600, 0.5}}
	keeps := []CreepPoint{{1, 0.95}, {1000, 0.85}, {87600, 0.75}}
	usual := mm(1.5, 2, 3, 4, 5, 6, 10)
	cork := Material{Name: "cork", Family: "pad", E: 7, Nu: 0.05, Strength: 1, Creep: rests, HotFactor: 1, MaxService: 80,
		Squeeze:     []StrainPoint{{0.02, 0.12}, {0.05, 0.34}, {0.1, 0.75}, {0.2, 1.65}, {0.3, 2.8}},
		DensityGCM3: 0.6, CTE: 180e-6, Thicknesses: mm(1, 1.5, 2, 3, 4, 5, 6), Source: corkSource}
	return []Material{
		foam("silicone foam", 0.069, keeps, 150, 0.25, mm(0.8, 1, 1.5, 2, 3, 4, 5, 6), siliconeSrc),
		foam("silicone foam firm", 0.117, keeps, 150, 0.35, mm(1, 1.5, 2, 3, 4, 5, 6), siliconeSrc),
		foam("sponge rubber 2A2", 0.048, rests, 70, 0.12, usual, spongeSource),
		foam("sponge rubber 2A3", 0.076, rests, 70, 0.16, usual, spongeSource),
		foam("sponge rubber 2A4", 0.103, rests, 70, 0.2, usual, spongeSource),
		cork,
	}
}
