package params

import (
	"fmt"
	"reflect"
	"strings"

	"clampwright/params/diag"
)

// Changed says which values of a parameter file differ in a later text of it, in
// the order of the keys: "plates.thickness: 18 mm -> 15 mm". Comments and spelling
// don't count. It is empty for a text that can't be read.
func Changed(was, is []byte) []string {
	a, _ := Decode("", was)
	b, _ := Decode("", is)
	if a == nil || b == nil {
		return nil
	}
	c := changes{was: textLines(was), is: textLines(is)}
	c.value(reflect.ValueOf(a).Elem(), reflect.ValueOf(b).Elem(), &field{kind: kindBlock}, "")
	return c.out
}

// changes collects the differences of two texts.
type changes struct {
	was, is []string
	out     []string
}

func (c *changes) say(path, was, is string) {
	c.out = append(c.out, fmt.Sprintf("%s: %s -> %s", path, was, is))
}

func (c *changes) value(a, b reflect.Value, f *field, path string) {
	switch {
	case sameValue(a, b):
	case f.kind == kindList && a.Len() != b.Len():
		c.say(path, items(a.Len()), items(b.Len()))
	case f.kind == kindList:
		item := *f
		item.kind = f.elem
		for i := range a.Len() {
			c.value(a.Index(i), b.Index(i), &item, fmt.Sprintf("%s[%d]", path, i))
		}
	case f.kind == kindBlock:
		c.block(a, b, path)
	default:
		c.say(path, scalarIn(a, c.was), scalarIn(b, c.is))
	}
}

func (c *changes) block(a, b reflect.Value, path string) {
	x, y := sectionOf(a), sectionOf(b)
	if x.None != y.None {
		c.say(path, presence(x), presence(y))
		return
	}
	n := len(c.out)
	for _, sub := range fieldsOf(a.Type()).list {
		c.value(a.Field(sub.index), b.Field(sub.index), sub, join(path, sub.key))
	}
	if len(c.out) == n && x.Present != y.Present {
		c.say(path, presence(x), presence(y))
	}
}

func sectionOf(v reflect.Value) Section {
	if s := v.FieldByName("Section"); s.IsValid() {
		return s.Interface().(Section)
	}
	return Section{}
}

func presence(s Section) string {
	switch {
	case s.None:
		return "none"
	case s.Present:
		return "given"
	}
	return "not given"
}

func items(n int) string {
	if n == 1 {
		return "1 item"
	}
	return fmt.Sprintf("%d items", n)
}

// scalarIn is a value as the text writes it.
func scalarIn(v reflect.Value, lines []string) string {
	if v.Kind() != reflect.Struct { // a plain field of a table row
		return fmt.Sprint(v.Interface())
	}
	at := v.FieldByName("At").Interface().(diag.Range)
	if !v.FieldByName("Set").Bool() || at.Line < 1 || at.Line > len(lines) {
		return "not given"
	}
	return within(lines, at)
}

// within is what a range of one line holds.
func within(lines []string, at diag.Range) string {
	line := []rune(lines[at.Line-1])
	from := min(max(at.Col-1, 0), len(line))
	return strings.TrimSpace(string(line[from:min(max(at.EndCol-1, from), len(line))]))
}

// Written is the value at a path as the text of the fixture's file writes it; empty where
// the file gives none, or more than a scalar or a list in brackets.
func (f *Fixture) Written(path string, text []byte) string {
	at := f.Origin(path).Range
	if lines := textLines(text); f.Gives(path) && at.Line > 0 && at.Line <= len(lines) {
		return strings.Trim(within(lines, at), "\"'")
	}
	return ""
}

func textLines(text []byte) []string {
	plain, _ := plainLines(text)
	return strings.Split(string(plain), "\n")
}

// Hunk is a run of lines that differ: from line Line of the earlier text, Was in the
// place of which Is stands.
type Hunk struct {
	Line    int
	Was, Is []string
}

// mostCompared bounds the table of Lines; texts that differ by more are one hunk.
const mostCompared = 4 << 20

// Lines are the lines in which two texts differ, as few as can be.
func Lines(was, is []byte) (out []Hunk) {
	a, b := textLines(was), textLines(is)
	from := 0
	for from < min(len(a), len(b)) && a[from] == b[from] {
		from++
	}
	a, b = a[from:], b[from:]
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	if (len(a)+1)*(len(b)+1) > mostCompared {
		return []Hunk{{from + 1, a, b}}
	}
	same := commonLines(a, b)
	for i, j := 0, 0; i < len(a) || j < len(b); {
		h := Hunk{Line: from + i + 1}
		for i < len(a) && (j == len(b) || a[i] != b[j] && same[i+1][j] >= same[i][j+1]) || j < len(b) && (i == len(a) || a[i] != b[j]) {
			if i < len(a) && (j == len(b) || same[i+1][j] >= same[i][j+1]) {
				h.Was, i = append(h.Was, a[i]), i+1
			} else {
				h.Is, j = append(h.Is, b[j]), j+1
			}
		}
		if len(h.Was)+len(h.Is) > 0 {
			out = append(out, h)
		}
		for i < len(a) && j < len(b) && a[i] == b[j] {
			i, j = i+1, j+1
		}
	}
	return out
}

// commonLines counts at [i][j] the lines that a from i and b from j have in common.
func commonLines(a, b []string) [][]int {
	same := make([][]int, len(a)+1)
	for i := range same {
		same[i] = make([]int, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if same[i][j] = max(same[i+1][j], same[i][j+1]); a[i] == b[j] {
				same[i][j] = same[i+1][j+1] + 1
			}
		}
	}
	return same
}
