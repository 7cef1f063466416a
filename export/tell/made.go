package tell

import (
	"strings"

	"clampwright/assembly/job"
	"clampwright/assembly/stackup"
	"clampwright/export/page"
)

// Made is the form for the sizes of the parts that are made, with what was measured.
func Made(j *job.Job) (out []page.MadePart) {
	for _, l := range j.Assembly.PartsList() {
		p := page.MadePart{Name: l.Part.Name + " " + l.Part.Mark}
		if l.Part.Flat != nil {
			p.Name += "; holes from " + datumWords(l.Part)
		}
		for _, s := range stackup.Sizes(j.Fixture, l.Part) {
			m := page.MadeSize{Where: strings.TrimSpace(l.Part.Mark + " " + s.Hole), What: s.What, From: j.Fixture.Style.Decimal(s.Low), To: j.Fixture.Style.Decimal(s.High)}
			for _, r := range j.Fixture.Readings {
				name, hole, _ := strings.Cut(r.Where, " ")
				if mark, _, _ := strings.Cut(name, "/"); r.What == s.What && mark == l.Part.Mark && hole == s.Hole {
					m.Got = append(m.Got, j.Fixture.Style.Decimal(r.Value))
				}
			}
			p.Sizes = append(p.Sizes, m)
		}
		if len(p.Sizes) > 0 {
			out = append(out, p)
		}
	}
	return out
}
