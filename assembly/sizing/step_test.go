package sizing

import (
	"reflect"
	"strings"
	"testing"

	"clampwright/params"
)

// Every step changes one respect, settles, and keeps what listed lengths are.
func TestSteps(t *testing.T) {
	for _, name := range []string{"eight-cell-plywood.yaml", "four-cell-offcut.yaml", "sixteen-cell-two-rows.yaml"} {
		file, f := load(t, name)
		cat := Offer(file, f, false)
		steps := cat.Steps(f)
		settled := 0
		for _, s := range steps {
			blocks := map[string]bool{}
			for _, c := range s.Set {
				if block, _, _ := strings.Cut(c.Path, "."); block != "stock" {
					blocks[block] = true
				}
			}
			if len(s.Set) == 0 || blocks["tools"] || len(blocks) > 3 {
				t.Errorf("%s: %s: %v", name, s.Words, s.Set)
			}
			g, err := f.Set(s.Set...)
			if err != nil {
				continue // not every rod guides every disc
			}
			settled++
			for i, was := range f.Stock.Angles {
				if !was.Usual && g.Stock.Angles[i].Item != was.Item {
					t.Errorf("%s: %s: listed angle %d is %s now, was %s", name, s.Words, i, g.Stock.Angles[i].Item, was.Item)
				}
			}
			for i, was := range f.Stock.Rods {
				if !was.Usual && g.Stock.Rods[i].Item != was.Item {
					t.Errorf("%s: %s: listed rod %d is %s now, was %s", name, s.Words, i, g.Stock.Rods[i].Item, was.Item)
				}
			}
		}
		if settled < len(steps)/2 || len(steps) < 12 {
			t.Errorf("%s: %d of %d settle", name, settled, len(steps))
		}
	}
}

// The fixture's own choice is no step.
func TestStepsLeaveOwnOut(t *testing.T) {
	file, f := load(t, "four-cell-offcut.yaml")
	own := []params.Change{{Path: "stiffeners.angle", Value: params.Word(f.Stiffener.Section.Name)}}
	for _, s := range Offer(file, f, true).Steps(f) {
		if reflect.DeepEqual(s.Set, own) || strings.Contains(s.Words, "thread") {
			t.Errorf("%s: %v", s.Words, s.Set)
		}
	}
}
