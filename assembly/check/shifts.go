package check

import (
	"fmt"
	"strings"

	"clampwright/assembly/finding"
	"clampwright/params/unit"
)

// spreadLevels offers to move neighbouring rod levels apart: the upper ones up,
// or the lower ones down.
func spreadLevels(b *bench) []change {
	at := b.fixture.Rods.Levels
	var all []change
	for cut := 1; cut < len(at); cut++ {
		up, down := make([]float64, len(at)), make([]float64, len(at))
		for i := range at {
			if i >= cut {
				up[i] = 1
			} else {
				down[i] = -1
			}
		}
		all = append(all, shift(b, "rods.levels", at, up, "upper rod levels up"), shift(b, "rods.levels", at, down, "lower rod levels down"))
	}
	return all
}

// spreadColumns offers to move all rod columns apart by the same amount, the
// middle staying where it is, so that symmetric columns stay symmetric.
func spreadColumns(b *bench) []change {
	at := b.fixture.Rods.Columns
	if len(at) < 2 {
		return nil
	}
	way := make([]float64, len(at))
	for i := range at {
		way[i] = float64(i) - float64(len(at)-1)/2
	}
	return []change{shift(b, "rods.columns", at, way, "rod columns apart")}
}

// outward offers to move the outer rod columns away from the cells.
func outward(b *bench) change {
	at := b.fixture.Rods.Columns
	way := make([]float64, len(at))
	for i, x := range at {
		switch {
		case i == 0 && x < 0:
			way[i] = -1
		case i == len(at)-1 && x > 0:
			way[i] = 1
		}
	}
	return shift(b, "rods.columns", at, way, "outer rod columns outward")
}

// shift is the change of several entries of a list, entry i by way[i] delta.
func shift(b *bench, path string, at []unit.Length, way []float64, noun string) change {
	return change{
		at: func(d float64) []finding.Setting {
			var set []finding.Setting
			for i, w := range way {
				if w != 0 {
					set = append(set, b.setting(fmt.Sprintf("%s[%d]", path, i), at[i].MM(), w*d))
				}
			}
			return set
		},
		text: func(d float64, set []finding.Setting) string {
			return fmt.Sprintf("move the %s by %s: set %s to [%s]", noun, b.up(d), path, listed(b, at, set, path))
		},
		max: 500,
	}
}

// listed writes the whole list after the settings.
func listed(b *bench, at []unit.Length, set []finding.Setting, path string) string {
	words := make([]string, len(at))
	for i, x := range at {
		words[i] = b.length(x.MM())
		for _, s := range set {
			if s.Param == fmt.Sprintf("%s[%d]", path, i) {
				words[i] = b.length(s.Value)
			}
		}
	}
	return strings.Join(words, ", ")
}
