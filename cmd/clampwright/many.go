package main

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"

	"github.com/urfave/cli/v2"
	"golang.org/x/sync/errgroup"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export"
	"clampwright/export/folder"
	"clampwright/export/lists"
	"clampwright/export/mark"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/words"
)

// many is what is asked of a check of many fixtures, or of making them.
type many struct {
	files, tables []string
	jobs          int
	lines         bool
	cache         string // folder of verdicts
	out           string // where a folder is made of each; empty for checks alone
	anyway        bool
}

// asksMany says whether a command line is of many fixtures.
func asksMany(c *cli.Context) bool {
	return c.NArg() > 1 || c.NArg() == 1 && slices.ContainsFunc([]string{"table", "lines", "cache", "jobs"}, c.IsSet)
}

func manyOf(c *cli.Context) many {
	return many{files: c.Args().Slice(), tables: c.StringSlice("table"), jobs: max(1, c.Int("jobs")), lines: c.Bool("lines"), cache: c.String("cache"), out: c.String("out"), anyway: c.Bool("anyway")}
}

// manyFlags are those of a command that takes many fixtures.
func manyFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringSliceFlag{Name: "table", Usage: "variants of every file (CSV: name and keys); of several tables, every row with every other"},
		&cli.BoolFlag{Name: "lines", Usage: "print only a line of JSON for every fixture, as it is done"},
		&cli.IntFlag{Name: "jobs", Value: runtime.GOMAXPROCS(0), Usage: "how many fixtures are computed at a time"},
	}
}

// one is one fixture of many: a file, with rows of the tables. It is settled only once
// its turn comes.
type one struct {
	in   *input
	name string
	key  string // of all that its verdict follows from
	vary func() params.Variant
}

// doMany prints a line for every fixture, in their order.
func doMany(ctx context.Context, ui *console, m many) error {
	groups, err := m.groups(ctx, ui)
	if err != nil {
		return err
	}
	r := &manyRun{ui: ui, many: m, done: map[int]verdict{}}
	if to := cmp.Or(m.out, m.cache); to != "" {
		if err := os.MkdirAll(to, 0o777); err != nil {
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
	return r.end(ctx)
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
	return out, m.apart(out)
}

// summaryDir is the folder of the table beside those of the fixtures.
const summaryDir = "summary"

// apart wants a folder for every fixture that is made.
func (m many) apart(groups [][]one) error {
	file := map[string]string{summaryDir: "the table of all"}
	for _, o := range slices.Concat(groups...) {
		if was, ok := file[o.name]; ok && m.out != "" {
			return &outcome{exitInput, fmt.Sprintf("two fixtures are called %q, in %s and in %s: name them apart, each is made in a folder of its name", o.name, was, o.in.name)}
		}
		file[o.name] = o.in.name
	}
	return nil
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

// record is a verdict as it is kept, with the sum of all that it follows from.
type record struct {
	Input string `json:"input"`
	export.Summary
}

// keptAt is where the record of a fixture stands: in the folder made of it, or in the cache.
func (r *manyRun) keptAt(o one, sum string) string {
	switch {
	case r.out != "":
		return filepath.Join(r.out, o.name, "summary.json")
	case r.cache != "":
		return filepath.Join(r.cache, sum+".json")
	}
	return ""
}

// judge computes one fixture, and makes it where that is asked; or finds that done.
func (r *manyRun) judge(ctx context.Context, o one, seen *job.Seen) (v verdict, err error) {
	v.in = o.in
	hash := sha256.Sum256(fmt.Appendf(nil, "%d %v\n%s", mark.Version(), r.anyway, o.key))
	had := record{}
	sum := hex.EncodeToString(hash[:])
	kept := r.keptAt(o, sum)
	if text, err := os.ReadFile(kept); kept != "" && err == nil && json.Unmarshal(text, &had) == nil && had.Fixture == o.name && had.Input == sum {
		v.Summary = had.Summary
		return v, nil
	}
	variant := o.vary()
	if v.wrong = variant.Notes; v.wrong.HasErrors() {
		v.wrong = variant.Own(v.wrong)
		return v, nil
	}
	var how []job.Input
	if r.out == "" {
		how = append(how, job.Brief(seen))
	}
	j, err := job.Compute(ctx, variant.Fixture, func(string) {}, how...)
	switch {
	case ctx.Err() != nil:
		return v, ctx.Err()
	case errors.As(err, &v.wrong):
		v.wrong = variant.Own(v.wrong)
		return v, nil
	case err != nil:
		v.wrong.Errorf(diag.Range{File: o.in.name, Line: 1, Col: 1}, "%s: %v", o.name, err)
		return v, nil
	}
	j.Notes = variant.Notes
	v.Summary, v.wrong = export.Summarize(o.name, j), nil
	if kept == "" {
		return v, nil
	}
	text, _ := json.Marshal(record{sum, v.Summary}) // holds plain values only
	if err := r.keep(ctx, j, kept, append(text, '\n')); err != nil {
		return v, &outcome{exitFailed, err.Error()}
	}
	return v, nil
}

// keep writes the record of a fixture, with all files where it is made.
func (r *manyRun) keep(ctx context.Context, j *job.Job, at string, text []byte) error {
	if r.out == "" {
		return folder.WriteFile(ctx, at, text)
	}
	plan, err := export.Plan(j, export.Options{Version: mark.Version(), Fixture: j.Fixture.Plain, Cut: j.Verdict() != finding.Fail || r.anyway})
	if err != nil {
		return err
	}
	plan.Add(filepath.Base(at), folder.Bytes(text))
	_, err = folder.Write(ctx, filepath.Dir(at), plan)
	return err
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
		}
		if !v.wrong.HasErrors() && (r.out != "" || !r.lines) {
			r.rows = append(r.rows, v.Row())
		}
	}
}

// end prints the table, writes it beside the folders, and decides the exit code.
func (r *manyRun) end(ctx context.Context) error {
	r.ui.stepDone()
	table := append([][]string{export.SummaryHead}, r.rows...)
	if !r.ui.quiet && !r.lines && len(r.rows) > 0 {
		r.ui.lines(words.Table(math.MaxInt, table[0], table[1:]))
	}
	if r.out != "" {
		var p folder.Contents
		p.Add("summary.csv", func(w io.Writer) error { return lists.Encode(w, table) })
		if _, err := folder.Write(ctx, filepath.Join(r.out, summaryDir), p); err != nil {
			return &outcome{exitFailed, err.Error()}
		}
	}
	switch {
	case r.wrong:
		return &outcome{exitInput, ""}
	case r.fouled:
		return &outcome{exitFouled, ""}
	}
	return nil
}
