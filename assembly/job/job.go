// Package job turns a settled fixture into one value that is complete before
// anything is written: the parts at their places with the link bars, the wiring
// plan, every finding, the mechanics, the tolerances, how the parts lie on the stock,
// and the order of work.
package job

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"sync"

	"clampwright/assembly"
	"clampwright/assembly/assure"
	"clampwright/assembly/check"
	"clampwright/assembly/clamp"
	"clampwright/assembly/estimate"
	"clampwright/assembly/finding"
	"clampwright/assembly/inputs"
	"clampwright/assembly/nest"
	"clampwright/assembly/remedy"
	"clampwright/assembly/stackup"
	"clampwright/assembly/work"
	"clampwright/params"
	"clampwright/params/diag"
)

// Job is one fixture with everything computed from it.
type Job struct {
	Fixture  *params.Fixture
	Notes    diag.List // warnings of the parameter file
	Assembly *assembly.Assembly
	// Findings are those of every rule, in the order they are reported.
	Findings []finding.Finding
	Clamp    *clamp.Result // nil in a job that is only placed, as are the next three
	// Tolerances is the stack-up, Assurance the share that stays within the bands.
	Tolerances *stackup.Result
	Assurance  *assure.Share
	reduced    *assure.Fixture
	// Estimate is what readings at the clamp tell; nil without any. own is it by them alone,
	// Rests what it and the share rest on beside them.
	Estimate, own *estimate.Estimate
	Rests         Rests
	told          told
	cells         *assure.Known      // what readings in another clamp told of the cells
	like          *assembly.Assembly // whose printed parts serve where they are alike
	Curve         ChargeCurve
	Wiring        *Wiring
	Nest          nest.Nesting
	Buying        []Buying
	Cost          Cost
	Work          work.Order
	Apart         work.Order // the way back, and one cell replaced
	// Mended is what changes of the file mend it; looked for where something fails.
	Mended remedy.Answer

	answers int   // that are asked for
	seen    *Seen // see Brief; nil where more than the verdict is wanted
}

// Step is told what Compute is about to do, for a progress line.
type Step func(what string)

// Input is what Compute is told beside the fixture.
type Input func(*Job)

// Seen is what fixtures computed one after another may have alike; not for concurrent
// use.
type Seen struct {
	wiring *Wiring
	solved []*Job // less all but fixture, clamp and share
}

// mostSeen is how many solved clamps are kept.
const mostSeen = 8

// Brief asks for the verdict without advice and order of work. What comes out as in a
// fixture seen before is taken from there.
func Brief(seen *Seen) Input {
	return func(j *Job) { j.answers, j.seen, j.Wiring = none, seen, seen.wiring }
}

// solvedBefore is a job with the same clamp as this one, nil when none was seen.
func (j *Job) solvedBefore() *Job {
	if j.seen == nil || knows(j) {
		return nil
	}
	in := inputs.Clamp(j.Fixture)
	for _, o := range j.seen.solved {
		if reflect.DeepEqual(inputs.Clamp(o.Fixture), in) {
			return o
		}
	}
	return nil
}

// remember keeps what later fixtures may have alike.
func (s *Seen) remember(j *Job) {
	s.wiring = j.Wiring
	if j.solvedBefore() == nil {
		s.solved = append(s.solved, &Job{Fixture: j.Fixture, Clamp: j.Clamp, Assurance: j.Assurance, reduced: j.reduced})
		s.solved = s.solved[max(0, len(s.solved)-mostSeen):]
	}
}

// Compute places the fixture, runs every check and the clamp mechanics. It
// fails when a part can't be made from the sizes, when the mechanics have no
// solution, or when ctx ends.
func Compute(ctx context.Context, f *params.Fixture, step Step, more ...Input) (*Job, error) {
	step("placing the parts and planning the wiring")
	j, err := placed(f, more...)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	step("checking the assembly and pressing the cells")
	if err := cmp.Or(wrong(f, atOnce(j.check, j.pressAndReduce, j.charge, j.nest)), ctx.Err()); err != nil {
		return nil, err
	}
	j.study()
	j.sumUp()
	j.Buying = j.buying()
	j.Cost = j.cost()
	if j.answers > 0 || j.answers != none && j.Verdict() == finding.Fail { // else it can be built as it is
		step("looking for changes that mend it")
		if err := j.mend(ctx); err != nil {
			return nil, err
		}
	}
	made, err := j.firstArticle()
	if err != nil {
		return nil, wrong(f, err)
	}
	j.Findings = named(append(j.Findings, made...))
	if j.seen != nil {
		j.seen.remember(j)
		return j, ctx.Err()
	}
	j.Work = j.OrderOfWork()
	j.Apart = j.WayBack()
	return j, ctx.Err()
}

// atOnce runs stages of which none reads what another writes; it joins their errors
// in their order.
func atOnce(stages ...func() error) error {
	errs := make([]error, len(stages))
	var all sync.WaitGroup
	for i, s := range stages {
		all.Go(func() { errs[i] = s() })
	}
	all.Wait()
	return errors.Join(errs...)
}

// sumUp adds up the tolerances and gathers all findings.
func (j *Job) sumUp() {
	r := stackup.Study(j.Fixture)
	j.Tolerances = &r
	j.Findings = j.findings()
}

// Place places the parts and the link bars of a fixture and computes nothing more;
// its findings are those of the wiring.
func Place(f *params.Fixture) (*Job, error) {
	j, err := placed(f)
	if err == nil {
		j.Findings = j.wiringFindings()
	}
	return j, err
}

// placed is a fixture with its parts and link bars at their places: the checks need
// both.
func placed(f *params.Fixture, more ...Input) (*Job, error) {
	j := &Job{Fixture: f}
	for _, set := range more {
		set(j)
	}
	if err := j.place(); err != nil {
		return nil, wrong(f, err)
	}
	if err := j.wire(); err != nil {
		return nil, wrong(f, err)
	}
	return j, nil
}

func (j *Job) place() (err error) {
	build := assembly.Build
	if j.like != nil {
		build = j.like.BuildLike
	}
	j.Assembly, err = build(j.Fixture)
	return err
}

func (j *Job) check() (err error) {
	j.Findings, err = check.Judge(j.Assembly)
	return err
}

func (j *Job) nest() (err error) {
	j.Nest, err = nest.Of(j.Assembly)
	return err
}

// pressAndReduce press the cells and estimate them: at once where nothing is known of how
// stiff they are, else with what is.
func (j *Job) pressAndReduce() error {
	if !knows(j) {
		return atOnce(j.press, j.reduce)
	}
	if err := j.reduce(); err != nil {
		return err
	}
	return j.press()
}

// press solves the mechanics.
func (j *Job) press() error {
	if o := j.solvedBefore(); o != nil {
		j.Clamp = o.Clamp
		return nil
	}
	r, err := clamp.Solve(j.pressed())
	if err != nil {
		return err
	}
	j.Clamp = &r
	return nil
}

// OrderOfWork is the order of work of a job that is pressed and nested.
func (j *Job) OrderOfWork() work.Order { return work.Of(j.workInput()) }

// WayBack is how the pack of a job that is pressed comes apart again.
func (j *Job) WayBack() work.Order { return work.Apart(j.workInput()) }

// workInput is what the work follows from.
func (j *Job) workInput() work.Input {
	in := work.Input{Assembly: j.Assembly, Clamp: j.Clamp, Nest: &j.Nest}
	if s := j.Assurance; s != nil {
		in.Weigh, in.Torque = s.Method == assure.Weighed, s.Method == assure.Torque
		if s.Gate != nil {
			in.Gate = s.Gate.LeastMM
		}
		if s.Serve {
			limits := j.reduced.ServeLimits()
			in.Serve = [2]float64{limits.Least, limits.Most}
		}
	}
	if w := j.Wiring; w.Problem == "" {
		in.Layout, in.Plan, in.Proven = w.Layout, &w.Plan, w.Proven
		if w.Arrangement != nil {
			in.Serials = serials(w.Arrangement.Slots)
		}
	}
	return in
}

// reduce boils the fixture down for the study, and estimates it by what was read.
func (j *Job) reduce() error {
	r, err := clamp.Reduce(inputs.Clamp(j.Fixture))
	if err != nil {
		return err
	}
	f := inputs.Assurance(j.Fixture, r)
	j.reduced = &f
	var all []estimate.Learned
	j.Rests, all = rests(j.Fixture, &f)
	f.Learned = j.Rests.Known.Known(f.Latents())
	if j.Fixture.Cell.Compression == params.CompressNone || j.cells != nil {
		return nil // held, not pressed: no force to estimate; or read in another clamp
	}
	defer heed(j)
	if j.own, err = estimated(j.Fixture, &f, nil); err != nil || j.own == nil || j.Rests.Known == nil {
		j.Estimate = j.own
		return err
	}
	if apart := j.own.Against(j.Fixture.Cell.Batch, all, j.Rests.Known); apart != nil {
		j.Rests.tell(j.Fixture, &f, apart)
		f.Learned, j.Estimate = nil, j.own
		return nil
	}
	j.Estimate, err = estimated(j.Fixture, &f, j.Rests.Known)
	return err
}

// Read is a job of which only the estimate is made, by its readings or by none, and the
// share drawn from it: what a reading at the bench is answered with. The estimate is nil
// where cells are held and not pressed.
func Read(f *params.Fixture) (*Job, error) {
	j := &Job{Fixture: f}
	if err := j.reduce(); err != nil {
		return nil, wrong(f, err)
	}
	j.study()
	var err error
	j.Estimate, err = j.Estimated()
	return j, err
}

// Estimated is the estimate, also where nothing was read; nil where cells are held and not
// pressed.
func (j *Job) Estimated() (*estimate.Estimate, error) {
	if j.Estimate != nil || j.Fixture.Cell.Compression == params.CompressNone {
		return j.Estimate, nil
	}
	own := *j.reduced
	c, _ := inputs.Estimate(j.Fixture, &own)
	c.TurnMM, c.Prior = c.Advance(), j.Rests.Known
	return estimate.Fit(c, nil)
}

// estimated is the estimate of a fixture on what was known before; nil where nothing was read.
func estimated(f *params.Fixture, reduced *assure.Fixture, known *estimate.Prior) (*estimate.Estimate, error) {
	if !slices.ContainsFunc(f.Readings, params.Reading.AtClamp) {
		return nil, nil
	}
	own := *reduced
	c, rs := inputs.Estimate(f, &own)
	if wrong := impossible(f, rs); len(wrong) > 0 {
		return nil, wrong
	}
	if known == nil {
		own.Learned = nil
	}
	c.TurnMM, c.Prior = c.Advance(), known
	e, err := estimate.Fit(c, rs)
	d := diag.Diagnostic{Summary: "the readings can't be used", Range: f.Readings[rs[0].Ref].At, Suggestion: "read both again, and take out what is wrong"}
	if two, ok := errors.AsType[*estimate.Contradiction](err); ok {
		d.Summary, d.Range, d.Related = two.Text, f.Readings[two.Refs[1]].At, []diag.Range{f.Readings[two.Refs[0]].At}
		d.Found = fmt.Sprintf("the other in line %d", d.Related[0].Line)
	} else if err != nil {
		d.Found = err.Error()
	}
	if err != nil {
		return nil, diag.List{d}
	}
	if err := torn(f, e); err != nil {
		return nil, err
	}
	return e, nil
}

// study draws the share, by the turns that the card tells where it is pressed.
func (j *Job) study() {
	if j.Fixture.Cell.Compression == params.CompressNone {
		j.Assurance = &assure.Share{} // held, not pressed: no force to keep
		return
	}
	if j.Clamp != nil {
		for _, r := range j.Clamp.Setting.PerRod {
			j.reduced.TurnMM += r.Turns * j.Fixture.Rods.Thread.Pitch.MM() / float64(len(j.Clamp.Setting.PerRod))
		}
	}
	if j.reduced.Known = j.cells; j.Estimate != nil {
		j.reduced.Known, j.reduced.ReadPart = j.Estimate.Known(), j.Estimate.ReadPart()
	}
	if o := j.solvedBefore(); o != nil && o.Fixture.Tolerances.Seed == j.Fixture.Tolerances.Seed && reflect.DeepEqual(o.reduced, j.reduced) {
		j.Assurance = o.Assurance
		return
	}
	s := assure.Study(j.reduced, assure.Draws, uint64(j.Fixture.Tolerances.Seed))
	if p := &j.Fixture.Pack; p.CellsIn(p.Rows-1) < p.PerRow { // as if all rows were as the last, which grows less and is stiffer
		short := *j.reduced
		short.Cells = p.CellsIn(p.Rows - 1)
		if least := assure.Study(&short, assure.Draws, uint64(j.Fixture.Tolerances.Seed)); least.Share < s.Share {
			s = least
		}
	}
	s.Packs, s.Read = j.Rests.Packs, j.reduced.Known != nil
	j.Assurance = &s
}

// Verdict is the worst of all findings.
func (j *Job) Verdict() finding.Verdict { return finding.Worst(j.Findings) }
