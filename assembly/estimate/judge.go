package estimate

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Note is something about the readings that a person must know.
type Note struct {
	Kind   Doubt   `json:"kind"`
	Refs   []int   `json:"readings"` // meant, by their places in the file
	Text   string  `json:"text"`
	Sigmas float64 `json:"sigmas"`
	last   bool    // of the last moment read: it may be right, and the clamp has changed
}

// Doubt of a note.
type Doubt string

// The kinds: one reading apart from all others, a whole visit, a drift from a visit on,
// a model that does not fit.
const (
	Outlier Doubt = "outlier"
	Visited Doubt = "visit"
	Drifts  Doubt = "drift"
	Misfit  Doubt = "misfit"
)

// Contradiction is two readings that cannot both be right, of which nothing tells which is.
type Contradiction struct {
	Refs [2]int
	Text string
}

func (c *Contradiction) Error() string { return c.Text }

// Limits: named from nameSigmas on, and a rival is one within rivalSigmas; both are
// judgements. Of so many readings one in setAside may be set aside before none is trusted.
// misfitSigmas is the normal score of the sum of squares.
const (
	nameSigmas, rivalSigmas = 4.0, 0.7
	setAside                = 6
	misfitSigmas            = 3.1
)

// suspect is one way in which readings may be off.
type suspect struct {
	kind       Doubt
	row        int // of an outlier
	state, tie int
	d          []float64 // in sigmas of the readings
	t          float64
}

// Fit estimates; the notes say what was set aside and why.
func Fit(c *Clamp, rs []Reading) (*Estimate, error) {
	f, err := newModel(c, rs).solve(nil)
	e := &Estimate{fit: f}
	for err == nil {
		s, rival := f.worst()
		if s == nil {
			break
		}
		if rival != nil {
			return nil, f.contradiction(s, rival)
		}
		if len(e.Notes) > len(rs)/setAside {
			break
		}
		e.Notes = append(e.Notes, f.heed(s))
		f, err = f.model.solve(f.z)
	}
	if err != nil {
		return nil, err
	}
	e.fit = f
	if x, n := f.squares(); misfit(x, n) > misfitSigmas {
		f.widen(x / float64(n))
		e.Notes = append(e.Notes, Note{Kind: Misfit, Sigmas: misfit(x, n), Text: fmt.Sprintf("The readings together do not fit the model: they differ by %.1f times what their errors explain. All bands are widened by that.", math.Sqrt(x/float64(n)))})
	}
	if e.ties = make([][]term, len(c.Shares)); f.shared["height"+epoch(len(f.sets))+" tie 0"] > 0 {
		for k := range e.ties {
			e.ties[k] = f.apart("height", epoch(len(f.sets)), k, heightSigma)
		}
	}
	e.sample()
	return e, nil
}

// before is the covariance of the readings as foretold before they are taken, in their
// sigmas, factorized, and what they differ by.
func (f *fit) before() (*mat.Cholesky, *mat.VecDense, bool) {
	n := len(f.rows)
	if n == 0 {
		return nil, nil, false
	}
	s := mat.NewSymDense(n, nil)
	s.SymOuterK(1, f.j)
	e := mat.NewVecDense(n, nil)
	for i, r := range f.rows {
		s.SetSym(i, i, s.At(i, i)+1)
		if f.out[i] {
			continue
		}
		v := (r.Value - f.at[i]) / f.sigma(i)
		for k := range f.n {
			v += f.j.At(i, k) * f.z[k]
		}
		e.SetVec(i, v)
	}
	var c mat.Cholesky
	return &c, e, c.Factorize(s)
}

// squares is the sum of squares of what the readings differ by from what was foretold.
func (f *fit) squares() (x float64, n int) {
	for _, out := range f.out {
		if !out {
			n++
		}
	}
	c, e, ok := f.before()
	var v mat.VecDense
	if !ok || c.SolveVecTo(&v, e) != nil {
		return 0, n
	}
	return mat.Dot(e, &v), n
}

// misfit is the normal score of a sum of n squares (Wilson and Hilferty 1931; from memory).
func misfit(x float64, n int) float64 {
	if n == 0 {
		return 0
	}
	v := 2.0 / 9 / float64(n)
	return (math.Cbrt(x/float64(n)) - (1 - v)) / math.Sqrt(v)
}

// worst is the likeliest of what may be off, nil where nothing need be; rival is another
// reading that may as well be the one.
func (f *fit) worst() (best, rival *suspect) {
	c, e, ok := f.before()
	var se mat.VecDense
	if !ok || c.SolveVecTo(&se, e) != nil {
		return nil, nil
	}
	all := f.suspects()
	for i := range all {
		s := &all[i]
		d := mat.NewVecDense(len(s.d), s.d)
		var sd mat.VecDense
		if c.SolveVecTo(&sd, d) != nil {
			continue
		}
		if v := mat.Dot(d, &sd); v > 1e-12 {
			s.t = mat.Dot(d, &se) / math.Sqrt(v)
		}
		if best == nil || math.Abs(s.t) > math.Abs(best.t)+1e-6 {
			best = s
		}
	}
	if best == nil || math.Abs(best.t) < nameSigmas {
		return nil, nil
	}
	for i := range all { // a single reading is the simplest of what explains as much
		if s := &all[i]; s.kind == Outlier && best.kind != Outlier && math.Abs(s.t) > math.Abs(best.t)-rivalSigmas/2 {
			best = s
		}
	}
	for i := range all {
		s := &all[i]
		if s.kind == Outlier && best.kind == Outlier && s.row != best.row && math.Abs(s.t) > math.Abs(best.t)-rivalSigmas && (rival == nil || math.Abs(s.t) > math.Abs(rival.t)) {
			rival = s
		}
	}
	return best, rival
}

// suspects are every reading, every visit with more than one and with others after it, and
// every drift from a visit on.
func (f *fit) suspects() (out []suspect) {
	unit := func(in func(i int) bool) (d []float64, n int) {
		d = make([]float64, len(f.rows))
		for i := range f.rows {
			if !f.out[i] && in(i) {
				d[i], n = 1/f.sigma(i), n+1
			}
		}
		return d, n
	}
	for i := range f.rows {
		if d, n := unit(func(k int) bool { return k == i }); n > 0 {
			out = append(out, suspect{kind: Outlier, row: i, d: d})
		}
	}
	for s := range f.states {
		if f.states[s].Stage != Visit {
			continue
		}
		for _, w := range []What{Height, Length, Bow} {
			_, later := unit(func(i int) bool {
				return f.in[i] > s && f.rows[i].What == w && f.states[f.in[i]].sets == f.states[s].sets
			})
			if d, n := unit(func(i int) bool { return f.in[i] == s && f.rows[i].What == w }); n > 1 && later > 0 {
				out = append(out, suspect{kind: Visited, state: s, d: d})
			}
		}
		for tie := -1; tie < len(f.Shares) && (f.FreeMM > 0 || tie < 0); tie++ {
			heeded := slices.ContainsFunc(f.drifts, func(d drift) bool { return d.state == s && d.tie == tie })
			if d := f.drifted(s, tie); d != nil && !heeded {
				out = append(out, suspect{kind: Drifts, state: s, tie: tie, d: d})
			}
		}
	}
	return out
}

// drifted is how readings differ when a tie, or all, drift from a state on; nil where
// nothing does.
func (f *fit) drifted(s, tie int) []float64 {
	g := *f.model
	g.drifts = append(append([]drift(nil), f.drifts...), drift{s, tie, f.n})
	at := g.foretell(append(append([]float64(nil), f.z...), stepSigma))
	d, any := make([]float64, len(at)), 0
	for i := range at {
		if !f.out[i] {
			d[i] = (at[i] - f.at[i]) / stepSigma / f.sigma(i)
		}
		if math.Abs(d[i]) > 0.1 {
			any++
		}
	}
	if any < 2 {
		return nil
	}
	return d
}

// heed takes a suspect out of the readings, or into the model.
func (f *fit) heed(s *suspect) Note {
	n := Note{Kind: s.kind, Sigmas: math.Abs(s.t)}
	m := f.model
	switch s.kind {
	case Outlier:
		m.setAside(s.row)
		n.Refs, n.last = []int{f.rows[s.row].Ref}, f.in[s.row] == len(f.states)-1
		n.Text = fmt.Sprintf("The %s disagrees with all others by %.0f sigma: read it again. It is not used.", f.rows[s.row].Name, n.Sigmas)
		if n.last {
			n.Text += " If it stays so, a nut has turned."
		}
	case Visited:
		at := m.more()
		for i := range f.rows {
			if s.d[i] != 0 {
				m.terms[i] = append(m.terms[i], term{at: at, mm: driftMM})
				n.Refs = append(n.Refs, f.rows[i].Ref)
			}
		}
		n.Text = fmt.Sprintf("All that was read with the %s is off alike, by %.0f sigma, and later readings are not: the instrument's zero or the charge was wrong then. It counts for how the rods differ only.", f.rows[most(s.d)].Name, n.Sigmas)
	case Drifts:
		m.drifts = append(m.drifts, drift{s.state, s.tie, m.more()})
		first, last := f.around(s)
		n.Refs = []int{f.rows[last].Ref}
		since := "Since before the " + f.rows[last].Name
		if first >= 0 {
			since = fmt.Sprintf("Between the %s and the %s", f.rows[first].Name, f.rows[last].Name)
		}
		n.Text = fmt.Sprintf("%s the clamp has moved by more than cells and settling explain, %.0f sigma, and stays so: this is a drift, no error of reading. Look for a nut that turned or a plate that gives way.", since, n.Sigmas)
	}
	return n
}

// around are the last reading before a drift, -1 where none was, and the first after it, of
// what it moves most.
func (f *fit) around(s *suspect) (first, last int) {
	d := slices.Clone(s.d)
	for i := range d {
		if f.in[i] != s.state {
			d[i] = 0
		}
	}
	first, last = -1, most(d)
	for i, r := range f.rows[:last] {
		if r.What == f.rows[last].What && r.At == f.rows[last].At && r.Stage >= Set {
			first = i
		}
	}
	return first, last
}

// most is the first of the readings that would differ most.
func most(d []float64) (at int) {
	for i, v := range d {
		if math.Abs(v) > math.Abs(d[at])+1e-6 {
			at = i
		}
	}
	return at
}

func (f *fit) contradiction(a, b *suspect) error {
	i, j := min(a.row, b.row), max(a.row, b.row)
	x, y := f.rows[i], f.rows[j]
	return &Contradiction{[2]int{x.Ref, y.Ref}, fmt.Sprintf("the %s and the %s cannot both be right: they differ by %.0f sigma, and nothing else read tells which is wrong", x.Name, y.Name, math.Abs(a.t))}
}
