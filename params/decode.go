package params

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"clampwright/params/diag"
	"clampwright/params/unit"
)

// decoder walks a syntax tree into the structs of file.go. It never stops at
// the first error.
type decoder struct {
	file   string
	units  unit.LengthUnit
	diags  diag.List
	broken []string    // paths of what is given and can't be read, or must be given and is not
	place  *diag.Range // where all of it stands, when not nil
}

// Decode parses text into a File. All errors of the text are in the list. With
// errors in it the File holds what could be read, which Resolve looks through
// for further mistakes, or is nil when nothing could. name is used in messages.
func Decode(name string, text []byte) (*File, diag.List) {
	d := &decoder{file: name, units: unit.Millimetre}
	root, ok := d.parse(text)
	if !ok {
		return nil, d.diags
	}
	d.peekUnits(root)
	f := File{name: name, text: text}
	d.block(root, reflect.ValueOf(&f).Elem(), "")
	d.diags.Sort()
	f.wrong, f.broken = d.diags.HasErrors(), d.broken
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
	text = bytes.TrimPrefix(text, byteOrderMark)
	if !d.readable(text) {
		return nil, false
	}
	tokens := lexer.Tokenize(string(text))
	if !d.bounded(tokens) {
		return nil, false
	}
	tree, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		d.syntaxError(err, tokens)
		return nil, false
	}
	return d.top(tree)
}

// byteOrderMark is what some editors put before a text in UTF-8.
var byteOrderMark = []byte("\uFEFF")

// syntaxError turns the parser's error into a diagnostic with a position.
func (d *decoder) syntaxError(err error, tokens token.Tokens) {
	at := diag.Range{File: d.file, Line: 1, Col: 1}
	msg := "the file can't be read as YAML"
	if e, ok := err.(yaml.Error); ok { // its own text quotes the whole line
		msg = e.GetMessage()
		if t := e.GetToken(); t != nil {
			if open := unclosed(tokens, t); open != nil {
				end := map[string]string{"{": "}", "[": "]"}[open.Value]
				d.errorf(d.at(open), fmt.Sprintf("the %q is not closed", open.Value), found(t, open), fmt.Sprintf("a %q that closes it", end), "")
				return
			}
			at = d.at(t)
		}
	}
	hint := ""
	if strings.Contains(msg, "\t") {
		msg, hint = "a tab can't start a line", "indent with spaces"
	}
	d.errorf(at, msg, "", "a YAML mapping of the blocks cell, pack, plates, ...", hint)
}

// unclosed finds the brace or bracket that is still open where the parser
// stopped: at that brace itself, on a later line, or at a closing one of the
// other kind. It returns nil when the mistake is another.
func unclosed(tokens token.Tokens, stop *token.Token) *token.Token {
	var open []*token.Token
	for _, t := range tokens {
		at, end := t.Position, stop.Position
		if at.Line > end.Line || at.Line == end.Line && at.Column >= end.Column {
			break
		}
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			open = append(open, t)
		case token.MappingEndType, token.SequenceEndType:
			open = open[:max(0, len(open)-1)]
		}
	}
	switch stop.Type {
	case token.MappingStartType, token.SequenceStartType:
		return stop
	}
	if len(open) == 0 {
		return nil
	}
	last := open[len(open)-1]
	closes := stop.Type == token.MappingEndType || stop.Type == token.SequenceEndType
	if closes || stop.Position.Line > last.Position.Line {
		return last
	}
	return nil
}

// found says what stands where a brace should have been closed.
func found(stop, open *token.Token) string {
	if stop == nil || stop.Position.Offset == open.Position.Offset {
		return "the end of the file"
	}
	return fmt.Sprintf("%q in line %d", stop.Value, stop.Position.Line)
}

// top checks that the tree is one document holding one mapping.
func (d *decoder) top(tree *ast.File) (*ast.MappingNode, bool) {
	start := diag.Range{File: d.file, Line: 1, Col: 1}
	var bodies []ast.Node
	var second *token.Token
	for _, doc := range tree.Docs {
		if doc.Body != nil {
			bodies = append(bodies, doc.Body)
		}
		if len(bodies) == 2 && second == nil {
			second = firstToken(doc.Start, doc.Body.GetToken())
		}
	}
	switch {
	case len(bodies) == 0:
		d.errorf(start, "the file is empty", "nothing", "a YAML mapping with at least fixture, cell and pack", "'clampwright new' writes a starter file")
		return nil, false
	case len(bodies) > 1:
		d.errorf(d.at(second), "a second document in the file", "---", "one document for each file", "use variants for several fixtures")
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
	m, ok := node.(*ast.MappingNode)
	if !ok {
		d.wrongKind(node, blockOf(v.Type()), path)
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
	d.keys(m, v, fields, path)
	if row {
		d.checkRow(d.at(blockToken(m)), v, path)
	}
}

// keys decodes the keys of a block, each once: the first counts, and what a
// second one holds is looked through for mistakes only. A misspelt key is read
// as the one that it is nearest to, so that mistakes in its value are told too.
func (d *decoder) keys(m *ast.MappingNode, v reflect.Value, fields *fieldSet, path string) {
	seen := map[string]*token.Token{}
	var misspelt []*ast.MappingValueNode
	for _, kv := range m.Values {
		t := kv.Key.GetToken()
		f, known := fields.byKey[t.Value]
		switch {
		case kv.Key.Type() == ast.MergeKeyType:
			d.errorf(d.at(t), "merge keys are not read", "<<", "every value written out", "")
		case seen[t.Value] != nil:
			d.again(t, seen[t.Value], path)
			if known {
				d.aside(kv.Value, f, join(path, t.Value))
			}
		case !known:
			misspelt = append(misspelt, kv)
			seen[t.Value] = t
		default:
			seen[t.Value] = t
			d.value(kv.Value, v.Field(f.index), f, join(path, t.Value))
		}
	}
	for _, kv := range misspelt {
		t := kv.Key.GetToken()
		near := d.unknownKey(t, fields, path)
		if f := fields.byKey[near]; f != nil && seen[near] == nil {
			seen[near] = t
			d.value(kv.Value, v.Field(f.index), f, join(path, near))
		}
	}
	d.missing(m, fields, seen, path)
}

// again reports a key that is given before.
func (d *decoder) again(t, first *token.Token, path string) {
	where := "at the top of the file"
	if path != "" {
		where = "in " + path
	}
	at := d.at(first)
	d.diags = append(d.diags, diag.Diagnostic{
		Severity: diag.Error, Summary: fmt.Sprintf("the key %q is given twice %s", t.Value, where), Range: d.at(t),
		Found: fmt.Sprintf("%q again", t.Value), Expected: fmt.Sprintf("each key once; the first is in line %d", at.Line),
		Suggestion: "keep one of them, with what belongs to both", Related: []diag.Range{at},
	})
}

// aside decodes a value that does not count, for its mistakes alone.
func (d *decoder) aside(node ast.Node, f *field, path string) {
	typ := f.typ
	if f.kind == kindList {
		typ = reflect.SliceOf(typ)
	}
	kept := d.broken
	d.value(node, reflect.New(typ).Elem(), f, path)
	d.broken = kept
}

// missing reports keys that must be given and are not.
func (d *decoder) missing(m *ast.MappingNode, fields *fieldSet, seen map[string]*token.Token, path string) {
	for _, f := range fields.list {
		if f.required && seen[f.key] == nil {
			want := f.key + ": " + f.example
			if f.example == "" {
				want = f.key
			}
			d.breaks(join(path, f.key))
			d.errorf(d.at(blockToken(m)), fmt.Sprintf("%s is missing", join(path, f.key)), "", strings.TrimSpace(want), "")
		}
	}
}

// breaks notes a value that can't be read, or all that a block would have given.
func (d *decoder) breaks(path string) { d.broken = append(d.broken, path) }

// value decodes one node into one field.
func (d *decoder) value(node ast.Node, v reflect.Value, f *field, path string) {
	switch node.(type) {
	case *ast.AnchorNode, *ast.AliasNode, *ast.TagNode:
		d.breaks(path)
		d.errorf(d.at(node.GetToken()), "anchors, aliases and tags are not read", node.GetToken().Value, "the value written out", "")
		return
	case *ast.NullNode:
		d.breaks(path)
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

// maxItems bounds the lists of a file that have no bound of their own (most).
const maxItems = 2000

// list decodes a sequence.
func (d *decoder) list(node ast.Node, v reflect.Value, f *field, path string) {
	seq, ok := node.(*ast.SequenceNode)
	if !ok {
		want := "a list"
		if f.elem == kindBlock {
			want += ", each of it " + blockOf(f.typ)
		} else if f.example != "" {
			want += ", such as [" + strings.Trim(f.example, "[]") + "]"
		}
		d.wrongKind(node, want, path)
		return
	}
	if len(seq.Values) > f.most {
		d.breaks(path)
		d.beyond(d.at(node.GetToken()), path+" is too long", len(seq.Values), f.most, "items")
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
	if e := target.set(f.bare(text), at, d.units); e != nil {
		d.breaks(path)
		d.errorf(at, fmt.Sprintf("%s: %s", path, e.summary), fmt.Sprintf("%q", text), f.expected(e), e.suggestion)
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
	d.breaks(path)
	d.errorf(at, path+" is not one of its words", fmt.Sprintf("%q", text), strings.Join(f.enum, ", "), hint)
	target.clear()
}

// limits checks a value against its field's lowest and highest.
func (d *decoder) limits(target settable, f *field, text string, at diag.Range, path string) {
	x, numeric := target.number()
	if !numeric || f.limits == nil {
		return
	}
	l, how := f.limits, ""
	switch {
	case x < l.lo:
		how = " is too small"
	case x > l.hi:
		how = " is too large"
	default:
		return
	}
	d.breaks(path)
	d.errorf(at, path+how, text, l.wordsFor(f.quantity, text, d.units), "")
	target.clear()
}

// unknownKey reports a key that is not there; it returns the one that was
// probably meant, or "".
func (d *decoder) unknownKey(t *token.Token, fields *fieldSet, path string) string {
	where := "at the top of the file"
	if path != "" {
		where = "in " + path
	}
	hint := ""
	near, ok := diag.Nearest(t.Value, fields.keys())
	if ok {
		hint = fmt.Sprintf("did you mean %q?", near)
	} else if t.Value != "" && t.Value[0] >= '0' && t.Value[0] <= '9' {
		hint = "inside braces a comma ends a value: write numbers with a decimal point"
	}
	d.errorf(d.at(t), fmt.Sprintf("unknown key %q %s", t.Value, where), fmt.Sprintf("%q", t.Value), "one of "+strings.Join(fields.keys(), ", "), hint)
	return near
}

func (d *decoder) wrongKind(node ast.Node, want, path string) {
	d.breaks(path)
	d.errorf(d.at(node.GetToken()), firstOf(path, "the file")+" has the wrong form", kindOf(node), want, "")
}

func (d *decoder) errorf(at diag.Range, summary, found, expected, suggestion string) {
	d.diags = append(d.diags, diag.Diagnostic{
		Severity: diag.Error, Summary: summary, Found: found, Expected: expected, Suggestion: suggestion, Range: at,
	})
}

// at is the range of a token.
func (d *decoder) at(t *token.Token) diag.Range {
	if d.place != nil {
		return *d.place
	}
	if t == nil || t.Position == nil {
		return diag.Range{File: d.file, Line: 1, Col: 1}
	}
	n := len([]rune(t.Value))
	if t.Type == token.DoubleQuoteType || t.Type == token.SingleQuoteType {
		n = max(n+2, len([]rune(strings.TrimSpace(t.Origin)))) // escapes are longer than what they stand for
	}
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

// firstToken is a, or b when there is no a.
func firstToken(a, b *token.Token) *token.Token {
	if a != nil {
		return a
	}
	return b
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
