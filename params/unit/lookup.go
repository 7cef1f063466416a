package unit

import (
	"slices"
	"strings"
)

// find returns the unit of the given name. Spelling is tried as it stands, then
// without regard to case where that can't confuse a prefix: M and m differ by
// nine powers of ten.
func (k *kind) find(name string) (measure, bool) {
	if name == "" || isJoint([]rune(name)[0]) {
		return measure{}, false
	}
	name = canonical(name)
	for _, m := range k.measures {
		for _, n := range m.names {
			if canonical(n) == name {
				return m, true
			}
		}
	}
	for _, m := range k.measures {
		for _, n := range m.names {
			if c := canonical(n); strings.EqualFold(c, name) && !confusesPrefix(c, name) {
				return m, true
			}
		}
	}
	return measure{}, false
}

// confusesPrefix reports whether two spellings that are equal but for case
// begin with the letter m in different case.
func confusesPrefix(a, b string) bool {
	return a != "" && b != "" && strings.EqualFold(a[:1], "m") && a[0] != b[0]
}

// canonical writes products one way: N·m, N*m, N m and N-m become N.m; spaces
// round a slash go.
func canonical(name string) string {
	var b strings.Builder
	for _, f := range strings.FieldsFunc(name, isJoint) {
		if b.Len() > 0 && !strings.HasSuffix(b.String(), "/") && !strings.HasPrefix(f, "/") {
			b.WriteByte('.')
		}
		b.WriteString(f)
	}
	return b.String()
}

func isJoint(c rune) bool {
	switch c {
	case '.', '-', '*', ' ', '\u00a0', '\u00b7', '\u22c5', '\u2010', '\u2011':
		return true
	}
	return false
}

// other is the quantity that a unit, exactly as it stands, belongs to when that is
// not k, or nil.
func (k *kind) other(name string) *kind {
	for _, o := range []*kind{lengths, forces, pressures, masses, torques, temperatures, stiffnesses} {
		for _, m := range o.measures {
			if o != k && slices.Contains(m.names, name) {
				return o
			}
		}
	}
	return nil
}

// hint names the unit that is probably meant by one of another quantity, or is "".
func (k *kind) hint(name string) string {
	h, ok := k.hints[name]
	if !ok {
		return ""
	}
	return `did you mean "` + h + `"?`
}

// suggest returns what to write instead of an unknown unit, "" when no unit is
// near.
func (k *kind) suggest(name string) string {
	if h := k.hint(name); h != "" {
		return h
	}
	best, bestDist := "", 2
	if len(name) > 3 {
		bestDist = 3
	}
	for _, m := range k.measures {
		for _, n := range m.names {
			d := editDistance(strings.ToLower(name), strings.ToLower(n))
			if d < bestDist && d < len(n) {
				best, bestDist = m.names[0], d
			}
		}
	}
	if best == "" {
		return ""
	}
	return `did you mean "` + best + `"?`
}

// editDistance counts insertions, deletions and substitutions (Levenshtein),
// in bytes: unit names are short and nearly all ASCII.
func editDistance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// list is the unit names for a message.
func (k *kind) list() string {
	names := make([]string, len(k.measures))
	for i, m := range k.measures {
		names[i] = m.names[0]
	}
	return strings.Join(names, ", ")
}
