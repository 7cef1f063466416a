// Package lists writes the parts list and the cut list as comma-separated values.
package lists

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"clampwright/assembly/job"
	"clampwright/assembly/nest"
	"clampwright/params/number"
	"clampwright/params/words"
)

// Parts writes parts.csv. The cost of a part that is cut is its share of the
// stock by length or area; price_each is given for bought pieces only. mass_total_g
// adds up to the whole: pieces that become part of another have none.
func Parts(w io.Writer, j *job.Job) error {
	rows := [][]string{{"mark", "part", "kind", "quantity", "material", "stock", "size", "size_x_mm", "size_y_mm", "size_z_mm", "mass_each_g", "mass_total_g", "price_each", "cost"}}
	for _, l := range j.Assembly.Bill() {
		p := l.Part
		row := []string{
			p.Mark, p.ID, string(p.Kind), strconv.Itoa(l.Pieces), p.Material, strings.Join(words.NonEmpty(p.Stock, l.Rule), ", "), j.Fixture.Style.Size(p.SizeMM),
			number.Length.Text(p.SizeMM[0]), number.Length.Text(p.SizeMM[1]), number.Length.Text(p.SizeMM[2]),
			number.Mass.Text(l.MassEachG()), number.Mass.Text(l.MassTotalG), "", "",
		}
		if l.MassEachG() == 0 { // not known
			row[10] = ""
		}
		if l.MassTotalG == 0 { // not known, or another row's
			row[11] = ""
		}
		if each, ok := j.Price(p); ok {
			row[12], row[13] = number.Money.Text(each), number.Money.Text(each*float64(l.Pieces))
		} else if v := j.Nest.Worth(p.ID); v > 0 {
			row[13] = number.Money.Text(v)
		}
		rows = append(rows, row)
	}
	return Encode(w, rows)
}

// Cuts writes cuts.csv: one row for every part and stock it is cut from.
func Cuts(w io.Writer, j *job.Job) error {
	rows := [][]string{{"mark", "part", "quantity", "cut", "cut_x_mm", "cut_y_mm", "material", "from", "stock_x_mm", "stock_y_mm", "buy"}}
	for _, c := range j.Nest.Cuts {
		row := func(count int, t nest.Taken) {
			rows = append(rows, []string{
				c.Part.Mark, c.Part.ID, strconv.Itoa(count), j.Fixture.Style.Size([3]float64{c.SizeMM[0], c.SizeMM[1]}),
				number.Length.Text(c.SizeMM[0]), number.Length.Text(c.SizeMM[1]), c.Part.Material,
				t.On(), number.Length.Text(t.StockMM[0]), number.Length.Text(t.StockMM[1]), strconv.FormatBool(t.Bought),
			})
		}
		for _, t := range c.Taken {
			row(t.Count, t)
		}
		if c.Missing > 0 {
			row(c.Missing, nest.Taken{})
		}
	}
	return Encode(w, rows)
}

// Encode writes rows so that no spreadsheet takes text for a formula.
func Encode(w io.Writer, rows [][]string) error {
	c := csv.NewWriter(w)
	for _, r := range rows {
		cells := make([]string, len(r))
		for i := range r {
			cells[i] = plainCell(r[i])
		}
		_ = c.Write(cells) // Error tells it too
	}
	c.Flush()
	return c.Error()
}

// plainCell keeps a spreadsheet from taking text for a formula. No figure of ours
// is negative.
func plainCell(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
