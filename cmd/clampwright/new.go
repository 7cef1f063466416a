package main

import (
	"errors"
	"io/fs"
	"os"

	"github.com/urfave/cli/v2"

	"clampwright/params"
)

func newCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:  "new",
		Usage: "write a commented starter file that 'make' accepts unchanged",
		Description: "Prints the file, or writes it with --to.\n" +
			"Example: clampwright new --cells 8 --cell 72x174x201 --to pack.yaml",
		Flags: []cli.Flag{
			&cli.IntFlag{Name: "cells", Value: 4, Usage: "cells in the pack"},
			&cli.IntFlag{Name: "rows", Value: 1, Usage: "rows of cells, 1 or 2"},
			&cli.StringFlag{Name: "cell", Value: "72x174x201", Usage: "row of the cells table, or thickness x width x height in mm"},
			&cli.StringFlag{Name: "name", Usage: "name of the fixture"},
			&cli.StringFlag{Name: "units", Value: "mm", Usage: "mm or in"},
			&cli.StringFlag{Name: "plate", Usage: "plate material, a row of the materials table"},
			&cli.StringFlag{Name: "thread", Usage: "rod thread, a row of the threads table"},
			&cli.StringFlag{Name: "force", Usage: "clamp force from the data sheet, such as '300 kgf'"},
			&cli.BoolFlag{Name: "no-angles", Usage: "plates without stiffeners"},
			&cli.StringFlag{Name: "to", Usage: "file to write; it must not exist yet"},
		},
		Action: func(c *cli.Context) error { return writeStarter(c, ui) },
	}
}

func writeStarter(c *cli.Context, ui *console) error {
	if c.NArg() > 0 {
		return &outcome{exitInput, "new takes options only, for example --cells 8 --cell 72x174x201"}
	}
	text, diags, err := params.Starter(params.StarterOptions{
		Name: c.String("name"), Cells: c.Int("cells"), Rows: c.Int("rows"), Cell: c.String("cell"), Units: c.String("units"),
		Plate: c.String("plate"), Thread: c.String("thread"), Force: c.String("force"), NoAngles: c.Bool("no-angles"),
	})
	if err != nil {
		return err
	}
	if diags.HasErrors() {
		ui.diagnostics(diags, "starter file", text)
		return &outcome{exitInput, ""}
	}
	to := c.String("to")
	if to == "" {
		_, err = ui.out.Write(text)
		return err
	}
	if err := writeNew(to, text); err != nil {
		return err
	}
	ui.say("wrote %s; next: clampwright make %s --out out", to, to)
	return nil
}

// writeNew writes a file that must not exist yet.
func writeNew(name string, text []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return &outcome{exitFailed, name + " is there already; it was left alone"}
	}
	if err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	_, err = f.Write(text)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		os.Remove(name)
		return &outcome{exitFailed, err.Error()}
	}
	return nil
}
