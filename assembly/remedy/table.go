package remedy

import (
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/nest"
	"clampwright/assembly/sizing"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/number"
	"clampwright/params/unit"
	"clampwright/parts"
)

// ways lists the ways that may clear a finding, preferred first: those of its rule,
// then to leave out what the file gives of that and could be derived.
func (b *Search) ways(f finding.Finding) []way {
	out := b.byRule(f)
	if f.Group == finding.GroupClamp {
		out = b.pressing(f)
	}
	causes := slices.Clone(f.Params)
	for _, w := range out {
		for _, c := range w.at(1, 1) {
			causes = append(causes, c.Path)
		}
	}
	slices.Sort(causes)
	for _, path := range slices.Compact(causes) {
		if derivable(path) && b.Fixture.Gives(path) {
			out = append(out, b.derive(path))
		}
	}
	return slices.DeleteFunc(out, func(w way) bool {
		set := w.at(1, 1)
		return len(set) == 0 || slices.ContainsFunc(set, func(c params.Change) bool { return !changeable(c.Path) || b.fixed(c.Path) })
	})
}

// fixed says whether a key, or the block that it is in, is to stay as it is.
func (b *Search) fixed(path string) bool {
	block, _, _ := strings.Cut(path, ".")
	return slices.Contains(b.Fixed, path) || slices.Contains(b.Fixed, block)
}

// derive leaves a key out; where its block, such as that of the liners, would go with
// it, the block stays.
func (b *Search) derive(path string) way {
	words, out := "let the program derive "+path, params.Change{Path: path}
	block, _, _ := strings.Cut(path, ".")
	if f, err := b.Fixture.Set(out); err == nil && !f.Gives(block) && changeable(block) {
		out = params.Change{Path: block, Value: "{}"}
	}
	w := b.put(words, out)
	w.frees = path
	return w
}

// own are the blocks of the file that say what the clamp is made of, and the keys
// elsewhere that do; the length of the stack only to what was measured. Nothing else is
// ever changed: not what is known or not known of the cells, not what is asked for, not
// what the shop has and how it works. What listed lengths are may be named.
var own = []string{"plates", "stiffeners", "rods", "nuts", "washers", "springs", "liners", "separators", "sleeves",
	"pack.row_gap", "pack.stack", "electrical.link_width", "electrical.link_thickness", "printer.material"}

func changeable(path string) bool {
	if strings.HasPrefix(path, "stock.") {
		return strings.HasSuffix(path, ".item")
	}
	return slices.ContainsFunc(own, func(s string) bool { return path == s || strings.HasPrefix(path, s+".") })
}

// derivable says whether a parameter is a size of the clamp that is derived when it
// is left out: no fact, no wish, nothing that was asked for, and no stock.
func derivable(path string) bool {
	fixed := []string{"pack.stack", "plates.material", "plates.thickness", "stiffeners.angle", "rods.thread", "electrical.link_width", "electrical.link_thickness",
		"plates.feet", "plates.tie_slots", "plates.mark", "separators.thickness", "liners.thickness", "separators.material", "liners.material", "separators.pattern", "liners.pattern"}
	return strings.Contains(path, ".") && changeable(path) && !strings.HasPrefix(path, "stock.") && !slices.Contains(fixed, path)
}

// byRule are the ways for what is judged on the placed parts and the wiring.
func (b *Search) byRule(f finding.Finding) []way {
	x := b.Fixture
	p, rods := &x.Plate, &x.Rods
	switch f.ID {
	case "parts-apart":
		return b.apart(f)
	case "gap":
		if strings.Contains(f.Of, "angle") {
			if s := x.Stiffener; s.DrilledLeg-s.Section.Thickness-s.Section.Root-s.Section.Toe < x.Washer.Outer {
				return b.flat() // no hole line lays the washer flat
			}
			return slices.Concat(b.gauge(1, -1), b.flat())
		}
	case "rod-passes":
		return b.bore(f)
	case "metal-to-cell", "sleeve-to-cell":
		if f.Of == "hardware" {
			return b.thicker()
		}
		return append(b.rowsApart(), b.outward()...)
	case "plate-insulated":
		if x.Liner == nil || x.Liner.Material.Conducts {
			return []way{b.put("fit liners of insulating sheet", params.Change{Path: "liners", Value: "{material: fr4}"})}
		}
		return b.sheet("liners", x.Liner)
	case "cells-insulated":
		if f.Of == "rows" {
			return b.rowsApart()
		}
		if f.Need <= 0 { // too small
			return b.sheet("separators", x.Separator)
		}
		return []way{b.put("fit separators of insulating sheet", params.Change{Path: "separators", Value: "{material: fr4}"})}
	case "sleeve-free", "grip-bare":
		return []way{b.slide("shorten the sleeves", move{"sleeves.end_gap", x.Sleeve.EndGap, 0.5})}
	case "grip-room":
		clear := b.slide("keep the rods further from the cells", move{"rods.clearance", rods.Clearance, 1})
		return slices.Concat(b.outward(), []way{clear}, b.rowsApart(), b.levelsApart())
	case "nut-turns", "driver-to-metal", "driver-to-cell", "driver-to-terminal":
		return b.driver(f)
	case "metal-to-terminal":
		return b.fromTerminal()
	case "link-to-metal":
		return append(b.fromTerminal(), b.narrowerLinks())
	case "link-to-link", "link-to-terminal":
		return []way{b.narrowerLinks()}
	case "screw-to-cell", "opening-free":
		return b.openings()
	case "drill-access":
		return b.gauge(1)
	case "washer-flat":
		if f.Of == "leg end" {
			return []way{b.slide("make the angles longer", move{"stiffeners.length", x.Stiffener.Length, 2}), b.washers("standard")}
		}
		if f.Of == "leg edge" {
			return slices.Concat(b.gauge(-1), b.flat())
		}
		return slices.Concat(b.gauge(1), b.flat())
	case "spring-held":
		return []way{b.washers("large"), ownSprings(b)}
	case "spring-guided":
		return []way{ownSprings(b)}
	case "washer-bearing", "washer-covers":
		return []way{b.washers("large"), b.derive("rods.hole")}
	case "hole-edge":
		return b.edge(f)
	case "hole-ligament":
		return slices.Concat(b.levelsApart(), b.columnsApart(), b.feet(-1), b.feet(1))
	case "thread-protrusion", "nut-engaged", "nut-starts":
		return []way{b.slide("cut the rods longer", move{"rods.length", rods.Length, 2})}
	case "socket-depth":
		return []way{b.slide("cut the rods shorter", move{"rods.length", rods.Length, -2})}
	case "plate-covers":
		return []way{b.slide("lower the plate", move{"plates.bottom", p.Bottom, -1}), b.slide("raise the plate", move{"plates.bottom", p.Bottom, 1}),
			b.slide("make the plate higher", move{"plates.height", p.Height, 1}), b.widerPlate()}
	case "row-fits":
		return []way{b.widerPlate()}
	case "sheet-covers":
		return append(b.sheet("separators", x.Separator), b.sheet("liners", x.Liner)...)
	case "separator-registers":
		return []way{b.slide("raise the separators' lower edge", move{"separators.bottom", x.Separator.Bottom, 1}, move{"separators.height", x.Separator.Height, -1})}
	case "fits-sheet":
		if f.Of == string(parts.KindPlate) || strings.HasPrefix(f.Of, "plate-") { // or a sheet of it
			return slices.Concat(b.onSheet("make the plate lower", "plates.height", p.Height, f.Need), b.onSheet("make the plate narrower", "plates.width", p.Width, f.Need), b.offered("plates."))
		}
	case "fits-length":
		return append(b.offered("rods.thread"), b.offered("stiffeners")...)
	case "hole-for-cutter":
		out := b.cutter(f.Have - (f.Need - x.Tools.Cutter.MM()))
		if f.Of == "link" { // or drilled
			return out
		}
		out = append(out, b.slide("drill a larger hole", move{"rods.hole", rods.Hole, 1}))
		if p.Feet != nil {
			out = append(out, b.slide("make the holes of the feet larger", move{"plates.feet.hole", p.Feet.HoleDia, 1}))
		}
		return out
	case "drill-at-hand":
		return b.drill(f.Of, f.Need, 100)
	case "material-heat":
		return b.filament(f.Need)
	case "stack-as-measured":
		return []way{b.put("build for the row as measured", params.Change{Path: "pack.stack", Value: number.Trim(f.Have, 2) + " mm"})}
	case "wiring-planned":
		var out []way
		for _, path := range f.Params {
			if x.Gives(path) {
				out = append(out, b.derive(path))
			}
		}
		return out
	case "link-temperature", "link-ampacity", "link-drop":
		return append(b.grow("take thicker link bars", "electrical.link_thickness", x.Electrical.LinkThickness), b.grow("take wider link bars", "electrical.link_width", x.Electrical.LinkWidth)...)
	}
	return nil
}

func ownSprings(b *Search) way {
	return b.put("let the program choose the springs", params.Change{Path: "springs", Value: "{}"})
}

// pressing are the ways for what the mechanics judge: springs, other heights, other
// plates, angles and rods; and what the file gives of the springs left out.
func (b *Search) pressing(f finding.Finding) []way {
	if f.ID == clamp.SetForce || f.ID == clamp.InDoubt {
		return nil // by hand, at the clamp
	}
	var out []way
	const words = "fit springs that keep the force as the cells grow"
	if b.Fixture.Spring == nil || b.Fixture.Gives("springs.disc") || b.Fixture.Gives("springs.coil") || b.Fixture.Gives("springs.series") {
		out = append(out, b.put(words, params.Change{Path: "springs", Value: "{}"}))
	}
	if f.ID == clamp.Share {
		if _, ok := b.Fixture.Tables.WasherFor(b.Fixture.Rods.Thread.Name, "large"); ok && b.Fixture.Washer.Series != "large" {
			out = append(out, b.put(words, append([]params.Change{{Path: "springs", Value: "{}"}}, b.washers("large").at(0, 1)...)...)) // wider ones rest on them
		}
		return out
	}
	if f.ID == "clamp-seat-stress" {
		out = append(out, b.washers("large"))
	}
	for _, name := range []string{"separators", "liners"} {
		if pattern := name + ".pattern"; b.Fixture.Gives(pattern) {
			out = append(out, b.put("cut full sheets", params.Change{Path: pattern, Value: "sheet"}))
		}
	}
	if columns := "rods.middle_column"; b.Fixture.Pack.Rows > 1 && b.Fixture.Gives(columns) {
		out = append(out, b.put("fit rods between the rows too", params.Change{Path: columns}))
	}
	return slices.Concat(out, b.offered(""), b.turned())
}

// offered are the steps to what the stock and the tables offer instead that change
// something below a path.
func (b *Search) offered(path string) (out []way) {
	for _, s := range sizing.Offer(b.Fixture.File(), b.Fixture, false).Steps(b.Fixture) {
		if slices.ContainsFunc(s.Set, func(c params.Change) bool { return strings.HasPrefix(c.Path, path) }) {
			out = append(out, b.put(s.Words, s.Set...))
		}
	}
	return out
}

// turned offers the angles with their standing legs another way.
func (b *Search) turned() (out []way) {
	for _, way := range []string{"inward", "outward"} {
		if b.Fixture.Stiffener != nil {
			out = append(out, b.put("turn the standing legs "+way, params.Change{Path: "stiffeners.standing_leg", Value: way}, params.Change{Path: "stiffeners.gauge"}))
		}
	}
	return out
}

// apart offers, by the kinds of parts that foul, what moves them apart.
func (b *Search) apart(f finding.Finding) []way {
	kinds := strings.Split(f.Of, " - ")
	is := func(gs ...assembly.Role) bool {
		return slices.ContainsFunc(gs, func(g assembly.Role) bool { return slices.Contains(kinds, string(g)) })
	}
	var out []way
	if s := b.Fixture.Sleeve; is(assembly.RoleSleeve) && is(assembly.RolePlate) {
		out = append(out, b.slide("shorten the sleeves", move{"sleeves.end_gap", s.EndGap, 1}))
	}
	if is(assembly.RoleSeparator) {
		out = append(out, b.narrower("separators", b.Fixture.Separator)...)
	}
	if is(assembly.RoleLiner) {
		out = append(out, b.narrower("liners", b.Fixture.Liner)...)
	}
	if is(assembly.RoleCell, assembly.RoleSeparator, assembly.RoleLiner, assembly.RoleTerminal, assembly.RoleVent) {
		out = slices.Concat(out, b.outward(), []way{b.lowerTop()}, b.rowsApart())
	}
	if is(assembly.RoleSpring) && is(assembly.RoleStiffener) {
		out = append(out, b.offered("stiffeners")...)
	}
	if is(assembly.RoleLink) {
		out = append(out, b.narrowerLinks())
	}
	out = slices.Concat(out, b.levelsApart(), b.columnsApart())
	if is(assembly.RoleStiffener) {
		out = append(out, b.gauge(1, -1)...)
	}
	return out
}

// flat offers washers that lie flat on the angle.
func (b *Search) flat() []way { return append([]way{b.washers("standard")}, b.widerAngles()...) }

// maxOverdrill is how much larger than needed a drill of the set may be and still be
// offered, mm: a thirty-second of an inch.
const maxOverdrill = 0.8

// bore offers a larger hole: the next drill of the set, else any.
func (b *Search) bore(f finding.Finding) []way {
	if s := b.Fixture.Sleeve; f.Of == "rod in sleeve" {
		return []way{b.slide("give the sleeves more play", move{"sleeves.fit", (s.Inner - b.Fixture.Rods.Thread.Major) / 2, 1})}
	}
	hole := b.Fixture.Rods.Hole
	need := hole.MM() - 2*f.Margin()
	return append(b.drill("rods.hole", need, need+maxOverdrill), b.slide("drill a larger hole", move{"rods.hole", hole, 2}))
}

func (b *Search) driver(f finding.Finding) []way {
	out := slices.Concat(b.gauge(1), []way{b.lowerTop()}, b.levelsApart(), b.columnsApart())
	if f.ID == "driver-to-cell" {
		out = append(out, b.thicker()...)
	}
	return slices.Concat(out, b.widerAngles(), b.turned())
}

func (b *Search) thicker() []way {
	return []way{b.slide("use thicker plates", move{"plates.thickness", b.Fixture.Plate.Thickness, 1})}
}

func (b *Search) widerPlate() way {
	return b.slide("make the plate wider", move{"plates.width", b.Fixture.Plate.Width, 2})
}

func (b *Search) fromTerminal() []way {
	lower := b.slide("make the plates lower", move{"plates.height", b.Fixture.Plate.Height, -1})
	return slices.Concat(b.outward(), []way{b.lowerTop(), lower}, b.thicker())
}

func (b *Search) narrowerLinks() way {
	return b.slide("make the link bars narrower", move{"electrical.link_width", b.Fixture.Electrical.LinkWidth, -2})
}

func (b *Search) edge(f finding.Finding) []way {
	p := b.Fixture.Plate
	if s := b.Fixture.Stiffener; s != nil && f.Of != string(parts.KindPlate) {
		return slices.Concat([]way{b.slide("make the angles longer", move{"stiffeners.length", s.Length, 2})}, b.gauge(-1), b.widerAngles())
	}
	out := []way{b.widerPlate(), b.slide("make the plate higher", move{"plates.height", p.Height, 1}), b.slide("lower the plate", move{"plates.bottom", p.Bottom, -1})}
	return append(out, b.feet(1)...)
}

// onSheet makes a plate so small one way that one, two or more, up to pieces, fit
// along a side of a sheet that is listed: the largest size that serves, and no less
// than half.
func (b *Search) onSheet(words, path string, now unit.Length, pieces float64) (out []way) {
	p, job := &b.Fixture.Plate, nest.SheetJobOf(b.Fixture)
	_, fine := steps(b.Fixture.Style)
	var sizes []float64
	for _, s := range job.Sheets {
		for n := 1.0; n <= pieces && s.Takes(p.Material.Name, p.Sheet()); n++ {
			sizes = append(sizes, job.Room(s.Width.MM(), n), job.Room(s.Height.MM(), n))
		}
	}
	slices.Sort(sizes)
	for _, size := range slices.Backward(slices.Compact(sizes)) {
		if size < now.MM() && size >= now.MM()/2 {
			out = append(out, b.put(words, params.Change{Path: path, Value: b.text(away(now, size-now.MM(), fine))}))
		}
	}
	return out
}

// openings moves the holes of the feet out from behind the cells.
func (b *Search) openings() []way {
	return append(append(b.feet(-1), b.feet(1)...), b.widerPlate())
}

// cutter offers the widest cutter that is sold up to a width, mm.
func (b *Search) cutter(most float64) []way {
	c, ok := catalog.CutterUpTo(unit.Length(most), b.Fixture.Style.Unit == unit.Inch)
	if !ok || c >= b.Fixture.Tools.Cutter {
		return nil
	}
	return []way{b.put("use a thinner cutter", params.Change{Path: "tools.cutter", Value: b.text(c)})}
}

// feet moves the holes of the feet in or out.
func (b *Search) feet(times float64) []way {
	feet := b.Fixture.Plate.Feet
	if feet == nil {
		return nil
	}
	return []way{b.slide("move the holes of the feet", move{"plates.feet.inset", feet.Inset, times})}
}
