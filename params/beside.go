package params

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"clampwright/params/diag"
)

// Opener gives what is in a file that a parameter file names, by that name.
type Opener func(name string) ([]byte, error)

// Bounds of a table of readings.
const (
	maxTable       = 1 << 20 // bytes
	maxTableErrors = diag.MostTold
	maxReadings    = 20000 // ten of each of the most cells that may be measured
)

// readBeside reads the table of readings and the file of what was learned that the file
// names. Without an opener there are none.
func (in *File) readBeside(open []Opener) diag.List {
	var list diag.List
	read := func(name wordV, what, kind string, take func(file string, text []byte) diag.List) {
		if !name.Set || len(open) == 0 {
			return
		}
		text, err := open[0](name.V)
		if err != nil {
			list.Add(diag.Diagnostic{Summary: fmt.Sprintf("%s in %s can't be read", what, filepath.Base(name.V)), Found: err.Error(), Expected: kind + " beside this file", Range: name.At})
			return
		}
		list = append(list, take(name.V, text)...)
	}
	read(in.Electrical.Records, "the readings", "a table of readings (CSV)", func(file string, text []byte) (wrong diag.List) {
		in.besideText = text
		in.beside, wrong = parseTable(file, text)
		return wrong
	})
	read(in.Cell.Learned, "what was learned", "a file with learned: and its entries", func(file string, text []byte) (wrong diag.List) {
		in.knownText = text
		in.known, wrong = decodeLearned(file, text)
		return wrong
	})
	in.wrong = in.wrong || list.HasErrors()
	return list
}

// tableWords are the columns of a table besides those of a cell's quantities: where
// a row's readings were taken, and any one quantity as in a parameter file.
var tableWords = []string{"serial", "what", "where", "when", "value", "unit", "uncertainty", "instrument", "date", "charge", "temperature", "cycles", "load", "high"}

// tableColumns are the columns that a table may have.
func tableColumns() []string {
	out := []string{tableWords[0]}
	for _, m := range measures {
		if m.of == "cell" {
			out = append(out, m.column())
		}
	}
	return append(out, tableWords[1:]...)
}

// table reads readings as comma separated text (RFC 4180) with one header line that
// names columns of tableColumns in any order. A row is a cell with its quantities, or
// one reading as in a parameter file.
type table struct {
	file  string
	lines [][]byte
	in    *csv.Reader
	head  []string
	full  bool // no further row is read
	out   []ReadingBlock
	diag.List
}

func parseTable(file string, text []byte) ([]ReadingBlock, diag.List) {
	t := table{file: file}
	t.read(text, strings.Join(tableColumns(), ","), "reading", t.header, t.row)
	return t.out, t.List
}

// read gives the header line and then every row to what takes them; columns is what a
// header may be, of what a row is called.
func (t *table) read(text []byte, columns, of string, header, row func([]string)) {
	t.List = diag.NotUTF8(t.file, text)
	if len(text) > maxTable {
		t.Errorf(diag.Range{File: t.file, Line: 1, Col: 1}, "the table is larger than %d bytes", maxTable)
	}
	if t.HasErrors() {
		return
	}
	text = bytes.TrimPrefix(text, byteOrderMark)
	t.lines = bytes.Split(text, []byte("\n"))
	t.in = csv.NewReader(bytes.NewReader(text))
	t.in.FieldsPerRecord = -1
	for n := 0; len(t.List) < maxTableErrors && !t.full; n++ {
		fields, err := t.in.Read()
		var wrong *csv.ParseError
		switch {
		case err == io.EOF && n == 0:
			t.Errorf(t.at(1, 1), "no header line; want %s", columns)
			return
		case err == io.EOF && n == 1:
			t.Errorf(t.at(2, 1), "no %s after the header line", of)
			return
		case err == io.EOF:
			return
		case errors.As(err, &wrong):
			t.Errorf(t.at(wrong.Line, max(1, wrong.Column)), "%v", wrong.Err)
			return
		case n == 0:
			for _, name := range fields {
				t.head = append(t.head, strings.TrimSpace(name))
			}
			if header(t.head); t.HasErrors() {
				return
			}
		case len(fields) != len(t.head):
			t.Errorf(t.field(0), "%d fields, the header has %d", len(fields), len(t.head))
		default:
			row(fields)
		}
	}
}

// at makes a range from a line and a column in bytes.
func (t *table) at(line, col int) diag.Range {
	if line >= 1 && line <= len(t.lines) {
		text := t.lines[line-1]
		col = 1 + utf8.RuneCount(text[:min(len(text), max(0, col-1))])
	}
	return diag.Range{File: t.file, Line: line, Col: col}
}

func (t *table) field(i int) diag.Range { return t.at(t.in.FieldPos(i)) }

func (t *table) header(fields []string) {
	seen := map[string]bool{}
	for i, name := range fields {
		_, known := measureOf(name)
		for _, w := range tableWords {
			known = known || w == name
		}
		switch {
		case !known:
			d := diag.Diagnostic{Summary: "unknown column", Found: name, Range: t.field(i), Expected: strings.Join(tableColumns(), ", ")}
			if near, ok := diag.Nearest(name, tableColumns()); ok {
				d.Suggestion = fmt.Sprintf("did you mean %q?", near)
			}
			t.Add(d)
		case seen[name]:
			t.Errorf(t.field(i), "column %q stands twice", name)
		}
		seen[name] = true
	}
	if !seen["serial"] && !(seen["what"] && seen["value"]) {
		t.Errorf(t.field(0), "a table of cells has the column serial, one of single readings the columns what and value")
	}
}

// row makes the readings of one row.
func (t *table) row(fields []string) {
	if len(t.out) >= maxReadings {
		t.Errorf(t.field(0), "more than %d readings", maxReadings)
		t.full = true
		return
	}
	var base ReadingBlock
	cells := []ReadingBlock(nil)
	words := map[string]*wordV{"serial": &base.Where, "where": &base.Where, "what": &base.What, "when": &base.When, "value": &base.Value, "unit": &base.Unit,
		"uncertainty": &base.Uncertainty, "instrument": &base.Instrument, "date": &base.Date, "charge": &base.Charge, "temperature": &base.Temperature,
		"cycles": &base.Cycles, "load": &base.Load, "high": &base.High}
	for i, text := range fields {
		g := wordV{V: strings.TrimSpace(text), At: t.field(i)}
		g.Set = g.V != ""
		if at := words[t.head[i]]; at != nil {
			*at = g
			continue
		}
		m, _ := measureOf(t.head[i])
		cells = append(cells, ReadingBlock{What: wordV{V: m.what, Set: true, At: g.At}, Value: g, Unit: wordV{V: m.unit, Set: true}})
	}
	for _, c := range cells {
		c.Where, c.When = base.Where, base.When
		t.out = append(t.out, c)
	}
	if len(cells) == 0 {
		t.out = append(t.out, base)
	}
}
