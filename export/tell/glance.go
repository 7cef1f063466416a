package tell

import (
	"clampwright/assembly/job"
	"clampwright/export/page"
	"clampwright/export/views"
	"clampwright/params"
	"clampwright/params/words"
)

// Glance fills what of the sheet a job tells at once (job.Glance): it has no verdict.
func Glance(j *job.Job, v *views.Views) page.Documents {
	s := page.Documents{Title: j.Fixture.Name, Summary: summary(j), Scene: scene(j, v), Clamp: Clamp(j), Given: Given(j)}
	s.Clamp.Charge = page.Chart{}
	inShop(j.Fixture.Style, &s)
	return s
}

// Settled is the value at a path in words, as the sheet has it.
func Settled(j *job.Job, v params.SettledValue) string {
	return words.First(v.Text, settled(j, v.Path))
}
