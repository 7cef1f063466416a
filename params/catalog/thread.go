package catalog

import (
	"math"

	"clampwright/params/unit"
)

// Ratios of thread geometry to pitch (basic profile of ISO 68-1 and
// ASME B1.1: H = sqrt(3)/2 P).
const (
	pitchDiaRatio = 0.649519 // d2 = d - 0.649519 P
	isoRootRatio  = 1.226869 // d3 = d - 1.226869 P, rounded root (ISO 898-1)
	uncRootRatio  = 1.299038 // dr = d - 1.299038 p (minor diameter area, ASME B1.1)
	nutMinorRatio = 1.082532 // D1 = d - 1.082532 P (ISO 724, ASME B1.1)
	uncAreaRatio  = 0.9743   // At = pi/4 (d - 0.9743 p)^2 (ASME B1.1)
)

// PitchDia is the basic pitch diameter d2 of a thread of major diameter d and pitch p.
func PitchDia[T ~float64](d, p T) T { return d - pitchDiaRatio*p }

// NutMinorDia is the basic minor diameter D1 of its nut.
func NutMinorDia[T ~float64](d, p T) T { return d - nutMinorRatio*p }

// metricStressArea is As = pi/4 ((d2+d3)/2)^2 (ISO 898-1), mm².
func metricStressArea(d2, d3 unit.Length) unit.Area {
	m := (d2 + d3).MM() / 2
	return unit.Area(math.Pi / 4 * m * m)
}

// uncStressArea is At = pi/4 (d - 0.9743/n)^2 (ASME B1.1), mm².
func uncStressArea(d, p unit.Length) unit.Area {
	m := d.MM() - uncAreaRatio*p.MM()
	return unit.Area(math.Pi / 4 * m * m)
}

// Clearance of holes for a thread of the user's own, as a part of the major
// diameter; about what the standards give from M5 to M16 (common practice).
const (
	ownFine   = 1.06
	ownMedium = 1.12
	ownCoarse = 1.20
)

// CompleteThread fills what is zero in a thread from its major diameter and
// pitch: pitch and minor diameters and the stress area by the formulas of the
// system ("metric" when empty), and holes by common practice. A thread without
// a positive major diameter and pitch comes back as it is.
func CompleteThread(t Thread) Thread {
	if !(t.Major > 0) || !(t.Pitch > 0) {
		return t
	}
	if t.System == "" {
		t.System = "metric"
	}
	fill(&t.PitchDia, PitchDia(t.Major, t.Pitch))
	fill(&t.NutMinorDia, NutMinorDia(t.Major, t.Pitch))
	if t.System == "unc" {
		fill(&t.MinorDia, t.Major-uncRootRatio*t.Pitch)
		fill(&t.StressArea, uncStressArea(t.Major, t.Pitch))
		fill(&t.HoleShop, t.Major+in(1.0/16))
	} else {
		fill(&t.MinorDia, t.Major-isoRootRatio*t.Pitch)
		fill(&t.StressArea, metricStressArea(PitchDia(t.Major, t.Pitch), t.Major-isoRootRatio*t.Pitch))
	}
	fill(&t.HoleFine, ownFine*t.Major)
	fill(&t.HoleMedium, ownMedium*t.Major)
	fill(&t.HoleCoarse, ownCoarse*t.Major)
	fill(&t.HoleShop, t.HoleMedium)
	fill(&t.TapDrill, t.Major-t.Pitch)
	return t
}

func fill[T ~float64](field *T, value T) {
	if *field == 0 {
		*field = value
	}
}

const (
	metricThreadSource = "ISO 261 coarse pitch; diameters and stress area by the formulas of ISO 724 and ISO 898-1; holes ISO 273; tap drill ISO 2306, from memory"
	uncThreadSource    = "ASME B1.1 UNC, diameters and stress area by its formulas; holes ASME B18.2.8 (close and loose drills, and normal over 7/16, from memory); shop hole major + 1/16 in, " + CommonPractice
	unc916Source       = "ASME B1.1 UNC, diameters and stress area by its formulas; holes " + CommonPractice
)

func threads() []Thread {
	var out []Thread
	for _, r := range metricThreads {
		source := metricThreadSource
		if r.name == "M4" {
			source += fromMemory
		}
		out = append(out, CompleteThread(Thread{
			Name: r.name, System: "metric", Major: r.d, Pitch: r.p,
			HoleFine: r.fine, HoleMedium: r.medium, HoleCoarse: r.coarse, HoleShop: r.medium, TapDrill: r.tap,
			Source: source,
		}))
	}
	for _, r := range uncThreads {
		t := Thread{
			Name: r.name, System: "unc", Major: in(r.d), Pitch: in(1 / r.tpi),
			HoleFine: in(r.close), HoleMedium: in(r.normal), HoleCoarse: in(r.loose), HoleShop: in(r.d + 1.0/16), TapDrill: in(r.tap),
			Source: uncThreadSource,
		}
		if r.name == "9/16-12" {
			t.Source = unc916Source
		}
		out = append(out, CompleteThread(t))
	}
	return out
}

// metricThreads: millimetres.
var metricThreads = []struct {
	name                            string
	d, p, fine, medium, coarse, tap unit.Length
}{
	{"M4", 4, 0.7, 4.3, 4.5, 4.8, 3.3},
	{"M5", 5, 0.8, 5.3, 5.5, 5.8, 4.2},
	{"M6", 6, 1, 6.4, 6.6, 7, 5},
	{"M8", 8, 1.25, 8.4, 9, 10, 6.8},
	{"M10", 10, 1.5, 10.5, 11, 12, 8.5},
	{"M12", 12, 1.75, 13, 13.5, 14.5, 10.2},
	{"M14", 14, 2, 15, 15.5, 16.5, 12},
	{"M16", 16, 2, 17, 17.5, 18.5, 14},
}

// uncThreads: inches, and threads per inch. Holes are the drills.
var uncThreads = []struct {
	name                              string
	d, tpi, close, normal, loose, tap float64
}{
	{"1/4-20", 1.0 / 4, 20, 17.0 / 64, 9.0 / 32, 19.0 / 64, 0.201},
	{"5/16-18", 5.0 / 16, 18, 21.0 / 64, 11.0 / 32, 23.0 / 64, 0.257},
	{"3/8-16", 3.0 / 8, 16, 25.0 / 64, 13.0 / 32, 27.0 / 64, 5.0 / 16},
	{"7/16-14", 7.0 / 16, 14, 29.0 / 64, 15.0 / 32, 31.0 / 64, 0.368},
	{"1/2-13", 1.0 / 2, 13, 17.0 / 32, 9.0 / 16, 39.0 / 64, 27.0 / 64},
	{"9/16-12", 9.0 / 16, 12, 19.0 / 32, 5.0 / 8, 43.0 / 64, 31.0 / 64},
	{"5/8-11", 5.0 / 8, 11, 21.0 / 32, 11.0 / 16, 47.0 / 64, 17.0 / 32},
}
