// Package export plans the files of a job: what the workshop cuts, prints and reads,
// written by package folder, all or nothing. It computes nothing.
package export

import (
	"clampwright/assembly/job"
	"clampwright/export/views"
)

// Job is what was computed, with how it looks.
type Job struct {
	*job.Job
	views *views.Views
}

// wired is the electrical side of a job.
type wired struct{ *job.Wiring }

func (j *Job) wired() wired { return wired{j.Wiring} }
