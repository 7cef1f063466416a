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

// columnName names rod column i of n, from -x to +x.
func columnName(i, n int) string {
	return pick(i, n, [3]string{"left", "middle", "right"}, "column")
}

// levelName names rod level i of n, upwards.
func levelName(i, n int) string {
	return pick(i, n, [3]string{"lower", "middle", "upper"}, "level")
}

// pick returns words of position for up to three positions and numbers beyond.
func pick(i, n int, words [3]string, noun string) string {
	switch {
	case n == 1:
		return words[1]
	case n == 2:
		return words[2*i]
	case n == 3:
		return words[i]
	}
	return fmt.Sprintf("%s-%d", noun, i+1)
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
