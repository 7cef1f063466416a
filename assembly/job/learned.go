package job

import (
	"cmp"
	"slices"

	"clampwright/assembly/assure"
	"clampwright/assembly/clamp"
	"clampwright/assembly/estimate"
	"clampwright/assembly/inputs"
	"clampwright/params"
)

// Rests says what is known of the cells before this clamp is read: what other packs told of
// such cells, or why nothing is taken from that.
type Rests struct {
	Entries []params.Learned // that it rests on; empty: on the ranges alone
	Packs   int              // that these are of
	Known   *estimate.Prior

	// Apart are two entries that disagree, of which none is used, or one and an empty one for
	// this pack's own readings, which then count alone; nil where all agree.
	Apart     []params.Learned
	Sigmas    float64
	Parameter string     // that differs most
	Middles   [2]float64 // of it; the second is nothing where this pack's own
	Unit      string
}

// rests looks through what was learned.
func rests(f *params.Fixture, reduced *assure.Fixture) (r Rests, all []estimate.Learned) {
	all = inputs.Learned(f, reduced)
	prior, apart := estimate.Pool(f.Cell.Batch, all)
	if r.Known = prior; prior != nil {
		r.Packs = prior.Packs
		for _, i := range prior.From {
			r.Entries = append(r.Entries, f.Learned[i])
		}
	}
	if apart != nil {
		r.tell(f, reduced, apart)
	}
	return r, all
}

// tell notes that two are told apart.
func (r *Rests) tell(f *params.Fixture, reduced *assure.Fixture, a *estimate.Apart) {
	*r = Rests{Sigmas: a.Sigmas}
	what := reduced.OfCell()[a.Most]
	r.Parameter, r.Unit = what.Name, what.Unit
	for side, i := range a.Entries {
		l := params.Learned{}
		if i >= 0 {
			l = f.Learned[i]
		}
		r.Apart = append(r.Apart, l)
		_, r.Middles[side], _ = what.Between(a.Means[side], 0)
	}
}

// Misfits says whether this pack's readings do not fit the model.
func Misfits(j *Job) bool { return j.own != nil && j.own.Has(estimate.Misfit) }

// Ranges are what is assumed for the share, as rows of words.
func Ranges(j *Job) (head []string, rows [][]string, err error) { return j.reduced.Table() }

// CellRange is what is assumed of a cell's parameter.
func CellRange(j *Job, parameter int) assure.Range { return j.reduced.OfCell()[parameter] }

// Entry is what this pack's readings alone tell of its cells, for the next pack; ok is
// false where nothing was read at the clamp.
func Entry(j *Job) (l params.Learned, ok bool) {
	if j.own == nil || j.own.Bare() {
		return l, false
	}
	return inputs.Entry(j.Fixture, j.reduced, j.own), true
}

// knows says whether readings may tell how stiff the cells are.
func knows(j *Job) bool {
	return len(j.Fixture.Learned) > 0 || slices.ContainsFunc(j.Fixture.Readings, params.Reading.AtClamp)
}

// Narrowed is what part of a range's width is left of a parameter that readings told of: a
// judgement.
const Narrowed = 0.7

// told is what readings tell of the cells for the mechanics, 0 of what they do not: how stiff
// they are over the middle of the range, how much one grows from empty to full and how much
// for good, mm.
type told struct{ stiffness, full, lasting float64 }

// heed takes from the readings of this clamp, or others, what they tell of the cells.
func heed(j *Job) {
	known := j.reduced.Learned
	if j.Estimate != nil {
		known = j.Estimate.Known()
	}
	if z, wide := known.Parameter(0); wide < Narrowed {
		_, middle, _ := CellRange(j, 0).Between(z, 0)
		j.told.stiffness = middle / assure.CellModulus.Middle()
	}
	if j.Estimate != nil {
		j.told.full, j.told.lasting = j.Estimate.Growth(Narrowed)
	}
}

// pressed is the mechanics' input, with cells as readings tell them.
func (j *Job) pressed() clamp.Input {
	in := inputs.Clamp(j.Fixture)
	in.Stiffness = j.told.stiffness
	for i := range in.Rows {
		g := &in.Rows[i].Growth
		first, last := g.Points[0].Value, g.Points[len(g.Points)-1].Value
		if j.told.full > 0 && last > first {
			for k := range g.Points {
				g.Points[k].Value *= j.told.full / (last - first)
			}
		}
		g.Aged = cmp.Or(j.told.lasting, g.Aged)
	}
	return in
}
