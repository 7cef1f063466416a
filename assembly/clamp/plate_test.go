package clamp

import (
	"math"
	"testing"
)

// Handbook plates: Timoshenko and Woinowsky-Krieger, Theory of Plates and
// Shells. Lengths of the short side 100 mm, the plate thin.

type support int

const (
	simply support = iota
	clamped
	corners
)

// handbookPlate returns the model of a plate a by ratio a, n elements on the
// short side.
func handbookPlate(p Plate, n int, s support) *model {
	lines := func(length float64, n int) []float64 {
		out := make([]float64, n+1)
		for i := range out {
			out[i] = length * float64(i) / float64(n)
		}
		return out
	}
	nx := int(math.Round(float64(n) * p.WidthMM / p.HeightMM))
	held := func(i, j, kind int) bool {
		onX, onY := i == 0 || i == nx, j == 0 || j == n
		switch s {
		case clamped:
			return onX || onY
		case corners:
			return onX && onY && kind == dofW
		}
		return (onX && (kind == dofW || kind == dofBY)) || (onY && (kind == dofW || kind == dofBX))
	}
	return newModel(p, nil, lines(p.WidthMM, nx), lines(p.HeightMM, n), held)
}

// uniform returns the nodal loads of pressure q.
func uniform(m *model, q float64) []float64 {
	b := make([]float64, m.n)
	for i := range m.xs {
		for j := range m.ys {
			if e := m.eq(m.node(i, j), dofW); e >= 0 {
				b[e] = q * (middle(m.xs, i) - middle(m.xs, i-1)) * (middle(m.ys, j) - middle(m.ys, j-1))
			}
		}
	}
	return b
}

func (m *model) centreNode() int { return m.node(len(m.xs)/2, len(m.ys)/2) }

// centreLoad returns the loads of a point force in the middle.
func centreLoad(m *model, f float64) []float64 {
	b := make([]float64, m.n)
	b[m.eq(m.centreNode(), dofW)] = f
	return b
}

func solvePlate(t *testing.T, m *model, b []float64) []float64 {
	t.Helper()
	k := m.stiffness(1)
	if !k.factorize() {
		t.Fatal("not positive definite")
	}
	x := append([]float64(nil), b...)
	k.solve(x)
	return x
}

func thinPlate(ratio, nu float64) Plate {
	return Plate{WidthMM: 100 * ratio, HeightMM: 100, ThicknessMM: 1, ExMPa: 70000, Nu: nu, Thin: true}
}

// gridInUse is the number of elements on the short side of a face at the default
// grid.
const gridInUse = gridPerFace

func TestPlatesOfTheHandbook(t *testing.T) {
	const q, p, a = 0.01, 10.0, 100.0
	for _, c := range []struct {
		name             string
		ratio, nu        float64
		s                support
		point            bool
		w, tol, my, tol2 float64 // w in q a^4/D or P a²/D; moment at the centre along the short side in q a²
	}{
		// Table 8 (Navier series)
		{"simply supported, even load, 1", 1, 0.3, simply, false, 0.00406, 0.01, 0.0479, 0.01},
		{"simply supported, even load, 1.5", 1.5, 0.3, simply, false, 0.00772, 0.01, 0.0812, 0.01},
		{"simply supported, even load, 2", 2, 0.3, simply, false, 0.01013, 0.01, 0.1017, 0.01},
		// Table 23; ratio 1.5 by series
		{"simply supported, centre force, 1", 1, 0.3, simply, true, 0.01160, 0.01, 0, 0},
		{"simply supported, centre force, 1.5", 1.5, 0.3, simply, true, 0.01533, 0.01, 0, 0},
		{"simply supported, centre force, 2", 2, 0.3, simply, true, 0.01651, 0.01, 0, 0},
		// Table 35 (1.5 and 2 from memory of the book, so with its last digit)
		{"clamped, even load, 1", 1, 0.3, clamped, false, 0.00126, 0.01, 0, 0},
		{"clamped, even load, 1.5", 1.5, 0.3, clamped, false, 0.00220, 0.01, 0, 0},
		{"clamped, even load, 2", 2, 0.3, clamped, false, 0.00254, 0.01, 0, 0},
		{"clamped, centre force, 1", 1, 0.3, clamped, true, 0.00560, 0.01, 0, 0},
		// four corner supports: 0.0257 belongs to nu = 0.25; Ritz values
		{"corners, even load, nu 0.25", 1, 0.25, corners, false, 0.02567, 0.01, 0.1107, 0.01},
		{"corners, even load, nu 0.30", 1, 0.30, corners, false, 0.02551, 0.01, 0.1117, 0.01},
		{"corners, even load, nu 0.42", 1, 0.42, corners, false, 0.02565, 0.01, 0.1140, 0.01},
		{"corners, even load, 2", 2, 0.3, corners, false, 0.231, 0.01, 0, 0},
	} {
		plate := thinPlate(c.ratio, c.nu)
		m := handbookPlate(plate, gridInUse, c.s)
		d := rigidityOf(plate).dx
		b, unit := uniform(m, q), q*math.Pow(a, 4)/d
		if c.point {
			b, unit = centreLoad(m, p), p*a*a/d
		}
		x := solvePlate(t, m, b)
		within(t, c.name+", deflection", m.value(x, m.centreNode(), dofW)/unit, c.w, c.tol)
		if c.my > 0 {
			my := m.moments(x, 1)[m.centreNode()][1]
			within(t, c.name+", moment", math.Abs(my)/(q*a*a), c.my, c.tol2)
		}
	}
}

// Clamped square plate: edge moment -0.0513 q a² (Table 35). In one element the
// moment hardly varies across it, so at a clamped edge, where only one element
// tells, it is carried on linearly from the two grid lines next to it.
func TestClampedEdgeMoment(t *testing.T) {
	plate := thinPlate(1, 0.3)
	m := handbookPlate(plate, 44, clamped)
	x := solvePlate(t, m, uniform(m, 0.01))
	all := m.moments(x, 1)
	edge := 2*all[m.node(1, 22)][0] - all[m.node(2, 22)][0]
	within(t, "edge moment", math.Abs(edge)/(0.01*1e4), 0.0513, 0.03)
}

// navier returns the exact centre deflection of a simply supported square plate
// under even load over q a^4/D, Navier's double series.
func navier() float64 {
	sum := 0.0
	for m := 1; m < 200; m += 2 {
		for n := 1; n < 200; n += 2 {
			sign := 1.0
			if (m+n)/2%2 == 0 {
				sign = -1
			}
			k := float64(m*m + n*n)
			sum += sign / (float64(m*n) * k * k)
		}
	}
	return 16 / math.Pow(math.Pi, 6) * sum
}

// The element converges with the square of its edge.
func TestOrderOfConvergence(t *testing.T) {
	exact := navier()
	within(t, "series", exact, 0.00406, 0.002)
	plate := thinPlate(1, 0.3)
	var errs []float64
	for _, n := range []int{6, 12, 24, 48} {
		m := handbookPlate(plate, n, simply)
		x := solvePlate(t, m, uniform(m, 1))
		w := m.value(x, m.centreNode(), dofW) / (1e8 / rigidityOf(plate).dx)
		errs = append(errs, math.Abs(w-exact)/exact)
	}
	t.Logf("relative errors at 6, 12, 24, 48 elements: %.2g", errs)
	for i := 1; i < 3; i++ {
		order := math.Log2(errs[i-1] / errs[i])
		t.Logf("order %.2f", order)
		if order < 1.8 || order > 2.4 {
			t.Errorf("order of convergence %.2f, want 2", order)
		}
	}
	if errs[3] > 0.002 {
		t.Errorf("error at the finest grid %g", errs[3])
	}
}

// An orthotropic simply supported plate against Navier's series for Huber's
// equation Dx w,xxxx + 2H w,xxyy + Dy w,yyyy = q (Timoshenko and
// Woinowsky-Krieger, chapter 11).
func TestOrthotropicPlate(t *testing.T) {
	p := Plate{WidthMM: 100, HeightMM: 100, ThicknessMM: 1, ExMPa: 10048, EyMPa: 7452, GxyMPa: 620, Nu: 0.1, Thin: true}
	r := rigidityOf(p)
	h := r.d1 + 2*r.dxy
	exact := 0.0
	for m := 1; m < 100; m += 2 {
		for n := 1; n < 100; n += 2 {
			sign := 1.0
			if (m+n)/2%2 == 0 {
				sign = -1
			}
			a, b := float64(m*m), float64(n*n)
			exact += sign / (float64(m*n) * (r.dx*a*a + 2*h*a*b + r.dy*b*b))
		}
	}
	exact *= 16 / math.Pow(math.Pi, 6) * 1e8
	mod := handbookPlate(p, gridInUse, simply)
	x := solvePlate(t, mod, uniform(mod, 1))
	within(t, "orthotropic", mod.value(x, mod.centreNode(), dofW), exact, 0.01)
}

// A 25 mm polyethylene plate on a 150 mm span: shear makes it about a tenth
// softer than the thin plate. Reference: a simply supported square plate with
// hard supports sags by Navier's bending part plus Marcus' moment sum over the
// shear stiffness, w = w_thin + M/(k G t), M = D times minus the Laplacian of
// w_thin = 0.07367 q a² at the centre (Poisson problem of the square, series).
func TestShearOfThickPolyethylene(t *testing.T) {
	const q, a = 0.1, 150.0
	thick := Plate{WidthMM: a, HeightMM: a, ThicknessMM: 25, ExMPa: 900, Nu: 0.42}
	thin := thick
	thin.Thin = true
	deflection := func(p Plate) float64 {
		m := handbookPlate(p, gridInUse, simply)
		x := solvePlate(t, m, uniform(m, q))
		return m.value(x, m.centreNode(), dofW)
	}
	wThin, wThick := deflection(thin), deflection(thick)
	r := rigidityOf(thick)
	want := 0.00406*q*math.Pow(a, 4)/r.dx + 0.07367*q*a*a/r.sx
	t.Logf("thin %.4f mm, with shear %.4f mm: %.1f %% more; closed form %.4f mm", wThin, wThick, 100*(wThick/wThin-1), want)
	within(t, "thin", wThin, 0.00406*q*math.Pow(a, 4)/r.dx, 0.01)
	within(t, "with shear", wThick, want, 0.01)
	if wThick/wThin < 1.05 {
		t.Error("shear should matter here")
	}
}

// The element does not lock: the thickness may fall to nothing.
func TestNoLocking(t *testing.T) {
	for _, h := range []float64{5, 1, 0.1, 0.01} {
		p := Plate{WidthMM: 100, HeightMM: 100, ThicknessMM: h, ExMPa: 70000, Nu: 0.3}
		m := handbookPlate(p, gridInUse, simply)
		x := solvePlate(t, m, uniform(m, 1))
		r := rigidityOf(p)
		want := 0.004062*1e8/r.dx + 0.07367*1e4/r.sx
		within(t, "deflection", m.value(x, m.centreNode(), dofW), want, 0.01)
	}
}
