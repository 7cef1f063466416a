package drawing_test

import (
	"io"
	"testing"

	"clampwright/export/drawing"
	"clampwright/export/pdf"
	"clampwright/export/svg"
)

// BenchmarkFixturePaper is all the paper of one fixture: part sheets as PDF and
// SVG for plate, angle, rod and link, their templates, and the assembly.
func BenchmarkFixturePaper(b *testing.B) {
	all := samples()
	set := []sample{all[0], all[4], all[5], all[9]}
	for b.Loop() {
		for _, s := range set {
			sheet, err := s.sheet.Draw()
			if err != nil {
				b.Fatal(err)
			}
			encode(b, []drawing.Sheet{sheet})
			if err := svg.Encode(io.Discard, &sheet, svg.Options{}); err != nil {
				b.Fatal(err)
			}
			if s.sheet.Part.Flat == nil {
				continue
			}
			pages, err := drawing.Template{Part: s.sheet.Part, Paper: s.sheet.Paper, Angle: s.sheet.Angle}.Pages()
			if err != nil {
				b.Fatal(err)
			}
			encode(b, pages)
		}
		a, err := assembly(drawing.Millimetres(2), drawing.A4, true).Draw()
		if err != nil {
			b.Fatal(err)
		}
		encode(b, []drawing.Sheet{a})
	}
}

func encode(b *testing.B, sheets []drawing.Sheet) {
	b.Helper()
	if err := pdf.Encode(io.Discard, "bench", "what it is", sheets); err != nil {
		b.Fatal(err)
	}
}
