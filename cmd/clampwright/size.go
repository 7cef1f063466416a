package main

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"github.com/urfave/cli/v2"
	"golang.org/x/sync/errgroup"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/assembly/sizing"
	"clampwright/export/tell"
	"clampwright/params"
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
			&cli.StringFlag{Name: "thread", Usage: "only rods of this thread"},
			&cli.StringFlag{Name: "material", Usage: "only plates of this material"},
			&cli.StringFlag{Name: "heights", Usage: "only rods at these heights: \"52 mm, 153 mm\""},
			&cli.BoolFlag{Name: "springs", Usage: "only with springs"},
			&cli.Float64Flag{Name: "most-mass", Usage: "at most so many kilograms of clamp"},
			&cli.Float64Flag{Name: "most-price", Usage: "at most this price, as share of the stock used"},
			&cli.Float64Flag{Name: "most-spread", Usage: "at most this spread of the pressure, %"},
			&cli.BoolFlag{Name: "json", Usage: "print JSON"},
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
			return sizeFile(c.Context, ui, name, sizeOptions{
				stock: c.Bool("stock"), only: sizing.Only{Thread: c.String("thread"), Material: c.String("material"), Heights: c.String("heights"), Springs: c.Bool("springs")},
				most: sizing.Most{MassG: 1000 * c.Float64("most-mass"), Cost: c.Float64("most-price"), Uneven: c.Float64("most-spread") / 100},
				json: c.Bool("json"), pick: c.String("pick"), write: c.String("write")})
		},
	}
}

// sizeOptions are the flags of size.
type sizeOptions struct {
	stock, json bool
	only        sizing.Only
	most        sizing.Most
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
	in, err := readAll(ctx, ui, name)
	if err != nil {
		return err
	}
	ui.quiet = ui.quiet || opt.json
	f := in.base
	cat := sizing.Offer(f.File(), f, opt.stock)
	if err := cat.Keep(f, opt.only); err != nil {
		return &outcome{exitInput, err.Error()}
	}
	ui.say("%d candidates: %d plates, %d angles, %d sets of heights, %d threads, %d ways to hold the nuts",
		cat.Size(), len(cat.Plates), len(cat.Angles), len(cat.Levels), len(cat.Threads), len(cat.Springs))
	begun := time.Now()
	base, err := job.Place(f)
	if err != nil {
		return &outcome{exitInput, err.Error()}
	}
	out, err := sizing.Search(ctx, f.File(), cat, sizing.Means{Links: base.Assembly.Links(), Prove: base.Prove, Share: base.Share, Most: opt.most, Tell: sizeProgress(ui)})
	var list []sized
	if err == nil {
		list, err = settled(ctx, ui, in, out.Front)
	}
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
	if opt.json {
		e := json.NewEncoder(ui.out)
		e.SetIndent("", " ")
		if err := e.Encode(list); err != nil {
			return &outcome{exitFailed, err.Error()}
		}
	}
	ui.para("", "", fmt.Sprintf("%d can be made, %d press well enough on the coarse grid; %d of these could rank, %d were solved in full", out.Made, out.Screened, out.Tried, out.Solved))
	if len(out.Front) == 0 {
		return printMiss(ui, f, out)
	}
	printFront(ui, f, out, list)
	if opt.write == "" {
		return nil
	}
	return writeChoice(ctx, ui, in, list, opt)
}

// sized is an option written into the file, settled and judged from there as a whole.
type sized struct {
	*sizing.Option
	Verdict finding.Verdict `json:"verdict"`
	Share   float64         `json:"share"`
	Pay     *float64        `json:"price_paid"` // nil where nothing has a price
	text    []byte
	job     *job.Job
}

// settled writes every option into the file's text and judges what that says.
func settled(ctx context.Context, ui *console, in input, front []sizing.Option) ([]sized, error) {
	out := make([]sized, len(front))
	var all errgroup.Group
	all.SetLimit(runtime.GOMAXPROCS(0))
	for i := range front {
		all.Go(func() error {
			o := sized{Option: &front[i]}
			var err error
			if o.text, err = sizing.Write(in.name, in.text, o.Option); err != nil {
				return err
			}
			f, wrong := params.Load(in.name, o.text, ui.opener(ctx, in.name, new([]string)))
			if err := wrong.Err(); err != nil {
				return err
			}
			if o.job, err = job.Compute(ctx, f, func(string) {}, job.WithAnswers(0)); err == nil {
				o.Verdict, o.Share, o.Pay = o.job.Verdict(), o.job.Assurance.Share, o.job.Cost.Known()
				out[i] = o
			}
			return err
		})
	}
	return out, all.Wait()
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
func printFront(ui *console, f *params.Fixture, out *sizing.Outcome, list []sized) {
	if ui.quiet {
		return
	}
	s, guessed := f.Style, false
	var rows [][]string
	for i, o := range list {
		mark := ""
		if o.Guessed {
			mark, guessed = "~", true
		}
		paid := ""
		if o.Pay != nil {
			paid = fmt.Sprintf("%.2f", *o.Pay)
		}
		percent := func(v float64) string { return fmt.Sprintf("%.0f %%", 100*v) }
		rows = append(rows, []string{strconv.Itoa(i + 1), percent(o.Share), s.Mass(o.MassG), paid, fmt.Sprintf("%s%.2f", mark, o.Cost), percent(o.Uneven), percent(o.Middle), s.Forces().Span(o.ForceN[0], o.ForceN[1]), strings.Join(o.Best, ", ")})
	}
	money := f.Prices.Currency
	ui.table([]string{"", "share", "clamp", "paid " + money, "of stock " + money, "spread", "middle", "force", "leads"}, rows)
	for i, o := range list {
		said := o.Choice.Words(s) + o.Stops(s)
		if o.Verdict != finding.Pass {
			said += ". " + strings.TrimSuffix(tell.Sentence(o.job), ".")
		}
		ui.para(fmt.Sprintf("%d: ", i+1), "   ", said+".")
	}
	if out.Warned {
		ui.para("", "", "Nothing passes without a warning of the clamp: these only do not fail. See what each warns of.")
	}
	ui.para("", "", "Share: of fixtures that stay within their bands, as check tells it. Paid: whole sheets and lengths that are bought and have a price. Of stock: the part of sheets and lengths that is used, and pieces. Spread: deviation of the pressure from its mean as tightened. Middle: pressure in the middle of the face over the mean. Force: least to greatest over all states.")
	if guessed {
		ui.para("", "", "~ rests on planning prices in part: list prices under stock and prices.")
	}
	if !out.Complete {
		ui.say("More lines may lie between these: the table was cut short.")
	}
}

// printMiss prints the nearest miss and ends with the code for a failing check.
func printMiss(ui *console, f *params.Fixture, out *sizing.Outcome) error {
	if out.Nearest == nil {
		return &outcome{exitFouled, "nothing passes: no candidate can be made from these tables and this stock"}
	}
	m := out.Nearest
	if out.Blocked != "" {
		ui.para("", "", fmt.Sprintf("The check %s fails in every one of the %d candidates looked at, the %d lightest and %d of all kinds. Nothing that is chosen here mends it, so the search ends: 'clampwright mend' first.",
			out.Blocked, out.Checked+out.Probed, out.Checked, out.Probed))
	}
	ui.para("", "", "Nothing passes. Nearest: "+m.Choice.Words(f.Style)+".")
	ui.say("%d bound%s would have to give:", len(m.Bounds), words.Plural(len(m.Bounds)))
	for i, b := range m.Bounds {
		ui.para(fmt.Sprintf("%d: ", i+1), "   ", sizing.Words(f.Style, b))
		if to := tell.Advice(b); to != "" {
			ui.para("   -> ", "      ", f.Style.Say(to))
		}
	}
	return &outcome{exitFouled, ""}
}

// writeChoice saves the picked option; not one that fails as it is written.
func writeChoice(ctx context.Context, ui *console, in input, list []sized, opt sizeOptions) error {
	o, err := picked(list, opt.pick)
	if err != nil {
		return err
	}
	if o.Verdict == finding.Fail {
		return &outcome{exitFouled, "as written it fails, so nothing was written: " + tell.Sentence(o.job)}
	}
	text, err := params.Rebase(in.name, o.text, folderOf(in.name), filepath.Dir(opt.write))
	if err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	if err := saveFile(ctx, opt.write, text); err != nil {
		return err
	}
	ui.para("", "", "wrote "+opt.write+": "+o.Choice.Words(in.base.Style))
	return nil
}

// picked finds the option by the ranking it leads or by its line.
func picked(list []sized, pick string) (sized, error) {
	for i, o := range list {
		if slices.Contains(o.Best, pick) || strconv.Itoa(i+1) == pick {
			return o, nil
		}
	}
	return sized{}, &outcome{exitInput, fmt.Sprintf("pick %q: mass, cost, evenness, or a line from 1 to %d", pick, len(list))}
}
