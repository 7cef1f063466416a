package catalog

import (
	"math"
	"strconv"
	"strings"
)

// trim writes v with at most the given decimals and without trailing zeros.
func trim(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// exactly rounds away the dust of a multiplication by 25.4: no size in the
// tables has more than nine decimals of a millimetre.
func exactly(mm float64) float64 { return math.Round(mm*1e9) / 1e9 }
