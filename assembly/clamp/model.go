package clamp

import "math"

// model is the discrete structure, plate and stiffeners, without foundation.
type model struct {
	xs, ys []float64
	dof    []int // node*4 + {w, bx, by, beam slope}: equation number, -1 where held or absent
	n, kd  int   // equations, half bandwidth
	last   []int // per equation: the last one that it is coupled to, or any before it
	nodes  int   // of the plate and, behind them, of the angles' legs
	rig    rigidity
	legs   []legMesh
	beams  []beamElement
	plateK []float64 // upper band, n x (kd+1)
	beamK  []float64
}

// beamElement joins two neighbouring nodes of one grid row.
type beamElement struct {
	stiffener   int
	i, j        int // grid place of the left node
	left, right int // nodes
	ei, length  float64
	gj          float64 // torsion of the standing leg, N·mm2; 0 on a bare plate
}

// Kinds of degree of freedom at a node.
const (
	dofW = iota
	dofBX
	dofBY
	dofSlope
	dofsPerNode
)

// node returns the number of the node at column i, row j: running along the
// shorter side of the grid, which keeps the band narrow.
func (m *model) node(i, j int) int {
	if len(m.ys) <= len(m.xs) {
		return i*len(m.ys) + j
	}
	return j*len(m.xs) + i
}

func (m *model) eq(node, kind int) int { return m.dof[node*dofsPerNode+kind] }

// newModel numbers and assembles plate and stiffeners. held says which degrees
// of freedom are zero.
func newModel(p Plate, stiffeners []Stiffener, xs, ys []float64, held func(i, j, kind int) bool) *model {
	m := &model{xs: xs, ys: ys, rig: rigidityOf(p), nodes: len(xs) * len(ys)}
	for k, st := range stiffeners {
		m.placeLeg(k, st)
		m.placeBeams(k, st)
	}
	m.number(held)
	m.assemblePlate()
	m.assembleBeams(stiffeners)
	return m
}

// placeBeams lays a stiffener's beam on the nodes of its grid row, its ends moved
// to the nearest grid line: on the corner of its leg, or on the plate.
func (m *model) placeBeams(k int, st Stiffener) {
	j := nearest(m.ys, st.YMM+st.cornerMM())
	i0, i1 := nearest(m.xs, st.X0MM), nearest(m.xs, st.X1MM)
	node := m.node
	if st.hasLeg() {
		node = m.legs[len(m.legs)-1].node
	}
	for i := i0; i < i1; i++ {
		m.beams = append(m.beams, beamElement{
			stiffener: k, i: i, j: j, left: node(i, j), right: node(i+1, j),
			ei: st.EMPa * st.IMM4, gj: st.torsion(), length: m.xs[i+1] - m.xs[i],
		})
	}
}

// number gives every free degree of freedom its equation, legs beside the plate
// below them.
func (m *model) number(held func(i, j, kind int) bool) {
	nx, ny := len(m.xs), len(m.ys)
	m.dof = make([]int, m.nodes*dofsPerNode)
	for k := range m.dof {
		m.dof[k] = -1
	}
	for _, b := range m.beams {
		m.dof[b.left*dofsPerNode+dofSlope] = 0
		m.dof[b.right*dofsPerNode+dofSlope] = 0
	}
	for a := range max(nx, ny) {
		for b := range min(nx, ny) {
			i, j := a, b
			if ny > nx {
				i, j = b, a
			}
			m.numberNode(m.node(i, j), i, j, held)
			for _, l := range m.legs {
				if l.has(i, j) {
					m.numberNode(l.node(i, j), i, j, held)
				}
			}
		}
	}
}

func (m *model) numberNode(node, i, j int, held func(i, j, kind int) bool) {
	base := node * dofsPerNode
	for k := range dofsPerNode {
		absent := k == dofSlope && m.dof[base+k] < 0
		m.dof[base+k] = -1
		if !absent && (held == nil || !held(i, j, k)) {
			m.dof[base+k] = m.n
			m.n++
		}
	}
}

// quad returns the four corner nodes of the element at i, j of a mesh whose
// nodes are numbered by node.
func quad(node func(i, j int) int, i, j int) [4]int {
	return [4]int{node(i, j), node(i+1, j), node(i+1, j+1), node(i, j+1)}
}

// elementNodes returns the four corner nodes of the plate's element i, j.
func (m *model) elementNodes(i, j int) [4]int { return quad(m.node, i, j) }

// elementEqs returns the twelve equation numbers of an element with these corners.
func (m *model) elementEqs(nodes [4]int) (eq [12]int) {
	for c, node := range nodes {
		for k := range 3 {
			eq[3*c+k] = m.eq(node, k)
		}
	}
	return eq
}

func (m *model) beamEqs(b beamElement) [4]int {
	return [4]int{m.eq(b.left, dofW), m.eq(b.left, dofSlope), m.eq(b.right, dofW), m.eq(b.right, dofSlope)}
}

// bandwidth finds the greatest distance of two coupled equations, and for each how far
// it reaches when the matrix is factorized.
func (m *model) bandwidth() {
	m.last = make([]int, m.n)
	widen := func(eq []int) {
		lo, hi := m.n, -1
		for _, e := range eq {
			if e >= 0 {
				lo, hi = min(lo, e), max(hi, e)
			}
		}
		m.kd = max(m.kd, hi-lo)
		for _, e := range eq {
			if e >= 0 {
				m.last[e] = max(m.last[e], hi)
			}
		}
	}
	for i := range len(m.xs) - 1 {
		for j := range len(m.ys) - 1 {
			eq := m.elementEqs(m.elementNodes(i, j))
			widen(eq[:])
		}
	}
	for _, l := range m.legs {
		l.elements(func(i, j int) {
			eq, below := m.elementEqs(quad(l.node, i, j)), m.elementEqs(m.elementNodes(i, j))
			widen(append(eq[:], below[0], below[3], below[6], below[9]))
		})
	}
	for _, b := range m.beams {
		eq := m.beamEqs(b)
		widen(append(eq[:], m.eq(b.left, dofBY), m.eq(b.right, dofBY)))
	}
	for e := range m.last {
		m.last[e] = max(m.last[e], m.last[max(e-1, 0)], e)
	}
}

func (m *model) assemblePlate() {
	m.bandwidth()
	m.plateK = make([]float64, m.n*(m.kd+1))
	add := m.elementAdder(m.rig, m.plateK)
	for i := range len(m.xs) - 1 {
		for j := range len(m.ys) - 1 {
			add(m.elementNodes(i, j), i, j)
		}
	}
}

// elementAdder returns a function that adds the element of plate with rigidity rig
// at grid place i, j to a band.
func (m *model) elementAdder(rig rigidity, band []float64) func(nodes [4]int, i, j int) {
	type size struct{ a, b float64 }
	seen := map[size]*[12][12]float64{} // looked up by key only: no order involved
	return func(nodes [4]int, i, j int) {
		s := size{m.xs[i+1] - m.xs[i], m.ys[j+1] - m.ys[j]}
		if seen[s] == nil {
			k := elementStiffness(rig, s.a, s.b)
			seen[s] = &k
		}
		eq := m.elementEqs(nodes)
		for r, k := range seen[s] {
			m.addRow(band, eq[r], eq[:], k[:])
		}
	}
}

func (m *model) assembleBeams(stiffeners []Stiffener) {
	m.beamK = make([]float64, m.n*(m.kd+1))
	for _, l := range m.legs {
		add := m.elementAdder(rigidityOf(stiffeners[l.stiffener].leg()), m.beamK)
		l.elements(func(i, j int) { add(quad(l.node, i, j), i, j) })
	}
	for _, b := range m.beams {
		eq, k := m.beamEqs(b), beamStiffness(b.ei, b.length)
		for r := range eq {
			m.addRow(m.beamK, eq[r], eq[:], k[r][:])
		}
		if b.gj > 0 {
			t, twist := b.gj/b.length, []int{m.eq(b.left, dofBY), m.eq(b.right, dofBY)}
			m.addRow(m.beamK, twist[0], twist, []float64{t, -t})
			m.addRow(m.beamK, twist[1], twist, []float64{-t, t})
		}
	}
}

// addRow adds one row of an element matrix to an upper band.
func (m *model) addRow(band []float64, row int, cols []int, k []float64) {
	if row < 0 {
		return
	}
	for c, col := range cols {
		if col >= row {
			band[row*(m.kd+1)+col-row] += k[c]
		}
	}
}

// stiffness returns the upper band of factor times the plate plus the beams.
func (m *model) stiffness(factor float64) bandMatrix {
	k := newBandMatrix(m.kd, m.last)
	for i, v := range m.plateK {
		k.data[i] = factor*v + m.beamK[i]
	}
	return k
}

// value returns the value of a degree of freedom, 0 where held.
func (m *model) value(x []float64, node, kind int) float64 {
	if e := m.eq(node, kind); e >= 0 {
		return x[e]
	}
	return 0
}

// moments returns Mx, My, Mxy (N·mm/mm) at every node, the mean of the corners
// of the elements round it, for a plate whose moduli are factor times nominal.
func (m *model) moments(x []float64, factor float64) [][3]float64 {
	out := make([][3]float64, len(m.xs)*len(m.ys))
	count := make([]float64, len(out))
	for i := range len(m.xs) - 1 {
		for j := range len(m.ys) - 1 {
			m.addCornerMoments(x, i, j, out, count)
		}
	}
	for n := range out {
		for c := range 3 {
			out[n][c] *= factor / math.Max(count[n], 1)
		}
	}
	return out
}

func (m *model) addCornerMoments(x []float64, i, j int, out [][3]float64, count []float64) {
	a, b := m.xs[i+1]-m.xs[i], m.ys[j+1]-m.ys[j]
	nodes := m.elementNodes(i, j)
	var v [12]float64
	for c, node := range nodes {
		for k := range 3 {
			v[3*c+k] = m.value(x, node, k)
		}
	}
	for c, node := range nodes {
		rx, ry, rxy := curvatureRows(nodeXi[c], nodeEta[c], a, b)
		var kx, ky, kxy float64
		for d := range 12 {
			kx += rx[d] * v[d]
			ky += ry[d] * v[d]
			kxy += rxy[d] * v[d]
		}
		out[node][0] += m.rig.dx*kx + m.rig.d1*ky
		out[node][1] += m.rig.d1*kx + m.rig.dy*ky
		out[node][2] += m.rig.dxy * kxy
		count[node]++
	}
}
