package clamp

import "math"

// rigidity holds a plate's bending and shear stiffness per unit width:
//
//	Mx = Dx kx + D1 ky, My = D1 kx + Dy ky, Mxy = Dxy kxy, Qx = Sx gx, Qy = Sy gy
type rigidity struct{ dx, dy, d1, dxy, sx, sy float64 }

// rigidityOf returns the rigidities of a plate (N·mm and N/mm), after
// Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, chapter on
// anisotropic plates; shear with Reissner's 5/6.
func rigidityOf(p Plate) rigidity {
	ey, gxy := p.Moduli()
	nuYX := p.Nu * ey / p.ExMPa
	i := math.Pow(p.ThicknessMM, 3) / 12
	q := 1 - p.Nu*nuYX
	r := rigidity{
		dx: p.ExMPa * i / q, dy: ey * i / q, d1: p.Nu * ey * i / q, dxy: gxy * i,
	}
	if p.Thin {
		s := thinShearFactor * math.Max(p.ExMPa, ey) * p.ThicknessMM
		r.sx, r.sy = s, s
		return r
	}
	r.sx = shearFactor * p.ThicknessMM * orElse(p.GxzMPa, gxy)
	r.sy = shearFactor * p.ThicknessMM * orElse(p.GyzMPa, gxy)
	return r
}

// Moduli are Ey and Gxy, MPa, with their defaults.
func (p Plate) Moduli() (ey, gxy float64) {
	ey = orElse(p.EyMPa, p.ExMPa)
	return ey, orElse(p.GxyMPa, math.Sqrt(p.ExMPa*ey)/(2*(1+p.Nu)))
}

func orElse(v, def float64) float64 {
	if v != 0 {
		return v
	}
	return def
}

// Element node order: 0 (-,-), 1 (+,-), 2 (+,+), 3 (-,+). Degrees of freedom
// per node: w, bx, by, where bx and by stand for dw/dx and dw/dy less shear:
// gx = w,x - bx, gy = w,y - by, kx = -bx,x, ky = -by,y, kxy = -(bx,y + by,x).
var (
	nodeXi  = [4]float64{-1, 1, 1, -1}
	nodeEta = [4]float64{-1, -1, 1, 1}
)

// shape returns the bilinear shape functions and their derivatives by x and y
// on an element a by b.
func shape(xi, eta, a, b float64) (n, nx, ny [4]float64) {
	for k := range 4 {
		u, v := 1+nodeXi[k]*xi, 1+nodeEta[k]*eta
		n[k] = u * v / 4
		nx[k] = nodeXi[k] * v / 4 * 2 / a
		ny[k] = nodeEta[k] * u / 4 * 2 / b
	}
	return n, nx, ny
}

// curvatureRows returns the three rows that give kx, ky, kxy.
func curvatureRows(xi, eta, a, b float64) (kx, ky, kxy [12]float64) {
	_, nx, ny := shape(xi, eta, a, b)
	for k := range 4 {
		kx[3*k+1] = -nx[k]
		ky[3*k+2] = -ny[k]
		kxy[3*k+1] = -ny[k]
		kxy[3*k+2] = -nx[k]
	}
	return kx, ky, kxy
}

// shearRows returns the two rows that give gx, gy, the shears sampled at the
// middles of the edges and interpolated between opposite ones: the MITC4
// element of Bathe and Dvorkin (1985), which does not lock.
func shearRows(xi, eta, a, b float64) (gx, gy [12]float64) {
	edgeX := func(m, n int, f float64) { // from node m to node n along +x
		gx[3*n] += f / a
		gx[3*m] -= f / a
		gx[3*n+1] -= f / 2
		gx[3*m+1] -= f / 2
	}
	edgeX(0, 1, (1-eta)/2)
	edgeX(3, 2, (1+eta)/2)
	edgeY := func(m, n int, f float64) {
		gy[3*n] += f / b
		gy[3*m] -= f / b
		gy[3*n+2] -= f / 2
		gy[3*m+2] -= f / 2
	}
	edgeY(0, 3, (1-xi)/2)
	edgeY(1, 2, (1+xi)/2)
	return gx, gy
}

// elementStiffness returns the 12 x 12 stiffness of an element a by b with 2 x 2
// Gauss points.
func elementStiffness(r rigidity, a, b float64) (k [12][12]float64) {
	g := 1 / math.Sqrt(3)
	for _, xi := range [2]float64{-g, g} {
		for _, eta := range [2]float64{-g, g} {
			addGaussPoint(&k, r, xi, eta, a, b)
		}
	}
	return k
}

func addGaussPoint(k *[12][12]float64, r rigidity, xi, eta, a, b float64) {
	kx, ky, kxy := curvatureRows(xi, eta, a, b)
	gx, gy := shearRows(xi, eta, a, b)
	dA := a * b / 4
	for i := range 12 {
		mx := (r.dx*kx[i] + r.d1*ky[i]) * dA
		my := (r.d1*kx[i] + r.dy*ky[i]) * dA
		mxy, qx, qy := r.dxy*kxy[i]*dA, r.sx*gx[i]*dA, r.sy*gy[i]*dA
		for j := range 12 {
			k[i][j] += mx*kx[j] + my*ky[j] + mxy*kxy[j] + qx*gx[j] + qy*gy[j]
		}
	}
}
