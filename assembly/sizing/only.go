package sizing

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/params"
	"clampwright/params/unit"
)

// Only is what the user narrows a search to; empty for all.
type Only struct {
	Thread, Material string // rows of the tables
	Heights          string // of the rods: "52 mm, 153 mm"
	Springs          bool   // no locked nuts
}

// Keep narrows a catalogue. What is asked for and not offered is refused, but for a
// thread that the tables have.
func (c *Catalogue) Keep(f *params.Fixture, o Only) error {
	if c.Plates = slices.DeleteFunc(c.Plates, func(p Plate) bool { return o.Material != "" && !strings.EqualFold(p.Material, o.Material) }); len(c.Plates) == 0 {
		return fmt.Errorf("no plates of %q are offered; 'clampwright list materials' prints the tables, the file's stock.sheets are offered too", o.Material)
	}
	if o.Thread != "" {
		t, ok := f.Tables.Thread(o.Thread)
		if !ok {
			return fmt.Errorf("no thread %q is in the tables; 'clampwright list threads' prints them", o.Thread)
		}
		c.Threads = []string{t.Name}
	}
	if o.Springs {
		c.Springs = slices.DeleteFunc(c.Springs, Spring.None)
	}
	if o.Heights == "" {
		return nil
	}
	var at []unit.Length
	for _, text := range strings.Split(o.Heights, ",") {
		y, err := unit.ParseLength(strings.TrimSpace(text), f.Style.Unit)
		if err != nil {
			return fmt.Errorf("heights %q: %w", o.Heights, err)
		}
		at = append(at, y)
	}
	slices.Sort(at)
	c.Levels = [][]unit.Length{at}
	return nil
}
