package assembly

import "clampwright/parts"

// PartLine is one line of the parts list.
type PartLine struct {
	Part     *parts.Part
	Quantity int
	// Pieces is the number of loose pieces when one instance stands for several
	// (a spring stack of eight discs); else equal to Quantity.
	Pieces int
	// Loose counts those of Quantity that are not in the finished pack: tools, and
	// what is taken off again.
	Loose      int
	MassEachG  float64
	MassTotalG float64
}

// LooseG is the mass of the pieces that are not in the finished pack, g.
func (l PartLine) LooseG() float64 { return float64(l.Loose) * l.MassEachG }

// listed says whether instances of a group are parts to make, buy or have.
func listed(g Group) bool {
	return g != GroupTerminal && g != GroupVent && g != GroupTool
}

// PartsList lists every distinct part with its quantity, in the order placed.
func (a *Assembly) PartsList() []PartLine {
	var lines []PartLine
	at := map[*parts.Part]int{}
	for i := range a.Instances {
		w := &a.Instances[i]
		if !listed(w.Group) {
			continue
		}
		k, ok := at[w.Part]
		if !ok {
			k = len(lines)
			at[w.Part] = k
			lines = append(lines, PartLine{Part: w.Part, MassEachG: w.Part.MassG})
		}
		lines[k].Quantity++
		lines[k].Pieces += a.piecesOf(w)
		lines[k].MassTotalG += w.Part.MassG
	}
	for _, k := range a.loose {
		i, ok := at[k.Part]
		if !ok {
			i = len(lines)
			at[k.Part] = i
			lines = append(lines, PartLine{Part: k.Part, MassEachG: k.Part.MassG})
		}
		lines[i].Quantity += k.Quantity
		lines[i].Pieces += k.Quantity
		lines[i].Loose += k.Quantity
		lines[i].MassTotalG += float64(k.Quantity) * k.Part.MassG
	}
	return lines
}

// piecesOf is how many loose pieces one instance stands for.
func (a *Assembly) piecesOf(w *Instance) int {
	if s := a.Fixture.Spring; w.Group == GroupSpring && s != nil && s.Disc != nil {
		return max(1, s.Parallel*s.Series)
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
