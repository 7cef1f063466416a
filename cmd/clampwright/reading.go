package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"clampwright/assembly/job"
	"clampwright/export/folder"
	"clampwright/export/report"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/words"
)

// readingFlags are the keys of a reading, with what is said of each.
var readingFlags = []struct{ name, key, usage string }{
	{"what", "what", "quantity: stack, spring, turns, torque, running, bow, weighed"},
	{"stage", "when", "snug, quarter, half, three_quarters, set, storage, full, visit, or reset after nuts were turned again"},
	{"unit", "unit", "of the value, where it has none"}, {"uncertainty", "uncertainty", "plus or minus; else the instrument's"},
	{"instrument", "instrument", "what it was read with, where it is not the usual one"}, {"date", "date", "year-month-day; visits need one"},
	{"charge", "charge", "of the cells, 0 to 1; visits need one, and no turn is told without"}, {"temperature", "temperature", "of the cells"}, {"cycles", "cycles", "that the cells have seen: half of their growth goes with these"},
	{"load", "load", "stack: weights on the loose row"}, {"high", "high", "weighed: height of the spring on the scale"},
}

func readingCommand(ui *console) *cli.Command {
	flags := []cli.Flag{
		&cli.StringSliceFlag{Name: "where", Usage: "the rod (left lower), or of bow the plate (front); left out: the mean of all"},
		&cli.StringSliceFlag{Name: "value", Usage: "as read, with its unit; one for every --where"},
		&cli.StringFlag{Name: "learned", Usage: "write what this pack's readings tell of its cells into this file, for the next pack of them; - prints it"},
		&cli.BoolFlag{Name: "json", Usage: "print the answer as JSON and nothing else"},
	}
	for _, f := range readingFlags {
		flags = append(flags, &cli.StringFlag{Name: f.name, Usage: f.usage})
	}
	return &cli.Command{
		Name:      "reading",
		Usage:     "write a reading at the clamp into the file, and say what all of them tell",
		ArgsUsage: "FILE",
		Description: "The force in every rod now, whether the pack may be charged to full, what to read\n" +
			"next, which nut to turn, and when to look again. Without --value nothing is written.\n" +
			"Example: clampwright reading pack.yaml --what spring --stage full --date 2026-05-31 --where \"left upper\" --value \"39.8 mm\"",
		Flags: flags,
		Action: func(c *cli.Context) error {
			name, err := oneFile(c)
			if err != nil {
				return err
			}
			add, err := added(c)
			if err != nil {
				return err
			}
			if name == "-" && len(add) > 0 {
				return &outcome{exitInput, "a reading is written into its file: give the file's name in place of -"}
			}
			return readingFile(c.Context, ui, name, add, c.String("learned"), c.Bool("json"))
		},
	}
}

// added are the readings of a command line.
func added(c *cli.Context) (out []params.Added, err error) {
	where, values := c.StringSlice("where"), c.StringSlice("value")
	if len(values) > 1 && len(where) != len(values) || len(where) > len(values) {
		return nil, &outcome{exitInput, fmt.Sprintf("%d places and %d values: give one --value for every --where", len(where), len(values))}
	}
	for i, v := range values {
		a := params.Added{"value": v}
		for _, f := range readingFlags {
			a[f.key] = c.String(f.name)
		}
		if i < len(where) {
			a["where"] = where[i]
		}
		out = append(out, a)
	}
	return out, nil
}

// wordKey is the key of a reading whose word is not one that it takes.
var wordKey = regexp.MustCompile(`^readings\[[0-9]+\]\.(\w+)`)

// ofOptions has what is wrong with the words of an added reading, which stands in no file yet,
// name the option that gave it.
func ofOptions(err error) error {
	list, ok := errors.AsType[diag.List](err)
	if !ok {
		return err
	}
	list = slices.Clone(list)
	for i := range list {
		m := wordKey.FindStringSubmatch(list[i].Summary)
		if list[i].Range.Line > 0 || m == nil {
			continue
		}
		option := m[1]
		for _, f := range readingFlags {
			if f.key == m[1] {
				option = f.name
			}
		}
		list[i].Range = diag.Range{}
		list[i].Summary = "--" + option + strings.TrimPrefix(list[i].Summary, m[0])
	}
	return list
}

// readingFile adds readings and answers. The file is written only when all readings
// together can be used.
func readingFile(ctx context.Context, ui *console, name string, add []params.Added, learned string, asJSON bool) error {
	in, err := readAll(ctx, ui, name)
	if err != nil {
		return err
	}
	refuse := func(err error) error {
		if wrong, ok := errors.AsType[diag.List](err); ok {
			ui.diagnostics(wrong, in.name, in.text)
			return &outcome{exitInput, ""}
		}
		return &outcome{exitInput, err.Error()}
	}
	was := in.text
	if len(add) > 0 {
		text, f, err := params.AddReadings(in.name, in.text, add, ui.opener(ctx, in.name, &in.beside))
		if err != nil {
			if text != nil {
				in.text = text
			}
			return refuse(ofOptions(err))
		}
		in.text, in.base = text, f
	}
	j, err := job.Read(in.base)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		return refuse(err)
	}
	if len(add) > 0 {
		if err := folder.Replace(ctx, name, was, in.text); err != nil {
			return &outcome{exitFailed, err.Error()}
		}
		ui.say("wrote %s", name)
	}
	if j.Estimate == nil {
		ui.say("These cells are held and not pressed: there is no force to keep.")
		return nil
	}
	if learned != "" {
		if err := keepLearned(ctx, ui, name, learned, j); err != nil {
			return err
		}
	}
	if asJSON {
		return report.Readings(ui.out, j)
	}
	for _, s := range append(words.NonEmpty(tell.Rests(j)), tell.Answer(j, j.Estimate.Answer())...) {
		ui.para("", "  ", j.Fixture.Style.Say(s))
	}
	return nil
}

// keepLearned writes what a pack's readings tell of its cells into a file of what was
// learned, made if need be, or prints it.
func keepLearned(ctx context.Context, ui *console, name, to string, j *job.Job) error {
	entry, ok := job.Entry(j)
	switch {
	case !ok:
		return &outcome{exitInput, "nothing was read at the clamp: there is nothing to keep"}
	case job.Misfits(j):
		return &outcome{exitInput, "the readings do not fit the clamp: what they tell of the cells is not kept"}
	}
	var was []byte
	if to != "-" {
		if a, err := os.Stat(name); err == nil {
			if b, err := os.Stat(to); err == nil && os.SameFile(a, b) {
				return &outcome{exitInput, to + " is the parameter file itself: name a file of its own, and that in cell.learned of the next pack"}
			}
		}
		var err error
		if was, err = readFile(ctx, to); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return &outcome{exitInput, err.Error()}
		}
	}
	text, err := params.Keep(to, was, entry)
	if wrong, bad := errors.AsType[diag.List](err); bad {
		ui.diagnostics(wrong, to, was)
		return &outcome{exitInput, ""}
	} else if err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	if to == "-" {
		_, err = ui.out.Write(text)
		return err
	}
	if was == nil {
		err = saveFile(ctx, to, text)
	} else if err = folder.Replace(ctx, to, was, text); err != nil {
		err = &outcome{exitFailed, err.Error()}
	}
	if err != nil {
		return err
	}
	ui.say("wrote %s", to)
	return nil
}
