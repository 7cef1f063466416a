package catalog

import "clampwright/params/unit"

const (
	iso7089Source = "ISO 7089 normal series"
	iso7093Source = "ISO 7093-1 large series, from memory"
	narrowSource  = "ASME B18.21.1 type A narrow; thickness holds within a quarter"
	wideSource    = "ASME B18.21.1 type A wide; thickness holds within a quarter"
	fromMemory    = "; this row from memory"
)

func washers() []Washer {
	var out []Washer
	add := func(standard, series string, rows []washerRow, size func(float64) unit.Length, source string) {
		for _, r := range rows {
			w := Washer{Name: standard + " " + nominal(r.thread), Series: series, Thread: r.thread,
				Inner: size(r.inner), Outer: size(r.outer), Thickness: size(r.thick), Source: source}
			if r.memory {
				w.Source += fromMemory
			}
			out = append(out, w)
		}
	}
	mm := func(v float64) unit.Length { return unit.Length(v) }
	add("ISO 7089", "standard", iso7089, mm, iso7089Source)
	add("ISO 7093-1", "large", iso7093, mm, iso7093Source)
	add("ASME B18.21.1 narrow", "standard", narrow, in, narrowSource)
	add("ASME B18.21.1 wide", "large", wide, in, wideSource)
	return out
}

// washerRow is a washer in the unit of its standard.
type washerRow struct {
	thread              string
	inner, outer, thick float64
	memory              bool // not seen in the standard or a table of it
}

var iso7089 = []washerRow{
	{"M4", 4.3, 9, 0.8, true},
	{"M5", 5.3, 10, 1, false},
	{"M6", 6.4, 12, 1.6, false},
	{"M8", 8.4, 16, 1.6, false},
	{"M10", 10.5, 20, 2, false},
	{"M12", 13, 24, 2.5, false},
	{"M14", 15, 28, 2.5, false},
	{"M16", 17, 30, 3, false},
}

var iso7093 = []washerRow{
	{"M4", 4.3, 12, 1, false},
	{"M5", 5.3, 15, 1, false},
	{"M6", 6.4, 18, 1.6, false},
	{"M8", 8.4, 24, 2, false},
	{"M10", 10.5, 30, 2.5, false},
	{"M12", 13, 37, 3, false},
	{"M14", 15, 44, 3, false},
	{"M16", 17, 50, 3, false},
}

var narrow = []washerRow{
	{"1/4-20", .281, .625, .065, false},
	{"5/16-18", .344, .688, .065, false},
	{"3/8-16", .406, .812, .065, false},
	{"7/16-14", .469, .922, .065, false},
	{"1/2-13", .531, 1.062, .095, false},
	{"9/16-12", .594, 1.156, .095, true},
	{"5/8-11", .656, 1.312, .095, false},
}

var wide = []washerRow{
	{"1/4-20", .312, .734, .065, false},
	{"5/16-18", .375, .875, .083, true},
	{"3/8-16", .438, 1.000, .083, false},
	{"7/16-14", .500, 1.250, .083, true},
	{"1/2-13", .562, 1.375, .109, false},
	{"9/16-12", .625, 1.469, .109, true},
	{"5/8-11", .688, 1.750, .134, false},
}
