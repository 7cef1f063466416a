package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"unicode/utf8"

	"github.com/urfave/cli/v2"

	"clampwright/export"
	"clampwright/export/mark"
	"clampwright/export/trace"
)

func traceCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "trace",
		Usage:     "which run files from the shop are of",
		ArgsUsage: "DIR|FILE...",
		Description: "Says of every file whether mark and digest agree, or what does not: edited,\n" +
			"missing, foreign, of another run, not released. With --params it is also\n" +
			"compared with what this program makes of the parameter file now.\n" +
			"That they agree does not say that a part is safe.\n" +
			"Example: clampwright trace --params pack.yaml out",
		Flags: []cli.Flag{&cli.StringFlag{Name: "params", Usage: "parameter file to make again and compare with"}},
		Action: func(c *cli.Context) error {
			if c.NArg() == 0 {
				return &outcome{exitInput, "which files or folder? For example: clampwright trace out"}
			}
			return traceFiles(c.Context, ui, c.Args().Slice(), c.String("params"))
		},
	}
}

func traceFiles(ctx context.Context, ui *console, paths []string, params string) error {
	files, run, err := trace.Load(paths)
	var gone *fs.PathError
	if errors.As(err, &gone) && errors.Is(err, fs.ErrNotExist) {
		return &outcome{exitInput, gone.Path + ": there is no such file or folder"}
	}
	if err == nil && len(files) == 0 {
		err = errors.New("no file is there: name the folder that came back, or files of it")
	}
	if err != nil {
		return &outcome{exitInput, err.Error()}
	}
	var remake trace.Remake
	if params != "" {
		in, err := readAll(ctx, ui, params)
		if err != nil {
			return err
		}
		m := made{}
		if m.job, err = computeFixture(ctx, ui, in); err != nil {
			return err
		}
		run = mark.New(mark.Version(), in.base.InputSHA256, string(m.job.Verdict()), in.base.Name)
		remake = func(version int) (map[string][]byte, error) { return m.inMemory(ctx, ui, in, version) }
	}
	run, rows, err := trace.Files(files, run, export.Ours, remake)
	if err != nil {
		return err
	}
	return printTrace(ui, run, rows)
}

// inMemory makes every file without writing it.
func (m *made) inMemory(ctx context.Context, ui *console, in input, version int) (map[string][]byte, error) {
	plan, err := m.plan(ctx, ui, in, version, true)
	if err != nil {
		return nil, err
	}
	out := map[string][]byte{}
	for _, a := range plan.Artifacts {
		var b bytes.Buffer
		if err := a.Encode(&b); err != nil {
			return nil, &outcome{exitFailed, err.Error()}
		}
		out[a.Name] = b.Bytes()
	}
	return out, ctx.Err()
}

// printTrace prints a line for every file, and what is to know of it below.
func printTrace(ui *console, run mark.Mark, rows []trace.Row) error {
	if run.Input != "" {
		ui.say("run: %s, input %s, %s, %s", run.Fixture, run.Input, run.Verdict, run.Program())
	}
	line := func(file, part, input, version, state string) {
		ui.say("%s %s %s %s %s", cell(file, 38), cell(part, 11), cell(input, 12), cell(version, 3), state)
	}
	line("FILE", "PART", "INPUT", "BY", "STATE")
	agree := 0
	for _, r := range rows {
		version := ""
		if r.Mark.Input != "" {
			version = fmt.Sprint(r.Mark.Version)
		}
		line(r.Name, r.Mark.Part, r.Mark.Input, version, string(r.State))
		if r.Note != "" && !ui.quiet {
			ui.para("    ", "    ", r.Note)
		}
		if r.State == trace.Agrees {
			agree++
		}
	}
	ui.say("marks and digest agree in %d of %d files; that does not say that a part is safe", agree, len(rows))
	if agree < len(rows) {
		return &outcome{exitFouled, ""}
	}
	return nil
}

// cell is a text of a width, its beginning cut off where it is longer.
func cell(s string, width int) string {
	if n := utf8.RuneCountInString(s); n > width {
		s = "…" + string([]rune(s)[n-width+1:])
	}
	return fmt.Sprintf("%-*s", width, s)
}
