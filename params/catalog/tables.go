package catalog

import (
	"fmt"
	"slices"

	"clampwright/params/unit"
)

// Tables holds every table. The zero value has no rows; Builtin returns the
// rows that come with the program.
type Tables struct {
	Threads   []Thread
	Grades    []Grade
	Nuts      []Nut
	Washers   []Washer
	Angles    []AngleSection
	Materials []Material
	Cells     []Cell
	Drills    []Drill
	Sockets   []Socket
	Discs     []DiscSpring
	Coils     []CoilSpring
}

// Builtin returns a fresh copy of the built-in tables: changing it changes
// nothing else.
func Builtin() Tables {
	return Tables{
		Threads: threads(), Grades: grades(), Nuts: nuts(), Washers: washers(),
		Angles: angles(), Materials: materials(), Cells: cells(), Drills: drills(),
		Sockets: sockets(), Discs: discs(), Coils: coils(),
	}
}

// Merge lays the user's rows over the table's. A row whose name is there (see
// sameName) takes that row's place; a new one is put in front, so that a look-up
// by thread or size finds it before a built-in row. Of two user rows with one
// name the later wins.
func (t *Tables) Merge(user Tables) {
	t.Threads = merge(t.Threads, user.Threads, func(r Thread) string { return r.Name })
	t.Grades = merge(t.Grades, user.Grades, func(r Grade) string { return r.Name })
	t.Nuts = merge(t.Nuts, user.Nuts, func(r Nut) string { return r.Name })
	t.Washers = merge(t.Washers, user.Washers, func(r Washer) string { return r.Name })
	t.Angles = merge(t.Angles, user.Angles, func(r AngleSection) string { return r.Name })
	t.Materials = merge(t.Materials, user.Materials, func(r Material) string { return r.Name })
	t.Cells = merge(t.Cells, user.Cells, func(r Cell) string { return r.Name })
	t.Drills = merge(t.Drills, user.Drills, func(r Drill) string { return r.Name })
	t.Sockets = merge(t.Sockets, user.Sockets, func(r Socket) string { return r.Name })
	t.Discs = merge(t.Discs, user.Discs, func(r DiscSpring) string { return r.Name })
	t.Coils = merge(t.Coils, user.Coils, func(r CoilSpring) string { return r.Name })
}

func merge[T any](rows, user []T, name func(T) string) []T {
	out := slices.Clone(rows)
	var added []T
	for _, u := range user {
		same := func(r T) bool { return sameName(name(r), name(u)) }
		if i := slices.IndexFunc(out, same); i >= 0 {
			out[i] = u
		} else if i := slices.IndexFunc(added, same); i >= 0 {
			added[i] = u
		} else {
			added = append(added, u)
		}
	}
	return append(added, out...)
}

// Names returns the names of a table's rows, for suggestions; nil for an unknown
// table. The holes table has the names of the threads.
func (t *Tables) Names(table string) []string {
	_, rows, err := t.Rows(table)
	if err != nil {
		return nil
	}
	names := make([]string, len(rows))
	for i, r := range rows {
		names[i] = r[0]
	}
	return names
}

// UnknownTable is the error for a table that is not there.
type UnknownTable struct{ Name string }

// Error implements error.
func (e *UnknownTable) Error() string { return fmt.Sprintf("there is no table %q", e.Name) }

// in is a length given in inches, as the inch standards do.
func in(inches float64) unit.Length { return unit.Length(exactly(inches * 25.4)) }

// ksi is a stress given in thousands of pounds per square inch.
func ksi(v float64) unit.Pressure { return unit.Pressure(v * 6.894757293168361) }
