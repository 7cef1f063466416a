// Package estimate tells from readings of a clamp what its cells, its setting and its
// forces are, and how well.
//
// # Method
//
// All that is not known is a vector z of sigmas about the middles of the ranges that the
// share is drawn from (package assure), then of what only the readings have: lengths that
// nobody measured, how the ties differ, the friction of the threads. With readings y_i of
// one sigma s_i, and h the model's own, the most likely z makes
//
//	|z|² + sum ((y_i - h_i(z)) / s_i)²
//
// least (maximum a posteriori). Gauss and Newton's steps, damped, find it; the inverse of
// the last step's matrix is its covariance. Forces are those of draws from it, not of
// the straight line, so that a bound is one of the model's own.
//
// A reading, a visit or a drift is named by how many sigmas it stands from what all else
// foretells: with S the covariance of the readings before they are taken, in their sigmas,
// e what they differ by and d the way in which they would,
//
//	t = d·S⁻¹e / sqrt(d·S⁻¹d)
//
// the score test (C. R. Rao 1948; from memory), which for d of one reading is what that
// reading differs by from what all others foretell, in sigmas.
//
// Lengths mm, forces N, times years, temperatures °C.
package estimate

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"clampwright/assembly/assure"
)

// Clamp is a fixture with what its readings need beside.
type Clamp struct {
	*assure.Fixture
	Shares        []float64 // of the force that a tie carries; they add up to one
	RodPerN       float64   // stretch of one tie without its springs, mm/N
	FreeMM        float64   // height of one stack of springs, unloaded; 0: none fitted
	Stacks        int       // of springs on one tie
	PitchMM       float64
	DiameterMM    float64
	Friction      [2]float64 // K of T = K d F
	DragNMM       [2]float64 // running torque of a nut
	LengthMM      float64    // between the plates, nominal
	StorageCharge float64
	Errors        map[What][2]float64 // what a quantity's instrument may be off: so much, and this part

	Prior *Prior // what was learned of such cells; nil: the ranges alone

	spring, evened assure.Curve // see springs, sharing
}

// What is a quantity that is read.
type What string

// The quantities. Weighed is the force of one spring on a scale at a height, Bare the
// length of the loose row under weights.
const (
	Length  What = "stack"
	Height  What = "spring"
	Turned  What = "turns"
	Torque  What = "torque"
	Running What = "running"
	Bow     What = "bow"
	Weighed What = "weighed"
	Bare    What = "bare"
)

// Stage is when it was read.
type Stage int

// The stages: Part is on the way from snug to as set, Reset after nuts were turned again.
const (
	Before Stage = iota
	Snug
	Part
	Set
	Visit
	Reset
)

// MarshalText is a stage by its name.
func (s Stage) MarshalText() ([]byte, error) {
	return []byte([...]string{"before", "snug", "part", "set", "visit", "reset"}[s]), nil
}

// Reading is one number read. Readings are given in the order of their stages and times.
type Reading struct {
	What   What    `json:"what"`
	At     int     `json:"at"` // the tie, or for Bow the plate; -1: the mean of all
	Stage  Stage   `json:"stage"`
	Part   float64 `json:"part,omitempty"`  // of the way from snug to as set
	Years  float64 `json:"years,omitempty"` // since the first setting
	Charge float64 `json:"charge"`
	TempC  float64 `json:"temp_c"`
	Unsaid bool    `json:"-"` // the charge is taken, and was not given with it
	Value  float64 `json:"-"`
	Sigma  float64 `json:"sigma"`               // of the instrument
	LoadN  float64 `json:"load_n,omitempty"`    // of Bare
	HighMM float64 `json:"height_mm,omitempty"` // of Weighed: at which the spring was weighed
	Name   string  `json:"-"`                   // for a person: "spring height at left upper (2026-05-01)"
	Ref    int     `json:"-"`                   // whose it is, for the caller
}

// Errors of reading beside the instrument's, one sigma. Judgements, no source.
const (
	freeSigma   = 3.0  // mm, of a length that nobody measured
	apartSigma  = 0.5  // mm, of the plates' distance from tie to tie
	heightSigma = 0.2  // mm, of the springs' heights from tie to tie as set
	flatSigma   = 0.3  // mm, of a plate that is not pressed
	bowSigma    = 0.05 // part of the bow that the coarse plate may be off
	eachNut     = 0.08 // part of the torque that one nut differs by
	partSigma   = 0.7  // of the logarithm of the force at a stage on the way
	broadMM     = 1.0  // of a height that is read and not set to
	lotSigmas   = 10.0 // of a lot's force, of springs that are not those listed
)

// state is one moment at which something is read.
type state struct {
	Reading     // the first of it
	free    int // latent of the force (Part), or -1
	rub     int // latent of friction in the springs, or -1
	sets    int // settings before and with it
}

// term adds a latent to a reading.
type term struct {
	at int
	mm float64
}

// model is what readings ask of a clamp.
type model struct {
	*Clamp
	sets                []assure.Set
	states              []state
	rows                []Reading
	in                  []int // state of each row
	terms               [][]term
	life, n             int // latents of the clamp, and all
	shared              map[string]int
	friction, drag, bow int
	weaker              int // latent of springs that are not those listed, or 0
	drifts              []drift
	passed              int    // settings that were added
	out                 []bool // rows that are set aside
}

// drift is that nuts or plates moved from a state on: MM sigma of a latent, at one tie or
// at all (-1).
type drift struct {
	state, tie, at int
}

// newModel arranges readings; they are in order.
func newModel(c *Clamp, rs []Reading) *model {
	m := &model{Clamp: c, shared: map[string]int{}}
	m.sets = c.settings(rs)
	m.life = c.Latents() + 3*(len(m.sets)-1)
	m.n = m.life
	m.friction, m.drag, m.bow = m.more(), m.more(), m.more()
	for _, r := range rs {
		m.add(r)
	}
	return m
}

// settings are how the clamp was set, by the readings; as the card says where none tells.
func (c *Clamp) settings(rs []Reading) (out []assure.Set) {
	for i, r := range rs {
		if r.Stage >= Set && (i == 0 || !(&state{Reading: rs[i-1]}).same(r)) && (r.Stage != Visit || len(out) == 0) {
			out = append(out, c.setting(r, rs[i:]))
		}
	}
	if len(out) == 0 {
		out = []assure.Set{{Method: c.Method, TargetN: c.TargetN, TurnMM: c.TurnMM}}
	}
	return out
}

// setAside leaves a reading out, in how the clamp was set too where another of that moment
// tells it.
func (m *model) setAside(row int) {
	m.out[row] = true
	var rs []Reading
	for i, r := range m.rows {
		if !m.out[i] || r.What != Height {
			rs = append(rs, r)
		}
	}
	if sets := m.settings(rs); len(sets) == len(m.sets) {
		m.sets = sets
	}
	m.forget()
}

// forget has settings of which the reading is refused as the card says, or where nuts were
// set again as they were; drifts say by how much they are off.
func (m *model) forget() {
	m.sets = slices.Clone(m.sets)
	for _, d := range m.drifts {
		switch s := &m.states[d.state]; s.Stage {
		case Set:
			m.sets[s.sets-1] = assure.Set{Method: m.Method, TargetN: m.TargetN, TurnMM: m.Clamp.TurnMM}
		case Reset:
			m.sets[s.sets-1] = assure.Set{Years: s.Years, Method: assure.Turns, TargetN: m.TargetN}
		}
	}
}

// with is the model with further readings at the end, none of which is of a new setting.
func (m *model) with(more []Reading) *model {
	out := *m
	out.rows, out.in, out.terms, out.out = slices.Clone(m.rows), slices.Clone(m.in), slices.Clone(m.terms), slices.Clone(m.out)
	out.states, out.shared, out.drifts = slices.Clone(m.states), maps.Clone(m.shared), slices.Clone(m.drifts)
	for _, r := range more {
		out.add(r)
	}
	return &out
}

func (m *model) more() int { m.n++; return m.n - 1 }

// add takes a reading in.
func (m *model) add(r Reading) {
	last := len(m.states) - 1
	if last < 0 || !m.states[last].same(r) {
		if sets := r.Stage == Set || r.Stage == Reset || r.Stage == Visit && m.passed == 0; sets && m.passed < len(m.sets) {
			m.passed++
		}
		s := state{Reading: r, free: -1, rub: -1, sets: m.passed}
		if r.Stage == Part {
			s.free = m.more()
		}
		if m.Rub > 0 && r.Stage >= Set {
			s.rub = m.more()
		}
		m.states = append(m.states, s)
		last++
	}
	m.in, m.rows, m.out = append(m.in, last), append(m.rows, r), append(m.out, m.asked(r, m.passed))
	m.terms = append(m.terms, m.termsOf(r))
}

// asked says whether a reading is what the clamp was last set by, and tells no more.
func (m *model) asked(r Reading, passed int) bool {
	by := m.sets[max(0, passed-1)].Method
	return r.What == Turned && r.Stage != Visit && r.Stage >= Set && by == assure.Turns || r.What == Torque && r.Stage >= Set && by == assure.Torque
}

// setBy are the readings by which the nuts were set at a state; none where they are refused.
func (m *model) setBy(state int) (rows []int) {
	s := &m.states[state]
	if s.Stage == Visit || slices.ContainsFunc(m.drifts, func(d drift) bool { return d.state == state }) {
		return nil
	}
	for i, r := range m.rows {
		if m.in[i] == state && m.asked(r, s.sets) {
			rows = append(rows, i)
		}
	}
	return rows
}

func (s *state) same(r Reading) bool {
	return s.Stage == r.Stage && s.Years == r.Years && s.Charge == r.Charge && s.TempC == r.TempC && s.Part == r.Part
}

// setting is how the clamp was set when a reading was taken, by those from there on:
// springs by their height, else by turns, else by torque, else as the card says.
func (m *Clamp) setting(first Reading, from []Reading) assure.Set {
	sum, n, heights := map[What]float64{}, map[What]float64{}, []float64(nil)
	s := state{Reading: first}
	for _, r := range from {
		if s.same(r) {
			sum[r.What], n[r.What] = sum[r.What]+r.Value, n[r.What]+1
			if r.What == Height {
				heights = append(heights, r.Value)
			}
		}
	}
	out := assure.Set{Years: s.Years, Method: m.Method, TargetN: m.TargetN, TurnMM: m.TurnMM}
	switch {
	case s.Stage == Visit:
		out.Years = 0
	case len(heights) > 0 && m.FreeMM > 0:
		out.Method, out.ErrorMM = assure.Height, broadMM
		slices.Sort(heights) // their middle: one that was misread does not pull it
		middle := (heights[(len(heights)-1)/2] + heights[len(heights)/2]) / 2
		out.TargetN = m.atHeight(middle) * float64(len(m.Shares))
	case n[Turned] > 0:
		out.Method, out.TurnMM = assure.Turns, sum[Turned]/n[Turned]*m.PitchMM
	case n[Torque] > 0 && m.FreeMM == 0:
		out.Method = assure.Torque
		free := sum[Torque]/n[Torque] - (m.DragNMM[0]+m.DragNMM[1])/2
		if n[Running] > 0 {
			free = (sum[Torque]/n[Torque] - sum[Running]/n[Running])
		}
		out.TargetN = math.Max(free, 1) / (m.k() * m.DiameterMM) * float64(len(m.Shares))
	}
	return out
}

func (m *Clamp) k() float64 { return math.Sqrt(m.Friction[0] * m.Friction[1]) }

// atHeight is the force of one tie at a height of its springs, as listed.
func (c *Clamp) atHeight(mm float64) float64 {
	s := c.springs()
	return assure.Curve{Y: s.X, X: s.Y}.At(c.FreeMM - mm)
}

// height is that of a stack of springs of a strength under the force of one tie.
func (c *Clamp) height(n, strength float64) float64 { return c.FreeMM - c.springs().At(n/strength) }

// springs is how far one stack gives at a force.
func (c *Clamp) springs() assure.Curve {
	if c.spring.Y == nil {
		c.spring.Y = c.Stretch.Y
		for i, n := range c.Stretch.Y {
			c.spring.X = append(c.spring.X, (c.Stretch.X[i]-c.RodPerN*n)/float64(max(1, c.Stacks)))
		}
	}
	return c.spring
}

// sharing is how far one stack gives at a force where the ties differ: from where it is flat on
// what the rod and the cells and plates beside it yield is taken for it, which is all that then
// evens the ties out.
func (c *Clamp) sharing() assure.Curve {
	s := c.springs()
	if c.evened.Y != nil || len(s.Y) < 2 {
		return c.evened
	}
	snug, ties := c.SnugN, float64(c.Ties)
	beside := ties * (c.Advance() - c.Stretch.At(c.TargetN/ties) + c.Stretch.At(snug/ties)) / (c.TargetN - snug)
	soft := (s.X[1] - s.X[0]) / (s.Y[1] - s.Y[0])
	c.evened.Y = s.Y
	for i, x := range s.X {
		if i > 0 {
			by := (x - s.X[i-1]) / (s.Y[i] - s.Y[i-1])
			if by < flatPart*soft {
				by = (c.RodPerN + beside) / float64(max(1, c.Stacks))
			}
			x = c.evened.X[i-1] + by*(s.Y[i]-s.Y[i-1])
		}
		c.evened.X = append(c.evened.X, x)
	}
	return c.evened
}

// flatPart is below which part of their first softness springs are flat.
const flatPart = 0.02

// termsOf are the latents that only the readings have, in what they add to a reading.
func (m *model) termsOf(r Reading) []term {
	switch r.What {
	case Length:
		return append([]term{{at: m.common("length"), mm: freeSigma}}, m.apart("length", "", r.At, apartSigma)...)
	case Height:
		return m.apart("height", epoch(m.states[m.in[len(m.terms)]].sets), r.At, heightSigma)
	case Bow:
		return []term{{at: m.common(flatOf(r.At)), mm: flatSigma}}
	case Bare:
		return []term{{at: m.common("bare"), mm: freeSigma}}
	case Weighed: // the ties' own springs, of which a stack is one
		return m.apart("weighed", "", r.At, m.eachSpring(r)/math.Sqrt(float64(max(1, m.Stacks))))
	}
	return nil
}

// eachSpring is one sigma of what a spring on the scale differs by from its lot, N.
func (m *model) eachSpring(r Reading) float64 {
	return m.SpringTol * math.Sqrt(1-assure.SpringCommon) * m.atHeight(r.HighMM)
}

// flatOf names how a plate lies that is not pressed.
func flatOf(plate int) string { return fmt.Sprint("flat ", plate) }

// epoch is the name of the time between two settings.
func epoch(sets int) string { return fmt.Sprint(" after ", sets) }

func (m *model) common(name string) int {
	at, ok := m.shared[name]
	if !ok {
		at = m.more()
		m.shared[name] = at
	}
	return at
}

// apart is how one tie differs from the mean of all: the differences add up to nothing.
func (m *model) apart(what, epoch string, tie int, sigma float64) (out []term) {
	if tie < 0 {
		return nil
	}
	n := float64(len(m.Shares))
	for k := range m.Shares {
		mm := -sigma / n
		if k == tie {
			mm += sigma
		}
		out = append(out, term{at: m.common(fmt.Sprint(what, epoch, " tie ", k)), mm: mm})
	}
	return out
}

// foretell is what the model reads with sigmas z; moved adds to what the ties see from
// a state on.
func (m *model) foretell(z []float64) []float64 {
	out := make([]float64, len(m.rows))
	seen, snug, strength, seat := m.follow(z)
	for i, r := range m.rows {
		s := &m.states[m.in[i]]
		from := snug // what turns are counted from
		if at := m.in[i]; s.Stage == Reset && at > 0 && m.states[at-1].Stage >= Set {
			from = seen[at-1]
			from.TurnMM += seat
		}
		out[i] = m.reads(r, s, seen[m.in[i]], from, strength, seat, z)
		for _, t := range m.terms[i] {
			out[i] += t.mm * z[t.at]
		}
		for _, d := range m.drifts {
			if r.What == Height && m.in[i] >= d.state && s.sets == m.states[d.state].sets {
				out[i] += z[d.at] * m.drifting(d, r)
			}
		}
	}
	return out
}

// drifting is by how much a drift of one tie has its springs stand higher than the mean.
func (m *model) drifting(d drift, r Reading) float64 {
	n := float64(len(m.Shares))
	switch {
	case d.tie < 0 || r.At < 0:
		return 0
	case d.tie == r.At:
		return driftMM * (1 - 1/n)
	}
	return -driftMM / n
}

// driftOf is by how much a drift turns the nuts in, of the mean tie.
func (m *model) driftOf(d drift, z []float64) float64 {
	mm := -z[d.at] * driftMM * float64(max(1, m.Stacks))
	if d.tie >= 0 {
		mm /= float64(len(m.Shares))
	}
	return mm
}

// driftMM is one sigma of a drift that is looked for.
const driftMM = 10.0

// follow walks the clamp through the states.
func (m *model) follow(z []float64) (seen []assure.Pressed, snug assure.Pressed, strength, seat float64) {
	own := m.own(z)
	l := m.Life(own, m.TurnMM)
	snug = l.Tightening(l.Snug())
	seat = assure.SeatingMM * own[assure.OfSet+2]
	done := 0
	for i, s := range m.states {
		for ; done < s.sets; done++ {
			l.SetAs(m.sets[done], own)
		}
		for _, d := range m.drifts {
			if d.state == i {
				l.Drift(m.driftOf(d, z))
			}
		}
		switch s.Stage {
		case Before:
			seen = append(seen, assure.Pressed{ClosedMM: l.Squeezed(s.LoadN / m.FaceMM2)})
		case Snug:
			seen = append(seen, snug)
		case Part:
			target := snug.ForceN + s.Part*(m.TargetN-snug.ForceN)
			seen = append(seen, l.Tightening(math.Max(target, 1)*math.Exp(partSigma*z[s.free])))
		default:
			seen = append(seen, l.At(s.Years, s.Charge, s.TempC))
		}
	}
	return seen, snug, l.Strength(), seat
}

// reads is one reading without what its terms add.
func (m *model) reads(r Reading, s *state, p, snug assure.Pressed, strength, seat float64, z []float64) float64 {
	share := 1 / float64(len(m.Shares))
	if r.At >= 0 && r.What != Bow {
		share = m.Shares[r.At]
	}
	if s.Stage <= Snug {
		seat = 0
	}
	switch r.What {
	case Length:
		return m.LengthMM - p.ClosedMM - seat
	case Height:
		n := p.ForceN
		if s.rub >= 0 {
			n *= 1 + m.Rub*z[s.rub]
		}
		return m.height(math.Max(n, 0)*share, strength)
	case Turned:
		return (p.TurnMM - snug.TurnMM + seat) / m.PitchMM
	case Torque:
		return m.dragged(z) + m.k()*math.Exp(assure.TorqueError*z[m.friction])*m.DiameterMM*p.ForceN*share
	case Running:
		return m.dragged(z)
	case Bow:
		return p.BowMM * (1 + bowSigma*z[m.bow])
	case Weighed:
		return m.atHeight(r.HighMM) * strength * (1 + assure.WeighError*z[assure.OfWeighed])
	}
	return m.LengthMM - p.ClosedMM
}

func (m *model) dragged(z []float64) float64 {
	return (m.DragNMM[0]+m.DragNMM[1])/2 + (m.DragNMM[1]-m.DragNMM[0])/2/assure.EndSigmas*z[m.drag]
}

// sigma is that of a row, with what the model leaves open.
func (m *model) sigma(i int) float64 {
	r := m.rows[i]
	switch r.What {
	case Torque:
		return math.Hypot(r.Sigma, eachNut*r.Value)
	case Turned:
		return math.Hypot(r.Sigma, m.TurnErrorMM/m.PitchMM/math.Sqrt(3))
	case Weighed:
		return math.Hypot(r.Sigma, m.eachSpring(r)*m.alone(r))
	}
	return r.Sigma
}

// alone is what part of the spread of single springs readings of one at every tie leave open:
// that of a tie's other springs, or of the others where none says of which tie it is.
func (m *model) alone(r Reading) float64 {
	if r.At < 0 {
		return 1
	}
	return math.Sqrt(1 - 1/float64(max(1, m.Stacks)))
}

// jacobian is how what is foretold moves with each latent, in sigmas of the readings;
// rows set aside are nothing.
func (m *model) jacobian(z, at []float64) *mat.Dense {
	j := mat.NewDense(max(1, len(m.rows)), m.n, nil)
	linear := map[int]bool{}
	for i, ts := range m.terms {
		for _, t := range ts {
			linear[t.at] = true
			if !m.out[i] {
				j.Set(i, t.at, t.mm/m.sigma(i))
			}
		}
	}
	step := append([]float64(nil), z...)
	for k := range m.n {
		if linear[k] {
			continue
		}
		step[k] = z[k] + stepSigma
		for i, v := range m.foretell(step) {
			if !m.out[i] {
				j.Set(i, k, (v-at[i])/stepSigma/m.sigma(i))
			}
		}
		step[k] = z[k]
	}
	return j
}

// stepSigma is over which step the model is taken for straight.
const stepSigma = 0.01
