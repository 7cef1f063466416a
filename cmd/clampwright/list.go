package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/urfave/cli/v2"

	"clampwright/assembly/assure"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/diag"
)

func listCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "list",
		Usage:     "print the built-in tables, each row with its source",
		ArgsUsage: "[TABLE]",
		Description: "Without a table: the tables and how many rows they have.\n" +
			"Example: clampwright list threads",
		Action: func(c *cli.Context) error {
			if c.NArg() > 1 {
				return &outcome{exitInput, "one table at a time"}
			}
			if c.NArg() == 0 {
				return listTables(ui)
			}
			return listRows(ui, c.Args().First())
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
		return assure.Table()
	}
	t := catalog.Builtin()
	return t.Rows(name)
}

func listTables(ui *console) error {
	w := tabwriter.NewWriter(ui.out, 0, 0, 2, ' ', 0)
	for _, name := range tableNames() {
		_, rows, err := tableRows(name)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "%s\t%d rows\n", name, len(rows))
	}
	return w.Flush()
}

func listRows(ui *console, name string) error {
	head, rows, err := tableRows(name)
	if err != nil {
		text := fmt.Sprintf("there is no table %q; there are %s", name, strings.Join(tableNames(), ", "))
		if near, ok := diag.Nearest(name, tableNames()); ok {
			text = fmt.Sprintf("there is no table %q; did you mean %q?", name, near)
		}
		return &outcome{exitInput, text}
	}
	w := tabwriter.NewWriter(ui.out, 0, 0, 2, ' ', 0)
	for _, row := range append([][]string{head}, rows...) {
		fmt.Fprintln(w, strings.TrimRight(strings.Join(row, "\t"), "\t "))
	}
	return w.Flush()
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
