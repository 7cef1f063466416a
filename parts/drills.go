package parts

import "math"

// mostStep is how many times wider than the hole before it a drill may be: wider
// ones grab, and wander from the pilot (common practice, no source).
const mostStep = 3.5

// DrillSteps are the drills that open a pilot to a hole, the pilot first and the
// hole's own diameter last, mm, with steps between that are equal in proportion.
// Without a pilot: the hole alone.
func DrillSteps(pilotMM, diaMM float64) []float64 {
	if !(pilotMM > 0) || pilotMM >= diaMM {
		return []float64{diaMM}
	}
	n := math.Max(1, math.Ceil(math.Log(diaMM/pilotMM)/math.Log(mostStep)))
	out := []float64{pilotMM}
	for i := 1.0; i < n; i++ {
		out = append(out, math.Round(10*pilotMM*math.Pow(diaMM/pilotMM, i/n))/10)
	}
	return append(out, diaMM)
}
