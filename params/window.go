package params

import (
	"fmt"

	"clampwright/params/catalog"
	"clampwright/params/diag"
	"clampwright/params/unit"
)

// band is a mean pressure on the face, MPa: from low to high about the target when
// the clamp is set, from floor to limit in every later state.
type band struct{ floor, low, target, high, limit float64 }

// The bands where no data sheet decides; common practice, no source.
var (
	// silentBand is mild, for cells whose data sheet says nothing. Its floor is the
	// least of any floor, its limit the least of any limit that no sheet gives.
	silentBand = band{floor: 0.03, low: 0.03, target: 0.058, high: 0.1, limit: 0.15}
	// heldBand is for cells whose case carries the load: enough to hold them still;
	// more than its limit counts as pressing.
	heldBand = band{floor: 0.0005, low: 0.0005, target: 0.003, high: 0.02, limit: 0.02}
)

const (
	// sheetTolerance is the tolerance on a clamp force given without one.
	sheetTolerance = 0.2
	// serviceShare is the floor in service as a part of the target.
	serviceShare = 0.5
)

// settleWindow settles the clamp force on one face: the one place where it is decided.
func settleWindow(r *resolver) {
	in, c := &r.in.Cell, &r.f.Cell
	area := c.Width.MM() * c.Height.MM()
	asked := in.Force.Set || in.Pressure.Set
	if in.Force.Set && in.Pressure.Set {
		r.errorf(in.Pressure.At, "both force and pressure are given", "force and pressure", "one of the two", "remove the one that is not on the data sheet")
	}
	def := CompressUnknown
	if asked || c.ClampForce > 0 {
		def = CompressForce
	}
	c.Compression = Compression(in.Compression.Or(string(def)))
	r.note("cell.compression", originOf(in.Compression.Set), in.Compression.At, "from what the data sheet gives")
	var limit unit.Force
	var how string
	switch c.Compression {
	case CompressNone:
		limit, how = ownWindow(r, heldBand, area), "20 kPa over the face, more counts as pressing; common practice"
		if c.ClampForce > 0 {
			r.report(diag.Warning, in.Compression.At, "cells of this size are usually pressed", "compression: none", "a case of thick plastic or steel, by its data sheet", "a thin aluminium case domes for good where it is not pressed: read the data sheet again, or give the cell's sizes without a model")
		}
		c.WindowSource = "the case carries the load: held, not pressed (" + catalog.CommonPractice + ")"
	case CompressUnknown:
		limit, how = ownWindow(r, silentBand, area), "150 kPa over the face, common practice"
		c.WindowSource = fmt.Sprintf("the data sheet says nothing: a mild range, %g to %g kPa when set and %g to %g in service (%s); look for 'clamp force', 'pre-tightening force', 'fixture' or 'compression' in the data sheet's cycle-life test",
			1000*silentBand.low, 1000*silentBand.high, 1000*silentBand.floor, 1000*silentBand.limit, catalog.CommonPractice)
	default:
		limit, how = sheetWindow(r, area)
	}
	c.ForceLimit = pick(r, "cell.force_limit", in.ForceLimit, limit, how)
	if c.ForceLimit < c.ForceHigh {
		r.errorf(in.ForceLimit.At, "the force limit is below the most when tightening", r.text(c.ForceLimit), r.text(c.ForceHigh)+" or more", "a larger limit, or a smaller force_tolerance")
	}
	if always := in.ForceAlways.Or(false); always && c.Compression != CompressForce {
		r.errorf(in.ForceAlways.At, "force_always without a force", string(c.Compression), "the force of the data sheet, whose tolerance holds always", "give force or pressure, or leave force_always out")
	} else if always && c.ForceLimit > c.ForceHigh {
		r.errorf(in.ForceLimit.At, "the force limit is above the tolerance that holds in every state", r.text(c.ForceLimit), r.text(c.ForceHigh)+" or less", "leave force_limit out, or force_always where the tolerance is for setting alone")
	}
	if in.ForceTolerance.Set && (c.Compression != CompressForce || in.Pressure.Set) {
		r.errorf(in.ForceTolerance.At, "a force tolerance without a force", "", "force, of which it is the tolerance", "give the force of the data sheet, or leave its tolerance out")
	}
	if in.PressureTolerance.Set && !in.Pressure.Set {
		r.errorf(in.PressureTolerance.At, "a pressure tolerance without a pressure", "", "pressure, of which it is the tolerance", "give the pressure of the data sheet, or leave its tolerance out")
	}
	if asked && c.Compression != CompressForce {
		r.errorf(in.Compression.At, "compression "+string(c.Compression)+" with a force or pressure given", string(c.Compression), "compression: force, or no force", "leave one of the two out")
	}
}

// ownWindow takes one of our own bands and returns its limit.
func ownWindow(r *resolver, b band, area float64) unit.Force {
	c, on := &r.f.Cell, func(mpa float64) unit.Force { return unit.Force(mpa * area) }
	c.ForceFloor, c.ForceLow, c.ForceTarget, c.ForceHigh = on(b.floor), on(b.low), on(b.target), on(b.high)
	return on(b.limit)
}

// sheetWindow is the window of a data sheet that gives a force or pressure. Its
// tolerance is for setting; in service half the target is the floor, not below that
// of silent sheets, unless the sheet says that its tolerance holds always.
func sheetWindow(r *resolver, area float64) (limit unit.Force, how string) {
	in, c := &r.in.Cell, &r.f.Cell
	target, tol := c.ClampForce, in.ForceTolerance.Or(c.ClampForceTol)
	c.WindowSource = "cells table: " + c.Source
	switch {
	case in.Force.Set:
		target, tol = in.Force.V, in.ForceTolerance.Or(0)
		c.WindowSource = "data sheet force, as given"
	case in.Pressure.Set:
		target, tol = unit.Force(in.Pressure.V.MPa()*area), unit.Force(in.PressureTolerance.Or(0).MPa()*area)
		c.WindowSource = "data sheet pressure, as given"
	case target <= 0:
		r.errorf(in.Compression.At, "compression: force without a force", "", "force: 300 kgf, or pressure: 12 psi", "compression: unknown when the data sheet says nothing")
		target = unit.Force(float64(r.trial+1) * silentBand.target * area)
	}
	if tol <= 0 {
		tol = target * sheetTolerance
		c.WindowSource += ", taken with 20 % either way"
	}
	if tol >= target {
		r.errorf(in.ForceTolerance.At, "the tolerance is as large as the force", r.text(tol), "less than "+r.text(target), "see the data sheet: plus or minus, a part of the force")
	}
	c.ForceLow, c.ForceTarget, c.ForceHigh = target-tol, target, target+tol
	if in.ForceAlways.Or(false) {
		c.ForceFloor = c.ForceLow
		return c.ForceHigh, "the tolerance holds always"
	}
	c.ForceFloor = min(max(serviceShare*target, unit.Force(silentBand.floor*area)), c.ForceLow)
	return max(c.ForceHigh, unit.Force(silentBand.limit*area)), "150 kPa over the face, common practice"
}
