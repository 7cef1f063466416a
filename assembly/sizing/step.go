package sizing

import (
	"slices"
	"strings"

	"clampwright/params"
)

// Step is a fixture built of something else in one respect: that in words, and the
// changes of the file.
type Step struct {
	Words string
	Set   []params.Change
}

// Steps are the steps from a fixture to what the catalogue offers, the fixture's own
// choice left out. Listed lengths that are another's from then on are named.
func (c *Catalogue) Steps(f *params.Fixture) []Step {
	in := f.File()
	angle, thread := "", f.Rods.Thread.Name
	if f.Stiffener != nil {
		angle = f.Stiffener.Section.Name
	}
	var out []Step
	add := func(words string, tie []params.Change, say func(*params.File, *edits)) {
		e := &edits{list: tie}
		say(in, e)
		e.list = slices.DeleteFunc(e.list, func(c params.Change) bool { return c.Value == "" && !f.Gives(c.Path) })
		for i := range e.list {
			e.list[i].Why = ""
		}
		out = append(out, Step{words, e.list})
	}
	for _, at := range c.Levels[1:] {
		words := "move the rods and their angles to other heights"
		if len(at) > len(f.Rods.Levels) {
			words = "press at more heights"
		}
		add(words, nil, Choice{Levels: at}.levels)
	}
	for _, p := range c.Plates[1:] {
		words := "make the plates of another sheet"
		switch {
		case p.Sheets > 0:
			words = "join the plates of sheets of another thickness"
		case f.Plate.Laminate != nil:
			words = "make the plates of one piece"
		case p.Material == f.Plate.Material.Name:
			words = "make the plates of a sheet of another thickness"
		}
		add(words, nil, Choice{Plate: p}.plate)
	}
	for _, a := range c.Angles {
		words := "take other angles"
		if a == "" {
			words = "do without angles"
		}
		if a != angle {
			add(words, in.TieStock(angle, ""), Choice{Angle: a}.stiffeners)
		}
	}
	for _, t := range c.Threads {
		if !strings.EqualFold(t, thread) {
			add("take rods of another thread", in.TieStock("", thread), Choice{Thread: t}.thread)
		}
	}
	for _, s := range c.Springs {
		if !s.None() {
			add("fit "+s.String(), nil, Choice{Spring: s}.springs)
		}
	}
	return out
}
