package sizing

import (
	"slices"

	"clampwright/assembly/finding"
)

// firstProbe is after how many candidates that fail checks the search asks whether any choice can pass them; it asks again whenever that number
// has doubled.
const firstProbe = 12

// How many candidates, spread over all that are left, a probe looks at: by the
// light checks, and as a whole.
const (
	probeLight = 32
	probeWhole = 12
)

// blocked looks for a check that every candidate fails whatever is chosen, such
// as rods that the file itself puts too near the cells: one that all that got as
// far as this check have failed, and that a sample of all kinds left fails too. It
// returns that check's id, or "". Without it a search in which nothing can pass
// would look at every candidate.
func (s *search) blocked(left []*candidate) (finding.ID, error) {
	whole := func(i int) ([]finding.Finding, error) {
		fails, _, err := s.proof(i)
		return fails, err
	}
	for _, step := range []struct {
		sample int
		judge  func(i int) ([]finding.Finding, error)
		fails  func(*verdict) (fails, passes bool)
	}{
		{probeLight, s.light, func(v *verdict) (bool, bool) { return v.unfit, !v.unfit }},
		{probeWhole, whole, func(v *verdict) (bool, bool) { return v.checks, false }},
	} {
		common := s.commonFails(step.fails)
		if len(common) == 0 {
			continue
		}
		list := spread(left, step.sample)
		s.probed += len(list)
		fails := make([][]finding.Finding, len(list))
		if err := s.quiet(len(list), func(k int) (err error) {
			fails[k], err = step.judge(list[k].index)
			return err
		}); err != nil {
			return "", err
		}
		for _, bounds := range fails {
			common = slices.DeleteFunc(common, func(id finding.ID) bool { return !names(bounds, id) })
		}
		if len(common) > 0 {
			return common[0], nil
		}
	}
	return "", nil
}

// commonFails are the checks that all candidates fail which judged says failed at
// this step; none when one has passed it.
func (s *search) commonFails(judged func(*verdict) (fails, passes bool)) []finding.ID {
	var common []finding.ID
	first := true
	for i := range s.all {
		v := s.solved[i]
		if v == nil {
			continue
		}
		fails, passes := judged(v)
		if passes {
			return nil
		}
		if !fails {
			continue
		}
		if first {
			for _, b := range v.missed {
				common = append(common, b.ID)
			}
			first = false
		}
		common = slices.DeleteFunc(common, func(id finding.ID) bool { return !names(v.missed, id) })
	}
	return common
}

// checked counts the candidates that fail checks.
func (s *search) checked() int {
	n := 0
	for _, v := range s.solved {
		if v.checks || v.unfit {
			n++
		}
	}
	return n
}

// fullySolved counts the candidates solved on the full grid.
func (s *search) fullySolved() int {
	n := 0
	for _, v := range s.solved {
		if v.solved {
			n++
		}
	}
	return n
}

func names(list []finding.Finding, id finding.ID) bool {
	return slices.ContainsFunc(list, func(b finding.Finding) bool { return b.ID == id })
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
