package inputs

import (
	"math"

	"clampwright/assembly/assure"
	"clampwright/assembly/clamp"
	"clampwright/params"
)

// Known is what readings at the clamp tell of the cells' stiffness; nil without any
// that do. What the stack gave by seating is taken for an error of the reading.
func Known(m *clamp.Measured, f *assure.Fixture) *assure.Known {
	if m == nil || !m.Usable {
		return nil
	}
	read := math.Log(m.FactorBand.Greatest/m.FactorBand.Least) / 2 / assure.EndSigmas
	return &assure.Known{MPaPerMM: m.StiffnessMPaPerMM, From: f.SnugN / f.FaceMM2, To: m.ForceN / f.FaceMM2, Sigma: math.Hypot(read, assure.SeatingMM/m.ShorteningMM)}
}

// Assurance returns the input of the share of fixtures that stay within their bands.
func Assurance(f *params.Fixture, r clamp.Reduced) assure.Fixture {
	rows := float64(f.Pack.Rows)
	all := func(one float64) float64 { return rows * one }
	ties := f.Ties()
	out := assure.Fixture{
		Cells: f.Pack.PerRow, ThicknessMM: f.Pack.CellThickness.MM(), FaceMM2: all(f.Cell.Width.MM() * f.Cell.Height.MM()),
		Ties: len(ties), Stretch: assure.Curve{Y: r.StretchN, X: r.StretchMM},
		OutgrownMM: f.Chain().Outgrows(ties[0], params.LayerSeparator), Layers: assure.Curve{Y: r.LayersMPa, X: r.LayersMM},
		SettleMM: assure.UsualSettleMM, TurnErrorMM: f.Tolerances.TurnError * f.Rods.Thread.Pitch.MM(), Stiffness: [2]float64{f.Clamp.BandStiffnessLow, f.Clamp.BandStiffness},
		TargetN: all(f.Cell.ForceTarget.N()), SnugN: Clamp(f).SnugTotalN(all(f.Cell.ForceTarget.N())),
		Setting: assure.Band{Least: all(f.Cell.ForceLow.N()), Most: all(f.Cell.ForceHigh.N())},
		Service: assure.Band{Least: all(f.Cell.ForceFloor.N()), Most: all(f.Cell.ForceLimit.N())},
		Method:  assure.Turns, Wrench: f.JamNut != nil && f.Nut.DragMax == 0, SetCharge: f.Clamp.SetCharge,
		AssemblyC: float64(f.Clamp.AssemblyTemp), HotC: float64(f.Clamp.HotTemp), ColdC: float64(f.Clamp.ColdTemp), Years: f.Clamp.Years,
	}
	for _, b := range r.Plates {
		out.Plates = append(out.Plates, assure.Bending(b))
	}
	for _, p := range f.Plate.Material.Creep {
		out.Creep.Y, out.Creep.X = append(out.Creep.Y, math.Log1p(p.Hours/8766)), append(out.Creep.X, p.Factor)
	}
	full := f.Clamp.Growth[len(f.Clamp.Growth)-1].Growth - f.Clamp.Growth[0].Growth
	for _, p := range f.Clamp.Growth {
		if full > 0 {
			out.Charge.Y, out.Charge.X = append(out.Charge.Y, p.Charge), append(out.Charge.X, float64((p.Growth-f.Clamp.Growth[0].Growth)/full))
		}
	}
	if len(out.Charge.Y) == 0 { // none that could be scaled: a ramp
		out.Charge = assure.Curve{Y: []float64{0, 1}, X: []float64{0, 1}}
	}
	if s := f.Spring; s != nil {
		out.SpringTol = assure.CoilForce
		if s.Disc != nil {
			out.SpringTol = s.Disc.ForceSpread() / assure.EndSigmas
		}
		out.Rub = s.Friction * float64(s.Parallel) / assure.EndSigmas
	}
	return out
}
