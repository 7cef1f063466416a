// Package diag holds what the program has to say about the user's files:
// diagnostics are values with a position, collected over a whole run, sorted,
// and rendered in one place. Nothing here prints.
package diag

import (
	"fmt"
	"strings"
)

// Severity is how bad a diagnostic is. The zero value is Error.
type Severity int

// The severities, gravest first.
const (
	Error   Severity = iota // the input can't be used
	Warning                 // usable, but probably not what was meant
	Note                    // worth knowing
)

// String returns "error", "warning" or "note".
func (s Severity) String() string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	case Note:
		return "note"
	}
	return fmt.Sprintf("severity %d", int(s))
}

// Range is a stretch of text in a file. Lines and columns count from 1; columns
// count characters (runes), not bytes. The end is exclusive; a zero end means
// one character. Line 0 is the file as a whole, an empty File no file at all.
type Range struct {
	File            string
	Line, Col       int
	EndLine, EndCol int
}

// String returns "file:line:col", leaving out what is not known.
func (r Range) String() string {
	switch {
	case r.Line <= 0:
		return r.File
	case r.Col <= 0:
		return fmt.Sprintf("%s:%d", r.File, r.Line)
	}
	return strings.TrimPrefix(fmt.Sprintf("%s:%d:%d", r.File, r.Line, r.Col), ":")
}

// Place returns "line:col": the range without its file, for what has to read the
// same whatever the file is called.
func (r Range) Place() string {
	r.File = ""
	return r.String()
}

// IsZero reports whether the range says nothing.
func (r Range) IsZero() bool { return r == Range{} }

// compare orders ranges by file, then by position.
func (r Range) compare(o Range) int {
	switch {
	case r.File != o.File:
		return compare(r.File, o.File)
	case r.Line != o.Line:
		return compare(r.Line, o.Line)
	case r.Col != o.Col:
		return compare(r.Col, o.Col)
	case r.EndLine != o.EndLine:
		return compare(r.EndLine, o.EndLine)
	}
	return compare(r.EndCol, o.EndCol)
}

func compare[T int | string](a, b T) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// Diagnostic is one thing to say about the input. Summary is a short sentence
// without a full stop; Found quotes what stands there, Expected says what would
// be accepted, Suggestion what to write instead. All but Summary may be empty.
type Diagnostic struct {
	Severity   Severity
	Summary    string
	Found      string
	Expected   string
	Suggestion string
	Range      Range
	// Related are the other places that contribute, such as the second of two
	// values that contradict each other.
	Related []Range
}

// String returns the first line of the rendered diagnostic, without colour.
func (d Diagnostic) String() string {
	s := d.Severity.String() + ": " + clean(d.Summary)
	if at := d.Range.String(); at != "" {
		s = clean(at) + ": " + s
	}
	return s
}

// Error implements error.
func (d Diagnostic) Error() string { return d.String() }

// Line is the diagnostic on one line, without its excerpt.
func (d Diagnostic) Line() string {
	s := d.String()
	for _, more := range []struct{ label, text string }{{"found", d.Found}, {"expected", d.Expected}, {"", d.Suggestion}} {
		if more.text == "" || more.label == "expected" && d.Suggestion != "" {
			continue
		}
		s += "; " + clean(strings.TrimSpace(more.label+" "+more.text))
	}
	return s
}
