// Package catalog holds the built-in tables of trade sizes: threads, holes,
// nuts, washers, angles, materials, cells, drills and tools. Every row names its
// source; rows from memory of a standard say so, and trade habits without a
// standard are marked CommonPractice. The user's own file can add rows or
// replace them (see Tables).
package catalog

import (
	"math"

	"clampwright/params/unit"
)

// CommonPractice marks a row that follows trade habit and no standard.
const CommonPractice = "common practice, no source"

// Thread is one external screw thread used for rods.
// Lengths are millimetres, areas mm².
type Thread struct {
	Name        string      `json:"name"`   // "M8", "5/16-18"
	System      string      `json:"system"` // "metric" or "unc"
	Major       unit.Length `json:"major_mm"`
	Pitch       unit.Length `json:"pitch_mm"`
	PitchDia    unit.Length `json:"pitch_diameter_mm"`
	MinorDia    unit.Length `json:"minor_diameter_mm"` // root of the external thread
	NutMinorDia unit.Length `json:"nut_minor_diameter_mm"`
	StressArea  unit.Area   `json:"stress_area_mm2"`
	HoleFine    unit.Length `json:"hole_fine_mm"`   // ISO 273 fine, ASME close
	HoleMedium  unit.Length `json:"hole_medium_mm"` // ISO 273 medium, ASME normal
	HoleCoarse  unit.Length `json:"hole_coarse_mm"` // ISO 273 coarse, ASME loose
	HoleShop    unit.Length `json:"hole_shop_mm"`   // common practice: UNC major + 1/16 in; metric = medium
	TapDrill    unit.Length `json:"tap_drill_mm"`
	Source      string      `json:"source"`
}

// Grade is the strength class of rods.
type Grade struct {
	Name        string        `json:"name"` // "4.8", "8.8", "A2-70", "ungraded"
	Proof       unit.Pressure `json:"proof_mpa"`
	Yield       unit.Pressure `json:"yield_mpa"`
	Tensile     unit.Pressure `json:"tensile_mpa"`
	Modulus     unit.Pressure `json:"modulus_mpa"`
	DensityGCM3 float64       `json:"density_g_cm3"`
	CTE         float64       `json:"cte_per_k"` // 1/K
	Source      string        `json:"source"`
}

// Nut is one hexagon nut for one thread.
type Nut struct {
	Name      string      `json:"name"`      // "ISO 4032 M8"
	Kind      string      `json:"kind"`      // "plain", "prevailing", "jam"
	Thread    string      `json:"thread"`    // Thread.Name
	Height    unit.Length `json:"height_mm"` // greatest height
	HeightMin unit.Length `json:"height_min_mm"`
	Flats     unit.Length `json:"flats_mm"`     // greatest width across flats
	Corners   unit.Length `json:"corners_mm"`   // greatest width across corners
	Bearing   unit.Length `json:"bearing_mm"`   // bearing face diameter, least
	DragMax   unit.Torque `json:"drag_max_nmm"` // prevailing torque, first on, greatest; 0 for plain nuts
	DragMin   unit.Torque `json:"drag_min_nmm"` // prevailing torque, first off, least
	MassG     float64     `json:"mass_g"`
	Source    string      `json:"source"`
}

// Washer is one plain washer for one thread.
type Washer struct {
	Name      string      `json:"name"`   // "ISO 7089 M8"
	Series    string      `json:"series"` // "standard", "large"
	Thread    string      `json:"thread"`
	Inner     unit.Length `json:"inner_mm"`
	Outer     unit.Length `json:"outer_mm"`
	Thickness unit.Length `json:"thickness_mm"`
	Source    string      `json:"source"`
}

// AngleSection is a rolled or extruded angle.
// LegA and LegB are outside leg lengths, root is the fillet between the legs'
// inner faces, toe the rounding of each leg's inner tip edge (0 when sharp).
type AngleSection struct {
	Name      string      `json:"name"` // "30x30x3 mm aluminium"
	LegA      unit.Length `json:"leg_a_mm"`
	LegB      unit.Length `json:"leg_b_mm"`
	Thickness unit.Length `json:"thickness_mm"`
	Root      unit.Length `json:"root_radius_mm"`
	Toe       unit.Length `json:"toe_radius_mm"`
	Material  string      `json:"material"` // Material.Name
	Source    string      `json:"source"`
}

// Material is what plates, angles, separators, liners and links are made of.
// For isotropic materials EAcross is zero and E serves both ways; for plywood
// E is along the face grain and EAcross across it (bending).
type Material struct {
	Name           string           `json:"name"`
	Family         string           `json:"family"` // "plastic", "wood", "metal", "laminate"
	E              unit.Pressure    `json:"e_mpa"`
	EAcross        unit.Pressure    `json:"e_across_mpa,omitempty"`
	Shear          unit.Pressure    `json:"shear_modulus_mpa,omitempty"` // in-plane (twist); 0: E/(2(1+nu))
	RollingShear   unit.Pressure    `json:"rolling_shear_mpa,omitempty"` // transverse shear modulus of wood; 0: as Shear
	Nu             float64          `json:"nu"`
	Strength       unit.Pressure    `json:"strength_mpa"` // bending strength or yield, short term
	StrengthAcross unit.Pressure    `json:"strength_across_mpa,omitempty"`
	SeatLong       unit.Pressure    `json:"seat_long_mpa,omitempty"`  // washer bearing, sustained
	SeatShort      unit.Pressure    `json:"seat_short_mpa,omitempty"` // washer bearing, short
	Creep          []CreepPoint     `json:"creep,omitempty"`          // E(t)/E(short); empty: no creep
	Squeeze        []StrainPoint    `json:"squeeze,omitempty"`        // of a pad: pressure against squeeze, in place of E; empty: a sheet that hardly gives way
	HotFactor      float64          `json:"hot_factor,omitempty"`     // E at 40 C over E at 23 C; 0: 1
	MaxService     unit.Temperature `json:"max_service_c,omitempty"`
	DensityGCM3    float64          `json:"density_g_cm3"`
	CTE            float64          `json:"cte_per_k"`
	Conducts       bool             `json:"conducts"`
	NoGlue         bool             `json:"no_glue,omitempty"`        // no usual glue holds on it
	NoBeam         bool             `json:"no_beam,omitempty"`        // a laser chars it and does not cut through
	Dust           string           `json:"dust,omitempty"`           // what its dust asks of who cuts it
	Thicknesses    []unit.Length    `json:"thicknesses_mm,omitempty"` // usual sheet thicknesses (true sizes)
	Source         string           `json:"source"`
}

// CreepPoint is one point of a relative creep modulus curve.
type CreepPoint struct {
	Hours  float64 `json:"hours"`
	Factor float64 `json:"factor"` // E(t)/E(short term)
}

// StrainPoint is one point of pressure against squeeze as a part of the thickness.
type StrainPoint struct {
	Strain   float64       `json:"strain"`
	Pressure unit.Pressure `json:"pressure_mpa"`
}

// Cell is a prismatic cell described by its sizes, as on a data sheet.
type Cell struct {
	Name           string      `json:"name"` // "72x174x201"
	Thickness      unit.Length `json:"thickness_mm"`
	Width          unit.Length `json:"width_mm"`
	Height         unit.Length `json:"height_mm"`        // case bottom to case top, terminals excluded
	ThicknessTol   unit.Length `json:"thickness_tol_mm"` // plus or minus
	WidthTol       unit.Length `json:"width_tol_mm"`
	HeightTol      unit.Length `json:"height_tol_mm"`
	Mass           unit.Mass   `json:"mass_g"`
	CapacityAh     float64     `json:"capacity_ah"`
	ResistanceMOhm float64     `json:"resistance_mohm"`
	TerminalPitch  unit.Length `json:"terminal_pitch_mm"`    // centre to centre, along the width
	TerminalDia    unit.Length `json:"terminal_diameter_mm"` // pad
	TerminalHeight unit.Length `json:"terminal_height_mm"`   // pad top above the case top
	TerminalThread string      `json:"terminal_thread"`      // "M6"
	StudHeight     unit.Length `json:"stud_height_mm"`       // above the pad; 0: tapped hole
	VentLength     unit.Length `json:"vent_length_mm"`       // along the width
	VentWidth      unit.Length `json:"vent_width_mm"`
	ClampForce     unit.Force  `json:"clamp_force_n"`
	ClampForceTol  unit.Force  `json:"clamp_force_tol_n"`
	Source         string      `json:"source"`
}

// Drill is one twist drill.
type Drill struct {
	Name   string      `json:"name"`   // "7/16", "F", "#7", "6.6"
	Series string      `json:"series"` // "fraction", "letter", "number", "metric"
	Dia    unit.Length `json:"diameter_mm"`
	Source string      `json:"source"`
}

// Socket is the outside diameter of a hand socket for one hexagon size; a
// planning allowance that the user should replace by a measured one.
type Socket struct {
	Name   string      `json:"name"` // "13 mm", "1/2 in"
	Flats  unit.Length `json:"flats_mm"`
	Outer  unit.Length `json:"outer_mm"`
	Length unit.Length `json:"length_mm"`
	Source string      `json:"source"`
}

// DiscSpring is one conical disc spring (EN 16983 sizes).
type DiscSpring struct {
	Name   string      `json:"name"`           // "16x8.2x0.9"
	Outer  unit.Length `json:"outer_mm"`       // De
	Inner  unit.Length `json:"inner_mm"`       // Di
	T      unit.Length `json:"thickness_mm"`   // t
	H0     unit.Length `json:"cone_height_mm"` // h0
	Source string      `json:"source"`
}

// guidePlay is the play of a disc spring on its guide, by the bore, mm in
// diameter: EN 16983 and its forerunner, from memory.
var guidePlay = []struct{ bore, play unit.Length }{{16, 0.2}, {20, 0.3}, {26, 0.4}, {31.5, 0.5}, {50, 0.6}, {80, 0.8}, {140, 1}}

// threadPlay is what is allowed beside because a threaded rod is no ground mandrel
// and rods in inches stand between metric bores, mm in diameter: common practice,
// no source.
const threadPlay = 0.7

// GuidePlay is the most play, in diameter, at which a threaded rod still guides the
// disc.
func (d DiscSpring) GuidePlay() unit.Length {
	for _, g := range guidePlay {
		if d.Inner <= g.bore {
			return g.play + threadPlay
		}
	}
	return guidePlay[len(guidePlay)-1].play + threadPlay
}

// GuidedBy says whether a rod of a thread's major diameter passes the disc and
// guides it.
func (d DiscSpring) GuidedBy(major unit.Length) bool {
	const rounding = 1e-9
	return d.Inner > major && d.Inner-major <= d.GuidePlay()+rounding
}

// discWork is the part of a disc spring's cone height that is used: common practice
// after makers' catalogues.
const discWork = 0.75

// Work is the greatest deflection in use.
func (d DiscSpring) Work() unit.Length { return discWork * d.H0 }

// CoilSpring is one helical compression spring. Its rate follows from wire, coils and
// shear modulus, or is Given, as that of a die spring, whose wire is not round.
type CoilSpring struct {
	Name   string        `json:"name"`
	Wire   unit.Length   `json:"wire_mm"` // radially
	Mean   unit.Length   `json:"mean_diameter_mm"`
	Active float64       `json:"active_coils,omitempty"`
	Free   unit.Length   `json:"free_length_mm"`
	Solid  unit.Length   `json:"solid_length_mm"`
	Shear  unit.Pressure `json:"shear_modulus_mpa,omitempty"`
	Given  float64       `json:"rate,omitempty"`      // N/mm
	Stroke unit.Length   `json:"stroke_mm,omitempty"` // greatest in use; 0: coilWork of the way to solid
	Source string        `json:"source"`
}

// coilWork is the part of a coil spring's way to solid that is used where its stroke is
// not given; common practice, no source.
const coilWork = 0.85

// Work is the greatest deflection in use.
func (c CoilSpring) Work() unit.Length {
	if c.Stroke > 0 {
		return c.Stroke
	}
	return coilWork * (c.Free - c.Solid)
}

// ShearMost is the greatest shear stress of round wire under lasting load: 0.5 of the
// least strength of patented wire, 1845 - 700 lg d MPa (EN 10270-1 SM, EN 13906-1; from
// memory). Where the maker gives rate and stroke, the stroke is the limit, and the stress
// only what no spring steel stands: 0.56 of 1800 MPa (EN 10089, from memory).
func (c CoilSpring) ShearMost() unit.Pressure {
	switch {
	case c.Wire <= 0:
		return 0
	case c.Given > 0 && c.Stroke > 0:
		return 1000
	}
	return unit.Pressure(0.5 * (1845 - 700*math.Log10(c.Wire.MM())))
}

// coilPlay is how much wider than the rod, in diameter, a coil spring may be and still
// be kept in line by it, mm; common practice, no source.
const coilPlay = 2.5

// GuidedBy says whether a rod of a thread's major diameter passes the spring and keeps
// it in line.
func (c CoilSpring) GuidedBy(major unit.Length) bool {
	play := c.Mean - c.Wire - major
	return play > 0 && play <= coilPlay
}
