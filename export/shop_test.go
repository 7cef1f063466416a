package export

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/export/drawing"
	"clampwright/export/dxf"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Every hole has the same coordinates in the DXF, in the table of the page and in
// that of the drawing, measured again from the part: from the lower left corner,
// and for angles from the left end and the heel.
func TestOneDatumForEveryHole(t *testing.T) {
	angles := 0
	if list := string(made(t, "sixteen-cell-two-rows").files["parts.csv"]); !strings.Contains(list, ",foot-screw,screw,4,steel,\"M6, longer than bracket and nut by 11.6 mm\",") {
		t.Errorf("parts.csv has no screws for the brackets of sixteen cells:\n%s", list)
	}
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		page := map[string]map[string][2]string{}
		for _, d := range tell.Drilling(j.Job) {
			page[d.Part] = map[string][2]string{}
			for _, h := range d.Holes {
				page[d.Part][h.ID] = [2]string{h.X, h.Y}
			}
		}
		for _, l := range j.Assembly.PartsList() {
			p := l.Part
			if p.Flat == nil || len(p.Holes) == 0 {
				continue
			}
			box := p.Flat.Profile.Bounds()
			datum := box.Min
			if p.Kind == parts.KindStiffener {
				angles++
				// the heel is the edge that the standing leg's mass lies at
				if p.Solid.Centroid().Y > box.Center().Y {
					datum.Y = box.Max.Y
				}
				if got := drawing.AngleOf(j.Fixture, p).Datum(box); got != datum {
					t.Errorf("%s: %s: drawn from %v, the heel's left end is %v", name, p.ID, got, datum)
				}
			} else {
				d := dxf.FromFlat(*p.Flat, p.Holes)
				for _, h := range p.Holes {
					at := h.C.Sub(datum)
					if !slices.ContainsFunc(d.Holes, func(c geom.Circle) bool { return c.C.Dist(at) < 1e-9 }) {
						t.Errorf("%s: %s: %s is not at %v in the DXF", name, p.ID, h.ID, at)
					}
				}
			}
			if drilled := j.Nest.Machining.ByDrill(p); len(drilled) == 0 { // a machine opens them
				if page[p.Name+" "+p.Mark] != nil || j.Nest.Machining.On(p) == params.HandTools {
					t.Errorf("%s: %s: the page tells of holes %v", name, p.ID, page[p.Name+" "+p.Mark])
				}
				continue
			}
			for _, h := range p.Holes {
				want := [2]string{j.Fixture.Style.Place(h.C.X - datum.X), j.Fixture.Style.Place(math.Abs(h.C.Y - datum.Y))}
				if got := page[p.Name+" "+p.Mark][h.ID]; got != want {
					t.Errorf("%s: %s: %s at %v on the page, %v measured", name, p.ID, h.ID, got, want)
				}
			}
		}
	}
	if angles == 0 {
		t.Error("no example has angles")
	}
}

// What is written on parts, holes and slots, and what stock is called, never names
// two different things.
func TestMarksDoNotCollide(t *testing.T) {
	for _, name := range exampleNames(t) {
		e := made(t, name)
		j := e.job
		means := map[string]string{}
		names := func(mark, what string) {
			if old, taken := means[mark]; taken && old != what {
				t.Errorf("%s: %s is %s and %s", name, mark, old, what)
			}
			means[mark] = what
		}
		for _, l := range j.Assembly.PartsList() {
			if l.Part.Mark != "" {
				names(l.Part.Mark, "part "+l.Part.ID)
			}
			for _, h := range l.Part.Holes {
				names(h.ID, "a hole")
			}
			if l.Part.Flat != nil {
				for _, s := range parts.Slots(l.Part.Flat) {
					names(s.ID, "a slot")
				}
			}
		}
		for row := range 2 { // cells of one row have numbers only
			for i := range 40 {
				names(string(rune('A'+row))+strconv.Itoa(i+1), "a cell")
			}
		}
		for _, c := range j.Nest.Cuts {
			for _, from := range c.Taken {
				names(from.On(), "stock "+from.On())
			}
		}
		rows := strings.Split(string(e.files["cuts.csv"]), "\n")
		for _, c := range j.Nest.Cuts {
			want := c.Taken[0].On()
			if !slices.ContainsFunc(rows, func(r string) bool { return strings.HasPrefix(r, c.Part.Mark+",") && strings.Contains(r, ","+want+",") }) {
				t.Errorf("%s: cuts.csv does not say that %s is from %q", name, c.Part.Mark, want)
			}
		}
		for i := range j.Nest.Sheets.Layouts {
			if file := "cut/sheet-" + strconv.Itoa(i+1) + ".dxf"; e.files[file] == nil {
				t.Errorf("%s: the page's sheet %d has no file %s", name, i+1, file)
			}
		}
	}
}

// Every piece on every bar has its mark, also what is not in the finished pack.
func TestBarsNameTheirPieces(t *testing.T) {
	for _, name := range exampleNames(t) {
		for _, b := range tell.Stock(made(t, name).job.Job).Bars {
			for _, p := range b.Pieces {
				if p.Label == "" {
					t.Errorf("%s: a piece of %v mm on %s has no mark", name, p.Length, b.Name)
				}
			}
		}
	}
}

// Whole sheets of which little is used come with the least rectangle to order: it
// holds all parts, and less would not.
func TestLeastSheetToOrder(t *testing.T) {
	j := made(t, "sixteen-cell-two-rows").job
	plates := false
	for i := range j.Nest.Sheets.Layouts {
		l := &j.Nest.Sheets.Layouts[i]
		w, h := l.Least(j.Fixture.Stock.Margin.MM())
		var wide, high float64
		for _, p := range l.Placed {
			for _, q := range l.Placed {
				wide, high = max(wide, p.At.X+p.WidthMM-q.At.X), max(high, p.At.Y+p.HeightMM-q.At.Y)
			}
		}
		rim := 2 * j.Fixture.Stock.Margin.MM()
		if w < wide+rim || w > wide+rim+1 || h < high+rim || h > high+rim+1 {
			t.Errorf("sheet %d: %v x %v mm to hold %v x %v mm and %v mm of margin", l.Number, w, h, wide, high, rim)
		}
		for _, f := range tell.Stock(j.Job).Buy {
			if f.Label == j.Fixture.Style.Sheet(l.Sheet) {
				plates = plates || l.Sheet.Material == "6061-T6"
				if !strings.Contains(f.Note, "a usual size") || !strings.Contains(f.Note, j.Fixture.Style.Size([3]float64{w, h})) {
					t.Errorf("%s: the note %q does not offer %s", f.Label, f.Note, j.Fixture.Style.Size([3]float64{w, h}))
				}
			}
		}
	}
	if !plates {
		t.Error("no sheet for the plates is bought")
	}
}

// A sleeve sawn from tube has a drawing with its length and both diameters.
func TestSleeveFromTubeIsDrawn(t *testing.T) {
	e := made(t, "sixteen-cell-two-rows")
	svg := string(e.files["drawings/sleeve.svg"])
	f := e.job.Fixture.Sleeve
	for _, mm := range []float64{e.job.Assembly.SleeveLength(), f.Outer.MM(), f.Inner.MM()} {
		if want := drawing.UnitsOf(e.job.Fixture.Style).Words(mm); !strings.Contains(svg, want) {
			t.Errorf("the sleeve's drawing does not give %s", want)
		}
	}
	for _, l := range e.job.Assembly.PartsList() {
		if l.Part.Make == parts.MakeBar && e.files["drawings/"+l.Part.ID+".pdf"] == nil {
			t.Errorf("%s is sawn and has no drawing", l.Part.ID)
		}
	}
}

// The masses of the parts list add up: what is in the finished pack and what is
// loose.
func TestMassesOfTheListAddUp(t *testing.T) {
	if list := string(made(t, "sixteen-cell-two-rows").files["parts.csv"]); !strings.Contains(list, ",foot-screw,screw,4,steel,\"M6, longer than bracket and nut by 11.6 mm\",") {
		t.Errorf("parts.csv has no screws for the brackets of sixteen cells:\n%s", list)
	}
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		all, loose := 0.0, 0.0
		for _, l := range j.Assembly.Bill() {
			all += l.MassTotalG
			loose += l.LooseG()
		}
		if math.Abs(all-loose-j.Assembly.PackMassG()) > 1e-6 {
			t.Errorf("%s: %v g listed, %v g loose, %v g in the pack", name, all, loose, j.Assembly.PackMassG())
		}
		if loose < 0 || all <= loose {
			t.Errorf("%s: %v g in all, %v g loose", name, all, loose)
		}
	}
}

// Every hole for a foot has a screw, a nut and a washer in parts.csv; the screw
// is longer than what it holds by nut and washer, but not by much.
func TestFeetHaveScrews(t *testing.T) {
	e := made(t, "three-cell-ribs")
	row := regexp.MustCompile("(?m)^,foot-screw,screw,4,steel,ISO 4762 M5 x ([0-9]+),")
	found := row.FindStringSubmatch(string(e.files["parts.csv"]))
	if found == nil {
		t.Fatalf("no screws for the feet:\n%s", e.files["parts.csv"])
	}
	long, _ := strconv.ParseFloat(found[1], 64)
	foot := e.job.Assembly.Of(assembly.RoleFoot)[0].Part
	speck, err := geom.Box(geom.Vec3{X: -0.02, Y: -0.02, Z: -0.02}, geom.Vec3{X: 0.02, Y: 0.02, Z: 0.02})
	if err != nil {
		t.Fatal(err)
	}
	upright := 0.0 // by the foot's own solid, halfway up between gusset and screw
	for z := 0.0; z < 12; z += 0.05 {
		at := geom.NewBody(speck, geom.At(geom.Vec3{Y: foot.SizeMM[1] - 1, Z: z}))
		if g, err := geom.DistanceWithin(geom.NewBody(foot.Solid, geom.World()), at, 1); err != nil {
			t.Fatal(err)
		} else if g.Relation == geom.Interfering {
			upright = z
		}
	}
	grip := e.job.Fixture.Plate.Thickness.MM() + upright
	if long < grip+4.7+1 || long > grip+4.7+1+6.5 {
		t.Errorf("a screw of %v mm holds %v mm", long, grip)
	}
	for _, want := range []string{",foot-nut,nut,4,steel,ISO 4032 M5,", ",foot-washer,washer,4,steel,ISO 7093-1 M5,", ",ground-screw,screw,4,steel,"} {
		if !strings.Contains(string(e.files["parts.csv"]), want) {
			t.Errorf("parts.csv has no %q", want)
		}
	}
	if list := string(made(t, "sixteen-cell-two-rows").files["parts.csv"]); !strings.Contains(list, ",foot-screw,screw,4,steel,\"M6, longer than bracket and nut by 11.6 mm\",") {
		t.Errorf("parts.csv has no screws for the brackets of sixteen cells:\n%s", list)
	}
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		mounted := j.Fixture.Plate.Feet != nil
		if fixed := len(j.Assembly.FootFixings()) > 0; fixed != mounted {
			t.Errorf("%s: mounting holes %v, screws for them %v", name, mounted, fixed)
		}
	}
}

// A fraction of an inch is written only for what it is as good as equal to.
func TestInchesKeepTheValue(t *testing.T) {
	j := made(t, "four-cell-offcut").job
	for _, c := range []struct {
		mm   float64
		want string
	}{{2, "0.079 in"}, {0.1, "0.0039 in"}, {3, "0.118 in"}, {3.175, "1/8 in"}, {19.05, "3/4 in"}, {227.0125, "8 15/16 in"}, {227.013, "8 15/16 in"}, {25.4, "1 in"}, {0, "0 in"}} {
		if got := j.Fixture.Style.Length(c.mm); got != c.want {
			t.Errorf("%v mm is written %q, want %q", c.mm, got, c.want)
		}
	}
	for mm := 0.05; mm < 700; mm *= 1.07 {
		text := strings.TrimSuffix(j.Fixture.Style.Length(mm), " in")
		got, err := unit.ParseLength(text, unit.Inch)
		if err != nil {
			t.Fatal(err)
		}
		if d := math.Abs(got.MM() - mm); d > min(0.1, 0.01*mm)+1e-9 {
			t.Errorf("%v mm is written %q, off by %.3f mm", mm, text, d)
		}
	}
}
