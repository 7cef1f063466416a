package params

import (
	"sync"

	"clampwright/params/catalog"
	"clampwright/params/diag"
	"clampwright/params/unit"
)

// Settler settles many changed copies of one decoded file quickly: it merges the tables
// and reads the readings once, chooses springs once for what they are asked, and keeps
// no note of where values came from. It is safe for concurrent use.
type Settler struct {
	tables catalog.Tables
	chosen sync.Map // springsAsked -> Spring
}

// springsAsked is what the choice of springs depends on, beside tables and cells.
type springsAsked struct {
	major  unit.Length
	washer catalog.Washer
	part   float64 // what a rod carries of a row's force
	target unit.Force
	cells  int
	thick  unit.Length
	layers countV
	ends   wordV
}

// NewSettler prepares for copies of in that keep its tables and cell.
func NewSettler(in *File) *Settler {
	s := &Settler{tables: mergeTables(in.Tables)}
	r := newResolver(in, s.tables)
	settleStyle(r)
	settleReadings(r)
	return s
}

// Settle is Resolve without hash and origins. in must not be changed meanwhile.
func (s *Settler) Settle(in *File) (*Fixture, diag.List) { return s.settle(in, true) }

func (s *Settler) settle(in *File, bare bool) (*Fixture, diag.List) {
	r := newResolver(in, s.tables)
	r.bare, r.brief, r.kept = bare, true, s
	if r.settle(); r.diags.HasErrors() {
		return nil, r.diags
	}
	return r.f, r.diags
}
