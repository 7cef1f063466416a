package wiring

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"clampwright/params/words"
)

// Network is a state as a resistive circuit: every cell a source behind its
// resistance, every link a resistance, every terminal a node.
type Network struct {
	EMF     []float64 // V, per slot
	CellOhm []float64 // per slot
	Links   []Link
	LinkOhm []float64 // per link
	Turns   Turns
}

// Solution is a solved network.
type Solution struct {
	// V is the voltage of every terminal node (2*slot+side); each island of
	// connected cells has its first node at 0 V.
	V []float64
	// CellA is the current out of every cell's plus.
	CellA []float64
	// LinkA is the current through every link from A to B.
	LinkA []float64
}

// At returns the voltage of a post.
func (s Solution) At(p Post) float64 { return s.V[p.node()] }

// Errors of the solver.
var (
	ErrNetwork = errors.New("network: resistances must be positive numbers, one per cell and link")
	ErrIsland  = errors.New("network: the two take-offs are not connected to each other")
)

// Solver holds a factored network, so that many loads can be solved.
type Solver struct {
	net    Network
	island *nets
	stars  []star
	idle   []float64 // the nodes' volts without a load, once asked for
}

// star is an eliminated node: its conductances to nodes that go later, and the sum of
// all it has, to ground too.
type star struct {
	node int
	to   []int
	g    []float64
	sum  float64
}

// NewSolver writes down the conductances between the nodes (Kirchhoff's current law)
// and eliminates node after node, that with the fewest neighbours first, the lowest of
// equals: each star becomes the mesh of its ends, which only adds, so that nothing is
// lost to rounding, and packs fill in next to nothing. One node of every island is tied
// to 0 V; an island is all that is connected by cells and links.
func NewSolver(n Network) (*Solver, error) {
	if err := n.check(); err != nil {
		return nil, err
	}
	nodes := 2 * len(n.EMF)
	s := &Solver{net: n, island: netsOf(len(n.EMF), n.Links)}
	for slot := range n.EMF {
		s.island.union(2*slot, 2*slot+1)
	}
	mesh, ground := make([]map[int]float64, nodes), make([]float64, nodes)
	for i := range mesh {
		mesh[i] = map[int]float64{}
	}
	stamp := func(a, b int, siemens float64) {
		for _, e := range [2][2]int{{a, b}, {b, a}} {
			if s.island.find(e[1]) == e[1] {
				ground[e[0]] += siemens
			} else {
				mesh[e[0]][e[1]] += siemens
			}
		}
	}
	for slot, r := range n.CellOhm {
		stamp(2*slot, 2*slot+1, 1/r)
	}
	for i, k := range n.Links {
		stamp(k.A.node(), k.B.node(), 1/n.LinkOhm[i])
	}
	return s, s.eliminate(mesh, ground)
}

// eliminate turns the mesh into stars.
func (s *Solver) eliminate(mesh []map[int]float64, ground []float64) error {
	left := make([]int, 0, len(mesh))
	for node := range mesh {
		if s.island.find(node) != node {
			left = append(left, node)
		}
	}
	for len(left) > 0 {
		at := 0
		for i, node := range left {
			if len(mesh[node]) < len(mesh[left[at]]) {
				at = i
			}
		}
		x := star{node: left[at], to: slices.Sorted(maps.Keys(mesh[left[at]])), sum: ground[left[at]]}
		left = slices.Delete(left, at, at+1)
		for _, j := range x.to {
			x.g, x.sum = append(x.g, mesh[x.node][j]), x.sum+mesh[x.node][j]
			delete(mesh[j], x.node)
		}
		if !(x.sum > 0) || math.IsInf(x.sum, 0) {
			return ErrNetwork
		}
		for a, i := range x.to {
			ground[i] += x.g[a] * ground[x.node] / x.sum
			for b, j := range x.to[:a] {
				g := x.g[a] * x.g[b] / x.sum
				mesh[i][j] += g
				mesh[j][i] += g
			}
		}
		s.stars = append(s.stars, x)
	}
	return nil
}

// volts solves for the nodes' voltages by the currents that flow into them.
func (s *Solver) volts(amps []float64) []float64 {
	for _, x := range s.stars {
		for a, j := range x.to {
			amps[j] += amps[x.node] * x.g[a] / x.sum
		}
	}
	v := make([]float64, len(amps))
	for _, x := range slices.Backward(s.stars) {
		sum := amps[x.node]
		for a, j := range x.to {
			sum += x.g[a] * v[j]
		}
		v[x.node] = sum / x.sum
	}
	return v
}

func (n Network) check() error {
	if len(n.EMF) == 0 || len(n.CellOhm) != len(n.EMF) || len(n.Turns) != len(n.EMF) || len(n.LinkOhm) != len(n.Links) {
		return ErrNetwork
	}
	for i, r := range n.CellOhm {
		if !(r > 0) || math.IsInf(r, 0) || math.IsNaN(n.EMF[i]) || math.IsInf(n.EMF[i], 0) || n.Turns[i]|1 != 1 {
			return ErrNetwork
		}
	}
	for i, r := range n.LinkOhm {
		k := n.Links[i]
		if !(r >= leastLinkOhm) || math.IsInf(r, 0) || k.A == k.B || !n.has(k.A) || !n.has(k.B) {
			return ErrNetwork
		}
	}
	return nil
}

func (n Network) has(p Post) bool {
	return p.Slot >= 0 && p.Slot < len(n.EMF) && p.Side|1 == 1
}

// Load solves the network with a current drawn from the mains: positive
// discharges the pack, negative charges it, zero leaves it alone.
func (s *Solver) Load(m Mains, amps float64) (Solution, error) {
	if !s.net.has(m.Minus) || !s.net.has(m.Plus) || math.IsNaN(amps) || math.IsInf(amps, 0) {
		return Solution{}, ErrNetwork
	}
	if amps != 0 && s.island.find(m.Minus.node()) != s.island.find(m.Plus.node()) {
		return Solution{}, ErrIsland
	}
	in := make([]float64, 2*len(s.net.EMF))
	for slot, e := range s.net.EMF {
		a := e / s.net.CellOhm[slot]
		in[s.net.Turns.At(slot, Plus).node()] += a
		in[s.net.Turns.At(slot, Minus).node()] -= a
	}
	in[m.Plus.node()] -= amps
	in[m.Minus.node()] += amps
	out := Solution{V: s.volts(in)}
	for slot, e := range s.net.EMF {
		u := out.At(s.net.Turns.At(slot, Plus)) - out.At(s.net.Turns.At(slot, Minus))
		out.CellA = append(out.CellA, (e-u)/s.net.CellOhm[slot])
	}
	for i, k := range s.net.Links {
		out.LinkA = append(out.LinkA, (out.At(k.A)-out.At(k.B))/s.net.LinkOhm[i])
	}
	return out, nil
}

// Between returns the open voltage and the source resistance seen between two
// posts (Thevenin): a piece of metal laid across them carries volts/ohms. ok is
// false where no circuit connects them.
func (s *Solver) Between(a, b Post) (volts, ohms float64, ok bool) {
	if !s.net.has(a) || !s.net.has(b) || a == b || s.island.find(a.node()) != s.island.find(b.node()) {
		return 0, 0, false
	}
	if s.idle == nil {
		idle, err := s.Load(Mains{a, b}, 0)
		if err != nil {
			return 0, 0, false
		}
		s.idle = idle.V
	}
	i, j, in := a.node(), b.node(), make([]float64, len(s.idle))
	in[i], in[j] = -1, 1
	v := s.volts(in)
	return s.idle[j] - s.idle[i], v[j] - v[i], true
}

// networkOf returns the state's circuit with every cell at one voltage, behind its own
// resistance.
func networkOf(l *Layout, s State, cellV float64) Network {
	n := Network{Links: s.Links, Turns: s.Turns}
	for slot := range s.Turns {
		n.EMF = append(n.EMF, cellV)
		n.CellOhm = append(n.CellOhm, cellOhm(l, slot))
	}
	for _, k := range s.Links {
		n.LinkOhm = append(n.LinkOhm, l.LinkOhm(k, s.Turns))
	}
	return n
}

// solveFaults is the second way of the proof: by circuit solution.
func solveFaults(l *Layout, s State, p *Proof) {
	p.IntendedV = s.VoltageOf(l.in.Volts.Nominal)
	fail := func(kind FaultKind, text string) {
		p.Faults = append(p.Faults, Fault{Kind: kind, Text: text})
	}
	solver, err := NewSolver(networkOf(l, s, l.in.Volts.Nominal))
	if err != nil {
		fail(FaultBroken, err.Error())
		return
	}
	sol, err := solver.Load(s.Mains, 0)
	if err != nil {
		fail(FaultBroken, err.Error())
		return
	}
	p.PackV = sol.At(s.Mains.Plus) - sol.At(s.Mains.Minus)
	switch {
	case solver.island.find(s.Mains.Minus.node()) != solver.island.find(s.Mains.Plus.node()):
		fail(FaultVoltage, ErrIsland.Error())
	case math.Abs(p.PackV-p.IntendedV) > voltageTolV:
		fail(FaultVoltage, "the pack gives "+volts(p.PackV)+" and must give "+volts(p.IntendedV))
	}
	idleFault(l, s, sol, p)
}

// idleFault names the cells and links through which a current flows with nothing
// connected: cells that are shorted, or in a loop whose voltages do not cancel.
func idleFault(l *Layout, s State, sol Solution, p *Proof) {
	f := Fault{Kind: FaultCurrent}
	for slot, a := range sol.CellA {
		if p.IdleA = max(p.IdleA, math.Abs(a)); math.Abs(a) > currentTolA {
			f.Cells = append(f.Cells, slot)
		}
	}
	if len(f.Cells) == 0 {
		return
	}
	var names []string
	for i, a := range sol.LinkA {
		if math.Abs(a) > currentTolA {
			f.Links, names = append(f.Links, s.Links[i]), append(names, l.LinkName(s.Links[i], s.Turns))
		}
	}
	f.Text = fmt.Sprintf("with nothing connected up to %s flow through %s, by %s", amps(p.IdleA), cellsText(l, f.Cells), words.Join(names))
	p.Faults = append(p.Faults, f)
}
