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
		{Title: "The data sheet comes first", Text: "This sheet certifies nothing. Follow the cell maker's data sheet, then your local code, and have a licensed person do what that code reserves for one."},
		{Title: "Clamp before the first full charge", Text: "Loose cells dome late in charge and never come back. Do not charge loose cells to full, and do not squeeze domed ones flat."},
		{Title: "Never open the clamp at full charge", Text: fmt.Sprintf("Slacken or open it only at storage charge, about %.0f %%. At full charge the cells push hardest.", 100*f.Clamp.StorageCharge)},
		{Title: "Everything metal can short a cell", Text: shortText(f)},
		{Title: "Keep vents free", Text: "Nothing over or against a vent, no load on lids, terminals or lid welds: press the large faces only."},
		{Title: "A swollen, leaking, hot or over-voltage cell", Text: "Stop, keep away, ventilate, isolate it. Do not press it flat, do not open it."},
	}
	if f.Cell.Compression != params.CompressNone {
		out = append(out, page.Caution{Title: storesEnergy(f), Text: "Wear eye protection, stand to the side of the rods, turn the nuts by small equal steps crosswise."})
	}
	if m := f.Cell.Mass.Grams() * float64(f.Pack.Cells) / 1000; m > 20 {
		out = append(out, page.Caution{Title: "Heavy", Text: fmt.Sprintf("The cells alone are %.0f kg. Assemble where the pack will stay, or plan how two people or a hoist lift it.", m)})
	}
	if v := f.Electrical.VoltageFull * float64(f.Electrical.Series); v > wiring.ShockV {
		out = append(out, page.Caution{Title: "Electric shock and arc", Text: steps.Shock(v)})
	}
	out = append(out, page.Caution{Title: "Fuse and disconnect", Text: NotChosen + " The quantities stand in checks.html, under the wiring."})
	if f.Cell.CaseLive {
		out = append(out, page.Caution{Title: "Bare cases are live", Text: "A bare aluminium case may stand at a cell potential. Put an insulating sheet between cells and between cells and anything of metal."})
	}
	return out
}

func storesEnergy(f *params.Fixture) string {
	if f.Spring != nil {
		return "Squeezed springs and stretched rods store energy"
	}
	return "Squeezed cells and stretched rods store energy"
}

// shortText gives the short-circuit scale: the voltage of one full cell over its
// resistance, as the wiring reckons it.
func shortText(f *params.Fixture) string {
	amps := f.Electrical.VoltageFull / (f.Cell.ResistanceMOhm / 1000)
	return fmt.Sprintf("One cell can drive about %s A into a short for a moment. Tape or cap tools to one bare end, take off rings and watches, cap the rod ends, cover the terminals you are not working on.", number.Trim(math.Round(amps/100)*100, 0))
}
