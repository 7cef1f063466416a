package tell

import (
	"fmt"
	"math"

	"clampwright/assembly/wiring"
	"clampwright/export/page"
	"clampwright/export/steps"
	"clampwright/params"
	"clampwright/params/number"
)

// Cautions are the usual ones, in our own words, and those this fixture adds.
func Cautions(f *params.Fixture) []page.Caution {
	out := []page.Caution{
		{Title: steps.Notice, Text: "This card certifies nothing. Follow the cell maker's data sheet first, then your local code. Have a licensed person do what that code reserves. " + NotChosen},
		{Title: steps.Danger, Text: fmt.Sprintf("Never open or slacken the clamp above storage charge, about %.0f %%. At full charge the cells push hardest.", 100*f.Clamp.StorageCharge)},
		{Title: steps.Danger, Text: "Stop at a cell that swells, leaks, gets hot or reads too high. Keep away, ventilate and isolate it. Do not open it."},
	}
	if v := f.Electrical.VoltageFull * float64(f.Electrical.Series); v > wiring.ShockV {
		out = append(out, page.Caution{Title: steps.Danger, Text: steps.Stands(v)})
	}
	out = append(out,
		page.Caution{Title: steps.Warning, Text: "Clamp the cells before the first full charge. Loose cells dome for good. Never squeeze a domed or swollen cell flat."},
		page.Caution{Title: steps.Warning, Text: shortText(f)},
		page.Caution{Title: steps.Warning, Text: "Keep the vents free. Put no load on lids, terminals or lid welds."})
	if f.Cell.Compression != params.CompressNone {
		out = append(out, page.Caution{Title: steps.Warning, Text: storesEnergy(f) + " Wear eye protection, and stand to the side of the rods."})
	}
	if g := f.Cell.Mass.Grams() * float64(f.Pack.Cells); g > 20_000 {
		out = append(out, page.Caution{Title: steps.Careful, Text: fmt.Sprintf("The cells alone weigh %s. Assemble where the pack will stay, or plan how to lift it.", f.Style.Mass(g))})
	}
	return out
}

func storesEnergy(f *params.Fixture) string {
	if f.Spring != nil {
		return "Squeezed springs and stretched rods store energy."
	}
	return "Squeezed cells and stretched rods store energy."
}

// shortText gives the short-circuit scale: the voltage of one full cell over its
// resistance, as the wiring has it.
func shortText(f *params.Fixture) string {
	amps := f.Electrical.VoltageFull / (f.Cell.ResistanceMOhm / 1000)
	return fmt.Sprintf("One cell can drive about %s A into a short. Take off rings and watches.", number.Trim(math.Round(amps/100)*100, 0))
}
