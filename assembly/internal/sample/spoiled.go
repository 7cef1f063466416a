package sample

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"clampwright/params"
)

// Spoiled is an example that was spoiled so that one rule does not pass.
type Spoiled struct {
	Rule, Name string // Name is example and changes
	Text       []byte
	Inch       bool // the file is in inches
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
		s.Inch = regexp.MustCompile(`(?m)^units: in\b`).Match(s.Text)
		out = append(out, s)
	}
	return out, nil
}

// bare are the lengths of the examples that are written without a unit.
var bare = regexp.MustCompile(`\b((?:thickness|corner_radius|clearance|border|rib_pitch|cutter|width|height|length): [0-9.]+)( *[,}\n#])`)

// spoil changes an example, behind whose name may stand the units that it is to be in.
func spoil(root, example, changes string) ([]byte, error) {
	example, units, _ := strings.Cut(example, " in ")
	text, err := os.ReadFile(filepath.Join(root, "examples", example+".yaml"))
	if err != nil {
		return nil, err
	}
	var set []params.Change
	if units != "" {
		text = bare.ReplaceAll(text, []byte("$1 mm$2"))
		set = append(set, params.Change{Path: "units", Value: units})
	}
	for _, c := range strings.Split(changes, "; ") {
		path, value, _ := strings.Cut(c, ":")
		set = append(set, params.Change{Path: path, Value: strings.TrimSpace(value)})
	}
	return params.Edit(example+".yaml", text, set)
}
