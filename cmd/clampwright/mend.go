package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/assembly/remedy"
	"clampwright/export/compare"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/number"
	"clampwright/params/words"
)

func mendCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "mend",
		Usage:     "the smallest change of the file with which nothing fails",
		ArgsUsage: "FILE",
		Description: "Looks for the fewest changes with which nothing fails, clears what it can of that\n" +
			"which only warns, and proves them on the whole fixture. It changes what the clamp is\n" +
			"made of; never the cells, what is asked for, or what the shop has. The file itself\n" +
			"is left alone; --write saves the changed text as another.\n" +
			"Example: clampwright mend --write mended.yaml pack.yaml",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "write", Usage: "save the file with the first answer's changes under this name"},
		},
		Action: func(c *cli.Context) error {
			name, err := oneFile(c)
			if err != nil {
				return err
			}
			return mendFile(c.Context, ui, name, c.String("write"))
		},
	}
}

// mostAnswers is how many answers that differ in kind are told.
const mostAnswers = 3

func mendFile(ctx context.Context, ui *console, name, write string) error {
	if err := mayWrite(write, name); err != nil {
		return err
	}
	in, err := readAll(ctx, ui, name)
	if err != nil {
		return err
	}
	was, err := computeFixture(ctx, ui, in, job.WithAnswers(mostAnswers))
	if err != nil {
		return err
	}
	found := was.Mended.Patches
	if len(found) == 0 {
		return printUnmended(ui, was)
	}
	var best []byte
	for i := range found {
		text, now, err := mended(ctx, ui, in, &found[i])
		if err != nil {
			return err
		}
		if i == 0 {
			best = text
		} else {
			ui.say("\nAnother way:")
		}
		printPatch(ui, in, text, &found[i])
		printBurden(ui, was, now)
	}
	if write == "" {
		return nil
	}
	if best, err = params.Rebase(in.name, best, folderOf(name), filepath.Dir(write)); err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	if err := saveFile(ctx, write, best); err != nil {
		return err
	}
	ui.say("wrote %s", write)
	return nil
}

// mended is the file's text with a patch, and the job of that text: that nothing fails
// in it is the proof of what is told.
func mended(ctx context.Context, ui *console, in input, p *remedy.Patch) ([]byte, *job.Job, error) {
	text, err := patched(in, p)
	if err != nil {
		return nil, nil, &outcome{exitFailed, err.Error()}
	}
	var wrong diag.List
	in.base, wrong = params.Load(in.name, text, ui.opener(ctx, in.name, new([]string)))
	if err := wrong.Err(); err != nil {
		return nil, nil, &outcome{exitFailed, err.Error()}
	}
	now, err := computeFixture(ctx, ui, in)
	if err == nil && now.Verdict() == finding.Fail {
		err = &outcome{exitFailed, "the changes that were found do not hold in the file as written: " + tell.Sentence(now)}
	}
	return text, now, err
}

// patched makes a patch's changes in the text, with the reasons as comments.
func patched(in input, p *remedy.Patch) ([]byte, error) {
	return params.Edit(in.name, in.text, p.Noted())
}

// printPatch prints a patch: why each edit, then the lines of the file that change.
func printPatch(ui *console, in input, text []byte, p *remedy.Patch) {
	for i, e := range p.Edits {
		ui.para(fmt.Sprintf("%d. ", i+1), "   ", words.Upper(e.Words)+": "+words.Lower(tell.Plain(tell.Said(in.base.Style, e.For)))+".")
	}
	for _, h := range params.Lines(in.text, text) {
		ui.say("%s:%d", in.name, h.Line)
		for _, line := range h.Was {
			ui.say("  was  %s", line)
		}
		for _, line := range h.Is {
			ui.say("%s", strings.TrimRight("  now  "+line, " "))
		}
	}
	if left := leftWords(p.Left); left != "" {
		ui.para("", "", "With that nothing fails. What warns still, and no change was found that clears it: "+left+".")
	} else {
		ui.say("With that every check passes.")
	}
}

// leftWords names what does not pass.
func leftWords(found []finding.Finding) string {
	var out []string
	for _, f := range found {
		if name := f.Name(); f.Verdict != finding.Pass && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return words.Join(out)
}

// printBurden prints what a patch asks for: price and parts.
func printBurden(ui *console, was, now *job.Job) {
	if !was.Cost.Priced && !now.Cost.Priced {
		ui.say("Price: none is known; the file gives none.")
	} else {
		ui.say("Price: %s before, %s after%s", number.Trim(was.Cost.Pay(), 2), strings.TrimSpace(number.Trim(now.Cost.Pay(), 2)+" "+now.Cost.Currency), unpricedWords(now.Cost))
	}
	for _, r := range compare.Parts(was.Assembly, now.Assembly) {
		if r.Action != compare.Keep {
			ui.say("  %-9s%3d  %s: %s", r.Action, r.Quantity, r.Name, r.Why)
		}
	}
}

func unpricedWords(c job.Cost) string {
	if len(c.Unpriced) == 0 {
		return ""
	}
	return fmt.Sprintf("; without a price: %s", few(c.Unpriced, fewFiles))
}

// printAnswer prints, under a verdict that fails, what mends it.
func printAnswer(ui *console, in input, j *job.Job) {
	if j.Verdict() != finding.Fail || ui.quiet {
		return
	}
	if len(j.Mended.Patches) == 0 {
		printTried(ui, j)
		return
	}
	p := &j.Mended.Patches[0]
	text, err := patched(in, p)
	if err != nil {
		ui.para("", "", "This mends it: "+p.Said(j.Fixture)+".")
		return
	}
	ui.say("This mends it; 'clampwright mend' tells price, parts and other ways:")
	printPatch(ui, in, text, p)
}

// printTried says what was tried in vain and what stands in the way.
func printTried(ui *console, j *job.Job) {
	a := &j.Mended
	left := failing(j.Findings)
	tried := fmt.Sprintf("No change of the file was found with which nothing fails; %d were tried", a.Tried)
	if a.Cut {
		tried += ", no more for how long each takes"
	}
	ui.para("", "", tried+".")
	if p := a.Nearest; p != nil {
		ui.para("", "", "Nearest: "+p.Said(j.Fixture)+".")
		left = failing(p.Left)
	}
	ui.say("What stands in the way:")
	for _, f := range left {
		ui.para("  ", "  ", tell.Plain(tell.Said(j.Fixture.Style, f)))
		ui.advice(j.Fixture.Style, f)
	}
}

// printUnmended ends mend without an answer.
func printUnmended(ui *console, j *job.Job) error {
	if j.Verdict() == finding.Fail {
		printTried(ui, j)
		return &outcome{exitFouled, ""}
	}
	if left := leftWords(j.Findings); left != "" {
		ui.para("", "", "Nothing fails. What warns, and no change was found that clears it: "+left+".")
	} else {
		ui.say("Nothing to mend: every check passes.")
	}
	return nil
}
