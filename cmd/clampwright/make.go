package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/urfave/cli/v2"

	"clampwright/export"
	"clampwright/export/folder"
	"clampwright/params"
	"clampwright/params/diag"
)

func makeCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "make",
		Usage:     "write everything the workshop needs",
		ArgsUsage: "FILE",
		Description: "Computes the fixture and writes DXF, STL, templates, drawings, lists and the\n" +
			"build sheet. When a check fails, only the report and the build sheet are written,\n" +
			"unless --anyway is given.\n" +
			"Example: clampwright make --out out pack.yaml",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Value: "out", Usage: "folder to write"},
			&cli.BoolFlag{Name: "watch", Aliases: []string{"w"}, Usage: "make again on every save, until interrupted"},
			&cli.BoolFlag{Name: "anyway", Usage: "write cut and print files even when a check fails"},
		},
		Action: func(c *cli.Context) error {
			name, err := oneFile(c)
			if err != nil {
				return err
			}
			if c.Bool("watch") {
				return watch(c.Context, ui, name, c.String("out"), c.Bool("anyway"))
			}
			return makeOne(c.Context, ui, name, c.String("out"), c.Bool("anyway"))
		},
	}
}

// readInput reads a parameter file.
func readInput(name string) ([]byte, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, &outcome{exitInput, readError(name, err)}
	}
	return text, nil
}

// compute reads and computes one parameter file, printing what is wrong with it.
func compute(ctx context.Context, ui *console, name string) (*export.Job, error) {
	text, err := readInput(name)
	if err != nil {
		return nil, err
	}
	return computeText(ctx, ui, name, text)
}

func computeText(ctx context.Context, ui *console, name string, text []byte) (*export.Job, error) {
	f, diags := params.Load(name, text)
	ui.diagnostics(diags, name, text)
	if diags.HasErrors() {
		return nil, &outcome{exitInput, ""}
	}
	inputs, err := recordInputs(ui, name, text, f)
	if err != nil {
		return nil, err
	}
	job, err := export.Compute(ctx, f, ui.step, inputs...)
	ui.stepDone()
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if wrong, ok := errors.AsType[diag.List](err); ok {
			ui.diagnostics(wrong, name, text)
			return nil, &outcome{exitInput, ""}
		}
		return nil, &outcome{exitInput, err.Error()}
	}
	job.Notes = diags
	return job, nil
}

func readError(name string, err error) string {
	if errors.Is(err, os.ErrNotExist) {
		return fmt.Sprintf("%s: there is no such file; 'clampwright new --to %s' writes a starter", name, name)
	}
	return err.Error()
}

func makeOne(ctx context.Context, ui *console, name, out string, anyway bool) error {
	job, res, batch, err := makeJob(ctx, ui, name, out, anyway)
	if err != nil {
		return err
	}
	fouled := job.Verdict() == export.Fail
	summary(ui, job)
	printFolder(ui, out, res)
	if batch != nil {
		fouled = printVariants(ui, batch) || fouled
	}
	return verdictOutcome(ui, job, fouled, anyway)
}

// makeJob computes the file with its variants and writes the output folder.
func makeJob(ctx context.Context, ui *console, name, out string, anyway bool) (job *export.Job, res folder.Result, batch *export.Batch, err error) {
	text, err := readInput(name)
	if err != nil {
		return nil, res, nil, err
	}
	if job, err = computeText(ctx, ui, name, text); err != nil {
		return nil, res, nil, err
	}
	o := export.Options{InputName: name, Program: "clampwright " + version(), Cut: job.Verdict() != export.Fail || anyway}
	plan, err := job.Plan(o)
	if err != nil {
		return nil, res, nil, &outcome{exitFailed, err.Error()}
	}
	if batch, err = addVariants(ctx, ui, name, text, o, anyway, &plan); err != nil {
		return nil, res, nil, err
	}
	plan.Started = func(file string) { ui.step("writing " + file) }
	res, err = folder.Write(ctx, out, plan)
	ui.stepDone()
	if err != nil {
		return nil, res, nil, &outcome{exitFailed, err.Error()}
	}
	return job, res, batch, nil
}

// printFolder says what became of the output folder.
func printFolder(ui *console, out string, res folder.Result) {
	ui.say("%d files in %s; start with %s/build-sheet.html", len(res.Written), out, strings.TrimSuffix(out, "/"))
	if len(res.Removed) > 0 {
		ui.say("removed, no longer made: %s", strings.Join(res.Removed, ", "))
	}
	if len(res.Edited) > 0 {
		ui.say("had been edited by hand and was replaced: %s", strings.Join(res.Edited, ", "))
	}
	if len(res.Foreign) > 0 {
		ui.say("not ours, left alone: %s", strings.Join(res.Foreign, ", "))
	}
}

func verdictOutcome(ui *console, job *export.Job, fouled, anyway bool) error {
	if !fouled {
		return nil
	}
	if !anyway && !ui.quiet {
		ui.say("no cut or print files were written; --anyway writes them")
	}
	return &outcome{exitFouled, ""}
}
