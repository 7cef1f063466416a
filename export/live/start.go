package live

import (
	"fmt"
	"strconv"
	"strings"

	"clampwright/params"
	"clampwright/params/catalog"
)

// answers are to the questions that a page without a file begins with: what a data
// sheet and a tape measure tell.
type answers struct {
	Cells, Rows      string
	Cell             string // row of the table, or thickness x width x height
	Wrapped          bool   // the cases
	Units            string
	Force, Tolerance string // empty: the sheet is silent
	Carries          bool   // the sheet says that the case carries the load itself
	Plate            string // material
	Thickness        string // of the plate at hand; empty: what is needed is bought
	Width, Height    string // of a piece at hand that is no larger than that
	Tools            string // hand, router, laser
}

// starter are the choices for the first file and what else is given in it.
func (a answers) starter() (o params.StarterOptions, set []params.Change, err error) {
	count := func(what, text string) (n int) {
		n, wrong := strconv.Atoi(strings.TrimSpace(text))
		if wrong != nil && err == nil {
			err = &refusal{fmt.Sprintf("%s: found %q, expected a whole number", what, text)}
		}
		return n
	}
	o = params.StarterOptions{Cells: count("cells", a.Cells), Rows: count("rows", a.Rows), Cell: strings.TrimSpace(a.Cell), Units: a.Units,
		Plate: a.Plate, Force: strings.TrimSpace(a.Force)}
	give := func(path, value string) {
		if value = strings.TrimSpace(value); value != "" {
			set = append(set, params.Change{Path: path, Value: params.Word(value)})
		}
	}
	if a.Carries {
		o.Force = ""
		give("cell.compression", "none")
	} else if o.Force == "" {
		give("cell.compression", "unknown")
	} else {
		give("cell.force_tolerance", a.Tolerance)
	}
	if a.Wrapped {
		give("cell.case", "insulated")
	}
	give("plates.thickness", a.Thickness)
	give("plates.width", a.Width)
	give("plates.height", a.Height)
	switch a.Tools {
	case "router":
		give("tools.cutter", "6 mm")
	case "laser":
		give("stock.beam_kerf", "0.2 mm")
	}
	return o, set, err
}

// choices are the cells and the plates of the tables.
func choices() (cells, plates []string) {
	t := catalog.Builtin()
	for _, c := range t.Cells {
		cells = append(cells, c.Name)
	}
	for _, m := range t.Materials {
		plates = append(plates, m.Name)
	}
	return cells, plates
}
