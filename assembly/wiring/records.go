package wiring

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"clampwright/params/diag"
)

// Record is one incoming cell as measured.
type Record struct {
	Serial      string
	CapacityAh  float64
	MilliOhm    float64
	Volts       float64
	CentreMM    float64 // thickness in the middle of the large face
	EdgeLeftMM  float64 // thickness at the edge on the left when the plus is on the right
	EdgeRightMM float64
	Where       diag.Range // its row in the file
}

// EdgeMM returns the mean thickness at the two edges.
func (r Record) EdgeMM() float64 { return (r.EdgeLeftMM + r.EdgeRightMM) / 2 }

// BulgeMM returns how much thicker the middle is than the edges, both faces
// together.
func (r Record) BulgeMM() float64 { return r.CentreMM - r.EdgeMM() }

// column is one column of the records file.
type column struct {
	name      string
	low, high float64
	set       func(*Record, float64)
	get       func(Record) float64
}

var columns = []column{
	{name: "serial"},
	{"capacity_ah", 0.01, 1e5, func(r *Record, v float64) { r.CapacityAh = v }, func(r Record) float64 { return r.CapacityAh }},
	{"resistance_mohm", 0.001, 1e4, func(r *Record, v float64) { r.MilliOhm = v }, func(r Record) float64 { return r.MilliOhm }},
	{"voltage_v", 0, 5, func(r *Record, v float64) { r.Volts = v }, func(r Record) float64 { return r.Volts }},
	{"centre_mm", 0.1, 2000, func(r *Record, v float64) { r.CentreMM = v }, func(r Record) float64 { return r.CentreMM }},
	{"edge_left_mm", 0.1, 2000, func(r *Record, v float64) { r.EdgeLeftMM = v }, func(r Record) float64 { return r.EdgeLeftMM }},
	{"edge_right_mm", 0.1, 2000, func(r *Record, v float64) { r.EdgeRightMM = v }, func(r Record) float64 { return r.EdgeRightMM }},
}

// RecordColumns returns the names of the columns, in the order in which a
// starter file lists them.
func RecordColumns() []string {
	names := make([]string, len(columns))
	for i, c := range columns {
		names[i] = c.name
	}
	return names
}

// ParseRecords reads cell records as comma separated text (RFC 4180) with one
// header line naming the columns of RecordColumns in any order, all of them.
// Numbers are plain decimals with a point. Everything wrong is in the list, each
// with its place in the file; with an error in it there are no records.
func ParseRecords(file string, r io.Reader) ([]Record, diag.List) {
	p := recordParser{file: file, serials: map[string]int{}}
	data, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	switch {
	case err != nil:
		p.errs.Errorf(diag.Range{File: file}, "cannot be read: %v", err)
	case len(data) > mostBytes:
		p.errs.Errorf(diag.Range{File: file}, "larger than %d bytes", mostBytes)
	case !utf8.Valid(data):
		p.errs.Errorf(diag.Range{File: file}, "not UTF-8 text")
	default:
		data = bytes.TrimPrefix(data, []byte("\ufeff"))
		p.lines = bytes.Split(data, []byte("\n"))
		p.read(bytes.NewReader(data))
	}
	if p.errs.HasErrors() {
		return nil, p.errs
	}
	return p.records, p.errs
}

type recordParser struct {
	file    string
	lines   [][]byte
	order   []int // column of each field
	serials map[string]int
	records []Record
	errs    diag.List
}

// at makes a range from a line and a column in bytes.
func (p *recordParser) at(line, col int) diag.Range {
	if line >= 1 && line <= len(p.lines) {
		text := p.lines[line-1]
		col = 1 + utf8.RuneCount(text[:min(len(text), max(0, col-1))])
	}
	return diag.Range{File: p.file, Line: line, Col: col}
}

func (p *recordParser) read(r io.Reader) {
	in := csv.NewReader(r)
	in.FieldsPerRecord = -1
	for {
		fields, err := in.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			p.failCSV(err)
			return
		}
		at := func(i int) diag.Range { return p.at(in.FieldPos(i)) }
		if p.order == nil {
			if !p.header(fields, at) {
				return
			}
			continue
		}
		if len(p.records) >= mostRecords {
			p.errs.Errorf(at(0), "more than %d cells", mostRecords)
			return
		}
		p.row(fields, at)
	}
	if p.order == nil {
		p.errs.Errorf(p.at(1, 1), "no header line; want %s", strings.Join(RecordColumns(), ","))
	} else if len(p.records) == 0 && !p.errs.HasErrors() {
		p.errs.Errorf(p.at(2, 1), "no cell after the header line")
	}
}

func (p *recordParser) failCSV(err error) {
	var e *csv.ParseError
	if errors.As(err, &e) {
		p.errs.Errorf(p.at(e.Line, max(1, e.Column)), "%v", e.Err)
		return
	}
	p.errs.Errorf(diag.Range{File: p.file}, "cannot be read: %v", err)
}

func (p *recordParser) header(fields []string, at func(int) diag.Range) bool {
	seen := make([]bool, len(columns))
	p.order = make([]int, len(fields))
	for i, name := range fields {
		name = strings.TrimSpace(name)
		c := columnNamed(name)
		switch {
		case c < 0:
			p.unknown(name, at(i))
		case seen[c]:
			p.errs.Errorf(at(i), "column %q stands twice", name)
		default:
			seen[c] = true
		}
		p.order[i] = c
	}
	for c, ok := range seen {
		if !ok {
			p.errs.Errorf(at(len(fields)-1), "column %q is missing", columns[c].name)
		}
	}
	return !p.errs.HasErrors()
}

func (p *recordParser) unknown(name string, at diag.Range) {
	d := diag.Diagnostic{Summary: "unknown column", Found: name, Range: at,
		Expected: strings.Join(RecordColumns(), ", ")}
	if guess, ok := diag.Nearest(name, RecordColumns()); ok {
		d.Suggestion = guess
	}
	p.errs.Add(d)
}

func columnNamed(name string) int {
	for i, c := range columns {
		if c.name == name {
			return i
		}
	}
	return -1
}

func (p *recordParser) row(fields []string, at func(int) diag.Range) {
	if len(fields) != len(p.order) {
		p.errs.Errorf(at(0), "%d fields, the header has %d", len(fields), len(p.order))
		return
	}
	rec := Record{Where: at(0)}
	before := len(p.errs)
	for i, text := range fields {
		c := columns[p.order[i]]
		text = strings.TrimSpace(text)
		if c.set == nil {
			p.serial(&rec, text, at(i))
			continue
		}
		v, d := parseNumber(text, c.low, c.high)
		if d.Summary != "" {
			d.Summary, d.Range = c.name+" "+d.Summary, at(i)
			p.errs.Add(d)
			continue
		}
		c.set(&rec, v)
	}
	if len(p.errs) == before {
		p.records = append(p.records, rec)
	}
}

var serialForm = regexp.MustCompile(`^[\p{L}\p{N}._/ #-]{1,64}$`)

func (p *recordParser) serial(rec *Record, text string, at diag.Range) {
	if !serialForm.MatchString(text) {
		p.errs.Add(diag.Diagnostic{Summary: "serial cannot be used", Found: text, Range: at,
			Expected: "1 to 64 letters, digits and . _ / # - or space"})
		return
	}
	if first, twice := p.serials[text]; twice {
		p.errs.Add(diag.Diagnostic{Summary: fmt.Sprintf("serial %q stands on line %d already", text, first),
			Range: at, Related: []diag.Range{{File: p.file, Line: first}}})
		return
	}
	p.serials[text] = at.Line
	rec.Serial = text
}

var numberForm = regexp.MustCompile(`^[+-]?[0-9]{1,12}(\.[0-9]{1,12})?$`)

// parseNumber reads a decimal number within bounds; the diagnostic's summary is
// empty when it could.
func parseNumber(text string, low, high float64) (float64, diag.Diagnostic) {
	d := diag.Diagnostic{Found: text, Expected: fmt.Sprintf("a decimal number %v to %v", low, high)}
	if text == "" {
		d.Summary = "is empty"
		return 0, d
	}
	if !numberForm.MatchString(text) {
		d.Summary = "is not a decimal number"
		return 0, d
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || v < low || v > high {
		d.Summary = "is out of range"
		return 0, d
	}
	return v, diag.Diagnostic{}
}
