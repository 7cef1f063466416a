package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export/report"
	"clampwright/export/tell"
)

func checkCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "run the checks and the clamp mechanics, write nothing",
		ArgsUsage: "FILE",
		Description: "Prints the verdict and every check that does not pass, and a line for each variant.\n" +
			"Example: clampwright check pack.yaml",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "all", Usage: "print the checks that pass too"},
			&cli.StringFlag{Name: "report", Usage: "write the report to this file as JSON; - for standard output"},
		},
		Action: func(c *cli.Context) error {
			name, err := oneFile(c)
			if err != nil {
				return err
			}
			return checkFile(c.Context, ui, name, c.String("report"), c.Bool("all"))
		},
	}
}

// checkFile checks a file and its variants; the worst of them decides the exit
// code.
func checkFile(ctx context.Context, ui *console, name, report string, all bool) error {
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
		printChecks(ui, job, all)
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
	text, err := report.Sealed(job)
	if err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	if to != "-" {
		return saveFile(ctx, to, text)
	}
	_, _ = ui.out.Write(text) // run tells what went wrong
	return nil
}

// summary prints the verdict, the checks that do not pass, and the clamp.
func summary(ui *console, job *job.Job) { printChecks(ui, job, false) }

func printChecks(ui *console, job *job.Job, all bool) {
	count := map[finding.Verdict]int{}
	for _, c := range job.Findings {
		count[c.Verdict]++
		if !all && c.Verdict == finding.Pass {
			continue
		}
		ui.say("%s  %s: %s", word(c.Verdict), c.Group, tell.Said(c))
		ui.say("      %s", c.Why)
		if to := tell.Advice(c); to != "" {
			ui.say("      -> %s", to)
		}
		if len(c.Also) > 0 {
			ui.say("      also %s", strings.Join(c.Also, ", "))
		}
	}
	for _, line := range tell.ClampLines(job) {
		ui.say("%s", line)
	}
	ui.say("%s: %s", job.Fixture.Name, tell.Sentence(job))
	ui.say("%s", fmt.Sprintf("%d checks pass, %d warn, %d fail", count[finding.Pass], count[finding.Warn], count[finding.Fail]))
}

func word(v finding.Verdict) string {
	return map[finding.Verdict]string{finding.Pass: "pass ", finding.Warn: "WARN ", finding.Fail: "FAIL "}[v]
}
