package params

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
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
	in, diags := Decode(name, body)
	if diags.HasErrors() {
		return nil, diags
	}
	for _, c := range changes {
		c, err := in.whole(c)
		if err != nil {
			return nil, err
		}
		next := *in
		if err := next.change(c, diag.Range{File: name}); err != nil {
			return nil, err
		}
		if sameValue(reflect.ValueOf(*in), reflect.ValueOf(next)) {
			continue
		}
		if body, err = edit(name, body, c); err != nil {
			return nil, err
		}
		in = &next
	}
	out, diags := Decode(name, body)
	if diags.HasErrors() {
		return nil, fmt.Errorf("the changed file does not read back: %w", diags)
	}
	if !sameValue(reflect.ValueOf(*in), reflect.ValueOf(*out)) {
		return nil, errors.New("the changed file does not read back as it was changed")
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
	path := tokens(c.Path)
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
	if m.IsFlowStyle { // the whole file is in braces
		e.lines = e.lines[:0]
		for _, kv := range m.Values {
			e.lines = append(e.lines, kv.Key.GetToken().Value+": "+inline(kv.Value))
		}
		return true
	}
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
		if seq, ok := m.Values[at].Value.(*ast.SequenceNode); ok {
			c.Value = e.list(seq, path[depth+1:], c.Value, indent)
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
	for i, key := range path {
		if _, ok := place(key); ok { // an item of a list that is not there yet
			path, c.Value = path[:i], "["+changedNode(nil, path[i+1:], c.Value)+"]"
			break
		}
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
		with = append(with, indent+kv.Key.GetToken().Value+": "+inline(kv.Value))
	}
	e.lines = slices.Replace(e.lines, from, to, with...)
}

// list is the value of a list with one place of it changed: in brackets if it was,
// else an item a line.
func (e *editor) list(seq *ast.SequenceNode, path []string, value, indent string) string {
	items := changedItems(seq, path, value)
	if seq.IsFlowStyle || len(items) == 0 {
		return "[" + strings.Join(items, ", ") + "]"
	}
	return "\n" + indent + "  - " + strings.Join(items, "\n"+indent+"  - ")
}

// changedItems are the items of a list as text, with the value at a path below it
// changed.
func changedItems(seq *ast.SequenceNode, path []string, value string) []string {
	var out []string
	for _, n := range seq.Values {
		out = append(out, inline(n))
	}
	i, _ := place(path[0])
	switch {
	case i >= len(out):
		out = append(out, changedNode(nil, path[1:], value))
	case len(path) == 1 && value == "":
		out = slices.Delete(out, i, i+1)
	default:
		out[i] = changedNode(seq.Values[i], path[1:], value)
	}
	return out
}

// changedNode writes a node on one line, with the value at a path below it changed.
func changedNode(n ast.Node, path []string, value string) string {
	if len(path) == 0 {
		if v, err := valueNode(value); err == nil && v != nil {
			return inline(v)
		}
		return value
	}
	if seq, ok := n.(*ast.SequenceNode); ok {
		return "[" + strings.Join(changedItems(seq, path, value), ", ") + "]"
	}
	var out []string
	m, _ := n.(*ast.MappingNode)
	met := false
	for i := 0; m != nil && i < len(m.Values); i++ {
		key, v := m.Values[i].Key.GetToken().Value, m.Values[i].Value
		text := inline(v)
		if key == path[0] {
			met, text = true, changedNode(v, path[1:], value)
		}
		if text != "" {
			out = append(out, key+": "+text)
		}
	}
	if !met && value != "" {
		out = append(out, path[0]+": "+changedNode(nil, path[1:], value))
	}
	return "{" + strings.Join(out, ", ") + "}"
}

// inline writes a node on one line.
func inline(n ast.Node) string {
	if text, ok := scalarText(n); ok {
		return Word(text)
	}
	var out []string
	switch n := n.(type) {
	case *ast.SequenceNode:
		for _, v := range n.Values {
			out = append(out, inline(v))
		}
		return "[" + strings.Join(out, ", ") + "]"
	case *ast.MappingNode:
		for _, kv := range n.Values {
			out = append(out, kv.Key.GetToken().Value+": "+inline(kv.Value))
		}
		return "{" + strings.Join(out, ", ") + "}"
	}
	return strings.TrimSpace(n.String())
}

// Word writes a word for a parameter file, quoted where YAML needs it.
func Word(s string) string {
	if plainValue(s) {
		return s
	}
	return StarterOptions{}.Quote(s)
}

// LengthText writes a length exactly (to 1e-9 mm): in a file in inches as a fraction
// where it is one, or as the shorter of decimals in inches and in millimetres; else
// in millimetres.
func LengthText(l unit.Length, u unit.LengthUnit) string {
	mm := exactDecimal(l.MM(), 1) + " mm"
	if u != unit.Inch {
		return mm
	}
	f := l.Fraction(64)
	if back, err := unit.ParseLength(f+" in", u); err == nil && math.Abs(float64(back-l)) < exact {
		return f + " in"
	}
	if in := exactDecimal(l.Inches(), unit.MMPerInch) + " in"; len(in) <= len(mm) {
		return in
	}
	return mm
}

// exact, mm, is how far a length that is written may differ from what it is.
const exact = 1e-9

// exactDecimal writes a number with as few decimals as keep it, times scale, exact.
func exactDecimal(x, scale float64) string {
	for n := 0; ; n++ {
		s := strconv.FormatFloat(x, 'f', n, 64)
		if back, _ := strconv.ParseFloat(s, 64); n == 17 || math.Abs(back-x)*scale < exact/2 {
			return s
		}
	}
}

// TieStock returns the changes that name what the file's listed angles and rods
// are, where it leaves that to the fixture's own section and thread; none for an
// empty name.
func (in *File) TieStock(angle, thread string) []Change {
	var out []Change
	tie := func(key, item string, list []BarBlock) {
		for i, b := range list {
			if !b.Item.Set && item != "" {
				out = append(out, Change{Path: fmt.Sprintf("stock.%s[%d].item", key, i), Value: Word(item)})
			}
		}
	}
	tie("angles", angle, in.Stock.Angles)
	tie("rods", thread, in.Stock.Rods)
	return out
}

// Paths lists every scalar key of the parameter file that is not inside a list
// or a table, in the file's order, with its kind ("length", "count", ...) and,
// for numbers, its limits in inner units.
func Paths() []PathInfo {
	return slices.DeleteFunc(Keys(), func(p PathInfo) bool { return p.Keys != nil || strings.Contains(p.Path, "[]") })
}

// Keys lists every key, blocks and lists with the keys in them too; those of the items of
// a list stand behind "[]".
func Keys() []PathInfo { return keysOf(reflect.TypeFor[File](), "") }

// PathInfo describes one key.
type PathInfo struct {
	Path, Kind string
	Doc        string
	Lo, Hi     float64 // both zero where there are none
	Limits     string  // in words, with a blank before; empty where there are none
	Words      []string
	Example    string
	Keys       []string // of a block, or of an item of a list
}

func keysOf(t reflect.Type, path string) []PathInfo {
	var out []PathInfo
	for _, f := range fieldsOf(t).list {
		p := PathInfo{Path: join(path, f.key), Kind: string(f.quantity), Doc: f.doc, Words: f.enum, Example: f.example}
		if f.limits != nil {
			p.Limits = ", " + f.limits.loText + " to " + f.limits.hiText
			p.Lo, p.Hi = f.limits.lo, f.limits.hi
		}
		below := p.Path
		if f.kind == kindList {
			p.Kind, below = "a list", p.Path+"[]"
		}
		var in []PathInfo
		if f.kind == kindBlock || f.kind == kindList && f.elem == kindBlock {
			p.Keys, in = fieldsOf(f.typ).keys(), keysOf(f.typ, below)
		} else if f.kind == kindList {
			p.Keys = []string{}
		}
		out = append(append(out, p), in...)
	}
	return out
}

// ItemWords are the words that a key of the items of a list takes.
func ItemWords(list, key string) []string {
	if f := fieldsOf(reflect.TypeFor[File]()).byKey[list]; f != nil {
		if sub := fieldsOf(f.typ).byKey[key]; sub != nil {
			return sub.enum
		}
	}
	return nil
}
