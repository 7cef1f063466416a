// Package export turns a settled fixture into everything a workshop is handed:
// the report, the build sheet, cut and print files, templates, drawings and
// lists. A Job holds what was computed; its artifacts are written by package
// folder, all or nothing.
package export

import (
	"context"
	"fmt"
	"sync"

	"golang.org/x/sync/errgroup"

	"clampwright/assembly"
	"clampwright/assembly/check"
	"clampwright/assembly/clamp"
	"clampwright/assembly/nest"
	"clampwright/assembly/stackup"
	"clampwright/assembly/study"
	"clampwright/assembly/wiring"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Verdict is the outcome of a check or of the whole fixture.
type Verdict string

// The verdicts.
const (
	Pass Verdict = "pass"
	Warn Verdict = "warn"
	Fail Verdict = "fail"
)

// worse is the worse of two verdicts.
func worse(a, b Verdict) Verdict {
	rank := map[Verdict]int{Pass: 0, Warn: 1, Fail: 2}
	if rank[b] > rank[a] {
		return b
	}
	return a
}

// Job is one fixture with everything computed from it.
type Job struct {
	Fixture  *params.Fixture
	Notes    diag.List // warnings of the parameter file
	Assembly *assembly.Assembly
	Findings []check.Finding
	Clamp    *clamp.Result
	// Tolerances is the stack-up; nil in a job that is only placed.
	Tolerances *stackup.Result
	Curve      ChargeCurve
	Wiring     *WiringOutcome
	Nest       nest.Plan

	records []wiring.Record

	// The coarse meshes of the parts, made when first asked for.
	meshOnce sync.Once
	coarse   map[*parts.Part]geom.Mesh
	meshErr  error
}

// Step is told what Compute is about to do, for a progress line.
type Step func(what string)

// Input is something that Compute works on beside the fixture.
type Input func(*Job)

// WithRecords gives the measurements of the cells on hand.
func WithRecords(records []wiring.Record) Input { return func(j *Job) { j.records = records } }

// Compute places the fixture, runs every check and the clamp mechanics. It
// fails when a part can't be made from the sizes, when the mechanics have no
// solution, or when ctx ends.
func Compute(ctx context.Context, f *params.Fixture, step Step, more ...Input) (*Job, error) {
	j := &Job{Fixture: f}
	for _, set := range more {
		set(j)
	}
	step("placing the parts")
	if err := j.place(); err != nil {
		return nil, fmt.Errorf("placing the parts: %w", err)
	}
	step("planning the wiring")
	if err := j.wire(); err != nil { // the checks need the link bars in place
		return nil, fmt.Errorf("planning the wiring: %w", err)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	step("checking the assembly and pressing the cells")
	var all errgroup.Group // none reads what the other writes
	all.Go(j.check)
	all.Go(j.press)
	all.Go(j.charge)
	all.Go(j.nest)
	if err := all.Wait(); err != nil {
		return nil, err
	}
	r := j.stackup()
	j.Tolerances = &r
	return j, ctx.Err()
}

// Place places the parts and the link bars of a fixture and computes nothing more.
func Place(f *params.Fixture) (*Job, error) {
	j := &Job{Fixture: f}
	if err := j.place(); err != nil {
		return nil, fmt.Errorf("placing the parts: %w", err)
	}
	if err := j.wire(); err != nil {
		return nil, fmt.Errorf("planning the wiring: %w", err)
	}
	return j, nil
}

// Prove places a fixture and runs every check but those of the clamp, without
// looking for remedies: what a search asks of its finalists.
func Prove(f *params.Fixture) ([]Check, error) {
	j, err := Place(f)
	if err != nil {
		return nil, err
	}
	j.Findings, err = check.Judge(j.Assembly)
	return j.Checks(), err
}

func (j *Job) place() (err error) {
	j.Assembly, err = assembly.Build(j.Fixture)
	return err
}

func (j *Job) check() (err error) {
	j.Findings, err = check.Run(j.Assembly)
	return err
}

func (j *Job) nest() (err error) {
	j.Nest, err = nest.Of(j.Assembly)
	return err
}

func (j *Job) press() error {
	r, err := clamp.Solve(study.Press(j.Fixture))
	if err != nil {
		return clampError(j.Fixture, err)
	}
	j.Clamp = &r
	return nil
}

// Verdict is the worst of all checks, the clamp's included.
func (j *Job) Verdict() Verdict {
	v := Pass
	for _, c := range j.Checks() {
		v = worse(v, c.Verdict)
	}
	return v
}

// Sentence says the verdict in one sentence.
func (j *Job) Sentence() string {
	var fails, warns []Check
	for _, c := range j.Checks() {
		switch c.Verdict {
		case Fail:
			fails = append(fails, c)
		case Warn:
			warns = append(warns, c)
		}
	}
	switch {
	case len(fails) == 1:
		return "Do not build this yet: " + lowerFirst(fails[0].Said()) + "."
	case len(fails) > 1:
		return fmt.Sprintf("Do not build this yet: %s, and %d more check%s.", lowerFirst(cause(fails).Said()), len(fails)-1, failPlural(len(fails)-1))
	case len(warns) > 0:
		return fmt.Sprintf("Fit to build, with %d point%s to read first.", len(warns), plural(len(warns)))
	}
	return "Fit to build: every check passes."
}

func plural(n int) string {
	if n == 1 {
		return ""
	}
	return "s"
}
