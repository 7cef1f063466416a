package drawing_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"clampwright/export/drawing"
	"clampwright/export/pdf"
	"clampwright/export/svg"
)

// keep writes a document where CLAMPWRIGHT_LOOK points, for looking at.
func keep(t *testing.T, name string, data []byte) {
	t.Helper()
	if dir := os.Getenv("CLAMPWRIGHT_LOOK"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// Every figure and word of every part sheet can be read: nothing lies over it.
func TestPartSheetsHaveNoOverlaps(t *testing.T) {
	for _, s := range samples() {
		t.Run(s.name, func(t *testing.T) {
			sheet, err := s.sheet.Draw()
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range sheet.Conflicts() {
				t.Error(c)
			}
			var b, b2 bytes.Buffer
			if err := pdf.Encode(&b, sheet.Title, "what it is", []drawing.Sheet{sheet}); err != nil {
				t.Fatal(err)
			}
			if err := svg.Encode(&b2, &sheet, svg.Options{}); err != nil {
				t.Fatal(err)
			}
			keep(t, s.name+".pdf", b.Bytes())
			keep(t, s.name+".svg", b2.Bytes())
		})
	}
}
