package main

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"clampwright/assembly/assure"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/diag"
	"clampwright/params/unit"
)

func listCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "list",
		Usage:     "print the built-in tables, each row with its source",
		ArgsUsage: "[TABLE]",
		Description: "Without a table: the tables and how many rows they have. Sources stand below a table.\n" +
			"Example: clampwright list --units in threads",
		Flags: []cli.Flag{&cli.StringFlag{Name: "units", Value: "mm", Usage: "mm or in: the units of the figures"}},
		Action: func(c *cli.Context) error {
			if c.NArg() > 1 {
				return &outcome{exitInput, "one table at a time"}
			}
			if c.NArg() == 0 {
				return listTables(ui)
			}
			u := params.Style{Unit: unit.LengthUnit(c.String("units"))}
			if u.Unit != unit.Inch && u.Unit != unit.Millimetre {
				return &outcome{exitInput, fmt.Sprintf("--units %q: mm or in", u.Unit)}
			}
			return listRows(ui, u, c.Args().First())
		},
		BashComplete: func(*cli.Context) {
			for _, t := range tableNames() {
				fmt.Fprintln(ui.out, t)
			}
		},
	}
}

// rangesTable lists what is assumed of what is not known.
const rangesTable = "ranges"

func tableNames() []string { return append(catalog.ListTables(), rangesTable) }

// tableRows are a table's head and rows.
func tableRows(name string) (head []string, rows [][]string, err error) {
	if name == rangesTable {
		return (&assure.Fixture{}).Table()
	}
	t := catalog.Builtin()
	return t.Rows(name)
}

func listTables(ui *console) error {
	var all [][]string
	for _, name := range tableNames() {
		_, rows, err := tableRows(name)
		if err != nil {
			return err
		}
		all = append(all, []string{name, fmt.Sprintf("%d rows", len(rows))})
	}
	ui.table([]string{"table", ""}, all)
	return nil
}

// listRows prints a table, its last column, the sources, as numbers of what stands below.
func listRows(ui *console, s params.Style, name string) error {
	head, rows, err := tableRows(name)
	if err != nil {
		text := fmt.Sprintf("there is no table %q; there are %s", name, strings.Join(tableNames(), ", "))
		if near, ok := diag.Nearest(name, tableNames()); ok {
			text = fmt.Sprintf("there is no table %q; did you mean %q?", name, near)
		}
		return &outcome{exitInput, text}
	}
	inShop(s, head, rows)
	last := len(head) - 1
	var sources []string
	for _, row := range rows {
		n := slices.Index(sources, row[last])
		if n < 0 {
			n, sources = len(sources), append(sources, row[last])
		}
		row[last] = strconv.Itoa(n + 1)
	}
	head[last] = "#"
	ui.table(head, rows)
	ui.say("")
	for i, text := range sources {
		ui.para(fmt.Sprintf("%d: ", i+1), "   ", text)
	}
	return nil
}

// figure is a number in a column whose head ends with its unit, or in a row that has it.
var figure = regexp.MustCompile(`\d+(\.\d+)?`)

// inShop puts the figures of a table into the shop's units; areas and densities, which no
// hand sets, stay.
func inShop(s params.Style, head []string, rows [][]string) {
	if s.Unit != unit.Inch {
		return
	}
	own := slices.Index(head, "unit")
	for c := range head {
		name, si, _ := cutLast(head[c])
		for _, row := range rows {
			if own >= 0 {
				si = row[own]
			}
			if c > 0 && slices.Contains([]string{"mm", "N", "MPa", "kPa", "N/mm", "N.m", "g", "kg"}, si) {
				row[c] = figure.ReplaceAllStringFunc(row[c], func(text string) string {
					v, _ := strconv.ParseFloat(text, 64)
					number, shop, _ := cutLast(s.Quantity(v, strings.Replace(si, ".", "\u00b7", 1)))
					if own < 0 {
						head[c] = strings.TrimSpace(name + " " + shop)
					}
					return number
				})
			}
		}
	}
	if own >= 0 {
		for _, row := range rows {
			if _, shop, found := cutLast(s.Quantity(1, row[own])); found {
				row[own] = shop
			}
		}
	}
}

// cutLast cuts a text before its last word.
func cutLast(s string) (before, last string, found bool) {
	at := strings.LastIndex(s, " ")
	if at < 0 {
		return "", s, false
	}
	return s[:at], s[at+1:], true
}

func schemaCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:        "schema",
		Usage:       "print the JSON Schema of the parameter file, for editors",
		Description: "Example: clampwright schema > clampwright.schema.json",
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return &outcome{exitInput, "schema takes no arguments"}
			}
			b, err := params.Schema()
			if err != nil {
				return err
			}
			_, err = ui.out.Write(b)
			return err
		},
	}
}
