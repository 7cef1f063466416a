package diag

import (
	"strings"
	"unicode"
)

// Excerpts are cut to a window, so that one endless line can't flood a
// terminal: windowLead characters before the mark, windowSize in all.
const (
	windowSize = 100
	windowLead = 40
)

// ellipsis stands for what is cut off.
const ellipsis = '…'

// window cuts line to what is shown and returns the marked columns in it,
// counted from 0, end exclusive, at least one column wide.
func window(line []rune, at Range) (text []rune, col, end int) {
	col = min(max(at.Col-1, 0), len(line))
	end = at.EndCol - 1
	if at.EndLine > at.Line {
		end = len(line)
	}
	end = max(min(end, len(line)), col+1)
	if len(line) <= windowSize {
		return line, col, end
	}
	from := max(col-windowLead, 0)
	to := min(from+windowSize, len(line))
	end = min(end, to)
	text = append(text, line[from:to]...)
	if from > 0 {
		text[0] = ellipsis
	}
	if to < len(line) {
		text[len(text)-1] = ellipsis
	}
	return text, col - from, max(end-from, col-from+1)
}

// underline returns the white space before the marks and the marks. Tabs before
// the mark are repeated, so both lines take the same width whatever a tab is;
// wide characters take two columns, combining ones none.
func underline(text []rune, col, end int) (pad, marks string) {
	var p, m strings.Builder
	for i, c := range text {
		w := width(c)
		switch {
		case i < col && c == '\t':
			p.WriteByte('\t')
		case i < col:
			p.WriteString(strings.Repeat(" ", w))
		case i < end && c == '\t':
			m.WriteString(mark(m.Len(), 1))
		case i < end:
			m.WriteString(mark(m.Len(), w))
		}
	}
	if m.Len() == 0 {
		m.WriteByte('^')
	}
	return p.String(), m.String()
}

// mark returns n marks: a caret first, then tildes.
func mark(already, n int) string {
	if already == 0 && n > 0 {
		return "^" + strings.Repeat("~", n-1)
	}
	return strings.Repeat("~", n)
}

// showLine is the text of an excerpt: tabs stay, other controls are replaced.
func showLine(text []rune) string {
	out := make([]rune, len(text))
	for i, c := range text {
		out[i] = c
		if c != '\t' && Hidden(c) {
			out[i] = unicode.ReplacementChar
		}
	}
	return string(out)
}

// mostSaid is how many characters of one line of a message are shown: it may quote what
// the file holds.
const mostSaid = 600

// clean makes a message safe to print on one line, and cuts what is endless.
func clean(s string) string {
	if len(s) > mostSaid {
		if text := []rune(s); len(text) > mostSaid {
			s = string(text[:mostSaid-1]) + string(ellipsis)
		}
	}
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\n' || c == '\t':
			return ' '
		case Hidden(c):
			return unicode.ReplacementChar
		}
		return c
	}, s)
}

// Hidden reports whether a character can't be shown: controls, direction marks and
// line separators, on which a terminal would act, and what is no character at all.
func Hidden(c rune) bool {
	return unicode.In(c, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Noncharacter_Code_Point)
}

// wide are the blocks that terminals show two columns wide (the wide and
// fullwidth characters of Unicode Standard Annex 11, by block).
var wide = &unicode.RangeTable{
	R16: []unicode.Range16{
		{Lo: 0x1100, Hi: 0x115F, Stride: 1}, {Lo: 0x2E80, Hi: 0x303E, Stride: 1},
		{Lo: 0x3041, Hi: 0x33FF, Stride: 1}, {Lo: 0x3400, Hi: 0x4DBF, Stride: 1},
		{Lo: 0x4E00, Hi: 0x9FFF, Stride: 1}, {Lo: 0xA000, Hi: 0xA4CF, Stride: 1},
		{Lo: 0xAC00, Hi: 0xD7A3, Stride: 1}, {Lo: 0xF900, Hi: 0xFAFF, Stride: 1},
		{Lo: 0xFE30, Hi: 0xFE6F, Stride: 1}, {Lo: 0xFF00, Hi: 0xFF60, Stride: 1},
		{Lo: 0xFFE0, Hi: 0xFFE6, Stride: 1},
	},
	R32: []unicode.Range32{
		{Lo: 0x1F300, Hi: 0x1F64F, Stride: 1}, {Lo: 0x1F900, Hi: 0x1F9FF, Stride: 1},
		{Lo: 0x20000, Hi: 0x3FFFD, Stride: 1},
	},
}

// width is the count of terminal columns a character takes.
func width(c rune) int {
	switch {
	case unicode.In(c, unicode.Mn, unicode.Me):
		return 0
	case unicode.Is(wide, c):
		return 2
	}
	return 1
}
