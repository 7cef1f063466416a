package job

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"

	"clampwright/assembly/assure"
	"clampwright/assembly/check"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/remedy"
	"clampwright/params"
	"clampwright/parts"
)

// WithAnswers asks for up to so many answers that differ in kind, also where nothing
// fails, or for none; without it one is looked for where something does.
func WithAnswers(most int) Input { return func(j *Job) { j.answers = cmp.Or(most, none) } }

const none = -1 // answers: not even where something fails

// mend looks for the changes of the file with which nothing fails, and notes with
// every finding what becomes of it.
func (j *Job) mend(ctx context.Context, fixed ...string) (err error) {
	was := stockOf(j)
	b := remedy.Search{Fixture: j.Fixture, Most: max(j.answers, 1), Fixed: fixed, Parts: len(j.Assembly.Instances), Place: func(f *params.Fixture) (remedy.Trial, error) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		t, err := j.Other(f)
		return &trial{Job: t, was: was}, err
	}}
	if j.Mended, err = b.Find(j.Findings); err != nil || len(j.Mended.Patches) == 0 {
		return err
	}
	best := &j.Mended.Patches[0]
	left := map[string]bool{}
	for _, f := range best.Left {
		left[f.Key()] = true
	}
	for i := range j.Findings {
		if f := &j.Findings[i]; f.Verdict != finding.Pass && !left[f.Key()] {
			f.Remedy = &finding.Remedy{Text: best.Said(j.Fixture)}
			for _, c := range best.Changes() {
				f.Remedy.Set = append(f.Remedy.Set, finding.Setting{Path: c.Path, Value: c.Value})
			}
		}
	}
	return nil
}

// Other places a changed fixture, with what the job has worked out already: the plan of
// the wiring and the shapes of printed parts.
func (j *Job) Other(f *params.Fixture) (*Job, error) {
	return placed(f, func(t *Job) {
		t.Wiring, t.cells, t.told, t.like = j.Wiring, j.knownCells(), j.told, j.Assembly
	})
}

// Prove runs every check on a changed fixture but those of the clamp's states, and draws
// its share: what a search asks of its finalists.
func (j *Job) Prove(f *params.Fixture) ([]finding.Finding, error) {
	t, err := j.Other(f)
	if err != nil {
		return nil, err
	}
	found, err := (&trial{Job: t}).Checks()
	if err != nil {
		return nil, err
	}
	share, err := t.share()
	return named(append(found, share...)), err
}

// Judge runs every check on a job that is placed.
func (j *Job) Judge() ([]finding.Finding, error) {
	t := &trial{Job: j}
	found, err := t.Checks()
	if err != nil {
		return nil, err
	}
	pressed, err := t.Press()
	return named(append(found, pressed...)), err
}

// Share draws the share of a changed fixture.
func (j *Job) Share(f *params.Fixture) ([]finding.Finding, error) {
	return (&Job{Fixture: f, cells: j.knownCells()}).share()
}

// knownCells is what is known of the cells in whatever clamp; nil where nothing was read.
func (j *Job) knownCells() *assure.Known {
	if j.Estimate == nil {
		return j.cells
	}
	return j.Estimate.Known().OfCells(j.reduced.Latents())
}

// share draws and judges the share alone.
func (j *Job) share() ([]finding.Finding, error) {
	if err := j.reduce(); err != nil {
		return nil, err
	}
	j.study()
	return j.assurance(), nil
}

// trial is a job that is judged to see whether changes of the file mend it.
type trial struct {
	*Job
	was    stock
	mu     sync.Mutex // of what works on the job itself: searches share trials
	drawn  bool       // the share, once
	once   sync.Once
	states []finding.Finding // the clamp's, on the grid that searches use
	err    error
}

// Rule judges as its finding was.
func (t *trial) Rule(f finding.Finding) ([]finding.Finding, error) {
	switch {
	case f.ID == clamp.Share:
		err := t.draw()
		return t.assurance(), err
	case f.Group == finding.GroupClamp:
		return t.coarse()
	case f.Group == finding.GroupWiring:
		return t.wiringFindings(), nil
	}
	return check.JudgeRule(t.Assembly, f)
}

// draw draws the share.
func (t *trial) draw() (err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if !t.drawn {
		_, err = t.share()
		t.drawn = err == nil
	}
	return err
}

// coarse is the clamp on the grid that searches use.
func (t *trial) coarse() ([]finding.Finding, error) {
	t.once.Do(func() {
		in := t.pressed()
		states, err := clamp.ScreenFittings(in, [][]clamp.Rod{in.Rods}, nil)
		if t.err = err; err == nil {
			t.states = clampFindings(states[0])
		}
	})
	return t.states, t.err
}

// Sift runs the light checks, and the clamp on a coarse grid.
func (t *trial) Sift() ([]finding.Finding, error) {
	light, err := check.JudgeLight(t.Assembly)
	if err != nil {
		return nil, err
	}
	pressed, err := t.coarse()
	return slices.Concat(light, pressed, t.wiringFindings()), err
}

// Checks runs every check, adds up the tolerances and judges the wiring.
func (t *trial) Checks() ([]finding.Finding, error) {
	if err := t.check(); err != nil {
		return nil, err
	}
	t.sumUp()
	return t.Findings, nil
}

// Press solves every state of the clamp as it is reported, and draws the share. Where
// readings tell of the cells, a search takes no more from them, but the proof is of the
// file as it then stands, whose readings are of the clamp as it was built.
func (t *trial) Press() ([]finding.Finding, error) {
	if knows(t.Job) {
		as := &Job{Fixture: t.Fixture}
		if err := as.pressAndReduce(); err != nil {
			return nil, err
		}
		as.study()
		return as.clampFindings(), nil
	}
	var all errgroup.Group
	var states []clamp.State
	all.Go(func() (err error) {
		states, err = clamp.SolveStates(t.pressed(), nil, nil)
		return err
	})
	all.Go(t.draw)
	err := all.Wait()
	return append(clampFindings(states), t.assurance()...), err
}

// Burden is what the trial asks for beside the job.
func (t *trial) Burden() (b remedy.Burden, err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if err := t.nest(); err != nil {
		return b, err
	}
	now := stockOf(t.Job)
	b.Price = t.cost().Pay()
	for item, listed := range now.buy {
		if _, was := t.was.buy[item]; !was {
			b.Buy++
			if !listed {
				b.Beside++
			}
		}
	}
	for part := range now.parts {
		if !t.was.parts[part] {
			b.Parts++
		}
	}
	return b, nil
}

// stock is what a fixture is made of: what is bought for it, false for sheets and lengths
// beside a list of such in the file, and its parts with their sizes and holes.
type stock struct{ buy, parts map[string]bool }

func stockOf(j *Job) stock {
	s := stock{map[string]bool{}, map[string]bool{}}
	j.Buying = j.buying()
	in := &j.Fixture.File().Stock
	for _, b := range j.Buying {
		lists := len(in.Angles) + len(in.Rods) + len(in.Bars)
		if b.CutMM != nil {
			lists = len(in.Sheets)
		}
		kind, _, _ := strings.Cut(b.Item, ", ") // of whatever length
		s.buy[kind] = !b.Usual || lists == 0
	}
	for _, l := range j.Assembly.Bill() {
		p := l.Part
		s.parts[fmt.Sprint(p.Kind, p.Stock, p.SizeMM, p.Holes)] = true
		if p.Make == parts.MakeBuy {
			s.buy[p.Stock] = true
		}
	}
	return s
}
