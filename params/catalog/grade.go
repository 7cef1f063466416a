package catalog

import "clampwright/params/unit"

// Elastic and thermal constants of rods.
const (
	steelModulus     unit.Pressure = 205000 // carbon steel, between 200 and 210 GPa
	steelDensity                   = 7.85
	steelCTE                       = 11.7e-6
	stainlessModulus unit.Pressure = 193000 // austenitic stainless
	stainlessDensity               = 8.0
	stainlessCTE                   = 17.2e-6
)

func grades() []Grade {
	iso := func(name string, proof, yield, tensile unit.Pressure) Grade {
		return steel(name, proof, yield, tensile, "ISO 898-1; modulus 205 GPa, between 200 and 210")
	}
	a2 := func(name string, yield, tensile unit.Pressure) Grade {
		return Grade{Name: name, Proof: yield, Yield: yield, Tensile: tensile, Modulus: stainlessModulus,
			DensityGCM3: stainlessDensity, CTE: stainlessCTE,
			Source: "ISO 3506-1; it sets no proof load, the 0.2 % limit stands for it; modulus 193 GPa"}
	}
	return []Grade{
		iso("4.6", 225, 240, 400),
		iso("4.8", 310, 340, 420),
		iso("5.8", 380, 420, 520),
		iso("8.8", 580, 640, 800),
		a2("A2-50", 210, 500),
		a2("A2-70", 450, 700),
		a2("A2-80", 600, 800),
		steel("SAE 1", ksi(33), ksi(36), ksi(60), "SAE J429 grade 1, from memory"),
		steel("SAE 2", ksi(55), ksi(57), ksi(74), "SAE J429 grade 2 (1/4 to 3/4 in); proof and yield from memory"),
		steel("A307A", ksi(33), ksi(36), ksi(60), "ASTM A307 grade A: tensile only; proof and yield taken as SAE J429 grade 1, "+CommonPractice),
		steel("B7", ksi(105), ksi(105), ksi(125), "ASTM A193 B7; it sets no proof load, the yield stands for it"),
		steel("ungraded", 225, 240, 400, "rod without a mark: the lowest class of ISO 898-1, 4.6, "+CommonPractice),
	}
}

func steel(name string, proof, yield, tensile unit.Pressure, source string) Grade {
	return Grade{Name: name, Proof: proof, Yield: yield, Tensile: tensile, Modulus: steelModulus,
		DensityGCM3: steelDensity, CTE: steelCTE, Source: source}
}
