// Package unit holds the physical quantities that cross the edge of the
// program: what a person writes with a unit of their own choice becomes one
// float64 in the program's inner unit. Inside, lengths are millimetres, forces
// newtons, pressures and moduli megapascals (1 MPa = 1 N/mm²), torques
// newton-millimetres, masses grams, temperatures degrees Celsius; so mechanics needs no conversion factors.
package unit

type (
	// Length is a length in millimetres.
	Length float64
	// Force is a force in newtons.
	Force float64
	// Pressure is a pressure, stress or modulus in megapascals (N/mm²).
	Pressure float64
	// Torque is a moment in newton-millimetres.
	Torque float64
	// Mass is a mass in grams.
	Mass float64
	// Temperature is a temperature in degrees Celsius.
	Temperature float64
	// Stiffness is a spring rate in newtons per millimetre.
	Stiffness float64
	// Area is an area in square millimetres.
	Area float64
)

// MM returns the length in millimetres.
func (l Length) MM() float64 { return float64(l) }

// N returns the force in newtons.
func (f Force) N() float64 { return float64(f) }

// MPa returns the pressure in megapascals.
func (p Pressure) MPa() float64 { return float64(p) }

// KPa returns the pressure in kilopascals.
func (p Pressure) KPa() float64 { return float64(p) * 1000 }

// Grams returns the mass in grams.
func (m Mass) Grams() float64 { return float64(m) }

// NMM returns the torque in newton-millimetres.
func (t Torque) NMM() float64 { return float64(t) }
