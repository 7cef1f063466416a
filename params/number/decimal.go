package number

import (
	"math"
	"strconv"
)

// appendDecimal appends v rounded to the given decimals.
func appendDecimal(b []byte, v float64, decimals int, trim bool) []byte {
	if math.IsNaN(v) {
		return append(b, "NaN"...)
	}
	if math.IsInf(v, 0) {
		return append(b, "Inf"...)
	}
	decimals = min(max(decimals, 0), MaxDecimals)
	var buf [400]byte // the longest shortest-form float64 has 327 characters
	digits := strconv.AppendFloat(buf[:0], math.Abs(v), 'f', -1, 64)
	digits = roundDigits(digits, decimals)
	if trim {
		digits = trimZeros(digits)
	}
	if v < 0 && !isZero(digits) {
		b = append(b, '-')
	}
	return append(b, digits...)
}

// roundDigits rounds an unsigned decimal text half up to exactly the given
// count of decimals, padding with zeros.
func roundDigits(d []byte, decimals int) []byte {
	point := len(d)
	for i, c := range d {
		if c == '.' {
			point = i
			break
		}
	}
	end := point + 1 + decimals
	if len(d) > end {
		up := d[end] >= '5'
		d = d[:end]
		if up {
			d = increment(d)
			point = len(d) - decimals - 1
		}
	} else {
		if point == len(d) {
			d = append(d, '.')
		}
		for len(d) < end {
			d = append(d, '0')
		}
	}
	if decimals == 0 {
		d = d[:point]
	}
	return d
}

// increment adds one to the last digit and carries.
func increment(d []byte) []byte {
	for i := len(d) - 1; i >= 0; i-- {
		switch d[i] {
		case '.':
		case '9':
			d[i] = '0'
		default:
			d[i]++
			return d
		}
	}
	return append([]byte{'1'}, d...)
}

// trimZeros drops zeros behind the point, and the point when it ends the text.
func trimZeros(d []byte) []byte {
	hasPoint := false
	for _, c := range d {
		hasPoint = hasPoint || c == '.'
	}
	if !hasPoint {
		return d
	}
	for d[len(d)-1] == '0' {
		d = d[:len(d)-1]
	}
	if d[len(d)-1] == '.' {
		d = d[:len(d)-1]
	}
	return d
}

// isZero reports whether the text has no digit but zero.
func isZero(d []byte) bool {
	for _, c := range d {
		if c != '0' && c != '.' {
			return false
		}
	}
	return true
}
