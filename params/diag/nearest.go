package diag

import (
	"strings"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
)

// longestGuess is the longest word that a suggestion is sought for, in
// characters: nobody misspells one word that long, and the distance costs the
// product of both lengths.
const longestGuess = 64

// Nearest returns the candidate that word is most probably a misspelling of.
// Upper and lower case count as the same, and two neighbouring letters swapped
// count as one error. One error in three letters is allowed, at least one; a
// single letter must agree. A word that begins a candidate, or that a candidate
// begins, is accepted when nothing is nearer and it has three letters or more.
// Of equally near candidates the first wins.
func Nearest(word string, candidates []string) (string, bool) {
	w := fold(word)
	n := utf8.RuneCountInString(w)
	if n == 0 || n > longestGuess {
		return "", false
	}
	best, bestDist := "", allowed(n)+1
	for _, c := range candidates {
		if d := distance(w, fold(c), bestDist); d < bestDist {
			best, bestDist = c, d
		}
	}
	if bestDist <= allowed(n) {
		return best, true
	}
	return byBeginning(w, n, candidates)
}

// allowed is the count of errors allowed in a word of n letters.
func allowed(n int) int {
	if n == 1 {
		return 0
	}
	return max(1, (n+1)/3)
}

// distance is the edit distance with a neighbour swap counted as one, or some
// number not below limit when it is certain to reach that.
func distance(a, b string, limit int) int {
	gap := utf8.RuneCountInString(a) - utf8.RuneCountInString(b)
	if gap >= limit || -gap >= limit {
		return limit
	}
	if swapped(a, b) {
		return 1
	}
	return levenshtein.ComputeDistance(a, b)
}

// swapped reports whether a and b differ by one swap of neighbours.
func swapped(a, b string) bool {
	x, y := []rune(a), []rune(b)
	if len(x) != len(y) {
		return false
	}
	for i := 0; i+1 < len(x); i++ {
		if x[i] != y[i] {
			return x[i] == y[i+1] && x[i+1] == y[i] && string(x[i+2:]) == string(y[i+2:])
		}
	}
	return false
}

// byBeginning finds a candidate that starts with w, or that w starts with.
func byBeginning(w string, n int, candidates []string) (string, bool) {
	if n < 3 {
		return "", false
	}
	for _, c := range candidates {
		f := fold(c)
		if strings.HasPrefix(f, w) || utf8.RuneCountInString(f) >= 3 && strings.HasPrefix(w, f) {
			return c, true
		}
	}
	return "", false
}

func fold(s string) string { return strings.ToLower(strings.TrimSpace(s)) }
