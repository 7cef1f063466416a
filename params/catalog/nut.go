package catalog

import (
	"math"

	"clampwright/params/unit"
)

// cornersOfFlats is 1/cos 30°: the sharp corners of a hexagon, which no real
// nut exceeds.
const cornersOfFlats = 1.1547005383792515

// Parts of a hexagonal prism's metal that are there: chamfers take some of a
// plain nut, the insert's collar more of a prevailing-torque one. Fitted to the
// masses in trade tables (M8: plain about 5.2 g, with insert 5.1 g).
const (
	nutFill    = 0.93
	insertFill = 0.78
)

// nutMass is the mass of a steel nut in grams: hexagon less bore (midway
// between the minor and the major diameter) times height, times the part of it
// that is there.
func nutMass(kind string, flats, height, d, p float64) float64 {
	fill := nutFill
	if kind == "prevailing" {
		fill = insertFill
	}
	bore := d - nutMinorRatio*p/2
	area := math.Sqrt(3)/2*flats*flats - math.Pi/4*bore*bore
	return math.Round(area*height*steelDensity*1e-3*fill*100) / 100
}

func nuts() []Nut {
	var out []Nut
	out = append(out, metricNuts("ISO 4032", "plain", iso4032, "ISO 4032; mass computed")...)
	out = append(out, metricNuts("ISO 7040", "prevailing", iso7040, "ISO 7040, from memory (M4 to M10 greatest heights agree with ASME B18.16.3M); torques ISO 2320; mass computed")...)
	out = append(out, metricNuts("DIN 985", "prevailing", din985, "DIN 985 (bearing face from memory); torques ISO 2320; mass computed")...)
	out = append(out, metricNuts("ISO 4035", "jam", iso4035, "ISO 4035; mass computed")...)
	out = append(out, inchNuts("ASME B18.2.2 hex", "plain", b1822hex, "ASME B18.2.2; mass computed")...)
	out = append(out, inchNuts("ASME B18.16.6 NE", "prevailing", b18166, "ASME B18.16.6 style NE; mass computed")...)
	return append(out, inchNuts("ASME B18.2.2 jam", "jam", b1822jam, "ASME B18.2.2; mass computed")...)
}

// nutRow is one nut in the unit of its standard: greatest and least height,
// greatest flats, least bearing face, and prevailing torques (first on greatest,
// first off least) in N·m or in-lbf.
type nutRow struct {
	thread                  string
	high, low, flats, bears float64
	on, off                 float64
}

func metricNuts(standard, kind string, rows []nutRow, source string) []Nut {
	var out []Nut
	for i, r := range rows {
		t := metricThreads[i]
		out = append(out, Nut{
			Name: standard + " " + r.thread, Kind: kind, Thread: r.thread,
			Height: unit.Length(r.high), HeightMin: unit.Length(r.low), Flats: unit.Length(r.flats),
			Corners: unit.Length(exactly(r.flats * cornersOfFlats)), Bearing: unit.Length(r.bears),
			DragMax: unit.Torque(r.on * 1000), DragMin: unit.Torque(r.off * 1000),
			MassG: nutMass(kind, r.flats, r.high, t.d.MM(), t.p.MM()), Source: source,
		})
	}
	return out
}

// inchBearing is the bearing face of inch nuts as a part of the flats; common
// practice, no source (ISO 4032 has 0.89 to 0.94).
const inchBearing = 0.9

// inchPound is 1 in-lbf in N·mm.
const inchPound = 4.4482216152605 * 25.4

func inchNuts(standard, kind string, rows []nutRow, source string) []Nut {
	var out []Nut
	for i, r := range rows {
		t := uncThreads[i]
		flats := in(r.flats)
		out = append(out, Nut{
			Name: standard + " " + r.thread, Kind: kind, Thread: r.thread,
			Height: in(r.high), HeightMin: in(r.low), Flats: flats,
			Corners: unit.Length(exactly(flats.MM() * cornersOfFlats)), Bearing: unit.Length(exactly(flats.MM() * inchBearing)),
			DragMax: unit.Torque(exactly(r.on * inchPound)), DragMin: unit.Torque(exactly(r.off * inchPound)),
			MassG: nutMass(kind, flats.MM(), in(r.high).MM(), in(t.d).MM(), in(1/t.tpi).MM()), Source: source,
		})
	}
	return out
}

// Metric rows stand in the order of metricThreads, inch rows in that of
// uncThreads; a test holds them to it.
var iso4032 = []nutRow{
	{"M4", 3.2, 2.9, 7, 5.9, 0, 0},
	{"M5", 4.7, 4.4, 8, 6.9, 0, 0},
	{"M6", 5.2, 4.9, 10, 8.9, 0, 0},
	{"M8", 6.8, 6.44, 13, 11.6, 0, 0},
	{"M10", 8.4, 8.04, 16, 14.6, 0, 0},
	{"M12", 10.8, 10.37, 18, 16.6, 0, 0},
	{"M14", 12.8, 12.1, 21, 19.6, 0, 0},
	{"M16", 14.8, 14.1, 24, 22.5, 0, 0},
}

var iso7040 = []nutRow{
	{"M4", 6, 5.52, 7, 5.9, 0.9, 0.18},
	{"M5", 6.8, 6.22, 8, 6.9, 1.6, 0.29},
	{"M6", 8, 7.42, 10, 8.9, 3, 0.45},
	{"M8", 9.5, 8.92, 13, 11.6, 6, 0.85},
	{"M10", 11.9, 11.2, 16, 14.6, 10.5, 1.5},
	{"M12", 14.9, 14.2, 18, 16.6, 15.5, 2.3},
	{"M14", 17, 15.9, 21, 19.6, 24, 3.3},
	{"M16", 19.1, 17.8, 24, 22.5, 32, 4.5},
}

var din985 = []nutRow{
	{"M4", 5, 4.7, 7, 5.9, 0.9, 0.18},
	{"M5", 5, 4.7, 8, 6.9, 1.6, 0.29},
	{"M6", 6, 5.7, 10, 8.9, 3, 0.45},
	{"M8", 8, 7.64, 13, 11.6, 6, 0.85},
	{"M10", 10, 9.64, 17, 15.6, 10.5, 1.5},
	{"M12", 12, 11.57, 19, 17.4, 15.5, 2.3},
	{"M14", 14, 13.3, 22, 20.5, 24, 3.3},
	{"M16", 16, 15.3, 24, 22.5, 32, 4.5},
}

var iso4035 = []nutRow{
	{"M4", 2.2, 1.95, 7, 5.9, 0, 0},
	{"M5", 2.7, 2.45, 8, 6.9, 0, 0},
	{"M6", 3.2, 2.9, 10, 8.9, 0, 0},
	{"M8", 4, 3.7, 13, 11.6, 0, 0},
	{"M10", 5, 4.7, 16, 14.6, 0, 0},
	{"M12", 6, 5.7, 18, 16.6, 0, 0},
	{"M14", 7, 6.42, 21, 19.6, 0, 0},
	{"M16", 8, 7.42, 24, 22.5, 0, 0},
}

var b1822hex = []nutRow{
	{"1/4-20", .226, .212, .438, 0, 0, 0},
	{"5/16-18", .273, .258, .500, 0, 0, 0},
	{"3/8-16", .337, .320, .562, 0, 0, 0},
	{"7/16-14", .385, .365, .688, 0, 0, 0},
	{"1/2-13", .448, .427, .750, 0, 0, 0},
	{"9/16-12", .496, .473, .875, 0, 0, 0},
	{"5/8-11", .559, .535, .938, 0, 0, 0},
}

var b18166 = []nutRow{
	{"1/4-20", .328, .298, .439, 0, 40, 5},
	{"5/16-18", .359, .329, .502, 0, 80, 8},
	{"3/8-16", .468, .438, .564, 0, 110, 12},
	{"7/16-14", .468, .438, .627, 0, 135, 17},
	{"1/2-13", .609, .579, .752, 0, 204, 22},
	{"9/16-12", .656, .626, .877, 0, 300, 30},
	{"5/8-11", .765, .735, .940, 0, 420, 39},
}

var b1822jam = []nutRow{
	{"1/4-20", .163, .150, .438, 0, 0, 0},
	{"5/16-18", .195, .180, .500, 0, 0, 0},
	{"3/8-16", .227, .210, .562, 0, 0, 0},
	{"7/16-14", .260, .240, .688, 0, 0, 0},
	{"1/2-13", .323, .302, .750, 0, 0, 0},
	{"9/16-12", .324, .301, .875, 0, 0, 0},
	{"5/8-11", .387, .363, .938, 0, 0, 0},
}
