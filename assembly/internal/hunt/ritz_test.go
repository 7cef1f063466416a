package hunt

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// A judge of its own for pressure: plates by Ritz's method. Deflection and both slopes
// of a plate that gives way to shear (Reissner, Mindlin) are polynomials over the whole
// plate, no elements; an angle's foot is a thin plate (Kirchhoff), polynomials too, with
// a beam along its corner; cells, and the foot on the plate, press at points and only
// press. Least energy by Newton's method with dense matrices. Lengths mm, forces N.

// slab is one plate with all that acts on it; x from its middle, y from its lower edge.
type slab struct {
	wide, high, t             float64
	ex, ey, gxy, nu, gxz, gyz float64
	faces                     [][4]float64 // x0, y0, x1, y1
	// gaps are lines over a face at which what may press begins or ends.
	linesX, linesY []float64
	presses        func(face int, x, y float64) bool // nil: everywhere
	zone           float64                           // part of a face's width and height that domes
	bars           []bar
	pulls          []pull
	even           bool // all is alike left and right
}

// bar is an angle: its foot from heel to toe, the corner between, or, where they are
// equal, a line that only bends.
type bar struct {
	heel, toe, corner, half float64 // half its length; y of the others
	e, i, stand, t          float64
}

// pull is a rod: where, between what radii its washer presses, on which bar (-1: the
// plate), and its part of the force.
type pull struct {
	x, y, in, out, share float64
	bar                  int
	weight               float64 // 2 where it stands for the one on the other side too
	force                func(stretch float64) (n, rate float64)
}

// press is what one state imposes.
type press struct {
	factor float64                                   // on the plate's moduli
	stack  func(squeeze float64) (mpa, rate float64) // of a row
	grown  func(face int, x, y float64) float64      // by which the stack is too long
	pulled float64                                   // N of all rods together; 0: nuts as they were
	turned []float64                                 // what each nut was advanced
}

// basis is polynomials of Legendre over lo to hi, of which some degrees are taken.
type basis struct {
	lo, hi float64
	degree []int
}

// at is value, slope and curvature of each at v.
func (b basis) at(v float64) (f, d, dd []float64) {
	n := b.degree[len(b.degree)-1]
	s := 2 / (b.hi - b.lo)
	x := (v-b.lo)*s - 1
	p, q, r := make([]float64, n+2), make([]float64, n+2), make([]float64, n+2)
	p[0], p[1], q[1] = 1, x, 1
	for k := 1; k < n; k++ {
		a, c := float64(2*k+1)/float64(k+1), float64(k)/float64(k+1)
		p[k+1] = a*x*p[k] - c*p[k-1]
		q[k+1] = a*(p[k]+x*q[k]) - c*q[k-1]
		r[k+1] = a*(2*q[k]+x*r[k]) - c*r[k-1]
	}
	for _, k := range b.degree {
		f, d, dd = append(f, p[k]), append(d, q[k]*s), append(dd, r[k]*s*s)
	}
	return f, d, dd
}

// degrees are 0 to n, or of them those of one parity.
func degrees(n, from, step int) (out []int) {
	for k := from; k <= n; k += step {
		out = append(out, k)
	}
	return out
}

// outer is the products of two lists.
func outer(a, b []float64) []float64 {
	out := make([]float64, 0, len(a)*len(b))
	for _, u := range a {
		for _, v := range b {
			out = append(out, u*v)
		}
	}
	return out
}

// gauss are the points and weights of Gauss and Legendre over lo to hi.
func gauss(n int, lo, hi float64) (x, w []float64) {
	for i := range n {
		z := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		var slope float64
		for range 60 {
			p, q := 1.0, 0.0
			for k := range n {
				p, q = (float64(2*k+1)*z*p-float64(k)*q)/float64(k+1), p
			}
			slope = float64(n) * (z*p - q) / (z*z - 1)
			z -= p / slope
		}
		x, w = append(x, lo+(hi-lo)*(z+1)/2), append(w, (hi-lo)/((1-z*z)*slope*slope))
	}
	return x, w
}

// part is a place in the list of unknowns with the values of its functions at a spot.
type part struct {
	at int
	f  []float64
}

func dot(x []float64, parts []part) (v float64) {
	for _, p := range parts {
		for i, f := range p.f {
			v += f * x[p.at+i]
		}
	}
	return v
}

// spring1 is a spot at which something gives way with the sum of parts.
type spot1 struct {
	parts      []part
	area       float64
	face       int // -1: foot on plate
	x, y, zone float64
}

// ritz is a slab ready to be solved.
type ritz struct {
	slab
	n             int
	plateK, restK []float64
	w, slopeX     basis // across
	up            basis
	foot          []int // first unknown of each bar; -1 a line
	footX, footY  []basis
	spots         []spot1
	pullAt        [][]part
	x             []float64
}

// footDegree is that of a foot across.
const footDegree = 4

// newRitz sets a slab up with polynomials up to a degree.
func newRitz(s slab, degree int) *ritz {
	r := &ritz{slab: s}
	step := 1
	if s.even {
		step = 2
	}
	from := step - 1 // slopes are odd where deflections are even
	across := degree
	if s.wide > 1.5*s.high {
		across += 4
	}
	r.w = basis{-s.wide / 2, s.wide / 2, degrees(across, 0, step)}
	r.slopeX = basis{-s.wide / 2, s.wide / 2, degrees(across, from, step)}
	r.up = basis{0, s.high, degrees(degree, 0, 1)}
	r.n = len(r.up.degree) * (2*len(r.w.degree) + len(r.slopeX.degree))
	for _, b := range s.bars {
		r.footX = append(r.footX, basis{-b.half, b.half, degrees(across, 0, step)})
		r.footY = append(r.footY, basis{min(b.heel, b.toe), max(b.heel, b.toe), degrees(footDegree, 0, 1)})
		if b.heel == b.toe {
			r.foot = append(r.foot, -1)
			continue
		}
		r.foot = append(r.foot, r.n)
		r.n += len(r.footX[0].degree) * (footDegree + 1)
	}
	r.plateK, r.restK = make([]float64, r.n*r.n), make([]float64, r.n*r.n)
	r.plate()
	for k := range s.bars {
		r.bar(k)
	}
	r.place()
	return r
}

// deflection is the plate's at a spot.
func (r *ritz) deflection(x, y float64) part {
	a, _, _ := r.w.at(x)
	b, _, _ := r.up.at(y)
	return part{0, outer(a, b)}
}

// sink is a foot's deflection at a spot of it.
func (r *ritz) sink(k int, x, y float64) part {
	a, _, _ := r.footX[k].at(x)
	b, _, _ := r.footY[k].at(y)
	return part{r.foot[k], outer(a, b)}
}

// add adds c a bT and, where they differ, c b aT to a matrix.
func (r *ritz) add(k []float64, c float64, a, b []part) {
	for _, p := range a {
		for i, u := range p.f {
			if u == 0 {
				continue
			}
			row := k[(p.at+i)*r.n:]
			for _, q := range b {
				to := row[q.at : q.at+len(q.f)]
				for j, v := range q.f {
					to[j] += c * u * v
				}
			}
		}
	}
}

// shearPart is Reissner's 5/6.
const shearPart = 5.0 / 6

// plate adds up the energy of bending and shear.
func (r *ritz) plate() {
	ey := r.ey
	nuYX := r.nu * ey / r.ex
	c := math.Pow(r.t, 3) / 12
	dx, dy, d1, dxy := r.ex*c/(1-r.nu*nuYX), ey*c/(1-r.nu*nuYX), r.nu*ey*c/(1-r.nu*nuYX), r.gxy*c
	sx, sy := shearPart*r.gxz*r.t, shearPart*r.gyz*r.t
	nw, nb := len(r.w.degree)*len(r.up.degree), len(r.slopeX.degree)*len(r.up.degree)
	xs, wx := gauss(r.w.degree[len(r.w.degree)-1]+2, -r.wide/2, r.wide/2)
	ys, wy := gauss(r.up.degree[len(r.up.degree)-1]+2, 0, r.high)
	for i, x := range xs {
		if r.even && x < 0 {
			continue
		}
		w, wd, _ := r.w.at(x)
		s, sd, _ := r.slopeX.at(x)
		twice := 1.0
		if r.even && x > 0 {
			twice = 2
		}
		for j, y := range ys {
			u, ud, _ := r.up.at(y)
			a := wx[i] * wy[j] * twice
			bend := []part{{nw, outer(sd, u)}}      // of the slope along x
			side := []part{{nw + nb, outer(w, ud)}} // of that along y
			twist := []part{{nw, outer(s, ud)}, {nw + nb, outer(wd, u)}}
			shearX := []part{{0, outer(wd, u)}, {nw, outer(negative(s), u)}}
			shearY := []part{{0, outer(w, ud)}, {nw + nb, outer(negative(w), u)}}
			r.add(r.plateK, a*dx, bend, bend)
			r.add(r.plateK, a*dy, side, side)
			r.add(r.plateK, a*d1, bend, side)
			r.add(r.plateK, a*d1, side, bend)
			r.add(r.plateK, a*dxy, twist, twist)
			r.add(r.plateK, a*sx, shearX, shearX)
			r.add(r.plateK, a*sy, shearY, shearY)
		}
	}
}

func negative(a []float64) []float64 {
	out := slices.Clone(a)
	for i := range out {
		out[i] = -out[i]
	}
	return out
}

// barNu is Poisson's ratio of metals.
const barNu = 0.33

// bar adds up the energy of an angle.
func (r *ritz) bar(k int) {
	b := r.bars[k]
	xs, wx := gauss(r.w.degree[len(r.w.degree)-1]+2, -b.half, b.half)
	for i, x := range xs {
		if r.foot[k] < 0 {
			_, _, dd := r.w.at(x)
			u, _, _ := r.up.at(b.heel)
			bend := []part{{0, outer(dd, u)}}
			r.add(r.restK, wx[i]*b.e*b.i, bend, bend)
			continue
		}
		f, d, dd := r.footX[k].at(x)
		u, ud, _ := r.footY[k].at(b.corner)
		bend, twist := []part{{r.foot[k], outer(dd, u)}}, []part{{r.foot[k], outer(d, ud)}}
		r.add(r.restK, wx[i]*b.e*b.i, bend, bend)
		r.add(r.restK, wx[i]*b.e/(2*(1+barNu))*b.stand*math.Pow(b.t, 3)/3, twist, twist)
		ys, wy := gauss(footDegree+2, min(b.heel, b.toe), max(b.heel, b.toe))
		stiff := b.e * math.Pow(b.t, 3) / 12 / (1 - barNu*barNu)
		for j, y := range ys {
			u, ud, udd := r.footY[k].at(y)
			xx, yy, xy := []part{{r.foot[k], outer(dd, u)}}, []part{{r.foot[k], outer(f, udd)}}, []part{{r.foot[k], outer(d, ud)}}
			a := wx[i] * wy[j] * stiff
			r.add(r.restK, a, xx, xx)
			r.add(r.restK, a, yy, yy)
			r.add(r.restK, a*barNu, xx, yy)
			r.add(r.restK, a*barNu, yy, xx)
			r.add(r.restK, 2*a*(1-barNu), xy, xy)
		}
	}
}

// cuts are the middles and widths of the pieces between rising lines, each no wider than
// most.
func cuts(lines []float64, most float64) (mid, wide []float64) {
	slices.Sort(lines)
	for i := 1; i < len(lines); i++ {
		n := max(1, math.Ceil((lines[i]-lines[i-1])/most-1e-9))
		if h := (lines[i] - lines[i-1]) / n; h > 1e-9 {
			for k := range int(n) {
				mid, wide = append(mid, lines[i-1]+h*(float64(k)+0.5)), append(wide, h)
			}
		}
	}
	return mid, wide
}

// within are the lines that lie between lo and hi, and these.
func within(lines []float64, lo, hi float64) []float64 {
	out := []float64{lo, hi}
	for _, v := range lines {
		if v > lo && v < hi {
			out = append(out, v)
		}
	}
	return out
}

// place lays out the spots under faces and feet, and the washers.
func (r *ritz) place() {
	grain := float64(4 * len(r.up.degree)) // spots along a face's side
	for k, f := range r.faces {
		cx, cy := (f[0]+f[2])/2, (f[1]+f[3])/2
		zx, zy := (f[2]-f[0])/2*r.zone, (f[3]-f[1])/2*r.zone
		xs, wx := cuts(within(append([]float64{0, cx - zx, cx + zx}, r.linesX...), f[0], f[2]), (f[2]-f[0])/grain)
		ys, wy := cuts(within(append([]float64{cy - zy, cy + zy}, r.linesY...), f[1], f[3]), (f[3]-f[1])/grain)
		for i, x := range xs {
			for j, y := range ys {
				a := wx[i] * wy[j]
				if r.even && x < 0 || r.presses != nil && !r.presses(k, x, y) {
					continue
				}
				if r.even {
					a *= 2
				}
				zone := 0.0
				if math.Abs(x-cx) < zx && math.Abs(y-cy) < zy {
					zone = a
				}
				r.spots = append(r.spots, spot1{[]part{r.deflection(x, y)}, a, k, x, y, zone})
			}
		}
	}
	for k, b := range r.bars {
		if r.foot[k] < 0 {
			continue
		}
		xs, wx := cuts([]float64{-b.half, 0, b.half}, b.half/grain)
		ys, wy := cuts([]float64{min(b.heel, b.toe), max(b.heel, b.toe)}, math.Abs(b.heel-b.toe)/10)
		for i, x := range xs {
			for j, y := range ys {
				if r.even && x < 0 || math.Abs(x) > r.wide/2 || y < 0 || y > r.high {
					continue
				}
				sink := r.sink(k, x, y)
				sink.f = negative(sink.f)
				a := wx[i] * wy[j]
				if r.even {
					a *= 2
				}
				r.spots = append(r.spots, spot1{[]part{r.deflection(x, y), sink}, a, -1, x, y, 0})
			}
		}
	}
	pulls := r.pulls
	r.pulls = nil
	for _, p := range pulls {
		if r.even && p.x < -1e-9 {
			continue
		}
		if p.weight = 1; r.even && p.x > 1e-9 {
			p.weight = 2
		}
		r.pulls = append(r.pulls, p)
		sum := r.deflection(0, 0)
		if p.bar >= 0 && r.foot[p.bar] >= 0 {
			sum = r.sink(p.bar, 0, r.bars[p.bar].heel)
		}
		clear(sum.f)
		const rings, spokes = 4, 20
		for i := range rings {
			d := math.Sqrt(p.in*p.in + (p.out*p.out-p.in*p.in)*(float64(i)+0.5)/rings)
			for j := range spokes {
				sin, cos := math.Sincos(2 * math.Pi * (float64(j) + 0.5) / spokes)
				x, y := p.x+d*cos, p.y+d*sin
				var at part
				if p.bar >= 0 && r.foot[p.bar] >= 0 {
					b := r.bars[p.bar]
					at = r.sink(p.bar, min(max(x, -b.half), b.half), min(max(y, min(b.heel, b.toe)), max(b.heel, b.toe)))
				} else {
					at = r.deflection(min(max(x, -r.wide/2), r.wide/2), min(max(y, 0), r.high))
				}
				for q, v := range at.f {
					sum.f[q] += v / rings / spokes
				}
			}
		}
		r.pullAt = append(r.pullAt, []part{sum})
	}
}

// through is the pressure for a shortening of half the plate under a foot, MPa/mm.
func (r *ritz) through() float64 { return min(r.ex, r.ey) / (r.t / 2) }

// spotForce is what a spot presses outward on what its parts move, N, and its rate.
func (r *ritz) spotForce(c press, s *spot1, w float64) (n, rate float64) {
	if s.face < 0 {
		if w <= 0 {
			return 0, 0
		}
		k := c.factor * r.through() * s.area
		return -k * w, k
	}
	p, rate := c.stack(c.grown(s.face, s.x, s.y) - 2*w)
	return p * s.area, 2 * rate * s.area
}

// pullForce is what a rod pulls inward, and its rate.
func (r *ritz) pullForce(c press, k int, w float64) (n, rate float64) {
	p := r.pulls[k]
	if c.pulled > 0 {
		sum := 0.0
		for _, q := range r.pulls {
			sum += q.share * q.weight
		}
		return c.pulled * p.share / sum * p.weight, 0
	}
	n, rate = p.force(2*w + c.turned[k])
	return n * p.weight, 2 * rate * p.weight
}

// rest fills what is out of balance.
func (r *ritz) rest(c press, x, out []float64) {
	for i := range out {
		v := 0.0
		row, fixed := r.plateK[i*r.n:(i+1)*r.n], r.restK[i*r.n:(i+1)*r.n]
		for j, u := range x {
			v += (c.factor*row[j] + fixed[j]) * u
		}
		out[i] = v
	}
	push := func(parts []part, n float64) {
		for _, p := range parts {
			for i, f := range p.f {
				out[p.at+i] += n * f
			}
		}
	}
	for k := range r.spots {
		s := &r.spots[k]
		n, _ := r.spotForce(c, s, dot(x, s.parts))
		push(s.parts, -n)
	}
	for k := range r.pulls {
		n, _ := r.pullForce(c, k, dot(x, r.pullAt[k]))
		push(r.pullAt[k], n)
	}
}

// solve finds the balance, from the last one on; false when it finds none.
func (r *ritz) solve(c press) bool {
	if r.x == nil {
		r.x = make([]float64, r.n)
	}
	x, out, trial := r.x, make([]float64, r.n), make([]float64, r.n)
	r.rest(c, x, out)
	k := make([]float64, r.n*r.n)
	for range 80 {
		for i := range k {
			k[i] = c.factor*r.plateK[i] + r.restK[i]
		}
		for i := range r.spots {
			s := &r.spots[i]
			if _, rate := r.spotForce(c, s, dot(x, s.parts)); rate > 0 {
				r.add(k, rate, s.parts, s.parts)
			}
		}
		for i := range r.pulls {
			if _, rate := r.pullForce(c, i, dot(x, r.pullAt[i])); rate > 0 {
				r.add(k, rate, r.pullAt[i], r.pullAt[i])
			}
		}
		top := 0.0
		for i := range r.n {
			top = max(top, k[i*r.n+i])
		}
		for i := range r.n {
			k[i*r.n+i] += 1e-13 * top
		}
		var chol mat.Cholesky
		if !chol.Factorize(mat.NewSymDense(r.n, k)) {
			return false
		}
		var d mat.VecDense
		if chol.SolveVecTo(&d, mat.NewVecDense(r.n, slices.Clone(out))) != nil && d.Len() == 0 {
			return false
		}
		slope := mat.Dot(&d, mat.NewVecDense(r.n, out)) // of the energy, against d
		for step := 1.0; ; step /= 2 {
			for i := range x {
				trial[i] = x[i] - step*d.AtVec(i)
			}
			r.rest(c, trial, out)
			if now := mat.Dot(&d, mat.NewVecDense(r.n, out)); now > -0.5*math.Abs(slope) || step < 1e-4 {
				break
			}
		}
		copy(x, trial)
		if math.Abs(slope) < 1e-10*(1+r.work(c, x)) {
			return true
		}
	}
	return false
}

// work is the size of the energies in play, N·mm.
func (r *ritz) work(c press, x []float64) (sum float64) {
	for k := range r.spots {
		w := dot(x, r.spots[k].parts)
		n, _ := r.spotForce(c, &r.spots[k], w)
		sum += math.Abs(n * w)
	}
	return sum
}

// nuts are what each nut is advanced where a force is imposed.
func (r *ritz) nuts(c press, stretch func(n float64) float64) (out []float64) {
	for k := range r.pulls {
		n, _ := r.pullForce(c, k, 0)
		out = append(out, stretch(n/r.pulls[k].weight)-2*dot(r.x, r.pullAt[k]))
	}
	return out
}

// pressed is what a face gets, kPa; touch is a part of what may press.
type pressed struct{ force, mean, middle, least, most, centre, middleLeast, middleTouch, touch, zone float64 }

// face sums a face up.
func (r *ritz) face(c press, k int) (out pressed) {
	f := r.faces[k]
	out.least, out.middleLeast = math.Inf(1), math.Inf(1)
	var area, zone, touch, zoneTouch, zoneForce float64
	near := math.Inf(1)
	for i := range r.spots {
		s := &r.spots[i]
		if s.face != k {
			continue
		}
		n, _ := r.spotForce(c, s, dot(r.x, s.parts))
		p := n / s.area * 1000
		out.force, area = out.force+n, area+s.area
		out.least, out.most = min(out.least, p), max(out.most, p)
		if p > 0 {
			touch += s.area
		}
		if d := math.Hypot(s.x-(f[0]+f[2])/2, s.y-(f[1]+f[3])/2); d < near {
			near, out.centre = d, p
		}
		if s.zone > 0 {
			zone, zoneForce = zone+s.zone, zoneForce+n
			out.middleLeast = min(out.middleLeast, p)
			if p > 0 {
				zoneTouch += s.zone
			}
		}
	}
	whole := (f[2] - f[0]) * (f[3] - f[1])
	scale := 1.0
	if r.even && len(r.faces) > 1 { // the other row's spots are this one's mirrored
		scale = 0.5
	}
	out.force, area, zone, zoneForce = out.force*scale, area*scale, zone*scale, zoneForce*scale
	out.touch = touch * scale / area
	out.mean = out.force / whole * 1000
	out.least *= area / whole
	out.zone = zone
	out.middle = zoneForce / (whole * r.zone * r.zone) * 1000
	if zone > 0 {
		out.middleLeast *= zone / (whole * r.zone * r.zone)
		out.middleTouch = zoneTouch * scale / zone
	} else {
		out.middleLeast = 0
	}
	return out
}
