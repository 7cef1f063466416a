package params

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"clampwright/params/unit"
)

// Change is one value to write into a parameter file: a key of a block
// ("plates.material") or a whole block ("springs"). Value is YAML as it stands
// behind the colon, or empty to take the key out. Why becomes a comment.
type Change struct{ Path, Value, Why string }

// Edit makes changes in the text of a parameter file and leaves all else as it
// stands, comments included; only a block written in braces is spread over lines
// when a key of it changes. It fails on a text that does not decode.
func Edit(name string, text []byte, changes []Change) ([]byte, error) {
	for _, c := range changes {
		d := &decoder{file: name}
		root, ok := d.parse(text)
		if !ok {
			return nil, d.diags
		}
		text = edit(root, text, c)
	}
	if _, diags := Decode(name, text); diags.HasErrors() {
		return nil, fmt.Errorf("the changed file does not read back: %w", diags)
	}
	return text, nil
}

// edit makes one change.
func edit(root *ast.MappingNode, text []byte, c Change) []byte {
	e := &editor{lines: strings.Split(strings.TrimRight(string(text), "\n"), "\n")}
	block, key, inner := strings.Cut(c.Path, ".")
	at := slices.IndexFunc(root.Values, func(kv *ast.MappingValueNode) bool { return kv.Key.GetToken().Value == block })
	switch {
	case at < 0 && c.Value == "":
	case at < 0 && inner:
		e.lines = append(e.lines, "", block+":", "  "+entry(key, c))
	case at < 0:
		e.lines = append(e.lines, "", entry(block, c))
	case !inner:
		from, to := e.extent(root.Values, at, len(e.lines))
		e.replace(from, to, "", block, c)
	default:
		from, to := e.extent(root.Values, at, len(e.lines))
		e.inBlock(root.Values[at].Value, from, to, block, key, c)
	}
	return []byte(strings.Join(e.lines, "\n") + "\n")
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

// replace puts a changed entry in the place of lines from to to.
func (e *editor) replace(from, to int, indent, key string, c Change) {
	var with []string
	if c.Value != "" {
		with = strings.Split(indent+entry(key, c), "\n")
	}
	e.lines = slices.Replace(e.lines, from, to, with...)
}

// inBlock changes a key of the block in lines from to to.
func (e *editor) inBlock(node ast.Node, from, to int, block, key string, c Change) {
	m, ok := node.(*ast.MappingNode)
	if !ok || m.IsFlowStyle {
		e.spread(m, from, to, block)
		to = from + 1
		if m != nil {
			to += len(m.Values)
		}
		e.inLines(from, to, key, c)
		return
	}
	at := slices.IndexFunc(m.Values, func(kv *ast.MappingValueNode) bool { return kv.Key.GetToken().Value == key })
	indent := strings.Repeat(" ", m.Values[0].Key.GetToken().Position.Column-1)
	if at >= 0 {
		a, b := e.extent(m.Values, at, to)
		e.replace(a, b, indent, key, c)
		if c.Value == "" && len(m.Values) == 1 {
			e.lines = slices.Delete(e.lines, from, from+1) // nothing is left of the block
		}
		return
	}
	e.replace(to, to, indent, key, c)
}

// spread writes a block in braces, or the word none, as a block of lines.
func (e *editor) spread(m *ast.MappingNode, from, to int, block string) {
	with := []string{block + ":"}
	if m != nil {
		for _, kv := range m.Values {
			with = append(with, "  "+kv.Key.GetToken().Value+": "+strings.TrimSpace(kv.Value.String()))
		}
	}
	e.lines = slices.Replace(e.lines, from, to, with...)
}

// inLines changes a key of a block that spread wrote.
func (e *editor) inLines(from, to int, key string, c Change) {
	for k := from + 1; k < to; k++ {
		if strings.HasPrefix(e.lines[k], "  "+key+":") {
			e.replace(k, k+1, "  ", key, c)
			return
		}
	}
	e.replace(to, to, "  ", key, c)
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
