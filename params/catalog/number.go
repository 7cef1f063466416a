package catalog

import (
	"math"
	"strconv"
)

// mixed writes inches that are whole 64ths as a reduced mixed number with a
// hyphen: 1-1/4, 3/4, 2.
func mixed(inches float64) string {
	n, den := int(math.Round(inches*64)), 64
	for n%2 == 0 && den > 1 {
		n, den = n/2, den/2
	}
	whole, part := n/den, strconv.Itoa(n%den)+"/"+strconv.Itoa(den)
	switch {
	case den == 1:
		return strconv.Itoa(whole)
	case whole == 0:
		return part
	}
	return strconv.Itoa(whole) + "-" + part
}

// exactly rounds away the dust of a multiplication by 25.4: no size in the
// tables has more than nine decimals of a millimetre.
func exactly(mm float64) float64 { return math.Round(mm*1e9) / 1e9 }
