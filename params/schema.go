package params

import (
	"encoding/json"
	"reflect"
	"strconv"
	"strings"

	"github.com/invopop/jsonschema"
)

// Patterns of the quantities as text. They are looser than the parser, which
// says exactly what is wrong; an editor needs only the shape.
const (
	numberPattern = `[-+]?(\d+(\.\d+)?([ -]\d+/\d+)?|\d+/\d+|\.\d+)`
	unitPattern   = `\s*([^\d\s].*)?`
)

// Schema returns the JSON Schema (2020-12) of the parameter file, built from
// the same struct types and tags that the decoder reads.
func Schema() ([]byte, error) {
	s := blockSchema(reflect.TypeFor[File]())
	s.Version = jsonschema.Version
	s.Title = "clampwright parameter file"
	b, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return nil, err
	}
	return append(b, '\n'), nil
}

func blockSchema(t reflect.Type) *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "object", Properties: jsonschema.NewProperties(), AdditionalProperties: jsonschema.FalseSchema}
	for _, f := range fieldsOf(t).list {
		s.Properties.Set(f.key, fieldSchema(f))
		if f.required || isRow(t) && f.key == "name" {
			s.Required = append(s.Required, f.key)
		}
	}
	return s
}

func fieldSchema(f *field) *jsonschema.Schema {
	var s *jsonschema.Schema
	switch f.kind {
	case kindList:
		item := *f
		item.kind, item.doc = f.elem, ""
		s = &jsonschema.Schema{Type: "array", Items: fieldSchema(&item)}
	case kindBlock:
		s = blockSchema(f.typ)
		if f.noneOK {
			s = &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Const: "none"}, s}}
		}
	default:
		s = scalarSchema(f)
	}
	s.Description = describe(f)
	return s
}

func describe(f *field) string {
	d := f.doc
	if f.limits != nil {
		if d != "" {
			d += "; "
		}
		d += f.limits.loText + " to " + f.limits.hiText
	}
	return d
}

func scalarSchema(f *field) *jsonschema.Schema {
	switch f.quantity {
	case qSwitch:
		return &jsonschema.Schema{Type: "boolean"}
	case qCount:
		return bounded(&jsonschema.Schema{Type: "integer"}, f)
	case qNumber, qArea:
		plain := bounded(&jsonschema.Schema{Type: "number"}, f)
		if len(f.units) == 0 {
			return plain
		}
		return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{plain, {Type: "string", Pattern: `^\s*` + numberPattern + `\s*(` + strings.Join(f.units, "|") + `)$`}}}
	case qWord:
		s := &jsonschema.Schema{Type: "string"}
		for _, w := range f.enum {
			s.Enum = append(s.Enum, w)
		}
		if len(s.Enum) == 0 {
			// Names such as 4.8 or 3/8 need no quotes in the file.
			s = &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Type: "string"}, {Type: "number"}}}
		}
		return s
	}
	text := &jsonschema.Schema{Type: "string", Pattern: `^\s*` + numberPattern + unitPattern + `$`}
	if f.example != "" && f.kind == kindScalar {
		text.Examples = []any{f.example}
	}
	if f.quantity == qLength {
		return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Type: "number"}, text}}
	}
	return text
}

func bounded(s *jsonschema.Schema, f *field) *jsonschema.Schema {
	if f.limits != nil {
		s.Minimum = json.Number(strconv.FormatFloat(f.limits.lo, 'g', -1, 64))
		s.Maximum = json.Number(strconv.FormatFloat(f.limits.hi, 'g', -1, 64))
	}
	return s
}
