package clamp

import "math"

// knowledge is how the poorly known numbers are taken in one run: factors on
// the nominal cell stiffness and growth.
type knowledge struct{ stiffness, growth float64 }

var nominal = knowledge{1, 1}

// cellCurve returns one cell's through-thickness curve.
func (r Row) cellCurve() pwl {
	if len(r.Squeeze) == 0 {
		return linear(r.Stiffness)
	}
	return newPWL(r.Squeeze)
}

// pieceCurve returns one piece of a layer after some hours under load.
func (l Layer) pieceCurve(hours float64) pwl {
	c := linear(l.EMPa / l.ThicknessMM)
	if len(l.Curve) > 0 {
		c = newPWL(l.Curve)
	}
	return c.scalePressure(creepFactor(l.Creep, hours))
}

// stackCurve returns pressure against shortening of the whole stack of a row.
func (r Row) stackCurve(k knowledge, hours float64) pwl {
	curves := []pwl{r.cellCurve().scalePressure(k.stiffness)}
	counts := []float64{float64(r.Cells)}
	for _, l := range r.Layers {
		if l.Count > 0 {
			curves = append(curves, l.pieceCurve(hours))
			counts = append(counts, float64(l.Count))
		}
	}
	return series(curves, counts)
}

// creepFactor returns E(t)/E(short term), linear in the logarithm of time
// between the points, 1 at and before a thousandth of an hour.
func creepFactor(points []CreepPoint, hours float64) float64 {
	const shortTerm = 1e-3
	if len(points) == 0 || hours <= shortTerm {
		return 1
	}
	xs, ys := []float64{}, []float64{}
	if points[0].Hours > shortTerm {
		xs, ys = append(xs, math.Log(shortTerm)), append(ys, 1)
	}
	for _, p := range points {
		xs, ys = append(xs, math.Log(math.Max(p.Hours, shortTerm/2))), append(ys, p.Factor)
	}
	return table(xs, ys, math.Log(hours))
}

// at returns the free growth of one cell at a charge, mm.
func (g Growth) at(charge float64) float64 {
	xs, ys := make([]float64, len(g.Points)), make([]float64, len(g.Points))
	for i, p := range g.Points {
		xs[i], ys[i] = p.Charge, p.Value
	}
	return table(xs, ys, charge)
}

// stackGrowth returns the free growth of a row's whole stack since assembly at
// the middle of the face, mm.
func (r Row) stackGrowth(assembly float64, st StateSpec, k knowledge) float64 {
	v := r.Growth.at(st.Charge) - r.Growth.at(assembly) + st.Aged*r.Growth.Aged
	return v * k.growth * float64(r.Cells)
}

// stackThermal returns how much longer the free stack is at a temperature
// difference, mm.
func (r Row) stackThermal(dT float64) float64 {
	v := float64(r.Cells) * r.CellThicknessMM * r.CTE
	for _, l := range r.Layers {
		v += float64(l.Count) * l.ThicknessMM * l.CTE
	}
	return v * dT
}

// dome is 1 in the middle of a rectangle and 0 at its edge.
func dome(r Rect, x, y float64) float64 {
	c := r.centre()
	u, v := (x-c[0])/(r.X1-r.X0)*2, (y-c[1])/(r.Y1-r.Y0)*2
	return math.Max(1-u*u, 0) * math.Max(1-v*v, 0)
}

// domeMean is the mean of a dome over the face.
const domeMean = 4.0 / 9

// EdgeOf is the growth at the edge of a domed face whose mean is a part of that in its
// middle, as a part of that in its middle.
func EdgeOf(mean float64) float64 { return (mean - domeMean) / (1 - domeMean) }

// field returns the share of the growth at a spot of the face.
func (g Growth) field(face Rect, x, y float64) float64 {
	if g.Shape == ShapeFlat {
		return 1
	}
	return g.Edge + (1-g.Edge)*dome(face, x, y)
}

// initialGap returns how far the unloaded stack and two plates that touch a flat
// stack would be apart at a spot, mm; negative where a bulge stands out.
func (in Input) initialGap(r Row, x, y float64) float64 {
	plate := Rect{0, 0, in.Plate.WidthMM, in.Plate.HeightMM}
	return 2*in.Plate.BowMM*dome(plate, x, y) - float64(r.Cells)*r.BulgeMM*dome(r.Face, x, y)
}
