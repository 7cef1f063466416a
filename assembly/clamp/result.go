package clamp

import "clampwright/assembly/finding"

// Result is everything Solve finds.
type Result struct {
	Verdict  finding.Verdict `json:"verdict"` // worst of the states
	Sentence string          `json:"sentence"`
	Limiting string          `json:"limiting"` // "state: finding", empty when all pass
	States   []State         `json:"states"`
	Setting  Setting         `json:"setting"`
	Stacks   []Stack         `json:"stacks"` // per row
	Target   Asked           `json:"window"`
	Warnings []Warning       `json:"warnings"`
	Mesh     Mesh            `json:"mesh"`
}

// Asked is the window in use, as mean pressure over a face (MPa) and per row in
// N for the first row.
type Asked struct {
	Kind      string  `json:"kind"`
	MinKPa    float64 `json:"min_kpa"`
	TargetKPa float64 `json:"target_kpa"`
	MaxKPa    float64 `json:"max_kpa"`
	FloorKPa  float64 `json:"floor_kpa"`
	LimitKPa  float64 `json:"limit_kpa"`
	TargetN   float64 `json:"target_n"` // all rows together
	Source    string  `json:"source,omitempty"`
}

// Stack is one row's stiffness.
type Stack struct {
	StiffnessMPaPerMM float64 `json:"stiffness_mpa_per_mm"` // tangent at the target pressure, whole stack
	StiffnessNPerMM   float64 `json:"stiffness_n_per_mm"`
	SqueezeMM         float64 `json:"squeeze_mm"` // whole stack at the target pressure
	GrowthFullMM      float64 `json:"growth_full_mm"`
	GrowthAgedMM      float64 `json:"growth_aged_mm"` // full and aged, middle of the face
}

// State is the fixture in one state.
type State struct {
	Name            string            `json:"name"`
	ForceN          float64           `json:"force_n"`
	RodForceN       []float64         `json:"rod_force_n"`
	Pressure        Pressure          `json:"pressure_kpa"` // all rows: mean of all, least and greatest of any, centre and swell zone of the worst
	Rows            []RowLoad         `json:"rows"`
	ContactFraction float64           `json:"contact_fraction"`
	DeflectionMM    float64           `json:"plate_deflection_mm"` // greatest less least outward displacement of one plate over the faces
	StackMM         float64           `json:"stack_change_mm"`     // change of distance between the plates at the middle of the first face since tightening
	Margins         []Margin          `json:"margins"`
	SpringMM        []float64         `json:"spring_height_mm,omitempty"` // per rod
	Findings        []finding.Finding `json:"findings"`
	Verdict         finding.Verdict   `json:"verdict"`
	Limiting        string            `json:"limiting,omitempty"` // name of the worst finding
	Field           Field             `json:"field"`
	Steps           int               `json:"steps"` // of the contact iteration
}

// Pressure sums up a pressure field, kPa. Mean and Swell are over all the face or zone,
// as data sheets count it. Least and SwellLow are the least of the spots that can be
// pressed, times the part of the face or zone that they make, so that ribs or a frame
// that press evenly have their mean there; on a full sheet that part is 1.
type Pressure struct {
	Mean     float64 `json:"mean"`
	Least    float64 `json:"least"`
	Greatest float64 `json:"greatest"` // at any spot, as it is
	Centre   float64 `json:"centre"`   // at one spot
	Swell    float64 `json:"swell"`    // mean over the swell zone
	SwellLow float64 `json:"swell_least"`
}

// RowLoad is one row's share.
type RowLoad struct {
	ForceN          float64  `json:"force_n"`
	Pressure        Pressure `json:"pressure_kpa"`
	ContactFraction float64  `json:"contact_fraction"`
	SwellContact    float64  `json:"swell_contact_fraction"` // of what can be pressed in the swell zone, and of its holes
	Uneven          float64  `json:"unevenness"`             // root mean square of p/mean - 1, the swell zone counted twice
}

// Margin compares one part's stress with what it may take.
type Margin struct {
	Part    string          `json:"part"`  // "plate", "stiffener", "foot", "pad", "rod", "rod bending", "thread", "seat", "spring"
	Index   int             `json:"index"` // of the worst stiffener or rod
	Stress  float64         `json:"stress_mpa"`
	Allowed float64         `json:"allowed_mpa"`
	Margin  float64         `json:"margin"` // allowed/stress - 1
	Verdict finding.Verdict `json:"verdict"`
	AtXMM   float64         `json:"at_x_mm"`
	AtYMM   float64         `json:"at_y_mm"`
	Comment string          `json:"comment,omitempty"`
}

// Field is the pressure on the grid: KPa[j][i] at XMM[i], YMM[j] in plate
// coordinates; negative (-1) where no face lies.
type Field struct {
	XMM []float64   `json:"x_mm"`
	YMM []float64   `json:"y_mm"`
	KPa [][]float64 `json:"kpa"`
}

// Warning is a trap the numbers show; ID is stable.
type Warning struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

// Mesh tells the grid and its estimated error.
type Mesh struct {
	NX       int     `json:"nx"` // nodes of the whole plate
	NY       int     `json:"ny"`
	EdgeMM   float64 `json:"edge_mm"`
	Unknowns int     `json:"unknowns"`
	Half     bool    `json:"half"`         // solved on one half by symmetry
	Error    float64 `json:"centre_error"` // estimated relative error of the centre pressure, from a grid twice as coarse
}
