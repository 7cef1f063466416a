package inputs

import (
	"clampwright/assembly/wiring"
	"clampwright/params"
	"clampwright/parts/geom"
)

// How hot links may get: tableAirC and linkRiseK are the air and the rise of the tables of
// bars (DIN 43671); hotter than linkMostC they would heat the seals of the terminals
// (common practice, no source).
const tableAirC, linkRiseK, linkMostC = 35.0, 30.0, 85.0

// Wiring returns the input of the electrical side.
func Wiring(f *params.Fixture) wiring.Input {
	e, c, p := &f.Electrical, &f.Cell, &f.Pack
	air := max(float64(f.Clamp.HotTemp), tableAirC)
	in := wiring.Input{
		CellsPerRow: p.PerRow, Rows: p.Rows, Empty: p.Rows*p.PerRow - p.Cells, FillerMM: p.CellThickness.MM(), Series: e.Series, Parallel: e.Parallel,
		PitchMM: p.Pitch.MM(), CellWidthMM: c.Width.MM(), RowGapMM: p.RowGap.MM(),
		Welded: c.Welded, Screws: c.Screws, ScrewStep: geom.Vec2{X: c.StepX.MM(), Y: c.StepZ.MM()}, PlusAt: terminalAt(c.Plus), MinusAt: terminalAt(c.Minus),
		Thread: c.TerminalThread, StudDiaMM: params.TerminalScrew(f).MM(), StudHeightMM: c.StudHeight.MM(), ThreadDepthMM: c.ThreadDepth.MM(),
		Volts:         wiring.Voltages{Nominal: e.VoltageNominal, Full: e.VoltageFull, Storage: e.VoltageStorage, Least: e.VoltageLow},
		StorageCharge: f.Clamp.StorageCharge, ArrivalCharge: f.Clamp.SetCharge, CapacityAh: c.CapacityAh, CellMilliOhm: c.ResistanceMOhm,
		RatedA: e.RatedCurrent, CellLimitA: c.CurrentA, ChargerA: e.BalanceCurrent, DischargerA: e.BalanceCurrent, BoardA: e.Board,
		Bar:             wiring.Bar{Material: e.LinkMaterial, Plated: e.LinkPlated, WidthMM: e.LinkWidth.MM(), ThicknessMM: e.LinkThickness.MM()},
		Form:            wiring.LinkForm(e.LinkForm),
		ContactMicroOhm: e.Contact / float64(max(1, c.Screws)), AmbientC: air, LimitC: min(air+linkRiseK, linkMostC),
		Growth:    wireGrowth(f),
		SpannerMM: e.SpannerLength.MM(),
		Screen: wiring.ScreenLimits{
			BulgeMM: 2 * f.BulgeLimit().MM(), // both faces together
			LeastAh: wornShare * c.CapacityAh, MostMilliOhm: params.ResistanceMost * c.ResistanceMOhm,
		},
		Records: records(f), UserLinks: userLinks(f),
		Forced: wiring.PlanID(e.Plan),
	}
	if w, ok := f.Tables.WasherFor(c.TerminalThread, "standard"); ok {
		in.WasherMM = w.Thickness.MM()
	}
	if n, ok := f.Tables.NutFor(c.TerminalThread, "plain"); ok {
		in.NutMM = n.Height.MM()
	}
	if e.TakeOff == "right" {
		plus := wiring.Left // of the first cell, whose minus then stands on the right
		in.FromRight, in.FirstPlus = p.Rows > 1, &plus
	}
	return in
}

func terminalAt(t params.Terminal) wiring.TerminalAt {
	return wiring.TerminalAt{XMM: t.X.MM(), ZMM: t.Z.MM(), HeightMM: t.Height.MM(), PadMM: t.Dia.MM()}
}

// records are the cells on hand as measured, in the order of their readings.
func records(f *params.Fixture) []wiring.Record {
	var out []wiring.Record
	at := map[string]int{}
	for _, x := range f.Readings {
		if !x.OfCell() {
			continue
		}
		i, known := at[x.Where]
		if !known {
			i = len(out)
			at[x.Where], out = i, append(out, wiring.Record{Serial: x.Where})
		}
		c := &out[i]
		*map[string]*float64{"capacity": &c.CapacityAh, "resistance": &c.MilliOhm, "voltage": &c.Volts,
			"centre": &c.CentreMM, "edge_left": &c.EdgeLeftMM, "edge_right": &c.EdgeRightMM}[x.What] = x.Value
	}
	return out
}

// wornShare is the part of its rated capacity below which a cell counts as worn out:
// common practice, no source.
const wornShare = 0.8

// userLinks are the links the user gives in place of the computed ones.
func userLinks(f *params.Fixture) []wiring.StateLinks {
	var out []wiring.StateLinks
	for _, s := range f.Electrical.Links {
		u := wiring.StateLinks{State: s.State}
		for _, k := range s.Links {
			u.Links = append(u.Links, k.Text)
		}
		out = append(out, u)
	}
	return out
}

// wireGrowth is how far terminals move apart: what the cells grow from
// tightening to full and aged, and the tolerances of sizes and holes.
func wireGrowth(f *params.Fixture) wiring.Growth {
	return wiring.Growth{
		PerCellMM: f.Clamp.Grown().MM(), PitchTolMM: f.Cell.ThicknessTol.MM(),
		RowTolMM: f.Cell.WidthTol.MM(), HoleTolMM: f.Tolerances.HolePosition.MM(),
	}
}
