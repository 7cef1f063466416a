package assembly

import (
	"fmt"

	"clampwright/params"
	"clampwright/parts"
)

// sheetPart makes a separator or liner, of sheet or of a pad. A frame has a window; ribs are placed
// as the sheet that they fill, which is what is in the way of other parts.
func (a *factory) sheetPart(name, mark string, i *params.Insert, build func(parts.SheetSpec) (parts.Part, error)) (*parts.Part, error) {
	border := 0.0
	if i.Pattern == "frame" {
		border = i.Border.MM()
	}
	s := parts.SheetSpec{
		Label:    parts.Label{ID: name, Mark: mark, Stock: a.Fixture.Style.Say(fmt.Sprintf("%s sheet %s mm", i.Material.Name, i.Thickness.Decimal(2)))},
		Material: stuff(i.Material), WidthMM: i.Width.MM(), HeightMM: i.Height.MM(), ThicknessMM: i.Thickness.MM(), BorderMM: border,
	}
	if i.Soft() {
		s.PressedMM = a.Fixture.Pressed(i).MM()
	}
	return kept(build(s))
}

// sheetMiddle is the y of a sheet's middle, where its flat has its origin.
func sheetMiddle(i *params.Insert) float64 { return i.Bottom.MM() + i.Height.MM()/2 }
