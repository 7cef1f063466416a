package check

import (
	"slices"

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
	measure func(*scene) ([]finding.Finding, error)
	// hint says what to do about a finding at the bench, the file as it is; nil where
	// only a change of the file helps: what that would be is proved, not guessed.
	hint func(*scene, finding.Finding) string
}

// Rule is what a rule says of itself.
type Rule struct {
	ID     finding.ID
	Why    string
	Causes []string // parameter paths
}

// Rules are all rules over the assembly.
func Rules() []Rule {
	var out []Rule
	for _, r := range rules() {
		out = append(out, Rule{r.id, r.why, r.causes})
	}
	return out
}

// Judge runs every rule on a placed fixture, in a fixed order. It fails only when
// a variant of the cells' size cannot be built.
func Judge(a *assembly.Assembly) ([]finding.Finding, error) { return judge(newScene(a), rules()) }

// JudgeLight is Judge for the rules that take little time: for telling bad fixtures
// from good ones by the thousand.
func JudgeLight(a *assembly.Assembly) ([]finding.Finding, error) {
	return judge(newScene(a), slices.DeleteFunc(rules(), func(r rule) bool { return r.heavy }))
}

// JudgeRule is Judge for the rule of one finding; of its kinds the finding's own is
// among them.
func JudgeRule(a *assembly.Assembly, f finding.Finding) ([]finding.Finding, error) {
	b := newScene(a)
	b.only = f.Of
	return judge(b, slices.DeleteFunc(rules(), func(r rule) bool { return r.id != f.ID }))
}

func judge(b *scene, list []rule) ([]finding.Finding, error) {
	var all []finding.Finding
	for _, r := range list {
		found, err := r.eval(b)
		if err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	return all, nil
}

// eval measures the rule and fills in what is the same for all its findings.
func (r rule) eval(b *scene) ([]finding.Finding, error) {
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
		if f.Verdict != finding.Pass && r.hint != nil {
			f.Hint = r.hint(b, *f)
		}
	}
	return found, err
}

// scene is what the rules measure on: the placed fixture with the extreme cell
// sizes, and the distances already computed.
type scene struct {
	fixture  *params.Fixture
	layout   *assembly.Placement
	nominal  *assembly.Assembly
	variants map[assembly.Variant]*assembly.Assembly
	dist     map[pair]geom.Gap
	met      map[*assembly.Assembly]*meetings
	boxes    map[*assembly.Instance]geom.Box3
	plan     *nest.Nesting // see cutting
	only     string        // kind of finding that is asked for, when not all are
	err      error         // the first distance that could not be computed
}

func newScene(a *assembly.Assembly) *scene {
	return &scene{
		fixture: a.Fixture, layout: a.Placement, nominal: a,
		variants: map[assembly.Variant]*assembly.Assembly{assembly.Nominal: a},
		dist:     map[pair]geom.Gap{},
		met:      map[*assembly.Assembly]*meetings{},
		boxes:    map[*assembly.Instance]geom.Box3{},
	}
}

// variant returns the fixture placed with cells of another size.
func (b *scene) variant(v assembly.Variant) (*assembly.Assembly, error) {
	if a, ok := b.variants[v]; ok {
		return a, nil
	}
	a, err := b.nominal.Variant(v)
	if err == nil {
		b.variants[v] = a
	}
	return a, err
}
