package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"strings"

	"clampwright/params/diag"
)

// console is the only thing in the program that prints.
type console struct {
	out, err io.Writer
	quiet    bool
	color    bool // on standard error
	tty      bool // standard error is a terminal: progress may be drawn
	terse    bool // diagnostics on one line each, without excerpts
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

func newConsole(out, err *os.File) *console {
	tty := isTerminal(err)
	return &console{out: out, err: err, tty: tty, color: tty && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"}
}

func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// say prints a line of result unless the run is quiet.
func (c *console) say(format string, args ...any) {
	if !c.quiet {
		fmt.Fprintf(c.out, format+"\n", args...)
	}
}

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
			fmt.Fprintln(c.err, oneLine(d))
		}
		return
	}
	text = bytes.TrimPrefix(text, []byte("\uFEFF")) // columns count without it
	_ = l.Render(c.err, map[string]string{name: string(text)}, c.color)
}

// oneLine is a diagnostic without its excerpt.
func oneLine(d diag.Diagnostic) string {
	s := d.String()
	for _, more := range []struct{ label, text string }{{"found", d.Found}, {"expected", d.Expected}, {"", d.Suggestion}} {
		if more.text == "" || more.label == "expected" && d.Suggestion != "" {
			continue
		}
		s += "; " + strings.TrimSpace(more.label+" "+more.text)
	}
	return strings.ReplaceAll(s, "\n", " ")
}

// few joins the first names and counts the others.
func few(names []string, most int) string {
	if len(names) <= most+1 { // one more name is no longer than its count
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}
