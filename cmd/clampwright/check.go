package main

import (
	"bytes"
	"context"
	"io"

	"github.com/urfave/cli/v2"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export/mark"
	"clampwright/export/report"
)

func checkCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "run the checks and the clamp mechanics, write nothing",
		ArgsUsage: "FILE...",
		Description: "Prints the verdict, what must be decided, and a line for each variant. Of many\n" +
			"files, or with a table of variants, only a line for each.\n" +
			"Example: clampwright check pack.yaml",
		Flags: append(manyFlags(),
			&cli.StringFlag{Name: "report", Usage: "write the report to this file as JSON; - for standard output"},
			&cli.BoolFlag{Name: "json", Usage: "print the report as JSON and nothing else"},
			&cli.StringFlag{Name: "cache", Usage: "folder of verdicts: what stands there already is not computed again"},
		),
		Action: func(c *cli.Context) error {
			if asksMany(c) {
				if c.IsSet("report") || c.IsSet("json") {
					return &outcome{exitInput, "--report and --json are of one file; --lines prints a line of JSON for every fixture"}
				}
				return doMany(c.Context, ui, manyOf(c))
			}
			name, err := oneFile(c)
			if err != nil {
				return err
			}
			report := c.String("report")
			if c.Bool("json") {
				report = "-"
			}
			return checkFile(c.Context, ui, name, report)
		},
	}
}

// checkFile checks a file and its variants; the worst of them decides the exit
// code.
func checkFile(ctx context.Context, ui *console, name, report string) error {
	if err := mayWrite(report, name); err != nil {
		return err
	}
	in, err := readAll(ctx, ui, name)
	if err != nil {
		return err
	}
	job, err := computeFixture(ctx, ui, in)
	if err != nil {
		return err
	}
	if report != "" {
		if err := writeReport(ctx, ui, job, report); err != nil {
			return err
		}
	}
	if report != "-" {
		printVerdict(ui, job)
		printAnswer(ui, in, job)
	}
	fouled, err := checkVariants(ctx, ui, in, report != "-")
	if err != nil {
		return err
	}
	if fouled || job.Verdict() == finding.Fail {
		return &outcome{exitFouled, ""}
	}
	return nil
}

func writeReport(ctx context.Context, ui *console, job *job.Job, to string) error {
	var b bytes.Buffer
	if err := mark.Sealed(func(w io.Writer) error { return report.Encode(w, job, mark.Version(), nil) })(&b); err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	if to != "-" {
		return saveFile(ctx, to, b.Bytes())
	}
	_, _ = ui.out.Write(b.Bytes()) // run tells what went wrong
	return nil
}
