package catalog

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/params/number"
	"clampwright/params/unit"
)

// Thread finds a thread by name: "M8", "m8", "M8x1.25", "5/16-18", "5/16 in",
// `5/16"`, "5/16-18 UNC".
func (t *Tables) Thread(name string) (Thread, bool) {
	if row, ok := byName(t.Threads, name, func(r *Thread) string { return r.Name }); ok {
		return row, true
	}
	want := threadKey(name)
	for _, r := range t.Threads {
		if r.System == "unc" && (loose(r.Name) == want || loose(nominal(r.Name)) == want) {
			return r, true
		}
		if r.System == "metric" && want == loose(r.Name)+"x"+number.Trim(r.Pitch.MM(), 4) {
			return r, true
		}
	}
	return Thread{}, false
}

// threadKey drops the words round an inch thread's name.
func threadKey(name string) string {
	s := loose(name)
	s = strings.TrimPrefix(strings.TrimSuffix(s, "unc"), "unc")
	s = strings.TrimSuffix(s, "inch")
	return strings.TrimSuffix(strings.TrimSuffix(s, "in"), `"`)
}

// nominal is the size of an inch thread without its pitch: 5/16 of 5/16-18.
func nominal(thread string) string {
	size, _, _ := strings.Cut(thread, "-")
	return size
}

// Grade finds a strength class by name.
func (t *Tables) Grade(name string) (Grade, bool) {
	return byName(t.Grades, name, func(r *Grade) string { return r.Name })
}

// Nut finds a nut by name, such as "ISO 7040 M8".
func (t *Tables) Nut(name string) (Nut, bool) {
	return byName(t.Nuts, name, func(r *Nut) string { return r.Name })
}

// NutFor returns the first nut of the kind ("plain", "prevailing" or "jam") for
// a thread. Of two prevailing-torque standards the taller comes first in the
// built-in table.
func (t *Tables) NutFor(thread, kind string) (Nut, bool) {
	for _, r := range t.Nuts {
		if r.Kind == kind && t.sameThread(r.Thread, thread) {
			return r, true
		}
	}
	return Nut{}, false
}

// Washer finds a washer by name, such as "ISO 7089 M8".
func (t *Tables) Washer(name string) (Washer, bool) {
	return byName(t.Washers, name, func(r *Washer) string { return r.Name })
}

// WasherFor returns the first washer of the series ("standard" or "large") for a
// thread.
func (t *Tables) WasherFor(thread, series string) (Washer, bool) {
	for _, r := range t.Washers {
		if r.Series == series && t.sameThread(r.Thread, thread) {
			return r, true
		}
	}
	return Washer{}, false
}

// sameThread compares thread names as Thread does.
func (t *Tables) sameThread(a, b string) bool {
	if sameName(a, b) {
		return true
	}
	ra, okA := t.Thread(a)
	rb, okB := t.Thread(b)
	return okA && okB && ra.Name == rb.Name
}

// Material finds a material by name or by another word of the trade for it.
func (t *Tables) Material(name string) (Material, bool) {
	of := func(r *Material) string { return r.Name }
	if row, ok := byName(t.Materials, name, of); ok {
		return row, true
	}
	if alias, ok := materialAlias[loose(name)]; ok {
		return byName(t.Materials, alias, of)
	}
	return Material{}, false
}

// Cell finds a cell by name, such as "72x174x201".
func (t *Tables) Cell(name string) (Cell, bool) {
	return byName(t.Cells, name, func(r *Cell) string { return r.Name })
}

// Disc finds a disc spring by name, such as "20x10.2x1.1".
func (t *Tables) Disc(name string) (DiscSpring, bool) {
	return byName(t.Discs, name, func(r *DiscSpring) string { return r.Name })
}

// Coil finds a coil spring by name.
func (t *Tables) Coil(name string) (CoilSpring, bool) {
	return byName(t.Coils, name, func(r *CoilSpring) string { return r.Name })
}

// Drill finds a drill by name: "7/16", `7/16"`, "F", "#7", "no 7", "6.6",
// "6.6 mm".
func (t *Tables) Drill(name string) (Drill, bool) {
	if row, ok := byName(t.Drills, name, func(r *Drill) string { return r.Name }); ok {
		return row, true
	}
	want := loose(name)
	for _, r := range t.Drills {
		n := loose(r.Name)
		var also []string
		switch r.Series {
		case "fraction":
			also = []string{n + "in", n + `"`}
		case "metric":
			also = []string{n + "mm"}
		case "number":
			bare := strings.TrimPrefix(n, "#")
			also = []string{"no" + bare, "no." + bare, "number" + bare}
		case "letter":
			also = []string{"letter" + n}
		}
		if slices.Contains(also, want) {
			return r, true
		}
	}
	return Drill{}, false
}

// sameDia is how far apart two diameters count as one, mm: a tenth of what a
// caliper shows.
const sameDia = 0.001

// DrillAtOrAbove returns the smallest drill of the set that is not smaller than
// dia. Of drills of one diameter the first wins.
func DrillAtOrAbove(set []Drill, dia unit.Length) (best Drill, found bool) {
	for _, d := range set {
		if d.Dia >= dia-sameDia && (!found || d.Dia < best.Dia) {
			best, found = d, true
		}
	}
	return best, found
}

// Words names the drill as it is marked, with its size where that says none.
func (d Drill) Words() string {
	if d.Series == "metric" {
		return d.Name + " mm"
	}
	suffix := ""
	if d.Series == "fraction" {
		suffix = " in"
	}
	return fmt.Sprintf("%s%s (%s mm)", d.Name, suffix, number.Fixed(d.Dia.MM(), 2))
}

// sameFlats is how far a nut's greatest width across flats may be from the
// socket's nominal size, mm: inch nuts of the prevailing-torque kind are listed
// 0.002 in over nominal, and 16 mm is 0.125 mm over 5/8 in.
const sameFlats = 0.12

// SocketFor returns the socket for a hexagon by its width across flats: the row
// of that size, or an allowance by the same rule when there is none.
func (t *Tables) SocketFor(flats unit.Length) Socket {
	best, off := Socket{}, math.Inf(1)
	for _, s := range t.Sockets {
		if d := math.Abs((s.Flats - flats).MM()); d <= sameFlats && d < off {
			best, off = s, d
		}
	}
	if math.IsInf(off, 1) {
		return socket(number.Trim(flats.MM(), 2)+" mm", flats)
	}
	return best
}

// MaterialAt finds a material as it is at a thickness: sheets of wood differ
// with it. Materials that don't, and the user's own rows, come as they stand.
func (t *Tables) MaterialAt(name string, thickness unit.Length) (Material, bool) {
	m, ok := t.Material(name)
	if !ok || !(thickness > 0) {
		return m, ok
	}
	points, varies := byThickness[m.Name]
	if !varies || m.Source != points.source {
		return m, ok
	}
	points.at(thickness.MM(), &m)
	return m, true
}
