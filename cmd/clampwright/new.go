package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/urfave/cli/v2"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/words"
)

func newCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:  "new",
		Usage: "write a commented starter file that 'make' accepts unchanged",
		Description: "Prints the file, or writes it with --to.\n" +
			"Example: clampwright new --cells 8 --cell 72x174x201 --to pack.yaml",
		Flags: []cli.Flag{
			&cli.IntFlag{Name: "cells", Value: 4, Usage: "cells in the pack"},
			&cli.IntFlag{Name: "rows", Usage: fmt.Sprintf("rows of cells, 1 to 8; left out so many that none is longer than %d mm", params.LongRow), DefaultText: "by the length"},
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
	for _, n := range []struct{ name, accepts string }{{"cells", "1 to 256"}, {"rows", "1 to 8"}} {
		if c.IsSet(n.name) && c.Int(n.name) < 1 {
			return &outcome{exitInput, fmt.Sprintf("--%s %d: %s", n.name, c.Int(n.name), n.accepts)}
		}
	}
	to := c.String("to")
	if err := mayWrite(to); err != nil {
		return err
	}
	text, diags, err := fittingStarter(c.Context, params.StarterOptions{
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
	if to == "" {
		_, err = ui.out.Write(text)
		return err
	}
	if err := saveFile(c.Context, to, text); err != nil {
		return err
	}
	ui.say("wrote %s; next: clampwright make %s --out out", to, to)
	return nil
}

// fittingStarter writes a starter that passes every check, with changes made in it: as
// derived where it does, else with the first repair that keeps what was chosen, else in
// one more row where their count was not.
func fittingStarter(ctx context.Context, o params.StarterOptions, set ...params.Change) ([]byte, diag.List, error) {
	reason, last := "", 0
	for {
		text, diags, err := starter(o, set)
		if err != nil || diags.HasErrors() && last == 0 {
			return text, diags, err
		}
		if diags.HasErrors() { // too few cells for so many rows
			return nil, nil, unfit(reason)
		}
		j, err := starterJob(ctx, text)
		if err != nil {
			return nil, nil, err
		}
		if j.Verdict() != finding.Fail {
			return text, nil, nil
		}
		if err := j.Mend(ctx, 1, chosen(o)...); err != nil {
			return nil, nil, err
		}
		if found := j.Mended.Patches; len(found) > 0 {
			text, err = params.Edit("starter file", text, found[0].Noted())
			return text, nil, err
		}
		reason = words.First(reason, tell.Sentence(j))
		if rows := j.Fixture.Pack.Rows; last == 0 && o.Rows == 0 {
			o.Rows, last = rows, min(rows+1, params.MostRows)
		}
		if o.Rows++; o.Rows > last {
			return nil, nil, unfit(reason)
		}
	}
}

// chosen are the keys and blocks that a repair leaves as they were chosen.
func chosen(o params.StarterOptions) (out []string) {
	for path, is := range map[string]bool{"stiffeners": o.NoAngles, "plates.material": o.Plate != "", "rods.thread": o.Thread != ""} {
		if is {
			out = append(out, path)
		}
	}
	return out
}

// unfitting says that no starter passes.
type unfitting struct{ text string }

func unfit(reason string) error {
	return &unfitting{"no starter with these choices passes the checks; another --plate or --thread, or no --no-angles, may. " + reason}
}

func (u *unfitting) Error() string { return u.text }

// starter is params.Starter with changes made in what it writes.
func starter(o params.StarterOptions, set []params.Change) ([]byte, diag.List, error) {
	text, diags, err := params.Starter(o)
	if err != nil || diags.HasErrors() || len(set) == 0 {
		return text, diags, err
	}
	out, _, err := params.Set("starter file", text, set)
	if wrong, ok := errors.AsType[diag.List](err); ok {
		return out, wrong, nil
	}
	return out, nil, err
}

func starterJob(ctx context.Context, text []byte) (*job.Job, error) {
	f, diags := params.Load("starter file", text)
	if diags.HasErrors() {
		return nil, diags
	}
	return job.Compute(ctx, f, func(string) {}, job.WithAnswers(0))
}
