package remedy

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/params"
)

// The search is bounded by counts, so that it ends alike on every machine: sets of
// edits from which others are made, ways tried from each, whole fixtures judged, and
// how many more of both are spent on warnings and on alternatives.
const (
	mostGrown, mostWays, mostJudged = 8, 36, 8
	roundWays                       = 8 // tried at once
	warnJudged                      = 4
	moreGrown, moreJudged           = 1, 3
)

// The effort of a search, in trials of a small fixture of usualParts pieces in one row: a
// way needs some; every check is worth some, as are its whole mechanics and its share, each
// as many times as there are rows (as measured, of one core some 8 ms each). A search on a
// small fixture ends before. Alternatives are looked for with the half that is left.
const (
	mostEffort, usualParts    = 800, 150
	wayEffort, checksEffort   = 3, 4
	pressEffort, sharesEffort = 26, 16
)

// affords says whether so much may still be spent; that it may not is noted.
func (s *search) affords(effort float64) bool {
	s.answer.Cut = s.answer.Cut || s.effort < effort
	return !s.answer.Cut
}

// judgement is what it costs to judge a whole fixture.
func (s *search) judgement() float64 { return checksEffort*s.each + pressEffort*s.rows }

// cost is what a way may cost.
func (s *search) cost(t task) float64 {
	if t.of.ID == clamp.Share {
		return wayEffort*s.each + sharesEffort*s.rows
	}
	return wayEffort * s.each
}

// worst are the worst findings of each key.
type worst map[string]finding.Finding

func worstOf(found []finding.Finding) worst {
	w := worst{}
	for _, f := range found {
		if g, known := w[f.Key()]; !known || finding.Compare(f, g) < 0 {
			w[f.Key()] = f
		}
	}
	return w
}

// node is a set of edits with what is known of the fixture that they make.
type node struct {
	edits   []Edit
	fixture *params.Fixture
	trial   Trial
	burden  Burden
	now     worst               // as judged; before that as sifted, the rest as before
	fresh   map[string]bool     // keys of now that were judged of this node
	sifted  map[finding.ID]bool // what Sift judges
	// short is how many times as large the whole mechanics find a value as the coarse.
	short  map[string]float64
	judged bool
	found  []finding.Finding // once judged
}

// search is that for one file.
type search struct {
	*Search
	root          *node
	before        finding.Standing // of the fixture as it is
	open          []*node
	seen          map[string]*node
	placed        sync.Map     // trials, by what was changed
	made, drawn   atomic.Int64 // of these, and of their shares, since it was asked last
	grown, judged int          // left
	effort        float64      // left
	each, rows    float64      // a trial's effort, and the rows of cells
	answer        Answer
	near          *node
	stuck         map[string]bool // keys of findings that nothing in the file can change
}

// Find looks for patches. found are all findings of the fixture as it is.
func (b *Search) Find(found []finding.Finding) (Answer, error) {
	s := &search{Search: b, before: finding.StandingOf(found), seen: map[string]*node{}, grown: mostGrown, judged: mostJudged,
		effort: mostEffort, each: math.Pow(max(1, float64(b.Parts)/usualParts), 2), rows: float64(max(1, b.Fixture.Pack.Rows))}
	t, err := b.Place(b.Fixture)
	if err != nil {
		return s.answer, err
	}
	s.root = &node{fixture: b.Fixture, trial: t, now: worstOf(found), sifted: map[finding.ID]bool{}, short: map[string]float64{}, judged: true, found: found}
	sifted, err := t.Sift()
	if err != nil {
		return s.answer, err
	}
	s.root.sift(sifted)
	s.near, s.open = s.root, []*node{s.root}
	s.stuck = map[string]bool{}
	for _, f := range s.bad(s.root) {
		s.stuck[f.Key()] = len(b.ways(f)) == 0
	}
	for len(s.answer.Patches) < b.Most && (len(s.answer.Patches) == 0 || s.effort > mostEffort/2) {
		n := s.next()
		if n == nil {
			break
		}
		n = s.lighter(s.least(s.warnings(n)))
		if len(n.edits) == 0 {
			break
		}
		s.answer.Patches = append(s.answer.Patches, n.patch())
		s.grown, s.judged = moreGrown, moreJudged
	}
	if n := len(s.answer.Patches); n > 0 && slices.ContainsFunc(s.answer.Patches[0].Left, func(f finding.Finding) bool { return f.Verdict == finding.Fail }) {
		s.answer.Nearest, s.answer.Patches = &s.answer.Patches[0], nil
	} else if n == 0 && s.near != s.root {
		p := s.near.patch()
		s.answer.Nearest = &p
	}
	return s.answer, nil
}

func (n *node) patch() Patch {
	p := Patch{Edits: n.edits, Burden: n.burden}
	for _, f := range n.list() {
		if f.Verdict != finding.Pass {
			p.Left = append(p.Left, f)
		}
	}
	return p
}

// list are a node's findings: in the order of the report once it is judged.
func (n *node) list() []finding.Finding {
	if n.found != nil {
		return n.found
	}
	var out []finding.Finding
	for _, key := range slices.Sorted(maps.Keys(n.now)) {
		out = append(out, n.now[key])
	}
	return out
}

// sift notes what was sifted of a fixture that has been judged, and how the coarse grid
// of that compares with the whole mechanics.
func (n *node) sift(sifted []finding.Finding) {
	for key, f := range worstOf(sifted) {
		n.sifted[f.ID] = true
		if g, known := n.now[key]; known && f.Group == finding.GroupClamp && f.Have > 0 {
			n.short[key] = g.Have / f.Have
		}
	}
}

// whole is what a finding of the coarse grid comes to on the whole, as far as can be
// told: where that found fault before, the coarse grid may pass too soon.
func (n *node) whole(f finding.Finding) (g finding.Finding, guessed bool) {
	key := f.Key()
	was, short := n.now[key].Verdict, n.short[key]
	if g = f; short == 0 || f.Verdict.Rank() >= was.Rank() {
		return f, false
	}
	if g.Have *= short; g.Margin() < 0 {
		g.Verdict = was
	}
	return g, g.Verdict != f.Verdict
}

// next takes the next patch that holds out of the open nodes, nil when none is left
// or enough was tried.
func (s *search) next() *node {
	for len(s.open) > 0 {
		slices.SortStableFunc(s.open, s.compare)
		n := s.open[0]
		s.open = s.open[1:]
		switch sure := s.sure(n); {
		case s.told(n):
		case len(sure) == 0 && n.judged:
			if n == s.root { // only warns: other ways are looked for from it again
				s.open = append(s.open, n)
			}
			return n
		case len(sure) == 0:
			if s.judge(n) {
				s.open = append(s.open, n)
			}
		case s.grown > 0:
			s.grown--
			s.open = append(s.open, s.grow(n, sure, s.seen)...)
		}
	}
	return nil
}

// told says whether an answer of a node's kind has been given.
func (s *search) told(n *node) bool {
	own := kinds(n.edits, len(s.Fixture.Rods.Levels))
	return slices.ContainsFunc(s.answer.Patches, func(p Patch) bool {
		other := kinds(p.Edits, len(s.Fixture.Rods.Levels))
		within := !slices.ContainsFunc(other, func(k string) bool { return !slices.Contains(own, k) })
		return within && (len(other) > 0 || len(own) == 0)
	})
}

// bad are the findings of a node that have to go: those that fail, and what the
// edits have made worse; not those that stay whatever is done.
func (s *search) bad(n *node) (out []finding.Finding) {
	for _, f := range n.list() {
		if f.Verdict == finding.Fail && !s.stuck[f.Key()] || s.before.Worsened(f) {
			out = append(out, f)
		}
	}
	return out
}

// sure are those of bad that were judged of this node.
func (s *search) sure(n *node) []finding.Finding {
	return slices.DeleteFunc(s.bad(n), func(f finding.Finding) bool { return !n.judged && !n.fresh[f.Key()] })
}

// rules counts the rules of findings.
func rules(found []finding.Finding) int {
	ids := map[finding.ID]bool{}
	for _, f := range found {
		ids[f.ID] = true
	}
	return len(ids)
}

// compare orders nodes: fewest edits and rules that stand, fewest that stand, fewest
// that warn, then what is asked for.
func (s *search) compare(n, m *node) int {
	a, b := rules(s.bad(n)), rules(s.bad(m))
	return cmp.Or(cmp.Compare(len(n.edits)+a, len(m.edits)+b), cmp.Compare(a, b), cmp.Compare(n.warns(), m.warns()),
		n.burden.compare(m.burden), cmp.Compare(len(changes(n.edits)), len(changes(m.edits))))
}

func (n *node) warns() (out int) {
	for _, f := range n.now {
		if f.Verdict == finding.Warn {
			out++
		}
	}
	return out
}

// judge judges a whole fixture, the mechanics only when all else holds; false when it
// can't be, or no more may be.
func (s *search) judge(n *node) bool {
	if s.judged == 0 || !s.affords(s.judgement()) {
		return false
	}
	s.judged--
	s.effort -= s.judgement()
	found, err := n.trial.Checks()
	if err != nil {
		return false
	}
	was := n.now
	n.now = worstOf(found)
	for key := range n.now {
		n.fresh[key] = true
	}
	for key, f := range was { // as sifted
		if f.Group == finding.GroupClamp {
			n.now[key] = f
		}
	}
	if len(s.sure(n)) == 0 {
		pressed, err := n.trial.Press()
		if err != nil {
			return false
		}
		n.judged, n.found = true, slices.Concat(found, pressed)
		n.now = worstOf(n.found)
		sifted, err := n.trial.Sift()
		if err != nil {
			return false
		}
		n.sift(sifted)
	}
	if rules(s.bad(n)) < rules(s.bad(s.near)) {
		s.near = n
	}
	return true
}

// task is a way to try for a finding.
type task struct {
	way
	of finding.Finding
}

// grow makes the nodes that clear one of the findings more, in the order of findings
// and their ways: the first ways of all, then the second ones.
func (s *search) grow(n *node, bad []finding.Finding, seen map[string]*node) (out []*node) {
	view := &Search{Fixture: n.fixture, Fixed: s.Fixed}
	s.placed.Clear() // nodes keep their own
	var lists [][]way
	for _, f := range bad {
		lists = append(lists, view.ways(f))
	}
	tasks, ways := view.freeing(s.bad(n)), map[string]bool{}
	for k := range mostWays {
		for i, l := range lists {
			if k >= len(l) {
				continue
			}
			key := said(l[k].at(1, 1)) // one for all findings, but how far it goes is each one's
			if !l[k].fixed {
				key += bad[i].Key()
			}
			if ways[key] || len(ways) < mostWays {
				ways[key] = true
				tasks = append(tasks, task{l[k], bad[i]})
			}
		}
	}
	given := tasks
	for len(tasks) > 0 && !s.enough(n, out) && s.affords(s.cost(tasks[0])) {
		round, sum := 0, 0.0
		for round < min(roundWays, len(tasks)) && sum+s.cost(tasks[round]) <= s.effort {
			sum += s.cost(tasks[round])
			round++
		}
		list := tasks[:round]
		tasks = tasks[round:]
		made := make([][]*node, len(list))
		var all errgroup.Group
		all.SetLimit(runtime.GOMAXPROCS(0))
		for i, t := range list {
			all.Go(func() error {
				made[i] = s.along(n, t)
				return nil
			})
		}
		_ = all.Wait()
		tried := int(s.made.Swap(0))
		s.answer.Tried += tried
		s.effort -= float64(tried)*s.each + float64(s.drawn.Swap(0))*sharesEffort*s.rows
		for i := range list {
			for _, c := range made[i] {
				key, of := said(changes(c.edits)), list[i].of.Key()
				if old := seen[key]; old != nil { // met for another finding
					old.now[of], old.fresh[of] = c.now[of], true
					continue
				}
				seen[key] = c
				out = append(out, c)
			}
		}
	}
	if len(out) == 0 {
		out = s.nearer(n, given, seen)
	}
	return out
}

// Where no way clears a finding, as with plates far too weak, those so many are gone on
// from that leave the least, in all, of what the mechanics exceed; and only what
// takes off this part of it.
const mostNearer, leastNearer = 3, 0.1

func (s *search) nearer(n *node, tasks []task, seen map[string]*node) (out []*node) {
	least := (1 - leastNearer) * s.over(n, nil)
	var left []float64 // of out
	for _, t := range tasks {
		if t.of.Group != finding.GroupClamp || !t.fixed {
			continue
		}
		set := t.at(0, 1)
		if over := s.over(n, set); over < least && seen[said(changes(with(n.edits, Edit{Set: set})))] == nil {
			if c := s.child(n, Edit{t.words, set, t.of}); c != nil {
				seen[said(changes(c.edits))] = c
				at, _ := slices.BinarySearch(left, over)
				left, out = slices.Insert(left, at, over), slices.Insert(out, at, c)
			}
		}
	}
	return out[:min(len(out), mostNearer)]
}

// over is by how much a node with more changes exceeds the bounds of the mechanics in all,
// as parts of them; endless where it can't be told.
func (s *search) over(n *node, set []params.Change) (out float64) {
	c := &node{edits: with(n.edits, Edit{Set: set})}
	if !s.place(c) {
		return math.Inf(1)
	}
	found, err := c.trial.Rule(finding.Finding{Group: finding.GroupClamp})
	if err != nil {
		return math.Inf(1)
	}
	for _, f := range found {
		if f.Verdict == finding.Fail {
			out += min(f.Over(), 1e3)
		}
	}
	return out
}

// manyRules is how many rules a given value must be a cause of that it is left out before
// anything else is tried.
const manyRules = 3

// freeing are the ways that leave out a value which is a cause of many rules, once each.
func (b *Search) freeing(bad []finding.Finding) (out []task) {
	causes := map[string][]finding.Finding{}
	for _, f := range bad {
		for _, path := range f.Params {
			causes[path] = append(causes[path], f)
		}
	}
	for _, path := range slices.Sorted(maps.Keys(causes)) {
		if of := causes[path]; rules(of) >= manyRules && derivable(path) && !b.fixed(path) && b.Fixture.Gives(path) {
			out = append(out, task{b.derive(path), of[0]})
		}
	}
	return out
}

// enough says whether one answer is asked for and one of the nodes made of n seems to
// hold and asks for nothing to be bought: further ways, less preferred, are not tried.
func (s *search) enough(n *node, out []*node) bool {
	return s.Most == 1 && slices.ContainsFunc(out, func(c *node) bool {
		return len(s.bad(c)) == 0 && c.burden.Buy == 0 && c.warns() < n.warns()+len(s.bad(n))
	})
}

// along makes the nodes of one way: the smallest change in steps of the shop that
// clears the finding, and where it is another the smallest in fine ones.
func (s *search) along(n *node, t task) (out []*node) {
	step, fine := steps(s.Fixture.Style)
	by, set, cleared := s.clear(n, t, step)
	if !cleared {
		return nil
	}
	if c := s.child(n, Edit{t.words, set, t.of}); c != nil {
		out = append(out, c)
		for _, f := range s.bad(n) { // what else the value that is left out was a cause of
			if t.frees != "" && slices.Contains(f.Params, t.frees) && !c.sifted[f.ID] {
				if now := s.rule(n, set, f); now.Verdict == finding.Pass {
					f.Verdict = finding.Pass
					c.now[f.Key()], c.fresh[f.Key()] = f, true
				}
			}
		}
	}
	if finer := t.at(by, fine); by > 0 && !slices.Equal(finer, set) && s.rule(n, finer, t.of).Verdict == finding.Pass {
		if c := s.child(n, Edit{t.words, finer, t.of}); c != nil {
			out = append(out, c)
		}
	}
	return out
}

// child is a node with one edit more, sifted; nil when it can't be placed. What the
// edit does to the rest is taken as nothing until it is judged.
func (s *search) child(n *node, e Edit) *node {
	of := e.For
	if was := s.root.now[of.Key()]; was.Verdict.Rank() > 0 {
		e.For = was // as the builder knows it
	}
	c := &node{edits: with(n.edits, e), now: maps.Clone(n.now), fresh: map[string]bool{}, sifted: maps.Clone(n.sifted), short: maps.Clone(n.short)}
	if !s.place(c) {
		return nil
	}
	found, err := c.trial.Sift()
	if err == nil {
		c.burden, err = c.trial.Burden()
	}
	if err != nil {
		return nil
	}
	maps.DeleteFunc(c.now, func(_ string, f finding.Finding) bool { return n.sifted[f.ID] })
	for key, f := range worstOf(found) {
		f, guessed := n.whole(f)
		c.sifted[f.ID], c.now[key], c.fresh[key] = true, f, !guessed
	}
	for key, f := range c.now {
		c.fresh[key] = c.fresh[key] || f.ID == clamp.Share // stays short until its own ways mend it
	}
	if !c.sifted[of.ID] {
		of.Verdict = finding.Pass
		c.now[of.Key()], c.fresh[of.Key()] = of, true
	}
	return c
}

// place settles and places a node's fixture, once for the same changes.
func (s *search) place(n *node) bool {
	set := changes(n.edits)
	type made struct {
		f   *params.Fixture
		t   Trial
		err error
	}
	once, known := s.placed.LoadOrStore(said(set), sync.OnceValue(func() (m made) {
		if m.f, m.err = s.Fixture.Set(set...); m.err == nil {
			m.t, m.err = s.Place(m.f)
		}
		return m
	}))
	if !known {
		s.made.Add(1)
	}
	m := once.(func() made)()
	n.fixture, n.trial = m.f, m.t
	return m.err == nil
}

// with is a set of edits with one more; what that sets anew the others no longer set.
func with(edits []Edit, e Edit) (out []Edit) {
	for _, old := range edits {
		old.Set = slices.DeleteFunc(slices.Clone(old.Set), func(c params.Change) bool {
			return slices.ContainsFunc(e.Set, func(d params.Change) bool { return c.Path == d.Path || strings.HasPrefix(c.Path, d.Path+".") })
		})
		if len(old.Set) > 0 {
			out = append(out, old)
		}
	}
	return append(out, e)
}

// maxSteps bounds the trials along one way, and maxIdle those in a row that bring
// nothing nearer: the depth of an overlap, unlike a gap, need not shrink at once.
const maxSteps, maxIdle = 10, 2

// clear makes a change greater until its own finding passes. A distance between
// solids changes by no more than one of them moves, so what is missing is the least
// that the change must grow by; where the finding has answered with only a part of
// that, it grows by as much more.
func (s *search) clear(n *node, t task, step float64) (by float64, set []params.Change, cleared bool) {
	last, idle, answer := t.of, 0, 1.0
	for range maxSteps {
		more := 0.0
		if !t.fixed {
			more = max(-last.Margin(), leastStep) / answer
		}
		by += more
		next := t.at(by, step)
		for ; slices.Equal(next, set) && by < mostBy; next = t.at(by, step) {
			by += step / 4 // on to the next step of the shop
		}
		if set = next; by >= mostBy {
			return by, set, false
		}
		now := s.rule(n, set, t.of)
		switch {
		case now.Verdict == finding.Pass, t.fixed && now.Verdict == finding.Warn && t.of.Verdict == finding.Fail:
			return by, set, true
		case now.Verdict == "" || t.fixed:
			return by, set, false
		case now.Margin() > last.Margin()+1e-9:
			answer, idle = min(max((now.Margin()-last.Margin())/more, leastAnswer), 1), 0
		default:
			idle++
		}
		if idle == maxIdle {
			return by, set, false
		}
		last = now
	}
	return by, set, false
}

const (
	leastStep   = 0.01 // mm, of a change
	mostBy      = 500  // mm, in all
	leastAnswer = 0.25
)

// rule settles a node's fixture with more changes and judges one finding's rule on
// it: the worst of its key, one that passes when there is none left, and one without a
// verdict when it can't be judged.
func (s *search) rule(n *node, set []params.Change, of finding.Finding) finding.Finding {
	c := &node{edits: with(n.edits, Edit{Set: set})}
	if !s.place(c) {
		return finding.Finding{}
	}
	if of.ID == clamp.Share {
		s.drawn.Add(1)
	}
	found, err := c.trial.Rule(of)
	if err != nil {
		return finding.Finding{}
	}
	worst := finding.Finding{Verdict: finding.Pass}
	for _, f := range found {
		if f, _ = n.whole(f); f.Key() == of.Key() && f.Verdict.Rank() > worst.Verdict.Rank() {
			worst = f
		}
	}
	return worst
}

// warnings clears of a node that holds what only warns and has a way, one after the
// other.
func (s *search) warnings(n *node) *node {
	s.judged = warnJudged
	given := map[string]bool{}
	for {
		var at *node
		for _, f := range n.list() {
			if f.Verdict == finding.Warn && !given[f.Key()] && s.judged > 0 {
				given[f.Key()] = true
				if at = s.milder(n, f); at != nil {
					break
				}
			}
		}
		if at == nil {
			return n
		}
		n = at
	}
}

// milder is a node with an edit more in which a warning is cleared; nil for none.
func (s *search) milder(n *node, f finding.Finding) *node {
	list := s.grow(n, []finding.Finding{f}, map[string]*node{})
	list = slices.DeleteFunc(list, func(c *node) bool { return len(s.bad(c)) > 0 || c.warns() >= n.warns() || s.told(c) })
	slices.SortStableFunc(list, s.compare)
	for _, c := range list[:min(len(list), 2)] {
		if s.judge(c) && c.judged && len(s.bad(c)) == 0 && c.warns() < n.warns() && c.now[f.Key()].Verdict.Rank() == 0 {
			return c
		}
	}
	return nil
}

// least leaves out of a node every edit that is not needed, the latest first.
func (s *search) least(n *node) *node {
	for i := len(n.edits) - 1; i >= 0 && len(n.edits) > 1; i-- {
		if c := s.other(slices.Delete(slices.Clone(n.edits), i, i+1)); c != nil && s.proves(c, n) {
			n = c
		}
	}
	return n
}

// lighter exchanges single edits of a node that asks for something to be bought for other
// ways that ask for less: stock at hand before what no list has.
func (s *search) lighter(n *node) *node {
	for i := 0; i < len(n.edits) && n.burden.Buy > 0; i++ {
		rest := slices.Delete(slices.Clone(n.edits), i, i+1)
		without := &node{edits: rest}
		if !s.place(without) {
			continue
		}
		var list []*node
		for _, w := range (&Search{Fixture: without.fixture, Fixed: s.Fixed}).ways(n.edits[i].For) {
			if !w.fixed || !s.affords(wayEffort*s.each) {
				continue
			}
			s.effort -= s.each
			if c := s.other(with(rest, Edit{w.words, w.at(0, 1), n.edits[i].For})); c != nil && c.burden.compare(n.burden) < 0 {
				list = append(list, c)
			}
		}
		slices.SortStableFunc(list, func(a, b *node) int { return a.burden.compare(b.burden) })
		for _, c := range list[:min(len(list), 2)] {
			if s.proves(c, n) {
				n = c
				break
			}
		}
	}
	return n
}

// other is a node of other edits that holds as far as it is sifted; nil when it does not.
func (s *search) other(edits []Edit) *node {
	c := &node{edits: edits, fresh: map[string]bool{}, sifted: maps.Clone(s.root.sifted), short: maps.Clone(s.root.short)}
	if !s.place(c) {
		return nil
	}
	sifted, err := c.trial.Sift()
	if c.now = worstOf(sifted); err != nil || len(s.bad(c)) > 0 {
		return nil
	}
	if c.burden, err = c.trial.Burden(); err != nil {
		return nil
	}
	return c
}

// proves judges a node that is to stand in for one that holds.
func (s *search) proves(c, n *node) bool {
	s.judged = 1
	return s.judge(c) && c.judged && len(s.bad(c)) == 0 && c.warns() <= n.warns()
}

// said names changes: two sets of edits with the same are one.
func said(set []params.Change) string {
	var out []string
	for _, c := range set {
		out = append(out, fmt.Sprintf("%s=%s", c.Path, c.Value))
	}
	slices.Sort(out)
	return strings.Join(out, "; ")
}
