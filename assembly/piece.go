package assembly

import (
	"fmt"

	"clampwright/parts"
)

// PieceName names one of the pieces that a line counts: one disc, where the part
// is a stack of discs.
func (l PartLine) PieceName() string {
	if l.Part.Kind == parts.KindSpring && l.Pieces > l.Quantity {
		return fmt.Sprintf("disc spring, in stacks of %d", l.Pieces/max(1, l.Quantity))
	}
	return l.Part.Name
}

// Flats are the outlines of the distinct parts that have one, by the part's id.
func (a *Assembly) Flats() map[string]parts.Flat {
	flats := map[string]parts.Flat{}
	for _, p := range a.Parts {
		if p.Flat != nil {
			flats[p.ID] = *p.Flat
		}
	}
	return flats
}
