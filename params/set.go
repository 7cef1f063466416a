package params

import (
	"cmp"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"clampwright/params/diag"
	"clampwright/params/unit"
)

// Set is the one way to change a parameter: it makes the changes in the text of a
// parameter file (see Edit) and settles that anew. File.With and Fixture.Set do the
// same without a text, for searches.
func Set(name string, text []byte, changes []Change, open ...Opener) ([]byte, *Fixture, error) {
	out, err := Edit(name, text, changes)
	if err != nil {
		return nil, nil, err
	}
	f, diags := Load(name, out, open...)
	return out, f, diags.Err()
}

// Set settles the fixture's file with changes made: what Set gives for its text,
// but for the hash and where in the text the values stand.
func (f *Fixture) Set(changes ...Change) (*Fixture, error) {
	if f.file == nil {
		return nil, errors.New("the fixture is of no file")
	}
	in, err := f.file.With(changes...)
	if err != nil {
		return nil, err
	}
	s := &Settler{tables: f.Tables}
	if slices.ContainsFunc(changes, func(c Change) bool { return needsText(c.Path) }) {
		s = NewSettler(in)
	}
	out, diags := s.settle(in, false)
	return out, diags.Err()
}

// With returns the file with changes made, as Edit makes them in its text. The file
// itself stays as it is.
func (in *File) With(changes ...Change) (*File, error) {
	out := *in
	out.changes = slices.Grow(slices.Clip(in.changes), len(changes))
	for _, c := range changes {
		c, err := out.whole(c)
		if err != nil {
			return nil, err
		}
		if err := out.change(c, diag.Range{File: in.name}); err != nil {
			return nil, err
		}
	}
	for _, c := range changes {
		if err := lacking(reflect.ValueOf(&out).Elem(), tokens(c.Path), ""); err != nil {
			return nil, err
		}
	}
	return &out, nil
}

// lacking says which key that must be given a block along a path does not give.
func lacking(v reflect.Value, at []string, path string) error {
	for _, sub := range fieldsOf(v.Type()).list {
		if sub.required && v.Field(sub.index).IsZero() {
			return fmt.Errorf("%s is missing", join(path, sub.key))
		}
	}
	sub := fieldsOf(v.Type()).byKey[at[0]]
	at, path = at[1:], join(path, at[0])
	child := v.Field(sub.index)
	if sub.kind == kindList && len(at) > 0 && sub.elem == kindBlock {
		if i, _ := place(at[0]); i < child.Len() {
			child = child.Index(i)
		}
		at = at[1:]
	}
	if len(at) == 0 || child.Kind() != reflect.Struct || child.IsZero() {
		return nil
	}
	return lacking(child, at, path)
}

// needsText says whether a change of a path alters how the rest of the text reads:
// bare numbers take the file's unit, rows start from the built-in ones.
func needsText(path string) bool { return path == "units" || strings.HasPrefix(path, "tables") }

// change makes one change in the file itself, as if it stood at a place in its text.
func (in *File) change(c Change, at diag.Range) error {
	in.changes = append(in.changes, c)
	if needsText(c.Path) {
		return in.reread()
	}
	d := &decoder{file: in.name, units: in.LengthUnit(), place: &at}
	node, err := valueNode(c.Value)
	if err != nil {
		return fmt.Errorf("%s: %w", c.Path, err)
	}
	d.put(reflect.ValueOf(in).Elem(), &field{kind: kindBlock}, tokens(c.Path), node, "")
	return d.diags.Err()
}

// LengthUnit is the unit of the file's bare lengths.
func (in *File) LengthUnit() unit.LengthUnit {
	if in.Units.V == "in" {
		return unit.Inch
	}
	return unit.Millimetre
}

// reread makes the file's changes in its text and decodes that.
func (in *File) reread() error {
	text, _ := plainLines(in.text)
	var err error
	for _, c := range in.changes {
		if text, err = edit(in.name, text, c); err != nil {
			return err
		}
	}
	out, diags := Decode(in.name, text)
	if out != nil {
		out.beside, out.besideText, out.known, out.knownText = in.beside, in.besideText, in.known, in.knownText
		*in = *out
	}
	return diags.Err()
}

// tokens splits a path into keys and places: "rods.levels[1]" is rods, levels, [1].
func tokens(path string) []string {
	return strings.Split(strings.ReplaceAll(path, "[", ".["), ".")
}

// place is the index that a token of a path names.
func place(token string) (int, bool) {
	i, err := strconv.Atoi(strings.Trim(token, "[]"))
	return i, err == nil && i >= 0 && strings.HasPrefix(token, "[")
}

// plainValue says whether a text is the same scalar to YAML, wherever it stands.
func plainValue(s string) bool {
	for i, c := range s {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
		if letter || i > 0 && strings.ContainsRune("./+-_", c) || i > 0 && i < len(s)-1 && c == ' ' {
			continue
		}
		if i > 0 || c != '-' || !plainValue(s[1:]) {
			return false
		}
	}
	return s != "" && !strings.EqualFold(s, "null")
}

// valueNode reads the value of a change; nil for one that takes its key out.
func valueNode(value string) (ast.Node, error) {
	switch {
	case value == "":
		return nil, nil
	case plainValue(value):
		return ast.String(token.New(value, value, &token.Position{})), nil
	case strings.HasPrefix(value, "[") && strings.HasSuffix(value, "]"):
		if list := plainList(value[1 : len(value)-1]); list != nil {
			return list, nil
		}
	}
	tree, err := parser.ParseBytes([]byte("v: "+value+"\n"), 0)
	if err != nil {
		return nil, err
	}
	if len(tree.Docs) == 1 {
		if m, ok := tree.Docs[0].Body.(*ast.MappingNode); ok && len(m.Values) == 1 {
			return m.Values[0].Value, nil
		}
	}
	return nil, fmt.Errorf("%q is not one value", value)
}

// plainList is a list of values that need no parser, nil when some do.
func plainList(s string) ast.Node {
	list := &ast.SequenceNode{Start: token.New("[", "[", &token.Position{}), IsFlowStyle: true}
	for _, item := range strings.Split(s, ",") {
		item = strings.TrimSpace(item)
		if !plainValue(item) {
			return nil
		}
		list.Values = append(list.Values, ast.String(token.New(item, item, &token.Position{})))
	}
	return list
}

// put decodes a node into what stands at a path below v, and clears that where
// there is no node. It makes the blocks on the way and takes out those left empty;
// lists on the way are copied, so that other copies of the file keep theirs.
func (d *decoder) put(v reflect.Value, f *field, at []string, node ast.Node, path string) {
	if len(at) == 0 {
		v.SetZero()
		if node != nil {
			d.value(node, v, f, path)
		}
		return
	}
	if f.kind == kindList {
		d.putItem(v, f, at, node, path+at[0])
		return
	}
	sub := (*field)(nil)
	if f.kind == kindBlock {
		sub = fieldsOf(v.Type()).byKey[at[0]]
	}
	path = join(path, at[0])
	if sub == nil {
		d.errorf(*d.place, "there is no key "+path, "", "", "")
		return
	}
	child := v.Field(sub.index)
	if node == nil && (child.IsZero() || v.FieldByName("None").Bool()) {
		return
	}
	d.put(child, sub, at[1:], node, path)
	s := v.FieldByName("Section")
	s.Set(reflect.ValueOf(Section{Present: true, At: s.Interface().(Section).At}))
	if node == nil && bare(v) {
		v.SetZero()
	}
}

// bare says whether a block gives nothing.
func bare(v reflect.Value) bool {
	for _, sub := range fieldsOf(v.Type()).list {
		if !v.Field(sub.index).IsZero() {
			return false
		}
	}
	return true
}

// putItem is put for an item of a list: one of it, or one more at its end.
func (d *decoder) putItem(v reflect.Value, f *field, at []string, node ast.Node, path string) {
	i, ok := place(at[0])
	if !ok || i > v.Len() || i == v.Len() && (node == nil || len(at) > 1) {
		d.errorf(*d.place, "there is no "+path, items(v.Len()), "", "")
		return
	}
	list := reflect.MakeSlice(v.Type(), v.Len(), v.Len()+1)
	reflect.Copy(list, v)
	if i == v.Len() {
		list = reflect.Append(list, reflect.Zero(v.Type().Elem()))
	}
	item := *f
	item.kind = f.elem
	if len(at) == 1 && node == nil {
		list = reflect.AppendSlice(list.Slice(0, i), list.Slice(i+1, list.Len()))
	} else {
		d.put(list.Index(i), &item, at[1:], node, path)
	}
	v.Set(list)
}

// whole turns a change of one place of a list that the file leaves to be derived
// into one of the whole list, the other places as they are derived.
func (in *File) whole(c Change) (Change, error) {
	list, at, _ := strings.Cut(c.Path, "[")
	derived := list == "rods.columns" && len(in.Rods.Columns) == 0 || list == "rods.levels" && len(in.Rods.Levels) == 0
	if at == "" || !derived {
		return c, nil
	}
	f, diags := NewSettler(in).Settle(in)
	if f == nil {
		return c, diags
	}
	places := f.Rods.Levels
	if list == "rods.columns" {
		places = f.Rods.Columns
	}
	var texts []string
	for _, x := range places {
		texts = append(texts, LengthText(x, f.Style.Unit))
	}
	i, ok := place("[" + at)
	if !ok || i >= len(texts) || c.Value == "" {
		return c, fmt.Errorf("there is no %s: %s", c.Path, items(len(texts)))
	}
	texts[i] = c.Value
	return Change{Path: list, Value: "[" + strings.Join(texts, ", ") + "]", Why: c.Why}, nil
}

// File is the file that the fixture was settled from, with the changes made since;
// nil for a fixture of no file.
func (f *Fixture) File() *File { return f.file }

// Place is where a path stands in the file, or else the block it belongs to, or else
// the fixture's name.
func (f *Fixture) Place(path string) diag.Range {
	if f.file == nil {
		return diag.Range{}
	}
	for {
		v, known := fieldAt(f.file, path)
		if known != nil && v.Kind() == reflect.Slice && v.Len() > 0 {
			v = v.Index(0)
		}
		if known != nil && v.Kind() == reflect.Struct {
			if at := v.FieldByName("At").Interface().(diag.Range); at.Line > 0 {
				return at
			}
		}
		up := strings.LastIndex(path, ".")
		if up < 0 {
			return cmp.Or(f.file.Fixture.At, f.file.At)
		}
		path = path[:up]
	}
}

// Key is the path of a block's key by the words for it, "corner radius", or else of
// the block.
func (f *Fixture) Key(block, words string) string {
	path := join(block, strings.ReplaceAll(words, " ", "_"))
	if f.file != nil {
		if _, known := fieldAt(f.file, path); known != nil {
			return path
		}
	}
	return block
}

// Gives says whether the fixture's file gives the key at a path.
func (f *Fixture) Gives(path string) bool {
	if f.file == nil {
		return false
	}
	v, _ := fieldAt(f.file, path)
	return v.IsValid() && !v.IsZero()
}
