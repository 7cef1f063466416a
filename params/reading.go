package params

import (
	"fmt"
	"strings"
)

// Added is one reading for a file, by the keys of ReadingBlock.
type Added map[string]string

// addedKeys is the order in which they are written.
var addedKeys = []string{"what", "where", "when", "value", "unit", "uncertainty", "instrument", "date", "charge", "temperature", "cycles", "load", "high"}

// AddReadings writes readings into the text of a parameter file, at the end of those it
// has, keeps all else, and settles it.
func AddReadings(name string, text []byte, add []Added, open ...Opener) ([]byte, *Fixture, error) {
	in, diags := Decode(name, text)
	if diags.HasErrors() {
		return nil, nil, diags.Err()
	}
	var changes []Change
	var first []string
	for i, a := range add {
		var keys []string
		for _, k := range addedKeys {
			if v := a[k]; v != "" {
				if !plainValue(v) {
					v = "\"" + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(v) + "\""
				}
				keys = append(keys, k+": "+v)
			}
		}
		value := "{" + strings.Join(keys, ", ") + "}"
		first = append(first, "\n  - "+value)
		changes = append(changes, Change{Path: fmt.Sprintf("readings[%d]", len(in.Readings)+i), Value: value})
	}
	if len(in.Readings) == 0 && len(add) > 0 { // a line each
		changes = []Change{{Path: "readings", Value: strings.Join(first, "")}}
	}
	return Set(name, text, changes, open...)
}
