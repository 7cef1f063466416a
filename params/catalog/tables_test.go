package catalog

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"clampwright/params/unit"
)

func TestEveryRowHasNameAndSource(t *testing.T) {
	b := Builtin()
	v := reflect.ValueOf(b)
	for i := range v.NumField() {
		table, names := v.Type().Field(i).Name, map[string]bool{}
		if v.Field(i).Len() == 0 {
			t.Errorf("%s is empty", table)
		}
		for j := range v.Field(i).Len() {
			row := v.Field(i).Index(j)
			name, source := row.FieldByName("Name").String(), row.FieldByName("Source").String()
			if name == "" || source == "" {
				t.Errorf("%s row %d: name %q, source %q", table, j, name, source)
			}
			if names[loose(name)] {
				t.Errorf("%s has %q twice", table, name)
			}
			names[loose(name)] = true
		}
	}
}

// Every length, area, stress and mass of every row is positive, but for those
// that may be zero.
func TestRowsAreFinite(t *testing.T) {
	mayBeZero := map[string]bool{
		"DragMax": true, "DragMin": true, "StudHeight": true, "ClampForce": true, "ClampForceTol": true,
		"EAcross": true, "Shear": true, "RollingShear": true, "StrengthAcross": true, "SeatLong": true, "SeatShort": true,
		"Given": true, "Stroke": true,
	}
	b := reflect.ValueOf(Builtin())
	for i := range b.NumField() {
		for j := range b.Field(i).Len() {
			row := b.Field(i).Index(j)
			for k := range row.NumField() {
				f := row.Type().Field(k)
				if f.Type.Kind() != reflect.Float64 {
					continue
				}
				x := row.Field(k).Float()
				if c, die := row.Interface().(CoilSpring); die && c.Given > 0 && (f.Name == "Active" || f.Name == "Shear") {
					continue // the rate is given
				}
				if !(x > 0 && x < 1e6) && !(x == 0 && mayBeZero[f.Name]) {
					t.Errorf("%s %s: %s = %v", b.Type().Field(i).Name, row.FieldByName("Name"), f.Name, x)
				}
			}
		}
	}
}

func TestBuiltinIsAFreshCopy(t *testing.T) {
	a := Builtin()
	a.Threads[0].Name = "spoilt"
	a.Materials[0].Creep[0].Factor = 99
	b := Builtin()
	if b.Threads[0].Name != "M4" || b.Materials[0].Creep[0].Factor == 99 {
		t.Error("changing one copy changes the next")
	}
	if !reflect.DeepEqual(b, Builtin()) {
		t.Error("two copies differ")
	}
}

func TestMerge(t *testing.T) {
	b := Builtin()
	nuts := len(b.Nuts)
	b.Merge(Tables{
		Nuts: []Nut{
			{Name: "iso 7040 m8", Kind: "prevailing", Thread: "M8", Height: 9.4},
			{Name: "thin M8", Kind: "prevailing", Thread: "M8", Height: 7},
			{Name: "Thin M8", Kind: "prevailing", Thread: "M8", Height: 6},
		},
		Cells: []Cell{{Name: "10x20x30", Thickness: 10}},
	})
	if n := len(b.Nuts); n != nuts+1 {
		t.Errorf("%d nuts, want %d", n, nuts+1)
	}
	if n, ok := b.Nut("ISO 7040 M8"); !ok || n.Height != 9.4 {
		t.Errorf("replaced row: %v, %v", n, ok)
	}
	if n, ok := b.NutFor("M8", "prevailing"); !ok || n.Height != 6 {
		t.Errorf("the user's row doesn't come first: %v, %v", n, ok)
	}
	if c, ok := b.Cell("10 x 20 x 30"); !ok || c.Thickness != 10 {
		t.Errorf("added cell: %v, %v", c, ok)
	}
	if _, ok := b.NutFor("M10", "prevailing"); !ok {
		t.Error("other rows are lost")
	}
}

func TestLookupNames(t *testing.T) {
	b := Builtin()
	tests := []struct {
		find       func(string) (string, bool)
		name, want string
	}{
		{thread(&b), "M8", "M8"},
		{thread(&b), "m8", "M8"},
		{thread(&b), " M 8 ", "M8"},
		{thread(&b), "M8x1.25", "M8"},
		{thread(&b), "M8 × 1.25", "M8"},
		{thread(&b), "M8x1", ""},
		{thread(&b), "5/16-18", "5/16-18"},
		{thread(&b), "5/16 - 18 UNC", "5/16-18"},
		{thread(&b), "UNC 5/16-18", "5/16-18"},
		{thread(&b), "5/16", "5/16-18"},
		{thread(&b), `5/16"`, "5/16-18"},
		{thread(&b), "5/16 in", "5/16-18"},
		{thread(&b), "5/16-24", ""},
		{thread(&b), "", ""},
		{material(&b), "HDPE", "hdpe"},
		{material(&b), "Birch Plywood", "birch plywood"},
		{material(&b), "plywood", "birch plywood"},
		{material(&b), "FR-4", "fr4"},
		{material(&b), "aluminum", "aluminium"},
		{material(&b), "6061 T6", "6061-T6"},
		{material(&b), "mild steel", "steel"},
		{material(&b), "unobtainium", ""},
		{angle(&b), "30x30x3 mm aluminium", "30x30x3 mm aluminium"},
		{angle(&b), "30 x 30 x 3", "30x30x3 mm aluminium"},
		{angle(&b), "30×30×3 mm", "30x30x3 mm aluminium"},
		{angle(&b), "30x3", "30x30x3 mm aluminium"},
		{angle(&b), "30x30x3 steel", "30x30x3 mm steel"},
		{angle(&b), "L30x30x3mm mild steel", "30x30x3 mm steel"},
		{angle(&b), "25x25x4", "25x25x4 mm steel"},
		{angle(&b), "20x40x3", "40x20x3 mm aluminium"},
		{angle(&b), "1-1/4 x 1-1/4 x 1/8 in", "1-1/4 x 1-1/4 x 1/8 in aluminium"},
		{angle(&b), "1-1/4x1-1/4x1/8", "1-1/4 x 1-1/4 x 1/8 in aluminium"},
		{angle(&b), "1 1/4 x 1 1/4 x 1/8 in", "1-1/4 x 1-1/4 x 1/8 in aluminium"},
		{angle(&b), "1.25 x 1.25 x 0.125 in", "1-1/4 x 1-1/4 x 1/8 in aluminium"},
		{angle(&b), `1-1/4" x 1-1/4" x 1/8" aluminum`, "1-1/4 x 1-1/4 x 1/8 in aluminium"},
		{angle(&b), "2x2x1/4 in steel", "2 x 2 x 1/4 in steel"},
		{angle(&b), "30x30x3 mm 6061-T6", "30x30x3 mm 6061-T6"},
		{angle(&b), "30x30x3 aluminium 6063-T5", "30x30x3 mm 6063-T5"},
		{angle(&b), "30x30x3 in", ""},
		{angle(&b), "30x30x3 mm copper", ""},
		{angle(&b), "30x30x7", ""},
		{angle(&b), "x", ""},
		{angle(&b), "1/0x1x1", ""},
		{drill(&b), "7/16", "7/16"},
		{drill(&b), "7/16 in", "7/16"},
		{drill(&b), `7/16"`, "7/16"},
		{drill(&b), "f", "F"},
		{drill(&b), "#7", "#7"},
		{drill(&b), "no. 7", "#7"},
		{drill(&b), "6.6 mm", "6.6"},
		{drill(&b), "13.1", ""},
		{nut(&b), "iso 7040 m10", "ISO 7040 M10"},
		{nut(&b), "DIN 985 M10", "DIN 985 M10"},
	}
	for _, tt := range tests {
		got, ok := tt.find(tt.name)
		if got != tt.want || ok != (tt.want != "") {
			t.Errorf("%q finds %q, %v; want %q", tt.name, got, ok, tt.want)
		}
	}
}

func thread(b *Tables) func(string) (string, bool) {
	return func(s string) (string, bool) { r, ok := b.Thread(s); return r.Name, ok }
}
func material(b *Tables) func(string) (string, bool) {
	return func(s string) (string, bool) { r, ok := b.Material(s); return r.Name, ok }
}
func angle(b *Tables) func(string) (string, bool) {
	return func(s string) (string, bool) { r, ok := b.Angle(s); return r.Name, ok }
}
func drill(b *Tables) func(string) (string, bool) {
	return func(s string) (string, bool) { r, ok := b.Drill(s); return r.Name, ok }
}
func nut(b *Tables) func(string) (string, bool) {
	return func(s string) (string, bool) { r, ok := b.Nut(s); return r.Name, ok }
}

// Every thread has its nuts and washers, and every angle its material.
func TestTablesFitTogether(t *testing.T) {
	b := Builtin()
	for _, th := range b.Threads {
		for _, kind := range []string{"plain", "prevailing", "jam"} {
			n, ok := b.NutFor(th.Name, kind)
			if !ok || n.HeightMin >= n.Height || n.Flats >= n.Corners || n.Bearing >= n.Flats || n.Bearing <= th.Major || n.DragMin > n.DragMax {
				t.Errorf("%s nut for %s: %+v, %v", kind, th.Name, n, ok)
			}
			if s := b.SocketFor(n.Flats); s.Outer <= n.Corners {
				t.Errorf("%s: socket %+v is narrower than the corners %v", n.Name, s, n.Corners)
			}
		}
		std, okS := b.WasherFor(th.Name, "standard")
		large, okL := b.WasherFor(th.Name, "large")
		if !okS || !okL || std.Inner <= th.Major || large.Inner <= th.Major || std.Outer >= large.Outer {
			t.Errorf("washers for %s: %+v, %+v", th.Name, std, large)
		}
		if !(th.Major < th.HoleFine && th.HoleFine < th.HoleMedium && th.HoleMedium < th.HoleCoarse && th.HoleCoarse < std.Outer) {
			t.Errorf("holes of %s: %+v", th.Name, th)
		}
	}
	for _, a := range b.Angles {
		if m, ok := b.Material(a.Material); !ok || m.Family != "metal" {
			t.Errorf("%s is of %q", a.Name, a.Material)
		}
	}
}

// drillSet are the drills of the given series, in the order of the table.
func drillSet(t Tables, series ...string) (out []Drill) {
	for _, d := range t.Drills {
		if slices.Contains(series, d.Series) {
			out = append(out, d)
		}
	}
	return out
}

func TestDrillNear(t *testing.T) {
	b := Builtin()
	fractions := drillSet(b, "fraction")
	tests := []struct {
		dia   unit.Length
		above string
	}{
		{in(7.0 / 16), "7/16"}, {11, "7/16"}, {in(0.25) + 0.0005, "1/4"}, {25.4, "1 in"}, {26, ""}, {0.1, "1/64"},
	}
	for _, tt := range tests {
		up, _ := DrillAtOrAbove(fractions, tt.dia)
		if up.Name != tt.above {
			t.Errorf("%v mm: at or above %q; want %q", tt.dia, up.Name, tt.above)
		}
	}
	if n := len(drillSet(b, "fraction", "letter", "number", "metric")); n != len(b.Drills) {
		t.Errorf("%d of %d drills belong to a series", n, len(b.Drills))
	}
	if d, ok := DrillAtOrAbove(nil, 5); ok {
		t.Errorf("found %v in nothing", d)
	}
}

func TestSocketFor(t *testing.T) {
	b := Builtin()
	for _, tt := range []struct {
		flats unit.Length
		want  string
	}{
		{13, "13 mm"}, {in(.502), "1/2 in"}, {in(.439), "7/16 in"}, {in(.940), "15/16 in"}, {12.75, "1/2 in"}, {34.21, "34.21 mm"},
	} {
		if got := b.SocketFor(tt.flats); got.Name != tt.want || got.Outer <= tt.flats {
			t.Errorf("socket for %v: %+v, want %s", tt.flats, got, tt.want)
		}
	}
}

func TestRows(t *testing.T) {
	b := Builtin()
	want := "threads holes grades nuts washers angles materials cells drills sockets discs coils"
	if got := strings.Join(ListTables(), " "); got != want {
		t.Errorf("tables %q, want %q", got, want)
	}
	for _, name := range ListTables() {
		head, rows, err := b.Rows(name)
		if err != nil || head[len(head)-1] != "source" || len(rows) == 0 || len(b.Names(name)) != len(rows) {
			t.Errorf("%s: %v, %d rows, %v", name, head, len(rows), err)
		}
		for _, r := range rows {
			if len(r) != len(head) {
				t.Errorf("%s: %d cells under %d heads", name, len(r), len(head))
			}
			for i, cell := range r {
				if cell == "" {
					t.Errorf("%s, %s: no %s", name, r[0], head[i])
				}
			}
		}
	}
	_, _, err := b.Rows("bolts")
	if e, ok := err.(*UnknownTable); !ok || e.Error() != `there is no table "bolts"` {
		t.Errorf("unknown table: %v", err)
	}
	if b.Names("bolts") != nil {
		t.Error("an unknown table has names")
	}
}

func TestMaterialAt(t *testing.T) {
	b := Builtin()
	for _, tt := range []struct {
		name      string
		thickness unit.Length
		e, across unit.Pressure
	}{
		{"plywood", 12, 10719, 6781}, {"birch plywood", 18, 10048, 7452}, {"birch plywood", 13.5, 10517.5, 6982.5},
		{"birch plywood", 4, 11395, 6105}, {"birch plywood", 60, 9519, 7981}, {"birch plywood", 0, 10048, 7452},
		{"mdf", 10, 2500, 0}, {"mdf", 12, 2500, 0}, {"mdf", 18, 2200, 0}, {"mdf", 25, 2100, 0}, {"mdf", 40, 2100, 0},
		{"hdpe", 12, 900, 0},
	} {
		m, ok := b.MaterialAt(tt.name, tt.thickness)
		if !ok || m.E != tt.e || m.EAcross != tt.across {
			t.Errorf("%s at %v mm: %v / %v, %v; want %v / %v", tt.name, tt.thickness, m.E, m.EAcross, ok, tt.e, tt.across)
		}
	}
	own, _ := b.Material("birch plywood")
	own.E, own.Source = 5000, "mine"
	b.Merge(Tables{Materials: []Material{own}})
	if m, _ := b.MaterialAt("birch plywood", 12); m.E != 5000 {
		t.Errorf("the user's modulus became %v", m.E)
	}
	if _, ok := b.MaterialAt("cheese", 12); ok {
		t.Error("found cheese")
	}
}

// Creep curves fall with time and stay above zero.
func TestCreepFalls(t *testing.T) {
	for _, m := range Builtin().Materials {
		last := CreepPoint{0, 1}
		for _, c := range m.Creep {
			if c.Hours <= last.Hours || c.Factor > last.Factor || c.Factor <= 0 {
				t.Errorf("%s: %v after %v", m.Name, c, last)
			}
			last = c
		}
	}
}
