package export

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/export/tell"
	"clampwright/export/views"
)

// unseen are the steps that show nothing: what is bought comes in its own bags, and
// edges are too small to see.
var unseen = []work.Doing{work.Buy, work.Deburr}

// Every other step of every example has a picture of at most 25 kB, in which what the
// step puts in its place is drawn as new.
func TestEveryStepIsShown(t *testing.T) {
	picture := regexp.MustCompile(`<svg [^>]*class="(shot|shot loose|wiring)"`)
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		sheet := tell.Sheet(j.Job, views.New(j.Assembly), "", nil)
		for i, p := range j.Work {
			for k, s := range p.Steps {
				w := sheet.Steps[i].Steps[k]
				if slices.Contains(unseen, s.Kind) {
					continue
				}
				if w.Links == nil && w.Shot == nil {
					t.Errorf("%s: %q has no picture", name, w.Title)
				}
				for _, l := range s.Uses {
					if w.Shot != nil && len(l.At) > 0 && !slices.ContainsFunc(w.Shot.Actors, func(a page.ShotActor) bool { return a.Role == page.ShotAdds && a.Label != "" }) {
						t.Errorf("%s: %q does not name %s", name, w.Title, l.Part.ID)
					}
				}
			}
		}
		html := string(made(t, name).files["build-sheet.html"])
		for n, s := range stepsOf(sheet) {
			_, own, _ := strings.Cut(html, fmt.Sprintf(`id="step-%d"`, n+1))
			own, _, _ = strings.Cut(own, "</li>")
			if s.Shot == nil || s.Holes != nil {
				continue
			}
			for _, a := range s.Shot.Actors {
				if a.Label != "" && !regexp.MustCompile(`>([^<]*, )?`+regexp.QuoteMeta(a.Label)+`(, [^<]*)?<`).MatchString(own) {
					t.Errorf("%s: the picture of %q does not show %s", name, s.Title, a.Label)
				}
			}
		}
		at := picture.FindAllStringIndex(html, -1)
		if len(at) < len(j.Work) {
			t.Errorf("%s: %d pictures", name, len(at))
		}
		for _, p := range at {
			if n := regexp.MustCompile(`</svg>`).FindStringIndex(html[p[0]:])[1]; n > 25_000 {
				t.Errorf("%s: a picture of %d bytes: %.80s", name, n, html[p[0]:])
			}
		}
	}
}

// stepsOf are the steps of a sheet, in their order.
func stepsOf(s page.Documents) (out []page.Step) {
	for _, p := range s.Steps {
		out = append(out, p.Steps...)
	}
	return out
}
