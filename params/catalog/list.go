package catalog

import (
	"clampwright/params/number"
	"clampwright/params/unit"
)

// table is one table as text.
type table struct {
	name string
	head []string
	rows func(t *Tables) [][]string
}

// tables, in the order they are listed.
var tables = []table{
	{"threads", []string{"thread", "system", "major mm", "pitch mm", "pitch dia mm", "minor mm", "nut minor mm", "stress area mm2", "tap drill mm", "source"},
		func(t *Tables) [][]string {
			return each(t.Threads, func(r Thread) []string {
				return []string{r.Name, r.System, m(r.Major), m(r.Pitch), m(r.PitchDia), m(r.MinorDia), m(r.NutMinorDia), number.Trim(float64(r.StressArea), 2), m(r.TapDrill), r.Source}
			})
		}},
	{"holes", []string{"thread", "fine mm", "medium mm", "coarse mm", "shop mm", "shop in", "source"},
		func(t *Tables) [][]string {
			return each(t.Threads, func(r Thread) []string {
				return []string{r.Name, m(r.HoleFine), m(r.HoleMedium), m(r.HoleCoarse), m(r.HoleShop), r.HoleShop.Fraction(64), r.Source}
			})
		}},
	{"grades", []string{"grade", "proof MPa", "yield MPa", "tensile MPa", "modulus MPa", "g/cm3", "1e-6/K", "source"},
		func(t *Tables) [][]string {
			return each(t.Grades, func(r Grade) []string {
				return []string{r.Name, p(r.Proof), p(r.Yield), p(r.Tensile), p(r.Modulus), number.Trim(r.DensityGCM3, 3), number.Trim(r.CTE*1e6, 1), r.Source}
			})
		}},
	{"nuts", []string{"nut", "kind", "thread", "height mm", "least mm", "flats mm", "corners mm", "bearing mm", "drag N.m", "g", "source"},
		func(t *Tables) [][]string {
			return each(t.Nuts, func(r Nut) []string {
				return []string{r.Name, r.Kind, r.Thread, m(r.Height), m(r.HeightMin), m(r.Flats), m(r.Corners), m(r.Bearing), drag(r), number.Trim(r.MassG, 1), r.Source}
			})
		}},
	{"washers", []string{"washer", "series", "thread", "inner mm", "outer mm", "thick mm", "source"},
		func(t *Tables) [][]string {
			return each(t.Washers, func(r Washer) []string {
				return []string{r.Name, r.Series, r.Thread, m(r.Inner), m(r.Outer), m(r.Thickness), r.Source}
			})
		}},
	{"angles", []string{"angle", "legs mm", "thick mm", "root mm", "toe mm", "area mm2", "I mm4", "kg/m", "source"},
		func(t *Tables) [][]string {
			return each(t.Angles, func(r AngleSection) []string {
				s := Section(r)
				mat, _ := t.Material(r.Material)
				return []string{r.Name, m(r.LegA) + " x " + m(r.LegB), m(r.Thickness), m(r.Root), m(r.Toe),
					number.Trim(s.Area, 1), number.Trim(s.IA, 0) + " / " + number.Trim(s.IB, 0), number.Trim(s.Area*mat.DensityGCM3/1000, 3), r.Source}
			})
		}},
	{"materials", []string{"material", "family", "E MPa", "across MPa", "nu", "stress MPa", "E after 1000 h", "E at 40 C", "seat long MPa", "g/cm3", "1e-6/K", "source"},
		func(t *Tables) [][]string {
			return each(t.Materials, func(r Material) []string {
				return []string{r.Name, r.Family, p(r.E), opt(float64(r.EAcross), 1), number.Trim(r.Nu, 3), p(r.Strength), thousandHours(r), opt(r.HotFactor, 2),
					opt(float64(r.SeatLong), 1), number.Trim(r.DensityGCM3, 3), number.Trim(r.CTE*1e6, 1), r.Source}
			})
		}},
	{"cells", []string{"cell", "thickness mm", "width mm", "height mm", "kg", "Ah", "mohm", "terminals mm", "clamp N", "source"},
		func(t *Tables) [][]string {
			return each(t.Cells, func(r Cell) []string {
				return []string{r.Name, plusMinus(r.Thickness, r.ThicknessTol), plusMinus(r.Width, r.WidthTol), plusMinus(r.Height, r.HeightTol),
					number.Trim(r.Mass.Grams()/1000, 3), number.Trim(r.CapacityAh, 1), number.Trim(r.ResistanceMOhm, 2), m(r.TerminalPitch), opt(r.ClampForce.N(), 0), r.Source}
			})
		}},
	{"drills", []string{"drill", "series", "mm", "in", "source"},
		func(t *Tables) [][]string {
			return each(t.Drills, func(r Drill) []string {
				return []string{r.Name, r.Series, m(r.Dia), r.Dia.DecimalInch(4), r.Source}
			})
		}},
	{"sockets", []string{"socket", "flats mm", "outer mm", "length mm", "source"},
		func(t *Tables) [][]string {
			return each(t.Sockets, func(r Socket) []string {
				return []string{r.Name, m(r.Flats), m(r.Outer), m(r.Length), r.Source}
			})
		}},
	{"discs", []string{"disc spring", "outer mm", "inner mm", "thick mm", "cone mm", "free mm", "source"},
		func(t *Tables) [][]string {
			return each(t.Discs, func(r DiscSpring) []string {
				return []string{r.Name, m(r.Outer), m(r.Inner), m(r.T), m(r.H0), m(r.T + r.H0), r.Source}
			})
		}},
	{"coils", []string{"coil spring", "wire mm", "mean dia mm", "active coils", "free mm", "solid mm", "N/mm", "source"},
		func(t *Tables) [][]string {
			return each(t.Coils, func(r CoilSpring) []string {
				return []string{r.Name, m(r.Wire), m(r.Mean), opt(r.Active, 2), m(r.Free), m(r.Solid), number.Trim(float64(r.Rate()), 2), r.Source}
			})
		}},
}

// ListTables returns the names of the tables.
func ListTables() []string {
	out := make([]string, len(tables))
	for i, t := range tables {
		out[i] = t.name
	}
	return out
}

// Rows returns a table as text: the column heads and the rows, the row's name
// first and its source last. The error is an *UnknownTable.
func (t *Tables) Rows(name string) (head []string, rows [][]string, err error) {
	for _, x := range tables {
		if x.name == name {
			return append([]string(nil), x.head...), x.rows(t), nil
		}
	}
	return nil, nil, &UnknownTable{Name: name}
}

func each[T any](rows []T, text func(T) []string) [][]string {
	out := make([][]string, len(rows))
	for i, r := range rows {
		out[i] = text(r)
	}
	return out
}

func m(l unit.Length) string   { return number.Trim(l.MM(), 3) }
func p(v unit.Pressure) string { return number.Trim(v.MPa(), 1) }

// opt leaves zero blank.
func opt(v float64, decimals int) string {
	if v == 0 {
		return "-"
	}
	return number.Trim(v, decimals)
}

func plusMinus(l, tol unit.Length) string {
	if tol == 0 {
		return m(l)
	}
	return m(l) + " +-" + m(tol)
}

func drag(n Nut) string {
	if n.DragMax == 0 {
		return "-"
	}
	return number.Trim(n.DragMin.NMM()/1000, 2) + " to " + number.Trim(n.DragMax.NMM()/1000, 2)
}

func thousandHours(mat Material) string {
	if len(mat.Creep) == 0 {
		return "-"
	}
	return number.Trim(mat.left(), 2)
}
