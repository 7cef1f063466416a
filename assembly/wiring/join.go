package wiring

import (
	"fmt"
	"math"
	"slices"

	"clampwright/params/number"
)

// plateauV is the greatest difference at rest at which cells may be joined in
// parallel, however much the links carry: lithium iron phosphate rests within a
// few hundredths of a volt from a fifth to nine tenths of its charge, so ten
// millivolts can be a tenth of the charge or more and flow for a long time.
// From memory; common practice, no source.
const plateauV = 0.010

// Join is what must hold before cells are joined in parallel.
type Join struct {
	// LinkA is what the weakest link of the state and one cell carry for long.
	LinkA float64
	// CurrentV is the voltage difference that drives LinkA round through one
	// cell, the others together and a link at each pole.
	CurrentV float64
	// AllowedV is the difference allowed at rest.
	AllowedV float64
}

// JoinLimit returns what must hold before the cells of a state's places are
// joined: dU = I (Ri + Ri/(n-1) + 2 Rl), rounded down to a millivolt, and no
// more than plateauV. A stray cell is the worst against all others together.
func (l *Layout) JoinLimit(s State) Join {
	j := Join{LinkA: l.in.CellLimitA}
	link := math.Inf(1)
	for _, k := range s.Links {
		j.LinkA = min(j.LinkA, continuousA(l, k))
		link = min(link, l.LinkOhm(k, s.Turns))
	}
	if math.IsInf(link, 1) {
		link = 2 * l.in.ContactMicroOhm * 1e-6
	}
	j.CurrentV = math.Floor(1000*j.LinkA*(strayOhm(l, s)+2*link)+1e-9) / 1000
	j.AllowedV = min(j.CurrentV, plateauV)
	return j
}

// strayOhm is the least resistance of one cell against the others of its place; where no
// place has others, of two cells.
func strayOhm(l *Layout, s State) float64 {
	least := math.Inf(1)
	for _, place := range s.Places {
		siemens := 0.0
		for _, slot := range place {
			siemens += 1 / cellOhm(l, slot)
		}
		for _, slot := range place {
			ri := cellOhm(l, slot)
			if others := siemens - 1/ri; len(place) > 1 {
				least = min(least, ri+1/others)
			} else if len(slices.Concat(s.Places...)) == len(s.Places) {
				least = min(least, 2*ri)
			}
		}
	}
	return least
}

// continuousA is the current that a link carries for long.
func continuousA(l *Layout, k Link) float64 {
	if k.Cable {
		return cableAmpsPerMM2 * k.CableMM2
	}
	b := l.in.Bar
	return conductors[b.Material].BarAmps(b.WidthMM, b.ThicknessMM*float64(k.layers()), l.in.AmbientC, l.in.LimitC)
}

// JoinText says when cells may be joined in parallel, and by how much more is too much.
func (l *Layout) JoinText(s State) string {
	j := l.JoinLimit(s)
	return l.JoinRule(s) + fmt.Sprintf(" Above %s mV the current between them is more than %s, which links and cells carry for long (common practice, no source). The cell's data sheet goes first.",
		millivolts(j.CurrentV), amps(j.LinkA))
}

// JoinRule says when cells may be joined in parallel.
func (l *Layout) JoinRule(s State) string {
	return fmt.Sprintf("Join cells in parallel only when all rest within %s mV of each other and have the same charge.", millivolts(l.JoinLimit(s).AllowedV))
}

// strayText says how a stray cell is brought to the others: from a supply, into a
// load, or through a resistor that keeps even an empty cell's current from a full
// one to what the charger gives.
func strayText(l *Layout) string {
	v := l.in.Volts
	worst := v.Full - v.Least
	return fmt.Sprintf("Unused cells of one delivery have the same charge. Every other cell, and one that reads otherwise, is a stray. "+
		"Bring it to the others' charge by itself, at %s or less. Use a supply set to their voltage, or a load. "+
		"Or join it to one of them through a resistor of at least %s ohm, %s W, until no current flows. Let it rest for an hour and read again.",
		amps(l.in.oneCellA(l.in.ChargerA)), number.Trim(math.Ceil(100*worst/l.in.oneCellA(l.in.ChargerA))/100, 2), number.Trim(math.Ceil(worst*l.in.oneCellA(l.in.ChargerA)), 0))
}

func millivolts(v float64) string { return number.Trim(1000*v, 0) }
