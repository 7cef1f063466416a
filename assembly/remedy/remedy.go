// Package remedy looks for changes of the parameter file that clear findings. Each
// is tried: the changed file is settled anew, so that every derived value follows,
// and the whole fixture is judged. A change is given only when its own finding
// clears and no other turns worse; else what was tried is told.
package remedy

import (
	"errors"
	"fmt"
	"maps"
	"runtime"
	"slices"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"

	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
)

// Trial is a fixture settled from a changed file and placed, ready to be judged.
type Trial interface {
	// Rule gives the findings of one finding's rule, the mechanics on a coarse grid.
	Rule(finding.Finding) ([]finding.Finding, error)
	// Sift gives what is judged in little time, the mechanics on a coarse grid.
	Sift() ([]finding.Finding, error)
	// Checks gives every finding but those of the mechanics, Press these.
	Checks() ([]finding.Finding, error)
	Press() ([]finding.Finding, error)
}

// Bench is what remedies are looked for on.
type Bench struct {
	Fixture *params.Fixture
	Advice  clamp.Advice
	Place   func(*params.Fixture) (Trial, error)

	sifted, found worst // of the fixture as it is
	proofs        sync.Map
}

// The search of one file is bounded by counts, so that it ends alike on every
// machine: this many trials of single rules and of whole fixtures, shared out over
// the findings, and at least so many for each.
const (
	mostTrials, leastTrials = 160, 12
	mostProofs, leastProofs = 20, 2
)

// Find looks for a remedy of every finding that does not pass and notes it there,
// or why there is none.
func (b *Bench) Find(found []finding.Finding) error {
	var bad []*finding.Finding
	for i := range found {
		if f := &found[i]; f.Verdict != finding.Pass && len(b.ways(*f)) > 0 {
			bad = append(bad, f)
		}
	}
	if len(bad) == 0 {
		return nil
	}
	now, err := b.Place(b.Fixture)
	if err != nil {
		return err
	}
	sifted, err := now.Sift()
	if err != nil {
		return err
	}
	b.sifted, b.found = worstOf(sifted), worstOf(found)
	var all errgroup.Group
	all.SetLimit(runtime.GOMAXPROCS(0))
	for _, f := range bad {
		s := &search{Bench: b, of: *f, trials: max(leastTrials, mostTrials/len(bad)), proofs: max(leastProofs, mostProofs/len(bad))}
		all.Go(func() error {
			f.Remedy, f.NoRemedy = s.run()
			return nil
		})
	}
	return all.Wait()
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

// harmed is a finding that changes have made worse: by its verdict; one of a kind
// that was not there before, when it fails; or, where it does not pass and what was
// changed is among what sets it, by its margin: else two remedies might undo each
// other in turns.
func (w worst) harmed(now worst, set []params.Change) (finding.Finding, bool) {
	const kept = 0.005 // what a margin may lose: the accuracy of distances, mm
	for _, key := range slices.Sorted(maps.Keys(now)) {
		f := now[key]
		was, known := w[key]
		if !known {
			was.Verdict = finding.Warn
		}
		worse := f.Verdict.Rank() > was.Verdict.Rank()
		if known && f.Verdict != finding.Pass && f.Margin() < was.Margin()-kept {
			worse = worse || slices.ContainsFunc(set, func(c params.Change) bool { return slices.Contains(f.Params, c.Path) })
		}
		if worse {
			return f, true
		}
	}
	return finding.Finding{}, false
}

// search is that for the remedy of one finding.
type search struct {
	*Bench
	of             finding.Finding
	trials, proofs int      // left
	harm           []string // what clears it but makes another worse
	vain           []string // paths that were changed in vain
}

// run tries one way after the other.
func (s *search) run() (*finding.Remedy, string) {
	for _, w := range s.ways(s.of) {
		if r := s.along(w); r != nil {
			return r, ""
		}
	}
	return nil, s.reason()
}

// along looks for a remedy along one way: the smallest change in steps of the shop,
// else in fine ones.
func (s *search) along(w way) *finding.Remedy {
	step, fine := steps(s.Fixture.Style)
	by, set, cleared := s.clear(w, step)
	if !cleared {
		s.vain = append(s.vain, set[0].Path)
		return nil
	}
	if r := s.prove(w, set); r != nil || by == 0 {
		return r
	}
	if finer := w.at(by, fine); !slices.Equal(finer, set) {
		if now, err := s.rule(finer); err == nil && now.Verdict == finding.Pass {
			return s.prove(w, finer)
		}
	}
	return nil
}

// maxSteps bounds the trials along one way, and maxIdle those in a row that bring
// nothing nearer: the depth of an overlap, unlike a gap, need not shrink at once.
const maxSteps, maxIdle = 10, 2

// clear makes a change greater until its own finding passes. A distance between
// solids changes by no more than one of them moves, so what is missing is the least
// that the change must grow by; where the finding has answered with only a part of
// that, it grows by as much more.
func (s *search) clear(w way, step float64) (by float64, set []params.Change, cleared bool) {
	last, idle, answer := s.of, 0, 1.0
	for range maxSteps {
		more := 0.0
		if !w.fixed {
			more = max(-last.Margin(), leastStep) / answer
		}
		by += more
		next := w.at(by, step)
		for ; slices.Equal(next, set) && by < mostBy; next = w.at(by, step) {
			by += step / 4 // on to the next step of the shop
		}
		if set = next; by >= mostBy {
			return by, set, false
		}
		now, err := s.rule(set)
		switch {
		case err != nil:
			return by, set, false
		case now.Verdict == finding.Pass:
			return by, set, true
		case w.fixed:
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

// rule settles the changed file and judges the finding's own rule on it: the worst
// finding of the same key, one that passes when there is none left.
func (s *search) rule(set []params.Change) (finding.Finding, error) {
	worst := finding.Finding{Verdict: finding.Pass}
	if s.trials == 0 {
		return worst, errSpent
	}
	s.trials--
	t, err := s.place(set)
	if err != nil {
		return worst, err
	}
	found, err := t.Rule(s.of)
	for _, f := range found {
		if f.Key() == s.of.Key() && f.Verdict.Rank() > worst.Verdict.Rank() {
			worst = f
		}
	}
	return worst, err
}

var errSpent = errors.New("enough was tried")

func (b *Bench) place(set []params.Change) (Trial, error) {
	f, err := b.Fixture.Set(set...)
	if err != nil {
		return nil, err
	}
	return b.Place(f)
}

// prove gives the remedy if the whole fixture is none the worse for the changes.
func (s *search) prove(w way, set []params.Change) *finding.Remedy {
	if s.proofs == 0 {
		return nil
	}
	s.proofs--
	once, _ := s.Bench.proofs.LoadOrStore(said(set), sync.OnceValue(func() proof { return s.judge(set) }))
	p := once.(func() proof)()
	switch {
	case p.err != nil:
		return nil
	case p.harm != "":
		s.harm = append(s.harm, p.harm)
		return nil
	case p.now[s.of.Key()].Verdict.Rank() > 0:
		s.vain = append(s.vain, set[0].Path)
		return nil
	}
	r := &finding.Remedy{Text: s.text(w, set)}
	for _, c := range set {
		r.Set = append(r.Set, finding.Setting{Path: c.Path, Value: c.Value})
	}
	return r
}

// proof is what came of judging the whole fixture with changes made.
type proof struct {
	harm string // what they make worse
	now  worst
	err  error
}

// judge judges the whole fixture, first what takes little time.
func (b *Bench) judge(set []params.Change) (p proof) {
	var t Trial
	if t, p.err = b.place(set); p.err != nil {
		return p
	}
	var all []finding.Finding
	for i, stage := range []func() ([]finding.Finding, error){t.Sift, t.Checks, t.Press} {
		was := b.found
		if i == 0 {
			was = b.sifted
		}
		found, err := stage()
		if p.err = err; err != nil {
			return p
		}
		if f, worse := was.harmed(worstOf(found), set); worse {
			figure := func(v float64) string { return strings.TrimSpace(number.Trim(v, 2) + " " + f.Unit) }
			p.harm = fmt.Sprintf("with %s, %s is %s (wanted %s)", said(set), f.Name(), figure(f.Have), f.Wanted(figure))
			return p
		}
		if i > 0 {
			all = append(all, found...)
		}
	}
	p.now = worstOf(all)
	return p
}

// text is the remedy in words: the values as they stand in the file after it.
func (s *search) text(w way, set []params.Change) string {
	var out []string
	for _, c := range set {
		now := ""
		if o := s.Fixture.Origin(c.Path); o.Text != "" {
			now = " (now " + o.Text + ")"
		}
		if c.Value == "" {
			out = append(out, "leave "+c.Path+" out"+now)
			continue
		}
		out = append(out, "set "+c.Path+" to "+c.Value+now)
	}
	return w.words + ": " + words.Join(out)
}

// said names changes in few words.
func said(set []params.Change) string {
	var out []string
	for _, c := range set {
		if c.Value == "" {
			c.Value = "left out"
		}
		out = append(out, c.Path+" "+c.Value)
	}
	return words.Join(out)
}

// harmTold is how many of the changes that harm are told.
const harmTold = 2

// reason says why no remedy is given.
func (s *search) reason() string {
	out := slices.Clone(s.harm[:min(len(s.harm), harmTold)])
	slices.Sort(s.vain)
	if vain := slices.Compact(s.vain); len(vain) > 0 {
		out = append(out, "changing "+words.Join(vain)+" does not clear it")
	}
	if len(out) == 0 {
		return ""
	}
	return "no change of one parameter mends it: " + strings.Join(out, "; ")
}
