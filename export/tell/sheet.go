package tell

import (
	"fmt"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/job"
	"clampwright/export/page"
	"clampwright/export/steps"
	"clampwright/export/views"
	"clampwright/params/number"
	"clampwright/params/words"
	"clampwright/parts"
)

// Sheet fills the build sheet.
func Sheet(j *job.Job, v *views.Views, program string, files []page.File) page.Documents {
	phases := steps.Phases(j.Work, j.Fixture.Style)
	drilled(j, phases)
	s := page.Documents{
		ShotBodies: shots(j, v, phases),
		Title:      j.Fixture.Name, Verdict: page.Verdict(j.Verdict()), Sentence: Sentence(j), Summary: summary(j),
		Hash: j.Fixture.InputSHA256, Program: program,
		Scene: scene(j, v), Checks: checks(j, v), Clamp: Clamp(j), Setting: Setting(j),
		Stock: Stock(j), Prints: Prints(j), Parts: Parts(j),
		Tolerances: Tolerances(j), Wiring: Wiring(j), Cautions: Cautions(j.Fixture), Ready: Ready(j), Incoming: Incoming(j), Made: Made(j), Worth: Worth(j), Steps: phases, Apart: steps.Phases(j.Apart, j.Fixture.Style), Given: Given(j), Files: files,
	}
	inShop(j.Fixture.Style, &s)
	return s
}

func summary(j *job.Job) []page.Fact {
	f, force := j.Fixture, j.Fixture.Style.Forces()
	facts := []page.Fact{
		{Label: "Cells", Value: fmt.Sprintf("%d in %d row%s", f.Pack.Cells, f.Pack.Rows, words.Plural(f.Pack.Rows)), Note: fmt.Sprintf("%s thick, %s wide, %s high", j.Fixture.Style.Length(f.Cell.Thickness.MM()), j.Fixture.Style.Length(f.Cell.Width.MM()), j.Fixture.Style.Length(f.Cell.Height.MM()))},
		{Label: "Clamp force", Value: force.Text(f.Cell.ForceTarget.N()) + " a row", Note: fmt.Sprintf("set to %s, later %s", force.Span(f.Cell.ForceLow.N(), f.Cell.ForceHigh.N()), force.Span(f.Cell.ForceFloor.N(), f.Cell.ForceLimit.N()))},
		{Label: "Mass", Value: f.Style.Mass(j.Assembly.PackMassG()) + " with cells"},
	}
	return append(facts, hours(j)...)
}

// groupName is the check box a group is shown and hidden by.
var groupName = map[assembly.Role]string{
	assembly.RoleCell: "cells", assembly.RoleTerminal: "cells", assembly.RoleVent: "cells", assembly.RoleSeparator: "separators and liners", assembly.RoleFiller: "separators and liners",
	assembly.RoleLiner: "separators and liners", assembly.RolePlate: "end plates", assembly.RoleStiffener: "angles",
	assembly.RoleRod: "rods", assembly.RoleSleeve: "rods", assembly.RoleWasher: "nuts and washers", assembly.RoleSpring: "nuts and washers",
	assembly.RoleNut: "nuts and washers", assembly.RoleJamNut: "nuts and washers",
	assembly.RoleLink:  "links",
	assembly.RoleGuard: "printed parts", assembly.RoleEndCap: "printed parts", assembly.RoleRodCap: "printed parts", assembly.RoleFoot: "printed parts",
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
			s.Bodies = append(s.Bodies, page.Body{Name: in.Part.Name, Group: groupName[in.Role], Class: views.Class(in.Role), Mesh: coarse[in.Part]})
		}
		s.Bodies[k].Places = append(s.Bodies[k].Places, page.Place{Name: in.ID, Frame: in.Frame})
	}
	return s
}

func checks(j *job.Job, v *views.Views) []page.Check {
	var out []page.Check
	first := map[string]string{} // finding that is told what to do, by that
	for _, f := range j.Findings {
		figure := func(v float64) string { return j.Fixture.Style.Quantity(v, f.Unit) }
		to := Advice(f)
		if f.Remedy != nil {
			if name := first[to]; name != "" {
				to = "the same changes as for " + name
			} else {
				first[to] = f.Name()
			}
		}
		out = append(out, page.Check{
			Group: string(f.Group), Name: f.Name(), Between: things(f.Between), Measured: figure(f.Have), Required: f.Wanted(figure),
			Said: words.Upper(Said(j.Fixture.Style, f)) + ".", Verdict: page.Verdict(f.Verdict), Why: words.Upper(strings.TrimSuffix(f.Why, ".")) + ".", Also: f.Also, Change: to, Sketch: sketch(j, v, f),
		})
	}
	return out
}

func Parts(j *job.Job) page.Parts {
	var p page.Parts
	for _, l := range j.Assembly.Bill() {
		row := page.Part{
			Mark: l.Part.Mark, Name: l.PieceName(), Quantity: fmt.Sprint(l.Pieces), Material: stockWords(j, l.Part),
		}
		if l.Part.Kind == parts.KindLink && l.Part.Make == parts.MakeBuy { // the others' stands in their step, or in their file
			row.Size = j.Fixture.Style.Size(l.Part.SizeMM)
		}
		switch {
		case l.Loose > 0 && l.Part.Kind != parts.KindLink:
			row.Name += " (tool)"
		case l.Loose > 0 && l.Loose < l.Pieces:
			row.Name += fmt.Sprintf(" (%d taken off again)", l.Loose)
		case l.Loose > 0:
			row.Name += " (taken off again)"
		}
		if each, ok := j.Price(l.Part); ok {
			row.Price, row.Cost = number.Money.Text(each), number.Money.Text(each*float64(l.Pieces))
		} else if v := j.Nest.Worth(l.Part.ID); v > 0 {
			row.Cost = number.Money.Text(v)
		}
		if l.Rule != "" { // once for all
			p.Note = "A terminal screw is " + l.Rule + "."
		}
		p.Rows = append(p.Rows, row)
	}
	p.Totals = costFacts(j)
	return p
}

// stockWords is what a part is made of, a sheet's thickness in the user's unit.
func stockWords(j *job.Job, p *parts.Part) string {
	if p.Make == parts.MakeSheet && p.Flat != nil && !p.Joined {
		return p.Material + " sheet " + j.Fixture.Style.Length(p.Flat.ThicknessMM)
	}
	return strings.TrimPrefix(words.First(p.Stock, p.Material), p.Name+" ")
}
