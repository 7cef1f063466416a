package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"text/tabwriter"

	"golang.org/x/sync/errgroup"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export"
	"clampwright/export/folder"
	"clampwright/export/mark"
	"clampwright/params"
	"clampwright/params/diag"
)

// many is what is asked of a check of many fixtures.
type many struct {
	files, tables []string
	jobs          int
	lines         bool
	cache         string
}

// one is one fixture of many: a file, with rows of the tables. It is settled only once
// its turn comes.
type one struct {
	in   *input
	name string
	key  string // of all that its verdict follows from
	vary func() params.Variant
}

// checkMany prints a line for every fixture, in their order.
func checkMany(ctx context.Context, ui *console, m many) error {
	groups, err := m.groups(ctx, ui)
	if err != nil {
		return err
	}
	r := &manyRun{ui: ui, many: m, done: map[int]verdict{}}
	if m.cache != "" {
		if err := os.MkdirAll(m.cache, 0o777); err != nil {
			return &outcome{exitFailed, err.Error()}
		}
	}
	var all errgroup.Group
	all.SetLimit(m.jobs)
	at := 0
	for _, g := range groups {
		from := at
		at += len(g)
		all.Go(func() error {
			var seen job.Seen
			for i, o := range g {
				if ctx.Err() != nil {
					return ctx.Err()
				}
				v, err := r.judge(ctx, o, &seen)
				if err != nil {
					return err
				}
				r.tell(from+i, v)
			}
			return nil
		})
	}
	if err := all.Wait(); err != nil {
		return err
	}
	return r.end()
}

// groups are the fixtures; those of a group differ in the last table only, so that one
// may take from the one before what comes out alike.
func (m many) groups(ctx context.Context, ui *console) (out [][]one, err error) {
	var tables [][]params.Row
	for _, name := range m.tables {
		text, err := readInput(ctx, name)
		if err != nil {
			return nil, err
		}
		rows, diags := params.Rows(name, text)
		ui.source(name, text)
		ui.diagnostics(diags, name, text)
		if diags.HasErrors() {
			return nil, &outcome{exitInput, ""}
		}
		tables = append(tables, rows)
	}
	for _, name := range m.files {
		in, err := readAll(ctx, ui, name)
		if err != nil {
			return nil, err
		}
		if len(tables) == 0 {
			group := []one{in.one(params.Variant{Fixture: in.base})}
			for _, v := range in.variants {
				group = append(group, in.one(v))
			}
			out = append(out, group)
			continue
		}
		last := len(tables) - 1
		for _, rows := range product(tables[:last]) {
			var group []one
			for _, r := range tables[last] {
				group = append(group, in.varied(append(rows[:len(rows):len(rows)], r)))
			}
			out = append(out, group)
		}
	}
	return out, nil
}

// product is every row of each table with every row of the others.
func product(tables [][]params.Row) [][]params.Row {
	out := [][]params.Row{nil}
	for _, rows := range tables {
		var next [][]params.Row
		for _, o := range out {
			for _, r := range rows {
				next = append(next, append(o[:len(o):len(o)], r))
			}
		}
		out = next
	}
	return out
}

func (in *input) one(v params.Variant) one {
	name := in.base.Name
	if v.Name != "" {
		name += "-" + v.Name
	}
	return one{in, name, in.base.InputSHA256 + " " + v.Name, func() params.Variant { return v }}
}

func (in *input) varied(rows []params.Row) one {
	name, key := in.base.Name, in.base.InputSHA256
	for _, r := range rows {
		name, key = name+"-"+r.Name(), key+"\n"+r.Key()
	}
	return one{in, name, key, func() params.Variant { return in.base.File().Vary(in.text, rows...) }}
}

// manyRun is a check of many fixtures as it goes.
type manyRun struct {
	ui *console
	many
	mu     sync.Mutex
	done   map[int]verdict // not printed yet: one before is not done
	next   int
	rows   [][]string
	fouled bool
	wrong  bool
}

// verdict is what came out; wrong where the input is.
type verdict struct {
	export.Summary
	wrong diag.List
	in    *input
}

// judge computes one fixture, or finds its verdict in the cache.
func (r *manyRun) judge(ctx context.Context, o one, seen *job.Seen) (v verdict, err error) {
	v.in = o.in
	sum := sha256.Sum256(fmt.Appendf(nil, "%d\n%s", mark.Version(), o.key))
	kept := filepath.Join(r.cache, hex.EncodeToString(sum[:])+".json")
	if r.cache != "" {
		if text, err := os.ReadFile(kept); err == nil && json.Unmarshal(text, &v.Summary) == nil && v.Fixture == o.name {
			return v, nil
		}
	}
	variant := o.vary()
	if v.wrong = variant.Notes; v.wrong.HasErrors() {
		return v, nil
	}
	j, err := job.Compute(ctx, variant.Fixture, func(string) {}, job.Brief(seen))
	switch {
	case ctx.Err() != nil:
		return v, ctx.Err()
	case errors.As(err, &v.wrong):
		return v, nil
	case err != nil:
		v.wrong.Errorf(diag.Range{File: o.in.name, Line: 1, Col: 1}, "%s: %v", o.name, err)
		return v, nil
	}
	v.Summary, v.wrong = export.Summarize(o.name, j), nil
	if r.cache != "" {
		text, _ := json.Marshal(v.Summary) // holds plain values only
		if err := folder.WriteFile(ctx, kept, append(text, '\n')); err != nil {
			return v, &outcome{exitFailed, err.Error()}
		}
	}
	return v, nil
}

// tell prints what is done, in order.
func (r *manyRun) tell(at int, v verdict) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.done[at] = v
	for {
		v, ok := r.done[r.next]
		if !ok {
			r.ui.step(fmt.Sprintf("%d fixtures done", r.next))
			return
		}
		delete(r.done, r.next)
		r.next++
		r.fouled = r.fouled || v.Verdict == finding.Fail
		switch {
		case v.wrong.HasErrors():
			r.wrong = true
			r.ui.stepDone()
			r.ui.diagnostics(v.wrong, v.in.name, v.in.text)
		case r.lines:
			text, _ := json.Marshal(v.Summary)
			r.ui.print("%s", text)
		default:
			r.rows = append(r.rows, v.Row())
		}
	}
}

// end prints the table and decides the exit code.
func (r *manyRun) end() error {
	r.ui.stepDone()
	if !r.ui.quiet && len(r.rows) > 0 {
		w := tabwriter.NewWriter(r.ui.out, 0, 0, 2, ' ', 0)
		for _, row := range append([][]string{export.SummaryHead}, r.rows...) {
			fmt.Fprintln(w, strings.Join(row, "\t"))
		}
		w.Flush()
	}
	switch {
	case r.wrong:
		return &outcome{exitInput, ""}
	case r.fouled:
		return &outcome{exitFouled, ""}
	}
	return nil
}
