package assembly

import (
	"slices"

	"clampwright/parts"
)

// PartLine is one line of the parts list.
type PartLine struct {
	Part     *parts.Part
	Quantity int
	// Pieces is the number of loose pieces when one instance stands for several
	// (a spring stack of eight discs); else equal to Quantity.
	Pieces int
	// Loose counts the pieces that are not in the finished pack: tools, and what is
	// taken off again.
	Loose int
	// Within says that the pieces become part of another line's, which weighs them.
	Within bool
	// Rule says how long a screw is whose thread's depth is not known; else empty.
	Rule string
	// MassTotalG is what the line adds to the mass of the list, g: nothing where its
	// pieces are within others.
	MassTotalG float64
}

// MassEachG is the mass of one piece, g.
func (l PartLine) MassEachG() float64 {
	if l.Within {
		return l.Part.MassG
	}
	return l.MassTotalG / float64(max(1, l.Pieces))
}

// LooseG is the mass of the pieces that are not in the finished pack, g.
func (l PartLine) LooseG() float64 { return float64(l.Loose) * l.MassEachG() }

// listed says whether an instance is a part to make, buy or have.
func listed(w *Instance) bool {
	return w.Role != RoleTerminal && w.Role != RoleVent && w.Role != RoleTool && w.Part.Kind != parts.KindStrip
}

// PartsList lists every distinct part with its quantity, in the order placed.
func (a *Assembly) PartsList() []PartLine {
	var lines []PartLine
	add := func(p *parts.Part, n, pieces, loose int) {
		k := slices.IndexFunc(lines, func(l PartLine) bool { return l.Part == p })
		if k < 0 {
			k, lines = len(lines), append(lines, PartLine{Part: p})
		}
		lines[k].Quantity += n
		lines[k].Pieces += pieces
		lines[k].Loose += loose
		lines[k].MassTotalG += float64(n) * p.MassG
	}
	for i := range a.Instances {
		if w := &a.Instances[i]; listed(w) {
			pieces := 1
			if w.Role == RoleSpring {
				pieces = a.springPieces()
			}
			add(w.Part, 1, pieces, 0)
		}
	}
	for _, k := range a.sheets {
		n := 2 * len(k.Of)
		lines = append(lines, PartLine{Part: k.Part, Quantity: n, Pieces: n, Within: true})
	}
	for _, k := range a.loose {
		add(k.Part, k.Quantity, k.Quantity, k.Quantity)
	}
	return lines
}

// springPieces is how many loose pieces the springs of one rod are.
func (a *factory) springPieces() int {
	if s := a.Fixture.Spring; s != nil {
		return s.Pieces()
	}
	return 1
}

// PackMassG is the mass of the whole pack with its cells, g. Terminals are part
// of the cells' mass.
func (a *Assembly) PackMassG() float64 {
	var sum float64
	for _, l := range a.PartsList() {
		sum += l.MassTotalG - l.LooseG()
	}
	return sum
}
