package diag

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"
)

// List is the diagnostics of a run. The nil list is empty and ready to use.
type List []Diagnostic

// Add appends diagnostics.
func (l *List) Add(ds ...Diagnostic) { *l = append(*l, ds...) }

// Errorf appends an error at the range, with nothing but a summary.
func (l *List) Errorf(at Range, format string, args ...any) {
	l.Add(Diagnostic{Severity: Error, Summary: fmt.Sprintf(format, args...), Range: at})
}

// Sort orders the list by file and position, graver first at one position, and
// drops exact repetitions. Diagnostics that tie keep their order.
func (l *List) Sort() {
	slices.SortStableFunc(*l, func(a, b Diagnostic) int {
		if c := a.Range.compare(b.Range); c != 0 {
			return c
		}
		return compare(int(a.Severity), int(b.Severity))
	})
	kept := (*l)[:0]
	for _, d := range *l {
		twice := false
		for i := len(kept) - 1; i >= 0 && kept[i].Range == d.Range && !twice; i-- {
			twice = reflect.DeepEqual(kept[i], d)
		}
		if !twice {
			kept = append(kept, d)
		}
	}
	*l = kept
}

// NotUTF8 is the error of a text that is not UTF-8, at its first wrong byte; empty
// for one that is.
func NotUTF8(file string, text []byte) List {
	if utf8.Valid(text) {
		return nil
	}
	n := 0
	for n < len(text) {
		c, size := utf8.DecodeRune(text[n:])
		if c == utf8.RuneError && size < 2 {
			break
		}
		n += size
	}
	line := text[bytes.LastIndexByte(text[:n], '\n')+1 : n]
	return List{{Summary: "the file is not UTF-8 text", Found: fmt.Sprintf("the byte %#02x", text[n]), Expected: "text in UTF-8", Suggestion: "save it anew as UTF-8",
		Range: Range{File: file, Line: 1 + bytes.Count(text[:n], []byte("\n")), Col: 1 + utf8.RuneCount(line)}}}
}

// Count returns how many diagnostics have the severity.
func (l List) Count(s Severity) int {
	n := 0
	for _, d := range l {
		if d.Severity == s {
			n++
		}
	}
	return n
}

// HasErrors reports whether any diagnostic is an Error.
func (l List) HasErrors() bool { return l.Count(Error) > 0 }

// Err returns the list as an error when it has errors, and nil otherwise.
func (l List) Err() error {
	if !l.HasErrors() {
		return nil
	}
	return l
}

// Error implements error: one line for each diagnostic, without excerpts. A
// list without errors is not an error; use Err to get nil then.
func (l List) Error() string {
	if len(l) == 0 {
		return "no diagnostics"
	}
	lines := make([]string, len(l))
	for i, d := range l {
		lines[i] = d.String()
	}
	return strings.Join(lines, "\n")
}
