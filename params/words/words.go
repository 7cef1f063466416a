// Package words joins and turns words for a reader.
package words

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Join joins words: "a, b and c".
func Join(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// NonEmpty keeps what is not empty.
func NonEmpty(in ...string) []string {
	var out []string
	for _, s := range in {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// First is the first that is not empty.
func First(in ...string) string {
	for _, s := range in {
		if s != "" {
			return s
		}
	}
	return ""
}

// Sentences puts a space between what is not empty.
func Sentences(in ...string) string { return strings.Join(NonEmpty(in...), " ") }

// Plural is the "s" of many.
func Plural(n int) string {
	if n == 1 {
		return ""
	}
	return "s"
}

// Row is the letter of a row, A for 0.
func Row(row int) string { return string(rune('A' + row)) }

// Upper begins a sentence with a capital.
func Upper(s string) string { return first(s, unicode.ToUpper) }

// Lower takes the capital off that a sentence begins with.
func Lower(s string) string { return first(s, unicode.ToLower) }

func first(s string, turn func(rune) rune) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(turn(r)) + s[n:]
}
