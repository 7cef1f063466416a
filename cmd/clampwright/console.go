package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"
	"unicode/utf8"

	"golang.org/x/term"

	"clampwright/params/diag"
	"clampwright/params/words"
)

// console is the only thing in the program that prints.
type console struct {
	out, err io.Writer
	quiet    bool
	verbose  bool
	width    int               // of standard output, characters
	outColor bool              // on standard output
	color    bool              // on standard error
	tty      bool              // standard error is a terminal: progress may be drawn
	terse    bool              // diagnostics on one line each, without excerpts
	texts    map[string]string // of the files read, for excerpts
}

// sink remembers the first error of its writer, so that printing need not look.
type sink struct {
	w   io.Writer
	err error
}

func (s *sink) Write(p []byte) (int, error) {
	if s.err != nil {
		return 0, s.err
	}
	n, err := s.w.Write(p)
	s.err = err
	return n, err
}

// columns is how wide the output is where it is no terminal; least is what a
// narrower one is taken for.
const (
	columns      = 80
	leastColumns = 40
)

func newConsole(out, err *os.File) *console {
	c := &console{out: out, err: err, width: columns, tty: term.IsTerminal(int(err.Fd()))}
	plain := os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb"
	c.color, c.outColor = c.tty && !plain, term.IsTerminal(int(out.Fd())) && !plain
	if w, _, err := term.GetSize(int(out.Fd())); err == nil {
		c.width = max(w, leastColumns)
	}
	return c
}

// say prints a line of result unless the run is quiet.
func (c *console) say(format string, args ...any) {
	if !c.quiet {
		c.print(format, args...)
	}
}

// print prints a line of result in any run.
func (c *console) print(format string, args ...any) { fmt.Fprintf(c.out, format+"\n", args...) }

// table prints rows under a head, wrapped to the output's width.
func (c *console) table(head []string, rows [][]string) { c.lines(words.Table(c.width, head, rows)) }

// lines prints each of some lines.
func (c *console) lines(all []string) {
	for _, line := range all {
		c.print("%s", line)
	}
}

// para prints a text in any run, wrapped to the output's width, the first line
// after one lead and the others after another. Leads have no width but their
// letters' own.
func (c *console) para(first, rest, text string) {
	line, used, fresh := first, plainWidth(first), true
	for _, word := range strings.Split(words.Tied(text), " ") {
		word = words.Untied(word)
		n := utf8.RuneCountInString(word)
		switch {
		case fresh:
		case used+1+n > c.width:
			c.print("%s", line)
			line, used = rest, plainWidth(rest)
		default:
			word, n = " "+word, n+1
		}
		line, used, fresh = line+word, used+n, false
	}
	c.print("%s", line)
}

// escapes are the colours of a terminal.
var escapes = regexp.MustCompile("\x1b\\[[0-9;]*m")

func plainWidth(s string) int { return utf8.RuneCountInString(escapes.ReplaceAllString(s, "")) }

// fail prints a line that is never silenced.
func (c *console) fail(text string) {
	label := "clampwright:"
	if c.color {
		label = "\x1b[31m" + label + "\x1b[0m"
	}
	fmt.Fprintf(c.err, "%s %s\n", label, text)
}

// step shows what is being done, on a terminal only.
func (c *console) step(text string) {
	if c.tty && !c.quiet {
		fmt.Fprintf(c.err, "\r\x1b[K%s", text)
	}
}

// stepDone wipes the progress line.
func (c *console) stepDone() { c.step("") }

// diagnostics prints the list with excerpts from the file.
func (c *console) diagnostics(l diag.List, name string, text []byte) {
	if c.quiet && !l.HasErrors() {
		return
	}
	if c.terse {
		for _, d := range l {
			fmt.Fprintln(c.err, d.Line())
		}
		return
	}
	c.source(name, text)
	_ = l.Render(c.err, c.texts, c.color)
}

// source keeps the text of a file for the excerpts of messages on it.
func (c *console) source(name string, text []byte) {
	if c.texts == nil {
		c.texts = map[string]string{}
	}
	c.texts[name] = string(bytes.TrimPrefix(text, []byte("\uFEFF"))) // columns count without it
}

// few joins the first names and counts the others.
func few(names []string, most int) string {
	if len(names) <= most+1 { // one more name is no longer than its count
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}
