package compare

import (
	"crypto/sha256"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/job"
	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
)

// read returns an example's text, with printed extras left out: shaping them
// takes longer than all the rest.
func read(t *testing.T, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("../../examples", name))
	if err != nil {
		t.Fatal(err)
	}
	text, err = params.Edit(name, text, []params.Change{{Path: "prints"}})
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func build(t *testing.T, text []byte) *assembly.Assembly {
	t.Helper()
	f, diags := params.Load("t.yaml", text)
	if f == nil {
		t.Fatal(diags)
	}
	j, err := job.Place(f)
	if err != nil {
		t.Fatal(err)
	}
	return j.Assembly
}

func change(t *testing.T, text []byte, path, value string) []byte {
	t.Helper()
	out, err := params.Edit("t.yaml", text, []params.Change{{Path: path, Value: value}})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// A file compared with itself keeps everything.
func TestSelf(t *testing.T) {
	names, _ := filepath.Glob("../../examples/*.yaml")
	for _, name := range names {
		text := read(t, filepath.Base(name))
		a, b := build(t, text), build(t, text)
		n := 0
		for _, r := range Parts(a, b) {
			n += r.Quantity
			if r.Action != Keep {
				t.Errorf("%s: %+v", name, r)
			}
		}
		want := 0
		for _, l := range b.PartsList() {
			want += l.Pieces
		}
		if n != want {
			t.Errorf("%s: %d pieces kept of %d", name, n, want)
		}
	}
}

// fingerprint tells whether two parts are the same piece, from the piece itself:
// its meshed shape, what it is made of, its holes. It knows nothing of Parts.
func fingerprint(t *testing.T, p *parts.Part) string {
	t.Helper()
	if known, ok := prints.Load(p); ok {
		return known.(string)
	}
	print := shape(t, p)
	prints.Store(p, print)
	return print
}

var prints sync.Map // of *parts.Part

func shape(t *testing.T, p *parts.Part) string {
	t.Helper()
	h := sha256.New()
	fmt.Fprintln(h, p.Kind, p.Make, p.Material, p.Stock)
	if p.Kind == parts.KindLink {
		fmt.Fprintf(h, "%.4f\n", p.SizeMM) // cables have no shape
	}
	if p.Kind != parts.KindSpring && p.Kind != parts.KindCell { // their place in the stack is not their size
		m, err := p.Solid.Mesh(2) // few corners, each exactly on the shape
		if err != nil {
			t.Fatal(p.ID, err)
		}
		for _, v := range m.Vertices {
			fmt.Fprintf(h, "%.4f %.4f %.4f\n", v.X+0, v.Y+0, v.Z+0)
		}
	}
	if p.Flat != nil {
		fmt.Fprintln(h, p.Flat.Grain, p.Flat.GrainAlongX)
	}
	return string(h.Sum(nil))
}

// nudges are values near the settled one.
func nudges(v, lo, hi float64) []float64 {
	var out []float64
	for _, x := range []float64{v * 1.04, v * 0.96, v + 1, v - 1} {
		if x >= lo && x <= hi && x != v {
			out = append(out, math.Round(x*1000)/1000)
		}
	}
	return out
}

// bases are the files of which every key is changed: all blocks stand in one of
// them.
var bases = []struct {
	name string
	with []params.Change
}{
	{name: "four-small-separators.yaml"},
	{name: "sixteen-cell-two-rows.yaml"},
	{name: "fourteen-cell-three-rows.yaml"},
	{name: "three-cell-ribs.yaml", with: []params.Change{{Path: "liners", Value: "{material: fr4, thickness: 1 mm, pattern: ribs, border: 8 mm, rib_pitch: 15 mm}"}}},
	{name: "two-cell-frames.yaml", with: []params.Change{{Path: "liners", Value: "{material: fr4, thickness: 1 mm, pattern: frame, border: 14 mm}"}}},
}

// Changing one value changes exactly the parts that depend on it. Which depend is
// found by rebuilding: every key of the file is changed in turn, and each
// part is compared by its own shape. What is the same is kept; what is not kept
// is not the same; and what is kept though it differs lies within its proof.
func TestOneValue(t *testing.T) {
	list := bases
	if testing.Short() {
		list = list[:1]
	}
	found := make([]tally, len(list))
	t.Run("bases", func(t *testing.T) {
		for k, b := range list {
			text, err := params.Edit(b.name, read(t, b.name), b.with)
			if err != nil {
				t.Fatal(err)
			}
			t.Run(b.name, func(t *testing.T) {
				t.Parallel()
				found[k] = everyKey(t, text)
			})
		}
	})
	if len(list) < len(bases) {
		return
	}
	var all tally
	for _, f := range found {
		all.tried, all.moved = append(all.tried, f.tried...), append(all.moved, f.moved...)
	}
	if !slices.ContainsFunc(all.moved, func(path string) bool { return strings.HasPrefix(path, "electrical.") }) {
		t.Error("no electrical value changes a part")
	}
	for _, p := range params.Paths() {
		if !slices.Contains(all.tried, p.Path) {
			t.Errorf("no other value was found for %s", p.Path)
		}
	}
}

// tally are the keys for which another value made a fixture, and those that
// changed a part.
type tally struct{ tried, moved []string }

// everyKey changes every key of a file in turn, to two other values where there
// are as many.
func everyKey(t *testing.T, text []byte) (found tally) {
	t.Helper()
	base := build(t, text)
	for _, p := range params.Paths() {
		tries, changes := 0, false
		for _, value := range valuesFor(base.Fixture, p) {
			now := tryBuild(text, p.Path, value)
			if now == nil {
				continue // not a fixture: nothing to compare
			}
			tries++
			changes = oneValue(t, p.Path+": "+value, base, now) || changes
			if tries == 2 {
				break
			}
		}
		if tries > 0 {
			found.tried = append(found.tried, p.Path)
		}
		if changes {
			found.moved = append(found.moved, p.Path)
		}
	}
	t.Logf("%d of %d keys changed one at a time, %d of them change a part", len(found.tried), len(params.Paths()), len(found.moved))
	if len(found.tried) < 120 || len(found.moved) < 40 {
		t.Errorf("only %d values could be changed, %d changed a part", len(found.tried), len(found.moved))
	}
	return found
}

// other names for keys that hold one from a table, by the last word of the key.
var other = map[string][]string{
	"material": {"mdf", "hdpe", "pp"}, "thread": {"M8", "M6"}, "angle": {"30x30x3 mm aluminium"}, "grade": {"8.8"},
	"model": {"54x174x200"}, "disc": {"20x10.2x1.1"}, "bar": {"copper bar 15 x 2 mm"},
}

// given are further values for keys that are free words or have no default.
var given = map[string][]string{
	"fixture": {"another"}, "cell.batch": {"2026-03"}, "cell.learned": {"learned.yaml"}, "electrical.records": {"cells.csv"}, "prices.currency": {"GBP"},
	"nuts.name": {"ISO 4032 M6", "ISO 4032 M10"}, "washers.name": {"ISO 7093-1 M6", "ISO 7093-1 M10"},
	"springs.coil":      {"3x16x40"},
	"separators.border": {"9 mm"}, "separators.rib_pitch": {"16 mm"}, "liners.border": {"9 mm"}, "liners.rib_pitch": {"16 mm"},
}

// valuesFor lists texts to try for a key: its other words, the other names of its
// table, the other answer to yes or no, and numbers near the settled one.
func valuesFor(f *params.Fixture, p params.PathInfo) []string {
	if p.Path == "units" {
		return p.Words // its other word changes what bare numbers mean: no fixture comes of it
	}
	now := f.Origin(p.Path).Text
	words := append(slices.Clone(p.Words), other[p.Path[strings.LastIndexByte(p.Path, '.')+1:]]...)
	if p.Kind == "switch" {
		words = append(words, "true", "false")
	}
	words = append(words, given[p.Path]...)
	words = slices.DeleteFunc(words, func(w string) bool { return strings.EqualFold(w, now) })
	if len(words) > 0 {
		return words
	}
	unitOf := map[string]string{"length": " mm", "force": " N", "pressure": " kPa", "mass": " g", "torque": " N.mm", "temperature": " C", "number": "", "count": ""}
	suffix, numeric := unitOf[p.Kind]
	if !numeric {
		return nil
	}
	var out []string
	if v, ok := settled(f, p); ok {
		for _, x := range nudges(v, p.Lo, p.Hi) {
			if p.Kind == "count" {
				x = math.Round(x)
			}
			out = append(out, fmt.Sprintf("%g%s", x, suffix))
		}
	}
	if p.Example != "" {
		out = append(out, p.Example)
	}
	return out
}

// settled is the value in use, from the fixture's own record.
func settled(f *params.Fixture, p params.PathInfo) (float64, bool) {
	text := f.Origin(p.Path).Text
	if text == "" {
		return 0, false
	}
	if p.Kind == "length" {
		l, err := unit.ParseLength(text, f.Style.Unit)
		return l.MM(), err == nil
	}
	v, err := unit.ParseNumber(strings.Fields(text)[0])
	return v, err == nil
}

func tryBuild(text []byte, path, value string) *assembly.Assembly {
	out, err := params.Edit("t.yaml", text, []params.Change{{Path: path, Value: value}})
	if err != nil {
		return nil
	}
	f, _ := params.Load("t.yaml", out)
	if f == nil {
		return nil
	}
	j, err := job.Place(f)
	if err != nil {
		return nil
	}
	return j.Assembly
}

// oneValue checks one change; it reports whether any part changed.
func oneValue(t *testing.T, what string, base, now *assembly.Assembly) bool {
	t.Helper()
	was := map[string]assembly.PartLine{}
	for _, l := range base.PartsList() {
		was[l.Part.ID] = l
	}
	kept := map[string]Row{}
	for _, r := range Parts(base, now) {
		if r.Action == Keep {
			kept[r.New] = r
		}
	}
	changed := false
	for _, l := range now.PartsList() {
		o, known := was[l.Part.ID]
		r, isKept := kept[l.Part.ID]
		same := known && fingerprint(t, o.Part) == fingerprint(t, l.Part)
		if l.Part.Kind == parts.KindCell {
			bared := base.Fixture.Cell.CaseLive && !now.Fixture.Cell.CaseLive // a bare cell does not serve for a wrapped one
			same = base.Fixture.Cell.Cell == now.Fixture.Cell.Cell && !bared
		}
		changed = changed || !same || o.Pieces != l.Pieces
		switch {
		case same && (!isKept || r.Quantity != min(o.Pieces, l.Pieces)):
			t.Errorf("%s: %s is the same piece but not kept: %+v", what, l.Part.ID, r)
		case isKept && fingerprint(t, was[r.Old].Part) != fingerprint(t, l.Part):
			provenFit(t, what, r, was[r.Old].Part, l.Part, base, now)
		}
	}
	return changed
}

// provenFit works out anew that a kept part which differs lies within the
// tolerances of both shops.
func provenFit(t *testing.T, what string, r Row, o, n *parts.Part, base, now *assembly.Assembly) {
	t.Helper()
	a, b := base.Fixture.Tolerances, now.Fixture.Tolerances
	allow := math.Max(min(a.PlateSize, b.PlateSize).MM(), min(a.CutLength, b.CutLength).MM())
	if n.Make == parts.MakeSheet && n.Kind != parts.KindLink {
		allow = math.Max(allow, min(a.SheetShare, b.SheetShare)*n.Flat.ThicknessMM)
	}
	for k := range n.SizeMM {
		if n.Kind != parts.KindSpring && n.Kind != parts.KindCell && math.Abs(o.SizeMM[k]-n.SizeMM[k]) > allow+1e-6 {
			t.Errorf("%s: %s is kept, but its size %v is not within %.2f mm of %v", what, n.ID, o.SizeMM, allow, n.SizeMM)
		}
	}
	play := (now.Fixture.Rods.Hole - now.Fixture.Rods.Thread.Major).MM() / 2
	leftClear(t, what, r, o, n)
	for k, h := range n.Holes {
		d := math.Inf(1)
		for _, was := range o.Holes {
			d = min(d, was.C.Dist(h.C))
		}
		if d > 1e-6 && d+math.Max(a.HolePosition.MM(), b.HolePosition.MM()) > math.Max(play, a.HolePosition.MM())+0.01 {
			t.Errorf("%s: %s is kept, but hole %d is %.2f mm off with %.2f mm play", what, n.ID, k+1, d, play)
		}
	}
}

// leftClear works out which old holes serve no new one, and that they are told and
// clear of the new ones.
func leftClear(t *testing.T, what string, r Row, o, n *parts.Part) {
	t.Helper()
	left := 0
	for _, was := range o.Holes {
		near, same := math.Inf(1), false
		for _, h := range n.Holes {
			d := was.C.Dist(h.C)
			same = same || d < h.DiaMM/2
			near = min(near, d/math.Max(was.DiaMM, h.DiaMM))
		}
		if same {
			continue
		}
		left++
		if near < 2.2 {
			t.Errorf("%s: %s is kept with an old hole %.2f diameters from a new one", what, n.ID, near)
		}
	}
	if told := strings.Contains(r.Why, "left over"); told != (left > 0) || len(r.left) != left {
		t.Errorf("%s: %s has %d holes left over, told: %s", what, n.ID, left, r.Why)
	}
}

// Known cases, worked by hand.
func TestKnown(t *testing.T) {
	text := change(t, read(t, "four-small-separators.yaml"), "rods.levels", "[50 mm, 150 mm]")
	text = change(t, text, "plates.width", "176 mm")
	base := build(t, text)
	find := func(rows []Row, kind parts.Kind) []Row {
		var out []Row
		for _, r := range rows {
			if r.Kind == string(kind) {
				out = append(out, r)
			}
		}
		return out
	}
	long := base.Fixture.Rods.Length.MM()
	for _, c := range []struct {
		path, value string
		kind        parts.Kind
		want        Action
	}{
		{"rods.length", fmt.Sprintf("%g mm", long-3), parts.KindRod, Shorten},
		{"rods.length", fmt.Sprintf("%g mm", long-0.3), parts.KindRod, Keep}, // the saw is no better
		{"rods.length", fmt.Sprintf("%g mm", long+3), parts.KindRod, Make},
		{"rods.levels", "[30 mm, 170 mm]", parts.KindPlate, Redrill},
		{"rods.levels", "[55 mm, 145 mm]", parts.KindPlate, Make},   // 5 mm beside the old holes
		{"rods.levels", "[50.2 mm, 150 mm]", parts.KindPlate, Make}, // no play to spare, nor room for another hole
		{"plates.height", "190 mm", parts.KindPlate, Recut},
		{"plates.height", "210 mm", parts.KindPlate, Make},
		{"plates.thickness", "18 mm", parts.KindPlate, Make},
		{"rods.hole", "8 mm", parts.KindPlate, Redrill},
		{"nuts.kind", "plain", parts.KindNut, Buy},
	} {
		rows := find(Parts(base, build(t, change(t, text, c.path, c.value))), c.kind)
		if len(rows) == 0 || rows[0].Action != c.want {
			t.Errorf("%s: %s: want %s, got %+v", c.path, c.value, c.want, rows)
		}
	}
}

// More cells: what there is of each part is used, the rest is bought or made.
func TestMoreCells(t *testing.T) {
	text := read(t, "four-small-separators.yaml")
	rows := Parts(build(t, text), build(t, change(t, change(t, text, "electrical.series", "3"), "pack.cells", "6")))
	got := map[string]int{}
	for _, r := range rows {
		got[r.Kind+" "+string(r.Action)] += r.Quantity
	}
	want := map[string]int{"cell keep": 4, "cell buy": 2, "separator keep": 3, "separator make": 2, "end-plate keep": 2, "rod make": 4, "rod spare": 4}
	for k, n := range want {
		if got[k] != n {
			t.Errorf("%s: %d, want %d (%v)", k, got[k], n, got)
		}
	}
}
