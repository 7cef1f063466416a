package job

import (
	"errors"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/assembly/inputs"
	"clampwright/params"
	"clampwright/params/diag"
)

// bare is a file that leaves nearly all to be derived, full one that has every block.
const (
	bareFile = "fixture: a\ncell: {model: 72x174x201}\npack: {cells: 4}\n"
	fullFile = "fixture: a\ncell: {model: 72x174x201, force: 3 kN}\npack: {cells: 8, rows: 2}\nplates: {feet: {}, tie_slots: true}\nstiffeners: {}\nsleeves: {}\n" +
		"springs: {disc: 20x10.2x1.1}\nseparators: {pattern: ribs, printed: true, material: petg}\nliners: {material: fr4}\n" +
		"prints: {corner_guards: true, end_caps: true, rod_caps: true, feet: true, drill_guides: true, gauges: true}\n"
)

// spread are values of a key over its limits.
func spread(p params.PathInfo) []string {
	suffix := map[string]string{"length": " mm", "force": " N", "pressure": " MPa", "mass": " g", "torque": " N.mm", "temperature": " C"}[p.Kind]
	out := p.Words
	if p.Lo == 0 && p.Hi == 0 {
		return out
	}
	for _, part := range []float64{0, 0.001, 0.01, 0.1, 0.5, 1} {
		x := p.Lo + (p.Hi-p.Lo)*part
		if p.Kind == "count" {
			x = float64(int(x))
		}
		out = append(out, fmt.Sprintf("%g", x)+suffix)
	}
	return out
}

var inner = regexp.MustCompile(`%!|NaN|Inf|[0-9]\.[0-9]{7,}|[a-z]\[[0-9]\]|\b[a-z]+_(mm|mpa|n)\b|[a-z]MM\b`)

// Whatever a file holds within its limits, what the stages after it refuse has a
// place in the file, an own name and figures that can be read; nothing panics.
func TestStagesNameTheParameter(t *testing.T) {
	step := 29 // of all; CLAMPWRIGHT_MUTATIONS tries every one
	if os.Getenv("CLAMPWRIGHT_MUTATIONS") != "" {
		step = 1
	}
	n, refused := 0, map[string]int{}
	for _, base := range []string{bareFile, fullFile} {
		for _, p := range params.Paths() {
			for _, v := range spread(p) {
				if n++; n%step != 0 {
					continue
				}
				_, f, err := params.Set("f.yaml", []byte(base), []params.Change{{Path: p.Path, Value: v}})
				if err != nil {
					continue // told by params
				}
				j, err := placed(f)
				if err == nil {
					err = wrong(f, errors.Join(j.nest(), clamp.Validate(inputs.Clamp(f))))
				}
				if err == nil {
					continue
				}
				list, ok := err.(diag.List)
				if !ok {
					t.Errorf("%s: %s: %v", p.Path, v, err)
				}
				for _, d := range list {
					refused[d.Summary]++
					said := strings.Join([]string{d.Summary, d.Found, d.Expected, d.Suggestion}, "; ")
					if bad := inner.FindString(said); d.Range.Line < 1 || d.Range.Col < 1 || bad != "" || strings.HasPrefix(d.Summary, "fixture: ") {
						t.Errorf("%s: %s: %v: says %q: %s", p.Path, v, d.Range, bad, said)
					}
				}
			}
		}
	}
	t.Log(len(refused), refused)
}

// Openings that have no room on the plates are told by their place in the file, how
// much room they have and want, and a way out.
func TestOpeningsOffThePlateAreTold(t *testing.T) {
	for _, c := range []struct{ plates, want string }{
		{"tie_slots: true, height: 60 mm", ":4:21;plates.tie_slots: slot SL1 of the end plate does not clear the "},
		{"feet: {hole: 12 mm, inset: 4 mm}", ":4:17;plates.feet: mounting hole H5 of the end plate does not clear the edge;3.17 mm from the edge;6 mm or more;"},
		{"corner_radius: 40 mm, feet: {hole: 6 mm, inset: 5 mm}", ";9.5 mm beyond the edge;3 mm or more;"},
	} {
		f, diags := params.Load("f.yaml", []byte(bareFile+"plates: {"+c.plates+"}\n"))
		if diags.HasErrors() {
			t.Fatal(diags)
		}
		_, err := placed(f)
		list, ok := wrong(f, err).(diag.List)
		if !ok || len(list) == 0 {
			t.Fatalf("%s: %v", c.plates, err)
		}
		d := list[0]
		said := strings.Join([]string{d.Range.String(), d.Summary, d.Found, d.Expected, d.Suggestion}, ";")
		if !strings.Contains(said, c.want) || d.Found == "" || d.Expected == "" || d.Suggestion == "" {
			t.Errorf("%s: %s, want %s", c.plates, said, c.want)
		}
	}
}

// What the mechanics and the printed parts refuse is told with what was found and what
// it may be, in the file's units.
func TestRefusedWithFigures(t *testing.T) {
	for _, c := range []struct{ more, want string }{
		{"liners: {material: fr4, bottom: 150 mm}\n", "rods.levels: the middle of the rods is above or below the cells: the plate tips;"},
		{"plates: {height: 30 mm}\n", "plates: the plate covers too little of the face;14.9 %;50 to 100 %;a plate that covers the cells"},
		{"printer: {min_wall: 4 mm}\nseparators: {printed: true, pattern: ribs, thickness: 3 mm}\n", ":5:55;separators.thickness: the separator has no room for its thickness: no channel is left beside the thinnest wall of the printer;3 mm;4.3 mm or more;"},
		{"units: in\nprinter: {min_wall: 4 mm}\nseparators: {printed: true, pattern: ribs, thickness: 1/8 in}\n", ";1/8 in (0.125);0.1693 in or more;"},
	} {
		f, diags := params.Load("f.yaml", []byte(bareFile+c.more))
		if diags.HasErrors() {
			t.Fatal(diags)
		}
		_, err := placed(f)
		if err == nil {
			err = clamp.Validate(inputs.Clamp(f))
		}
		list, ok := wrong(f, err).(diag.List)
		if !ok || len(list) == 0 {
			t.Fatalf("%s: %v", c.more, err)
		}
		d := list[0]
		if said := strings.Join([]string{d.Range.String(), d.Summary, d.Found, d.Expected, d.Suggestion}, ";"); !strings.Contains(said, c.want) || d.Found == "" || d.Expected == "" || d.Suggestion == "" {
			t.Errorf("%s: %s, want %s", c.more, said, c.want)
		}
	}
}
