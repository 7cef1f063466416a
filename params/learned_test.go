package params

import (
	"strings"
	"testing"
)

const taught = `learned:
  - cell: 72x174x201
    batch: A
    pack: van
    packs: 2
    from: twin data
    parameters:
      - {name: modulus, middle: 24, low: 21, high: 27.5}
      - {name: growth, middle: 0.005, low: 0.004, high: 0.0062, with: [-0.4]}
`

// An entry is taken for the cell it is of, by other packs, from the file and from one
// beside it; the hash has both.
func TestLearned(t *testing.T) {
	beside := func(text string) Opener { return func(string) ([]byte, error) { return []byte(text), nil } }
	named := strings.Replace(least, "cell: {", "cell: {learned: l.yaml, batch: B, ", 1)
	if named == least {
		t.Fatal(least)
	}
	sums := map[string]bool{}
	for name, c := range map[string]struct {
		text, beside string
		entries      int
	}{
		"in the file": {least + taught, "", 1}, "beside it": {named, taught, 1}, "both": {named + strings.Replace(taught, "pack: van", "pack: bus", 1), taught, 2},
		"of another cell": {least + strings.Replace(taught, "72x174x201", "54x174x200", 1), "", 0}, "of itself": {least + strings.Replace(taught, "pack: van", "pack: pack", 1), "", 0}, "none": {named, "learned: []\n", 0},
	} {
		f, list := Load("pack.yaml", []byte(strings.Replace(c.text, "fixture: a", "fixture: pack", 1)), beside(c.beside))
		if f == nil || len(f.Learned) != c.entries || sums[f.InputSHA256] {
			t.Errorf("%s: %v", name, list)
			continue
		}
		sums[f.InputSHA256] = true
		if c.entries == 0 {
			continue
		}
		l := f.Learned[len(f.Learned)-1]
		if l.Batch != "A" || l.Pack != "van" || l.Packs != 2 || len(l.Parameters) != 2 || l.Parameters[1].With[0] != -0.4 || l.At.Line == 0 {
			t.Errorf("%s: %+v", name, l)
		}
	}
}

// What is wrong with an entry is told at its place, in the file that it stands in.
func TestLearnedWrong(t *testing.T) {
	three := strings.Replace(taught, "with: [-0.4]}", "with: [0.9]}\n      - {name: rise, middle: 0.4, low: 0.3, high: 0.5, with: [0.9, %]}", 1)
	for name, c := range map[string]struct{ text, want string }{
		"another name":            {strings.Replace(taught, "name: modulus", "name: modulos", 1), "l.yaml:8:16: error: learned[0].parameters[0].name is not one of its words"},
		"out of range":            {strings.Replace(taught, "middle: 24", "middle: 24000", 1), "l.yaml:8:33: error: learned modulus is out of range"},
		"not between":             {strings.Replace(taught, "low: 21", "low: 24.5", 1), "l.yaml:8:33: error: learned modulus: the middle is not between"},
		"twice":                   {strings.Replace(taught, "growth", "modulus", 1), "l.yaml:9:16: error: modulus stands twice"},
		"too many correlations":   {strings.Replace(taught, "[-0.4]", "[-0.4, 0.1]", 1), "l.yaml:9:72: error: growth has 2 correlations"},
		"a correlation of one":    {strings.Replace(taught, "-0.4", "1", 1), "is too large"},
		"correlations that can":   {strings.Replace(three, "%", "0.65", 1), ""},
		"correlations that can't": {strings.Replace(three, "%", "0.6", 1), "l.yaml:10:16: error: the correlations cannot all be"},
		"no parameters":           {taught[:strings.Index(taught, "    parameters")] + "    parameters: []\n", "l.yaml:2:11: error: nothing was learned"},
		"a missing value":         {strings.Replace(taught, ", high: 27.5", "", 1), "learned[0].parameters[0].high is missing"},
		"no pack":                 {strings.Replace(taught, "    pack: van\n", "", 1), "learned[0].pack is missing"},
		"two of one pack":         {taught + taught[len("learned:\n"):], "l.yaml:10:11: error: what pack \"van\" told of this cell stands twice"},
		"another file":            {least, "unknown key \"fixture\""},
		"no file":                 {"", "the file is empty"},
	} {
		_, list := Load("pack.yaml", []byte(strings.Replace(least, "cell: {", "cell: {learned: l.yaml, ", 1)), func(string) ([]byte, error) { return []byte(c.text), nil })
		if c.want == "" && list.HasErrors() || c.want != "" && !strings.Contains(list.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, list, c.want)
		}
	}
}

// An entry is written at the end or in the place of the same pack's, and reads back; a file
// that can't take it is refused.
func TestKeep(t *testing.T) {
	l := Learned{Cell: "72x174x201", Batch: "A", Pack: "van", Packs: 1, Parameters: []Parameter{{"modulus", 30, 28, 32.2, nil}, {"rise", -0.02, -0.1, 0.06, []float64{0.25}}}}
	other := l
	other.Pack = "bus: left"
	for name, c := range map[string]struct {
		text    string
		l       Learned
		entries int
	}{
		"a new file": {"", l, 1}, "replaced": {taught, l, 1}, "added": {taught, other, 2}, "another dash": {strings.ReplaceAll(taught, "\n  ", "\n"), other, 2},
		"the first of two": {taught + strings.ReplaceAll(strings.TrimPrefix(taught, "learned:\n"), "van", "boat"), l, 2}, "carriage returns": {strings.ReplaceAll(taught, "\n", "\r\n"), other, 2},
	} {
		out, err := Keep("l.yaml", []byte(c.text), c.l)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		in, wrong := decodeLearned("l.yaml", out)
		if wrong.HasErrors() || len(in) != c.entries {
			t.Errorf("%s: %v\n%s", name, wrong, out)
			continue
		}
		same := 0
		for _, b := range in {
			if got, ok := learnedOf(&resolver{}, b); ok && got.Pack == c.l.Pack && got.Parameters[0].Middle == 30 && got.Parameters[1].With[0] == 0.25 {
				same++
			}
		}
		if same != 1 {
			t.Errorf("%s:\n%s", name, out)
		}
	}
	for _, text := range []string{"learned: [{cell: a, pack: b, parameters: [{name: rise, middle: 0.4, low: 0.3, high: 0.5}]}]\n", least} {
		if out, err := Keep("l.yaml", []byte(text), l); err == nil {
			t.Errorf("%s", out)
		}
	}
}
