package tell

import (
	"fmt"

	"clampwright/assembly"
)

// looseWords say that a line, or some of its pieces, are not in the finished pack.
func looseWords(l assembly.PartLine) string {
	if l.Loose < l.Pieces {
		return fmt.Sprintf(" (%d loose)", l.Loose)
	}
	return " (loose)"
}
