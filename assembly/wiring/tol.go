package wiring

// The numeric tolerances of this package, each with its reason.
const (
	// lengthTolMM is the rounding of plan-view lengths when links are told
	// apart: a hundredth of a millimetre is finer than any hole can be drilled.
	lengthTolMM = 0.01
	// currentTolA is the current that the network solver may leave in a cell
	// that carries none: about a millionth of a short circuit of one cell.
	currentTolA = 1e-2
	// voltageTolV is the difference allowed between the solved voltage of a
	// pack at no load and the sum of its cells.
	voltageTolV = 1e-6
	// chargeTol is the rounding allowed when two charge fractions are compared.
	chargeTol = 1e-9
	// leastLinkOhm keeps the network regular: a link below a tenth of a
	// micro-ohm is beyond what a bolted joint can reach.
	leastLinkOhm = 1e-7
)

// Limits that keep a wrong input from using up the machine.
const (
	mostCells  = 256
	mostRows   = 8
	mostLayers = 8
	mostScrews = 4
)
