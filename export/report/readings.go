package report

import (
	"encoding/json"
	"io"

	"clampwright/assembly/estimate"
	"clampwright/assembly/job"
	"clampwright/export/tell"
)

// readingsJSON is what the readings at the clamp tell.
type readingsJSON struct {
	RodNames []string `json:"rods"` // of rod_force_n, and by number of turns
	estimate.Answer
	Share   float64  `json:"share"` // of what may be that stays within the bands from now on
	RestsOn string   `json:"rests_on,omitempty"`
	Said    []string `json:"said"`
}

func readingsOf(j *job.Job) *readingsJSON {
	a := j.Estimate.Answer()
	out := &readingsJSON{RodNames: j.Fixture.TieNames(), Answer: rounded(a), RestsOn: tell.Rests(j), Said: tell.Answer(j, a)}
	if s := j.Assurance; s != nil {
		out.Share = rounded(s.Share)
	}
	return out
}

// Readings writes what readings tell, or what is known without any, as one line of JSON.
func Readings(w io.Writer, j *job.Job) error { return json.NewEncoder(w).Encode(readingsOf(j)) }
