package sizing

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"

	"clampwright/assembly"
	"clampwright/assembly/check"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/inputs"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/parts"
)

// EvenStep is the width of a class of evenness, as unevenness (standard deviation
// of the pressure over its mean, the middle of the face counted twice): two candidates of one class press alike for
// any purpose, and the lighter ranks first.
const EvenStep = 0.02

// evenSlack is what the coarse grid may be off in unevenness; the tests measure
// the true difference.
const evenSlack = 0.015

// Option is a candidate that passes everything.
type Option struct {
	Choice  Choice     `json:"choice"`
	MassG   float64    `json:"mass_g"`
	Cost    float64    `json:"price_as_share_of_stock"`
	Guessed bool       `json:"planning_prices"` // the cost rests on them in part
	Uneven  float64    `json:"spread"`          // unevenness as tightened: deviation over mean
	Middle  float64    `json:"middle"`          // pressure in the middle of the face over the mean
	ForceN  [2]float64 `json:"force_n"`         // least and greatest
	Lighter *Miss      `json:"next_lighter"`    // the next lighter candidate that does not pass, with why; nil for none
	Warns   []string   `json:"warns"`           // bounds of the clamp over which it only warns, then ids of checks
	Best    []string   `json:"leads"`           // the rankings: "mass", "cost", "evenness"

	index int
}

// class is the option's class of evenness.
func (o *Option) class() int { return classOf(o.Uneven) }

func classOf(uneven float64) int { return int(math.Floor(math.Max(uneven, 0) / EvenStep)) }

// Miss is a candidate that does not pass, with every bound it misses.
type Miss struct {
	Choice Choice
	MassG  float64
	Bounds []finding.Finding

	index int
}

// Outcome is what a search found. Front is empty when nothing passes; Nearest is
// then the candidate that misses fewest bounds by least.
type Outcome struct {
	Front   []Option // not bettered in mass, cost and evenness together, lightest first
	Nearest *Miss

	Candidates, Made, Screened, Tried, Solved int // candidates, made, as tightened, checked and tried in all coarse states, in full
	// Warned is true when nothing passes without a warning of the clamp, such as a
	// limit for lasting load exceeded; the front is then of what only does not fail.
	Warned bool
	// Complete is false when the front was cut short; its leaders are still proven.
	Complete bool
	// Blocked is the check that every candidate looked at fails, whatever is
	// chosen; the search then ended early, after Checked in order of rank and Probed
	// of all kinds. Empty otherwise.
	Blocked         finding.ID
	Checked, Probed int
}

// Progress is told how far a stage is: done of total.
type Progress func(stage string, done, total int)

// Proof judges a fixture, its printed extras and link bars included, by every check
// but those of the clamp's states.
type Proof func(f *params.Fixture) ([]finding.Finding, error)

// Most are limits that the user sets; zero for none.
type Most struct {
	MassG  float64
	Cost   float64 // as share of stock, as Option.Cost
	Uneven float64
}

func (m Most) over(c *candidate) *finding.Finding {
	switch {
	case m.MassG > 0 && c.mass > m.MassG:
		return missed("mass-asked", finding.AtMost, c.mass, m.MassG, "g", "")
	case m.Cost > 0 && c.cost > m.Cost:
		return missed("price-asked", finding.AtMost, c.cost, m.Cost, "", "")
	}
	return nil
}

// spread is the same for the unevenness of a state.
func (m Most) spread(uneven, slack float64) []finding.Finding {
	if m.Uneven > 0 && uneven > m.Uneven+slack {
		return []finding.Finding{*missed("spread-asked", finding.AtMost, 100*uneven, 100*m.Uneven, "%", "")}
	}
	return nil
}

// Means are what a search judges by beside the fixture itself; the zero value does.
type Means struct {
	// Links are the link bars of the file's own fixture: no choice moves them.
	Links []assembly.LinkPlace
	// Prove is asked of what passes the mechanics; nil for every check of the
	// assembly without printed extras.
	Prove Proof
	// Share judges what part of such fixtures stay within their bands; nil for not.
	Share Proof
	Most  Most
	Tell  Progress
}

// Search looks through a catalogue for changed copies of a decoded file. It fails
// when the catalogue is not usable, when the mechanics break down, or when ctx
// ends.
func Search(ctx context.Context, in *params.File, c *Catalogue, by Means) (*Outcome, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	base, diags := params.NewSettler(in).Settle(in)
	if base == nil {
		return nil, diags
	}
	search := func(clean bool) (*Outcome, error) {
		s, err := newSearch(ctx, in, base, c, by)
		if err != nil {
			return nil, err
		}
		s.demands = demands{window: base.Cell.Compression != params.CompressNone, clean: clean}
		return s.run()
	}
	out, err := search(true)
	if err != nil || len(out.Front) > 0 || out.Blocked != "" {
		return out, err
	}
	if out, err = search(false); err == nil {
		out.Warned = true
	}
	return out, err
}

// run goes through all stages.
func (s *search) run() (*Outcome, error) {
	for _, stage := range []func() error{s.make, s.locked, s.screen, s.rank} {
		if err := stage(); err != nil {
			return nil, err
		}
	}
	return s.outcome()
}

func newSearch(ctx context.Context, in *params.File, base *params.Fixture, c *Catalogue, by Means) (*search, error) {
	if by.Prove == nil {
		by.Prove = bare
	}
	if by.Tell == nil {
		by.Tell = func(string, int, int) {}
	}
	whole, err := anchored(in, base)
	if err != nil {
		return nil, err
	}
	without, err := whole.With(params.Change{Path: "prints"})
	return &search{Means: by, ctx: ctx, base: base, whole: whole, in: without, cat: c, settler: params.NewSettler(in)}, err
}

// bare proves a fixture by every check of its assembly without link bars.
func bare(f *params.Fixture) ([]finding.Finding, error) {
	a, err := assembly.Build(f)
	if err != nil {
		return nil, err
	}
	return check.Judge(a)
}

// anchored is the file with its listed lengths tied to the section and thread
// they are of: left open they would follow the choice.
func anchored(in *params.File, base *params.Fixture) (*params.File, error) {
	angle := ""
	if base.Stiffener != nil {
		angle = base.Stiffener.Section.Name
	}
	return in.With(in.TieStock(angle, base.Rods.Thread.Name)...)
}

// candidate is what is kept of one combination.
type candidate struct {
	index      int
	mass, cost float64
	guessed    bool
	made       bool             // settles and passes the closed forms
	why        *finding.Finding // when not made, for a reason that is a bound
	alive      bool             // no screen has discarded it yet
	sifted     bool             // sift has judged it
	unfit      bool             // it misses light checks
	uneven     float64
	missed     []finding.Finding // on the coarse grid, or of the light checks
	rough      []clamp.State     // on the coarse grid, once sifted, until the full one has judged its group
}

// search is one run.
type search struct {
	Means
	ctx     context.Context
	whole   *params.File
	in      *params.File // without printed extras: shaping them costs more than all else of a candidate
	cat     *Catalogue
	base    *params.Fixture
	settler *params.Settler
	demands
	all []candidate

	solved   map[int]*verdict
	screened int                  // that could be made and are even enough as tightened
	fine     map[int]*clamp.Tight // on the full grid by group; nil for one that has no solution
	complete bool
	block    finding.ID // see Outcome.Blocked
	probed   int
}

// settle returns candidate i as a fixture without printed extras.
func (s *search) settle(i int) (*params.Fixture, error) { return s.settled(s.in, i) }

func (s *search) settled(in *params.File, i int) (*params.Fixture, error) {
	in, err := in.With(s.cat.at(i).changes(in)...)
	if err != nil {
		return nil, err
	}
	f, diags := s.settler.Settle(in)
	return f, diags.Err()
}

// make runs the closed forms over all candidates.
func (s *search) make() error {
	s.all = make([]candidate, s.cat.Size())
	return s.each("closed forms", len(s.all), 256, func(i int) error {
		c := &s.all[i]
		c.index = i
		f, _ := s.settle(i)
		if f == nil {
			return nil
		}
		in := inputs.Clamp(f)
		c.mass = MassG(f)
		c.cost, c.guessed = Cost(f)
		f.Prints = s.base.Prints // asked for, though not shaped
		c.why = closed(f, &in)
		if c.why == nil && s.clean {
			c.why = springGuide(f)
		}
		if c.why == nil {
			c.why = s.Most.over(c)
		}
		c.made = c.why == nil
		return nil
	})
}

// A sample of candidates with locked nuts, and how far any of them must not fall short
// of the share for the rest to be looked at: they differ little in it, for rods and
// plates are stiff beside the cells. A judgement.
const lockedSample, lockedShort = 6, 0.3

// locked puts down the candidates with locked nuts where all of a sample fall far
// short of the share.
func (s *search) locked() error {
	var list []*candidate
	for i := range s.all {
		if c := &s.all[i]; c.made && s.cat.at(i).Spring.None() {
			list = append(list, c)
		}
	}
	if s.Share == nil || len(list) == 0 {
		return nil
	}
	var short finding.Finding
	for _, c := range spread(list, lockedSample) {
		f, err := s.settle(c.index)
		if err != nil {
			return err
		}
		fails, _, err := checks(s.Share(f))
		if err != nil || len(fails) == 0 || fails[0].Over() <= lockedShort {
			return err
		}
		short = fails[0]
	}
	for _, c := range list {
		c.made, c.why = false, &short
	}
	return nil
}

// screen tightens every plate with its angles on the coarse grid, once for all
// its springs: they do not change the pressure as tightened.
func (s *search) screen() error {
	group := len(s.cat.Springs)
	return s.each("coarse grid", len(s.all)/group, 4, func(g int) error {
		return s.screenGroup(s.all[g*group : (g+1)*group])
	})
}

func (s *search) screenGroup(group []candidate) error {
	tight, err := s.tightened(group)
	if tight == nil || err != nil {
		return err
	}
	for k := range group {
		c := &group[k]
		if !c.made {
			continue
		}
		c.uneven = uneven(*tight)
		c.missed = s.Most.spread(c.uneven, evenSlack)
		for _, b := range s.broken(*tight, true) {
			if b.ID != clamp.SpringRange && b.ID != clamp.CoilStress { // another spring than this candidate's
				c.missed = append(c.missed, b)
			}
		}
		c.alive = len(c.missed) == 0
	}
	return nil
}

// tightened is the group's common state as tightened; nil when there is none:
// what cannot be tightened at all is then put down as not made, and what the
// coarse grid cannot judge is left to the full one, as even as can be.
func (s *search) tightened(group []candidate) (*clamp.State, error) {
	for k := range group {
		c := &group[k]
		if !c.made {
			continue
		}
		states, err := s.coarse(group[k:k+1], func(clamp.State) bool { return true })
		if b := refused(err); b != nil {
			c.made, c.why = false, b
			continue
		}
		if unsolved(err) {
			for m := range group {
				group[m].alive = group[m].made
			}
			return nil, nil
		}
		if err != nil {
			return nil, err
		}
		return &states[0][0], nil
	}
	return nil, nil
}

// refused is the bound that a candidate misses when the mechanics refuse its
// rods: they pull beside the cells, or a spring is flat before the force is
// reached. Nil for any other error: that is no matter of the choice.
func refused(err error) *finding.Finding {
	wrong, ok := errors.AsType[*clamp.InputError](err)
	if !ok || !strings.HasPrefix(wrong.Field, "rods") {
		return nil
	}
	f := stopped("clamp-rods-can-hold", errors.New(wrong.Reason))
	f.Params = []string{"rods"}
	return &f
}

// unmade is the bound that a candidate misses when one of its parts can't be made, such
// as plates of sheets with no room for their screws. Nil for any other error.
func unmade(err error) *finding.Finding {
	why := error(nil)
	if part, ok := errors.AsType[*parts.Error](err); ok {
		why = part
	} else if told, ok := errors.AsType[diag.List](err); ok { // the same, as the job tells it
		why = errors.New(told[0].Summary)
	}
	if why == nil {
		return nil
	}
	f := stopped("parts-can-be-made", why)
	return &f
}

// unsolved says that the equations of one candidate have no usable solution,
// which must not end the search.
func unsolved(err error) bool {
	_, ok := errors.AsType[*clamp.SolveError](err)
	return ok
}

// coarse runs the coarse grid over candidates that differ in their spring alone.
func (s *search) coarse(group []candidate, enough func(clamp.State) bool) ([][]clamp.State, error) {
	var first clamp.Input
	var fittings [][]clamp.Rod
	for k := range group {
		f, err := s.settle(group[k].index)
		if err != nil {
			return nil, err
		}
		in := inputs.Clamp(f)
		if k == 0 {
			first = in
		}
		fittings = append(fittings, in.Rods)
	}
	states, err := clamp.ScreenFittings(first, fittings, enough)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.cat.at(group[0].index), err)
	}
	return states, nil
}

// sift runs the light checks, then the coarse grid over a candidate's other
// states. It is put off until a candidate could rank.
func (s *search) sift(c *candidate) error {
	if c.sifted || !c.alive {
		return nil
	}
	c.sifted = true
	fails, err := s.light(c.index)
	if err != nil {
		return err
	}
	if len(fails) > 0 {
		c.missed, c.unfit, c.alive = fails, true, false
		return nil
	}
	return s.screenAged(c)
}

// screenAged runs the coarse grid over a candidate's other states: full and
// aged, and after 1000 h.
func (s *search) screenAged(c *candidate) error {
	states, err := s.coarse([]candidate{*c}, func(st clamp.State) bool { return len(s.broken(st, true)) > 0 })
	if unsolved(err) {
		return nil // for the full grid to judge
	}
	if err != nil {
		return err
	}
	c.rough = states[0]
	for _, st := range c.rough {
		c.missed = append(c.missed, s.broken(st, true)...)
	}
	c.alive = len(c.missed) == 0
	return nil
}

// uneven is the worst row's unevenness.
func uneven(s clamp.State) float64 {
	worst := 0.0
	for _, r := range s.Rows {
		worst = math.Max(worst, r.Uneven)
	}
	return worst
}

// each runs fn for 0 to n-1 on all cores, in blocks. The first error by number
// wins.
func (s *search) each(stage string, n, block int, fn func(int) error) error {
	var mu sync.Mutex
	next, done := 0, 0
	errAt, first := n, error(nil)
	var wg sync.WaitGroup
	for range max(1, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for {
				mu.Lock()
				from := next
				next += block
				s.Tell(stage, done, n)
				stop := first != nil || s.ctx.Err() != nil
				mu.Unlock()
				if stop || from >= n {
					return
				}
				for i := from; i < min(from+block, n); i++ {
					if err := fn(i); err != nil {
						mu.Lock()
						if i < errAt {
							errAt, first = i, err
						}
						mu.Unlock()
						break
					}
				}
				mu.Lock()
				done += min(block, n-from)
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	s.Tell(stage, n, n)
	if s.ctx.Err() != nil {
		return s.ctx.Err()
	}
	return first
}

// verdict is what the full grid and the checks say of one candidate.
type verdict struct {
	option *Option // nil when it does not pass
	missed []finding.Finding
	solved bool // on the full grid
	unfit  bool // missed by light checks, the mechanics unknown
	checks bool // passes mechanics and light checks, missed by the proof
}

// place settles candidate i and puts its parts together, with the link bars where
// they lie as in the file's own fixture.
func (s *search) place(i int) (*assembly.Assembly, error) {
	f, err := s.settle(i)
	if err != nil {
		return nil, err
	}
	a, err := assembly.Build(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.cat.at(i), err)
	}
	if f.Pack.RowGap == s.base.Pack.RowGap && f.Pack.Pitch == s.base.Pack.Pitch {
		err = a.AddLinks(s.Links)
	}
	return a, err
}

// light is what the light checks find to fail of candidate i.
func (s *search) light(i int) ([]finding.Finding, error) {
	a, err := s.place(i)
	if b := unmade(err); b != nil {
		return []finding.Finding{*b}, nil
	}
	if err != nil {
		return nil, err
	}
	fails, _, err := checks(check.JudgeLight(a))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.cat.at(i), err)
	}
	return fails, nil
}

// proof judges candidate i as a whole.
func (s *search) proof(i int) (fails []finding.Finding, warns []string, err error) {
	f, err := s.settled(s.whole, i)
	if err != nil {
		return nil, nil, err
	}
	fails, warns, err = checks(s.Prove(f))
	if b := unmade(err); b != nil {
		return []finding.Finding{*b}, nil, nil
	}
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", s.cat.at(i), err)
	}
	if b := springGuide(f); b != nil && s.clean {
		fails = append(fails, *b)
	}
	return fails, warns, nil
}

// solve judges one candidate on the full grid in all states and, when it passes
// there, as a whole.
func (s *search) solve(i int) (*verdict, error) {
	f, err := s.settle(i)
	if err != nil {
		return nil, err
	}
	states, err := clamp.SolveStates(inputs.Clamp(f), s.fine[s.groupOf(&s.all[i])], func(st clamp.State) bool { return len(s.broken(st, false)) > 0 })
	if unsolved(err) {
		return &verdict{missed: []finding.Finding{stopped("clamp-can-be-solved", err)}, solved: true}, nil
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.cat.at(i), err)
	}
	v := &verdict{solved: true, missed: s.Most.spread(uneven(states[0]), 0)}
	for _, st := range states {
		v.missed = append(v.missed, s.broken(st, false)...)
	}
	if len(v.missed) > 0 {
		return v, nil
	}
	fails, warns, err := s.proof(i)
	if err != nil {
		return nil, err
	}
	if v.missed = fails; len(fails) > 0 {
		v.checks = true
		return v, nil
	}
	c, choice := &s.all[i], s.cat.at(i)
	choice.Spring = springOf(f)
	v.option = &Option{
		Choice: choice, MassG: c.mass, Cost: c.cost, Guessed: c.guessed, Uneven: uneven(states[0]),
		Middle: middle(states[0]), ForceN: forces(states), Warns: append(clampWarns(states), warns...), index: i,
	}
	return v, nil
}

// checks sorts what was found: what fails, and the rules that warn.
func checks(found []finding.Finding, err error) (fails []finding.Finding, warns []string, _ error) {
	for _, g := range found {
		switch g.Verdict {
		case finding.Fail:
			fails = append(fails, g)
		case finding.Warn:
			if !slices.Contains(warns, string(g.ID)) {
				warns = append(warns, string(g.ID))
			}
		}
	}
	return fails, warns, err
}

func middle(s clamp.State) float64 {
	if s.Pressure.Mean <= 0 {
		return 0
	}
	return s.Pressure.Swell / s.Pressure.Mean
}

func forces(states []clamp.State) [2]float64 {
	out := [2]float64{math.Inf(1), math.Inf(-1)}
	for _, s := range states {
		out[0], out[1] = math.Min(out[0], s.ForceN), math.Max(out[1], s.ForceN)
	}
	return out
}

// byMass orders candidates by mass, then cost, then number.
func byMass(a, b *candidate) int {
	return cmp.Or(cmp.Compare(a.mass, b.mass), cmp.Compare(a.cost, b.cost), cmp.Compare(a.index, b.index))
}

// byCost orders candidates by cost, then mass, then number.
func byCost(a, b *candidate) int {
	return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.mass, b.mass), cmp.Compare(a.index, b.index))
}
