package params

import (
	"fmt"
	"reflect"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"clampwright/params/diag"
	"clampwright/params/unit"
)

// maxBytes is the largest parameter file read. A generous file is a few
// kilobytes; anything larger is not a parameter file.
const maxBytes = 1 << 20

// maxDepth bounds the nesting of a parameter file; the deepest block is four
// levels down.
const maxDepth = 12

// decoder walks a syntax tree into the structs of file.go. It never stops at
// the first error.
type decoder struct {
	file  string
	units unit.LengthUnit
	diags diag.List
}

// Decode parses text into a File. All errors of the text are in the list; the
// File is usable only when the list has no errors. name is used in messages.
func Decode(name string, text []byte) (*File, diag.List) {
	d := &decoder{file: name, units: unit.Millimetre}
	root, ok := d.parse(text)
	if !ok {
		return nil, d.diags
	}
	d.peekUnits(root)
	var f File
	d.block(root, reflect.ValueOf(&f).Elem(), "")
	d.diags.Sort()
	return &f, d.diags
}

// parse returns the one mapping at the top of the text.
func (d *decoder) parse(text []byte) (node *ast.MappingNode, ok bool) {
	defer func() {
		// The YAML parser is not ours: a panic in it is a syntax error here.
		if r := recover(); r != nil {
			d.errorf(diag.Range{File: d.file, Line: 1, Col: 1}, "the file can't be read as YAML", fmt.Sprint(r), "plain YAML", "")
			node, ok = nil, false
		}
	}()
	if len(text) > maxBytes {
		d.errorf(diag.Range{File: d.file, Line: 1, Col: 1}, "the file is too large", fmt.Sprintf("%d bytes", len(text)), fmt.Sprintf("%d bytes or less", maxBytes), "")
		return nil, false
	}
	tree, err := parser.ParseBytes(text, 0)
	if err != nil {
		d.syntaxError(err)
		return nil, false
	}
	return d.top(tree)
}

// syntaxError turns the parser's error into a diagnostic with a position.
func (d *decoder) syntaxError(err error) {
	at := diag.Range{File: d.file, Line: 1, Col: 1}
	msg := strings.SplitN(err.Error(), "\n", 2)[0]
	if e, ok := err.(yaml.Error); ok {
		msg = e.GetMessage()
		if t := e.GetToken(); t != nil {
			at = d.at(t)
		}
	}
	hint := ""
	if strings.Contains(msg, "\t") {
		msg, hint = "a tab can't start a line", "indent with spaces"
	}
	d.errorf(at, msg, "", "a YAML mapping of the blocks cell, pack, plates, ...", hint)
}

// top checks that the tree is one document holding one mapping.
func (d *decoder) top(tree *ast.File) (*ast.MappingNode, bool) {
	start := diag.Range{File: d.file, Line: 1, Col: 1}
	var bodies []ast.Node
	for _, doc := range tree.Docs {
		if doc.Body != nil {
			bodies = append(bodies, doc.Body)
		}
	}
	switch {
	case len(bodies) == 0:
		d.errorf(start, "the file is empty", "nothing", "a YAML mapping with at least fixture, cell and pack", "'clampwright new' writes a starter file")
		return nil, false
	case len(bodies) > 1:
		d.errorf(d.at(bodies[1].GetToken()), "a second document in the file", "---", "one document for each file", "use variants for several fixtures")
		return nil, false
	}
	m, ok := bodies[0].(*ast.MappingNode)
	if !ok {
		d.errorf(d.at(bodies[0].GetToken()), "the file is not a mapping", kindOf(bodies[0]), "keys with values, such as 'fixture: four-cell'", "")
	}
	return m, ok
}

// peekUnits reads the top-level key units first, because it changes the
// meaning of every bare number that follows.
func (d *decoder) peekUnits(m *ast.MappingNode) {
	for _, kv := range m.Values {
		if kv.Key.GetToken().Value == "units" && kv.Value.GetToken().Value == "in" {
			d.units = unit.Inch
		}
	}
}

// block decodes a mapping into the struct v. path is the dotted path so far.
func (d *decoder) block(node ast.Node, v reflect.Value, path string) {
	if strings.Count(path, ".") > maxDepth {
		d.errorf(d.at(node.GetToken()), "nested too deep", path, fmt.Sprintf("%d levels or fewer", maxDepth), "")
		return
	}
	m, ok := node.(*ast.MappingNode)
	if !ok {
		d.wrongKind(node, "a block of keys", path)
		return
	}
	if s := v.FieldByName("Section"); s.IsValid() {
		s.Set(reflect.ValueOf(Section{Present: true, At: d.at(blockToken(m))}))
	}
	fields := fieldsOf(v.Type())
	row := isRow(v.Type())
	if row {
		d.seedRow(m, v)
	}
	seen := map[string]bool{}
	for _, kv := range m.Values {
		key := kv.Key.GetToken().Value
		f, known := fields.byKey[key]
		switch {
		case kv.Key.Type() == ast.MergeKeyType:
			d.errorf(d.at(kv.Key.GetToken()), "merge keys are not read", "<<", "every value written out", "")
		case !known:
			d.unknownKey(kv.Key.GetToken(), fields, path)
		default:
			seen[key] = true
			d.value(kv.Value, v.Field(f.index), f, join(path, key))
		}
	}
	d.missing(m, fields, seen, path)
	if row {
		d.checkRow(d.at(blockToken(m)), v, path)
	}
}

// missing reports keys that must be given and are not.
func (d *decoder) missing(m *ast.MappingNode, fields *fieldSet, seen map[string]bool, path string) {
	for _, f := range fields.list {
		if f.required && !seen[f.key] {
			want := f.key + ": " + f.example
			if f.example == "" {
				want = f.key
			}
			d.errorf(d.at(blockToken(m)), fmt.Sprintf("%s is missing", join(path, f.key)), "", strings.TrimSpace(want), "")
		}
	}
}

// value decodes one node into one field.
func (d *decoder) value(node ast.Node, v reflect.Value, f *field, path string) {
	switch node.(type) {
	case *ast.AnchorNode, *ast.AliasNode, *ast.TagNode:
		d.errorf(d.at(node.GetToken()), "anchors, aliases and tags are not read", node.GetToken().Value, "the value written out", "")
		return
	case *ast.NullNode:
		d.errorf(d.at(node.GetToken()), path+" has no value", "nothing", f.wants(), "give a value or remove the key")
		return
	}
	switch {
	case f.kind == kindList:
		d.list(node, v, f, path)
	case f.kind == kindBlock && f.noneOK && isWord(node, "none"):
		v.FieldByName("Section").Set(reflect.ValueOf(Section{Present: true, None: true, At: d.at(node.GetToken())}))
	case f.kind == kindBlock:
		d.block(node, v, path)
	default:
		d.scalar(node, v, f, path)
	}
}

// maxItems bounds the lists of a file.
const maxItems = 2000

// list decodes a sequence.
func (d *decoder) list(node ast.Node, v reflect.Value, f *field, path string) {
	seq, ok := node.(*ast.SequenceNode)
	if !ok {
		d.wrongKind(node, "a list: ["+f.example+"]", path)
		return
	}
	if len(seq.Values) > maxItems {
		d.errorf(d.at(node.GetToken()), path+" is too long", fmt.Sprintf("%d items", len(seq.Values)), fmt.Sprintf("%d or fewer", maxItems), "")
		return
	}
	out := reflect.MakeSlice(v.Type(), len(seq.Values), len(seq.Values))
	item := *f
	item.kind = f.elem
	for i, n := range seq.Values {
		d.value(n, out.Index(i), &item, fmt.Sprintf("%s[%d]", path, i))
	}
	v.Set(out)
}

// scalar decodes a single value and checks its words and limits.
func (d *decoder) scalar(node ast.Node, v reflect.Value, f *field, path string) {
	text, ok := scalarText(node)
	if !ok {
		d.wrongKind(node, f.wants(), path)
		return
	}
	at := d.at(node.GetToken())
	target, ok := v.Addr().Interface().(settable)
	if !ok {
		target = plainField{v} // a field of a table row
	}
	if e := target.set(text, at, d.units); e != nil {
		d.errorf(at, fmt.Sprintf("%s: %s", path, e.summary), fmt.Sprintf("%q", text), firstOf(e.expected, f.wants()), e.suggestion)
		return
	}
	d.words(target, f, text, at, path)
	d.limits(target, f, text, at, path)
}

// words checks a value against the words its field accepts.
func (d *decoder) words(target settable, f *field, text string, at diag.Range, path string) {
	if len(f.enum) == 0 {
		return
	}
	for _, w := range f.enum {
		if w == text {
			return
		}
	}
	hint := ""
	if near, ok := diag.Nearest(text, f.enum); ok {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	d.errorf(at, path+" is not one of its words", fmt.Sprintf("%q", text), strings.Join(f.enum, ", "), hint)
	target.clear()
}

// limits checks a value against its field's lowest and highest.
func (d *decoder) limits(target settable, f *field, text string, at diag.Range, path string) {
	x, numeric := target.number()
	if !numeric || f.limits == nil {
		return
	}
	l := f.limits
	if x < l.lo {
		d.errorf(at, path+" is too small", text, fmt.Sprintf("%s to %s", l.loText, l.hiText), "")
		target.clear()
	}
	if x > l.hi {
		d.errorf(at, path+" is too large", text, fmt.Sprintf("%s to %s", l.loText, l.hiText), "")
		target.clear()
	}
}

func (d *decoder) unknownKey(t *token.Token, fields *fieldSet, path string) {
	where := "at the top of the file"
	if path != "" {
		where = "in " + path
	}
	hint := ""
	if near, ok := diag.Nearest(t.Value, fields.keys()); ok {
		hint = fmt.Sprintf("did you mean %q?", near)
	} else if t.Value != "" && t.Value[0] >= '0' && t.Value[0] <= '9' {
		hint = "inside braces a comma ends a value: write numbers with a decimal point"
	}
	d.errorf(d.at(t), fmt.Sprintf("unknown key %q %s", t.Value, where), fmt.Sprintf("%q", t.Value), "one of "+strings.Join(fields.keys(), ", "), hint)
}

func (d *decoder) wrongKind(node ast.Node, want, path string) {
	d.errorf(d.at(node.GetToken()), firstOf(path, "the file")+" has the wrong form", kindOf(node), want, "")
}

func (d *decoder) errorf(at diag.Range, summary, found, expected, suggestion string) {
	d.diags = append(d.diags, diag.Diagnostic{
		Severity: diag.Error, Summary: summary, Found: found, Expected: expected, Suggestion: suggestion, Range: at,
	})
}

// at is the range of a token.
func (d *decoder) at(t *token.Token) diag.Range {
	if t == nil || t.Position == nil {
		return diag.Range{File: d.file, Line: 1, Col: 1}
	}
	n := len([]rune(t.Value))
	if n == 0 || strings.Contains(t.Value, "\n") {
		n = 1
	}
	p := t.Position
	return diag.Range{File: d.file, Line: p.Line, Col: p.Column, EndLine: p.Line, EndCol: p.Column + n}
}

// blockToken is the first key of a block: a better place to point at than the
// colon that the parser gives a mapping.
func blockToken(m *ast.MappingNode) *token.Token {
	if len(m.Values) > 0 {
		return m.Values[0].Key.GetToken()
	}
	return m.GetToken()
}

// scalarText is the text of a scalar as the user wrote it, so that 010 and
// 1_000 reach our own number parser and not YAML's.
func scalarText(node ast.Node) (string, bool) {
	switch n := node.(type) {
	case *ast.StringNode:
		return n.Value, true
	case *ast.LiteralNode:
		return strings.TrimSpace(n.Value.Value), true
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return n.GetToken().Value, true
	}
	return "", false
}

func isWord(node ast.Node, word string) bool {
	s, ok := scalarText(node)
	return ok && s == word
}

func kindOf(node ast.Node) string {
	switch node.(type) {
	case *ast.MappingNode:
		return "a block of keys"
	case *ast.SequenceNode:
		return "a list"
	case *ast.NullNode:
		return "nothing"
	}
	if s, ok := scalarText(node); ok {
		return fmt.Sprintf("%q", s)
	}
	return "something else"
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

func firstOf(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
