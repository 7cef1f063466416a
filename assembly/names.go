package assembly

import (
	"fmt"
	"strings"
)

// End is one end of the stack.
type End int

// The two ends of the stack.
const (
	Front End = iota // +z; springs fitted at one end only sit here
	Back             // -z
)

// String returns the end's name as used in instance names.
func (e End) String() string {
	if e == Back {
		return "back"
	}
	return "front"
}

// Sign returns the direction along z that points outward: +1 or -1.
func (e End) Sign() float64 {
	if e == Back {
		return -1
	}
	return 1
}

// id joins the parts of an instance name, leaving out empty ones.
func id(words ...string) string {
	kept := make([]string, 0, len(words))
	for _, w := range words {
		if w != "" {
			kept = append(kept, w)
		}
	}
	return strings.Join(kept, "-")
}

// rowName is the middle part of a cell's name: empty when there is one row.
func rowName(row, rows int) string {
	if rows < 2 {
		return ""
	}
	return fmt.Sprintf("row-%d", row+1)
}
