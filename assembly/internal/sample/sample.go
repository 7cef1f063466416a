// Package sample holds hand-written fixtures with every value settled, for the
// tests of assembly and of its checks. All of them pass every check.
package sample

import (
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
)

const inch unit.Length = 25.4

// FourCells is one row of four cells, 1/2 in HDPE plates, 1-1/4 in angles and
// 5/16-18 rods of 11-1/4 in: four cells taken as 8-1/2 in, two 1/2 in plates,
// two 1/8 in legs and 3/4 in at each end (common practice, no source).
func FourCells() *params.Fixture {
	f := &params.Fixture{
		Name:  "four",
		Style: params.Style{Unit: "in", Denominator: 16, Decimals: 2, Paper: "letter"},
		Cell:  cell(54, 174, 201, 5420),
		Pack: params.Pack{Cells: 4, Rows: 1, PerRow: 4, StackLength: 8.5 * inch, Measured: true,
			CellThickness: 8.5 * inch / 4, Pitch: 8.5 * inch / 4, RowX: []unit.Length{0}, Width: 174},
		Plate: params.Plate{Material: hdpe, Width: 9.75 * inch, Height: 195, Thickness: inch / 2,
			Bottom: 3, CornerRadius: 6},
		Rods: params.Rods{Thread: thread516, Grade: grade48,
			Columns: []unit.Length{-108, 108}, Levels: []unit.Length{52, 149},
			Length: 11.25 * inch, Hole: 11 * inch / 32, Pilot: inch / 16, EndAllowance: 0.75 * inch, EndAllowanceFar: 0.75 * inch,
			Protrusion: 1.5, EdgeDistance: 14, Clearance: 16},
		Nut: catalog.Nut{Name: "UNC prevailing 5/16-18", Kind: "prevailing", Thread: "5/16-18",
			Height: .359 * inch, HeightMin: .329 * inch, Flats: .502 * inch, Corners: .58 * inch, MassG: 5},
		Washer: catalog.Washer{Name: "narrow 5/16", Series: "standard", Thread: "5/16-18",
			Inner: .344 * inch, Outer: .688 * inch, Thickness: .065 * inch},
		Tools:      tools(20),
		Clearances: clearances(),
		Printer:    printer(),
		Tolerances: params.Tolerances{HolePosition: 0.3, CutLength: 0.5, PlateSize: 0.5, SheetShare: 0.03},
	}
	f.Stiffener = &params.Stiffener{Section: angle114, Material: aluminium, DrilledLeg: 1.25 * inch,
		StandingLeg: 1.25 * inch, Length: 9.75 * inch, Gauge: 18, Chamfer: 3,
		StandingUp: []bool{true, false}}
	f.Stock = params.Stock{Margin: 5, PartGap: 6, SawKerf: 3.2,
		Sheets: []params.SheetStock{{ID: "hdpe-offcut", Material: "hdpe", Thickness: inch / 2, Width: 24 * inch, Height: 210, Quantity: 1}},
		Angles: []params.LengthStock{{ID: "angle-4ft", Item: angle114.Name, Length: 48 * inch}},
		Rods:   []params.LengthStock{{ID: "rod-3ft", Item: "5/16-18", Length: 36 * inch}}}
	return f
}

// TwoRows is sixteen cells in two rows of eight with a middle column of rods,
// 10 mm aluminium plates without angles, M10 rods and insulating liners.
func TwoRows() *params.Fixture {
	f := &params.Fixture{
		Name:  "sixteen",
		Style: params.Style{Unit: "mm", Denominator: 16, Decimals: 1, Paper: "a4"},
		Cell:  cell(72, 174, 201, 5420),
		Pack: params.Pack{Cells: 16, Rows: 2, PerRow: 8, RowGap: 50, CellThickness: 72,
			RowX: []unit.Length{-112, 112}, Width: 398},
		Plate: params.Plate{Material: aluminium, Width: 482, Height: 198, Thickness: 10, Bottom: 1, CornerRadius: 6},
		Rods: params.Rods{Thread: threadM10, Grade: grade48,
			Columns: []unit.Length{-222, 0, 222}, Levels: []unit.Length{40, 160},
			Length: 650, Hole: 11, Pilot: 3, EndAllowance: 24.25, EndAllowanceFar: 24.25, Protrusion: 1.5, EdgeDistance: 18, Clearance: 18},
		Nut: catalog.Nut{Name: "ISO 7040 M10", Kind: "prevailing", Thread: "M10",
			Height: 11.9, HeightMin: 11.57, Flats: 16, Corners: 18.48, MassG: 11},
		Washer:     catalog.Washer{Name: "ISO 7089 M10", Series: "standard", Thread: "M10", Inner: 10.5, Outer: 20, Thickness: 2},
		Tools:      tools(24),
		Clearances: clearances(),
		Printer:    printer(),
		Tolerances: params.Tolerances{HolePosition: 0.3, CutLength: 0.5, PlateSize: 0.5, SheetShare: 0.03},
	}
	f.Liner = &params.Insert{Material: fr4, Thickness: 1, Width: 178, Height: 205, Bottom: -2, Pattern: "sheet"}
	f.Separator = &params.Insert{Material: fr4, Thickness: 0.5, Width: 174, Height: 201, Pattern: "sheet"}
	f.Pack.StackLength, f.Pack.Pitch = 8*72+7*0.5, 72.5
	f.Stock = params.Stock{Margin: 5, PartGap: 6, SawKerf: 2,
		Sheets: []params.SheetStock{
			{ID: "aluminium-10", Material: "aluminium", Thickness: 10, Width: 1000, Height: 500},
			{ID: "fr4-1", Material: "fr4", Thickness: 1, Width: 1000, Height: 1200},
			{ID: "fr4-0.5", Material: "fr4", Thickness: 0.5, Width: 1000, Height: 1200}},
		Rods: []params.LengthStock{{ID: "rod-1m", Item: "M10", Length: 1000}}}
	return f
}

func cell(t, w, h, mass float64) params.Cell {
	return params.Cell{
		Cell: catalog.Cell{Name: "sample", Thickness: unit.Length(t), Width: unit.Length(w), Height: unit.Length(h),
			ThicknessTol: 0.5, WidthTol: 0.5, HeightTol: 0.5, Mass: unit.Mass(mass),
			TerminalThread: "M6",
			VentLength:     30, VentWidth: 14, ClampForce: 2942, ClampForceTol: 196},
		Minus: params.Terminal{X: -61, Dia: 18, Height: 3}, Plus: params.Terminal{X: 61, Dia: 18, Height: 3},
		Compression: params.CompressForce, ForceLow: 2746, ForceTarget: 2942, ForceHigh: 3138, ForceFloor: 1471, ForceLimit: 5250,
		SwellWidth: unit.Length(0.6 * w), SwellHeight: unit.Length(0.6 * h),
	}
}

func tools(socket float64) params.Tools {
	return params.Tools{
		Pliers: params.Pliers{JawThickness: 6, JawWidth: 10, TipOverhang: 4, Reach: 40, Room: 3},
		Socket: catalog.Socket{Name: "sample", Outer: unit.Length(socket), Length: 50}, SocketWith: 80,
		Spanner: 30, DrillBody: 28,
		Drills: []catalog.Drill{
			{Name: "1/16", Series: "fraction", Dia: inch / 16}, {Name: "3", Series: "metric", Dia: 3},
			{Name: "11/32", Series: "fraction", Dia: 11 * inch / 32}, {Name: "3/8", Series: "fraction", Dia: 3 * inch / 8},
			{Name: "11", Series: "metric", Dia: 11}, {Name: "12", Series: "metric", Dia: 12}},
		Cutter: 3.175,
	}
}

func clearances() params.Clearances {
	return params.Clearances{MetalToCell: 3, MetalToTerminal: 10, ToolToCell: 2, ToolToTerminal: 10,
		VentFree: 20, ToolToMetal: 0.5}
}

func printer() params.Printer {
	return params.Printer{BedX: 220, BedY: 220, BedZ: 240, Fit: 0.25, MinWall: 1.2}
}

// Trade rows used by the samples.
var (
	hdpe = catalog.Material{Name: "hdpe", Family: "plastic", E: 900, Nu: 0.42, Strength: 22,
		SeatLong: 5, SeatShort: 10, DensityGCM3: 0.95}
	aluminium = catalog.Material{Name: "aluminium", Family: "metal", E: 69000, Nu: 0.33, Strength: 160,
		DensityGCM3: 2.70, Conducts: true}
	fr4 = catalog.Material{Name: "fr4", Family: "laminate", E: 20000, Nu: 0.15, Strength: 300, DensityGCM3: 1.85}
	// PETG is a printing material.
	PETG = catalog.Material{Name: "petg", Family: "plastic", E: 2000, Nu: 0.38, Strength: 45, SeatLong: 8,
		SeatShort: 20, DensityGCM3: 1.27}
	angle114 = catalog.AngleSection{Name: "1-1/4 x 1-1/4 x 1/8 in aluminium", LegA: 1.25 * inch, LegB: 1.25 * inch,
		Thickness: inch / 8, Root: 3.2, Toe: 1.6, Material: "aluminium"}
	thread516 = catalog.Thread{Name: "5/16-18", System: "unc", Major: 0.3125 * inch, Pitch: inch / 18,
		PitchDia: .2764 * inch, MinorDia: .2464 * inch, NutMinorDia: .2524 * inch, StressArea: .0524 * 25.4 * 25.4}
	threadM10 = catalog.Thread{Name: "M10", System: "metric", Major: 10, Pitch: 1.5, PitchDia: 9.026,
		MinorDia: 8.160, NutMinorDia: 8.376, StressArea: 58}
	grade48 = catalog.Grade{Name: "4.8", Proof: 310, Yield: 340, Tensile: 420, Modulus: 205000, DensityGCM3: 7.85}
)
