package clamp

// beamStiffness returns the stiffness of an Euler beam element of length l with
// degrees of freedom w1, t1, w2, t2 (t = dw/dx); see any handbook of structures.
func beamStiffness(ei, l float64) [4][4]float64 {
	a, b, c, d := 12*ei/(l*l*l), 6*ei/(l*l), 4*ei/l, 2*ei/l
	return [4][4]float64{
		{a, b, -a, b},
		{b, c, -b, d},
		{-a, -b, a, -b},
		{b, d, -b, c},
	}
}

// beamMoments returns the bending moments EI w” at both ends of an element.
func beamMoments(ei, l, w1, t1, w2, t2 float64) (m1, m2 float64) {
	u := (w2 - w1) / l
	return ei / l * (6*u - 4*t1 - 2*t2), ei / l * (2*t1 + 4*t2 - 6*u)
}
