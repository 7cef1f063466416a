package wiring

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// volts, amps, mm write a quantity for a sentence.
func volts(v float64) string { return trim(v, 2) + " V" }

func amps(a float64) string {
	if math.Abs(a) >= 1000 {
		return trim(a/1000, 1) + " kA"
	}
	return trim(a, 1) + " A"
}

func mm(v float64) string { return trim(v, 1) + " mm" }

func percent(f float64) string { return trim(100*f, 0) + " %" }

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

// count writes "1 link", "3 links".
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// times writes "once", "3 times".
func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}
