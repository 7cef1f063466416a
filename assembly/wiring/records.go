package wiring

// Record is one incoming cell as measured.
type Record struct {
	Serial      string
	CapacityAh  float64
	MilliOhm    float64
	Volts       float64
	CentreMM    float64 // thickness in the middle of the large face
	EdgeLeftMM  float64 // thickness at the edge on the left when the plus is on the right
	EdgeRightMM float64
}

// EdgeMM returns the mean thickness at the two edges.
func (r Record) EdgeMM() float64 { return (r.EdgeLeftMM + r.EdgeRightMM) / 2 }

// BulgeMM returns how much thicker the middle is than the edges, both faces
// together.
func (r Record) BulgeMM() float64 { return r.CentreMM - r.EdgeMM() }
