package wiring

import (
	"fmt"
	"math"

	"clampwright/params/number"
)

// volts, amps, mm write a quantity for a sentence.
func volts(v float64) string { return number.Trim(v, 2) + " V" }

func amps(a float64) string {
	if math.Abs(a) >= 1000 {
		return number.Trim(a/1000, 1) + " kA"
	}
	return number.Trim(a, 1) + " A"
}

func mm(v float64) string { return number.Trim(v, 1) + " mm" }

func percent(f float64) string { return number.Trim(100*f, 0) + " %" }

// count writes "1 link", "3 links".
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
