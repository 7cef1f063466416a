package remedy

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
)

// way is one way to clear a finding: changes of the file that grow with by, mm,
// rounded to a step, mm.
type way struct {
	words string
	at    func(by, step float64) []params.Change
	fixed bool   // by does not matter: it is tried once
	frees string // the path that it leaves out of the file, where that is all it does
}

// steps are those that a shop measures in, and the finest that it can: mm.
func steps(s params.Style) (shop, fine float64) {
	if s.Unit == unit.Inch {
		return 25.4 / float64(max(s.Denominator, 1)), 25.4 / 64
	}
	return 0.5, 0.1
}

// away rounds now+by to a step, away from now, so that the change is never less
// than asked.
func away(now unit.Length, by, step float64) unit.Length {
	const nudge = 1e-9 // steps: a value on a step stays there
	x := (now.MM() + by) / step
	if by < 0 {
		return unit.Length(math.Floor(x+nudge) * step)
	}
	return unit.Length(math.Ceil(x-nudge) * step)
}

// move is one length that changes by so many times by.
type move struct {
	path  string
	now   unit.Length
	times float64
}

// slide changes lengths together.
func (b *Search) slide(words string, moves ...move) way {
	return way{words: words, at: func(by, step float64) []params.Change {
		var set []params.Change
		for _, m := range moves {
			set = append(set, params.Change{Path: m.path, Value: b.text(away(m.now, m.times*by, step))})
		}
		return set
	}}
}

// text writes a length as it is to stand in the file.
func (b *Search) text(l unit.Length) string { return params.LengthText(l, b.Fixture.Style.Unit) }

// shift moves places of a list, place i by times(i) times by.
func (b *Search) shift(words, path string, now []unit.Length, times func(i int) float64) way {
	return way{words: words, at: func(by, step float64) []params.Change {
		to := slices.Clone(now)
		for i := range to {
			if k := times(i); k != 0 {
				to[i] = away(now[i], k*by, step)
			}
		}
		return []params.Change{{Path: path, Value: b.list(to)}}
	}}
}

// places counts those of a list.
func places(list string) int { return strings.Count(list, ",") + 1 }

func (b *Search) list(places []unit.Length) string {
	var out []string
	for _, x := range places {
		out = append(out, b.text(x))
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// put gives parameters certain values, as they are to stand in the file, and takes
// out those without one.
func (b *Search) put(words string, set ...params.Change) way {
	set = slices.DeleteFunc(set, func(c params.Change) bool { return c.Value == "" && !b.Fixture.Gives(c.Path) })
	return way{words: words, fixed: true, at: func(float64, float64) []params.Change { return set }}
}

// grow offers a length in steps of a quarter, half and all of it more.
func (b *Search) grow(words, path string, now unit.Length) []way {
	shop, _ := steps(b.Fixture.Style)
	var out []way
	for _, share := range []float64{0.25, 0.5, 1} {
		out = append(out, b.put(words, params.Change{Path: path, Value: b.text(away(now, share*now.MM(), shop))}))
	}
	return out
}

// outward moves the outer rod columns away from the cells; where the file gives how wide
// the plates are, their sides with them too.
func (b *Search) outward() []way {
	at := b.Fixture.Rods.Columns
	alone := b.shift("move the outer rods outward", "rods.columns", at, func(i int) float64 {
		switch {
		case i == 0 && at[i] < 0:
			return -1
		case i == len(at)-1 && at[i] > 0:
			return 1
		}
		return 0
	})
	if !b.Fixture.Gives("plates.width") {
		return []way{alone}
	}
	wider := b.widerPlate()
	return []way{alone, {words: "move the outer rods and the plates' sides outward", at: func(by, step float64) []params.Change {
		return append(alone.at(by, step), wider.at(by, step)...)
	}}}
}

// apart moves all rod columns apart, the middle staying where it is; neighbouring
// rod levels, the upper ones up or the lower ones down; and two rows.
func (b *Search) columnsApart() []way {
	at := b.Fixture.Rods.Columns
	return []way{b.shift("move the rods apart across the cells", "rods.columns", at, func(i int) float64 { return float64(i) - float64(len(at)-1)/2 })}
}

func (b *Search) levelsApart() []way {
	at := b.Fixture.Rods.Levels
	var out []way
	for cut := 1; cut < len(at); cut++ {
		out = append(out, b.shift("move the upper rods up", "rods.levels", at, func(i int) float64 { return flag(i >= cut) }),
			b.shift("move the lower rods down", "rods.levels", at, func(i int) float64 { return -flag(i < cut) }))
	}
	return out
}

func (b *Search) rowsApart() []way {
	p := b.Fixture.Pack
	if p.Rows < 2 {
		return nil
	}
	return []way{b.slide("move the rows apart", move{"pack.row_gap", p.RowGap, 2})}
}

// lowerTop lowers the highest rods.
func (b *Search) lowerTop() way {
	at := b.Fixture.Rods.Levels
	return b.shift("move the highest rods down", "rods.levels", at, func(i int) float64 { return -flag(i == len(at)-1) })
}

func flag(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// gauge moves the hole line of the angles: away from the standing leg, or nearer.
func (b *Search) gauge(times ...float64) []way {
	s := b.Fixture.Stiffener
	if s == nil {
		return nil
	}
	var out []way
	for _, k := range times {
		words := "move the hole line away from the standing leg"
		if k < 0 {
			words = "move the hole line towards the standing leg"
		}
		out = append(out, b.slide(words, move{"stiffeners.gauge", s.Gauge, k}))
	}
	return out
}

// mostAngles is how many sections of angle are tried.
const mostAngles = 3

// widerAngles offers the next sections of the same material with a wider drilled
// leg, narrowest first, equal legs before others.
func (b *Search) widerAngles() []way {
	s := b.Fixture.Stiffener
	if s == nil {
		return nil
	}
	var out []way
	last := s.DrilledLeg
	for range mostAngles {
		name, leg := "", unit.Length(math.Inf(1))
		for _, a := range b.Fixture.Tables.Angles {
			drilled := min(a.LegA, a.LegB)
			if a.Material == s.Section.Material && a.Thickness >= s.Section.Thickness && drilled > last && drilled < leg && inchy(a.Name) == inchy(s.Section.Name) {
				name, leg = a.Name, drilled
			}
		}
		if name == "" {
			break
		}
		out, last = append(out, b.put("take wider angles", append(b.Fixture.File().TieStock(s.Section.Name, ""),
			params.Change{Path: "stiffeners.angle", Value: params.Word(name)}, params.Change{Path: "stiffeners.gauge"})...)), leg
	}
	return out
}

func inchy(section string) bool { return strings.Contains(section, " in ") }

// drill offers a hole of a drill of the set: the least that is at least so wide.
func (b *Search) drill(path string, least, most float64) []way {
	name, dia := "", unit.Length(most)
	for _, d := range b.Fixture.Tools.Drills {
		if d.Dia.MM() >= least-1e-9 && d.Dia < dia {
			name, dia = d.Name, d.Dia
		}
	}
	if name == "" {
		return nil
	}
	return []way{b.put("drill "+name, params.Change{Path: path, Value: b.text(dia)})}
}

// filament offers the plastics of the tables that printed parts stand a temperature of,
// C, with; the one that stands the least of it first.
func (b *Search) filament(celsius float64) []way {
	var may []catalog.Material
	for _, name := range b.Fixture.Tables.Names("materials") {
		m, ok := b.Fixture.Tables.Material(name)
		if ok && m.Family == "plastic" && m.StrengthAcross > 0 && float64(m.MaxService) >= celsius { // prints have a weaker way
			may = append(may, m)
		}
	}
	slices.SortStableFunc(may, func(x, y catalog.Material) int { return cmp.Compare(x.MaxService, y.MaxService) })
	var out []way
	for _, m := range may {
		out = append(out, b.put("print of "+m.Name, params.Change{Path: "printer.material", Value: m.Name}))
	}
	return out
}

// sheet offers to make separators or liners larger.
func (b *Search) sheet(name string, i *params.Insert) []way {
	if i == nil {
		return nil
	}
	wide, high, low := move{name + ".width", i.Width, 2}, move{name + ".height", i.Height, 1}, move{name + ".bottom", i.Bottom, -1}
	both := high
	both.times = 2
	return []way{b.slide("make the "+name+" wider", wide), b.slide("make the "+name+" higher", high),
		b.slide("lower the "+name, low), b.slide("make the "+name+" larger all round", wide, both, low)}
}

// narrower offers to make separators or liners smaller.
func (b *Search) narrower(name string, i *params.Insert) []way {
	if i == nil {
		return nil
	}
	return []way{b.slide("make the "+name+" narrower", move{name + ".width", i.Width, -2}), b.slide("make the "+name+" lower", move{name + ".height", i.Height, -1})}
}

// washers offers the other series.
func (b *Search) washers(series string) way {
	return b.put(fmt.Sprintf("take %s washers", series), params.Change{Path: "washers.series", Value: series}, params.Change{Path: "washers.name"})
}
