package check

import (
	"fmt"

	"clampwright/assembly"
	"clampwright/assembly/finding"
)

// leastInsulation is the thinnest sheet wanted between bare cases, mm: common
// practice is 0.3 to 1 mm of glass laminate, polypropylene or polyester.
const leastInsulation = 0.3

// measureCellsInsulated compares the insulation between neighbouring bare cases
// with the least wanted. Wrapped cells bring their own.
func measureCellsInsulated(b *bench) ([]finding.Finding, error) {
	f := b.fixture
	if !f.Cell.CaseLive || f.Pack.PerRow < 2 {
		return nil, nil
	}
	sheet := 0.0
	if s := f.Separator; s != nil && !s.Material.Conducts {
		sheet = s.Thickness.MM()
	}
	var t tally
	cells := b.nominal.Of(assembly.GroupCell)
	for i := 1; i < len(cells); i++ {
		if cells[i].Row != cells[i-1].Row {
			continue
		}
		p := atLeast(sheet, 0, leastInsulation)
		p.Between, p.At = []string{cells[i-1].ID, cells[i].ID}, spot(cells[i].Frame.O)
		t.add(p)
	}
	return t.finding("", "mm"), nil
}

func wordsCellsInsulated(*bench, finding.Finding) string {
	return fmt.Sprintf("put an insulating sheet of %g mm or more between the cells (separators), or say that they are wrapped (cell.case: insulated)", leastInsulation)
}
