package tell

import (
	"regexp"
	"strings"
	"testing"

	"clampwright/assembly/job"
	"clampwright/assembly/stackup"
	"clampwright/export/steps"
	"clampwright/parts"
	"clampwright/testdata/ready"
)

func computed(t *testing.T, name string, changes ...string) *job.Job {
	t.Helper()
	text := strings.NewReplacer(changes...).Replace(string(ready.Text(t, name)))
	j, err := job.Compute(t.Context(), ready.Fixture(t, name, []byte(text)), func(string) {}, job.WithAnswers(0))
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// What a router or a laser cuts is never said to be sawn, nor its holes to be drilled
// through a guide or a template.
func TestRoutedPlatesAreNotSawn(t *testing.T) {
	byHand := regexp.MustCompile(`(?i)\bsaw|\bdrill(ed)? through|guide|template|both plates`)
	for tool, verb := range map[string]string{"tools:\n  cutter: 6 mm\n": "Rout", "stock:\n  beam_kerf: 0.2 mm\n": "Laser-cut", "": "Cut"} {
		key, _, _ := strings.Cut(tool, "\n")
		var changes []string
		if tool != "" {
			changes = []string{"\n" + key + "\n", "\n" + tool, "  margin: 0 in ", "  "} // a machine needs one
		}
		j := computed(t, "four-cell-offcut", changes...)
		seen := false
		for _, p := range steps.Phases(j.Work, j.Fixture.Style) {
			for _, s := range p.Steps {
				if !strings.Contains(s.Title, "end plate") || strings.HasPrefix(s.Title, "Drill") && tool == "" {
					continue
				}
				if strings.HasPrefix(s.Title, verb+" ") {
					seen = true
				}
				if m := byHand.FindString(s.Title + s.Text); tool != "" && m != "" && strings.HasPrefix(s.Title, verb) {
					t.Errorf("%q: %q says %q", tool, s.Title, m)
				}
				if tool != "" && strings.HasPrefix(s.Title, "Drill") {
					t.Errorf("%q: %q", tool, s.Title)
				}
			}
		}
		if !seen {
			t.Errorf("%q: no step begins with %s", tool, verb)
		}
		for _, d := range Drilling(j) {
			if tool != "" && strings.Contains(d.Part, "plate") {
				t.Errorf("%q: holes of %s are to be drilled", tool, d.Part)
			}
		}
	}
}

// Plates that are mirror images are not drilled together, like ones are.
func TestUnequalPlatesAreDrilledApart(t *testing.T) {
	for _, c := range []struct {
		columns  string
		together bool
	}{{"", true}, {"  columns: [-4.1 in, 4.2 in]\n", false}} {
		var changes []string
		if c.columns != "" {
			changes = []string{"  levels: [2 in,", c.columns + "  levels: [2 in,"}
		}
		plates := 0
		for _, d := range Drilling(computed(t, "four-cell-offcut", changes...)) {
			if !strings.Contains(d.Part, "plate") {
				continue
			}
			plates++
		}
		if want := map[bool]int{true: 1, false: 2}[c.together]; plates != want {
			t.Errorf("columns %q: %d tables of plates, want %d", c.columns, plates, want)
		}
	}
}

// Every made part has a field for each size that matters, with its limits; a reading
// stands in the field of its size.
func TestMadePartsHaveAForm(t *testing.T) {
	j := computed(t, "four-cell-offcut", "\nplates:", "\nreadings:\n  - {what: length, where: R1/2, value: 14 in}\n\nplates:")
	made, sizes, got := 0, 0, 0
	for _, l := range j.Assembly.PartsList() {
		if l.Part.Make == parts.MakeSheet || l.Part.Make == parts.MakeBar || l.Part.Make == parts.MakeRod {
			made++
			sizes += len(stackup.Sizes(j.Fixture, l.Part))
		}
	}
	for _, p := range Made(j) {
		made--
		sizes -= len(p.Sizes)
		for _, s := range p.Sizes {
			if s.From == "" || s.To == "" || s.From == s.To {
				t.Errorf("%s: %+v", p.Name, s)
			}
			if len(s.Got) > 0 && (s.Where != "R1" || s.What != "length" || s.Got[0] != "14 in") {
				t.Errorf("%s: %+v", p.Name, s)
			}
			got += len(s.Got)
		}
	}
	if made != 0 || sizes != 0 || got != 1 {
		t.Errorf("%d parts and %d sizes are missing; %d readings", made, sizes, got)
	}
}
