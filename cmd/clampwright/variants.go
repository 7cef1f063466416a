package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/words"
)

// makeVariants makes the files of every variant.
func makeVariants(ctx context.Context, ui *console, in input, o export.Options, anyway bool) (*export.Batch, error) {
	names := make([]string, len(in.variants))
	for i, v := range in.variants {
		names[i] = v.Name
	}
	batch := export.NewBatch(names...)
	err := eachVariant(ctx, ui, in, func(_ int, v params.Variant, job *job.Job) error {
		o := o
		o.Cut = job.Verdict() != finding.Fail || anyway
		return batch.Add(v.Name, job, o)
	})
	return batch, err
}

// eachVariant computes every variant, several at a time, and does something with
// each. All that is wrong with any is printed.
func eachVariant(ctx context.Context, ui *console, in input, do func(i int, v params.Variant, job *job.Job) error, more ...job.Input) error {
	wrong := make([]error, len(in.variants))
	var done atomic.Int64
	var all errgroup.Group
	all.SetLimit(max(1, runtime.GOMAXPROCS(0)))
	for i, v := range in.variants {
		all.Go(func() error {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			job, err := job.Compute(ctx, v.Fixture, func(string) {}, more...)
			if err == nil {
				job.Notes = v.Notes
				err = do(i, v, job)
			}
			wrong[i] = err
			ui.step(fmt.Sprintf("variants: %d of %d", done.Add(1), len(in.variants)))
			return nil
		})
	}
	err := all.Wait()
	ui.stepDone()
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return err
	}
	return printWrong(ui, in, wrong)
}

// printWrong prints what was wrong with the variants; nil when nothing was.
func printWrong(ui *console, in input, wrong []error) error {
	bad := false
	for i, err := range wrong {
		if err == nil {
			continue
		}
		bad = true
		list, ok := errors.AsType[diag.List](err)
		if !ok {
			ui.fail(fmt.Sprintf("variant %s: %v", in.variants[i].Name, err))
			continue
		}
		list = in.variants[i].Own(slices.Clone(list))
		for k := range list {
			list[k].Summary = "variant " + in.variants[i].Name + ": " + list[k].Summary
		}
		ui.diagnostics(list, in.name, in.text)
	}
	if bad {
		return &outcome{exitInput, ""}
	}
	return nil
}

// checkVariants runs the checks of every variant and prints a line for each; it
// reports whether one fails.
func checkVariants(ctx context.Context, ui *console, in input, print bool) (fouled bool, err error) {
	lines := make([]string, len(in.variants))
	failed := make([]bool, len(in.variants))
	err = eachVariant(ctx, ui, in, func(i int, v params.Variant, job *job.Job) error {
		failed[i] = job.Verdict() == finding.Fail
		lines[i] = fmt.Sprintf("variant %s: %s", v.Name, tell.Sentence(job))
		return nil
	}, job.WithAnswers(0))
	if err != nil {
		return false, err
	}
	for _, line := range lines {
		if print {
			ui.say("%s", line)
		}
	}
	return slices.Contains(failed, true), nil
}

// printVariants prints the summary of a batch.
func printVariants(ui *console, batch *export.Batch) {
	if ui.quiet {
		return
	}
	head, rows := batch.Rows()
	ui.lines(words.Table(math.MaxInt, head, rows))
	ui.say("%d variants in %s, their %d distinct part files in %s/%s", len(rows), export.VariantsDir, batch.Shared(), export.VariantsDir, export.SharedDir)
}
