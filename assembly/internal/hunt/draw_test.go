// Package hunt looks for false verdicts: fixtures drawn at random over all keys of the
// parameter file, many near a limit, are judged by the program and by judges that share
// no code with it. A false pass is a limit broken by more than the judge's own error
// that the program passes; a false fail is the reverse.
package hunt

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"clampwright/params"
)

// drawing is a parameter file in the making: values by their paths, in order.
type drawing struct {
	*rand.Rand
	paths  []string
	values map[string]string
}

func (d *drawing) even(lo, hi float64) float64 { return lo + (hi-lo)*d.Float64() }

// log is even in the logarithm.
func (d *drawing) log(lo, hi float64) float64 { return math.Exp(d.even(math.Log(lo), math.Log(hi))) }

// often is true in part of the draws.
func (d *drawing) often(part float64) bool { return d.Float64() < part }

func (d *drawing) of(list ...string) string { return list[d.IntN(len(list))] }

// put gives a key its value.
func (d *drawing) put(path, format string, a ...any) {
	if _, known := d.values[path]; !known {
		d.paths = append(d.paths, path)
	}
	d.values[path] = fmt.Sprintf(format, a...)
}

// maybe gives a key its value in part of the draws.
func (d *drawing) maybe(part float64, path, format string, a ...any) {
	if d.often(part) {
		d.put(path, format, a...)
	}
}

// Random is a parameter file drawn over all keys; not every one settles.
func Random(r *rand.Rand) string {
	d := &drawing{Rand: r, values: map[string]string{}}
	d.put("fixture", "drawn")
	d.maybe(0.2, "units", "%s", d.of("mm", "in"))
	thick := d.cell()
	d.parts()
	d.clamp(thick)
	d.shop()
	d.rest(reflect.TypeFor[params.File](), "")
	return d.text("")
}

// cell draws the cell and the pack; it returns the cell's thickness, mm.
func (d *drawing) cell() float64 {
	thick, width, height := d.log(8, 110), d.log(50, 400), d.log(60, 350)
	if d.often(0.4) {
		thick, width, height = d.log(20, 80), d.log(100, 200), d.log(90, 230)
	}
	d.put("cell.thickness", "%.1f mm", thick)
	d.put("cell.width", "%.1f mm", width)
	d.put("cell.height", "%.1f mm", height)
	d.maybe(0.5, "cell.mass", "%.0f g", thick*width*height*0.0022)
	d.maybe(0.5, "cell.terminals.diameter", "%.1f mm", min(width/5, thick*0.9, 18))
	if d.often(0.3) { // terminals and vent where they are not by default, unlike
		for _, pole := range []string{"plus", "minus"} {
			d.maybe(0.6, "cell.terminals."+pole+".from_edge", "%.1f mm", d.even(0.1, 0.45)*width)
			d.maybe(0.4, "cell.terminals."+pole+".from_front", "%.1f mm", d.even(0.46, 0.54)*thick)
			d.maybe(0.4, "cell.terminals."+pole+".height", "%.1f mm", d.even(1, 8))
			d.maybe(0.2, "cell.terminals."+pole+".diameter", "%.1f mm", min(width/5, thick*0.9, d.even(10, 18)))
		}
		if d.often(0.3) {
			d.put("cell.terminals.screws", "2")
			d.put("cell.terminals.spacing", "%.1f mm", d.even(8, 24))
			d.maybe(0.4, "cell.terminals.along", "thickness")
		} else {
			d.maybe(0.2, "cell.terminals.kind", "weld_tab")
		}
		d.maybe(0.5, "cell.vent.from_minus", "%.1f mm", d.even(0.1, 0.9)*width)
		d.maybe(0.1, "cell.vent.length", "0 mm")
	}
	switch d.IntN(4) {
	case 0:
		d.put("cell.pressure", "%.1f kPa", d.log(15, 900))
		d.maybe(0.3, "cell.force_always", "true")
	case 1:
		force := d.log(20, 300) * width * height / 1000
		d.put("cell.force", "%.0f N", force)
		d.maybe(0.5, "cell.force_tolerance", "%.0f N", force*d.even(0.05, 0.4))
		d.maybe(0.3, "cell.force_limit", "%.0f N", force*d.even(1.1, 4))
	case 2:
		d.put("cell.compression", "unknown")
	default:
		d.put("cell.compression", "none")
	}
	d.maybe(0.3, "cell.swell_zone", "%.2f", d.even(0.3, 0.9))
	d.maybe(0.3, "cell.case", "insulated")
	cells, rows, gap := 2*(1+d.IntN(10)), 1, 0.0
	if d.often(0.3) {
		rows, gap = 2, math.Round(d.even(25, 70))
		if d.often(0.4) {
			rows = 3 + d.IntN(2)
			cells = rows * (1 + d.IntN(5))
		}
		d.put("pack.rows", "%d", rows)
		d.maybe(0.6, "pack.row_gap", "%.0f mm", gap)
	}
	d.put("pack.cells", "%d", cells)
	if d.often(0.1) {
		d.put("pack.stack", "%.1f mm", thick*float64(cells/rows)*d.even(0.995, 1.01))
	}
	if d.often(0.4) {
		p := 1 + d.IntN(2)
		d.put("electrical.series", "%d", cells/p)
		d.put("electrical.parallel", "%d", p)
	}
	if d.often(0.1) {
		out := (width*float64(rows)+gap*float64(rows-1))/2 + 12
		d.put("rods.columns", "[%.1f mm, %.1f mm]", -out-d.even(0, 8), out+d.even(0, 8))
	}
	if d.often(0.15) {
		mid, spread := height*d.even(0.35, 0.65), height*d.even(0.1, 0.48)
		d.put("rods.levels", "[%.0f mm, %.0f mm]", mid-spread, mid+spread)
	}
	return thick
}

// parts draws what the clamp is made of.
func (d *drawing) parts() {
	d.put("plates.material", "%s", d.of("hdpe", "pp", "acetal", "pc", "birch plywood", "mdf", "aluminium", "6061-T6", "steel", "fr4"))
	d.put("plates.thickness", "%.1f mm", d.log(3, 40))
	if d.often(0.1) {
		d.put("plates.laminate.sheets", "%d", 2+d.IntN(3))
		d.maybe(0.3, "plates.laminate.grain", "%s", d.of("same", "crossed"))
		d.put("plates.laminate.joint", "%s", d.of("glued", "screwed"))
		d.maybe(0.3, "plates.laminate.efficiency", "%.2f", d.even(0, 1))
		d.maybe(0.3, "plates.laminate.screw", "%.1f mm", d.even(2.5, 6))
		if d.often(0.3) {
			n, one := 2+d.IntN(3), math.Round(10*d.log(2, 12))/10
			d.put("plates.laminate.sheets", "%d", n)
			d.put("plates.laminate.sheet", "%.1f mm", one)
			d.put("plates.thickness", "%.1f mm", float64(n)*one)
		}
	}
	d.maybe(0.2, "plates.flatness", "%.2f mm", d.even(0, 0.6))
	d.maybe(0.2, "plates.tie_slots", "true")
	d.maybe(0.2, "plates.feet", "{}")
	if d.often(0.5) {
		d.put("stiffeners", "none")
	} else {
		d.put("stiffeners.standing_leg", "%s", d.of("inward", "outward", "up", "down"))
	}
	d.put("rods.thread", "%s", d.of("M5", "M6", "M8", "M10", "M12", "1/4-20", "5/16-18"))
	if d.values["rods.levels"] == "" {
		d.maybe(0.4, "rods.level_count", "%d", 2+d.IntN(3))
	}
	if d.values["pack.rows"] != "" {
		d.maybe(0.7, "rods.middle_column", "%s", d.of("true", "false"))
	}
	d.put("nuts.kind", "%s", d.of("plain", "prevailing", "jam"))
	d.maybe(0.3, "washers.series", "large")
	if d.often(0.5) {
		d.put("springs.ends", "%s", d.of("one", "both"))
		d.maybe(0.3, "springs.series", "%d", 1+d.IntN(40))
		if d.often(0.3) {
			d.put("springs.coil", "%s", d.of("2.5x14x36", "3x16x40", "4x20x50", "5x26x56"))
			d.put("springs.parallel", "%d", 1+d.IntN(2))
		}
	}
	if d.often(0.8) {
		d.maybe(0.25, "sleeves", "{}")
	} else {
		d.put("sleeves.material", "%s", d.of("pet", "petg"))
	}
	for _, sheets := range []string{"separators", "liners"} {
		if d.often(0.4) {
			of := d.of("fr4", "pp", "pet", "silicone foam", "petg")
			d.put(sheets+".material", "%s", of)
			d.put(sheets+".thickness", "%.2f mm", d.log(0.3, 6))
			pad := d.often(0.1)
			if pad {
				d.put(sheets+".curve", "[{squeeze: 0.1 mm, pressure: 40 kPa}, {squeeze: 0.2 mm, pressure: %.0f kPa}]", d.even(80, 300))
			}
			if d.often(0.4) && !pad && of != "silicone foam" {
				d.put(sheets+".pattern", "%s", d.of("frame", "ribs", "sheet"))
				d.put(sheets+".border", "%.1f mm", d.log(3, 40))
				d.maybe(0.3, sheets+".rib_pitch", "%.1f mm", d.log(10, 60))
			}
		}
	}
}

// clamp draws what the mechanics assume.
func (d *drawing) clamp(thick float64) {
	d.put("clamp.shape", "%s", d.of("domed", "flat"))
	d.maybe(0.5, "clamp.aged", "%.2f mm", thick*d.even(0, 0.05))
	d.maybe(0.5, "clamp.set_charge", "%.2f", 0.4*d.Float64())
	d.maybe(0.3, "clamp.cold", "%.0f C", d.even(-40, 15))
	d.maybe(0.3, "clamp.hot", "%.0f C", d.even(25, 75))
	d.maybe(0.3, "clamp.cell_expansion", "%.0f", d.log(5, 290))
	d.maybe(0.15, "clamp.bulge", "%.2f mm", d.even(0, 0.01)*thick)
	d.maybe(0.15, "clamp.assembly_temperature", "%.0f C", d.even(0, 40))
	if d.often(0.4) {
		soft := thick * d.log(0.001, 0.03)
		d.put("clamp.squeeze", "[{squeeze: %.3f mm, pressure: 80 kPa}, {squeeze: %.3f mm, pressure: 400 kPa}]", soft, soft*d.even(1.5, 5))
	}
	if d.often(0.3) {
		d.put("clamp.growth", "[{charge: 0, growth: 0 mm}, {charge: 0.5, growth: %.3f mm}, {charge: 1, growth: %.3f mm}]", thick*d.even(-0.004, 0.012), thick*d.even(-0.01, 0.02))
	}
}

// shop draws stock, prints and readings, whole lists at a time.
func (d *drawing) shop() {
	if m := d.values["plates.material"]; d.often(0.5) {
		thick, more := d.values["plates.thickness"], ""
		if d.often(0.5) {
			more = fmt.Sprintf(", quantity: %d", 1+d.IntN(3))
		}
		d.put("stock.sheets", "[{material: %s, thickness: %s, width: %.0f mm, height: %.0f mm%s, offcut: %s, grain: %s, price: %.1f}]",
			m, thick, d.log(200, 1500), d.log(150, 1000), more, d.of("true", "false"), d.of("width", "height"), d.log(5, 90))
	}
	for _, bars := range []string{"angles", "rods"} {
		if d.often(0.25) && (bars == "rods" || d.values["stiffeners"] == "") {
			d.put("stock."+bars, "[{length: %.0f mm, quantity: %d, price: 4}, {length: %.0f mm}]", d.log(300, 2000), 1+d.IntN(9), d.log(500, 3000))
		}
	}
	d.maybe(0.15, "tools.cutter", "%s", d.of("3.175 mm", "6 mm", "1/4 in"))
	d.maybe(0.1, "tools.drills", "[%s]", d.of("fraction", "metric", "letter, number", "fraction, metric"))
	for _, p := range []string{"corner_guards", "end_caps", "rod_caps", "feet"} {
		d.maybe(0.06, "prints."+p, "true")
	}
	d.maybe(0.03, "readings", "[{what: capacity, where: '1', value: 101 Ah}, {what: resistance, where: '1', value: 0.3 mohm}, {what: voltage, where: '1', value: 3.29 V}, {what: centre, where: '1', value: 40 mm, uncertainty: 0.1 mm, instrument: calliper}]")
	d.maybe(0.01, "learned", "[{cell: 54x174x200, pack: other, parameters: [{name: modulus, middle: 28, low: 20, high: 38}]}]")
	d.maybe(0.01, "electrical.links", "[{state: final, links: ['1+ 2-']}]")
	for _, row := range ownRows {
		d.maybe(0.02, "tables."+row[0], "[{%s}]", row[1])
	}
	d.maybe(0.03, "stock.bars", "[{item: 'copper bar 20 x 2 mm', length: 1 m}]")
	d.maybe(0.03, "prices.each", "[{item: ISO 7040 M8, price: 0.35}]")
	d.maybe(0.03, "variants", "[{name: eight, cells: 8, rows: 1, series: 8, parallel: 1, model: 54x174x200}]")
}

// ownRows are rows that the user puts in place of those of a table, or beside them.
var ownRows = [][2]string{
	{"threads", "name: M8, pitch: 1 mm"}, {"grades", "name: '4.8', proof: 300 MPa"}, {"nuts", "name: ISO 7040 M8, height: 9 mm"},
	{"washers", "name: ISO 7089 M8, thickness: 1.8 mm"}, {"angles", "name: 30x30x3 mm aluminium, root_radius: 2 mm"}, {"materials", "name: hdpe, e: 800 MPa"},
	{"cells", "name: 54x174x200, mass: 4.1 kg"}, {"drills", "name: own, series: metric, diameter: 9.1 mm"},
	{"sockets", "name: 13 mm, flats: 13 mm, outer: 18 mm, length: 60 mm"}, {"discs", "name: 20x10.2x1.1, thickness: 1.1 mm"}, {"coils", "name: 3x16x40, free_length: 41 mm"},
}

// apart are keys that make sense only with others, which are drawn by hand or not at all.
var apart = map[string]float64{"fillers.material": 0.004, "fillers.sheets": 0.004, "cell.model": 0.004, "cell.force": 0, "cell.pressure": 0, "cell.pressure_tolerance": 0.004, "cell.force_tolerance": 0, "cell.force_limit": 0.01,
	"pack.stack": 0, "nuts.name": 0.004, "washers.name": 0.004, "nuts.drag_min": 0.004, "rods.level_count": 0, "electrical.series": 0.001, "electrical.parallel": 0.001,
	"electrical.records": 0.002, "electrical.nominal_voltage": 0.02, "electrical.full_voltage": 0.015, "electrical.storage_voltage": 0.02, "electrical.low_voltage": 0.01, "stock.compensate": 0.004}

// rest gives every other key now and then, from its tags: a word of those it takes, or
// something like its example.
func (d *drawing) rest(t reflect.Type, path string) {
	for i := range t.NumField() {
		f := t.Field(i)
		key := f.Tag.Get("key")
		at := strings.TrimPrefix(path+"."+key, ".")
		if _, given := d.values[at]; key == "" || given || d.values[path] != "" {
			continue
		}
		switch value := d.like(f); {
		case f.Type.Kind() == reflect.Struct && f.Type.Field(0).Name == "Section":
			if f.Tag.Get("none") == "" || d.often(0.1) || d.within(at) {
				d.rest(f.Type, at)
			}
		case value != "":
			part, rare := apart[at]
			if !rare {
				part = 0.02
			}
			d.maybe(part, at, "%s", value)
		}
	}
}

// within says whether any key of a block is given.
func (d *drawing) within(path string) bool {
	for _, p := range d.paths {
		if strings.HasPrefix(p, path+".") {
			return true
		}
	}
	return false
}

// like is a value for a field.
func (d *drawing) like(f reflect.StructField) string {
	enum, ex := f.Tag.Get("enum"), f.Tag.Get("ex")
	switch {
	case enum != "":
		return d.of(strings.Split(enum, "|")...)
	case f.Type == reflect.TypeFor[params.Given[bool]]():
		return d.of("true", "false")
	}
	number, rest, _ := strings.Cut(ex, " ")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || f.Type == reflect.TypeFor[params.Given[int]]() {
		return ex
	}
	return strings.TrimSpace(strconv.FormatFloat(v*d.log(0.6, 1.6), 'f', 2, 64) + " " + rest)
}

// text writes the keys below a path, braces within.
func (d *drawing) text(path string) string {
	var out []string
	seen := map[string]bool{}
	for _, p := range d.paths {
		below, ok := strings.CutPrefix(p, path)
		if !ok {
			continue
		}
		key, _, nested := strings.Cut(below, ".")
		if seen[key] {
			continue
		}
		seen[key] = true
		value := d.values[p]
		if nested {
			value = "{" + d.text(path+key+".") + "}"
		}
		out = append(out, key+": "+value)
	}
	if path == "" {
		return strings.Join(out, "\n") + "\n"
	}
	return strings.Join(out, ", ")
}

// nudge moves some lengths that were derived, and so lie near a limit, a little.
func nudge(r *rand.Rand, text string, f *params.Fixture) (string, *params.Fixture) {
	d := &drawing{Rand: r}
	var set []params.Change
	for _, v := range f.Values() {
		mm, length := strings.CutSuffix(v.Text, " mm")
		at, err := strconv.ParseFloat(mm, 64)
		if v.Kind != params.Derived || !length || err != nil || !d.often(0.06) {
			continue
		}
		by := d.log(0.01, 3)
		if d.often(0.5) {
			by = -by
		}
		set = append(set, params.Change{Path: v.Path, Value: strconv.FormatFloat(at+by, 'f', 3, 64) + " mm"})
	}
	moved, g, err := params.Set("drawn.yaml", []byte(text), set)
	if err != nil {
		return text, f
	}
	return string(moved), g
}

// draw settles random files until n of them do, and calls fn with each.
func draw(t *testing.T, seed uint64, n int, fn func(text string, f *params.Fixture)) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 1))
	for tried, left := 0, n; left > 0; tried++ {
		text := Random(r)
		f, diags := params.Load("drawn.yaml", []byte(text))
		switch {
		case !diags.HasErrors():
			text, f = nudge(r, text, f)
			fn(text, f)
			left--
		case tried > 100 && tried > 20*(n-left+1):
			t.Fatalf("too few files settle: %s\n%s", diags, text)
		}
	}
}

// drawn is how many fixtures are drawn: few unless CLAMPWRIGHT_DRAWN says more.
func drawn(t *testing.T, few int) int {
	if testing.Short() {
		few /= 10
	}
	return fromEnv(t, "CLAMPWRIGHT_DRAWN", few)
}

// fromEnv is a number in the environment, or another where there is none.
func fromEnv(t *testing.T, name string, none int) int {
	s := os.Getenv(name)
	if s == "" {
		return none
	}
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Every key of the parameter file is drawn.
func TestEveryKeyIsDrawn(t *testing.T) {
	if testing.Short() {
		t.Skip("thousands of files")
	}
	r := rand.New(rand.NewPCG(5, 6))
	seen := map[string]bool{}
	settled, why := 0, map[string]int{}
	for range 3000 {
		text := Random(r)
		for _, p := range keysOf(text) {
			seen[p] = true
		}
		f, diags := params.Load("drawn.yaml", []byte(text))
		if f == nil {
			why[diags[0].Summary]++
			continue
		}
		settled++
		for _, v := range f.Values() {
			if strings.HasSuffix(v.Text, " mm") && v.Kind == params.Derived {
				seen[v.Path] = true // nudge moves it
			}
		}
	}
	t.Logf("%d of 3000 settle", settled)
	for k, n := range why {
		if n > 10 {
			t.Log(n, k)
		}
	}
	for _, p := range leaves(reflect.TypeFor[params.File](), "") {
		if !seen[p] {
			t.Errorf("%s is never drawn", p)
		}
	}
}

// leaves are the paths of all keys below a block; of lists the list's own.
func leaves(t reflect.Type, path string) (out []string) {
	for i := range t.NumField() {
		f := t.Field(i)
		key := f.Tag.Get("key")
		at := strings.TrimPrefix(path+"."+key, ".")
		switch {
		case key == "":
		case f.Type.Kind() == reflect.Struct && f.Type.Field(0).Name == "Section":
			out = append(out, leaves(f.Type, at)...)
		default:
			out = append(out, at)
		}
	}
	return out
}

// keysOf are the paths that a drawn text gives.
func keysOf(text string) (out []string) {
	file, _ := params.Decode("drawn.yaml", []byte(text))
	if file == nil {
		return nil
	}
	return given(reflect.ValueOf(file).Elem(), "")
}

func given(v reflect.Value, path string) (out []string) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		key := f.Tag.Get("key")
		at := strings.TrimPrefix(path+"."+key, ".")
		switch {
		case key == "":
		case f.Type.Kind() == reflect.Slice:
			if v.Field(i).Len() > 0 {
				out = append(out, at)
			}
		case f.Type.Field(0).Name == "Section":
			out = append(out, given(v.Field(i), at)...)
		case v.Field(i).FieldByName("Set").Bool():
			out = append(out, at)
		}
	}
	return out
}
