package params

import (
	"fmt"
	"math"
	"reflect"
	"slices"

	"clampwright/params/catalog"
	"clampwright/params/unit"
	"clampwright/params/words"
)

var typeOfCellBlock = reflect.TypeFor[CellBlock]()

// stackDoubt is how far a measured stack may lie from the sum of the sheet's
// thicknesses before it is taken for a mistake, as a fraction.
const stackDoubt = 0.08

func settlePack(r *resolver) {
	in, p, c := &r.in.Pack, &r.f.Pack, &r.f.Cell
	p.Cells = in.Cells.V
	p.Rows = pick(r, "pack.rows", in.Rows, 1, "one row")
	p.PerRow = max(1, (p.Cells+p.Rows-1)/p.Rows)
	if used := (p.Cells + p.PerRow - 1) / p.PerRow; used < p.Rows {
		r.errorf(in.Cells.At, "a row would have no cell", fmt.Sprintf("%d cells in %d rows", p.Cells, p.Rows), "a cell or more in each row", fmt.Sprintf("rows: %d", used))
		p.Cells = p.Rows * p.PerRow
	}
	if p.Rows == 1 && in.RowGap.Set {
		r.errorf(in.RowGap.At, "a row gap with one row", "row_gap", "rows: 2 or more, or no row_gap", "leave row_gap out")
	}
	p.CellThickness = c.Thickness
}

// LongRow is how long a row gets, mm, before a starter takes one more: longer rods bend
// under the sleeves' weight and two people no longer turn the pack. Common practice, no
// source.
const LongRow = 1300

// RowsFor is how many rows keep each no longer than LongRow.
func RowsFor(f *Fixture) int {
	perRow := max(1, int(math.Floor(float64(LongRow/f.Pack.Pitch))))
	return min(MostRows, (f.Pack.Cells+perRow-1)/perRow)
}

// MostRows is what pack.rows takes.
const MostRows = 8

// insertDefaults are what an insert is when a block gives only part of it.
type insertDefaults struct {
	material  string
	thickness unit.Length
	beyond    unit.Length // past the cell's sides and top
}

// printedInsert is the thickness of a printed sheet when none is given: walls
// and an air channel fit into it.
const printedInsert unit.Length = 2.4

// settleInserts settles separators and liners, and with them the stack.
func settleInserts(r *resolver) {
	r.f.Separator = r.insert("separators", r.in.Separators, insertDefaults{material: "fr4", thickness: 0.5}, r.in.Separators.Present)
	settleStack(r)
	// The liner's default depends on the plate: see plateMaterial.
}

func (r *resolver) insert(path string, in InsertBlock, def insertDefaults, wanted bool) *Insert {
	if !wanted || in.None {
		return nil
	}
	c := &r.f.Cell
	if in.Printed.Or(false) { // what the printer makes by default
		def.material, def.thickness = r.in.Printer.Material.Or("petg"), printedInsert
	}
	mat := r.material(path+".material", in.Material, def.material)
	s := &Insert{Material: mat, Printed: in.Printed.Or(false)}
	s.Thickness = pick(r, path+".thickness", in.Thickness, def.thickness, "common practice")
	s.Width = pick(r, path+".width", in.Width, c.Width+2*def.beyond, "the cell's width")
	s.Height = pick(r, path+".height", in.Height, c.Height+def.beyond, "the cell's height")
	s.Bottom = pick(r, path+".bottom", in.Bottom, max(0, (c.Height-s.Height)/2), "centred on the cell, or level with its underside")
	s.Pattern = pick(r, path+".pattern", in.Pattern, "sheet", "full sheet")
	s.Border = in.Border.Or(min(s.Width, s.Height) / 8)
	s.RibPitch = in.RibPitch.Or(s.Border * 2)
	s.Curve = squeezePoints(in.Curve)
	checkCurve(r, path+".curve", in.Curve)
	padded(r, path, in, s)
	if s.Pattern != "sheet" && 2*s.Border >= min(s.Width, s.Height) {
		r.errorf(in.Border.At, path+": the border fills the sheet", r.f.Style.Exact(s.Border.MM()), fmt.Sprintf("less than %s", r.f.Style.Exact((min(s.Width, s.Height)/2).MM())), "")
	}
	if s.Pattern == "ribs" && s.RibPitch <= s.Border {
		r.errorf(in.RibPitch.At, path+": the ribs touch each other", fmt.Sprintf("pitch %s, ribs %s", r.f.Style.Exact(s.RibPitch.MM()), r.f.Style.Exact(s.Border.MM())), "a pitch wider than the ribs", "pattern: sheet for full contact")
	}
	return s
}

// settleFiller settles the sheets in places without a cell: so many, all alike, that they are
// as thick as a cell.
func settleFiller(r *resolver) {
	in, p := &r.in.Fillers, &r.f.Pack
	if p.Cells == p.Rows*p.PerRow {
		if in.Present && r.sure("pack") {
			r.errorf(in.At, "fillers, but every place has a cell", fmt.Sprintf("%d cells in %d row%s", p.Cells, p.Rows, words.Plural(p.Rows)), "no fillers", "leave fillers out")
		}
		return
	}
	c, usual := &r.f.Cell, r.f.Plate.Material.Name
	if r.f.Plate.Material.Conducts {
		usual = "birch plywood"
	}
	mat := stiff(r, "fillers.material", in.Material, r.material("fillers.material", in.Material, usual))
	sheets, how := fillerSheets(r, mat)
	n := pick(r, "fillers.sheets", in.Sheets, sheets, how)
	s := &Insert{Material: mat, Thickness: p.CellThickness / unit.Length(n), Width: c.Width, Height: c.Height, Pattern: "sheet", Pieces: n}
	if mat.Conducts {
		r.errorf(in.Material.At, "the fillers conduct", mat.Name, "an insulating material", "")
	}
	r.f.Filler = s
}

// leastFiller is the least thickness of a filler's sheets that is derived.
const leastFiller unit.Length = 3

// fillerSheets is how many sheets make a filler: of such as the file lists, else as are sold,
// as thick as the plates, as nearly as may be; where none fits, as the plates alone.
func fillerSheets(r *resolver, mat catalog.Material) (n int, how string) {
	var listed, sold []SheetStock
	for _, b := range r.in.Stock.Sheets {
		if row, ok := r.tables.Material(b.Material.V); ok {
			listed = append(listed, SheetStock{Material: row.Name, Thickness: b.Thickness.V})
		}
	}
	for _, t := range mat.Thicknesses {
		sold = append(sold, SheetStock{Material: mat.Name, Thickness: t})
	}
	c, plate := r.f.Pack.CellThickness, r.f.Plate.Thickness
	off := func(n int) float64 { return math.Abs((c/unit.Length(n) - plate).MM()) }
	for i, list := range [][]SheetStock{listed, sold} {
		for k := 1; c/unit.Length(k) >= leastFiller; k++ {
			if slices.ContainsFunc(list, func(s SheetStock) bool { return s.Takes(mat.Name, c/unit.Length(k)) }) && (n == 0 || off(k) < off(n)) {
				n = k
			}
		}
		if n > 0 {
			return n, [2]string{"of sheets that are listed", "of sheets that are sold"}[i]
		}
	}
	return max(1, int(math.Round(float64(c/plate)))), "about as thick as the plates; no sheet so thick is usual"
}

// ListedStack is the length of a row by the data sheet's thicknesses.
func (f *Fixture) ListedStack() unit.Length {
	return unit.Length(f.Pack.PerRow)*f.Cell.Thickness + f.betweenCells()
}

// betweenCells is how thick a row's separators are together.
func (f *Fixture) betweenCells() unit.Length {
	if f.Separator == nil {
		return 0
	}
	return unit.Length(f.Pack.PerRow-1) * f.Separator.Thickness
}

// settleStack settles the stack's length and pitch from the length that the user measured,
// the cells' thicknesses as measured, or nominal sizes.
func settleStack(r *resolver) {
	p, c := &r.f.Pack, &r.f.Cell
	n, sheets := unit.Length(p.PerRow), r.f.betweenCells()
	nominal := r.f.ListedStack()
	stack, ok := r.f.Measured("stack", "")
	given := lengthV{V: unit.Length(stack.Value), Set: ok, At: stack.At}
	likely, how := nominal, "cells and separators at their nominal thickness"
	if thick, at := r.f.measuredThickness(); thick > 0 && !ok {
		likely, how, stack.At = n*thick+sheets, "the middle one of the cells' thicknesses as measured, and separators", at
	}
	p.StackLength = pick(r, "pack.stack", given, likely, how)
	p.Measured = ok
	if off := math.Abs(float64(p.StackLength/nominal - 1)); off > stackDoubt {
		if r.sure("cell.model", "cell.thickness", "pack.cells", "pack.rows", "separators") {
			r.errorf(stack.At, "the measured stack doesn't fit the cells", r.f.Style.Exact(p.StackLength.MM()), fmt.Sprintf("within %.0f %% of %s (%d cells of %s)", 100*stackDoubt, r.f.Style.Exact(nominal.MM()), p.PerRow, r.f.Style.Exact(c.Thickness.MM())), "measure again, or correct cell.thickness")
		}
		p.StackLength = nominal
	}
	p.CellThickness = (p.StackLength - sheets) / n
	p.Pitch = p.CellThickness
	if r.f.Separator != nil {
		p.Pitch += r.f.Pressed(r.f.Separator)
	}
}

// material looks up a materials row, with a default name.
func (r *resolver) material(path string, g wordV, def string) catalog.Material {
	m := row(r, "materials", g, def, r.tables.Material)
	kind := Derived
	if g.Set {
		kind = FromFile
	}
	r.note(path, kind, g.At, m.Source)
	return m
}

func squeezePoints(in []SqueezeBlock) []SqueezePoint {
	var out []SqueezePoint
	for _, p := range in {
		out = append(out, SqueezePoint{Squeeze: p.Squeeze.V, Pressure: p.Pressure.V})
	}
	return out
}

// checkCurve wants a curve that starts at or after zero and always rises.
func checkCurve(r *resolver, path string, in []SqueezeBlock) {
	if !r.sure(path) {
		return
	}
	if len(in) == 1 {
		r.errorf(in[0].At, path+" has one point", "1", "two points or more", "")
	}
	for i := 1; i < len(in); i++ {
		if in[i].Squeeze.V <= in[i-1].Squeeze.V || in[i].Pressure.V <= in[i-1].Pressure.V {
			r.errorf(in[i].At, path+" doesn't rise", fmt.Sprintf("point %d", i+1), "each point with more squeeze and more pressure than the one before", "sort the points")
			return
		}
	}
}
