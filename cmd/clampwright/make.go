package main

import (
	"context"
	"errors"
	"strings"

	"github.com/urfave/cli/v2"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export"
	"clampwright/export/folder"
	"clampwright/export/mark"
	"clampwright/params"
	"clampwright/params/diag"
)

func makeCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "make",
		Usage:     "write everything the workshop needs",
		ArgsUsage: "FILE...",
		Description: "Computes the fixture and writes DXF, STL, templates, drawings, lists and the\n" +
			"build sheet. When a check fails, only the report and the build sheet are written,\n" +
			"unless --anyway is given. Of many files, or with a table of variants, each fixture\n" +
			"is made in a folder of its name; what stands there already is not made again.\n" +
			"Example: clampwright make --out out pack.yaml",
		Flags: append(manyFlags(),
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Value: "out", Usage: "folder to write"},
			&cli.BoolFlag{Name: "watch", Aliases: []string{"w"}, Usage: "make again on every save, until interrupted"},
			&cli.BoolFlag{Name: "anyway", Usage: "write cut and print files even when a check fails"},
		),
		Action: func(c *cli.Context) error {
			if asksMany(c) {
				if c.Bool("watch") {
					return &outcome{exitInput, "--watch is of one file"}
				}
				return doMany(c.Context, ui, manyOf(c))
			}
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

// compute reads and computes one parameter file without its variants, printing
// what is wrong with it.
func compute(ctx context.Context, ui *console, name string) (*job.Job, error) {
	text, err := readInput(ctx, name)
	if err != nil {
		return nil, err
	}
	name = called(name)
	var beside []string
	f, diags := params.Load(name, text, ui.opener(ctx, name, &beside))
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	ui.diagnostics(diags, name, text)
	if diags.HasErrors() {
		return nil, &outcome{exitInput, ""}
	}
	return computeFixture(ctx, ui, input{name: name, text: text, base: f, notes: diags})
}

// input is a parameter file that was read without an error.
type input struct {
	name     string
	text     []byte
	beside   []string // what the file names: a table of readings, what was learned
	base     *params.Fixture
	notes    diag.List
	variants []params.Variant
}

// readAll reads a parameter file with its variants, printing what is wrong with
// any of it. The text is returned even then.
func readAll(ctx context.Context, ui *console, name string) (input, error) {
	in := input{name: called(name)}
	var err error
	if in.text, err = readInput(ctx, name); err != nil {
		return in, err
	}
	in.base, in.variants, in.notes = params.LoadAll(in.name, in.text, ui.opener(ctx, in.name, &in.beside))
	if ctx.Err() != nil {
		return in, ctx.Err()
	}
	ui.diagnostics(in.notes, in.name, in.text)
	if in.notes.HasErrors() {
		return in, &outcome{exitInput, ""}
	}
	return in, nil
}

// computeFixture computes the base fixture.
func computeFixture(ctx context.Context, ui *console, in input, more ...job.Input) (*job.Job, error) {
	job, err := job.Compute(ctx, in.base, ui.step, more...)
	ui.stepDone()
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if wrong, ok := errors.AsType[diag.List](err); ok {
			ui.diagnostics(wrong, in.name, in.text)
			return nil, &outcome{exitInput, ""}
		}
		return nil, &outcome{exitInput, err.Error()}
	}
	job.Notes = in.notes
	return job, nil
}

func makeOne(ctx context.Context, ui *console, name, out string, anyway bool) error {
	in, err := readAll(ctx, ui, name)
	if err != nil {
		return err
	}
	m, err := makeJob(ctx, ui, in, out, anyway)
	if err != nil {
		return err
	}
	printVerdict(ui, m.job)
	printAnswer(ui, in, m.job)
	printFolder(ui, out, m.res)
	if len(in.variants) > 0 {
		printVariants(ui, m.batch)
	}
	return verdictOutcome(ui, m, anyway)
}

// made is what a run of make wrote.
type made struct {
	job   *job.Job
	res   folder.Result
	batch *export.Batch // nil without variants
}

// makeJob computes the file with its variants and writes the output folder.
func makeJob(ctx context.Context, ui *console, in input, out string, anyway bool) (m made, err error) {
	if m.job, err = computeFixture(ctx, ui, in); err != nil {
		return m, err
	}
	plan, err := m.plan(ctx, ui, in, mark.Version(), anyway)
	if err != nil {
		return m, err
	}
	plan.Started = func(file string) { ui.step("writing " + file) }
	m.res, err = folder.Write(ctx, out, plan)
	ui.stepDone()
	if err != nil {
		return m, &outcome{exitFailed, err.Error()}
	}
	return m, nil
}

// plan lists the files of the fixture and its variants, marked with a version.
func (m *made) plan(ctx context.Context, ui *console, in input, version int, anyway bool) (folder.Contents, error) {
	o := export.Options{Version: version, Fixture: m.job.Fixture.Plain, Cut: m.job.Verdict() != finding.Fail || anyway}
	plan, err := export.Plan(m.job, o)
	if err != nil {
		return plan, &outcome{exitFailed, err.Error()}
	}
	if len(in.variants) > 0 {
		if m.batch, err = makeVariants(ctx, ui, in, o, anyway); err != nil {
			return plan, err
		}
		m.batch.Into(&plan)
	}
	return plan, nil
}

// fouled names the fixtures that fail: the base by its own name, then variants.
func (m made) fouled() (names []string, all bool) {
	n := 1
	if m.job.Verdict() == finding.Fail {
		names = append(names, m.job.Fixture.Name)
	}
	if m.batch != nil {
		_, rows := m.batch.Rows()
		n += len(rows)
		for _, r := range rows {
			if r[1] == string(finding.Fail) {
				names = append(names, "variant "+r[0])
			}
		}
	}
	return names, len(names) == n
}

// fewFiles is how many files a line names before it counts.
const fewFiles = 5

// printFolder says what became of the output folder.
func printFolder(ui *console, out string, res folder.Result) {
	ui.say("%d files in %s; start with %s/build-sheet.html", len(res.Written), out, strings.TrimSuffix(out, "/"))
	if len(res.Removed) > 0 {
		ui.say("removed, no longer made: %s", few(res.Removed, fewFiles))
	}
	if len(res.Edited) > 0 {
		ui.say("was not as this program wrote it and is kept: %s", few(res.Edited, fewFiles))
	}
	if len(res.Foreign) > 0 {
		ui.say("not ours, left alone: %s", few(res.Foreign, fewFiles))
	}
}

// verdictOutcome ends a run in which a fixture fails, and says whose cut and print
// files are not there.
func verdictOutcome(ui *console, m made, anyway bool) error {
	names, all := m.fouled()
	if len(names) == 0 {
		return nil
	}
	if !anyway {
		of := ""
		if !all {
			of = " for " + few(names, fewFiles)
		}
		ui.say("no cut or print files were written%s; --anyway writes them", of)
	}
	return &outcome{exitFouled, ""}
}
