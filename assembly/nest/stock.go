package nest

import "clampwright/params"

// SheetsOf are the sheets of a parameter file. Offcuts always lie in the shop,
// one when no quantity is given.
func SheetsOf(stock params.Stock) []Sheet {
	var out []Sheet
	for _, s := range stock.Sheets {
		sheet := Sheet{
			ID: s.ID, Material: s.Material, ThicknessMM: float64(s.Thickness),
			WidthMM: float64(s.Width), HeightMM: float64(s.Height),
			Quantity: s.Quantity, GrainAlongX: s.GrainAlongX, Price: s.Price,
		}
		if s.Offcut {
			sheet.Quantity = max(1, s.Quantity)
		}
		out = append(out, sheet)
	}
	return out
}
