package estimate

import (
	"cmp"
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
	last   bool    // of the last moment read, which is in doubt
	name   string  // of what a drift shows at first
	from   int     // the state that it begins with
}

// Doubt of a note.
type Doubt string

// The kinds: one reading apart from all others, a whole visit, a drift from a visit on,
// springs that carry more or less than those listed, a model that does not fit.
const (
	Outlier Doubt = "outlier"
	Visited Doubt = "visit"
	Drifts  Doubt = "drift"
	Weaker  Doubt = "springs"
	Misfit  Doubt = "misfit"
)

// Contradiction is two readings that cannot both be right, of which nothing tells which is.
type Contradiction struct {
	Refs [2]int
	Text string
}

func (c *Contradiction) Error() string { return c.Text }

// Limits: named from nameSigmas on, what the nuts were set by from setSigmas on, as its slopes
// are the least straight; a rival is one within rivalSigmas. All are judgements. Of so many readings one in setAside may be set aside before none is trusted.
// misfitSigmas is the normal score of the sum of squares.
const (
	nameSigmas, rivalSigmas = 4.0, 0.7
	setSigmas               = 5.0
	setAside                = 6
	misfitSigmas            = 3.1
)

// suspect is one way in which readings may be off.
type suspect struct {
	kind       Doubt
	row        int  // of an outlier
	asked      bool // which is what the nuts were set by at the state
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
			return nil, contradiction(f, s, rival)
		}
		if len(e.Notes) > len(rs)/setAside {
			break
		}
		e.Notes = noted(e.Notes, f.heed(s))
		f, err = anew(f.model, f.z)
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

// noted adds a note; drifts that begin together are told as one.
func noted(notes []Note, n Note) []Note {
	for i := range notes {
		if was := &notes[i]; n.Kind == Drifts && was.Kind == Drifts && was.from == n.from {
			was.Refs = append(was.Refs, n.Refs...)
			was.Text += fmt.Sprintf(" So it is by the %s, %.0f sigma.", n.name, n.Sigmas)
			return notes
		}
	}
	return append(notes, n)
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
// reading that may as well be the one, also when both are tried.
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
		if s.asked && math.Abs(s.t) < setSigmas {
			s.t = 0
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
	var close []*suspect
	for i := range all {
		if s := &all[i]; s.kind == Outlier && best.kind == Outlier && math.Abs(s.t) > math.Abs(best.t)-rivalSigmas {
			close = append(close, s)
		}
	}
	return tried(f, best, close)
}

// tried are the best and its rival among suspects that are close by the slopes: the sum of
// squares that is left without each tells more of them where the model is bent.
func tried(f *fit, best *suspect, close []*suspect) (first, rival *suspect) {
	if len(close) < 2 {
		return best, nil
	}
	left := map[*suspect]float64{}
	for _, s := range close {
		g := *f
		g.model = f.with(nil)
		g.heed(s)
		left[s] = math.Inf(1)
		if h, err := g.model.solve(nil); err == nil {
			left[s] = h.sum(h.z, h.at)
		}
	}
	slices.SortStableFunc(close, func(a, b *suspect) int { return cmp.Compare(left[a], left[b]) })
	if left[close[1]]-left[close[0]] > nameSigmas*nameSigmas {
		return close[0], nil
	}
	return close[0], close[1]
}

// suspects are every reading, what the nuts were set by, springs on the scale, every visit
// with more than one and with others after it, and every drift from a visit on.
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
	if d := f.moved(func(g *model) { g.weaker = f.n }, 2); d != nil && f.weaker == 0 && len(weighed(f)) > 1 {
		out = append(out, suspect{kind: Weaker, d: d})
	}
	for s := range f.states {
		if by := f.setBy(s); len(by) > 0 { // as if the nuts had moved at once
			if d := f.moved(adrift(f, s, -1), 1); d != nil {
				out = append(out, suspect{kind: Outlier, row: farthest(f.rows, by), asked: true, state: s, tie: -1, d: d})
			}
		}
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
			if d := f.moved(adrift(f, s, tie), 2); d != nil && !heeded {
				out = append(out, suspect{kind: Drifts, state: s, tie: tie, d: d})
			}
		}
	}
	return out
}

// adrift has a tie, or all, drift from a state on, by one more latent.
func adrift(f *fit, s, tie int) func(*model) {
	return func(g *model) { g.drifts = append(slices.Clone(f.drifts), drift{s, tie, f.n}) }
}

// weighed are the readings of springs on a scale that are used.
func weighed(f *fit) (rows []Reading) {
	for i, r := range f.rows {
		if r.What == Weighed && !f.out[i] {
			rows = append(rows, r)
		}
	}
	return rows
}

// farthest is that of some readings which is farthest from their middle.
func farthest(rows []Reading, of []int) (at int) {
	var all []float64
	for _, i := range of {
		all = append(all, rows[i].Value)
	}
	slices.Sort(all)
	off := func(i int) float64 { return math.Abs(rows[i].Value - all[len(all)/2]) }
	return slices.MaxFunc(of, func(a, b int) int { return cmp.Compare(off(a), off(b)) })
}

// moved is how readings differ with one latent more; nil where fewer than least do.
func (f *fit) moved(more func(*model), least int) []float64 {
	g := *f.model
	more(&g)
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
	if any < least {
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
		if s.asked {
			m.drifts = append(m.drifts, drift{s.state, -1, m.more()})
			m.forget()
		} else {
			m.setAside(s.row)
		}
		r, disagrees := f.rows[s.row], "disagrees"
		if r.What == Turned {
			disagrees = "disagree"
		}
		n.Refs, n.last = []int{r.Ref}, f.in[s.row] == len(f.states)-1 || r.What == Weighed // a weak spring stays one
		others := "all others"
		if len(f.rows) == 1 {
			others = "a clamp that was set as the card says"
		}
		n.Text = fmt.Sprintf("The %s %s with %s by %.0f sigma: read it again. It is not used.", r.Name, disagrees, others, n.Sigmas)
		if n.last && !s.asked && r.Stage >= Set {
			n.Text += " If it stays so, a nut has turned."
		}
	case Weaker:
		m.weaker = m.more()
		part := 0.0
		on := weighed(f)
		for _, r := range on {
			n.Refs = append(n.Refs, r.Ref)
			part += r.Value / f.atHeight(r.HighMM) / float64(len(on))
		}
		n.Text = fmt.Sprintf("On the scale the springs carry %.2f times what is listed for them: they are other springs than those of the file. The forces here are told with what they carry. Give the springs that are fitted, then read again.", part)
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
		first, last := around(f, s)
		n.Refs, n.name, n.from = []int{f.rows[last].Ref}, f.rows[last].Name, s.state
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
func around(f *fit, s *suspect) (first, last int) {
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

func contradiction(f *fit, a, b *suspect) error {
	i, j := min(a.row, b.row), max(a.row, b.row)
	x, y := f.rows[i], f.rows[j]
	return &Contradiction{[2]int{x.Ref, y.Ref}, fmt.Sprintf("the %s and the %s cannot both be right: they differ by %.0f sigma, and nothing else read tells which is wrong", x.Name, y.Name, math.Abs(a.t))}
}
