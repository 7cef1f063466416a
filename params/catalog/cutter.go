package catalog

import "clampwright/params/unit"

// CutterUpTo is the widest router cutter as they are sold that is no wider than most;
// none when there is none. Common practice, no source.
func CutterUpTo(most unit.Length, inch bool) (widest unit.Length, ok bool) {
	sizes := []unit.Length{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12}
	if inch {
		sizes = nil
		for _, n := range []unit.Length{2, 3, 4, 6, 8, 10, 12, 16} { // thirty-seconds
			sizes = append(sizes, n*unit.MMPerInch/32)
		}
	}
	for _, s := range sizes {
		if s <= most+1e-9 {
			widest, ok = s, true
		}
	}
	return widest, ok
}
