package tell

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/job"
	"clampwright/export/page"
	"clampwright/export/steps"
	"clampwright/export/views"
	"clampwright/params/number"
	mmunit "clampwright/params/unit"
	"clampwright/params/words"
	"clampwright/parts"
)

// Sheet fills the build sheet.
func Sheet(j *job.Job, v *views.Views, program string, files []page.File) page.Sheet {
	phases := steps.Phases(j.Work, j.Fixture.Style)
	return page.Sheet{
		ShotBodies: shots(j, v, phases),
		Title:      j.Fixture.Name, Verdict: page.Verdict(j.Verdict()), Sentence: Sentence(j), Summary: summary(j),
		Hash: j.Fixture.InputSHA256, Program: program,
		Scene: scene(j, v), Checks: checks(j, v), Clamp: Clamp(j), Setting: Setting(j),
		Cutting: Cutting(j), Drilling: Drilling(j), Parts: Parts(j),
		Tolerances: Tolerances(j), Wiring: Wiring(j), Cautions: Cautions(j.Fixture), Ready: Ready(j), Incoming: Incoming(j), Made: Made(j), Worth: Worth(j), Steps: phases, Apart: steps.Phases(j.Apart, j.Fixture.Style), Given: Given(j), Files: files,
	}
}

func summary(j *job.Job) []page.Fact {
	f := j.Fixture
	facts := []page.Fact{
		{Label: "Cells", Value: fmt.Sprintf("%d in %d row%s", f.Pack.Cells, f.Pack.Rows, words.Plural(f.Pack.Rows)), Note: fmt.Sprintf("%s thick, %s wide, %s high", j.Fixture.Style.Length(f.Cell.Thickness.MM()), j.Fixture.Style.Length(f.Cell.Width.MM()), j.Fixture.Style.Length(f.Cell.Height.MM()))},
		{Label: "Stack", Value: j.Fixture.Style.Exact(f.Pack.StackLength.MM()), Note: steps.MeasuredNote(f.Pack.Measured)},
		{Label: "End plates", Value: f.Plate.Material.Name, Note: j.Fixture.Style.Size([3]float64{f.Plate.Width.MM(), f.Plate.Height.MM(), f.Plate.Thickness.MM()})},
	}
	if s := f.Stiffener; s != nil {
		facts = append(facts, page.Fact{Label: "Stiffeners", Value: fmt.Sprintf("%d of %s", 2*len(f.Rods.Levels), s.Section.Name), Note: "at " + lengths(j, f.Rods.Levels) + " above the underside of the cells"})
	}
	facts = append(facts,
		page.Fact{Label: "Rods", Value: fmt.Sprintf("%d of %s", len(f.Ties()), f.Rods.Thread.Name), Note: "cut to " + j.Fixture.Style.Exact(f.Rods.Length.MM())},
		page.Fact{Label: "Clamp force", Value: fmt.Sprintf("%s N a row", number.Force.Text(f.Cell.ForceTarget.N())), Note: fmt.Sprintf("tighten to %.0f to %.0f N; %.0f to %.0f N in any later state; %s", f.Cell.ForceLow.N(), f.Cell.ForceHigh.N(), f.Cell.ForceFloor.N(), f.Cell.ForceLimit.N(), f.Cell.WindowSource)},
		page.Fact{Label: "Mass", Value: number.Trim(j.Assembly.PackMassG()/1000, 1) + " kg with cells"},
	)
	return facts
}

// groupName is the check box a group is shown and hidden by.
var groupName = map[assembly.Group]string{
	assembly.GroupCell: "cells", assembly.GroupTerminal: "cells", assembly.GroupVent: "cells", assembly.GroupSeparator: "separators and liners", assembly.GroupFiller: "separators and liners",
	assembly.GroupLiner: "separators and liners", assembly.GroupPlate: "end plates", assembly.GroupStiffener: "angles",
	assembly.GroupRod: "rods", assembly.GroupSleeve: "rods", assembly.GroupWasher: "nuts and washers", assembly.GroupSpring: "nuts and washers",
	assembly.GroupNut: "nuts and washers", assembly.GroupJamNut: "nuts and washers",
	assembly.GroupLink:  "links",
	assembly.GroupGuard: "printed parts", assembly.GroupEndCap: "printed parts", assembly.GroupRodCap: "printed parts", assembly.GroupFoot: "printed parts",
}

// scene is the picture of the finished fixture. What can't be meshed is left
// out: the checks name it.
func scene(j *job.Job, v *views.Views) page.Scene {
	coarse, err := v.Meshes()
	if err != nil {
		return page.Scene{}
	}
	f := j.Fixture
	s := page.Scene{Description: fmt.Sprintf("The finished clamp: %d cell%s in %d row%s between two %s plates, held by %d threaded rods.", f.Pack.Cells, words.Plural(f.Pack.Cells), f.Pack.Rows, words.Plural(f.Pack.Rows), f.Plate.Material.Name, len(f.Ties()))}
	at := map[*parts.Part]int{}
	for i := range j.Assembly.Instances {
		in := &j.Assembly.Instances[i]
		k, ok := at[in.Part]
		if !ok {
			k = len(s.Bodies)
			at[in.Part] = k
			s.Bodies = append(s.Bodies, page.Body{Name: in.Part.Name, Group: groupName[in.Group], Class: views.Class(in.Group), Mesh: coarse[in.Part]})
		}
		s.Bodies[k].Places = append(s.Bodies[k].Places, page.Place{Name: in.ID, Frame: in.Frame})
	}
	return s
}

func checks(j *job.Job, v *views.Views) []page.Check {
	var out []page.Check
	first := map[string]string{} // finding that is told what to do, by that
	for _, f := range j.Findings {
		figure := func(v float64) string { return measure(j, v, f.Unit) }
		to := Advice(f)
		if f.Remedy != nil {
			if name := first[to]; name != "" {
				to = "the same changes as for " + name
			} else {
				first[to] = f.Name()
			}
		}
		out = append(out, page.Check{
			Group: string(f.Group), Name: f.Name(), Between: f.Between, Measured: figure(f.Have), Required: f.Wanted(figure),
			Verdict: page.Verdict(f.Verdict), Why: f.Why, Also: f.Also, Change: to, Sketch: sketch(j, v, f),
		})
	}
	return out
}

// measure writes a value in its unit, lengths in inches as well where the file
// does.
func measure(j *job.Job, v float64, unit string) string {
	if unit == "mm" && j.Fixture.Style.Unit == mmunit.Inch {
		return number.Trim(v, 2) + " mm (" + number.Trim(v/mmunit.MMPerInch, 3) + " in)"
	}
	return strings.TrimSpace(number.Trim(v, 2) + " " + unit)
}

func Parts(j *job.Job) page.Parts {
	var p page.Parts
	for _, l := range j.Assembly.Bill() {
		row := page.Part{
			Mark: l.Part.Mark, Name: l.PieceName(), Quantity: fmt.Sprint(l.Pieces), Material: stockWords(j, l.Part),
			Size: j.Fixture.Style.Size(l.Part.SizeMM),
		}
		if l.MassTotalG > 0 {
			row.Mass = massWords(l.MassTotalG)
		}
		if l.Loose > 0 {
			row.Name += looseWords(l)
		}
		if each, ok := j.Price(l.Part); ok {
			row.Price, row.Cost = number.Money.Text(each), number.Money.Text(each*float64(l.Pieces))
		} else if v := j.Nest.Worth(l.Part.ID); v > 0 {
			row.Cost = number.Money.Text(v)
			p.Note = "Cost of cut parts: their share of the sheet or length, by area or length."
		}
		p.Rows = append(p.Rows, row)
	}
	if slices.ContainsFunc(j.Assembly.Parts, func(q *parts.Part) bool { return q.Make == parts.MakePrint }) {
		p.Note = strings.TrimSpace(p.Note + " Printed parts have no drawing: their files in print/ give shape, size and how they lie on the bed.")
	}
	p.Totals = append(massFacts(j), costFacts(j)...)
	return p
}

// stockWords is what a part is made of, a sheet's thickness in the user's unit.
func stockWords(j *job.Job, p *parts.Part) string {
	if p.Make == parts.MakeSheet && p.Flat != nil {
		return p.Material + " sheet " + j.Fixture.Style.Length(p.Flat.ThicknessMM)
	}
	return words.First(p.Stock, p.Material)
}

// massWords writes grams, or kilograms from one on.
func massWords(g float64) string {
	if g >= 1000 {
		return number.Trim(g/1000, 2) + " kg"
	}
	return number.Trim(g, 0) + " g"
}
