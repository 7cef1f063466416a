// Package check proves a placed fixture: nothing in the same place, parts that
// must touch touching, tools that get in, sound seats and edges, faces covered,
// and everything cuttable from what the user has. Every rule runs; each reports
// its worst case with the smallest change that would clear it.
//
// Clearances are least distances between the true solids, mm.
package check

import (
	"clampwright/params"
	"clampwright/parts/geom"
)

// Verdict is the outcome of a check.
type Verdict string

// The verdicts, mildest first.
const (
	Pass Verdict = "pass"
	Warn Verdict = "warn"
	Fail Verdict = "fail"
)

// Group is the heading a check is reported under.
type Group string

// The groups, in the order they are reported.
const (
	GroupInterference Group = "interference"
	GroupClear        Group = "keep clear"
	GroupSeats        Group = "seats"
	GroupCover        Group = "cover"
	GroupCutting      Group = "cutting"
)

// Finding is the result of one check at its worst place.
type Finding struct {
	ID      string
	Kind    string // what is compared, when one rule has several findings
	Group   Group
	Verdict Verdict
	// Measured and Required are in Unit: "mm", "MPa", "m2" or "pieces". Which
	// way round they must lie is said in Why.
	Measured, Required float64
	Unit               string
	// AtLeast says that Measured is a lower bound: things are so far apart that
	// their distance was not worked out.
	AtLeast bool
	Between []string // instances (or parts) the value lies between
	Why     string   // why it matters, one sentence
	Remedy  *Remedy  // nil when the check passes
	At      geom.Vec3
	// Also names the other places where the same check does not pass, worst
	// first; Compared counts the places or pairs that were computed.
	Also     []string
	Compared int
	// Causes are the parameters that set the measured value, with where each
	// came from.
	Causes []Cause
	// Approach says which way of getting in was measured, for tools.
	Approach string
}

// Cause is one parameter behind a finding.
type Cause struct {
	Param  string // path in the parameter file: "rods.columns"
	Origin params.Origin
}

// Remedy is the smallest change that clears a finding.
type Remedy struct {
	Text string
	// Set holds the parameters to change together; empty when the change is to
	// something that is no parameter of the file (a stock to buy).
	Set []Setting
}

// Setting is one parameter with its new value.
type Setting struct {
	Param string
	Value float64 // in mm, when Word is empty
	Word  string
}
