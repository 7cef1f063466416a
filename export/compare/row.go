package compare

import (
	"fmt"

	"clampwright/parts/geom"
)

// Action is what becomes of a part.
type Action string

// The actions, from least to most work.
const (
	Keep    Action = "keep"     // fits as it is
	Shorten Action = "shorten"  // a bar, rod or guard, sawn off
	Redrill Action = "re-drill" // further or wider holes in the part as it is
	Recut   Action = "re-cut"   // cut down from the old part, drilled as needed
	Make    Action = "make"     // made anew: the old part does not serve
	Buy     Action = "buy"
	Spare   Action = "spare" // no longer used
)

// Row is one line of the comparison: some pieces of one part.
type Row struct {
	Action   Action  `json:"action"`
	Kind     string  `json:"kind"`
	Name     string  `json:"name"`
	New      string  `json:"new,omitempty"` // part id in the new fixture
	Old      string  `json:"old,omitempty"` // part id in the old one
	Quantity int     `json:"quantity"`
	Why      string  `json:"why"`
	Proof    []Proof `json:"proof,omitempty"` // of kept parts

	turned bool          // the old part stands on its head
	at     geom.Vec2     // the new part's middle on the old one
	left   []geom.Circle // old holes without use
}

// proved says how many sizes of a kept part were compared.
func (r Row) proved() string {
	switch n := len(r.Proof); n {
	case 0:
		return ""
	case 1:
		return " (1 size compared, within its fit)"
	default:
		return fmt.Sprintf(" (%d sizes compared, all within their fit)", n)
	}
}

// Proof is one dimension of a kept part: as made for the old fixture, as wanted
// by the new one, and the difference that its fit allows, mm.
type Proof struct {
	What    string  `json:"what"`
	OldMM   float64 `json:"old_mm"`
	NewMM   float64 `json:"new_mm"`
	AllowMM float64 `json:"allowed_mm"`
}

// DifferenceMM is how far old and new are apart.
func (p Proof) DifferenceMM() float64 {
	if p.OldMM > p.NewMM {
		return p.OldMM - p.NewMM
	}
	return p.NewMM - p.OldMM
}

// rounding is the difference of two sizes that are the same, mm.
const rounding = 1e-6

// holds says whether the difference is allowed.
func (p Proof) holds() bool { return p.DifferenceMM() <= p.AllowMM+rounding }

// allHold says whether every proof holds, and names the first that does not.
func allHold(list []Proof) (bool, Proof) {
	for _, p := range list {
		if !p.holds() {
			return false, p
		}
	}
	return true, Proof{}
}
