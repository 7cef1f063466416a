package drawing_test

import (
	"bytes"
	"testing"

	"clampwright/export/drawing"
	"clampwright/export/pdf"
)

type templateSample struct {
	name string
	t    drawing.Template
}

func templateSamples() []templateSample {
	var out []templateSample
	for _, s := range samples() {
		if s.sheet.Part.Flat == nil {
			continue
		}
		p := s.sheet
		out = append(out, templateSample{"t-" + s.name, drawing.Template{Part: p.Part, Quantity: p.Quantity, Units: p.Units,
			Paper: p.Paper, Fixture: p.Fixture, Drill: p.Drill, Angle: p.Angle}})
	}
	return out
}

func TestTemplatesHaveNoOverlaps(t *testing.T) {
	for _, s := range templateSamples() {
		t.Run(s.name, func(t *testing.T) {
			pages, err := s.t.Pages()
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range pages {
				for _, c := range p.Conflicts() {
					t.Error(p.Title, c)
				}
			}
			var b bytes.Buffer
			if err := pdf.Encode(&b, s.name, "what it is", pages); err != nil {
				t.Fatal(err)
			}
			keep(t, s.name+".pdf", b.Bytes())
		})
	}
}
