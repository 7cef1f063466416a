package compare

import (
	"fmt"
	"math"

	"clampwright/assembly"
	"clampwright/params"
	"clampwright/parts"
)

// Parts compares the parts of two placed fixtures: one row or more for every part
// of the new one, in its order, then what is spare of the old one.
func Parts(old, now *assembly.Assembly) []Row {
	c := &comparer{old: old.Fixture, now: now.Fixture}
	was, is := old.PartsList(), now.PartsList()
	pair, used := c.pairUp(was, is)
	var out []Row
	for k, l := range is {
		if pair[k] < 0 {
			out = append(out, fresh(l, l.Pieces, "there was none before"))
			continue
		}
		out = append(out, c.line(was[pair[k]], l)...)
	}
	for k, l := range was {
		if !used[k] {
			out = append(out, spare(l, l.Pieces))
		}
	}
	return c.named(out)
}

// named calls disc springs by the piece, for they are counted so.
func (c *comparer) named(rows []Row) []Row {
	for k := range rows {
		f := c.now
		if rows[k].New == "" {
			f = c.old
		}
		if rows[k].Kind == string(parts.KindSpring) && f.Spring != nil && f.Spring.Disc != nil {
			rows[k].Name = "disc spring"
		}
	}
	return rows
}

// pairUp matches lines by kind and id, then any that serves as it is, then what is
// left by kind, in order. A link bar is never matched with a cable, nor with a bar
// of another section: they share no more than their purpose.
func (c *comparer) pairUp(was, is []assembly.PartLine) (pair []int, used []bool) {
	pair, used = make([]int, len(is)), make([]bool, len(was))
	for k := range pair {
		pair[k] = -1
	}
	alike := func(a, b *parts.Part) bool {
		return a.Kind == b.Kind && (a.Kind != parts.KindLink || a.Make == b.Make && a.Stock == b.Stock)
	}
	for _, same := range []func(a, b *parts.Part) bool{
		func(a, b *parts.Part) bool {
			return alike(a, b) && a.ID == b.ID && (a.Kind != parts.KindLink || c.judge(a, b).Action == Keep)
		},
		func(a, b *parts.Part) bool { return alike(a, b) && c.judge(a, b).Action == Keep },
		func(a, b *parts.Part) bool { return alike(a, b) && a.ID == b.ID },
		func(a, b *parts.Part) bool { return alike(a, b) && a.Make == b.Make },
	} {
		for k := range is {
			for m := range was {
				if pair[k] < 0 && !used[m] && same(was[m].Part, is[k].Part) {
					pair[k], used[m] = m, true
				}
			}
		}
	}
	return pair, used
}

// fresh is a part without a predecessor.
func fresh(l assembly.PartLine, n int, why string) Row {
	a := Make
	if l.Part.Make == parts.MakeBuy || l.Part.Make == parts.MakeOwn {
		a = Buy
	}
	return Row{Action: a, Kind: string(l.Part.Kind), Name: l.Part.Name, New: l.Part.ID, Quantity: n, Why: why}
}

func spare(l assembly.PartLine, n int) Row {
	return Row{Action: Spare, Kind: string(l.Part.Kind), Name: l.Part.Name, Old: l.Part.ID, Quantity: n, Why: "no longer used"}
}

// comparer compares under the tolerances of both fixtures: the old part was made
// to the old ones, the new fixture asks for its own; the closer ones count.
type comparer struct{ old, now *params.Fixture }

// line compares one part with its predecessor: as many as serve, then what is
// missing, then what is left over.
func (c *comparer) line(was, is assembly.PartLine) []Row {
	r := c.judge(was.Part, is.Part)
	r.Kind, r.Name, r.New, r.Old = string(is.Part.Kind), is.Part.Name, is.Part.ID, was.Part.ID
	r.Quantity = min(was.Pieces, is.Pieces)
	var out []Row
	if r.Action == Make || r.Action == Buy {
		r.Quantity = is.Pieces
		return []Row{r, spare(was, was.Pieces)}
	}
	out = append(out, r)
	if n := is.Pieces - was.Pieces; n > 0 {
		out = append(out, fresh(is, n, "more of them are needed"))
	}
	if n := was.Pieces - is.Pieces; n > 0 {
		out = append(out, spare(was, n))
	}
	return out
}

// judge says what becomes of one old part.
func (c *comparer) judge(was, is *parts.Part) Row {
	switch {
	case is.Make == parts.MakeBuy || is.Make == parts.MakeOwn:
		return c.bought(was, is)
	case was.Make != is.Make || was.Material != is.Material:
		return Row{Action: Make, Why: fmt.Sprintf("of %s instead of %s", is.Stock, was.Stock)}
	case is.Kind == parts.KindRod:
		return c.sawn(was, is, "the same rod")
	case is.Kind == parts.KindSleeve && is.Make == parts.MakeBar:
		return c.sawn(was, is, "the same tube")
	case is.Kind == parts.KindStiffener:
		return c.angle(was, is)
	case is.Flat != nil && was.Flat != nil:
		return c.flat(was, is)
	}
	return c.shaped(was, is)
}

// bought parts are kept when they are the same article of the same size.
func (c *comparer) bought(was, is *parts.Part) Row {
	if was.Stock != is.Stock || was.Material != is.Material {
		return Row{Action: Buy, Why: fmt.Sprintf("%s instead of %s", firstOf(is.Stock, is.Name), firstOf(was.Stock, was.Name))}
	}
	proof := sizes(was, is, 0)
	if is.Kind == parts.KindSpring {
		proof = proof[:0] // its height is the force's, not the part's
	}
	if is.Kind == parts.KindCell {
		if c.old.Cell.CaseLive && !c.now.Cell.CaseLive {
			return Row{Action: Buy, Why: "insulated cases instead of bare ones: wrap those there are, or buy others"}
		}
		proof = c.cellProof(was, is)
	}
	if ok, p := allHold(proof); !ok {
		return Row{Action: Buy, Why: c.differs(p)}
	}
	return Row{Action: Keep, Why: "the same article", Proof: proof}
}

// cellProof compares cells by the tolerance of their sizes.
func (c *comparer) cellProof(was, is *parts.Part) []Proof {
	a, b := &c.old.Cell, &c.now.Cell
	return []Proof{
		{"cell thickness", a.Thickness.MM(), b.Thickness.MM(), min(a.ThicknessTol, b.ThicknessTol).MM()},
		{"cell width", a.Width.MM(), b.Width.MM(), min(a.WidthTol, b.WidthTol).MM()},
		{"cell height", a.Height.MM(), b.Height.MM(), min(a.HeightTol, b.HeightTol).MM()},
	}
}

// sawn keeps a rod or tube within the saw's tolerance, and shortens a longer one.
func (c *comparer) sawn(was, is *parts.Part, same string) Row {
	if was.Stock != is.Stock {
		return Row{Action: Make, Why: fmt.Sprintf("%s instead of %s", is.Stock, was.Stock)}
	}
	p := Proof{"length", was.SizeMM[0], is.SizeMM[0], min(c.old.Tolerances.CutLength, c.now.Tolerances.CutLength).MM()}
	switch {
	case p.holds():
		return Row{Action: Keep, Why: same, Proof: []Proof{p}}
	case p.OldMM > p.NewMM:
		from, to := c.mm(p.OldMM), c.mm(p.NewMM)
		return Row{Action: Shorten, Why: fmt.Sprintf("saw off %s: %s to %s", c.mm(p.OldMM-p.NewMM), from, to)}
	}
	return Row{Action: Make, Why: c.mm(p.NewMM-p.OldMM) + " too short"}
}

// shaped are printed parts: kept when box and volume agree. Beyond that only rod
// caps have play, and guards can be sawn off.
func (c *comparer) shaped(was, is *parts.Part) Row {
	if was.Stock != is.Stock {
		return Row{Action: Make, Why: fmt.Sprintf("%s instead of %s", is.Stock, was.Stock)}
	}
	switch {
	case c.rodCaps(was, is):
		return c.rodCap(was, is)
	case is.Kind == parts.KindGuard && longerPrism(was, is):
		from, to := c.mm(was.SizeMM[2]), c.mm(is.SizeMM[2])
		return Row{Action: Shorten, Why: fmt.Sprintf("saw %s off one end: %s to %s", c.mm(was.SizeMM[2]-is.SizeMM[2]), from, to)}
	}
	proof := sizes(was, is, 0)
	if ok, p := allHold(proof); !ok {
		return Row{Action: Make, Why: c.differs(p)}
	}
	if a, b := was.Solid.Volume(), is.Solid.Volume(); math.Abs(a-b) > sameVolume*math.Max(a, b) {
		return Row{Action: Make, Why: "another shape within the same box"}
	}
	return Row{Action: Keep, Why: "the same part", Proof: proof}
}

// sameVolume is the difference of two volumes that are one, as a share.
const sameVolume = 1e-9

// sizeWords are what the three sizes of a kind's box are called.
func sizeWords(k parts.Kind) [3]string {
	switch k {
	case parts.KindRod, parts.KindSleeve:
		return [3]string{"length", "diameter", "diameter"}
	case parts.KindWasher, parts.KindSpring:
		return [3]string{"diameter", "diameter", "thickness"}
	case parts.KindNut:
		return [3]string{"width across corners", "width across flats", "height"}
	case parts.KindGuard:
		return [3]string{"width", "depth", "length"}
	}
	return [3]string{"length", "width", "height"}
}

// sizes compares the boxes of two parts.
func sizes(was, is *parts.Part, allow float64) []Proof {
	var out []Proof
	for k, what := range sizeWords(is.Kind) {
		if was.SizeMM[k] != 0 || is.SizeMM[k] != 0 {
			out = append(out, Proof{what, was.SizeMM[k], is.SizeMM[k], allow})
		}
	}
	return out
}

// differs words a proof that does not hold.
func (c *comparer) differs(p Proof) string {
	is, was := c.mm(p.NewMM), c.mm(p.OldMM)
	if p.AllowMM <= rounding {
		return fmt.Sprintf("%s %s instead of %s", p.What, is, was)
	}
	return fmt.Sprintf("%s %s instead of %s, more than the %s that its fit allows", p.What, is, was, c.mm(p.AllowMM))
}

func firstOf(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
