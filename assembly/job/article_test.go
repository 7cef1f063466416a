package job

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/parts"
)

// measuredParts is the first example's file with readings, its parts placed.
func measuredParts(t *testing.T, readings ...string) *Job {
	t.Helper()
	return measuredIn(t, "four-cell-offcut", readings...)
}

// measuredIn is an example's file with readings, its parts placed.
func measuredIn(t *testing.T, example string, readings ...string) *Job {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + example + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	if len(readings) > 0 {
		text = fmt.Appendf(text, "\nreadings:\n  - %s\n", strings.Join(readings, "\n  - "))
	}
	f, diags := params.Load("f.yaml", text)
	if f == nil || diags.HasErrors() {
		t.Fatal(diags)
	}
	j, err := Place(f)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// What is measured on made parts says of each piece: good, ream a hole, or make it anew.
func TestFirstArticle(t *testing.T) {
	base := measuredParts(t)
	f := base.Fixture
	plate := base.Assembly.PartsList()[0].Part
	for _, l := range base.Assembly.PartsList() {
		if strings.HasPrefix(l.Part.Mark, "P1") {
			plate = l.Part
		}
	}
	at := plate.Flat.Profile.Bounds().Min
	x, y := plate.Holes[0].C.X-at.X, plate.Holes[0].C.Y-at.Y
	play := (f.Rods.Hole - f.Rods.Thread.Major).MM() / 2
	hole, tol := f.Rods.Hole.MM(), f.Tolerances.HolePosition.MM()
	read := func(what, where string, mm float64) string {
		return fmt.Sprintf("{what: %s, where: %s, value: %.4f mm, uncertainty: 0.01 mm}", what, where, mm)
	}
	for _, c := range []struct {
		name     string
		readings []string
		verdict  finding.Verdict
		says     string
	}{
		{"within", []string{read("hole_x", "P1/1 H1", x+tol-0.001), read("hole_y", "P1/1 H1", y-tol+0.001), read("hole_dia", "P1/1 H1", hole+0.4)}, finding.Pass, "P1/1 is good"},
		{"a little off", []string{read("hole_x", "P1/1 H1", x+tol+0.005)}, finding.Warn, "H1"},
		{"far off", []string{read("hole_x", "P1/1 H1", x+2*play-tol+0.02)}, finding.Warn, "ream H1 to"},
		{"just within the play", []string{read("hole_x", "P1/1 H1", x+2*play-tol-0.02)}, finding.Warn, "good as it is"},
		{"off both ways", []string{read("hole_x", "P1/1 H1", x+0.75*(2*play-tol)), read("hole_y", "P1/1 H1", y+0.75*(2*play-tol))}, finding.Warn, "ream H1 to"},
		{"too small", []string{read("hole_dia", "P1/2 H1", hole-0.2)}, finding.Warn, "ream H1 to"},
		{"far too far", []string{read("hole_y", "P1/1 H1", y+9)}, finding.Fail, "make P1/1 again"},
		{"short rod", []string{read("length", "R1/3", f.Rods.Length.MM()-30)}, finding.Fail, "make R1/3 again"},
		{"rod a little long", []string{read("length", "R1/3", f.Rods.Length.MM()+f.Tolerances.CutLength.MM()+0.2)}, finding.Warn, "every check holds"},
		{"plate a little thin", []string{read("thickness", "P1/1", 0.94*f.Plate.Thickness.MM())}, finding.Warn, "every check holds"},
		{"plate too thick", []string{read("thickness", "P1/1", 1.2*f.Plate.Thickness.MM())}, finding.Fail, "make P1/1 again"},
	} {
		got, err := measuredParts(t, c.readings...).firstArticle()
		if err != nil || len(got) != 1 || got[0].Verdict != c.verdict || got[0].Unit != "wrong sizes" || !strings.Contains(got[0].Why+" "+got[0].Hint, c.says) {
			t.Errorf("%s: %+v, %v; want %s, %q", c.name, got, err, c.verdict, c.says)
		}
	}
	if got, err := base.firstArticle(); len(got) > 0 || err != nil {
		t.Error("nothing was measured, but", got, err)
	}
}

// Holes for feet are judged as if all were off so, towards the cells or the edge; sleeves by the gap at
// their ends; printed sheets as layers of the stack. What nothing is worked out for is not
// called good.
func TestFirstArticleOfOtherParts(t *testing.T) {
	const ribs, rows = "three-cell-ribs", "sixteen-cell-two-rows"
	feet := measuredIn(t, ribs)
	inset, gap := feet.Fixture.Plate.Feet.Inset.MM(), feet.Fixture.Sleeve.EndGap.MM()
	long := 0.0
	for _, l := range feet.Assembly.PartsList() {
		if l.Part.Kind == parts.KindSleeve {
			long = max(long, l.Part.SizeMM[0], l.Part.SizeMM[1], l.Part.SizeMM[2])
		}
	}
	tube := measuredIn(t, rows).Fixture
	wide, flush := tube.Plate.Width.MM(), tube.Plate.Feet.Inset.MM()
	sleeve, room := 0.0, tube.Sleeve.EndGap.MM()
	for _, l := range measuredIn(t, rows).Assembly.PartsList() {
		if l.Part.Kind == parts.KindSleeve {
			sleeve = l.Part.SizeMM[0]
		}
	}
	thick := feet.Fixture.Separator.Thickness.MM()
	for name, c := range map[string]struct {
		example, reading string
		verdict          finding.Verdict
		says             string
	}{
		"foot a little outward":   {ribs, fmt.Sprintf("{what: hole_x, where: P1/1 H5, value: %.3f mm}", inset-0.7), finding.Warn, "good as it is"},
		"foot under the angle":    {ribs, fmt.Sprintf("{what: hole_y, where: P1/1 H5, value: %.3f mm}", inset+0.7), finding.Fail, "make P1/1 again"},
		"right foot a bit inward": {rows, fmt.Sprintf("{what: hole_x, where: P1/1 H8, value: %.3f mm}", wide-flush-0.3), finding.Warn, "good as it is"},
		"right foot inward":       {rows, fmt.Sprintf("{what: hole_x, where: P1/1 H8, value: %.3f mm}", wide-flush-20), finding.Fail, "make P1/1 again"},
		"foot behind the cell":    {ribs, fmt.Sprintf("{what: hole_x, where: P1/1 H5, value: %.3f mm}", inset+25), finding.Fail, "make P1/1 again"},
		"foot's hole too large":   {ribs, "{what: hole_dia, where: P1/1 H5, value: 14 mm}", finding.Fail, "make P1/1 again"},
		"printed sleeve too long": {ribs, fmt.Sprintf("{what: length, where: T1/1, value: %.3f mm}", long+2*gap+1), finding.Fail, "make T1/1 again"},
		"printed sleeve short":    {ribs, fmt.Sprintf("{what: length, where: T1/1, value: %.3f mm}", long-1), finding.Warn, "good as it is"},
		"printed sheet thick":     {ribs, fmt.Sprintf("{what: thickness, where: S1/1, value: %.3f mm}", 1.06*thick), finding.Warn, "good as it is"},
		"printed sheet far off":   {ribs, fmt.Sprintf("{what: thickness, where: S1/1, value: %.3f mm}", 5*thick), finding.Fail, "make S1/1 again"},
		"tube too long":           {rows, fmt.Sprintf("{what: length, where: T1/2, value: %.3f mm}", sleeve+2*room+1), finding.Fail, "make T1/2 again"},
		"tube a little long":      {rows, fmt.Sprintf("{what: length, where: T1/2, value: %.3f mm}", sleeve+0.6), finding.Warn, "good as it is"},
	} {
		got, err := measuredIn(t, c.example, c.reading).firstArticle()
		if err != nil || len(got) != 1 || got[0].Verdict != c.verdict || !strings.Contains(got[0].Hint, c.says) {
			t.Errorf("%s: %+v, %v; want %s, %q", name, got, err, c.verdict, c.says)
		}
	}
}

// A reading of what is not there is an error at its place.
func TestFirstArticleOfNoPart(t *testing.T) {
	for _, c := range []string{"{what: length, where: Z9, value: 10 mm}", "{what: hole_x, where: P1 H99, value: 10 mm}", "{what: hole_x, where: P1, value: 10 mm}", "{what: length, where: P1, value: 10 mm}"} {
		if _, err := measuredParts(t, c).firstArticle(); err == nil || !strings.Contains(err.Error(), "there is no") {
			t.Errorf("%s: %v", c, err)
		}
	}
}
