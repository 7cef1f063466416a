package params

import (
	"bytes"
	"embed"
	"fmt"
	"strings"
	"text/template"

	"clampwright/params/diag"
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

	// What a starter takes when its choices would not pass the checks as derived.
	Washers   string // series of washers
	Angle     string // angles table row
	Thickness string // of the plates
	Levels    int    // of rods
}

// Starter writes a commented parameter file. It loads what it wrote before
// returning it; wrong options come back as the diagnostics of that load.
func Starter(o StarterOptions) ([]byte, diag.List, error) {
	o = o.defaults()
	if o.Rows == 0 {
		o.Rows = o.rows()
	}
	var b bytes.Buffer
	if err := starterTemplate.Execute(&b, o); err != nil {
		return nil, nil, fmt.Errorf("starter file: %w", err)
	}
	_, diags := Load("starter file", b.Bytes())
	return b.Bytes(), diags, nil
}

// rows is how many rows are not too long; one where the options are wrong.
func (o StarterOptions) rows() int {
	var b bytes.Buffer
	o.Rows = 1
	if starterTemplate.Execute(&b, o) != nil {
		return 1
	}
	in, diags := Decode("starter file", b.Bytes())
	if in == nil || diags.HasErrors() {
		return 1
	}
	r := newResolver(in, mergeTables(in.Tables))
	r.settle()
	return RowsFor(r.f)
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
