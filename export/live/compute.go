package live

import (
	"context"
	"errors"
	"html/template"
	"path/filepath"
	"slices"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export/mark"
	"clampwright/export/page"
	"clampwright/export/tell"
	"clampwright/export/views"
	"clampwright/params"
	"clampwright/params/diag"
)

// mostAlike is how many fixtures, one after another, share the shapes of their printed
// parts before these are made anew: they are all kept.
const mostAlike = 40

// mostRepairs is how many repairs that differ in kind are looked for.
const mostRepairs = 3

// compute answers to a text: at first coarsely, then in full, then with the steps, and
// with repairs where something fails. It ends when a newer text is shown.
func (b *bench) compute(ctx context.Context, turn int, m moment) {
	f, _, notes := params.LoadAll(filepath.Base(b.file), m.text, b.opener)
	if notes.HasErrors() {
		b.fault(turn, m, notes)
		return
	}
	like := b.alike()
	if err := b.glance(ctx, turn, m, f, like); err != nil {
		b.fault(turn, m, err)
		return
	}
	j, err := job.Compute(ctx, f, func(string) {}, job.WithAnswers(0), job.Like(like))
	if err != nil {
		b.fault(turn, m, err)
		return
	}
	j.Notes = notes
	if err := b.judge(turn, m, j); err != nil {
		b.fault(turn, m, err)
		return
	}
	if j.Verdict() == finding.Fail {
		b.repair(ctx, turn, m, j)
	}
}

// alike is the last job whose shapes may serve again, nil after a number of them.
func (b *bench) alike() *job.Job {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.like++; b.like > mostAlike || b.was == nil {
		b.like = 0
		return nil
	}
	return b.was.job
}

// publish changes the page unless a newer text is shown; it says whether it did.
func (b *bench) publish(turn int, change func()) bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.turn == turn {
		change()
	}
	return b.turn == turn
}

// fault says why a text has no answer.
func (b *bench) fault(turn int, m moment, err error) {
	b.publish(turn, func() {
		b.phase = broken
		if errors.Is(err, context.Canceled) {
			return
		}
		lines := []string{err.Error()}
		if list, ok := errors.AsType[diag.List](err); ok {
			lines = nil
			for _, d := range list {
				if d.Severity == diag.Error {
					lines = append(lines, d.Line())
				}
			}
		}
		b.doc.set("verdict", fill("fault", lines))
		b.doc.drop("repairs", "moved", "beside")
		b.doc.raise()
	})
}

// glance shows the first answer.
func (b *bench) glance(ctx context.Context, turn int, m moment, f *params.Fixture, like *job.Job) error {
	j, err := job.Glance(ctx, f, job.Like(like))
	if err != nil {
		return err
	}
	s := tell.Glance(j, views.New(j.Assembly))
	list := newMarker(j, m.text, b.before())
	maps, err := page.Pieces(&page.Documents{Clamp: s.Clamp}, page.Checks)
	if err != nil {
		return err
	}
	fresh, err := b.head(list, &s)
	if err != nil {
		return err
	}
	b.publish(turn, func() {
		b.doc.set("verdict", verdictHTML("computing", "Computing", "This is a first, coarse answer and no verdict: the full judgement follows."))
		b.doc.drop("repairs", "moved")
		for id, html := range fresh {
			b.doc.set(id, html)
		}
		for _, p := range maps {
			b.doc.set(p.ID, section(p, list))
		}
		b.doc.values = list.table()
		b.doc.raise()
	})
	return nil
}

// head are the pieces above the sections.
func (b *bench) head(list *marker, s *page.Documents) (map[string]template.HTML, error) {
	list.summary(s)
	facts, err := page.Facts(s.Summary)
	if err != nil {
		return nil, err
	}
	scene, err := page.Turnable(s.Scene)
	if err != nil {
		return nil, err
	}
	return map[string]template.HTML{"title": list.title(s.Title), "summary": list.html(facts), "scene": template.HTML(scene)}, nil
}

// before is the job to which what moved is told.
func (b *bench) before() *job.Job {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.was == nil {
		return nil
	}
	return b.was.job
}

// judge shows the full judgement, at last the steps with their pictures.
func (b *bench) judge(turn int, m moment, j *job.Job) error {
	was := b.before()
	if !b.publish(turn, func() {
		b.is, b.phase = &judgement{m, j}, judged
		if b.made == nil {
			b.made = b.is
		}
		b.doc.set("verdict", verdictOf(j))
		b.doc.set("moved", b.movedHTML(was, j))
		b.beside()
		b.doc.raise()
	}) {
		return nil
	}
	s := tell.Sheet(j, views.New(j.Assembly), mark.New(mark.Version(), j.Fixture.InputSHA256, string(j.Verdict()), j.Fixture.Plain).Program(), nil)
	list := newMarker(j, m.text, was)
	late := page.Documents{Title: s.Title, Steps: s.Steps, ShotBodies: s.ShotBodies}
	scene := s.Scene
	s.Steps, s.ShotBodies = nil, nil
	fresh, err := b.head(list, &s)
	if err != nil {
		return err
	}
	pieces, err := list.pieces(&s)
	if err != nil {
		return err
	}
	if !b.publish(turn, func() {
		b.doc.order = nil
		for id, html := range fresh {
			b.doc.set(id, html)
		}
		for _, p := range pieces {
			b.doc.order = append(b.doc.order, p.ID)
			b.doc.set(p.ID, section(p, list))
		}
		b.doc.keep()
		b.doc.values = list.table()
		b.doc.raise()
	}) {
		return nil
	}
	steps, err := list.pieces(&late)
	if err != nil {
		return err
	}
	still, err := page.Still(scene)
	b.publish(turn, func() {
		b.doc.set("still", still)
		for _, p := range steps {
			b.doc.set(p.ID, section(p, list))
		}
		b.doc.whole = true
		b.doc.raise()
	})
	return err
}

// repair looks for what mends a fixture that fails, and shows it before and after.
func (b *bench) repair(ctx context.Context, turn int, m moment, j *job.Job) {
	with := *j
	with.Findings = slices.Clone(j.Findings)
	err := with.Mend(ctx, mostRepairs)
	if ctx.Err() != nil {
		return
	}
	html := repairsHTML(b.file, m.text, &with, err)
	list := newMarker(&with, m.text, nil)
	again, err := list.pieces(&page.Documents{Checks: tell.Sheet(&with, views.New(with.Assembly), "", nil).Checks}) // with what to do
	b.publish(turn, func() {
		b.is.job = &with
		for _, p := range again {
			if err == nil {
				b.doc.set(p.ID, section(p, list))
			}
		}
		b.doc.set("repairs", html)
		b.doc.raise()
	})
}
