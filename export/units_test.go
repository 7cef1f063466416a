package export

import (
	"bytes"
	"context"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"clampwright/export/folder"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/unit"
)

// si is a figure in a unit of the other system, or such a unit alone, as in a head. What
// follows x is the name of a section as it is sold: 30x30x3 mm.
var (
	si        = regexp.MustCompile(`(?:^|[^x\d.,])\d+(?:[.,]\d+)?[ \x{a0}]?(?:mm[²2]?|cm|m|°C|k?N|kPa|MPa|N·m|Nm|kg|g)(?:$|[^\w²·(])|(?:^|[ (|])(?:mm|kPa|MPa|kN|kg|N·m)(?:$|[ ,.|)])`)
	forTools  = regexp.MustCompile(`in \([^()]*mm[²]?\)|\d+x\d+x\d+ mm`)   // one in brackets, for a printer or a machine; names of sections
	asInFile  = regexp.MustCompile(`(?s)<section id="given".*?</section>`) // values as the file has them
	svgTitles = regexp.MustCompile(`(?s)<text.*?</text>`)
)

// With units: in nothing that is read has a figure in millimetres, newtons, kilopascals
// or kilograms, but for one in brackets behind inches where a machine reads it, and for
// names of what is sold so.
func TestInchesThroughEveryOutput(t *testing.T) {
	jobs := map[string]*Job{"four-cell-offcut": made(t, "four-cell-offcut").job}
	if !testing.Short() {
		for _, name := range []string{"three-cell-ribs", "sixteen-cell-two-rows", "four-small-separators"} {
			jobs[name] = inInches(t, name)
		}
	}
	for name, j := range jobs {
		if u := string(j.Fixture.Style.Unit); u != "in" {
			t.Fatalf("%s is in %q", name, u)
		}
		lines := append(tell.ClampLines(j.Job), tell.Sentence(j.Job), tell.Pressing(j.Job), strings.Join(tell.SettingFigures(j.Job), "; "))
		for _, f := range j.Findings {
			lines = append(lines, tell.Said(j.Fixture.Style, f))
		}
		strays(t, name+": console", lines)
		for file, data := range artifacts(t, j) {
			text := asInFile.ReplaceAllString(string(data), "")
			switch path.Ext(file) {
			case ".html", ".pdf", ".dxf":
				strays(t, name+": "+file, strings.Split(readable(t, file, []byte(text)), "\n"))
			case ".svg":
				var said []string
				for _, x := range svgTitles.FindAllString(text, -1) {
					said = append(said, anyTag.ReplaceAllString(x, ""))
				}
				strays(t, name+": "+file, said)
			case ".csv": // the columns whose heads name millimetres are for programs
				strays(t, name+": "+file, strings.Split(text, "\n")[1:])
			}
		}
	}
}

// inInches is an example whose shop works in inches.
func inInches(t *testing.T, name string) *Job {
	f := *made(t, name).job.Fixture
	f.Style = params.Style{Unit: unit.Inch, Denominator: 32, Paper: "letter"}
	j, err := compute(context.Background(), &f, noStep)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func strays(t *testing.T, where string, lines []string) {
	t.Helper()
	for _, l := range lines {
		if m := si.FindString(forTools.ReplaceAllString(l, "in")); m != "" {
			t.Errorf("%s: %q in %.160q", where, m, l)
		}
	}
}

// Whatever is written first, the rest is the same: no file changes the job.
func TestDocumentsLeaveTheJobAlone(t *testing.T) {
	j := inInches(t, "four-cell-offcut") // its words are put in other units
	plan, err := Plan(j.Job, Options{Version: 1})
	if err != nil {
		t.Fatal(err)
	}
	written := func(name string) string {
		i := slices.IndexFunc(plan.Artifacts, func(a folder.Artifact) bool { return a.Name == name })
		var b bytes.Buffer
		if err := plan.Artifacts[i].Encode(&b); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	before := written("report.json")
	written("build-sheet.html")
	if written("report.json") != before {
		t.Error("the report differs once the build sheet is written")
	}
}
