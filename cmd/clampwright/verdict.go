package main

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/words"
)

// mostDecisions is how many findings are printed before they are counted.
const mostDecisions = 5

// hang is how far the lines under a finding are set in.
const hang = "      "

// printVerdict prints the verdict with its share, then what must be decided, then
// the clamp in two lines. Asked for everything, it leaves nothing out; a quiet run
// prints only what fails.
func printVerdict(ui *console, j *job.Job) {
	if ui.quiet {
		ui.decisions(j.Fixture.Style, failing(j.Findings), len(j.Findings))
		return
	}
	ui.para("", "", j.Fixture.Name+": "+tell.Plain(tell.Sentence(j)))
	if ui.verbose {
		ui.everything(j)
	} else {
		open := slices.DeleteFunc(slices.Clone(j.Findings), func(f finding.Finding) bool { return f.Verdict == finding.Pass })
		slices.SortStableFunc(open, func(a, b finding.Finding) int { return rank(a) - rank(b) })
		ui.decisions(j.Fixture.Style, open, mostDecisions)
		for _, f := range j.Findings { // a piece that was measured is told of, good or not
			if f.ID == "first-article" && f.Verdict == finding.Pass {
				ui.para("", hang, f.Why)
			}
		}
		ui.para("", hang, tell.Pressing(j))
		ui.para("", hang, "Set: "+strings.Join(tell.SettingFigures(j), "; ")+".")
		if read := tell.Readings(j); len(read) > 0 {
			ui.say("The readings at the clamp tell:")
			for _, s := range append(words.NonEmpty(tell.Rests(j)), read...) {
				ui.para("      ", hang, s)
			}
		}
	}
	count := map[finding.Verdict]int{}
	for _, f := range j.Findings {
		count[f.Verdict]++
	}
	more := ""
	if !ui.verbose {
		more = "; --verbose shows them"
	}
	ui.say("%d checks pass, %d warn, %d fail%s", count[finding.Pass], count[finding.Warn], count[finding.Fail], more)
}

// rank puts what fails before what only warns.
func rank(f finding.Finding) int {
	if f.Verdict == finding.Fail {
		return 0
	}
	return 1
}

// failing are the findings that fail.
func failing(all []finding.Finding) []finding.Finding {
	return slices.DeleteFunc(slices.Clone(all), func(f finding.Finding) bool { return f.Verdict != finding.Fail })
}

// decisions prints findings, each with what to do; after the most it counts.
func (c *console) decisions(s params.Style, open []finding.Finding, most int) {
	for i, f := range open {
		if i == most {
			c.print("%sand %d more that fail or warn", hang, len(open)-most)
			return
		}
		also := ""
		if n := len(f.Also); n > 0 {
			also = fmt.Sprintf(", and at %d more", n)
		}
		c.para(c.word(f.Verdict)+"  ", hang, tell.Plain(tell.Said(s, f))+also)
		c.advice(s, f)
	}
}

// advice prints what a finding says to do; what mends it is printed once, for all.
func (c *console) advice(s params.Style, f finding.Finding) {
	if f.Remedy == nil && f.Hint != "" {
		c.para(hang+"-> ", hang+"   ", s.Say(f.Hint))
	}
}

// everything prints each finding with why it matters, and the clamp in full.
func (c *console) everything(j *job.Job) {
	for _, f := range j.Findings {
		c.para(c.word(f.Verdict)+"  ", hang, string(f.Group)+": "+tell.Plain(tell.Said(j.Fixture.Style, f)))
		if f.Verdict != finding.Pass {
			c.para(hang, hang, j.Fixture.Style.Say(f.Why))
			c.advice(j.Fixture.Style, f)
		}
		if len(f.Also) > 0 {
			c.para(hang+"also ", hang+"     ", tell.Plain(strings.Join(f.Also, ", ")))
		}
	}
	for _, line := range tell.ClampLines(j) {
		c.para("", hang, line)
	}
}

// colours of a verdict on a terminal.
var colours = map[finding.Verdict]string{finding.Pass: "\x1b[32m", finding.Warn: "\x1b[33m", finding.Fail: "\x1b[31m"}

// word is a verdict as it is printed, four letters wide.
func (c *console) word(v finding.Verdict) string {
	word := map[finding.Verdict]string{finding.Pass: "pass", finding.Warn: "WARN", finding.Fail: "FAIL"}[v]
	if c.outColor {
		return colours[v] + word + "\x1b[0m"
	}
	return word
}
