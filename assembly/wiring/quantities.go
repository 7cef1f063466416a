package wiring

import "math"

// Quantities are what fuse, disconnect, cables and board of a pack are chosen by. None of
// them is chosen here.
type Quantities struct {
	LeastV, NominalV, FullV float64
	// RatedA is drawn for long, BornA what the cells bear for long as they share it, ShortA
	// flows through a bridge without resistance between the mains of the full pack.
	RatedA, BornA, ShortA float64
	KWh                   float64 // in the full cells, at nominal voltage
	Sense                 []Lead
	// Sensors are the slots in which temperatures are read: the middle of each row, which
	// cools least, and an end of the first to compare with. Hottest is the warmest link.
	Sensors []int
	Hottest Link
	Room    [2]float64 // round the minus and the plus take-off, mm: see room
}

// Lead is one sense lead, its length from its terminal to the plug.
type Lead struct {
	At       Post
	LengthMM float64
}

// leadSpareMM is what a sense lead is longer than its way along rows and lids to the pack
// minus, where its plug is taken to be; leadStepMM is what it is rounded up to. Common
// practice, no source.
const leadSpareMM, leadStepMM = 200.0, 10.0

// QuantitiesOf follow from the finished pack and its figures.
func (l *Layout) QuantitiesOf(s State, f Figures) Quantities {
	in := l.in
	q := Quantities{LeastV: s.VoltageOf(in.Volts.Least), NominalV: s.VoltageOf(in.Volts.Nominal), FullV: s.VoltageOf(in.Volts.Full),
		RatedA: in.RatedA, BornA: math.Inf(1), ShortA: f.MainsShortA, Room: [2]float64{roomAt(l, s, s.Mains.Minus), roomAt(l, s, s.Mains.Plus)}}
	for i, place := range s.Places {
		q.KWh += heldAh(l, place) * in.Volts.Nominal / 1000
		q.BornA = min(q.BornA, in.CellLimitA*float64(len(place))/f.Unevenness[i])
	}
	for _, p := range sensePosts(s) {
		d := l.Position(p, s.Turns).Sub(l.Position(s.Mains.Minus, s.Turns))
		q.Sense = append(q.Sense, Lead{p, math.Ceil((math.Abs(d.X)+math.Abs(d.Y)+leadSpareMM)/leadStepMM) * leadStepMM})
	}
	for row := range in.Rows {
		q.Sensors = append(q.Sensors, row*in.CellsPerRow+min(in.CellsPerRow, l.Cells()-row*in.CellsPerRow)/2)
	}
	if in.CellsPerRow > 1 {
		q.Sensors = append(q.Sensors, 0)
	}
	most := math.Inf(-1)
	for _, k := range f.Links {
		if k.Celsius > most {
			most, q.Hottest = k.Celsius, k.Link
		}
	}
	return q
}

// sensePosts are the terminals of the sense leads, in their order.
func sensePosts(s State) []Post {
	out := []Post{s.Mains.Minus}
	for _, place := range s.Places[:len(s.Places)-1] {
		out = append(out, s.Turns.At(place[len(place)-1], Plus))
	}
	return append(out, s.Mains.Plus)
}

// roomAt is from the middle of a terminal to the next bare metal of another potential, mm.
func roomAt(l *Layout, s State, at Post) float64 {
	n, least, pads := netsOf(l.Cells(), s.Links), math.Inf(1), padsOf(l, s)
	p, net := l.Position(at, s.Turns), n.find(at.node())
	for node, pad := range pads {
		if n.find(node) != net {
			least = min(least, l.in.screwsApart(p, l.Position(postOf(node), s.Turns))-pad)
		}
	}
	for _, m := range metalsOf(l, s) {
		if n.find(m.link.A.node()) != net {
			for _, screw := range l.in.screwsAt(p) {
				least = min(least, m.to(screw))
			}
		}
	}
	return least
}
