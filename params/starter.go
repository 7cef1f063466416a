package params

import (
	"bytes"
	"embed"
	"fmt"
	"regexp"
	"strings"
	"text/template"

	"clampwright/params/diag"
	"clampwright/params/unit"
)

//go:embed starter.yaml.tmpl
var starterFS embed.FS

var starterTemplate = template.Must(template.ParseFS(starterFS, "starter.yaml.tmpl"))

// StarterOptions are the choices that 'clampwright new' takes. Empty words mean
// the derived default.
type StarterOptions struct {
	Name     string
	Cells    int
	Rows     int
	Cell     string // cells table row or TxWxH
	Units    string // "mm" or "in"
	Plate    string // materials table row
	Thread   string // threads table row
	Force    string // data sheet force, such as "300 kgf"
	NoAngles bool
	Box      Cell // the cell as settled, to which the remarks fit
}

// Starter writes a commented parameter file whose examples fit the cell and the unit. It
// loads what it wrote before returning it; wrong options come back as the diagnostics of
// that load.
func Starter(o StarterOptions) ([]byte, diag.List, error) {
	o = o.defaults()
	text, err := o.text()
	if err != nil {
		return nil, nil, fmt.Errorf("starter file: %w", err)
	}
	if in, diags := Decode("starter file", text); in != nil && !diags.HasErrors() {
		r := newResolver(in, mergeTables(in.Tables))
		r.settle()
		if o.Box = r.f.Cell; o.Rows == 0 {
			o.Rows = RowsFor(r.f)
		}
	}
	if o.Rows == 0 {
		o.Rows = 1
	}
	if text, err = o.text(); err != nil {
		return nil, nil, fmt.Errorf("starter file: %w", err)
	}
	_, diags := Load("starter file", text)
	return text, diags, nil
}

// remark is a line of the starter with a remark behind it.
var remark = regexp.MustCompile(`(?m)^([^\n]*\S)\x{20}{2,}# `)

// text fills the template, remarks below each other.
func (o StarterOptions) text() ([]byte, error) {
	o.Rows = max(o.Rows, 1)
	var b bytes.Buffer
	err := starterTemplate.Execute(&b, o)
	return remark.ReplaceAllFunc(b.Bytes(), func(line []byte) []byte {
		return fmt.Appendf(nil, "%-30s # ", remark.FindSubmatch(line)[1])
	}), err
}

// In is the first word in millimetres, the second in inches.
func (o StarterOptions) In(mm, in string) string {
	if o.Units == string(unit.Inch) {
		return in
	}
	return mm
}

// Long writes a length of the cell or of what lies about it, to a millimetre or a 32nd.
func (o StarterOptions) Long(l unit.Length) string {
	if o.Units == string(unit.Inch) {
		return l.RoundFraction(32).Fraction(32) + " in"
	}
	return l.Decimal(0) + " mm"
}

func (o StarterOptions) defaults() StarterOptions {
	if o.Cells == 0 {
		o.Cells = 4
	}
	o.Cell = orString(o.Cell, "72x174x201")
	o.Units = orString(o.Units, "mm")
	if o.Name == "" {
		o.Name = fmt.Sprintf("%d-cell-%s", o.Cells, strings.ToLower(o.Cell))
	}
	o.Plate = orString(o.Plate, "birch plywood")
	if o.Thread == "" {
		o.Thread = "M8"
		if o.Units == "in" {
			o.Thread = "5/16-18"
		}
	}
	return o
}

// Quote makes text safe as a YAML scalar on one line.
func (o StarterOptions) Quote(text string) string {
	text = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, text)
	return "\"" + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + "\""
}

// Row is about as long as a row is measured; Wide, Low and High are about where a plate
// and its rods end up.
func (o StarterOptions) Row() unit.Length {
	return o.Box.Thickness * unit.Length((o.Cells+max(o.Rows, 1)-1)/max(o.Rows, 1))
}
func (o StarterOptions) Wide() unit.Length {
	return (o.Box.Width + 60) * unit.Length(max(o.Rows, 1))
}
func (o StarterOptions) Low() unit.Length  { return o.Box.Height / 4 }
func (o StarterOptions) High() unit.Length { return o.Box.Height * 3 / 4 }
