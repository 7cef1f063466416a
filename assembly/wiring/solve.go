package wiring

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

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
	ground []bool
	chol   mat.Cholesky
}

// NewSolver builds the node conductance matrix G (Kirchhoff's current law) and
// factors it. One node of every island is tied to 0 V; an island is all that is
// connected by cells and links. G is then symmetric and positive definite.
func NewSolver(n Network) (*Solver, error) {
	if err := n.check(); err != nil {
		return nil, err
	}
	nodes := 2 * len(n.EMF)
	s := &Solver{net: n, island: netsOf(len(n.EMF), n.Links), ground: make([]bool, nodes)}
	for slot := range n.EMF {
		s.island.union(2*slot, 2*slot+1)
	}
	g := mat.NewSymDense(nodes, nil)
	stamp := func(a, b int, siemens float64) {
		g.SetSym(a, a, g.At(a, a)+siemens)
		g.SetSym(b, b, g.At(b, b)+siemens)
		g.SetSym(a, b, g.At(a, b)-siemens)
	}
	for slot, r := range n.CellOhm {
		stamp(2*slot, 2*slot+1, 1/r)
	}
	for i, k := range n.Links {
		stamp(k.A.node(), k.B.node(), 1/n.LinkOhm[i])
	}
	for i := range nodes {
		if s.island.find(i) == i {
			s.ground[i] = true
			s.tie(g, i)
		}
	}
	if !s.chol.Factorize(g) {
		return nil, ErrNetwork
	}
	return s, nil
}

// tie replaces a node's equation by V = 0.
func (s *Solver) tie(g *mat.SymDense, node int) {
	for j := range g.SymmetricDim() {
		g.SetSym(node, j, 0)
	}
	g.SetSym(node, node, 1)
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
	rhs := mat.NewVecDense(len(s.ground), nil)
	add := func(node int, a float64) { rhs.SetVec(node, rhs.AtVec(node)+a) }
	for slot, e := range s.net.EMF {
		a := e / s.net.CellOhm[slot]
		add(s.net.Turns.At(slot, Plus).node(), a)
		add(s.net.Turns.At(slot, Minus).node(), -a)
	}
	add(m.Plus.node(), -amps)
	add(m.Minus.node(), amps)
	return s.solve(rhs)
}

func (s *Solver) solve(rhs *mat.VecDense) (Solution, error) {
	for i, g := range s.ground {
		if g {
			rhs.SetVec(i, 0)
		}
	}
	var v mat.VecDense
	if err := s.chol.SolveVecTo(&v, rhs); err != nil {
		var c mat.Condition
		if !errors.As(err, &c) {
			return Solution{}, err
		}
	}
	out := Solution{V: make([]float64, v.Len())}
	for i := range out.V {
		out.V[i] = v.AtVec(i)
	}
	for slot, e := range s.net.EMF {
		u := out.At(s.net.Turns.At(slot, Plus)) - out.At(s.net.Turns.At(slot, Minus))
		out.CellA = append(out.CellA, (e-u)/s.net.CellOhm[slot])
	}
	for i, k := range s.net.Links {
		out.LinkA = append(out.LinkA, (out.At(k.A)-out.At(k.B))/s.net.LinkOhm[i])
	}
	return out, nil
}

// network returns the state's circuit with every cell at one voltage, behind its own
// resistance.
func (l *Layout) network(s State, cellV float64) Network {
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
func (l *Layout) solveFaults(s State, p *Proof) {
	p.IntendedV = s.VoltageOf(l.in.Volts.Nominal)
	fail := func(kind FaultKind, text string) {
		p.Faults = append(p.Faults, Fault{Kind: kind, Text: text})
	}
	solver, err := NewSolver(l.network(s, l.in.Volts.Nominal))
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
	l.idleFault(s, sol, p)
}

// idleFault names the cells and links through which a current flows with nothing
// connected: cells that are shorted, or in a loop whose voltages do not cancel.
func (l *Layout) idleFault(s State, sol Solution, p *Proof) {
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
	f.Text = fmt.Sprintf("with nothing connected up to %s flow through %s, by %s", amps(p.IdleA), l.cellsText(f.Cells), words.Join(names))
	p.Faults = append(p.Faults, f)
}
