package main

import (
	"bytes"
	"context"
	"fmt"

	"github.com/urfave/cli/v2"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export/compare"
	"clampwright/export/folder"
)

func compareCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "compare",
		Usage:     "what a changed file means for the parts already made",
		ArgsUsage: "OLD NEW",
		Description: "Says for every part whether it is kept, can be cut down or drilled again, or has to\n" +
			"be made or bought, and puts checks and clamp side by side.\n" +
			"Example: clampwright compare --page changes.html pack.yaml pack-new-cells.yaml",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "json", Usage: "print JSON"},
			&cli.StringFlag{Name: "page", Usage: "write a page with both outlines overlaid to this file"},
		},
		Action: func(c *cli.Context) error {
			if c.NArg() != 2 {
				return &outcome{exitInput, fmt.Sprintf("compare takes two parameter files, the old and the new; got %d arguments", c.NArg())}
			}
			if err := mayWrite(c.String("page"), c.Args().Slice()...); err != nil {
				return err
			}
			var jobs [2]*job.Job
			for i := range jobs {
				var err error
				if jobs[i], err = compute(c.Context, ui, c.Args().Get(i)); err != nil {
					return err
				}
			}
			r, err := compare.Judged(jobs[0], jobs[1])
			if err != nil {
				return &outcome{exitFailed, err.Error()}
			}
			return printComparison(c.Context, ui, r, c.Bool("json"), c.String("page"))
		},
	}
}

// printComparison prints the report and writes the page; a new fixture that
// fails ends with the code for it.
func printComparison(ctx context.Context, ui *console, r *compare.Report, asJSON bool, page string) error {
	var err error
	switch {
	case asJSON:
		err = r.JSON(ui.out)
	case !ui.quiet:
		err = r.Text(ui.out, ui.width)
	}
	if err == nil && page != "" {
		err = writePage(ctx, r, page)
	}
	if err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	if r.New.Verdict == finding.Fail {
		return &outcome{exitFouled, ""}
	}
	return nil
}

func writePage(ctx context.Context, r *compare.Report, name string) error {
	var b bytes.Buffer
	if err := r.Page(&b); err != nil {
		return err
	}
	return folder.WriteFile(ctx, name, b.Bytes())
}
