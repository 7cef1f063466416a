package export

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"clampwright/parts"
)

// A tolerance on a drawing is never looser than what the checks use, and not
// rounded away.
func TestToleranceIsNotLooserThanUsed(t *testing.T) {
	figure := regexp.MustCompile("(sizes|length|position of holes) \u00b1([0-9.]+) (in|mm)")
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		used := map[string]float64{
			"sizes": j.Fixture.Tolerances.PlateSize.MM(), "length": j.Fixture.Tolerances.CutLength.MM(), "position of holes": j.Fixture.Tolerances.HolePosition.MM(),
		}
		for _, l := range j.Assembly.PartsList() {
			if !drawn(l.Part) {
				continue
			}
			found := figure.FindAllStringSubmatch(j.tolerance(l.Part), -1)
			if want := 1 + min(1, len(l.Part.Holes)); len(found) != want {
				t.Errorf("%s: %s: %q gives %d tolerances, want %d", name, l.Part.ID, j.tolerance(l.Part), len(found), want)
			}
			for _, f := range found {
				v, err := strconv.ParseFloat(f[2], 64)
				if err != nil {
					t.Fatal(err)
				}
				if f[3] == "in" {
					v *= 25.4
				}
				if v > used[f[1]]+1e-9 || v < 0.9*used[f[1]] {
					t.Errorf("%s: %s: %s \u00b1%.4f mm on the drawing, %.4f mm used", name, l.Part.ID, f[1], v, used[f[1]])
				}
			}
		}
	}
}

func TestRoundedDown(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{{0.5 / 25.4, 3, "0.019"}, {0.29, 2, "0.29"}, {0.299, 2, "0.29"}, {0.3, 2, "0.3"}, {0.004, 2, "0.004"}, {0, 2, "0"}, {2, 2, "2"}} {
		if got := roundedDown(c.v, c.decimals); got != c.want {
			t.Errorf("%v to %d decimals: %s, want %s", c.v, c.decimals, got, c.want)
		}
	}
}

// The section shows the springs' own bore, which is wider than the rod.
func TestSectionShowsSpringBore(t *testing.T) {
	for _, name := range []string{"eight-cell-plywood", "three-cell-ribs"} {
		j := made(t, name).job
		want, sprung := j.Fixture.Spring.Disc.Inner.MM(), 0
		items, _ := j.items()
		for _, l := range j.rodEnd(items).Layers {
			if l.Discs > 0 {
				sprung++
				if math.Abs(l.HoleMM-want) > 1e-9 {
					t.Errorf("%s: bore %v mm, the disc's is %v mm", name, l.HoleMM, want)
				}
			}
		}
		if sprung == 0 {
			t.Errorf("%s: no springs in the section", name)
		}
	}
}

// Angles of one part stand up at one level and down at another: the template says
// so for every level.
func TestTemplateSaysHowEveryAngleStands(t *testing.T) {
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		for _, l := range j.Assembly.PartsList() {
			words := j.fitted(l.Part)
			if l.Part.Kind != parts.KindStiffener {
				if words != "" {
					t.Errorf("%s: %s: %q", name, l.Part.ID, words)
				}
				continue
			}
			for i, up := range j.Fixture.Stiffener.StandingUp {
				want := "standing leg " + map[bool]string{true: "up", false: "down"}[up] + " at " + j.length(j.Fixture.Rods.Levels[i].MM())
				if !strings.Contains(words, want) {
					t.Errorf("%s: %q does not say %q", name, words, want)
				}
			}
		}
	}
}
