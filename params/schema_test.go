package params

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func asJSON(t *testing.T, text []byte) any {
	t.Helper()
	raw, err := yaml.YAMLToJSON(text)
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(raw, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// The examples validate with an independent validator of JSON Schema 2020-12
// (santhosh-tekuri/jsonschema).
func TestExamplesValidate(t *testing.T) {
	s := compiled(t)
	files, _ := filepath.Glob("../examples/*.yaml")
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(asJSON(t, text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	starter, _, err := Starter(StarterOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(asJSON(t, starter)); err != nil {
		t.Errorf("starter: %v", err)
	}
}

// The schema refuses what the decoder refuses for its form.
func TestSchemaRefuses(t *testing.T) {
	s := compiled(t)
	for _, text := range []string{
		"fixture: a\n",
		least + "stifeners: none\n",
		least + "nuts: {kind: prevaling}\n",
		"fixture: a\ncell: {model: 72x174x201}\npack: {cells: 4.5}\n",
		"fixture: a\ncell: {model: 72x174x201}\npack: {cells: 10000}\n",
		least + "rods: {levels: 52 mm}\n",
		least + "rods: M8\n",
		least + "plates: {thickness: thick}\n",
	} {
		if s.Validate(asJSON(t, []byte(text))) == nil {
			t.Errorf("accepted:\n%s", text)
		}
	}
}
