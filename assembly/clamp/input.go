package clamp

// Input is everything the mechanics needs, in plain numbers. The zero value of
// an optional field means the default named beside it.
type Input struct {
	Plate      Plate       `json:"plate"`
	Rows       []Row       `json:"rows"` // one or two, each one stack of cells
	Stiffeners []Stiffener `json:"stiffeners,omitempty"`
	Rods       []Rod       `json:"rods"`
	Window     Window      `json:"window"`
	Friction   Friction    `json:"friction"`
	Climate    Climate     `json:"climate"`

	AssemblyCharge float64 `json:"assembly_charge"` // charge when tightened, 0..1
	StorageCharge  float64 `json:"storage_charge"`  // charge of the state "storage charge", 0..1

	SwellZone float64     `json:"swell_zone,omitempty"` // middle part of face width and height that domes; default SwellZoneShare
	States    []StateSpec `json:"states,omitempty"`     // default DefaultStates
	Stiffness float64     `json:"stiffness,omitempty"`  // of the cells over the table's, by readings; 0: as in the table
	GridMM    float64     `json:"grid_mm,omitempty"`    // greatest element edge; default derived from the face
}

// Plate is one of the two equal end plates. For a sheet with a grain, Ex and Ey
// are the bending moduli along x and y (the caller turns the grain).
type Plate struct {
	WidthMM     float64 `json:"width_mm"`
	HeightMM    float64 `json:"height_mm"`
	ThicknessMM float64 `json:"thickness_mm"`

	ExMPa  float64 `json:"ex_mpa"`
	EyMPa  float64 `json:"ey_mpa,omitempty"`  // 0: isotropic, Ex both ways
	GxyMPa float64 `json:"gxy_mpa,omitempty"` // in-plane (twist) shear modulus; 0: Ex/(2(1+nu)), or sqrt(Ex Ey)/(2(1+nu)) with a grain
	Nu     float64 `json:"nu"`                // contraction along y under stress along x; nu_yx = Nu Ey/Ex
	GxzMPa float64 `json:"gxz_mpa,omitempty"` // transverse shear moduli; 0: as GxyMPa
	GyzMPa float64 `json:"gyz_mpa,omitempty"`
	Thin   bool    `json:"thin,omitempty"` // leave transverse shear out: Kirchhoff's thin plate

	StrengthXMPa float64 `json:"strength_x_mpa"`           // bending strength or yield along x
	StrengthYMPa float64 `json:"strength_y_mpa,omitempty"` // 0: as StrengthXMPa

	SeatShortMPa float64 `json:"seat_short_mpa,omitempty"` // pressure that the plate takes under an angle's foot, short term; 0: not judged
	SeatLongMPa  float64 `json:"seat_long_mpa,omitempty"`  // for lasting load; 0: as SeatShortMPa

	Creep     []CreepPoint `json:"creep,omitempty"`      // E(t)/E(short term), hours rising; empty: none
	HotFactor float64      `json:"hot_factor,omitempty"` // E at 40 °C over E at 23 °C; 0: 1
	BowMM     float64      `json:"bow_mm,omitempty"`     // hollow toward the cells: gap at the plate's middle when its edges touch; negative: belly
}

// CreepPoint is one point of a relative creep modulus curve.
type CreepPoint struct {
	Hours  float64 `json:"hours"`
	Factor float64 `json:"factor"`
}

// Rect is a rectangle in plate coordinates, mm.
type Rect struct {
	X0 float64 `json:"x0_mm"`
	Y0 float64 `json:"y0_mm"`
	X1 float64 `json:"x1_mm"`
	Y1 float64 `json:"y1_mm"`
}

// Row is one stack: Cells cells one behind the other, whose large face lies at
// Face on the plate.
type Row struct {
	Face     Rect   `json:"face"`
	Pressing []Rect `json:"pressing,omitempty"` // where pressure can pass (ribs or frame of a separator), not overlapping; empty: the whole face
	Cells    int    `json:"cells"`

	CellThicknessMM float64        `json:"cell_thickness_mm"`
	Squeeze         []SqueezePoint `json:"squeeze,omitempty"`              // one cell's curve; empty: linear StiffnessMPaPerMM
	Stiffness       float64        `json:"stiffness_mpa_per_mm,omitempty"` // one cell
	CTE             float64        `json:"cte_per_k,omitempty"`            // of the cell through its thickness

	Layers  []Layer `json:"layers,omitempty"` // separators, liners, pads
	Growth  Growth  `json:"growth"`
	BulgeMM float64 `json:"bulge_mm,omitempty"` // initial dome of one cell, both faces together
}

// SqueezePoint is one point of a through-thickness curve: pressure at a
// shortening. The curve starts at 0, 0 and rises; beyond the last point it goes
// on at the last slope.
type SqueezePoint struct {
	SqueezeMM   float64 `json:"squeeze_mm"`
	PressureMPa float64 `json:"pressure_mpa"`
}

// Layer is a sheet, pad or liner in series with the cells.
type Layer struct {
	Name        string         `json:"name"`
	Count       int            `json:"count"` // pieces in the stack
	ThicknessMM float64        `json:"thickness_mm"`
	EMPa        float64        `json:"e_mpa,omitempty"` // used when Curve is empty: p = E/t s
	Curve       []SqueezePoint `json:"curve,omitempty"` // one piece
	Creep       []CreepPoint   `json:"creep,omitempty"` // pressure left at equal shortening
	CTE         float64        `json:"cte_per_k,omitempty"`
}

// Growth is how one cell's free thickness changes, mm. The table need not be monotonic.
type Growth struct {
	Points []GrowthPoint `json:"points"`               // charge rising
	Aged   float64       `json:"aged"`                 // lasting growth at end of life, same unit
	Shape  string        `json:"shape"`                // ShapeDomed or ShapeFlat
	Edge   float64       `json:"edge_share,omitempty"` // domed: growth at the face's edge over growth in its middle
	Source string        `json:"source,omitempty"`
}

// GrowthPoint is the free growth at one charge.
type GrowthPoint struct {
	Charge float64 `json:"charge"`
	Value  float64 `json:"value"`
}

// The shapes of growth over the face.
const (
	ShapeDomed = "domed" // Edge + (1-Edge)(1-xi²)(1-eta²), xi and eta -1..1 over the face
	ShapeFlat  = "flat"
)

// Stiffener is one angle lying across the plate along x (leg.go), or a bare line:
// a beam in bending about its own axis parallel to the plate. It slips on the plate
// (no composite action).
type Stiffener struct {
	YMM float64 `json:"y_mm"` // height of the hole line
	// HeelMM and ToeMM are where the foot begins, at the outer face of the standing
	// leg, and ends, over YMM; equal for a bare line at YMM. StandMM is the length of
	// the standing leg.
	HeelMM     float64 `json:"heel_mm,omitempty"`
	ToeMM      float64 `json:"toe_mm,omitempty"`
	StandMM    float64 `json:"stand_mm,omitempty"`
	X0MM       float64 `json:"x0_mm"`
	X1MM       float64 `json:"x1_mm"`
	EMPa       float64 `json:"e_mpa"`
	IMM4       float64 `json:"i_mm4"`
	SectionMM3 float64 `json:"section_modulus_mm3"` // least
	YieldMPa   float64 `json:"yield_mpa"`
	LegMM      float64 `json:"leg_mm,omitempty"`   // thickness of the legs
	ReachMM    float64 `json:"reach_mm,omitempty"` // rods whose height is within this of YMM bear on it; default StiffenerReachMM
}

// Rod is one threaded rod through both plates.
type Rod struct {
	Name string  `json:"name,omitempty"`
	XMM  float64 `json:"x_mm"`
	YMM  float64 `json:"y_mm"`

	AreaMM2    float64 `json:"stress_area_mm2"`
	DiameterMM float64 `json:"diameter_mm"` // nominal, for torque
	PitchMM    float64 `json:"pitch_mm"`
	PitchDiaMM float64 `json:"pitch_diameter_mm,omitempty"`     // d2; 0: metric from diameter and pitch
	NutMinorMM float64 `json:"nut_minor_diameter_mm,omitempty"` // D1; 0: metric
	EMPa       float64 `json:"e_mpa"`
	ProofMPa   float64 `json:"proof_mpa"`
	FreeMM     float64 `json:"free_mm"`                     // length that stretches, nut to nut
	EngagedMM  float64 `json:"engaged_mm"`                  // thread in one nut
	OutgrownMM float64 `json:"outgrown_mm_per_k,omitempty"` // by which what it holds beside the stack lengthens beyond the rod
	Spring     Spring  `json:"spring"`
	SettleMM   float64 `json:"settle_mm,omitempty"` // embedding and settling of this rod's whole grip by 1000 h
	Share      float64 `json:"share,omitempty"`     // of the tightening force, relative to the others; 0: 1
	Seat       Seat    `json:"seat"`
	DragMinNMM float64 `json:"drag_min_nmm,omitempty"` // the nut's own running torque
	DragMaxNMM float64 `json:"drag_max_nmm,omitempty"`
}

// Seat is where the washer bears.
type Seat struct {
	InnerMM  float64 `json:"inner_mm"` // greater of washer bore and hole
	OuterMM  float64 `json:"outer_mm"`
	ShortMPa float64 `json:"short_mpa"` // allowable bearing pressure, short term
	LongMPa  float64 `json:"long_mpa"`  // sustained; 0: as ShortMPa
	Material string  `json:"material,omitempty"`
}

// Spring is the stack of springs on one rod.
type Spring struct {
	Kind     string     `json:"kind,omitempty"` // SpringNone, SpringDisc, SpringCoil
	Disc     DiscSpring `json:"disc"`
	Coil     CoilSpring `json:"coil"`
	Parallel int        `json:"parallel,omitempty"` // nested the same way; default 1
	Series   int        `json:"series,omitempty"`   // opposed; default 1
	Ends     int        `json:"ends,omitempty"`     // stacks per rod, 1 or 2; default 1
}

// The kinds of spring.
const (
	SpringNone = ""
	SpringDisc = "disc"
	SpringCoil = "coil"
)

// Window is the force that may press on each row, N: from Min to Max about Target
// when the clamp is set, from Floor to Limit in every other state.
type Window struct {
	Kind   string  `json:"kind"` // WindowForce, WindowNone, WindowUnknown
	Min    float64 `json:"min"`
	Target float64 `json:"target"`
	Max    float64 `json:"max"`
	Floor  float64 `json:"floor,omitempty"`  // 0: Min
	Limit  float64 `json:"limit,omitempty"`  // 0: Max
	Middle float64 `json:"middle,omitempty"` // least part of the mean in the swell zone, where the data sheet gives one
	Source string  `json:"source,omitempty"`
}

// The kinds of window.
const (
	WindowForce   = "force"   // the data sheet asks for it
	WindowNone    = "none"    // the case carries the load: hold, do not press
	WindowUnknown = "unknown" // the data sheet says nothing
)

// Friction is the band of the torque coefficient K in T = K d F.
type Friction struct {
	Low     float64 `json:"low"`
	Nominal float64 `json:"nominal"`
	High    float64 `json:"high"`
}

// Climate is the temperatures met, °C.
type Climate struct {
	AssemblyC float64 `json:"assembly_c"`
	HotC      float64 `json:"hot_c"`
	ColdC     float64 `json:"cold_c"`
}

// StateSpec asks for one state. The nuts are where tightening left them, except
// in a state with Tighten set, where every rod carries its share of the target.
type StateSpec struct {
	Name    string  `json:"name"`
	Tighten bool    `json:"tighten,omitempty"`
	Charge  float64 `json:"charge"`
	Aged    float64 `json:"aged,omitempty"`  // share of the end-of-life growth, 0..1
	Hours   float64 `json:"hours,omitempty"` // under load: creep and settling
	TempC   float64 `json:"temp_c"`
}
