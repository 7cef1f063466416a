package main

import (
	"context"
	"fmt"
	"runtime"
	"strings"
	"sync/atomic"
	"text/tabwriter"

	"golang.org/x/sync/errgroup"

	"clampwright/export"
	"clampwright/export/folder"
	"clampwright/params"
)

// addVariants makes every variant of the file, several at a time, and adds their
// files to the plan. It returns nil when the file has none.
func addVariants(ctx context.Context, ui *console, name string, text []byte, o export.Options, anyway bool, plan *folder.Plan) (*export.Batch, error) {
	list, err := variantsOf(ui, name, text)
	if err != nil || len(list) == 0 {
		return nil, err
	}
	batch := export.NewBatch()
	var done atomic.Int64
	all, ctx := errgroup.WithContext(ctx)
	all.SetLimit(max(1, runtime.GOMAXPROCS(0)))
	for _, v := range list {
		all.Go(func() error {
			if err := makeVariant(ctx, batch, v, o, anyway); err != nil {
				return err
			}
			ui.step(fmt.Sprintf("variants: %d of %d", done.Add(1), len(list)))
			return nil
		})
	}
	if err := all.Wait(); err != nil {
		return nil, err
	}
	ui.stepDone()
	batch.Into(plan)
	return batch, nil
}

// variantsOf settles the file's variants and prints what is wrong with any.
func variantsOf(ui *console, name string, text []byte) ([]params.Variant, error) {
	in, diags := params.Decode(name, text)
	if diags.HasErrors() {
		ui.diagnostics(diags, name, text)
		return nil, &outcome{exitInput, ""}
	}
	list, diags := params.Variants(in, text)
	ui.diagnostics(diags, name, text)
	bad := diags.HasErrors()
	for _, v := range list {
		if v.Fixture == nil {
			ui.fail("variant " + v.Name + ":")
			ui.diagnostics(v.Notes, name, text)
			bad = true
		}
	}
	if bad {
		return nil, &outcome{exitInput, ""}
	}
	return list, nil
}

func makeVariant(ctx context.Context, batch *export.Batch, v params.Variant, o export.Options, anyway bool) error {
	job, err := export.Compute(ctx, v.Fixture, func(string) {})
	if err == nil {
		job.Notes = v.Notes
		o.Cut = job.Verdict() != export.Fail || anyway
		err = batch.Add(v.Name, job, o)
	}
	if err != nil && ctx.Err() == nil {
		return &outcome{exitInput, fmt.Sprintf("variant %s: %v", v.Name, err)}
	}
	return err
}

// printVariants prints the summary of a batch; it reports whether one fails.
func printVariants(ui *console, batch *export.Batch) (fouled bool) {
	head, rows := batch.Rows()
	w := tabwriter.NewWriter(ui.out, 0, 0, 2, ' ', 0)
	line := func(cells []string) { fmt.Fprintln(w, strings.Join(cells, "\t")) }
	line(head)
	for _, r := range rows {
		line(r)
		fouled = fouled || r[1] == string(export.Fail)
	}
	if !ui.quiet {
		w.Flush()
		ui.say("%d variants in %s, their %d distinct part files in %s/%s", len(rows), export.VariantsDir, batch.Shared(), export.VariantsDir, export.SharedDir)
	}
	return fouled
}
