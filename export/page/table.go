package page

import (
	"html/template"
	"regexp"
	"strings"
	"unicode"

	"clampwright/params/words"
)

// table is one table as the template reads it. The first column names the row.
type table struct {
	Class   string // "wide": cards on a phone; "dense": small there; "few": kept on one printed page
	Caption string
	Cols    []col
	Groups  []tableGroup
}

// col is one column: Num sets figures flush right, Long gives the text a whole
// line on a phone, Blank is to be filled in by pen.
type col struct {
	Head             string
	Num, Long, Blank bool
}

type tableGroup struct {
	Head string
	Rows [][]cell
}

// cell is one field: a verdict word, a text, small print, what to do.
type cell struct {
	Verdict         Verdict
	Text, Small, Do string
	Tick            string // id of a tick box, first column only
}

// newTable sorts out the class; columns that are empty in every row are left
// out, except the first and those to be filled in.
func newTable(caption string, cols []col, groups ...tableGroup) table {
	keep := make([]bool, len(cols))
	for i, c := range cols {
		keep[i] = i == 0 || c.Blank
	}
	var filled []tableGroup
	for _, g := range groups {
		if len(g.Rows) == 0 {
			continue
		}
		filled = append(filled, g)
		for _, r := range g.Rows {
			for i, c := range r {
				keep[i] = keep[i] || c != cell{}
			}
		}
	}
	t := table{Class: "wide", Caption: caption}
	for i, c := range cols {
		if keep[i] {
			t.Cols = append(t.Cols, c)
		}
	}
	for _, g := range filled {
		rows := pickCells(g.Rows, keep)
		t.keepUnits(rows)
		t.Groups = append(t.Groups, tableGroup{g.Head, rows})
	}
	if len(t.Cols) <= 3 {
		t.Class = "slim"
	}
	t.markFew()
	return t
}

func pickCells(rows [][]cell, keep []bool) [][]cell {
	out := make([][]cell, len(rows))
	for i, r := range rows {
		for j, c := range r {
			if keep[j] {
				out[i] = append(out[i], c)
			}
		}
	}
	return out
}

// texts makes plain cells.
func texts(ss ...string) []cell {
	out := make([]cell, len(ss))
	for i, s := range ss {
		out[i].Text = s
	}
	return out
}

// figure reports whether r may stand in a number.
func figure(r rune) bool { return unicode.IsDigit(r) || strings.ContainsRune(".,/+-\u2212", r) }

// keepUnits ties short figures to their units, so that they break together.
func (t table) keepUnits(rows [][]cell) {
	const short = 14
	for _, r := range rows {
		for i := range r {
			if t.Cols[i].Num && len(r[i].Text) <= short {
				r[i].Text = strings.ReplaceAll(r[i].Text, " ", "\u00a0")
			}
		}
	}
}

// few is the count of rows up to which a table stays on one printed page.
const few = 8

func (t *table) markFew() {
	n := 0
	for _, g := range t.Groups {
		n += len(g.Rows)
	}
	if n <= few {
		t.Class += " few"
	}
}

// dense keeps the table a table on a phone: its fields are short.
func (t table) dense() table {
	t.Class = "dense"
	t.markFew()
	return t
}

// longRun is the count of characters without a space that a column bears.
const longRun = 14

// soft escapes a text and lets a long run without spaces break, so that no
// name can push a table off the paper: after a mark such as a point or a
// stroke, or else anywhere.
func soft(s string) template.HTML {
	var b strings.Builder
	runes := []rune(words.Tied(s))
	run := 0
	for i, r := range runes {
		b.WriteString(template.HTMLEscapeString(string(r)))
		run++
		if unicode.IsSpace(r) {
			run = 0
		}
		more := i+1 < len(runes) && !breaks(runes[i+1]) && !(figure(r) && figure(runes[i+1]))
		if more && (run >= longRun || run >= longRun/2 && strings.ContainsRune(".-_/,:", r)) {
			b.WriteString("<wbr>")
			run = 0
		}
	}
	return template.HTML(thread.ReplaceAllString(b.String(), `<span class="one">$0</span>`))
}

// thread is a size whose stroke is no place to break: 5/16-18, 1-1/2.
var thread = regexp.MustCompile(`\d+(?:/\d+)?-\d+(?:/\d+)?`)

// breaks reports whether a line may end at r.
func breaks(r rune) bool { return unicode.IsSpace(r) && r != '\u00a0' }
