package job

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/assembly/remedy"
	"clampwright/params"
)

// ranks are the worst verdicts by key, of findings as they are reported and not.
func ranks(found []finding.Finding) map[string]finding.Verdict {
	out := map[string]finding.Verdict{}
	for _, f := range found {
		out[f.Key()] = f.Verdict.Worse(out[f.Key()])
		out[string(f.ID)] = f.Verdict.Worse(out[string(f.ID)])
	}
	return out
}

// short is every how manieth spoiled file is mended with -short: eight of them.
const short = 11

// beyond are the rules of spoiled files that no change of the clamp mends: links given
// wrong, what the data sheet says, and what the shop has.
var beyond = []string{"polarity-proof", "vent-free", "fits-bed", "cell-current", "terminal-joint", "row-as-listed"}

// unmet are the rules that no file can break: what they judge the program lays out itself,
// so that they hold it to its word. Each is spoiled in its own package.
var unmet = map[finding.ID]string{
	"aid-fits":      "guides and gauges are made to what they fit (TestAidsNear)",
	"tool-on-sheet": "what would lead the tool off a sheet finds no stock (TestToolOnSheetSpoiled)",
}

// Of every spoiled example: its rule does not pass; what mends it, written into the
// file, settled and computed anew, fails nowhere and makes nothing worse; and nearly
// all are mended.
func TestMend(t *testing.T) {
	spoiled, err := sample.ReadSpoiled("../..")
	if err != nil {
		t.Fatal(err)
	}
	var count tally
	t.Run("files", func(t *testing.T) {
		for i, s := range spoiled {
			if testing.Short() && i%short != 0 {
				continue
			}
			t.Run(s.Name, func(t *testing.T) {
				t.Parallel()
				mendOne(t, s, &count)
			})
		}
	})
	count.tell(t)
}

// tally is what came of many files.
type tally struct {
	sync.Mutex
	files, mended int
	missed        int // that brute force mends and the search does not
	edits         []int
	met           [2]map[finding.ID]bool // rules that do not pass somewhere, in files in mm and in inches
	passed        map[finding.ID]bool    // and that do
	took          []time.Duration
}

// judged notes which rules were met.
func (c *tally) judged(found []finding.Finding, inch bool) {
	c.Lock()
	defer c.Unlock()
	if c.passed == nil {
		c.met, c.passed = [2]map[finding.ID]bool{{}, {}}, map[finding.ID]bool{}
	}
	units := 0
	if inch {
		units = 1
	}
	for _, f := range found {
		if f.Verdict == finding.Pass {
			c.passed[f.ID] = true
		} else {
			c.met[units][f.ID] = true
		}
	}
}

func (c *tally) add(edits int, took time.Duration) {
	c.Lock()
	defer c.Unlock()
	if c.files++; edits > 0 {
		c.mended++
		c.edits = append(c.edits, edits)
	}
	c.took = append(c.took, took)
}

// bruteLeast is the part that must be mended of the spoiled files that fail and that brute
// force mends too; fewLeast is of all of the few with -short.
const bruteLeast, fewLeast = 0.95, 0.8

func (c *tally) tell(t *testing.T) {
	slices.Sort(c.edits)
	slices.Sort(c.took)
	t.Logf("%d of %d mended; edits: median %d, most %d; time of the search: median %v, worst %v",
		c.mended, c.files, c.edits[len(c.edits)/2], c.edits[len(c.edits)-1], c.took[len(c.took)/2], c.took[len(c.took)-1])
	for id := range c.passed {
		if _, not := unmet[id]; !testing.Short() && !not && (!c.met[0][id] || !c.met[1][id]) {
			t.Errorf("of the rule %s: spoiled files in mm %v, in inches %v", id, c.met[0][id], c.met[1][id])
		}
	}
	for id := range unmet {
		if c.met[0][id] || c.met[1][id] {
			t.Errorf("a spoiled file is of the rule %s after all", id)
		}
	}
	t.Logf("%d that are not mended can be by brute force", c.missed)
	if least := bruteLeast * float64(c.mended+c.missed); float64(c.mended) < least || testing.Short() && float64(c.mended) < fewLeast*float64(c.files) {
		t.Errorf("only %d are mended of %d; brute force mends %d more", c.mended, c.files, c.missed)
	}
}

func quiet(string) {}

// mendOne mends a file and looks at the answer.
func mendOne(t *testing.T, s sample.Spoiled, count *tally) {
	t.Helper()
	f, diags := params.Load(s.Name, s.Text)
	if f == nil {
		t.Fatal(diags)
	}
	var begun time.Time
	j, err := Compute(context.Background(), f, func(string) { begun = time.Now() }, WithAnswers(1))
	took := time.Since(begun)
	if err != nil {
		t.Fatal(err)
	}
	if ranks(j.Findings)[s.Rule].Rank() == 0 {
		t.Errorf("%s passes", s.Rule)
	}
	count.judged(j.Findings, s.Inch)
	found := j.Mended.Patches
	switch {
	case slices.Contains(beyond, s.Rule):
		if len(found) > 0 {
			t.Errorf("mended by %s", found[0].Said(f))
		}
		return
	case j.Verdict() == finding.Fail:
		edits := 0
		if len(found) > 0 {
			edits = len(found[0].Edits)
		}
		count.add(edits, took)
	}
	if len(found) == 0 {
		t.Logf("none in %v of %d; nearest %+v", took, j.Mended.Tried, j.Mended.Nearest)
		if j.Verdict() == finding.Fail && !testing.Short() {
			by, tried := bruteForce(t, j)
			if t.Logf("by brute force %v of %d", by, tried); by != nil {
				count.Lock()
				count.missed++
				count.Unlock()
			}
		}
		return
	}
	t.Logf("%v, %d edits, %d tried: %s", took, len(found[0].Edits), j.Mended.Tried, found[0].Said(f))
	holds(t, s, j, &found[0])
}

// holds writes what mends a file into it: then nothing fails, and nothing is worse.
func holds(t *testing.T, s sample.Spoiled, j *Job, p *remedy.Patch) {
	t.Helper()
	_, g, err := params.Set(s.Name, s.Text, p.Changes())
	if err != nil {
		t.Fatal(err)
	}
	now, err := Compute(context.Background(), g, quiet)
	if err != nil {
		t.Fatal(err)
	}
	if now.Verdict() == finding.Fail {
		t.Errorf("it fails still with %s", p.Said(j.Fixture))
	}
	was := ranks(j.Findings)
	for key, v := range ranks(now.Findings) {
		before, known := was[key]
		if !known {
			before = finding.Warn
		}
		if v.Rank() > before.Rank() {
			t.Errorf("%s is %s, was %s", key, v, before)
		}
	}
}

// What the file lists is taken before what no list has; plates whose sheets are too few are
// made of one piece, or of other sheets.
func TestMendTakesWhatIsListed(t *testing.T) {
	const cells = "cell: {model: %s, force: 300 kgf, force_tolerance: 60 kgf, force_limit: 1000 kgf%s}\n"
	for name, c := range map[string]struct{ text, path, want string }{
		"a listed sheet": {"units: in\n" + fmt.Sprintf(cells, "72x174x201", ", case: insulated") + `pack: {cells: 8, rows: 2}
plates: {material: hdpe, thickness: 1/2 in, height: 7 3/4 in}
stiffeners: {angle: 1-1/2 x 1-1/2 x 1/8 in 6061-T6}
rods: {thread: 1/4-20}
nuts: {kind: prevailing}
springs: {}
stock:
  sheets:
    - {material: hdpe, thickness: 1/2 in, width: 24 in, height: 7 3/4 in, quantity: 1, offcut: true}
    - {material: hdpe, thickness: 3/4 in, width: 24 in, height: 24 in, price: 30}
  angles: [{length: 6 ft, price: 11.40}]
  rods: [{length: 3 ft, price: 3.20, quantity: 1}]
electrical: {series: 8, current: 100}
`, "plates.thickness", "3/4 in"},
		"plates of one piece": {"units: mm\n" + fmt.Sprintf(cells, "54x174x200", "") + `pack: {cells: 4}
plates: {material: birch plywood, laminate: {sheets: 2, sheet: 6 mm}}
rods: {thread: M8}
springs: {}
separators: {material: fr4, thickness: 0.5}
stock: {sheets: [{material: birch plywood, thickness: 6, width: 600, height: 400, quantity: 1}]}
electrical: {series: 4, current: 60}
`, "plates.thickness", "6 mm"},
	} {
		text := []byte("fixture: listed\n" + c.text)
		f, diags := params.Load("listed.yaml", text)
		if f == nil {
			t.Fatal(name, diags)
		}
		j, err := Compute(context.Background(), f, quiet, WithAnswers(1))
		if err != nil || j.Verdict() != finding.Fail || len(j.Mended.Patches) == 0 {
			t.Fatal(name, err, j.Verdict(), j.Mended)
		}
		p := &j.Mended.Patches[0]
		if !slices.ContainsFunc(p.Changes(), func(k params.Change) bool { return k.Path == c.path && k.Value == c.want }) {
			t.Errorf("%s: %s", name, p.Said(f))
		}
		holds(t, sample.Spoiled{Name: "listed.yaml", Text: text}, j, p)
	}
}
