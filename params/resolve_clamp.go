package params

import (
	"cmp"
	"fmt"

	"clampwright/params/catalog"
	"clampwright/params/unit"
)

// Growth of one cell against state of charge at constant clamp force, as a fraction of
// its thickness. The shape (up, a flat part with a dip in mid-charge, up again near
// full) follows graphite staging against a shrinking iron phosphate cathode; the size
// is the middle of the ranges that the share is drawn from. Measure your own cells.
var defaultGrowth = []struct{ charge, fraction float64 }{
	{0, 0}, {0.15, 0.0013}, {0.30, 0.0026}, {0.50, 0.0031}, {0.65, 0.0027}, {0.85, 0.0040}, {1, 0.0052},
}

// defaultAged is the lasting growth in ten years under the clamp's force as a fraction
// of the thickness: the middle of the ranges that the share is drawn from.
const defaultAged = 0.01

// Pressure against squeeze of one cell, as strain and MPa: about 23 MPa secant
// modulus at a usual clamp pressure, stiffening. Common practice, no source;
// static squeeze tests differ from the stiffness against growth, so the verdict
// is also taken over a band.
var defaultSqueeze = []struct{ strain, pressure float64 }{
	{0, 0}, {0.0036, 0.083}, {0.0080, 0.22}, {0.0150, 0.50}, {0.0300, 1.3},
}

// storageLow and storageHigh are the charges between which cells are stored, and the
// lower is what new ones come at; common practice, no source.
const storageLow, storageHigh = 0.3, 0.5

func settleClamp(r *resolver) {
	in, c, cell := &r.in.Clamp, &r.f.Clamp, &r.f.Cell
	c.Shape = pick(r, "clamp.shape", in.Shape, "domed", "large faces dome")
	c.SetCharge = pick(r, "clamp.set_charge", in.SetCharge, storageLow, "cells come at about 30 %")
	c.StorageCharge = pick(r, "clamp.storage_charge", in.StorageCharge, min(max(c.SetCharge, storageLow), storageHigh), "as set, within 30 to 50 %")
	if c.SetCharge > c.StorageCharge {
		r.errorf(cmp.Or(in.SetCharge.At, in.StorageCharge.At), "the clamp is set above storage charge", fmt.Sprintf("%g", c.SetCharge), fmt.Sprintf("%g or less", c.StorageCharge), "set the clamp at storage charge or below")
	}
	c.FullCharge = 1
	c.Aged = pick(r, "clamp.aged", in.Aged, cell.Thickness*defaultAged, "1 % of the thickness, low confidence")
	settleGrowth(r)
	settleSqueeze(r)
	c.FrictionLow = pick(r, "clamp.friction_low", in.FrictionLow, 0.15, "handbooks: lubricated")
	c.FrictionHigh = pick(r, "clamp.friction_high", in.FrictionHigh, 0.30, "handbooks disagree on zinc: 0.20, 0.22, 0.295")
	if c.FrictionLow > c.FrictionHigh {
		r.errorf(cmp.Or(in.FrictionLow.At, in.FrictionHigh.At), "friction_low is above friction_high", fmt.Sprint(c.FrictionLow), fmt.Sprintf("%g or less", c.FrictionHigh), "give both, or leave both out")
	}
	c.DragMin, c.DragMax = r.f.Nut.DragMin, r.f.Nut.DragMax
	c.AssemblyTemp = pick(r, "clamp.assembly_temperature", in.AssemblyTemp, 20, "room")
	c.ColdTemp = pick(r, "clamp.cold", in.ColdTemp, 0, "no charging below freezing")
	c.HotTemp = pick(r, "clamp.hot", in.HotTemp, 45, "warm enclosure")
	if c.ColdTemp > c.HotTemp {
		r.errorf(in.ColdTemp.At, "cold is warmer than hot", fmt.Sprintf("%g C", float64(c.ColdTemp)), fmt.Sprintf("%g C or less", float64(c.HotTemp)), "")
	}
	c.CellCTE = 1e-6 * pick(r, "clamp.cell_expansion", in.CellCTE, 30, "common practice")
	c.Bulge = pick(r, "clamp.bulge", in.Bulge, 0, "flat cells")
	c.Years = pick(r, "clamp.years", in.Years, 10, "usual life")
	c.BandStiffnessLow, c.BandStiffness = in.StiffnessLow.Or(0), in.StiffnessHigh.Or(0)
}

func settleGrowth(r *resolver) {
	in, c := r.in.Clamp.Growth, &r.f.Clamp
	if len(in) == 0 {
		for _, p := range defaultGrowth {
			c.Growth = append(c.Growth, GrowthPoint{Charge: p.charge, Growth: r.f.Cell.Thickness * unit.Length(p.fraction)})
		}
		c.GrowthSource = "built-in, the middle of what is assumed: 0.52 % of the thickness at full, not monotonic"
		return
	}
	c.GrowthSource = "given in the parameter file"
	for i, p := range in {
		if i > 0 && p.Charge.V <= in[i-1].Charge.V && r.sure("clamp.growth") {
			r.errorf(p.At, "clamp.growth is not in order of charge", fmt.Sprintf("%g after %g", p.Charge.V, in[i-1].Charge.V), "charge rising from point to point", "sort the points; growth itself may fall")
			return
		}
		c.Growth = append(c.Growth, GrowthPoint{Charge: p.Charge.V, Growth: p.Growth.V})
	}
	if len(in) < 2 || in[0].Charge.V > c.SetCharge || in[len(in)-1].Charge.V < 1 {
		r.errorf(in[0].At, "clamp.growth doesn't reach from tightening to full", fmt.Sprintf("%g to %g", in[0].Charge.V, in[len(in)-1].Charge.V), fmt.Sprintf("from %g or less to 1", c.SetCharge), "add points at charge 0 and 1")
	}
}

func settleSqueeze(r *resolver) {
	in, c := r.in.Clamp.Squeeze, &r.f.Clamp
	if len(in) == 0 {
		for _, p := range defaultSqueeze {
			c.Squeeze = append(c.Squeeze, SqueezePoint{Squeeze: r.f.Cell.Thickness * unit.Length(p.strain), Pressure: unit.Pressure(p.pressure)})
		}
		c.SqueezeSource = "built-in, " + catalog.CommonPractice
		return
	}
	c.SqueezeSource = "given in the parameter file"
	c.Squeeze = squeezePoints(in)
	checkCurve(r, "clamp.squeeze", in)
}
