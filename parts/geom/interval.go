package geom

import (
	"cmp"
	"slices"
)

// interval is an open range.
type interval struct{ lo, hi float64 }

// merge sorts intervals and joins those that overlap by more than rounding.
func merge(is []interval) []interval {
	slices.SortFunc(is, func(a, b interval) int {
		return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi))
	})
	out := is[:0]
	for _, i := range is {
		if n := len(out); n > 0 && i.lo < out[n-1].hi-crossing {
			out[n-1].hi = max(out[n-1].hi, i.hi)
		} else {
			out = append(out, i)
		}
	}
	return out
}

// exitAt returns the least t' >= t that lies in no interval.
func exitAt(is []interval, t float64) float64 {
	for _, i := range is {
		if i.lo < t+crossing && t < i.hi {
			t = i.hi
		}
	}
	return t
}

// scaled returns the intervals times k, in ascending order.
func scaled(is []interval, k float64) []interval {
	out := make([]interval, len(is))
	for i, v := range is {
		if k > 0 {
			out[i] = interval{v.lo * k, v.hi * k}
		} else {
			out[len(is)-1-i] = interval{v.hi * k, v.lo * k}
		}
	}
	return out
}

// movesOnto returns the moves of the extents b along their axis at which they
// overlap the extents a.
func movesOnto(a, b []interval) []interval {
	var is []interval
	for _, p := range a {
		for _, q := range b {
			is = append(is, interval{p.lo - q.hi, p.hi - q.lo})
		}
	}
	return merge(is)
}
