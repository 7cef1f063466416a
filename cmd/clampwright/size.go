package main

import (
	"cmp"
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"text/tabwriter"
	"time"

	"github.com/urfave/cli/v2"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/assembly/sizing"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/words"
)

func sizeCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "size",
		Usage:     "search your stock and the tables for fixtures that pass",
		ArgsUsage: "FILE",
		Description: "Tries plates, angles, rod heights, threads and springs on the cells of the file\n" +
			"and prints what passes every check: the lightest, the cheapest, the most even, and\n" +
			"the trade-off between them. --write saves one of them as a parameter file.\n" +
			"Example: clampwright size --pick cost --write sized.yaml pack.yaml",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "stock", Usage: "only what the file lists under stock, and what it is built of now"},
			&cli.StringFlag{Name: "pick", Value: "mass", Usage: "which to write: mass, cost, evenness, or a line's number"},
			&cli.StringFlag{Name: "write", Usage: "save the picked one to this file"},
		},
		Action: func(c *cli.Context) error {
			name, err := oneFile(c)
			if err != nil {
				return err
			}
			if c.IsSet("pick") && !c.IsSet("write") {
				return &outcome{exitInput, "--pick says which line --write saves: give --write too"}
			}
			return sizeFile(c.Context, ui, name, sizeOptions{c.Bool("stock"), c.String("pick"), c.String("write")})
		},
	}
}

// sizeOptions are the flags of size.
type sizeOptions struct {
	stock       bool
	pick, write string
}

// check refuses, before a long search, what could not be picked after it.
func (o sizeOptions) check() error {
	if n, err := strconv.Atoi(o.pick); (err != nil || n < 1) && !slices.Contains([]string{"mass", "cost", "evenness"}, o.pick) {
		return &outcome{exitInput, fmt.Sprintf("pick %q: mass, cost, evenness, or a line's number", o.pick)}
	}
	return nil
}

func sizeFile(ctx context.Context, ui *console, name string, opt sizeOptions) error {
	if err := cmp.Or(opt.check(), mayWrite(opt.write, name)); err != nil {
		return err
	}
	text, in, f, err := decoded(ctx, ui, name)
	if err != nil {
		return err
	}
	cat := sizing.Offer(in, f, opt.stock)
	ui.say("%d candidates: %d plates, %d angles, %d sets of heights, %d threads, %d ways to hold the nuts",
		cat.Size(), len(cat.Plates), len(cat.Angles), len(cat.Levels), len(cat.Threads), len(cat.Springs))
	begun := time.Now()
	placed, err := job.Place(f)
	if err != nil {
		return &outcome{exitInput, err.Error()}
	}
	out, err := sizing.Search(ctx, in, cat, sizing.Means{Links: placed.Assembly.Links(), Prove: proved, Tell: sizeProgress(ui)})
	ui.stepDone()
	if err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return &outcome{exitFailed, err.Error()}
	}
	if ui.tty {
		ui.step(fmt.Sprintf("searched in %.1f s\n", time.Since(begun).Seconds()))
	}
	ui.say("%d can be made, %d press well enough on the coarse grid; %d of these could rank, %d were solved in full", out.Made, out.Screened, out.Tried, out.Solved)
	if len(out.Front) == 0 {
		return printMiss(ui, out)
	}
	printFront(ui, f, out)
	if opt.write == "" {
		return nil
	}
	return writeChoice(ctx, ui, name, text, out, opt)
}

// proved judges a fixture by every check but the clamp's.
func proved(f *params.Fixture) (fails []finding.Finding, warns []string, err error) {
	all, err := job.Prove(f)
	for _, c := range all {
		switch c.Verdict {
		case finding.Fail:
			fails = append(fails, c)
		case finding.Warn:
			if !slices.Contains(warns, string(c.ID)) {
				warns = append(warns, string(c.ID))
			}
		}
	}
	return fails, warns, err
}

// decoded reads a parameter file as written and as settled.
func decoded(ctx context.Context, ui *console, name string) ([]byte, *params.File, *params.Fixture, error) {
	text, err := readInput(ctx, name)
	if err != nil {
		return nil, nil, nil, err
	}
	in, diags := params.Decode(name, text)
	var f *params.Fixture
	if in != nil {
		var more diag.List
		f, more = params.Resolve(in, text)
		diags = append(diags, more...)
		diags.Sort()
	}
	ui.diagnostics(diags, name, text)
	if f == nil || diags.HasErrors() {
		return nil, nil, nil, &outcome{exitInput, ""}
	}
	return text, in, f, nil
}

// sizeProgress shows a stage's progress ten times a second at most.
func sizeProgress(ui *console) sizing.Progress {
	var last atomic.Int64
	return func(stage string, done, total int) {
		now := time.Now().UnixMilli()
		if was := last.Load(); now-was > 100 && last.CompareAndSwap(was, now) {
			ui.step(fmt.Sprintf("%s: %d of %d", stage, done, total))
		}
	}
}

// printFront prints the table: a line for every option, the leaders named.
func printFront(ui *console, f *params.Fixture, out *sizing.Outcome) {
	if ui.quiet {
		return
	}
	w := tabwriter.NewWriter(ui.out, 0, 0, 2, ' ', 0)
	money := "cost"
	if f.Prices.Currency != "" {
		money += " " + f.Prices.Currency
	}
	fmt.Fprintf(w, "\tclamp kg\t%s\tspread\tmiddle\tforce N\tplate\tangles\trods\tnuts\tleads\n", money)
	guessed := false
	for i, o := range out.Front {
		mark := ""
		if o.Guessed {
			mark, guessed = "~", true
		}
		c := o.Choice
		fmt.Fprintf(w, "%d\t%.2f\t%s%.2f\t%.0f %%\t%.0f %%\t%.0f to %.0f\t%s %s\t%s\t%s\t%s\t%s\n", i+1, o.MassG/1000, mark, o.Cost, 100*o.Uneven, 100*o.Middle, o.ForceN[0], o.ForceN[1],
			c.Plate.Material, params.LengthText(c.Plate.Thickness, f.Style.Unit), angleWords(c), rodWords(f, c), c.Spring, strings.Join(o.Best, ", "))
	}
	w.Flush()
	if out.Warned {
		ui.say("nothing passes without a warning of the clamp: these only do not fail, see what each warns of")
	}
	ui.say("spread: deviation of the pressure from its mean as tightened; middle: pressure in the middle of the face over the mean; force: least to greatest over all states")
	shared := sharedWarns(out.Front)
	for i, o := range out.Front {
		ui.say("%d is limited by %s%s", i+1, sizing.Words(o.Limit), warnWords(o, shared))
	}
	if len(shared) > 0 {
		ui.say("all warn: %s", strings.Join(shared, ", "))
	}
	ui.say("what is not known of the cells is taken as the tables have it; check tells whether the verdict holds over its band")
	if guessed {
		ui.say("~ costs rest on planning prices in part; list prices under stock and prices to have them told")
	}
	if !out.Complete {
		ui.say("more lines may lie between these: the table was cut short")
	}
}

func angleWords(c sizing.Choice) string {
	if c.Angle == "" {
		return "none"
	}
	return fmt.Sprintf("%d of %s", 2*len(c.Levels), c.Angle)
}

func rodWords(f *params.Fixture, c sizing.Choice) string {
	s := c.Thread + " at " + f.Style.Lengths().Join(", ", c.Levels...)
	if c.Middle {
		s += ", three columns"
	}
	return s
}

// sharedWarns are the warnings of every line: said once.
func sharedWarns(front []sizing.Option) []string {
	return slices.DeleteFunc(slices.Clone(front[0].Warns), func(w string) bool {
		return slices.ContainsFunc(front, func(o sizing.Option) bool { return !slices.Contains(o.Warns, w) })
	})
}

func warnWords(o sizing.Option, shared []string) string {
	own := slices.DeleteFunc(slices.Clone(o.Warns), func(w string) bool { return slices.Contains(shared, w) })
	if len(own) == 0 {
		return ""
	}
	return "; warns: " + strings.Join(own, ", ")
}

// printMiss prints the nearest miss and ends with the code for a failing check.
func printMiss(ui *console, out *sizing.Outcome) error {
	if out.Nearest == nil {
		return &outcome{exitFouled, "nothing passes: no candidate can be made from these tables and this stock"}
	}
	m := out.Nearest
	if out.Blocked != "" {
		ui.say("the check %s fails in every one of the %d candidates looked at, the %d lightest and %d of all kinds: no choice seems to mend it, so the search ends here",
			out.Blocked, out.Checked+out.Probed, out.Checked, out.Probed)
	}
	ui.say("nothing passes. Nearest: %s", m.Choice)
	ui.say("%d bound%s would have to give:", len(m.Bounds), words.Plural(len(m.Bounds)))
	for i, b := range m.Bounds {
		ui.say("%d. %s", i+1, sizing.Words(b))
		if to := tell.Advice(b); to != "" {
			ui.say("  -> %s", to)
		}
	}
	return &outcome{exitFouled, ""}
}

// writeChoice saves the picked option.
func writeChoice(ctx context.Context, ui *console, name string, text []byte, out *sizing.Outcome, opt sizeOptions) error {
	o, err := picked(out, opt.pick)
	if err != nil {
		return err
	}
	changed, err := sizing.Write(name, text, o)
	if err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	if changed, err = params.Rebase(name, changed, folderOf(name), filepath.Dir(opt.write)); err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	if err := saveFile(ctx, opt.write, changed); err != nil {
		return err
	}
	ui.say("wrote %s: %s", opt.write, o.Choice)
	return nil
}

// picked finds the option by the ranking it leads or by its line.
func picked(out *sizing.Outcome, pick string) (*sizing.Option, error) {
	for i := range out.Front {
		if slices.Contains(out.Front[i].Best, pick) || strconv.Itoa(i+1) == pick {
			return &out.Front[i], nil
		}
	}
	return nil, &outcome{exitInput, fmt.Sprintf("pick %q: mass, cost, evenness, or a line from 1 to %d", pick, len(out.Front))}
}
