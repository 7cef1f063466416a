package export

import (
	"bytes"
	"context"
	"encoding/csv"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/export/lists"
	"clampwright/export/tell"
	"clampwright/params"
)

// eightWith computes the plywood example with its stock and some lines changed.
func eightWith(t *testing.T, stock string, change ...string) *Job {
	t.Helper()
	text, err := os.ReadFile("../examples/eight-cell-plywood.yaml")
	if err != nil {
		t.Fatal(err)
	}
	before, after, _ := strings.Cut(string(text), "stock:\n")
	_, after, _ = strings.Cut(after, "\n\n")
	all := strings.NewReplacer(change...).Replace(before) + "stock: {" + stock + "}\n" + strings.NewReplacer(change...).Replace(after)
	f, diags := params.Load("../examples/stock.yaml", []byte(all))
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	j, err := compute(context.Background(), f, noStep)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// Verdict, cut list, report, page and files of the sheets say the same of what the
// stock is enough for.
func TestStockIsToldAlike(t *testing.T) {
	const plate = "{material: birch plywood, thickness: 18, width: 250, height: 220, "
	for name, c := range map[string]struct {
		stock   string
		change  []string
		missing map[string]int // pieces without stock, by part
		sheets  []string       // thicknesses of the sheets used
	}{
		"nothing listed":              {stock: "", sheets: []string{"0.5", "18"}},
		"17.7 mm from 18 mm":          {stock: "sheets: [" + plate + "quantity: 2}]", change: []string{"thickness: 18", "thickness: 17.7"}, sheets: []string{"0.5", "18", "18"}},
		"17.3 mm not from 18 mm":      {stock: "sheets: [" + plate + "quantity: 2}]", change: []string{"thickness: 18", "thickness: 17.3"}, sheets: []string{"0.5", "17.3"}},
		"one offcut, two plates":      {stock: "sheets: [" + plate + "offcut: true}]", missing: map[string]int{"end-plate": 1}, sheets: []string{"0.5", "18"}},
		"two offcuts, two plates":     {stock: "sheets: [" + plate + "offcut: true, quantity: 2}]", sheets: []string{"0.5", "18", "18"}},
		"one offcut and one to buy":   {stock: "sheets: [" + plate + "offcut: true}, " + plate + "price: 5}]", sheets: []string{"0.5", "18", "18"}},
		"too small":                   {stock: "sheets: [{material: birch plywood, thickness: 18, width: 250, height: 190}]", missing: map[string]int{"end-plate": 2}, sheets: []string{"0.5"}},
		"0.5 mm not from 1 mm":        {stock: "sheets: [{material: fr4, thickness: 1, width: 1000, height: 1000}]", sheets: []string{"0.5", "18"}},
		"two thicknesses, one listed": {stock: "sheets: [{material: fr4, thickness: 1, width: 1000, height: 1000}]", change: []string{"separators:", "liners: {material: fr4, thickness: 1}\nseparators:"}, sheets: []string{"0.5", "1", "18"}},
		"two thicknesses, few listed": {stock: "sheets: [{material: fr4, thickness: 1, width: 200, height: 220, quantity: 1}]", change: []string{"separators:", "liners: {material: fr4, thickness: 1}\nseparators:"}, missing: map[string]int{"liner": 1}, sheets: []string{"0.5", "1", "18"}},
		"one rod length, four rods":   {stock: "rods: [{length: 1.2 m, quantity: 1}]", missing: map[string]int{"rod": 2}, sheets: []string{"0.5", "18"}},
		"two rod lengths, four rods":  {stock: "rods: [{length: 1.2 m, quantity: 2}]", sheets: []string{"0.5", "18"}},
		"rods of another thread":      {stock: "rods: [{item: M6, length: 2 m}]", sheets: []string{"0.5", "18"}},
		"angle too short":             {stock: "angles: [{length: 150}]", missing: map[string]int{"stiffener": 4}, sheets: []string{"0.5", "18"}},
		"one piece of bar":            {stock: "bars: [{item: copper bar 20 x 2 mm, length: 200, quantity: 1}]", change: []string{"series: 8", "series: 8\n  link_form: bar"}, missing: map[string]int{"link-k1": 5}, sheets: []string{"0.5", "18"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			j := eightWith(t, c.stock, c.change...)
			short := map[string]int{}
			for _, f := range j.Findings {
				if n := int(f.Need - f.Have); strings.HasPrefix(string(f.ID), "fits-") && f.Unit == "pieces" && n != 0 {
					short[f.Between[0]] = n
					if f.Verdict != finding.Fail || tell.Advice(f) == "" {
						t.Errorf("%+v", f)
					}
				}
			}
			listed := map[string]int{}
			var list bytes.Buffer
			if err := lists.Cuts(&list, j.Job); err != nil {
				t.Fatal(err)
			}
			rows, err := csv.NewReader(&list).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range rows {
				if r[7] == "" {
					listed[r[1]], _ = strconv.Atoi(r[2])
				}
			}
			var sheets []string
			for _, l := range j.Nest.Sheets.Layouts {
				sheets = append(sheets, strconv.FormatFloat(l.Sheet.Thickness.MM(), 'f', -1, 64))
			}
			slices.Sort(sheets)
			unplaced := tell.Unplaced(j.Job)
			for part, n := range c.missing {
				if short[part] != n || listed[part] != n || !strings.Contains(unplaced, strconv.Itoa(n)+" of "+part) {
					t.Errorf("%s: the check misses %d, cuts.csv %d, want %d; %q", part, short[part], listed[part], n, unplaced)
				}
			}
			if len(short) != len(c.missing) || len(listed) != len(c.missing) || (unplaced != "") != (len(c.missing) > 0) {
				t.Errorf("missing by the check %v, in cuts.csv %v, want %v; %q", short, listed, c.missing, unplaced)
			}
			if !slices.Equal(sheets, c.sheets) {
				t.Errorf("sheets of %v mm are cut, want %v", sheets, c.sheets)
			}
			if bad := strings.HasPrefix(tell.Sentence(j.Job), "Do not build"); bad != (len(c.missing) > 0) {
				t.Error(tell.Sentence(j.Job))
			}
		})
	}
}
