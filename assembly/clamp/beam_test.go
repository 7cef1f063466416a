package clamp

import (
	"math"
	"testing"
)

// beamOnly returns a model whose plate weighs nothing in stiffness: one
// stiffener in the middle row of a ribbon, with w held at the given x.
func beamOnly(length, ei float64, n int, supports ...float64) *model {
	xs := make([]float64, n+1)
	for i := range xs {
		xs[i] = length * float64(i) / float64(n)
	}
	p := Plate{WidthMM: length, HeightMM: 2, ThicknessMM: 0.01, ExMPa: 1e-3, Nu: 0}
	s := []Stiffener{{YMM: 1, X0MM: 0, X1MM: length, EMPa: ei, IMM4: 1}}
	held := func(i, j, kind int) bool {
		if j != 1 {
			return true // the ribbon's rims: only the beam is left
		}
		for _, x := range supports {
			if kind == dofW && math.Abs(xs[i]-x) < 1e-9 {
				return true
			}
		}
		return kind == dofBX || kind == dofBY
	}
	return newModel(p, s, xs, []float64{0, 1, 2}, held)
}

// lineLoad returns the loads of w per length.
func lineLoad(m *model, w float64) []float64 {
	b := make([]float64, m.n)
	for i := range m.xs {
		if e := m.eq(m.node(i, 1), dofW); e >= 0 {
			b[e] = w * (middle(m.xs, i) - middle(m.xs, i-1))
		}
	}
	return b
}

func at(m *model, x []float64, pos float64) float64 {
	return m.value(x, m.node(nearest(m.xs, pos), 1), dofW)
}

// Beams of any handbook: supported at both ends, and with overhangs.
func TestBeamsOfTheHandbook(t *testing.T) {
	const l, ei, w = 200.0, 69000 * 14000.0, 2.0
	m := beamOnly(l, ei, 40, 0, l)
	within(t, "even load", at(m, solvePlate(t, m, lineLoad(m, w)), l/2), 5*w*math.Pow(l, 4)/(384*ei), 0.005)
	b := make([]float64, m.n)
	b[m.eq(m.node(20, 1), dofW)] = 500
	within(t, "middle force", at(m, solvePlate(t, m, b), l/2), 500*l*l*l/(48*ei), 1e-6)

	// two supports, equal overhangs c, inner span s:
	// y_mid = w s² (5 s² - 24 c²)/(384 EI), y_tip = w c (3c³ + 6c² s - s³)/(24 EI)
	const c, s = 40.0, 160.0
	m = beamOnly(2*c+s, ei, 60, c, c+s)
	x := solvePlate(t, m, lineLoad(m, w))
	within(t, "overhung middle", at(m, x, c+s/2), w*s*s*(5*s*s-24*c*c)/(384*ei), 0.01)
	within(t, "overhung tip", at(m, x, 0), w*c*(3*c*c*c+6*c*c*s-s*s*s)/(24*ei), 0.02)

	// single overhang a, tip force F: y_tip = F a² (L+a)/(3EI)
	m = beamOnly(260, ei, 52, 0, 200)
	b = make([]float64, m.n)
	b[m.eq(m.node(52, 1), dofW)] = 100
	within(t, "tip force", at(m, solvePlate(t, m, b), 260), 100*60*60*260/(3*ei), 1e-6)
}

func TestBeamMoments(t *testing.T) {
	const l, ei, p = 200.0, 1e9, 500.0
	m := beamOnly(l, ei, 20, 0, l)
	b := make([]float64, m.n)
	b[m.eq(m.node(10, 1), dofW)] = p
	x := solvePlate(t, m, b)
	e := m.beams[9]
	eq := m.beamEqs(e)
	_, m2 := beamMoments(e.ei, e.length, x[eq[0]], x[eq[1]], x[eq[2]], x[eq[3]])
	within(t, "moment under the force", math.Abs(m2), p*l/4, 1e-6)
}

// addFoundation puts k per length on the beam's line.
func withFoundation(t *testing.T, m *model, k float64, b []float64) []float64 {
	t.Helper()
	band := m.stiffness(1)
	for i := range m.xs {
		if e := m.eq(m.node(i, 1), dofW); e >= 0 {
			band.add(e, k*(middle(m.xs, i)-middle(m.xs, i-1)))
		}
	}
	if !band.factorize() {
		t.Fatal("not positive definite")
	}
	x := append([]float64(nil), b...)
	band.solve(x)
	return x
}

// Hetenyi, Beams on Elastic Foundation (1946): infinite beam under a point
// force, w0 = P lambda/(2k), M0 = P/(4 lambda), first zero at 3 pi/(4 lambda);
// semi-infinite beam loaded at its end, w0 = 2 P lambda/k. Bonded foundation.
func TestBeamOnFoundation(t *testing.T) {
	const p, k, ei = 1000.0, 10.0, 70000 * 1e4
	lambda := math.Pow(k/(4*ei), 0.25)
	within(t, "lambda", lambda, 0.0077306, 1e-4)
	const l = 2000.0
	m := beamOnly(l, ei, 400)
	b := make([]float64, m.n)
	mid := m.node(200, 1)
	b[m.eq(mid, dofW)] = p
	x := withFoundation(t, m, k, b)
	within(t, "w0", m.value(x, mid, dofW), 0.38653, 0.01)
	e := m.beams[199]
	eq := m.beamEqs(e)
	_, m0 := beamMoments(e.ei, e.length, x[eq[0]], x[eq[1]], x[eq[2]], x[eq[3]])
	within(t, "M0", math.Abs(m0), 32339, 0.01)
	zero := 0.0
	for i := 200; i < 400; i++ {
		if m.value(x, m.node(i, 1), dofW) > 0 && m.value(x, m.node(i+1, 1), dofW) <= 0 {
			zero = m.xs[i] - l/2
			break
		}
	}
	within(t, "first zero", zero, 3*math.Pi/(4*lambda), 0.02)
	sum := 0.0
	for i := range m.xs {
		sum += k * at(m, x, m.xs[i]) * (middle(m.xs, i) - middle(m.xs, i-1))
	}
	within(t, "foundation carries the force", sum, p, 1e-6)

	b = make([]float64, m.n)
	b[m.eq(m.node(0, 1), dofW)] = p
	within(t, "end force", at(m, withFoundation(t, m, k, b), 0), 2*p*lambda/k, 0.01)
}

// A plate strip (nu = 0) on a foundation is Hetenyi's beam too.
func TestPlateStripOnFoundation(t *testing.T) {
	const l, width, h, e, foundation, p = 1200.0, 20.0, 10.0, 900.0, 0.16, 500.0
	xs := make([]float64, 241)
	for i := range xs {
		xs[i] = l * float64(i) / 240
	}
	m := newModel(Plate{WidthMM: l, HeightMM: width, ThicknessMM: h, ExMPa: e, Thin: true}, nil, xs, []float64{0, width / 2, width}, nil)
	band := m.stiffness(1)
	area := uniform(m, foundation)
	for eq, v := range area {
		band.add(eq, v)
	}
	if !band.factorize() {
		t.Fatal("singular")
	}
	x := make([]float64, m.n)
	for j, share := range []float64{0.25, 0.5, 0.25} {
		x[m.eq(m.node(120, j), dofW)] = p * share
	}
	band.solve(x)
	k := foundation * width
	lambda := math.Pow(k/(4*e*width*h*h*h/12), 0.25)
	within(t, "w0", m.value(x, m.node(120, 1), dofW), p*lambda/(2*k), 0.01)
}
