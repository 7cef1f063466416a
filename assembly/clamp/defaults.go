package clamp

// Defaults and tolerances of the package, each with its reason.
const (
	// SnugForceN is the rod force that finger-tight nuts leave behind:
	// common practice, no source.
	SnugForceN = 20
	// SwellZoneShare is the middle part of the face, of its width and of its
	// height, where the case domes: common practice, no source.
	SwellZoneShare = 0.6
	// StiffenerReachMM is how far a rod's height may differ from a stiffener's
	// axis and still bear on it.
	StiffenerReachMM = 1.0

	// The friction band used when none is given: published coefficients for dry
	// and zinc plated steel lie between these (tables of handbooks disagree).
	FrictionLow, FrictionNominal, FrictionHigh = 0.15, 0.20, 0.30

	// hotReferenceC and roomC are the temperatures Plate.HotFactor relates.
	hotReferenceC, roomC = 40.0, 23.0
	// leastHotFactor keeps an extrapolated modulus from vanishing.
	leastHotFactor = 0.2

	// shearFactor is Reissner's correction for a homogeneous plate.
	shearFactor = 5.0 / 6.0
	// thinShearFactor times the bending stiffness scale stands in for infinite
	// shear stiffness; the element does not lock.
	thinShearFactor = 1e3

	// plateReserve is the strength over stress below which a bending margin
	// warns: common practice, no source.
	plateReserve = 1.5

	// gridTargetShare: the default element edge is the lesser face dimension
	// over this number; chosen by the grid study in the tests.
	gridPerFace = 22
	// coarseRatio is how much coarser the grid for searching and bands is.
	coarseRatio = 2.0

	// usualNodes is the most nodes of the default grid.
	usualNodes = 6000
)

// DefaultStates is the list of states every fixture is judged by. "Most grown" is
// added where the growth table has its greatest value short of full charge.
func DefaultStates(in Input) []StateSpec {
	c, t := in.AssemblyCharge, in.Climate
	out := []StateSpec{
		{Name: "as tightened", Tighten: true, Charge: c, TempC: t.AssemblyC},
		{Name: "storage charge", Charge: in.StorageCharge, TempC: t.AssemblyC},
		{Name: "full", Charge: 1, TempC: t.AssemblyC},
		{Name: "full and aged", Charge: 1, Aged: 1, TempC: t.AssemblyC},
		{Name: "after 1 h", Charge: c, Hours: 1, TempC: t.AssemblyC},
		{Name: "after 1000 h", Charge: c, Hours: 1000, TempC: t.AssemblyC},
		{Name: "hot", Charge: c, TempC: t.HotC},
		{Name: "cold", Charge: c, TempC: t.ColdC},
	}
	if peak := in.peakCharge(); peak < 1 {
		out = append(out, StateSpec{Name: "most grown", Charge: peak, TempC: t.AssemblyC})
	}
	return out
}

// peakCharge returns the charge at which the first row's cells are thickest: not
// full charge where the growth table dips towards it.
func (in Input) peakCharge() float64 {
	peak := 1.0
	if len(in.Rows) == 0 {
		return peak
	}
	g := in.Rows[0].Growth
	for _, p := range g.Points {
		if p.Value > g.at(peak) {
			peak = p.Charge
		}
	}
	return peak
}
