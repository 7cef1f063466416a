package catalog

import "clampwright/params/unit"

const (
	cellSource   = "typical data-sheet figures of this size, from memory; thickness, mass and resistance of the 72 mm size as published: the maker's data sheet decides"
	cellUnknown  = "typical figures of this size, from memory; no clamp force known: the maker's data sheet decides"
	sheetForce   = 2942 // 300 kgf, data-sheet practice for the 174 x 200 mm face, from memory
	sheetForceBy = 196  // 20 kgf
)

// cells: generic sizes. Terminals are M6 tapped pads in the middle of the top,
// the vent midway between them.
func cells() []Cell {
	big := func(name string, t, h unit.Length, mass unit.Mass, ah, mohm float64) Cell {
		return Cell{Name: name, Thickness: t, Width: 174, Height: h, ThicknessTol: 0.8, WidthTol: 0.5, HeightTol: 0.5,
			Mass: mass, CapacityAh: ah, ResistanceMOhm: mohm, TerminalPitch: 122, TerminalDia: 18, TerminalHeight: 3,
			TerminalThread: "M6", VentLength: 30, VentWidth: 14, ClampForce: sheetForce, ClampForceTol: sheetForceBy, Source: cellSource}
	}
	small := func(name string, t, w, h unit.Length, mass unit.Mass, ah, mohm float64, pitch unit.Length) Cell {
		return Cell{Name: name, Thickness: t, Width: w, Height: h, ThicknessTol: 0.5, WidthTol: 0.5, HeightTol: 0.5,
			Mass: mass, CapacityAh: ah, ResistanceMOhm: mohm, TerminalPitch: pitch, TerminalDia: 14, TerminalHeight: 2.5,
			TerminalThread: "M6", VentLength: 20, VentWidth: 10, Source: cellUnknown}
	}
	return []Cell{
		big("72x174x201", 72, 201, 5420, 280, 0.25),
		big("72x174x207", 72, 207, 5600, 310, 0.20),
		big("54x174x200", 54, 200, 3950, 200, 0.20),
		small("50x160x118", 50, 160, 118, 2000, 100, 0.5, 100),
		small("36x130x200", 36, 130, 200, 2000, 100, 0.4, 80),
		small("32x173x115", 32, 173, 115, 1250, 60, 0.8, 120),
		small("27x148x95", 27, 148, 95, 850, 37, 1.0, 100),
	}
}
