package estimate

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"clampwright/assembly/assure"
)

// Estimate is what readings tell.
type Estimate struct {
	*fit
	Notes []Note
	ties  [][]term    // how the heights of each tie's springs differ from the mean, as last set
	draws [][]float64 // that are as likely as one another
	serve assure.Band // forces at storage charge outside which it is set again
}

// Band is what 95 in 100 of what a number may be lie between, and the mean of these, which is
// right on average where that is skewed.
type Band struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// drawn is how many draws a band is taken from; of one seed, so that the same readings
// give the same.
const drawn, drawnSeed = 1000, 17

// A Moment is a clamp at a time.
type Moment struct {
	Years  float64 `json:"years"`
	Charge float64 `json:"charge"`
	TempC  float64 `json:"temp_c"`
}

// Bare says that nothing was read.
func (e *Estimate) Bare() bool { return len(e.rows) == 0 }

// Now is the last moment read; the card's own setting where nothing was.
func (e *Estimate) Now() Moment {
	for i := len(e.states) - 1; i >= 0; i-- {
		if s := &e.states[i]; s.Stage >= Set {
			return Moment{s.Years, s.Charge, s.TempC}
		}
	}
	return Moment{0, e.SetCharge, e.AssemblyC}
}

// isSet says whether anything was read as set or later.
func (e *Estimate) isSet() bool {
	n := len(e.states)
	return n > 0 && e.states[n-1].Stage >= Set
}

// walk is the clamp of one z after its last setting and drift, and the heights' and
// forces' own parts of its ties.
func (m *model) walk(z []float64) (*assure.Life, []float64) {
	own := m.own(z)
	l := m.Life(own, m.TurnMM)
	for i, s := range m.sets {
		l.SetAs(s, own)
		for _, d := range m.drifts {
			if m.states[d.state].sets == i+1 {
				l.Drift(m.driftOf(d, z))
			}
		}
	}
	return l, own
}

// own are the sigmas of the clamp as a draw takes them.
func (m *model) own(z []float64) []float64 {
	own := assure.Seated(m.Prior.of(z[:m.life]))
	if m.weaker > 0 {
		own[assure.OfLot] += lotSigmas * z[m.weaker]
	}
	return own
}

// sample draws what may be so: what would be most likely had the readings and the middles
// of the ranges been off by errors of their own, which keeps to where the model is bent.
// What the steps leave stands square on the slopes at the most likely (randomize, then
// optimize: Bardsley and others 2014, without its weights; from memory).
func (e *Estimate) sample() {
	r := rand.New(rand.NewPCG(drawnSeed, 1))
	for range drawn {
		e.draws = append(e.draws, e.redone(r))
	}
	mean := make([]float64, e.n)
	for _, z := range e.draws {
		floats.AddScaled(mean, 1.0/drawn, z)
	}
	if e.serve = e.LimitsOf(nil); !e.Bare() {
		e.serve = e.LimitsOf(e.own(mean))
	}
}

// The steps of one draw, and how far from rest, in sigmas, they may end.
const redoneSteps, redoneRest = 10, 0.05

// wider is by how much the errors of a draw are taken larger than they are, where anything
// was read: twins differ from their estimates by 1.00 to 1.05 times what draws without it
// say (600 each, TestTwins), as slopes are those at the most likely. A share is drawn without
// it: ranges that nothing was read of are no wider for it.
const wider = 1.04

// redone is one draw.
func (e *Estimate) redone(r *rand.Rand) []float64 {
	own, read := make([]float64, e.n), make([]float64, len(e.rows))
	size := math.Sqrt(e.wide)
	if len(e.rows) > 0 {
		size *= wider
	}
	for k := range own {
		own[k] = size * r.NormFloat64()
	}
	for i := range read {
		read[i] = size*r.NormFloat64() + (e.rows[i].Value-e.at[i])/e.sigma(i)
	}
	z, at := slices.Clone(e.z), e.at
	rest, way := z, make([]float64, e.n) // the nearest to rest so far, and the step from there
	last, keep := math.Inf(1), 1.0
	g, step := mat.NewVecDense(e.n, nil), mat.NewVecDense(e.n, nil)
	left := mat.NewVecDense(max(1, len(e.rows)), nil)
	for range redoneSteps {
		for i := range e.rows {
			left.SetVec(i, read[i]-(at[i]-e.at[i])/e.sigma(i))
		}
		if g.Zero(); len(e.rows) > 0 {
			g.MulVec(e.j.T(), left)
		}
		for k := range z {
			g.SetVec(k, g.AtVec(k)+own[k]-z[k])
		}
		step.MulVec(e.cov, g)
		size := mat.Norm(step, 2) / math.Sqrt(e.wide)
		if size < last { // false too where a step went so far that the model has no value
			rest, last, keep = z, size, math.Min(2*keep, 1)
			copy(way, step.RawVector().Data)
		} else {
			keep /= 4
		}
		if last < redoneRest {
			break
		}
		z = slices.Clone(rest)
		floats.AddScaled(z, keep/e.wide, way)
		at = e.foretell(z)
	}
	return rest
}

// Forces are the bands of all ties together and of each.
func (e *Estimate) Forces(at Moment) (all Band, each []Band) {
	totals, ties := []float64(nil), make([][]float64, len(e.Shares))
	for _, z := range e.draws {
		l, _ := e.walk(z)
		force := l.At(at.Years, at.Charge, at.TempC).ForceN
		totals = append(totals, force)
		for k, share := range e.Shares {
			ties[k] = append(ties[k], e.one(z, k, force*share, l.Strength()))
		}
	}
	for _, t := range ties {
		each = append(each, band(t))
	}
	return band(totals), each
}

// tightening are the bands of a clamp on the way to its setting, as last read.
func (e *Estimate) tightening() (all Band, each []Band) {
	var totals []float64
	for _, z := range e.draws {
		seen, _, _, _ := e.follow(z)
		totals = append(totals, seen[len(seen)-1].ForceN)
	}
	all = band(totals)
	for _, share := range e.Shares {
		each = append(each, Band{share * all.Value, share * all.Low, share * all.High})
	}
	return all, each
}

// one is the force of a tie whose height differs from that of its share as was read.
func (e *Estimate) one(z []float64, tie int, force, strength float64) float64 {
	if e.FreeMM == 0 {
		return force
	}
	s := e.sharing()
	return strength * assure.Curve{Y: s.X, X: s.Y}.At(math.Max(s.At(force/strength)-e.differs(z, tie), 0))
}

// differs is by how much the springs of a tie stand higher than its share has them, as last
// set, mm.
func (e *Estimate) differs(z []float64, tie int) (mm float64) {
	last := Reading{What: Height, At: tie}
	for _, t := range e.ties[tie] {
		mm += t.mm * z[t.at]
	}
	for _, d := range e.drifts {
		if e.states[d.state].sets == len(e.sets) { // a setting ends those before it
			mm += z[d.at] * e.drifting(d, last)
		}
	}
	return mm
}

func band(list []float64) Band {
	slices.Sort(list)
	cut := len(list) * 25 / 1000
	list = list[cut : len(list)-cut]
	return Band{floats.Sum(list) / float64(len(list)), list[0], list[len(list)-1]}
}

// Inside is what part of the draws a force band holds at a moment.
func (e *Estimate) Inside(b assure.Band, at ...Moment) float64 {
	in := 0.0
	for _, z := range e.draws {
		l, _ := e.walk(z)
		ok := true
		for _, t := range at {
			f := l.At(t.Years, t.Charge, t.TempC).ForceN
			ok = ok && f >= b.Least && f <= b.Most
		}
		if ok {
			in++
		}
	}
	return in / drawn
}

// Known is what the share is drawn from.
func (e *Estimate) Known() *assure.Known {
	_, why := e.Turns()
	k := &assure.Known{Years: e.Now().Years, Again: why == "", Blind: e.blind(), Serve: e.serve}
	if e.isSet() { // else it will be as the card says
		k.Sets = e.sets
	}
	for _, z := range e.draws {
		own := slices.Clone(z)
		if len(e.rows) > 0 {
			for i := range own {
				own[i] = e.z[i] + (own[i]-e.z[i])/wider
			}
		}
		drifted := 0.0
		for _, d := range e.drifts {
			if e.states[d.state].sets == len(e.sets) { // a setting ends those before it
				drifted += e.driftOf(d, z)
			}
		}
		k.Draws = append(k.Draws, append(e.own(own), drifted))
	}
	return k
}

// Turn is what one nut is to be turned by.
type Turn struct {
	Tie      int     `json:"rod"`
	Turns    float64 `json:"turns"`     // in, both ends together; negative: out
	HeightMM float64 `json:"spring_mm"` // of its springs afterwards; 0 without
}

// Why no turn is told.
type Refusal string

// The reasons.
const (
	NotSet   Refusal = "it is not set yet, and the card says how"
	NotNow   Refusal = "no reading of the springs or plates is of a visit that is still so"
	NotSaid  Refusal = "it is not said how full the cells were at this reading: give its charge"
	TooFull  Refusal = "the cells hold more than storage charge"
	NotWorth Refusal = "the force is where it should be"
	NotSure  Refusal = "the readings do not tell the force well enough"
	NotAll   Refusal = "not every spring was read at this visit: read them all"
	Blind    Refusal = "the force may be where it should be: weigh one spring of every rod, which tells"
	Others   Refusal = "the springs are not those of the file: give these first"
)

// leastTurn is what a hand can set: a twelfth of a turn. mostSpread is how wide the band of
// the force may be, as a part of it, for a turn to be told: a judgement.
const leastTurn, mostSpread = 1.0 / 12, 0.5

// read is where the force was read at a state, and not set aside: at which ties by their
// springs, or without these by the plates, whose distance tells of it only beside that read
// snug; -1 is the mean of all.
func (e *Estimate) read(state int) map[int]bool {
	at := map[int]bool{}
	snug := slices.ContainsFunc(e.rows, func(r Reading) bool { return r.What == Length && r.Stage == Snug })
	for i, r := range e.rows {
		springs := e.FreeMM > 0 && r.What == Height
		plates := e.FreeMM == 0 && (r.What == Bow || r.What == Length && snug)
		if e.in[i] == state && !e.out[i] && (springs || plates) {
			at[r.At] = true
		}
	}
	return at
}

// seen says whether the force was read at a state.
func (e *Estimate) seen(state int) bool { return len(e.read(state)) > 0 }

// said says whether it was said at a state how full the cells are.
func said(e *Estimate, state int) bool {
	for i, r := range e.rows {
		if e.in[i] == state && !r.Unsaid {
			return true
		}
	}
	return false
}

// readSince says whether what was read since the nuts were last set tells the force of every tie:
// their springs or the plates, or by what the nuts were set; setting whether the last that
// was read of the force is of that setting.
func readSince(e *Estimate) (ok, setting bool) {
	for i := range e.states {
		if s := &e.states[i]; s.Stage >= Set && s.sets == len(e.sets) {
			ok = ok || e.seenAll(i) || len(e.setBy(i)) > 0
			if e.seen(i) || len(e.setBy(i)) > 0 {
				setting = s.Stage != Visit
			}
		}
	}
	return ok, setting
}

// seenAll says whether every tie was read so at a state; plates tell of all.
func (e *Estimate) seenAll(state int) bool {
	at := e.read(state)
	return at[-1] || len(at) == len(e.Shares) || e.FreeMM == 0 && len(at) > 0
}

// AsSet is when the force was read last, where that was as the nuts were set or set again.
func (e *Estimate) AsSet() (Moment, bool) {
	i := len(e.states) - 1
	return e.Now(), i >= 0 && (e.states[i].Stage == Set || e.states[i].Stage == Reset) && e.seen(i)
}

// Outside says whether all that may be of a force lies outside a part of limits.
func (b Band) Outside(limits assure.Band, part float64) bool {
	return b.Low > limits.Most*part || b.High < limits.Least*part
}

// blind says whether springs were last set by their height though not one of every rod was
// weighed.
func (e *Estimate) blind() bool {
	return e.isSet() && e.FreeMM > 0 && e.unweighed() && e.sets[len(e.sets)-1].Method == assure.Height
}

// need is what the force asks of the nuts as things stand, whether or not that may be told.
type need struct {
	turns        []Turn
	due, certain bool // the force is not where it should be, by its middle, by all that may be
	vague        bool // the readings do not tell it well enough
}

// needs works out what the nuts are to be turned by: as set to the setting band, later to the
// limits of service.
func needs(e *Estimate) (a need) {
	now := e.Now()
	all, each := e.Forces(now)
	limits := e.serve
	_, setting := readSince(e)
	if setting {
		limits = e.Setting
	}
	a.vague = all.High-all.Low > mostSpread*all.Value || e.Has(Misfit)
	due, certain := all.Value < limits.Least || all.Value > limits.Most, all.Outside(limits, 1)
	due = due || setting && e.FreeMM == 0 && e.Inside(limits, now) < sure // of locked nuts the middle is surest
	l, _ := e.walk(e.z)
	mean := l.Needs(e.TargetN, now.Years, now.Charge, now.TempC)
	for k, share := range e.Shares {
		t := Turn{Tie: k, Turns: mean / e.PitchMM}
		if e.FreeMM > 0 {
			t.HeightMM = e.height(e.TargetN*share, l.Strength())
			t.Turns += e.differs(e.z, k) * float64(e.Stacks) / e.PitchMM
		}
		one := e.one(e.z, k, all.Value*share, l.Strength())
		due, certain = due || one < limits.Least*share || one > limits.Most*share, certain || each[k].Outside(limits, share)
		a.turns = append(a.turns, t)
	}
	a.turns = slices.DeleteFunc(a.turns, func(t Turn) bool { return math.Abs(t.Turns) < leastTurn })
	a.due, a.certain = due && len(a.turns) > 0, certain
	return a
}

// Turns are what brings the force to the target; none without a reason.
func (e *Estimate) Turns() ([]Turn, Refusal) {
	if !e.isSet() {
		return nil, NotSet
	}
	return e.turns(needs(e))
}

// turns are those that are asked for, where they may be told.
func (e *Estimate) turns(a need) ([]Turn, Refusal) {
	last := len(e.states) - 1
	switch {
	case !e.isSet():
		return nil, NotSet
	case !e.seen(last):
		return nil, NotNow
	case !said(e, last):
		return nil, NotSaid
	case e.Now().Charge > e.StorageCharge+1e-9:
		return nil, TooFull
	case e.Has(Weaker):
		return nil, Others
	case a.vague:
		return nil, NotSure
	case !e.seenAll(last) && (a.due || e.Doubted() > 0):
		return nil, NotAll
	case !a.due:
		return nil, NotWorth
	case e.states[last].Stage != Visit && !a.certain && e.blind():
		return nil, Blind
	}
	return a.turns, ""
}
