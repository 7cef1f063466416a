// Package report writes report.json: everything computed, for scripts.
package report

import (
	"encoding/json"
	"io"
	"strings"

	"clampwright/assembly/assure"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/assembly/stackup"
	"clampwright/export/mark"
	"clampwright/export/tell"
	"clampwright/params/number"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Report is report.json.
type Report struct {
	Fixture     string          `json:"fixture"`
	InputSHA256 string          `json:"input_sha256"`
	Version     int             `json:"program_version"`
	Mark        string          `json:"mark"` // with the seal that tells whether somebody has changed it
	Verdict     finding.Verdict `json:"verdict"`
	Sentence    string          `json:"sentence"`
	Checks      []checkJSON     `json:"checks"`
	Parts       []partJSON      `json:"parts"`
	Cuts        []cutJSON       `json:"cuts"`
	Nesting     nestJSON        `json:"nesting"`
	PackMassG   number.Value    `json:"pack_mass_g"`
	Cost        *costJSON       `json:"cost,omitempty"`
	Assurance   assure.Share    `json:"assurance"`
	Readings    *readingsJSON   `json:"readings,omitempty"` // nil where nothing was read at the clamp
	Clamp       clamp.Result    `json:"clamp"`
	Wiring      *wiringJSON     `json:"wiring"`
	Tolerances  stackup.Result  `json:"tolerances"`
	Values      []valueJSON     `json:"values"`
	Notes       []string        `json:"notes"`
}

// checkJSON is a finding with its figures rounded.
type checkJSON struct {
	finding.Finding
	Have   number.Value  `json:"measured"`
	Need   number.Value  `json:"required"`
	Most   *number.Value `json:"required_most,omitempty"`
	Remedy string        `json:"remedy"`
	Params []string      `json:"parameters,omitempty"`
	AtMM   *[3]float64   `json:"at_mm,omitempty"`
}

func checkOf(j *job.Job, f finding.Finding) checkJSON {
	row := checkJSON{Finding: f, Have: number.Length.Of(f.Have), Need: number.Length.Of(f.Need), Remedy: tell.Advice(f), Params: tell.Origins(j, f)}
	if f.Sense == finding.Within {
		most := number.Length.Of(f.Most)
		row.Most = &most
	}
	if at := f.At; at != nil {
		row.AtMM = &[3]float64{number.Coordinate.Round(at.X), number.Coordinate.Round(at.Y), number.Coordinate.Round(at.Z)}
	}
	return row
}

type partJSON struct {
	ID       string          `json:"id"`
	Kind     string          `json:"kind"`
	Name     string          `json:"name"`
	Mark     string          `json:"mark,omitempty"`
	Quantity int             `json:"quantity"`
	Material string          `json:"material"`
	Stock    string          `json:"stock"`
	SizeMM   [3]number.Value `json:"size_mm"`
	MassG    number.Value    `json:"mass_g"`
	Files    []string        `json:"files"`
	Print    *printJSON      `json:"print,omitempty"`
}

// printJSON is how a printed part came out: measured on its mesh as it lies.
type printJSON struct {
	BoxMM    [3]number.Value `json:"box_mm"` // as it lies on the bed
	WallMM   number.Value    `json:"least_wall_mm"`
	SteepMM2 number.Value    `json:"steep_overhang_mm2"`
	FootMM2  number.Value    `json:"foot_mm2"` // on the bed
	Lines    int             `json:"wall_lines"`
	Infill   int             `json:"infill_pct"`
	BrimMM   number.Value    `json:"brim_mm"`
	Need     string          `json:"overhang_because,omitempty"`
	Joint    string          `json:"joint,omitempty"`
}

func printOf(p *parts.Part) *printJSON {
	if p.Print == nil {
		return nil
	}
	size := geom.NewBody(p.Solid, p.Print.Lie).Bounds().Size()
	out := &printJSON{WallMM: number.Coordinate.Of(p.Print.WallMM), SteepMM2: number.Coordinate.Of(p.Print.SteepMM2), FootMM2: number.Coordinate.Of(p.Print.FootMM2),
		Lines: p.Print.Lines, Infill: p.Print.InfillPct, BrimMM: number.Coordinate.Of(p.Print.BrimMM), Need: p.Print.Need, Joint: p.Print.Joint}
	for i, s := range [3]float64{size.X, size.Y, size.Z} {
		out.BoxMM[i] = number.Coordinate.Of(s)
	}
	return out
}

type cutJSON struct {
	Part     string          `json:"part"`
	Quantity int             `json:"quantity"`
	SizeMM   [2]number.Value `json:"size_mm"`
	From     string          `json:"from"` // "sheet 1", "length 2 + lengths 3 and 4"; empty when none is listed
	Buy      bool            `json:"buy"`  // some of it is to be bought
	Taken    []takenJSON     `json:"taken,omitempty"`
	Missing  int             `json:"missing,omitempty"`
}

// takenJSON is how many pieces come from one stock.
type takenJSON struct {
	Stock string `json:"stock"`
	Count int    `json:"count"`
	Buy   bool   `json:"buy"`
}

// valueJSON is one settled value and where it came from.
type valueJSON struct {
	Param  string `json:"param"`
	Origin string `json:"origin"`
	At     string `json:"at,omitempty"`
	Note   string `json:"note,omitempty"`
}

// Of collects the report of a job with the files of each part.
func Of(j *job.Job, version int, files map[string][]string) Report {
	r := Report{
		Fixture: j.Fixture.Name, InputSHA256: j.Fixture.InputSHA256, Version: version, Mark: mark.New(version, j.Fixture.InputSHA256, string(j.Verdict()), j.Fixture.Plain).Of("report").Line(), Verdict: j.Verdict(), Sentence: tell.Sentence(j),
		PackMassG: number.Mass.Of(j.Assembly.PackMassG()), Clamp: rounded(*j.Clamp), Assurance: rounded(*j.Assurance), Notes: []string{}, Tolerances: rounded(*j.Tolerances), Nesting: nestingOf(j), Cost: costOf(j), Wiring: Wiring(j.Wiring),
	}
	if j.Estimate != nil && !j.Estimate.Bare() {
		r.Readings = readingsOf(j)
	}
	for _, f := range j.Findings {
		r.Checks = append(r.Checks, checkOf(j, f))
	}
	for _, l := range j.Assembly.PartsList() {
		p := l.Part
		row := partJSON{ID: p.ID, Kind: string(p.Kind), Name: p.Name, Mark: p.Mark, Quantity: l.Pieces, Material: p.Material, Stock: p.Stock, MassG: number.Mass.Of(l.MassEachG()), Files: files[p.ID], Print: printOf(p)}
		for i, s := range p.SizeMM {
			row.SizeMM[i] = number.Coordinate.Of(s)
		}
		if row.Files == nil {
			row.Files = []string{}
		}
		r.Parts = append(r.Parts, row)
	}
	for _, c := range j.Nest.Cuts {
		row := cutJSON{Part: c.Part.ID, Quantity: c.Quantity, SizeMM: [2]number.Value{number.Coordinate.Of(c.SizeMM[0]), number.Coordinate.Of(c.SizeMM[1])}, Missing: c.Missing}
		for _, t := range c.Taken {
			row.Taken = append(row.Taken, takenJSON{t.On(), t.Count, t.Bought})
			row.From, row.Buy = strings.TrimPrefix(row.From+" + "+t.On(), " + "), row.Buy || t.Bought
		}
		r.Cuts = append(r.Cuts, row)
	}
	for _, d := range j.Notes {
		d.Range.File = "" // what is written does not depend on how the file was named
		r.Notes = append(r.Notes, d.String())
	}
	for _, v := range j.Fixture.Values() {
		row := valueJSON{Param: v.Path, Origin: string(v.Kind), Note: v.Note}
		if v.Range.Line > 0 {
			row.At = v.Range.Place()
		}
		r.Values = append(r.Values, row)
	}
	return r
}

// Encode writes the report as indented JSON, to be sealed.
func Encode(w io.Writer, j *job.Job, version int, files map[string][]string) error {
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(Of(j, version, files))
}
