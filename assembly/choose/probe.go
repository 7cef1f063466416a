package choose

import (
	"slices"

	"clampwright/assembly/check"
)

// firstProbe is after how many candidates that press well but fail checks the
// search asks whether any choice can pass them; it asks again whenever that number
// has doubled.
const firstProbe = 12

// probeSample is how many candidates, spread over all that are left, a probe
// looks at.
const probeSample = 32

// blocked looks for a check that every candidate fails whatever is chosen, such
// as rods that the file itself puts too near the cells: one that all that passed
// the mechanics so far have failed, and that a sample of all kinds left fails too. It
// returns that check's id, or "". Without it a search in which nothing can pass
// would solve every candidate in full.
func (s *search) blocked(left []*candidate) (string, error) {
	common := s.commonFails()
	if len(common) == 0 {
		return "", nil
	}
	list := spread(left, probeSample)
	fails := make([][]Bound, len(list))
	if err := s.quiet(len(list), func(k int) error {
		f, diags := s.settle(list[k].index)
		if f == nil {
			return diags
		}
		_, bounds, err := checks(f, check.Judge)
		fails[k] = bounds
		return err
	}); err != nil {
		return "", err
	}
	for _, bounds := range fails {
		common = slices.DeleteFunc(common, func(id string) bool { return !names(bounds, id) })
	}
	s.probed += len(list)
	if len(common) == 0 {
		return "", nil
	}
	return common[0], nil
}

// commonFails are the checks that all candidates which pass the mechanics fail.
func (s *search) commonFails() []string {
	var common []string
	first := true
	for i := range s.all {
		v := s.solved[i]
		if v == nil || !v.checks {
			continue
		}
		if first {
			for _, b := range v.missed {
				common = append(common, b.Name)
			}
			first = false
		}
		common = slices.DeleteFunc(common, func(id string) bool { return !names(v.missed, id) })
	}
	return common
}

// checked counts the candidates that pass the mechanics and fail checks.
func (s *search) checked() int {
	n := 0
	for _, v := range s.solved {
		if v.checks {
			n++
		}
	}
	return n
}

// fullySolved counts the candidates solved on the full grid.
func (s *search) fullySolved() int {
	n := 0
	for _, v := range s.solved {
		if !v.coarse {
			n++
		}
	}
	return n
}

func names(list []Bound, name string) bool {
	return slices.ContainsFunc(list, func(b Bound) bool { return b.Name == name })
}

// spread takes n of a list, even over it.
func spread(list []*candidate, n int) []*candidate {
	if len(list) <= n {
		return list
	}
	out := make([]*candidate, n)
	for k := range out {
		out[k] = list[k*len(list)/n]
	}
	return out
}
