package diag

import (
	"fmt"
	"io"
	"strings"
)

// Colours are the select-graphic-rendition sequences of ECMA-48.
const (
	styleBold   = "\x1b[1m"
	styleRed    = "\x1b[1;31m"
	styleYellow = "\x1b[1;33m"
	styleCyan   = "\x1b[1;36m"
	styleOff    = "\x1b[0m"
)

// MostTold is how many diagnostics are shown at once.
const MostTold = 100

// Render writes the diagnostics of the list, in its order, as many as MostTold:
//
//	fixture.yaml:3:9: error: rods.thread is not in the threads table
//	    3 |   thread: M7
//	      |           ^~
//	      found: "M7"
//	      expected: a thread, such as M8
//	      suggestion: did you mean "M8"?
//	      also: fixture.yaml:9:5
//	    9 |     hole: 9 mm
//	      |     ^~~~
//
// sources maps a Range's File to its text; a file that is not there is quoted
// by position only. Control characters of the input are shown as U+FFFD, so
// that a file can't send commands to the terminal. color adds ECMA-48 colours.
// The error is that of w.
func (l List) Render(w io.Writer, sources map[string]string, color bool) error {
	var b strings.Builder
	r := renderer{out: &b, sources: sources, color: color, lines: map[string][][]rune{}}
	for i, d := range l {
		if i > 0 {
			b.WriteByte('\n')
		}
		if i == MostTold {
			fmt.Fprintf(&b, "%d more are not shown: mend those above first\n", len(l)-i)
			break
		}
		r.diagnostic(d)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// renderer writes into memory, which can't fail.
type renderer struct {
	out     *strings.Builder
	sources map[string]string
	color   bool
	lines   map[string][][]rune // split sources
}

func (r *renderer) diagnostic(d Diagnostic) {
	if at := d.Range.String(); at != "" {
		r.out.WriteString(r.paint(styleBold, clean(at)) + ": ")
	}
	s := severityStyle(d.Severity)
	fmt.Fprintf(r.out, "%s %s\n", r.paint(s, d.Severity.String()+":"), r.paint(styleBold, clean(d.Summary)))
	r.excerpt(d.Range, s)
	r.detail("found", d.Found)
	r.detail("expected", d.Expected)
	r.detail("suggestion", d.Suggestion)
	for _, at := range d.Related {
		r.detail("also", at.String())
		r.excerpt(at, styleCyan)
	}
}

func (r *renderer) detail(label, text string) {
	if text != "" {
		fmt.Fprintf(r.out, "%s%s: %s\n", detailIndent, label, clean(text))
	}
}

// detailIndent puts details under the text of the excerpt's gutter.
const detailIndent = "      "

// excerpt writes the line of the range and the marks under it.
func (r *renderer) excerpt(at Range, style string) {
	line, ok := r.line(at)
	if !ok {
		return
	}
	text, col, end := window(line, at)
	pad, marks := underline(text, col, end)
	fmt.Fprintf(r.out, "%5d | %s\n", at.Line, showLine(text))
	fmt.Fprintf(r.out, "      | %s%s\n", pad, r.paint(style, marks))
}

// line returns the text of the range's first line.
func (r *renderer) line(at Range) ([]rune, bool) {
	src, ok := r.sources[at.File]
	if !ok || at.Line < 1 {
		return nil, false
	}
	lines, split := r.lines[at.File]
	if !split {
		for line := range strings.SplitSeq(src, "\n") {
			lines = append(lines, []rune(strings.TrimSuffix(line, "\r")))
		}
		r.lines[at.File] = lines
	}
	if at.Line > len(lines) {
		return nil, false
	}
	return lines[at.Line-1], true
}

func (r *renderer) paint(style, text string) string {
	if !r.color || text == "" {
		return text
	}
	return style + text + styleOff
}

func severityStyle(s Severity) string {
	switch s {
	case Error:
		return styleRed
	case Warning:
		return styleYellow
	}
	return styleCyan
}
