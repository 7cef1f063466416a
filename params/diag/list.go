package diag

import (
	"fmt"
	"slices"
	"strings"
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
	seen := map[string]bool{}
	*l = slices.DeleteFunc(*l, func(d Diagnostic) bool {
		k := fmt.Sprintf("%#v", d)
		dup := seen[k]
		seen[k] = true
		return dup
	})
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

// Tally returns "2 errors, 1 warning", leaving out what is zero; "" when the
// list holds neither.
func (l List) Tally() string {
	var parts []string
	for _, s := range []Severity{Error, Warning} {
		switch n := l.Count(s); {
		case n == 1:
			parts = append(parts, "1 "+s.String())
		case n > 1:
			parts = append(parts, fmt.Sprintf("%d %ss", n, s))
		}
	}
	return strings.Join(parts, ", ")
}
