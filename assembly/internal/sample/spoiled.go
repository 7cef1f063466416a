package sample

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"clampwright/params"
)

// Spoiled is an example that was spoiled so that one rule does not pass.
type Spoiled struct {
	Rule, Name string // Name is example and changes
	Text       []byte
}

// ReadSpoiled reads testdata/spoiled.txt below root and spoils the examples.
func ReadSpoiled(root string) ([]Spoiled, error) {
	list, err := os.ReadFile(filepath.Join(root, "testdata", "spoiled.txt"))
	if err != nil {
		return nil, err
	}
	var out []Spoiled
	for line := range strings.Lines(string(list)) {
		if line = strings.TrimSpace(line); line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		part := strings.Split(line, " | ")
		if len(part) != 3 {
			return nil, fmt.Errorf("spoiled.txt: %q is not rule, example and changes", line)
		}
		s := Spoiled{Rule: strings.TrimSpace(part[0]), Name: part[1] + ": " + part[2]}
		if s.Text, err = spoil(root, part[1], part[2]); err != nil {
			return nil, fmt.Errorf("%s: %w", s.Name, err)
		}
		out = append(out, s)
	}
	return out, nil
}

func spoil(root, example, changes string) ([]byte, error) {
	text, err := os.ReadFile(filepath.Join(root, "examples", example+".yaml"))
	if err != nil {
		return nil, err
	}
	var set []params.Change
	for _, c := range strings.Split(changes, "; ") {
		path, value, _ := strings.Cut(c, ":")
		set = append(set, params.Change{Path: path, Value: strings.TrimSpace(value)})
	}
	return params.Edit(example+".yaml", text, set)
}
