package sizing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"clampwright/assembly/check"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/inputs"
	"clampwright/params"
	"clampwright/params/unit"
)

// batch is how many candidates are solved side by side, and ahead how many are
// sifted; fixed, so that the number of cores changes nothing but the time.
const (
	batch = 4
	ahead = 16
)

// mostFront bounds the candidates solved on the full grid for the front beyond
// its leaders.
const mostFront = 100

// rank finds the three leaders, then the rest of the front.
func (s *search) rank() error {
	s.solved, s.fine, s.complete = map[int]*verdict{}, map[int]*clamp.Tight{}, true
	var alive []*candidate
	for i := range s.all {
		if s.all[i].alive {
			alive = append(alive, &s.all[i])
		}
	}
	s.screened = len(alive)
	if err := s.lead(sorted(alive, byMass), "mass", func(c *candidate) float64 { return c.mass }); err != nil || s.block != "" {
		return err
	}
	if err := s.lead(sorted(alive, byCost), "cost", func(c *candidate) float64 { return c.cost }); err != nil {
		return err
	}
	if err := s.leadEven(alive); err != nil {
		return err
	}
	return s.front(s.byWorth(alive))
}

func sorted(list []*candidate, order func(a, b *candidate) int) []*candidate {
	out := slices.Clone(list)
	slices.SortFunc(out, order)
	return out
}

// nearlyLeads is by what share a candidate may be heavier or dearer than the first
// that passes, and lead in its place because it raises fewer warnings.
const nearlyLeads = 0.01

// lead solves candidates in order until the first that passes: it leads, or the one
// with fewest warnings of those nearly alike. It ends too when a check turns out
// that blocks every choice.
func (s *search) lead(order []*candidate, name string, value func(*candidate) float64) error {
	ask := firstProbe
	var first, best *candidate
	for from := 0; from < len(order); from += batch {
		s.Tell("full grid, "+name, from, len(order))
		group := order[from:min(from+batch, len(order))]
		if first != nil {
			group = slices.DeleteFunc(slices.Clone(group), func(c *candidate) bool { return value(c) > value(first)*(1+nearlyLeads) })
		}
		if err := s.solveAll(group); err != nil {
			return err
		}
		for _, c := range group {
			o := s.solved[c.index].option
			switch {
			case o == nil:
			case first == nil:
				first, best = c, c
			case value(c) <= value(first)*(1+nearlyLeads) && len(o.Warns) < len(s.solved[best.index].option.Warns):
				best = c
			}
		}
		if first != nil {
			if len(group) == batch {
				continue
			}
			break
		}
		if s.checked() < ask {
			continue
		}
		ask *= 2
		var err error
		if s.block, err = s.blocked(order[from:]); err != nil || s.block != "" {
			return err
		}
	}
	if best != nil {
		o := s.solved[best.index].option
		o.Best = append(o.Best, name)
	}
	return nil
}

// solveAll solves those of a group that are not yet solved.
func (s *search) solveAll(group []*candidate) error {
	var todo []*candidate
	for _, c := range group {
		if s.solved[c.index] == nil {
			todo = append(todo, c)
		}
	}
	out := make([]*verdict, len(todo))
	left := slices.Clone(todo)
	if err := s.fineAll(&left); err != nil {
		return err
	}
	if err := s.quiet(len(todo), func(k int) (err error) {
		if out[k] = (&verdict{missed: todo[k].missed, unfit: todo[k].unfit}); todo[k].alive {
			out[k], err = s.solve(todo[k].index)
		}
		return err
	}); err != nil {
		return err
	}
	for k, c := range todo {
		s.solved[c.index] = out[k]
	}
	return nil
}

// quiet is each without progress of its own.
func (s *search) quiet(n int, fn func(int) error) error {
	if n == 0 {
		return s.ctx.Err()
	}
	q := *s
	q.Tell = func(string, int, int) {}
	return q.each("", n, 1, fn)
}

// floorClass is the best class of evenness that a candidate can be of.
func floorClass(c *candidate) int { return classOf(c.uneven - evenSlack) }

// leadEven finds the most even candidate: in order of the best class each can be
// of, until none left can be better than the best found.
func (s *search) leadEven(alive []*candidate) error {
	order := sorted(alive, func(a, b *candidate) int { return cmp.Or(cmp.Compare(floorClass(a), floorClass(b)), byMass(a, b)) })
	var best *candidate
	bestClass := math.MaxInt
	better := func(c *candidate, class int) bool {
		return best == nil || class < bestClass || class == bestClass && byMass(c, best) < 0
	}
	look := &lookahead{s: s, stage: "full grid, evenness", list: order,
		could: func(c *candidate) bool { return better(c, floorClass(c)) },
		still: func(c *candidate) bool { return better(c, s.fineClass(c)) },
		done:  func(c *candidate) bool { return best != nil && floorClass(c) > bestClass },
	}
	for {
		group, err := look.solveNext()
		if err != nil {
			return err
		}
		if group == nil {
			break
		}
		for _, c := range group {
			if o := s.solved[c.index].option; o != nil && better(c, o.class()) {
				best, bestClass = c, o.class()
			}
		}
	}
	if best != nil {
		o := s.solved[best.index].option
		o.Best = append(o.Best, "evenness")
	}
	return nil
}

// groupOf numbers the plate with angles and rod places that a candidate shares
// with those that differ in their spring alone.
func (s *search) groupOf(c *candidate) int { return c.index / len(s.cat.Springs) }

// fineClass is the class of evenness on the full grid, once fineAll has run.
func (s *search) fineClass(c *candidate) int {
	if t := s.fine[s.groupOf(c)]; t != nil {
		return classOf(uneven(t.State))
	}
	return 0 // as even as can be, until it is solved in full
}

// lookahead solves candidates of a list in its order, a batch at a time, and sifts
// further ahead, so that every core has work though most are discarded on the way.
type lookahead struct {
	s     *search
	stage string
	list  []*candidate
	could func(*candidate) bool // worth sifting, as even as it can be
	still func(*candidate) bool // worth solving, as even as it is
	done  func(*candidate) bool // ends the list

	next    int
	waiting []*candidate // sifted, to be solved
}

// solveNext solves the next batch and returns it; nil at the end of the list.
func (l *lookahead) solveNext() ([]*candidate, error) {
	for {
		l.waiting = slices.DeleteFunc(l.waiting, func(c *candidate) bool { return !l.still(c) })
		if len(l.waiting) >= batch || l.next == len(l.list) {
			group := l.waiting[:min(batch, len(l.waiting))]
			if len(group) == 0 {
				return nil, nil
			}
			l.waiting = l.waiting[len(group):]
			return group, l.s.solveAll(group)
		}
		l.s.Tell(l.stage, l.next, len(l.list))
		var group []*candidate
		for l.next < len(l.list) && len(group) < ahead {
			c := l.list[l.next]
			if l.done(c) {
				l.next = len(l.list)
				break
			}
			l.next++
			if c.alive && l.could(c) {
				group = append(group, c)
			}
		}
		if err := l.s.fineAll(&group); err != nil {
			return nil, err
		}
		l.waiting = append(l.waiting, group...)
	}
}

// fineAll discards what sift does, tightens the rest on the full grid, once for each
// plate, and discards what the coarse grid, corrected by that, does not let pass.
func (s *search) fineAll(group *[]*candidate) error {
	list := *group
	if err := s.quiet(len(list), func(k int) error { return s.sift(list[k]) }); err != nil {
		return err
	}
	list = slices.DeleteFunc(list, func(c *candidate) bool { return !c.alive })
	var todo []*candidate
	for _, c := range list {
		if _, ok := s.fine[s.groupOf(c)]; !ok {
			s.fine[s.groupOf(c)] = nil
			todo = append(todo, c)
		}
	}
	out := make([]*clamp.Tight, len(todo))
	if err := s.quiet(len(todo), func(k int) error {
		f, err := s.settle(todo[k].index)
		if err == nil {
			out[k], err = clamp.Tighten(inputs.Clamp(f))
		}
		if unsolved(err) {
			return nil
		}
		return err
	}); err != nil {
		return err
	}
	for k, c := range todo {
		s.fine[s.groupOf(c)] = out[k]
	}
	*group = slices.DeleteFunc(list, func(c *candidate) bool { return !s.correct(c) })
	return nil
}

// correct judges a sifted candidate by the coarse grid as the full one corrects it, and
// says whether it is still alive.
func (s *search) correct(c *candidate) bool {
	t := s.fine[s.groupOf(c)]
	if t == nil || len(c.rough) == 0 {
		return true
	}
	for _, st := range c.rough {
		c.missed = append(c.missed, s.broken(corrected(st, c.rough[0], t.State), true)...)
	}
	c.rough, c.alive = nil, len(c.missed) == 0
	return c.alive
}

// byWorth orders candidates so that what betters another in mass, cost and evenness
// comes before it.
func (s *search) byWorth(list []*candidate) []*candidate {
	worth := func(c *candidate) float64 {
		return math.Log(c.mass) + math.Log(math.Max(c.cost, 1e-3)) + nearlyShare*float64(floorClass(c))
	}
	return sorted(list, func(a, b *candidate) int { return cmp.Or(cmp.Compare(worth(a), worth(b)), byMass(a, b)) })
}

// front solves what no passing candidate betters in mass, cost and evenness at once.
func (s *search) front(order []*candidate) error {
	look := &lookahead{s: s, stage: "full grid, trade-off", list: order,
		could: func(c *candidate) bool { return s.solved[c.index] == nil && !s.bettered(c, floorClass(c)) },
		still: func(c *candidate) bool { return !s.bettered(c, s.fineClass(c)) },
		done:  func(*candidate) bool { return false },
	}
	for tries := 0; ; {
		group, err := look.solveNext()
		if err != nil || group == nil {
			return err
		}
		if tries += len(group); tries >= mostFront {
			s.complete = false
			return nil
		}
	}
}

// bettered says whether a passing candidate is as light, as cheap and as even as
// c can be.
func (s *search) bettered(c *candidate, class int) bool {
	for i, v := range s.solved {
		if o := v.option; o != nil && i != c.index && beats(o, c.mass, c.cost, class, c.index) {
			return true
		}
	}
	return false
}

// nearlyShare is a difference in mass or cost that does not count in the
// trade-off, as a share: no choice is made for it, and the table stays short. The
// leaders are found without it.
const nearlyShare = 0.10

// beats says whether o is no worse in anything and better in something; of two
// alike the earlier candidate stays.
func beats(o *Option, mass, cost float64, class, index int) bool {
	const more, less = 1 + nearlyShare, 1 - nearlyShare
	if o.MassG > mass*more || o.Cost > cost*more || o.class() > class {
		return false
	}
	return o.MassG < mass*less || o.Cost < cost*less || o.class() < class || o.index < index
}

// outcome collects front and counts, or the nearest miss.
func (s *search) outcome() (*Outcome, error) {
	out := &Outcome{Candidates: len(s.all), Screened: s.screened, Complete: s.complete, Solved: s.fullySolved(), Blocked: s.block, Checked: s.checked(), Probed: s.probed}
	for i := range s.all {
		c := &s.all[i]
		if c.made {
			out.Made++
		}
		if c.sifted {
			out.Tried++
		}
		if v := s.solved[i]; v != nil && v.option != nil && (len(v.option.Best) > 0 || !s.bettered(c, v.option.class())) {
			out.Front = append(out.Front, *v.option)
		}
	}
	slices.SortFunc(out.Front, func(a, b Option) int { return cmp.Or(cmp.Compare(a.MassG, b.MassG), cmp.Compare(a.index, b.index)) })
	for k := range out.Front {
		out.Front[k].Lighter = s.lighter(out.Front[k].MassG)
	}
	var err error
	if len(out.Front) == 0 {
		out.Nearest, err = s.nearest()
	}
	return out, err
}

// missed is what is known that a candidate misses.
func (s *search) missed(c *candidate) []finding.Finding {
	if c.why != nil {
		return []finding.Finding{*c.why}
	}
	if v := s.solved[c.index]; v != nil {
		return v.missed
	}
	return c.missed
}

// lighter is the heaviest candidate under a mass that is known not to pass.
func (s *search) lighter(massG float64) *Miss {
	var best *candidate
	for i := range s.all {
		if c := &s.all[i]; c.mass > 0 && c.mass < massG && (best == nil || byMass(best, c) < 0) && len(s.missed(c)) > 0 {
			best = c
		}
	}
	if best == nil {
		return nil
	}
	return &Miss{Choice: s.cat.at(best.index), MassG: best.mass, Bounds: merged(s.missed(best)), index: best.index}
}

// nearestTries is how many of the least misses are looked at in full.
const nearestTries = 16

// nearest is the candidate that misses fewest bounds, then by least. Stages end
// at the first miss, so the least are judged anew by everything.
func (s *search) nearest() (*Miss, error) {
	var list []*candidate
	worst := map[int]float64{}
	for i := range s.all {
		c := &s.all[i]
		missed := s.missed(c)
		for _, b := range missed {
			worst[i] = math.Max(worst[i], b.Over())
		}
		if len(missed) > 0 {
			list = append(list, c)
		}
	}
	list = sorted(list, func(a, b *candidate) int {
		return cmp.Or(cmp.Compare(worst[a.index], worst[b.index]), byMass(a, b))
	})
	list = s.nearestFew(list)
	misses := make([]*Miss, len(list))
	if err := s.quiet(len(list), func(k int) (err error) {
		misses[k], err = s.miss(list[k])
		return err
	}); err != nil || len(list) == 0 {
		return nil, err
	}
	return slices.MinFunc(misses, func(a, b *Miss) int {
		return cmp.Or(cmp.Compare(len(a.Bounds), len(b.Bounds)), cmp.Compare(a.over(), b.over()), cmp.Compare(a.MassG, b.MassG), cmp.Compare(a.index, b.index))
	}), nil
}

// nearestFew takes the first of a list of misses, half of them from those that
// the checks judged: all that these miss is known, of others only the first.
func (s *search) nearestFew(list []*candidate) []*candidate {
	var known, other []*candidate
	for _, c := range list {
		if v := s.solved[c.index]; v != nil && v.checks {
			known = append(known, c)
		} else {
			other = append(other, c)
		}
	}
	n := max(nearestTries/2, nearestTries-len(other))
	known = known[:min(len(known), n)]
	return append(known, other[:min(len(other), nearestTries-len(known))]...)
}

// over is by how much the worst bound is missed.
func (m *Miss) over() float64 {
	worst := 0.0
	for _, b := range m.Bounds {
		worst = math.Max(worst, b.Over())
	}
	return worst
}

// miss judges one candidate by everything.
func (s *search) miss(c *candidate) (*Miss, error) {
	m := &Miss{Choice: s.cat.at(c.index), MassG: c.mass, index: c.index}
	a, err := s.place(c.index)
	if b := unmade(err); b != nil {
		m.Bounds = []finding.Finding{*b}
		return m, nil
	}
	if err != nil {
		return nil, err
	}
	f := a.Fixture
	states, err := clamp.SolveStates(inputs.Clamp(f), nil, nil)
	switch b := refused(err); {
	case b != nil:
		m.Bounds = []finding.Finding{*b}
		return m, nil
	case unsolved(err):
		m.Bounds = []finding.Finding{stopped("clamp-can-be-solved", err)}
		return m, nil
	case err != nil:
		return nil, err
	}
	m.Bounds = s.Most.spread(uneven(states[0]), 0)
	if b := s.Most.over(c); b != nil {
		m.Bounds = append(m.Bounds, *b)
	}
	for _, st := range states {
		m.Bounds = append(m.Bounds, s.broken(st, false)...)
	}
	fails, _, err := checks(check.Judge(a))
	if err != nil {
		return nil, err
	}
	more, _, err := s.proof(c.index)
	if err != nil {
		return nil, err
	}
	for _, b := range more {
		if !names(fails, b.ID) {
			fails = append(fails, b)
		}
	}
	m.Bounds = merged(append(m.Bounds, fails...))
	return m, nil
}

// merged keeps the worst of the bounds that are the same but for the state.
func merged(in []finding.Finding) []finding.Finding {
	var out []finding.Finding
	at := map[string]int{}
	for _, b := range in {
		key := b.Key()
		if k, ok := at[key]; !ok {
			at[key] = len(out)
			out = append(out, b)
		} else if b.Over() > out[k].Over() {
			out[k] = b
		}
	}
	return out
}

// String names a choice in millimetres.
func (c Choice) String() string { return c.Words(params.Style{Unit: unit.Millimetre, Decimals: 2}) }

// Words name a choice in the shop's units.
func (c Choice) Words(s params.Style) string {
	angles, columns := "no angles", ""
	if c.Angle != "" {
		angles = fmt.Sprintf("%d angles %s", 2*len(c.Levels), c.Angle)
	}
	if c.Middle {
		columns = " in three columns"
	}
	sheets := ""
	if c.Plate.Sheets > 0 {
		sheets = fmt.Sprintf(" of %d sheets", c.Plate.Sheets)
	}
	return fmt.Sprintf("%s %s%s; %s; %s rods at %s%s; %s", c.Plate.Material, params.LengthText(c.Plate.Thickness, s.Unit), sheets, angles, c.Thread, s.Lengths().Join(", ", c.Levels...), columns, c.Spring)
}
