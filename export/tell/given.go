package tell

import (
	"fmt"
	"strings"

	"clampwright/assembly/job"
	"clampwright/export/page"
	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/params/words"
)

// given lists what the sheet rests on: the values of the file first.
func Given(j *job.Job) []page.Given {
	var out []page.Given
	for _, v := range j.Fixture.Values() {
		from := v.Note
		if v.Kind == params.FromFile && v.Range.Line > 0 {
			from = fmt.Sprintf("line %d", v.Range.Line)
		}
		out = append(out, page.Given{Name: v.Path, Value: Settled(j, v), Origin: string(v.Kind), From: j.Fixture.Style.Say(from)})
	}
	return out
}

// settled writes a value that is a row of a table, a list of lengths or a word of
// several keys; empty where the path is none of these.
func settled(j *job.Job, path string) string {
	f := j.Fixture
	switch path {
	case "cell.model":
		return f.Cell.Name
	case "cell.thickness":
		return j.Fixture.Style.Length(f.Cell.Thickness.MM())
	case "cell.width":
		return j.Fixture.Style.Length(f.Cell.Width.MM())
	case "cell.height":
		return j.Fixture.Style.Length(f.Cell.Height.MM())
	case "cell.swell_zone":
		return j.Fixture.Style.Size([3]float64{f.Cell.SwellWidth.MM(), f.Cell.SwellHeight.MM()})
	case "cell.compression":
		return compressionWords[f.Cell.Compression]
	case "plates.material":
		return f.Plate.Material.Name
	case "printer.material":
		return f.Printer.Material.Name
	case "stiffeners.angle":
		if s := f.Stiffener; s != nil {
			return s.Section.Name
		}
	}
	return words.First(settledInsert(j, path), settledHardware(j, path))
}

// compressionWords are what data sheets ask of a clamp.
var compressionWords = map[params.Compression]string{
	params.CompressForce: "a force", params.CompressNone: "none: hold, do not press", params.CompressUnknown: "unknown",
}

// settledInsert is settled for the materials of what lies or slides in the clamp.
func settledInsert(j *job.Job, path string) string {
	f := j.Fixture
	for _, i := range []struct {
		path string
		is   *params.Insert
	}{{"separators.material", f.Separator}, {"liners.material", f.Liner}, {"fillers.material", f.Filler}} {
		if i.path == path && i.is != nil {
			return i.is.Material.Name
		}
	}
	if path == "sleeves.material" && f.Sleeve != nil {
		return f.Sleeve.Material.Name
	}
	return ""
}

// settledHardware is settled for rods and what sits on them.
func settledHardware(j *job.Job, path string) string {
	f := j.Fixture
	switch path {
	case "rods.thread":
		return f.Rods.Thread.Name
	case "rods.grade":
		return f.Rods.Grade.Name
	case "rods.columns":
		return lengths(j, f.Rods.Columns)
	case "rods.levels":
		return lengths(j, f.Rods.Levels)
	case "nuts.kind":
		if f.JamNut != nil {
			return f.Nut.Name + " and " + f.JamNut.Name
		}
		return f.Nut.Name
	case "washers.series":
		return f.Washer.Name
	case "springs.disc":
		if s := f.Spring; s != nil && s.Disc != nil {
			return s.Disc.Name
		}
	case "springs.coil":
		if s := f.Spring; s != nil && s.Coil != nil {
			return s.Coil.Name
		}
	}
	return ""
}

// lengths writes a list of lengths.
func lengths(j *job.Job, all []unit.Length) string {
	var out []string
	for _, l := range all {
		out = append(out, j.Fixture.Style.Length(l.MM()))
	}
	return strings.Join(out, ", ")
}
