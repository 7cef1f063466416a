package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/nest"
	"clampwright/params"
	"clampwright/parts/geom"
)

// rule is one row of the table of rules.
type rule struct {
	id     finding.ID
	group  finding.Group
	why    string
	causes []string // parameter paths
	heavy  bool     // measures distances between solids
	// measure returns the rule's findings, worst place of each kind, without
	// remedies; none when the rule does not apply to the fixture.
	measure func(*bench) ([]finding.Finding, error)
	// cures returns the changes that could clear a finding, preferred first.
	cures func(*bench, finding.Finding) []change
	// words is the remedy when no change of a parameter can clear the finding.
	words func(*bench, finding.Finding) string
}

// Run runs every rule on a placed fixture, in a fixed order. It fails only when
// a variant of the cells' size cannot be built.
func Run(a *assembly.Assembly) ([]finding.Finding, error) { return runAll(a, rules(), rule.run) }

// JudgeLight is Run for the rules that take little time, without the search for
// remedies: for telling bad fixtures from good ones by the thousand.
func JudgeLight(a *assembly.Assembly) ([]finding.Finding, error) {
	return runAll(a, slices.DeleteFunc(rules(), func(r rule) bool { return r.heavy }), rule.eval)
}

// Judge is Run without the search for remedies.
func Judge(a *assembly.Assembly) ([]finding.Finding, error) { return runAll(a, rules(), rule.eval) }

func runAll(a *assembly.Assembly, list []rule, do func(rule, *bench) ([]finding.Finding, error)) ([]finding.Finding, error) {
	b := newBench(a)
	var all []finding.Finding
	for _, r := range list {
		found, err := do(r, b)
		if err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	return all, nil
}

// run measures the rule, then looks for remedies.
func (r rule) run(b *bench) ([]finding.Finding, error) {
	found, err := r.eval(b)
	if err != nil {
		return nil, err
	}
	for i := range found {
		if found[i].Verdict != finding.Pass {
			found[i].Remedy = r.remedy(b, found[i])
		}
	}
	return found, nil
}

// eval measures the rule and fills in what is the same for all its findings.
func (r rule) eval(b *bench) ([]finding.Finding, error) {
	found, err := r.measure(b)
	if err == nil {
		err = b.err
	}
	for i := range found {
		f := &found[i]
		f.ID, f.Group = r.id, r.group
		if f.Why == "" {
			f.Why = r.why
		}
		if f.Unit == "" {
			f.Unit = "mm"
		}
		f.Params = r.causes
	}
	return found, err
}

// bench is what the rules measure on: the placed fixture with the extreme cell
// sizes, and the distances already computed.
type bench struct {
	fixture  *params.Fixture
	layout   *assembly.Layout
	nominal  *assembly.Assembly
	variants map[assembly.Variant]*assembly.Assembly
	dist     map[pair]geom.Gap
	paired   map[*assembly.Assembly]bool // whose pairs are all in dist
	boxes    map[*assembly.Instance]geom.Box3
	plan     *nest.Plan // see cutting
	only     string     // kind of finding that is asked for, when not all are
	err      error      // the first distance that could not be computed
}

func newBench(a *assembly.Assembly) *bench {
	return &bench{
		fixture: a.Fixture, layout: a.Layout, nominal: a,
		variants: map[assembly.Variant]*assembly.Assembly{assembly.Nominal: a},
		dist:     map[pair]geom.Gap{},
		paired:   map[*assembly.Assembly]bool{},
		boxes:    map[*assembly.Instance]geom.Box3{},
	}
}

// variant returns the fixture placed with cells of another size.
func (b *bench) variant(v assembly.Variant) (*assembly.Assembly, error) {
	if a, ok := b.variants[v]; ok {
		return a, nil
	}
	a, err := b.nominal.Variant(v)
	if err == nil {
		b.variants[v] = a
	}
	return a, err
}

// change is a one-parameter family of settings: at(delta) for delta >= 0 in mm,
// where nothing is changed at zero. Its text is written from the settings found.
type change struct {
	at   func(delta float64) []finding.Setting
	text func(delta float64, set []finding.Setting) string
	max  float64 // largest sensible delta, mm
}

// maxTrials bounds the search for a remedy.
const maxTrials = 12

// remedy finds the smallest change that clears the finding. A distance between
// solids changes by no more than the movement of one of them, so the shortage
// is a lower bound of the movement needed: adding the remaining shortage until
// none is left approaches the smallest change from below. It is then rounded to
// the user's step, away from the present value.
func (r rule) remedy(b *bench, f finding.Finding) *finding.Remedy {
	if r.cures != nil {
		for _, c := range r.cures(b, f) {
			if set, delta, ok := r.search(b, f, c); ok {
				return &finding.Remedy{Text: c.text(delta, set), Set: set}
			}
		}
	}
	if r.words != nil {
		return &finding.Remedy{Text: r.words(b, f)}
	}
	return &finding.Remedy{Text: fmt.Sprintf("%s more is needed between %s", b.up(short(f)), strings.Join(f.Between, " and "))}
}

// maxIdle is how many trials in a row may bring nothing nearer before a change
// is given up: the depth of an overlap, unlike a gap, need not shrink at once.
const maxIdle = 2

// search applies one change with growing delta until the finding passes.
func (r rule) search(b *bench, f finding.Finding, c change) (set []finding.Setting, delta float64, ok bool) {
	delta = short(f)
	last, idle := f, 0
	for range maxTrials {
		if !(delta <= c.max) {
			return nil, 0, false
		}
		set = c.at(delta)
		now, err := r.trial(b.fixture, f, set, b.nominal.Links()...)
		switch {
		case err != nil:
			return nil, 0, false
		case now.Verdict == finding.Pass:
			return set, delta, true
		case nearer(last, now):
			idle = 0
		default:
			idle++
		}
		if idle == maxIdle {
			return nil, 0, false
		}
		delta += short(now)
		last = now
	}
	return nil, 0, false
}

// nearer says whether the value found moved towards what is needed.
func nearer(was, now finding.Finding) bool {
	const moved = 1e-9
	return now.Margin() > was.Margin()+moved
}

// short is how much is missing for a finding to pass; never zero when it does
// not pass.
func short(f finding.Finding) float64 {
	if f.Verdict == finding.Pass {
		return 0
	}
	return math.Max(math.Abs(f.Need-f.Have), apartLeast)
}

// trial re-runs the rule on the changed fixture and returns the worst finding of
// the same key; one that passes when there is none left.
func (r rule) trial(f *params.Fixture, was finding.Finding, set []finding.Setting, links ...assembly.LinkPlace) (finding.Finding, error) {
	worst := finding.Finding{Verdict: finding.Pass}
	changed, err := Apply(f, set)
	if err != nil {
		return worst, err
	}
	a, err := assembly.Build(changed)
	if err != nil {
		return worst, err
	}
	if len(links) > 0 { // the bars follow their terminals
		if err := a.AddLinks(links); err != nil {
			return worst, err
		}
	}
	b := newBench(a)
	b.only = was.Of
	found, err := r.eval(b)
	for _, g := range found {
		if g.Key() == was.Key() && g.Verdict.Rank() > worst.Verdict.Rank() {
			worst = g
		}
	}
	return worst, err
}
