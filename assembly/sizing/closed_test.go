package sizing

import (
	"slices"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/check"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/inputs"
	"clampwright/params"
	"clampwright/params/unit"
)

// A closed form turns nothing away that its full rule, of the same id, would let
// pass. Each form turns something away here.
func TestClosedFormsAreNoHarsher(t *testing.T) {
	file, _ := load(t, "eight-cell-plywood.yaml")
	file.Pack.Cells, file.Electrical.Series = give(2), give(2)
	cat := &Catalogue{
		Plates:  []Plate{{"birch plywood", 17.7, 0}, {"hdpe", 20, 0}},
		Angles:  []string{"", "15x15x2 mm aluminium", "20x20x2 mm aluminium", "30x30x3 mm aluminium"},
		Levels:  [][]unit.Length{{50, 150}},
		Threads: []string{"M5", "M8", "M12"},
		Springs: []Spring{{}, {Disc: "16x8.2x0.9", Parallel: 1, Series: 24}, {Disc: "25x12.2x1.5", Parallel: 1, Series: 8}, {Disc: "18x9.2x1", Parallel: 1, Series: 8}, {Coil: "5x26x56"}},
		Middle:  []bool{false},
	}
	seen := map[finding.ID]int{}
	for _, force := range []unit.Force{file.Cell.Force.V, 2 * file.Cell.Force.V, 20 * file.Cell.Force.V, 60 * file.Cell.Force.V} {
		changed := *file
		changed.Cell.Force = give(force)
		changed.Cell.ForceTolerance, changed.Cell.ForceLimit = give(force/10), give(2*force)
		s := newTestSearch(t, &changed, cat)
		for i := range cat.Size() {
			f, err := s.settle(i)
			if err != nil {
				continue
			}
			in := inputs.Clamp(f)
			for _, why := range []*finding.Finding{closed(f, &in), springGuide(f)} {
				if why == nil {
					continue
				}
				if seen[why.ID]++; seen[why.ID] <= eachClosed && !agrees(t, f, in, why) {
					t.Errorf("%s at %g N: %s", cat.at(i), float64(force), Words(params.Style{}, *why))
				}
			}
		}
	}
	for _, id := range []finding.ID{"washer-flat", "parts-apart", "spring-held", "spring-guided", "rod-passes", "clamp-rod-stress", "clamp-seat-stress", clamp.SpringRange} {
		if seen[id] == 0 {
			t.Errorf("%s turns nothing away", id)
		}
	}
}

// eachClosed is how many candidates a form is tried on.
const eachClosed = 6

// agrees says whether the full rule of the same id does not pass either, or the
// fixture can't be made at all.
func agrees(t *testing.T, f *params.Fixture, in clamp.Input, why *finding.Finding) bool {
	same := func(g finding.Finding) bool { return g.ID == why.ID && g.Verdict != finding.Pass }
	if why.Group == finding.GroupClamp {
		states, err := clamp.SolveStates(in, nil, nil)
		return err != nil || slices.ContainsFunc(states, func(s clamp.State) bool { return slices.ContainsFunc(s.Findings, same) })
	}
	a, err := assembly.Build(f)
	if err != nil {
		return true
	}
	found, err := check.Judge(a)
	if err != nil {
		t.Fatal(err)
	}
	return slices.ContainsFunc(found, same)
}

// give is a value as if it stood in the file.
func give[T any](v T) params.Given[T] { return params.Given[T]{V: v, Set: true} }
