package params

import (
	"cmp"
	"fmt"
	"math"

	"clampwright/params/unit"
)

// What no cell of lithium iron phosphate has: a digit or a unit is wrong. From memory:
// such cells weigh about 2.1 g/cm3 and hold 350 to 450 Wh/l.
const (
	leastDensity = 1.2 // g/cm3
	mostDensity  = 3.5 // g/cm3
	mostEnergy   = 700 // Wh/l
)

// settlePlausible refuses figures of the cell that cannot stand beside each other.
func settlePlausible(r *resolver) {
	in, c, e := r.in.Cell, r.f.Cell, r.f.Electrical
	cubic := (c.Thickness * c.Width * c.Height).MM() / 1000 // cm3
	sized := r.sure("cell.thickness", "cell.width", "cell.height", "cell.model")
	if least, most := unit.Mass(leastDensity*cubic), unit.Mass(mostDensity*cubic); in.Mass.Set && sized && (c.Mass < least || c.Mass > most) {
		r.errorf(in.Mass.At, "the mass doesn't fit the size of the cell", r.text(c.Mass), r.text(least)+" to "+r.text(most), "weigh one cell, or correct the sizes of the cell")
	}
	if most := mostEnergy * cubic / 1000 / e.VoltageNominal; in.Capacity.Set && sized && c.CapacityAh > most {
		r.errorf(in.Capacity.At, "the capacity doesn't fit the size of the cell", fmt.Sprintf("%g Ah", c.CapacityAh), fmt.Sprintf("no more than %.0f Ah", most), "read the data sheet again, or correct the sizes of the cell")
	}
	each := e.RatedCurrent / float64(e.Parallel)
	if most := 1000 * (e.VoltageNominal - e.VoltageLow) / each; c.ResistanceMOhm > most && r.sure("cell.resistance", "electrical") {
		r.errorf(cmp.Or(in.Resistance.At, r.in.Electrical.Current.At, in.Model.At), "cells of this resistance can't give the current", fmt.Sprintf("%g milliohms and %.4g A of each cell", c.ResistanceMOhm, each),
			fmt.Sprintf("no more than %.3g milliohms, or electrical.low_voltage is reached at once", most), "large cells have 0.1 to 1 milliohm")
	}
	settleTerminalThread(r)
}

// settleTerminalThread holds the terminals' thread against their pad and their torque.
func settleTerminalThread(r *resolver) {
	in, c := r.in.Cell.Terminals, r.f.Cell
	t := row(r, "threads", in.Thread, c.TerminalThread, r.f.Tables.Thread)
	if c.Welded || !r.sure("cell.terminals") || t.Name != c.TerminalThread {
		return
	}
	if pad := min(c.Minus.Dia, c.Plus.Dia); t.Major >= pad {
		r.errorf(cmp.Or(in.Thread.At, in.Diameter.At, r.in.Cell.Model.At), "the terminals' thread is as wide as the terminal", fmt.Sprintf("%s in a pad of %s", t.Name, r.f.Style.Exact(pad.MM())),
			"a pad wider than its thread", "correct cell.terminals.thread or cell.terminals.diameter")
	}
	if most := breakingTorque(t.MinorDia.MM()); c.TerminalTorque >= most {
		r.errorf(in.Torque.At, "the terminals' torque breaks their screw", r.text(c.TerminalTorque), fmt.Sprintf("less than %s, which breaks %s of class 8.8", r.text(most), t.Name), "read the cell's data sheet again")
	}
}

// breakingTorque breaks a screw of class 8.8: the polar section modulus of its root times
// 0.84 of its tensile strength of 800 MPa (ISO 898-7, from memory).
func breakingTorque(rootMM float64) unit.Torque {
	return unit.Torque(math.Pi / 16 * math.Pow(rootMM, 3) * 0.84 * 800)
}

// TerminalScrew is the nominal diameter of the terminals' thread: 6 mm while it is none
// of the table's.
func TerminalScrew(f *Fixture) unit.Length {
	if t, ok := f.Tables.Thread(f.Cell.TerminalThread); ok {
		return t.Major
	}
	return 6
}
