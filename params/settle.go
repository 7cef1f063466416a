package params

import (
	"clampwright/params/catalog"
	"clampwright/params/diag"
)

// Settler settles many changed copies of one decoded file quickly: it merges
// the tables once and keeps no note of where values came from. It is safe for
// concurrent use.
type Settler struct{ tables catalog.Tables }

// NewSettler prepares for copies of in that keep its tables block.
func NewSettler(in *File) *Settler { return &Settler{mergeTables(in.Tables)} }

// Settle is Resolve without hash and origins. in must not be changed meanwhile.
func (s *Settler) Settle(in *File) (*Fixture, diag.List) { return s.settle(in, true) }

func (s *Settler) settle(in *File, bare bool) (*Fixture, diag.List) {
	r := newResolver(in, s.tables)
	r.bare, r.brief = bare, true
	if r.settle(); r.diags.HasErrors() {
		return nil, r.diags
	}
	return r.f, r.diags
}
