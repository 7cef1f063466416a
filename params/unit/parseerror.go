package unit

import (
	"fmt"
	"strings"
)

// ParseError says why a text is not a quantity. Found is a phrase for what
// stands there ("a comma in a number"), Expected says what is accepted,
// Suggestion what to write instead (may be empty). Offset is where, in
// characters from the start of the text.
type ParseError struct {
	Found      string
	Expected   string
	Suggestion string
	Offset     int
}

// Error implements error: "a comma in a number; expected ...; write 12.7 mm".
func (e *ParseError) Error() string {
	parts := []string{e.Found}
	if e.Expected != "" {
		parts = append(parts, "expected "+e.Expected)
	}
	if e.Suggestion != "" {
		parts = append(parts, e.Suggestion)
	}
	return strings.Join(parts, "; ")
}

// quote is a piece of the user's text in a message, cut when it is long.
func quote(text []rune) string {
	const most = 24
	if len(text) > most {
		return fmt.Sprintf("%q", string(text[:most])+"...")
	}
	return fmt.Sprintf("%q", string(text))
}
