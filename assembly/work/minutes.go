package work

// minutes are about how long the hands are busy with a step, and with each piece that it
// makes or puts in its place: judgements, no source. Steps of the wiring plan stand for
// each link or lead.
var minutes = map[Doing]struct{ step, piece float64 }{
	Buy: {30, 0}, Print: {10, 2}, CheckCells: {10, 6}, CutPart: {5, 10}, Join: {20, 1}, Drill: {10, 12}, Deburr: {15, 0}, DryFit: {10, 0}, ScrewFeet: {5, 5}, ThreadTies: {2, 2},
	SortSprings: {5, 2}, BuildBack: {15, 1}, SlipOn: {2, 2}, CapCells: {2, 1}, StandCells: {5, 2}, CloseFront: {15, 1}, Square: {5, 0}, Snug: {15, 0}, SetForce: {20, 0},
	LockNuts: {5, 1}, MeasureStack: {10, 0}, CoverEnds: {2, 1}, CoverNear: {10, 1}, Wire: {10, 6}, LookFull: {5, 0}, Recheck: {20, 0}, TieLeads: {10, 0}, FixPack: {15, 0},
}

// Hours are about how long the hands are busy with all phases, charging not counted.
func Hours(phases []Phase) float64 {
	sum := 0.0
	for _, p := range phases {
		for _, s := range p.Steps {
			m, pieces := minutes[s.Kind], 0
			for _, l := range append(s.Makes[:len(s.Makes):len(s.Makes)], s.Uses...) {
				pieces += l.Count
			}
			sum += m.step + m.piece*float64(pieces)
		}
	}
	return sum / 60
}

// ServiceHours are about how long they are busy with service over some years: a reading a
// year, and the nuts set again so many times.
func ServiceHours(years, again float64) float64 {
	return (years*minutes[MeasureStack].step + again*(minutes[SetForce].step+minutes[LockNuts].step)) / 60
}
