package export

import (
	"path"
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/export/mark"
)

// Every file for the shop says by itself which run it is of and whether it is
// released: in its mark, sealed, and for a person on its face.
func TestFilesSayWhatTheyAre(t *testing.T) {
	failing := 0
	for _, name := range exampleNames(t) {
		e := made(t, name)
		f := e.job.Fixture
		released := e.job.Verdict() != finding.Fail
		seen := map[string]int{}
		for file, data := range e.files {
			ext, of := path.Ext(file), strings.TrimSuffix(path.Base(file), path.Ext(file))
			for _, l := range e.job.Assembly.PartsList() {
				if own := strings.TrimSuffix(strings.TrimSuffix(of, "-LETTER"), "-A4"); l.Part.ID == own && l.Part.Mark != "" {
					of = l.Part.Mark
				}
			}
			want := mark.New(0, f.InputSHA256, string(e.job.Verdict()), f.Name).Of(of)
			got, sealed, found := mark.Find(data)
			switch ext {
			case ".html", ".json", ".csv":
				continue
			case ".stl": // 80 bytes may not hold the whole names
				if !strings.HasPrefix(want.Fixture, got.Fixture) || !strings.HasPrefix(want.Part, got.Part) {
					t.Errorf("%s: %s: %+v", name, file, got)
				}
				got.Fixture, got.Part = want.Fixture, want.Part
			}
			if got != want || !sealed || !found {
				t.Errorf("%s: %s: %+v, sealed %v, want %+v", name, file, got, sealed, want)
			}
			seen[ext]++
			face := ""
			switch ext {
			case ".dxf":
				face = strings.Join(noteTexts(string(data)), "\n")
			case ".pdf", ".svg":
				if face = string(data); ext == ".pdf" {
					face = strings.Join(pdfText(t, data), "\n")
				}
			default:
				continue
			}
			if !strings.Contains(face, "input "+f.InputSHA256[:12]) || strings.Contains(face, mark.NotReleased) == released {
				t.Errorf("%s: %s: its face does not say which run it is of, and whether released (%v)", name, file, released)
			}
			if across := strings.Contains(face, "\n"+mark.NotReleased); ext == ".dxf" && across == released {
				t.Errorf("%s: %s: across its face %v, released %v", name, file, across, released)
			}
		}
		for _, ext := range []string{".dxf", ".pdf", ".svg", ".stl", ".step"} {
			if seen[ext] == 0 {
				t.Errorf("%s: no %s", name, ext)
			}
		}
		if !released {
			failing++
		}
	}
	if failing == 0 {
		t.Error("no example fails")
	}
}

// noteTexts are the texts on NOTE of a DXF.
func noteTexts(dxf string) (out []string) {
	for _, e := range strings.Split(dxf, "\n0\n")[1:] {
		lines := strings.Split(e, "\n")
		if lines[0] != "TEXT" {
			continue
		}
		value, layer := "", ""
		for i := 1; i+1 < len(lines); i += 2 {
			switch strings.TrimSpace(lines[i]) {
			case "1":
				value = lines[i+1]
			case "8":
				layer = lines[i+1]
			}
		}
		if layer == "NOTE" {
			out = append(out, value)
		}
	}
	return out
}
