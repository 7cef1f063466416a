package check

import "clampwright/assembly/finding"

// rules is the table of all rules in the order they are run and reported.
func rules() []rule {
	all := append(append(interferenceRules(), aidRules()...), clearRules()...)
	all = append(all, openingRules()...)
	all = append(append(append(all, linkRules()...), seatRules()...), springRules()...)
	all = append(append(all, coverRules()...), cuttingRules()...)
	return append(all, printRules()...)
}

func interferenceRules() []rule {
	return []rule{
		{id: "parts-apart", group: finding.GroupInterference, heavy: true,
			why:     "Two parts in the same place cannot be assembled; the gap must be greater than zero.",
			causes:  []string{"rods.columns", "rods.levels", "stiffeners.angle", "stiffeners.gauge", "plates.width"},
			measure: measureApart},
		{id: "chain-closed", group: finding.GroupInterference, heavy: true,
			why:     "Every part of the clamped chain must touch its neighbour, or the clamp presses nothing; gap or overlap must be zero.",
			causes:  []string{"pack.stack", "separators.thickness", "liners.thickness"},
			measure: measureChain},
		{id: "rod-passes", group: finding.GroupInterference, heavy: true,
			why:     "A rod must pass all its holes although each is drilled a little off; the play must reach the hole error.",
			causes:  []string{"rods.hole", "rods.thread", "tolerances.hole_error"},
			measure: measurePlay},
	}
}

func clearRules() []rule {
	return []rule{
		{id: "metal-to-cell", group: finding.GroupClear, heavy: true,
			why:     "A cell's case can be live, and bare metal on it shorts the pack; the distance must reach the clearance wanted.",
			causes:  []string{"rods.columns", "clearances.metal_to_cell", "cell.width_tolerance"},
			measure: measureMetalCell},
		{id: "plate-insulated", group: finding.GroupClear,
			why:     "A metal plate on live cases joins the ends of the pack; an insulating liner must reach past the metal that faces the cell.",
			causes:  []string{"plates.material", "cell.case", "liners.width", "liners.height"},
			measure: measureInsulated},
		{id: "cells-insulated", group: finding.GroupClear,
			why:     "Bare cases of neighbours stand at different potentials and would short through each other; an insulating sheet must lie between them.",
			causes:  []string{"cell.case", "separators", "separators.thickness"},
			measure: measureCellsInsulated},
		{id: "sleeve-to-cell", group: finding.GroupClear, heavy: true,
			why:     "A sleeve that rubs on a cell wears through; it must stay clear.",
			causes:  []string{"rods.columns", "sleeves.wall"},
			measure: measureSleeveCell},
		{id: "sleeve-free", group: finding.GroupClear,
			why:     "A sleeve between the plates must never carry the clamp's load; the play along the rod must stay above zero with the thinnest cells.",
			causes:  []string{"sleeves.end_gap", "cell.thickness_tolerance"},
			measure: measureSleeveFree},
		{id: "grip-room", group: finding.GroupClear, heavy: true,
			why:     "Locking nuts turn the rod with them, so pliers must get at its middle; the best way in must leave the room wanted round the jaws.",
			causes:  []string{"rods.columns", "rods.clearance", "rods.levels", "tools.pliers.room", "tools.pliers.tip_overhang", "tools.pliers.jaw_thickness"},
			measure: measureGrip},
		{id: "grip-bare", group: finding.GroupClear,
			why:     "Pliers on a sleeve do not hold the rod; the sleeve must slide aside far enough to bare it.",
			causes:  []string{"sleeves.end_gap", "tools.pliers.jaw_width"},
			measure: measureBareGrip},
		{id: "nut-turns", group: finding.GroupClear,
			why:     "A nut whose corners meet the standing leg cannot be turned by any tool; the gap must stay above zero.",
			causes:  []string{"stiffeners.gauge", "nuts.name"},
			measure: measureNutTurns},
		{id: "driver-to-metal", group: finding.GroupClear, heavy: true,
			why:     "The socket must go on every nut past angle, plate and neighbours; the distance must reach the clearance wanted.",
			causes:  []string{"stiffeners.gauge", "tools.socket", "rods.levels", "clearances.tool_to_metal"},
			measure: measureDriver(toMetal)},
		{id: "driver-to-cell", group: finding.GroupClear, heavy: true,
			why:     "A nut driver must not strike a cell; the distance must reach the clearance wanted.",
			causes:  []string{"tools.socket", "clearances.tool_to_cell"},
			measure: measureDriver(toCell)},
		{id: "driver-to-terminal", group: finding.GroupClear, heavy: true,
			why:     "A nut driver that slips onto a terminal shorts a cell; the distance must reach the clearance wanted.",
			causes:  []string{"rods.levels", "tools.socket", "clearances.tool_to_terminal"},
			measure: measureDriver(toTerminal)},
		{id: "metal-to-terminal", group: finding.GroupClear, heavy: true,
			why:     "Metal within touching distance of a terminal is a short waiting for a dropped washer; the distance must reach the clearance wanted.",
			causes:  []string{"rods.levels", "rods.columns", "plates.height", "clearances.metal_to_terminal"},
			measure: measureMetalTerminal},
		{id: "vent-free", group: finding.GroupClear, heavy: true,
			why:     "A vent must be able to blow off upward; the free height must reach the one wanted.",
			causes:  []string{"clearances.vent_free", "rods.levels"},
			measure: measureVentFree},
		{id: "drill-access", group: finding.GroupClear, heavy: true,
			why:     "The chuck must clear the standing leg when an angle is drilled from its side; the distance must reach the clearance wanted.",
			causes:  []string{"stiffeners.gauge", "stiffeners.angle", "tools.drill_body"},
			measure: measureDrillAccess, hint: wordsDrillAccess},
	}
}

func seatRules() []rule {
	return []rule{
		{id: "washer-flat", group: finding.GroupSeats,
			why:     "A washer on the root fillet or over the leg's edge bends and works loose; its edge must lie on the flat.",
			causes:  []string{"stiffeners.gauge", "stiffeners.angle", "washers.name", "tolerances.hole_error"},
			measure: measureWasherFlat},
		{id: "washer-bearing", group: finding.GroupSeats,
			why:     "A washer that presses harder than its seat stands sinks in and loses the clamp force; the pressure must stay below.",
			causes:  []string{"washers.name", "cell.force", "plates.material", "rods.hole"},
			measure: measureWasherBearing},
		{id: "hole-edge", group: finding.GroupSeats,
			why:     "A hole near an edge tears out (EN 1993-1-8 table 3.3: 1.2 hole diameters at least, 1.5 wanted; washer 2 mm inside in plastic and wood).",
			causes:  []string{"plates.width", "plates.height", "rods.columns", "rods.levels", "rods.hole", "stiffeners.gauge", "stiffeners.length"},
			measure: measureEdges},
		{id: "hole-ligament", group: finding.GroupSeats,
			why:     "Holes close together tear into one (EN 1993-1-8 table 3.3: 2.2 hole diameters between centres at least, 3 wanted).",
			causes:  []string{"rods.levels", "rods.columns", "rods.hole", "plates.feet.inset"},
			measure: measureLigaments},
		{id: "thread-protrusion", group: finding.GroupSeats,
			why:     "Thread must stand out of the outermost nut, or its last threads carry nothing; the length must reach the one wanted.",
			causes:  []string{"rods.length", "rods.end_allowance", "rods.protrusion", "pack.stack"},
			measure: measureProtrusion},
		{id: "nut-engaged", group: finding.GroupSeats,
			why:     "A nut holds only with the rod through its full height.",
			causes:  []string{"rods.length", "nuts.name"},
			measure: measureEngagement},
		{id: "nut-starts", group: finding.GroupSeats,
			why:     "With the springs still free the nut must catch two threads to be started by hand.",
			causes:  []string{"rods.length", "springs.series"},
			measure: measureStart},
		{id: "socket-depth", group: finding.GroupSeats,
			why:     "The rod runs into the socket; beyond its depth a hollow driver or a spanner is needed.",
			causes:  []string{"rods.length", "tools.socket_length"},
			measure: measureSocketDepth},
	}
}

func coverRules() []rule {
	return []rule{
		{id: "plate-covers", group: finding.GroupCover,
			why:     "The plate must press the whole zone in which the cell domes; its edges must lie outside that zone.",
			causes:  []string{"plates.width", "plates.height", "plates.bottom", "cell.swell_zone"},
			measure: measureCover},
		{id: "row-fits", group: finding.GroupCover,
			why:     "Cells that stand out beside the plate are not held square; the plate should be as wide as the rows.",
			causes:  []string{"plates.width", "cell.width_tolerance", "pack.row_gap"},
			measure: measureRowFits},
		{id: "sheet-covers", group: finding.GroupCover,
			why:     "A separator or liner smaller than the doming zone cuts into the cell's face; its edges must lie outside that zone.",
			causes:  []string{"separators.width", "separators.height", "liners.width", "liners.height", "cell.swell_zone"},
			measure: measureInserts},
		{id: "separator-registers", group: finding.GroupCover,
			why:     "A separator that hangs below the cells lifts them off the floor; its lower edge must not lie below them.",
			causes:  []string{"separators.bottom", "separators.height"},
			measure: measureRegister},
	}
}

func cuttingRules() []rule {
	return []rule{
		{id: "fits-sheet", group: finding.GroupCutting,
			why:     "All pieces of a part must come out of the sheets that are at hand or can be bought, inside their unusable rim.",
			causes:  []string{"plates.width", "plates.height", "plates.thickness", "stock.sheets", "stock.margin", "stock.part_gap"},
			measure: measureStock(true), hint: wordsStock},
		{id: "tool-on-sheet", group: finding.GroupCutting,
			why:     "A cutter that leaves the sheet pulls it, one that meets a neighbour or a clamp spoils both; its whole width must stay on the sheet and off them.",
			causes:  []string{"stock.margin", "stock.part_gap", "tools.cutter", "stock.beam_kerf", "stock.sheets"},
			measure: measureSweep},
		{id: "part-held", group: finding.GroupCutting,
			why:     "A part that its last cut sets free is thrown by the cutter, and a sheet that is not held moves; each part wants two tabs on straight edges, each sheet two places to hold it.",
			causes:  []string{"tools.cutter", "stock.sheets"},
			measure: measureHeld, hint: wordsHeld},
		{id: "fits-length", group: finding.GroupCutting,
			why:     "All that is sawn to length must come out of the lengths that are at hand or can be bought, saw cuts included.",
			causes:  []string{"rods.length", "stiffeners.length", "stock.rods", "stock.angles", "stock.bars", "stock.saw_kerf"},
			measure: measureStock(false), hint: wordsStock},
		{id: "inner-radius", group: finding.GroupCutting,
			why:     "A cutter leaves its own radius in every inside corner; corners must not be sharper.",
			causes:  []string{"tools.cutter", "plates.tie_slots"},
			measure: measureInnerRadii},
		{id: "hole-for-cutter", group: finding.GroupCutting,
			why:     "A cutter needs holes a little larger than itself.",
			causes:  []string{"tools.cutter", "rods.hole", "plates.feet.hole"},
			measure: measureCutterHoles, hint: wordsCutterHole},
		{id: "drill-at-hand", group: finding.GroupCutting,
			why:     "Holes made by hand need a drill of their size from the set.",
			causes:  []string{"tools.drills", "rods.hole", "rods.pilot"},
			measure: measureDrills},
		{id: "fits-bed", group: finding.GroupCutting,
			why:     "A printed part must fit the printer.",
			causes:  []string{"printer.bed_x", "printer.bed_y", "printer.bed_z"},
			measure: measureBed},
		{id: "wall-printable", group: finding.GroupCutting,
			why:     "Walls thinner than the printer makes come out weak or not at all.",
			causes:  []string{"printer.min_wall", "sleeves.wall", "separators.border"},
			measure: measureWalls},
	}
}
