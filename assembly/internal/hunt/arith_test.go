package hunt

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export"
	"clampwright/params"
)

// output is what was written, as read back with nothing of the program's: the two
// tables by their heads, the report's figures, the shapes of the files to cut.
type output struct {
	parts, cuts []map[string]string
	report      struct {
		Verdict string `json:"verdict"`
		Nesting struct {
			Bars []struct {
				Bar    string   `json:"bar"`
				Length float64  `json:"length_mm"`
				Left   float64  `json:"left_mm"`
				Pieces []string `json:"pieces"`
			} `json:"bars"`
			Buy []struct {
				Count int     `json:"count"`
				Each  float64 `json:"each"`
			} `json:"buy"`
			Sheets []struct {
				Sheet string   `json:"sheet"`
				Parts []string `json:"parts"`
			} `json:"sheets"`
		} `json:"nesting"`
		Wiring wired `json:"wiring"`
		Cost   *struct {
			ToPay  float64 `json:"to_pay"`
			Pieces float64 `json:"pieces"`
		} `json:"cost"`
		Clamp struct {
			States []struct {
				Name     string    `json:"name"`
				Force    float64   `json:"force_n"`
				Rods     []float64 `json:"rod_force_n"`
				Pressure struct {
					Mean  float64 `json:"mean"`
					Least float64 `json:"least"`
					Most  float64 `json:"greatest"`
				} `json:"pressure_kpa"`
				Spring  []float64 `json:"spring_height_mm"`
				Margins []struct {
					Part   string  `json:"part"`
					Stress float64 `json:"stress_mpa"`
				} `json:"margins"`
			} `json:"states"`
		} `json:"clamp"`
	}
	drawn map[string][]shape
}

// shape is a closed outline's or a circle's box in a file to cut; R is a circle's.
type shape struct {
	layer          string
	x0, y0, x1, y1 float64
	r              float64
}

// read plans the files of a job and reads those that numbers can be added up from.
func read(t *testing.T, j *job.Job) output {
	t.Helper()
	plan, err := export.Plan(j, export.Options{Version: 1, Cut: true})
	if err != nil {
		t.Fatal(err)
	}
	out := output{drawn: map[string][]shape{}}
	for _, a := range plan.Artifacts {
		cut := strings.HasPrefix(a.Name, "cut/") && strings.Count(a.Name, "/") == 1
		if !cut && !slices.Contains([]string{"parts.csv", "cuts.csv", "report.json"}, a.Name) {
			continue
		}
		var b bytes.Buffer
		if err := a.Encode(&b); err != nil {
			t.Fatal(err)
		}
		switch a.Name {
		case "parts.csv":
			out.parts = table(t, b.String())
		case "cuts.csv":
			out.cuts = table(t, b.String())
		case "report.json":
			if err := json.Unmarshal(b.Bytes(), &out.report); err != nil {
				t.Fatal(err)
			}
		default:
			out.drawn[a.Name] = shapes(t, b.String())
		}
	}
	return out
}

func table(t *testing.T, text string) (out []map[string]string) {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, v := range r {
			m[rows[0][i]] = v
		}
		out = append(out, m)
	}
	return out
}

// shapes reads circles and polylines from the text of a drawing: pairs of lines, a
// group code and its value.
func shapes(t *testing.T, text string) (out []shape) {
	t.Helper()
	var now *shape
	lines := strings.Split(strings.ReplaceAll(text, "\r", ""), "\n")
	var x float64
	for i := 0; i+1 < len(lines); i += 2 {
		code, value := strings.TrimSpace(lines[i]), lines[i+1]
		v, _ := strconv.ParseFloat(strings.TrimSpace(value), 64)
		switch {
		case code == "0":
			now = nil
			if value == "LWPOLYLINE" || value == "CIRCLE" {
				out = append(out, shape{x0: math.Inf(1), y0: math.Inf(1), x1: math.Inf(-1), y1: math.Inf(-1)})
				now = &out[len(out)-1]
			}
		case now == nil:
		case code == "8":
			now.layer = value
		case code == "10":
			x = v
		case code == "20":
			now.x0, now.x1, now.y0, now.y1 = min(now.x0, x), max(now.x1, x), min(now.y0, v), max(now.y1, v)
		case code == "40":
			now.r = v
			now.x0, now.x1, now.y0, now.y1 = now.x0-v, now.x1+v, now.y0-v, now.y1+v
		}
	}
	return out
}

// num is a column as a number.
func num(row map[string]string, column string) float64 {
	v, _ := strconv.ParseFloat(row[column], 64)
	return v
}

// sumError is how far a sum of written lengths may be off, mm: each is rounded to a
// thousandth. forceError is the same of forces and stresses, of their size: six digits.
const sumError, forceError = 0.01, 1e-3

// arithmetic holds what is written against sums by hand.
type arithmetic struct {
	*hunt
	output
	f    *params.Fixture
	text string
	said map[rule]finding.Finding
}

func (h *hunt) byArithmetic(text string, j *job.Job, o output) {
	a := arithmetic{h, o, j.Fixture, text, verdicts(j.Findings)}
	h.count("arithmetic")
	a.all()
}

func (a *arithmetic) all() {
	a.quantities()
	a.alongTheRod()
	a.plates()
	a.bars()
	a.sheets()
	a.money()
	a.forces()
}

// must is for what no verdict excuses: two figures that are one fact.
func (a *arithmetic) must(ok bool, format string, args ...any) {
	if !ok {
		a.falsePass(a.text, rule{"arithmetic", ""}, fmt.Sprintf(format, args...))
	}
}

// limit holds a rule against what is left to a limit at which it fails, negative where
// it is broken; err is how far off that may be. sole says that the rule has no other
// limit, so that it may not fail where this one is kept.
func (a *arithmetic) limit(id finding.ID, of string, spare, err float64, sole bool, what string) {
	got, known := a.said[rule{id, of}]
	if !known {
		if got, known = a.said[rule{id, ""}]; !known {
			a.must(spare > -err, "no finding %s, broken by %.4f: %s", id, -spare, what)
			return
		}
	}
	if spare < -err && got.Verdict == finding.Pass {
		a.falsePass(a.text, rule{id, of}, fmt.Sprintf("%s: %.4f over its limit", what, -spare))
	}
	if sole && spare > err && got.Verdict == finding.Fail {
		a.falseFail(a.text, rule{id, of}, fmt.Sprintf("%s: %.4f inside its limit", what, spare))
	}
}

// pieces is how many of a kind the parts list has.
func (a *arithmetic) pieces(kind string) (n int) {
	for _, r := range a.parts {
		if r["kind"] == kind {
			n += int(num(r, "quantity"))
		}
	}
	return n
}

// rods is how many there are; stacks the springs' on each.
func (a *arithmetic) rods() int { return len(a.f.Rods.Columns) * len(a.f.Rods.Levels) }

func (a *arithmetic) stacks() int {
	switch s := a.f.Spring; {
	case s == nil:
		return 0
	case s.BothEnds:
		return 2
	}
	return 1
}

// split is how many pieces a printed sheet comes in: one where it surely fits the bed,
// else two or four, as listed.
func (a *arithmetic) split(i *params.Insert, kind string, places int) int {
	const room = 40 // mm, for edges, lips and joints
	bed := min(a.f.Printer.BedX, a.f.Printer.BedY).MM() - room
	if n := a.pieces(kind); i.Printed && max(i.Width, i.Height).MM() > bed && (n == 2*places || n == 4*places) {
		return n / places
	}
	return 1
}

func (a *arithmetic) quantities() {
	f, rods, stacks := a.f, a.rods(), a.stacks()
	want := map[string]int{"cell": f.Pack.Rows * f.Pack.PerRow, "end-plate": 2, "rod": rods}
	if f.Stiffener != nil {
		want["stiffener"] = 2 * len(f.Rods.Levels)
	}
	if f.Separator != nil {
		want["separator"] = f.Pack.Rows * (f.Pack.PerRow - 1) * a.split(f.Separator, "separator", f.Pack.Rows*(f.Pack.PerRow-1))
	}
	if f.Liner != nil {
		want["liner"] = 2 * f.Pack.Rows * a.split(f.Liner, "liner", 2*f.Pack.Rows)
	}
	if s := f.Spring; s != nil {
		want["spring"] = rods * stacks * max(1, s.Parallel) * max(1, s.Series)
	}
	for _, kind := range []string{"cell", "end-plate", "rod", "stiffener", "separator", "liner", "spring"} {
		a.must(a.pieces(kind) == want[kind], "%d %ss in the list, %d by hand", a.pieces(kind), kind, want[kind])
	}
	nuts := 2 * rods
	if f.JamNut != nil {
		nuts *= 2
	}
	a.must(a.pieces("nut") >= nuts, "%d nuts in the list, %d are turned on", a.pieces("nut"), nuts)
	a.must(a.pieces("washer") >= rods*(2+stacks), "%d washers in the list, %d are laid on", a.pieces("washer"), rods*(2+stacks))
	for _, r := range a.parts {
		if each, total, n := num(r, "mass_each_g"), num(r, "mass_total_g"), num(r, "quantity"); total > 0 {
			a.must(math.Abs(each*n-total) < 0.06*n+0.06, "%s: %g of %g g are not %g g", r["part"], n, each, total)
		}
	}
}

// alongTheRod adds up what lies on a rod.
func (a *arithmetic) alongTheRod() {
	f := a.f
	layers := float64(f.Pack.PerRow)*f.Pack.CellThickness.MM() + 2*f.Plate.Thickness.MM()
	if f.Pack.Measured {
		layers = f.Pack.StackLength.MM() + 2*f.Plate.Thickness.MM()
	} else if f.Separator != nil {
		layers += float64(f.Pack.PerRow-1) * f.Separator.Thickness.MM()
	}
	if f.Separator != nil {
		layers -= float64(f.Pack.PerRow-1) * (f.Separator.Thickness.MM() - thick(f, f.Separator))
	}
	if f.Liner != nil {
		layers += 2 * thick(f, f.Liner)
	}
	between := layers - 2*f.Plate.Thickness.MM()
	if f.Stiffener != nil {
		layers += 2 * f.Stiffener.Section.Thickness.MM()
	}
	layers += 2 * (f.Washer.Thickness + f.Nut.Height).MM()
	if s := f.Spring; s != nil {
		layers += float64(a.stacks()) * (s.SetHeight + f.Washer.Thickness).MM()
	}
	if f.JamNut != nil {
		layers += 2 * f.JamNut.Height.MM()
	}
	for _, c := range a.cuts {
		if c["part"] == "rod" {
			long := num(c, "cut_x_mm")
			a.limit("nut-engaged", "", long-layers, sumError, false, fmt.Sprintf("rod of %.3f through %.3f", long, layers))
			a.limit("thread-protrusion", "as drawn", long-layers-2*f.Rods.Protrusion.MM(), 2*sumError, false, fmt.Sprintf("rod of %.3f through %.3f with thread out at both ends", long, layers))
		}
	}
	sleeve := 0.0 // of one rod; in pieces where the printer is small
	for _, r := range a.parts {
		if r["kind"] == "sleeve" {
			sleeve += max(num(r, "size_x_mm"), num(r, "size_y_mm"), num(r, "size_z_mm")) * num(r, "quantity") / float64(a.rods())
		}
	}
	if f.Sleeve != nil && a.pieces("sleeve") == a.rods() {
		a.limit("sleeve-free", "", between-sleeve, sumError, false, fmt.Sprintf("sleeve of %.3f in %.3f", sleeve, between))
	} else if f.Sleeve != nil {
		a.must(sleeve > between-2*f.Sleeve.EndGap.MM()-sumError, "pieces of sleeve of %.3f for %.3f", sleeve, between-2*f.Sleeve.EndGap.MM())
	}
}

// plates measures the end plate's file.
func (a *arithmetic) plates() {
	f := a.f
	for name, all := range a.drawn {
		if !strings.HasPrefix(name, "cut/end-plate") {
			continue
		}
		var outline *shape
		var holes []shape
		for i, s := range all {
			if s.layer == "OUTLINE" && (outline == nil || s.x1-s.x0 > outline.x1-outline.x0) {
				outline = &all[i]
			}
			if s.layer == "HOLES" && s.r > 0 {
				holes = append(holes, s)
			}
		}
		if outline == nil {
			a.must(false, "%s has no outline", name)
			return
		}
		wide, high := outline.x1-outline.x0, outline.y1-outline.y0
		for _, c := range a.cuts {
			if c["part"] == "end-plate" {
				a.must(math.Abs(num(c, "cut_x_mm")-wide) < sumError && math.Abs(num(c, "cut_y_mm")-high) < sumError, "the plate's file is %.3f x %.3f, the list says %s x %s", wide, high, c["cut_x_mm"], c["cut_y_mm"])
			}
		}
		rods := 0
		edge, apart := math.Inf(1), math.Inf(1)
		for i, h := range holes {
			x, y := (h.x0+h.x1)/2, (h.y0+h.y1)/2
			edge = min(edge, (min(x-outline.x0, outline.x1-x, y-outline.y0, outline.y1-y))-1.2*2*h.r)
			if math.Abs(2*h.r-f.Rods.Hole.MM()) < sumError {
				rods++
			}
			for _, g := range holes[:i] {
				apart = min(apart, math.Hypot(x-(g.x0+g.x1)/2, y-(g.y0+g.y1)/2)-2.2*2*max(h.r, g.r))
			}
		}
		a.must(rods >= a.rods(), "%d holes of %.3f mm for %d rods", rods, f.Rods.Hole.MM(), a.rods())
		a.limit("hole-edge", "end-plate", edge, sumError, false, "hole to edge, less 1.2 diameters (EN 1993-1-8 table 3.3)")
		if !math.IsInf(apart, 0) {
			a.limit("hole-ligament", "end-plate", apart, sumError, false, "hole to hole, less 2.2 diameters (EN 1993-1-8 table 3.3)")
		}
		cells := (f.Pack.RowX[len(f.Pack.RowX)-1] - f.Pack.RowX[0]).MM() + f.Cell.SwellWidth.MM()
		a.limit("plate-covers", "", min(wide-cells, high-f.Cell.SwellHeight.MM()), sumError, false, "the plate round the zones that dome")
	}
}

// bars adds up every bar: the pieces, and a saw cut between any two.
func (a *arithmetic) bars() {
	long := map[string]float64{}
	asked, got := map[string]int{}, map[string]int{}
	for _, c := range a.cuts {
		if num(c, "cut_y_mm") == 0 {
			long[c["part"]] = num(c, "cut_x_mm")
			asked[c["part"]] += int(num(c, "quantity"))
		}
	}
	used := map[string]int{}
	for _, b := range a.report.Nesting.Bars {
		used[b.Bar]++
		sum := float64(len(b.Pieces)-1) * a.f.Stock.SawKerf.MM()
		for _, p := range b.Pieces {
			got[p]++
			sum += long[p]
		}
		a.must(sum <= b.Length+sumError, "%v and saw cuts are %.3f, %s is %.3f", b.Pieces, sum, b.Bar, b.Length)
		a.must(b.Left <= b.Length-sum+sumError, "%.3f left of %.3f after %.3f", b.Left, b.Length, sum)
	}
	for part, n := range asked {
		if _, sawn := got[part]; sawn || part == "rod" || part == "stiffener" {
			a.limit("fits-length", part, float64(got[part]-n), 0.5, true, fmt.Sprintf("%d of %d %ss sawn", got[part], n, part))
		}
	}
	for i, list := range [][]params.LengthStock{a.f.Stock.Angles, a.f.Stock.Rods} {
		for _, s := range list {
			a.must(s.Quantity == 0 || used[s.ID] <= s.Quantity || i < 0, "%d of %s are used, %d are at hand", used[s.ID], s.ID, s.Quantity)
		}
	}
}

// sheets looks whether the parts on every sheet's file lie inside it and off each other.
func (a *arithmetic) sheets() {
	need := map[string]int{}
	for _, r := range a.parts {
		need[r["part"]] = int(num(r, "quantity"))
	}
	placed := map[string]int{}
	for i, s := range a.report.Nesting.Sheets {
		for _, p := range s.Parts {
			placed[p]++
		}
		var boxes []shape
		for _, o := range a.drawn[fmt.Sprintf("cut/sheet-%d.dxf", i+1)] {
			if o.layer == "OUTLINE" {
				boxes = append(boxes, o)
			}
		}
		a.must(len(boxes) >= len(s.Parts), "%d outlines on sheet %d of %d parts", len(boxes), i+1, len(s.Parts))
		for _, c := range a.cuts {
			if wide, high := num(c, "stock_x_mm"), num(c, "stock_y_mm"); high > 0 && c["from"] == s.Sheet {
				for _, b := range boxes {
					a.must(b.x0 > -sumError && b.y0 > -sumError && b.x1 < wide+sumError && b.y1 < high+sumError, "an outline %.2f, %.2f to %.2f, %.2f on a sheet of %g x %g", b.x0, b.y0, b.x1, b.y1, wide, high)
				}
				break
			}
		}
	}
	for part, n := range placed {
		a.limit("fits-sheet", part, float64(n-need[part]), 0.5, true, fmt.Sprintf("%d of %d on sheets", n, need[part]))
	}
}

// money adds up what is bought.
func (a *arithmetic) money() {
	c := a.report.Cost
	if c == nil {
		return
	}
	sum := c.Pieces
	for _, b := range a.report.Nesting.Buy {
		sum += float64(b.Count) * b.Each
	}
	a.must(math.Abs(sum-c.ToPay) < 0.011*float64(1+len(a.report.Nesting.Buy)), "what is bought adds up to %.2f, %.2f is to pay", sum, c.ToPay)
}

// forces holds the states' forces against each other, the faces, rods, washers and
// coils.
func (a *arithmetic) forces() {
	f := a.f
	face := f.Cell.Width.MM() * f.Cell.Height.MM() * float64(f.Pack.Rows)
	bore := max(f.Rods.Hole.MM(), f.Washer.Inner.MM())
	seat := math.Pi / 4 * (math.Pow(f.Washer.Outer.MM(), 2) - bore*bore)
	for i, s := range a.report.Clamp.States {
		near := func(got, want float64, what string) {
			a.must(math.Abs(got-want) <= forceError*math.Abs(want)+0.01, "%s: %s %.5g, by hand %.5g", s.Name, what, got, want)
		}
		sum, most := 0.0, 0.0
		for _, r := range s.Rods {
			sum, most = sum+r, max(most, r)
		}
		near(sum, s.Force, "force of all rods")
		near(s.Pressure.Mean, s.Force/face*1000, "mean pressure")
		a.must(s.Pressure.Least <= s.Pressure.Mean*(1+forceError)+0.01 && s.Pressure.Most >= s.Pressure.Mean*(1-forceError)-0.01, "%s: the mean %.4g is not between least %.4g and greatest %.4g", s.Name, s.Pressure.Mean, s.Pressure.Least, s.Pressure.Most)
		for _, m := range s.Margins {
			switch m.Part {
			case "rod":
				near(m.Stress, most/float64(f.Rods.Thread.StressArea), "stress in a rod")
				a.limit("clamp-rod-stress", "", f.Rods.Grade.Proof.MPa()-most/float64(f.Rods.Thread.StressArea), 0.1, false, s.Name)
			case "seat":
				near(m.Stress, most/seat, "pressure under a washer")
			}
		}
		floor, ceiling := f.Cell.ForceFloor.N(), f.Cell.ForceLimit.N()
		if i == 0 {
			floor, ceiling = f.Cell.ForceLow.N(), f.Cell.ForceHigh.N()
		}
		one := s.Force / float64(f.Pack.Rows)
		if f.Cell.Compression != params.CompressNone {
			a.limit("clamp-mean-pressure-low", "", one/floor-1, forceError, false, s.Name)
		}
		a.limit("clamp-mean-pressure-high", "", 1-one/ceiling, forceError, false, s.Name)
		if c := f.Spring; c != nil && c.Coil != nil {
			rate := c.Coil.Given
			if rate <= 0 { // EN 13906-1
				rate = c.Coil.Shear.MPa() * math.Pow(c.Coil.Wire.MM(), 4) / (8 * c.Coil.Active * math.Pow(c.Coil.Mean.MM(), 3))
			}
			for k, high := range s.Spring {
				n := float64(max(1, c.Parallel)) / float64(max(1, c.Series))
				if set := c.FreeHeight.MM() - s.Rods[k]/(rate*n); set > 0 && set > float64(max(1, c.Series))*c.Coil.Solid.MM() {
					near(high, set, "height of a coil")
				}
			}
		}
	}
}

// example is one of the examples, judged.
func example(t *testing.T, name string) (*params.Fixture, *job.Job) {
	t.Helper()
	text, err := os.ReadFile("../../../examples/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	f, diags := params.Load(name+".yaml", text)
	if f == nil {
		t.Fatal(diags)
	}
	j, err := judged(f)
	if err != nil {
		t.Fatal(err)
	}
	return f, j
}

// Arithmetic sees a figure that is off by little more than its error: one of a list, a
// length, a hole, a bar, a price, a force each; as written there is nothing.
func TestArithmeticOwnError(t *testing.T) {
	f, j := example(t, "four-cell-offcut")
	row := func(rows []map[string]string, part string) map[string]string {
		return rows[slices.IndexFunc(rows, func(r map[string]string) bool { return r["part"] == part })]
	}
	add := func(rows []map[string]string, part, column string, by float64) {
		r := row(rows, part)
		r[column] = fmt.Sprint(num(r, column) + by)
	}
	for name, spoil := range map[string]func(o *output){
		"":        func(*output) {},
		"nuts":    func(o *output) { add(o.parts, "nut", "quantity", -1) },
		"plates":  func(o *output) { add(o.parts, "end-plate", "quantity", 1) },
		"mass":    func(o *output) { add(o.parts, "rod", "mass_total_g", 0.5) },
		"rod":     func(o *output) { add(o.cuts, "rod", "cut_x_mm", -12) },
		"engaged": func(o *output) { add(o.cuts, "rod", "cut_x_mm", -18) },
		"plate":   func(o *output) { add(o.cuts, "end-plate", "cut_y_mm", 0.02) },
		"no hole": func(o *output) { o.drawn["cut/end-plate.dxf"] = o.drawn["cut/end-plate.dxf"][:4] },
		"bar":     func(o *output) { o.report.Nesting.Bars[0].Length -= 915 },
		"sheet": func(o *output) {
			for i := range o.drawn["cut/sheet-1.dxf"] {
				o.drawn["cut/sheet-1.dxf"][i].x1 += 400
			}
		},
		"to pay":   func(o *output) { o.report.Cost.ToPay += 0.1 },
		"rod's":    func(o *output) { o.report.Clamp.States[2].Rods[0] *= 1.01 },
		"mean":     func(o *output) { o.report.Clamp.States[3].Pressure.Mean *= 1.002 },
		"too much": func(o *output) { s := &o.report.Clamp.States[3]; s.Force *= 4 },
		"coil":     func(o *output) { o.report.Clamp.States[0].Spring[1] += 0.1 },
	} {
		h := newHunt(t)
		a := arithmetic{h, read(t, j), f, name, verdicts(j.Findings)}
		spoil(&a.output)
		a.all()
		if found := len(h.passes) > 0; found != (name != "") {
			t.Errorf("%q: found %v", name, h.passes)
		}
	}
}
