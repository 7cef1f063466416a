package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"clampwright/assembly/check"
	"clampwright/assembly/job"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/words"
)

func explainCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "explain",
		Usage:     "say what a key, a check or a word of the card means",
		ArgsUsage: "WORD [FILE]",
		Description: "A key comes with its limits, its value and where that is from: in FILE, or else\n" +
			"in a plain fixture of four cells. A check comes with the keys that cause it.\n" +
			"Example: clampwright explain rods.clearance pack.yaml",
		Action: func(c *cli.Context) error {
			if n := c.NArg(); n < 1 || n > 2 {
				return &outcome{exitInput, "which word? For example: clampwright explain rods.clearance"}
			}
			return explain(c.Context, ui, c.Args().First(), c.Args().Get(1))
		},
	}
}

// explain prints all that a word may mean.
func explain(ctx context.Context, ui *console, word, file string) error {
	j, err := explained(ctx, ui, file)
	if err != nil {
		return err
	}
	return ui.explain(j, word, file)
}

// explain tells a word from a job.
func (ui *console) explain(j *job.Job, word, file string) error {
	found, known := false, []string{}
	keys, exact := params.Keys(), false
	plain := strings.NewReplacer("[]", "")
	key, id := strings.ReplaceAll(plain.Replace(word), " ", "_"), strings.ReplaceAll(word, " ", "-")
	for _, p := range keys {
		known = append(known, plain.Replace(p.Path))
		exact = exact || known[len(known)-1] == key
	}
	for i, p := range keys {
		if known[i] == key || !exact && (strings.HasSuffix(known[i], "."+key) || strings.HasSuffix(known[i], "."+key+"s")) {
			ui.key(p, j, file)
			found = true
		}
	}
	for _, r := range check.Rules() {
		known = append(known, string(r.ID))
		if string(r.ID) == id {
			ui.rule(r, j)
			found = true
		}
	}
	for _, f := range j.Findings {
		if slices.Contains(known, string(f.ID)) {
			continue
		}
		known = append(known, string(f.ID))
		if string(f.ID) == id || string(f.ID) == "clamp-"+id {
			ui.rule(check.Rule{ID: f.ID, Why: f.Why, Causes: f.Params}, j)
			found = true
		}
	}
	for _, g := range tell.Glossary {
		known = append(known, g.Word)
		if strings.EqualFold(g.Word, strings.TrimSuffix(word, "s")) || strings.EqualFold(g.Word, word) {
			ui.para("", hang, g.Word+": "+g.Means)
			found = true
		}
	}
	if found {
		return nil
	}
	text := fmt.Sprintf("there is no key, check or word %q", word)
	if near, ok := diag.Nearest(word, known); ok {
		text += fmt.Sprintf("; did you mean %q?", near)
	}
	return &outcome{exitInput, text}
}

// explained is the job that values are told from: the file's, or a plain one.
func explained(ctx context.Context, ui *console, file string) (*job.Job, error) {
	if file != "" {
		return compute(ctx, ui, file)
	}
	text, _, err := params.Starter(params.StarterOptions{})
	if err != nil {
		return nil, err
	}
	f, diags := params.Load("starter", text)
	if diags.HasErrors() {
		return nil, diags
	}
	return job.Compute(ctx, f, func(string) {})
}

// key prints a key of the parameter file.
func (c *console) key(p params.PathInfo, j *job.Job, file string) {
	c.para("", hang, p.Path+": "+words.First(p.Doc, column(p.Path))+".")
	accepts := words.First(p.Kind, "a block")
	switch {
	case len(p.Words) > 0:
		accepts = strings.Join(p.Words, ", ")
	case len(p.Keys) > 0:
		accepts = strings.TrimSpace(accepts + " with the keys " + strings.Join(p.Keys, ", "))
	}
	c.para(hang, hang, "Accepts: "+accepts+p.Limits+".")
	if p.Example != "" {
		c.para(hang, hang, "Example: "+inPlace(p.Path, p.Example))
	}
	where := "in a plain fixture of four cells"
	if file != "" {
		where = "in " + file
	}
	if o := j.Fixture.Origin(p.Path); o.Text != "" {
		note := ""
		if o.Note != "" {
			note = ": " + o.Note
		}
		c.para(hang, hang, fmt.Sprintf("Value %s: %s (%s%s).", where, o.Text, o.Kind, note))
	}
	var moves []string
	for _, r := range check.Rules() {
		if slices.Contains(r.Causes, p.Path) {
			moves = append(moves, string(r.ID))
		}
	}
	if len(moves) > 0 {
		c.para(hang, hang, "Checks it moves: "+strings.Join(moves, ", ")+".")
	}
}

// rule prints a check with what it finds in the job.
func (c *console) rule(r check.Rule, j *job.Job) {
	c.para("", hang, string(r.ID)+": "+strings.TrimSuffix(words.Upper(r.Why), ".")+".")
	if len(r.Causes) > 0 {
		c.para(hang, hang, "Keys that cause it: "+strings.Join(r.Causes, ", ")+".")
	}
	for _, f := range j.Findings {
		if f.ID == r.ID {
			c.para(hang, hang, c.word(f.Verdict)+"  "+tell.Plain(tell.Said(j.Fixture.Style, f)))
		}
	}
}

// column says what a key of a table's rows is.
func column(path string) string {
	table, _, _ := strings.Cut(strings.TrimPrefix(path, "tables."), "[]")
	return "a column of the " + table + " table, which 'clampwright list " + table + "' prints with the source of every row"
}

// inPlace is a value with the blocks and lists that it stands in.
func inPlace(path, value string) string {
	at := strings.Split(path, ".")
	for i, key := range slices.Backward(at) {
		if name, list := strings.CutSuffix(key, "[]"); list {
			key, value = name, "["+value+"]"
		}
		if value = key + ": " + value; i > 0 {
			value = "{" + value + "}"
		}
	}
	return value
}
