package params

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"clampwright/params/diag"
	"clampwright/params/unit"
)

// Change is one value to write into a parameter file: a key of a block
// ("plates.material", "tools.pliers.room") or a whole block ("springs"). Value is
// YAML as it stands behind the colon, or empty to take the key out. Why becomes a
// comment; with an empty Value, the lines taken out stay as comments below it.
type Change struct{ Path, Value, Why string }

// Edit makes changes in the text of a parameter file and leaves all else as it
// stands, comments and line endings included; only a block written in braces is
// spread over lines when a key of it changes. A change to the value that stands
// there already changes nothing. Lines that are replaced or taken out stay as
// comments where somebody had written a comment on them. It fails on a text that
// does not decode.
func Edit(name string, text []byte, changes []Change) ([]byte, error) {
	body, endings := plainLines(text)
	for _, c := range changes {
		edited, err := edit(name, body, c)
		if err != nil {
			return nil, err
		}
		if !sameAt(name, body, edited, c.Path) {
			body = edited
		}
	}
	if _, diags := Decode(name, body); diags.HasErrors() {
		return nil, fmt.Errorf("the changed file does not read back: %w", diags)
	}
	return endings(body), nil
}

// plainLines takes the byte order mark and the carriage returns off a text whose
// lines end with them; endings puts them back.
func plainLines(text []byte) (plain []byte, endings func([]byte) []byte) {
	plain, marked := bytes.CutPrefix(text, byteOrderMark)
	returns := bytes.Count(plain, []byte("\r\n")) > bytes.Count(plain, []byte("\n"))/2
	if returns {
		plain = bytes.ReplaceAll(plain, []byte("\r\n"), []byte("\n"))
	}
	return plain, func(b []byte) []byte {
		if returns {
			b = bytes.ReplaceAll(b, []byte("\n"), []byte("\r\n"))
		}
		if marked {
			b = slices.Concat(byteOrderMark, b)
		}
		return b
	}
}

// sameAt says whether two texts hold the same value at a path.
func sameAt(name string, a, b []byte, path string) bool {
	was, wrong := Decode(name, a)
	is, wrongToo := Decode(name, b)
	if wrong.HasErrors() || wrongToo.HasErrors() {
		return false
	}
	x, _ := fieldAt(was, path)
	y, _ := fieldAt(is, path)
	return x.IsValid() && y.IsValid() && sameValue(x, y)
}

// sameValue compares two values of a file, wherever they stand in it.
func sameValue(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			f := a.Type().Field(i)
			if f.IsExported() && f.Type != reflect.TypeFor[diag.Range]() && !sameValue(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice:
		for i := range min(a.Len(), b.Len()) {
			if !sameValue(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return a.Len() == b.Len()
	case reflect.Float64:
		return math.Abs(a.Float()-b.Float()) <= 1e-9*max(1, math.Abs(a.Float()))
	}
	return a.Equal(b)
}

// edit makes one change.
func edit(name string, text []byte, c Change) ([]byte, error) {
	path := strings.Split(c.Path, ".")
	for {
		d := &decoder{file: name}
		root, ok := d.parse(text)
		if !ok {
			return nil, d.diags
		}
		e := &editor{lines: strings.Split(strings.TrimRight(string(text), "\n"), "\n")}
		again := e.walk(root, path, c)
		text = []byte(strings.Join(e.lines, "\n") + "\n")
		if !again {
			return text, nil
		}
	}
}

// entry is a key with its value and comment.
func entry(key string, c Change) string {
	value, rest, more := strings.Cut(c.Value, "\n")
	s := strings.TrimRight(key+": "+value, " ")
	if c.Why != "" {
		s += "  # " + strings.ReplaceAll(c.Why, "\n", " ")
	}
	if more {
		s += "\n" + rest
	}
	return s
}

// editor holds a text by lines.
type editor struct{ lines []string }

// walk follows the path down the blocks and makes the change. It returns true
// when it had to spread a block in braces first: the text must be read again.
func (e *editor) walk(m *ast.MappingNode, path []string, c Change) (again bool) {
	end, indent := len(e.lines), ""
	var cut [2]int // what goes when the key is taken out: blocks left empty with it
	for depth, key := range path {
		at := slices.IndexFunc(m.Values, func(kv *ast.MappingValueNode) bool { return kv.Key.GetToken().Value == key })
		if at < 0 {
			e.insert(end, indent, path[depth:], c, depth == 0)
			return false
		}
		from, to := e.extent(m.Values, at, end)
		if depth == 0 || len(m.Values) > 1 {
			cut = [2]int{from, to}
		}
		if depth == len(path)-1 {
			if c.Value == "" {
				from, to = cut[0], cut[1]
			}
			e.replace(from, to, indent, key, c)
			return false
		}
		child, ok := m.Values[at].Value.(*ast.MappingNode)
		switch {
		case !ok || len(child.Values) == 0: // none, or an empty block
			if c.Value != "" {
				e.lines = slices.Delete(e.lines, from, to)
				e.insert(from, indent, path[depth:], c, false)
			}
			return false
		case child.IsFlowStyle:
			e.spread(child, from, to, indent+key)
			return true
		}
		m, end = child, to
		indent = strings.Repeat(" ", m.Values[0].Key.GetToken().Position.Column-1)
	}
	return false
}

// insert writes a key that is not there yet, with the blocks round it.
func (e *editor) insert(at int, indent string, path []string, c Change, apart bool) {
	if c.Value == "" {
		return
	}
	var with []string
	if apart {
		with = append(with, "")
	}
	for _, block := range path[:len(path)-1] {
		with = append(with, indent+block+":")
		indent += "  "
	}
	with = append(with, strings.Split(indent+entry(path[len(path)-1], c), "\n")...)
	e.lines = slices.Insert(e.lines, at, with...)
}

// extent is the lines (from, to) of entry at of a mapping that ends before line
// end: comments and blank lines before the next key belong to that.
func (e *editor) extent(list []*ast.MappingValueNode, at, end int) (int, int) {
	from := list[at].Key.GetToken().Position.Line - 1
	if at+1 < len(list) {
		end = list[at+1].Key.GetToken().Position.Line - 1
	}
	for end > from+1 {
		s := strings.TrimSpace(e.lines[end-1])
		if s != "" && !strings.HasPrefix(s, "#") {
			break
		}
		end--
	}
	return from, end
}

// replace puts a changed entry in the place of lines from to to, and keeps them as
// comments where one of them holds a comment.
func (e *editor) replace(from, to int, indent, key string, c Change) {
	var with []string
	old := e.lines[from:to]
	if slices.ContainsFunc(old, commented) || c.Value == "" && c.Why != "" {
		if c.Value == "" && c.Why != "" {
			with = append(with, indent+"# left out: "+c.Why)
		}
		for _, line := range old {
			with = append(with, indent+"# was: "+strings.TrimPrefix(strings.TrimPrefix(line, indent), "# "))
		}
	}
	if c.Value != "" {
		with = append(with, strings.Split(indent+entry(key, c), "\n")...)
	}
	e.lines = slices.Replace(e.lines, from, to, with...)
}

// commented says whether a line of YAML holds a comment. A '#' inside quotes
// counts too: keeping a line too many does no harm.
func commented(line string) bool {
	return strings.HasPrefix(strings.TrimSpace(line), "#") || strings.Contains(line, " #")
}

// spread writes a block in braces as a block of lines.
func (e *editor) spread(m *ast.MappingNode, from, to int, head string) {
	indent := strings.Repeat(" ", len(head)-len(strings.TrimLeft(head, " "))+2)
	var with []string
	for _, line := range e.lines[from:to] {
		if _, comment, ok := strings.Cut(line, " #"); ok {
			with = append(with, indent[2:]+"#"+comment)
		}
	}
	with = append(with, head+":")
	for _, kv := range m.Values {
		with = append(with, indent+kv.Key.GetToken().Value+": "+strings.TrimSpace(kv.Value.String()))
	}
	e.lines = slices.Replace(e.lines, from, to, with...)
}

// Word writes a word for a parameter file, quoted where YAML needs it.
func Word(s string) string {
	if s == "" || strings.ContainsAny(s, ":#{}[],&*!|>'\"%@`\\") || strings.TrimSpace(s) != s {
		return StarterOptions{}.Quote(s)
	}
	return s
}

// LengthText writes a length exactly: as a fraction of an inch where it is one
// and the file is in inches, else in millimetres.
func LengthText(l unit.Length, u unit.LengthUnit) string {
	if u == unit.Inch {
		if f := l.Fraction(64); unit.Length(0) != l {
			if back, err := unit.ParseLength(f+" in", u); err == nil && nearly(back, l) {
				return f + " in"
			}
		}
	}
	return l.Decimal(6) + " mm"
}

func nearly(a, b unit.Length) bool {
	const same = 1e-9
	return a-b < same && b-a < same
}

// TieStock returns the changes that name what the file's listed angles and rods
// are, where it leaves that to the fixture's own section and thread.
func TieStock(name string, text []byte, angle, thread string) []Change {
	d := &decoder{file: name}
	root, ok := d.parse(text)
	if !ok {
		return nil
	}
	var out []Change
	for _, kv := range root.Values {
		stock, ok := kv.Value.(*ast.MappingNode)
		if kv.Key.GetToken().Value != "stock" || !ok {
			continue
		}
		for _, list := range stock.Values {
			key := list.Key.GetToken().Value
			item := map[string]string{"angles": angle, "rods": thread}[key]
			seq, isList := list.Value.(*ast.SequenceNode)
			if item == "" || !isList {
				continue
			}
			if v, open := tied(seq, item); open {
				out = append(out, Change{Path: "stock." + key, Value: v, Why: "named, because the fixture now uses another"})
			}
		}
	}
	return out
}

// tied writes a list of lengths with its item in every entry.
func tied(seq *ast.SequenceNode, item string) (text string, open bool) {
	for _, n := range seq.Values {
		m, ok := n.(*ast.MappingNode)
		if !ok {
			return "", false
		}
		var words []string
		has := false
		for _, kv := range m.Values {
			has = has || kv.Key.GetToken().Value == "item"
			words = append(words, kv.Key.GetToken().Value+": "+strings.TrimSpace(kv.Value.String()))
		}
		if !has {
			open = true
			words = append([]string{"item: " + Word(item)}, words...)
		}
		text += "\n    - {" + strings.Join(words, ", ") + "}"
	}
	return text, open
}

// Paths lists every scalar key of the parameter file that is not inside a list
// or a table, in the file's order, with its kind ("length", "count", ...) and,
// for numbers, its limits in inner units.
func Paths() []PathInfo { return pathsOf(reflect.TypeFor[File](), "") }

// PathInfo describes one key.
type PathInfo struct {
	Path, Kind string
	Lo, Hi     float64 // both zero where there are none
	Words      []string
	Example    string
}

func pathsOf(t reflect.Type, path string) []PathInfo {
	var out []PathInfo
	for _, f := range fieldsOf(t).list {
		switch {
		case f.kind == kindBlock && !isRow(f.typ):
			out = append(out, pathsOf(f.typ, join(path, f.key))...)
		case f.kind == kindScalar:
			p := PathInfo{Path: join(path, f.key), Kind: string(f.quantity), Words: f.enum, Example: f.example}
			if f.limits != nil {
				p.Lo, p.Hi = f.limits.lo, f.limits.hi
			}
			out = append(out, p)
		}
	}
	return out
}
