package words

import (
	"regexp"
	"strings"
	"unicode/utf8"
)

// unit finds what belongs to the figure before it: a unit or its sign, a fraction, the x
// before the next edge of a size.
var unit = regexp.MustCompile(`^(?:x \d|\d+/\d|(?:mm2?|k?N|in|kg|g|lbf?|[kM]?Pa|psi|N\x{b7}m|lbf\x{b7}in|[mk]?[VAWJ]|Ah|kWh|h|min|C|months?|years?|ohm|kiloohm|degrees|turns?|flats|cells?)\b|%|mm\x{b2}|\x{b0}[CF])`)

// Tied ties figures to their units, so that no line breaks between them.
func Tied(text string) string {
	var b strings.Builder
	from := 0
	for i := 1; i+1 < len(text); i++ {
		if text[i] == ' ' && ties(text[:i], text[i+1:]) {
			b.WriteString(text[from:i])
			b.WriteString("\u00a0")
			from = i + 1
		}
	}
	return b.String() + text[from:]
}

// ties reports whether a number goes on from one side of a space to the other.
func ties(before, after string) bool {
	return strings.IndexByte("0123456789)", before[len(before)-1]) >= 0 && unit.MatchString(after)
}

// Untied makes plain spaces of those that tie.
func Untied(text string) string { return strings.ReplaceAll(text, "\u00a0", " ") }

// Table sets rows under a head in columns, two spaces apart, one where room lacks, and at most width letters
// wide where that can be had by breaking between words: heads that are wider than what is
// below them first, then the widest columns.
func Table(width int, head []string, rows [][]string) []string {
	wide, below := make([]int, len(head)), make([]int, len(head))
	tied, loose := make([]int, len(head)), make([]int, len(head)) // longest words
	rows = append([][]string{head}, rows...)
	for i, row := range rows {
		for c, cell := range row {
			n := utf8.RuneCountInString(cell)
			wide[c] = max(wide[c], n)
			if i > 0 {
				below[c] = max(below[c], n)
			}
			for _, word := range strings.Fields(cell) {
				loose[c] = max(loose[c], utf8.RuneCountInString(word))
			}
			for _, word := range strings.Split(Tied(cell), " ") {
				tied[c] = max(tied[c], utf8.RuneCountInString(word))
			}
		}
	}
	for c := range below {
		below[c] = max(below[c], tied[c])
	}
	total := 2*len(head) - 2
	for _, w := range wide {
		total += w
	}
	gap := 2
	for i, floor := range [][]int{below, tied, loose} {
		if i == 2 && total > width {
			gap, total = 1, total-len(head)+1
		}
		for most := 0; total > width && most >= 0; {
			most = -1
			for c := range wide {
				if wide[c] > floor[c] && (most < 0 || wide[c] > wide[most]) {
					most = c
				}
			}
			if most >= 0 {
				wide[most]--
				total--
			}
		}
	}
	var out []string
	for _, row := range rows {
		out = append(out, tableRow(row, wide, gap)...)
	}
	return out
}

// tableRow is one row in as many lines as its longest cell takes.
func tableRow(row []string, wide []int, gap int) []string {
	var lines []string
	for c, at := 0, 0; c < len(row); c++ {
		for k, text := range Wrap(wide[c], row[c]) {
			if k == len(lines) {
				lines = append(lines, "")
			}
			lines[k] += strings.Repeat(" ", at-utf8.RuneCountInString(lines[k])) + text
		}
		at += wide[c] + gap
	}
	for k := range lines {
		lines[k] = strings.TrimRight(lines[k], " ")
	}
	return lines
}

// Wrap breaks a text between words into lines of at most width letters, but for a word
// that is longer; a figure stays with its unit where that fits.
func Wrap(width int, text string) []string {
	var out []string
	tied := Tied(text)
	for _, word := range strings.Split(tied, " ") {
		if utf8.RuneCountInString(word) > width {
			tied = text
		}
	}
	for _, word := range strings.Split(tied, " ") {
		if n := len(out) - 1; n >= 0 && utf8.RuneCountInString(out[n]+" "+word) <= width {
			out[n] += " " + word
		} else {
			out = append(out, word)
		}
	}
	for i := range out {
		out[i] = Untied(out[i])
	}
	return out
}
