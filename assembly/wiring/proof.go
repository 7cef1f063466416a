package wiring

import "fmt"

// FaultKind says what the proof found.
type FaultKind string

// The kinds of fault.
const (
	FaultBroken   FaultKind = "broken"        // the state itself cannot be read
	FaultLink     FaultKind = "wrong-link"    // a link joins terminals that must stay apart
	FaultMissing  FaultKind = "missing-link"  // terminals that belong together are apart
	FaultTurned   FaultKind = "cell-turned"   // a cell stands the wrong way round
	FaultMains    FaultKind = "wrong-mains"   // a take-off stands at the wrong net
	FaultVoltage  FaultKind = "pack-voltage"  // the solved voltage is not the intended one
	FaultTouch    FaultKind = "touch"         // bare metal of unlike nets touches
	FaultCurrent  FaultKind = "idle-current"  // current flows with nothing connected
	FaultSequence FaultKind = "sequence"      // a step must not be done at this moment
	FaultOpening  FaultKind = "clamp-opening" // the clamp is opened on charged cells
)

// Fault is one thing that is wrong with a state or a plan.
type Fault struct {
	Kind  FaultKind
	State string // State.ID
	Step  int    // 1-based step of the plan, 0 outside sequence proofs
	Text  string
	Cells []int  // slots concerned
	Links []Link // links concerned
}

// Proof is the outcome of Prove. It holds only when there are no faults.
type Proof struct {
	Faults []Fault
	// PackV is the voltage between the mains by circuit solution at nominal
	// cell voltage; IntendedV is what it must be.
	PackV, IntendedV float64
	// IdleA is the greatest current in any cell with nothing connected.
	IdleA float64
}

// Holds says whether the state is what it is meant to be.
func (p Proof) Holds() bool { return len(p.Faults) == 0 }

// Prove checks a state by two independent ways: by the nets that the links make
// (every terminal in the net it is meant for, and the net whole), and by solving
// the circuit (pack voltage as intended, no current without a load). All faults
// are returned, wrong links by name.
func (l *Layout) Prove(s State) Proof {
	var p Proof
	if f, bad := brokenState(l, s); bad {
		return Proof{Faults: []Fault{f}}
	}
	want := intendedNets(l, s)
	turned := turnedFaults(l, s)
	p.Faults = append(p.Faults, turned...)
	p.Faults = append(p.Faults, linkFaults(l, s, want)...)
	p.Faults = append(p.Faults, missingFaults(l, s, want)...)
	p.Faults = append(p.Faults, mainsFaults(l, s, want)...)
	solveFaults(l, s, &p)
	for i := range p.Faults {
		p.Faults[i].State = s.ID
	}
	return p
}

// brokenState refuses states that name slots which are not there or repeat one.
func brokenState(l *Layout, s State) (Fault, bool) {
	n := l.Cells()
	fail := func(text string) (Fault, bool) {
		return Fault{Kind: FaultBroken, State: s.ID, Text: text}, true
	}
	if len(s.Turns) != n || len(s.Intended) != n {
		return fail(fmt.Sprintf("%d cells have an orientation, the pack has %d", len(s.Turns), n))
	}
	for i := range n {
		if s.Turns[i]|1 != 1 || s.Intended[i]|1 != 1 {
			return fail("a cell's orientation is neither left nor right")
		}
	}
	seen := make([]bool, n)
	for _, place := range s.Places {
		if len(place) == 0 {
			return fail("a series place is empty")
		}
		for _, slot := range place {
			if slot < 0 || slot >= n || seen[slot] {
				return fail("a series place names a cell twice or one that is not there")
			}
			seen[slot] = true
		}
	}
	if len(s.Places) == 0 {
		return fail("no series place")
	}
	posts := []Post{s.Mains.Minus, s.Mains.Plus}
	for _, k := range s.Links {
		if k.A == k.B {
			return fail("a link starts and ends at one terminal")
		}
		posts = append(posts, k.A, k.B)
	}
	for _, p := range posts {
		if p.Slot < 0 || p.Slot >= n || p.Side|1 != 1 {
			return fail("a link or take-off names a terminal that is not there")
		}
	}
	return Fault{}, false
}

// freeNet is the first number of the nets of cells that take no part; each of
// their terminals is a net of its own.
func freeNet(s State, p Post) int { return len(s.Places) + 1 + p.node() }

// intendedNets numbers the net that every post is meant to belong to: net k
// lies between place k-1 and place k, counted from the minus end. The number
// follows the pole that really stands at the post.
func intendedNets(l *Layout, s State) []int {
	want := make([]int, 2*l.Cells())
	for node := range want {
		want[node] = freeNet(s, postOf(node))
	}
	for k, place := range s.Places {
		for _, slot := range place {
			want[s.Turns.At(slot, Minus).node()] = k
			want[s.Turns.At(slot, Plus).node()] = k + 1
		}
	}
	return want
}

func turnedFaults(l *Layout, s State) []Fault {
	var out []Fault
	for slot := range s.Turns {
		if s.Turns[slot] != s.Intended[slot] {
			out = append(out, Fault{Kind: FaultTurned, Cells: []int{slot},
				Text: fmt.Sprintf("cell %s stands the wrong way round: its plus is on the %s and must be on the %s",
					l.CellName(slot), s.Turns[slot], s.Intended[slot])})
		}
	}
	return out
}

func linkFaults(l *Layout, s State, want []int) []Fault {
	var out []Fault
	for _, k := range s.Links {
		a, b := want[k.A.node()], want[k.B.node()]
		if a == b {
			continue
		}
		out = append(out, Fault{Kind: FaultLink, Links: []Link{k}, Cells: []int{k.A.Slot, k.B.Slot},
			Text: fmt.Sprintf("%s is wrong: %s belongs to %s, %s to %s", l.LinkName(k, s.Turns),
				l.PostName(k.A, s.Turns), netName(s, a), l.PostName(k.B, s.Turns), netName(s, b))})
	}
	return out
}

func netName(s State, net int) string {
	switch {
	case net == 0:
		return "the pack minus"
	case net == len(s.Places):
		return "the pack plus"
	case net < len(s.Places):
		return fmt.Sprintf("the joint of places %d and %d", net, net+1)
	}
	return "no link in this state"
}

func missingFaults(l *Layout, s State, want []int) []Fault {
	var out []Fault
	for _, at := range missing(netsOf(l.Cells(), s.Links), want, len(s.Places)) {
		p, f := postOf(at[0]), postOf(at[1])
		out = append(out, Fault{Kind: FaultMissing, Cells: []int{p.Slot, f.Slot},
			Text: fmt.Sprintf("%s is not joined to %s: both belong to %s",
				l.PostName(p, s.Turns), l.PostName(f, s.Turns), netName(s, want[at[0]]))})
	}
	return out
}

// missing are the nodes that are not joined to the first of their net, with that one;
// nets above the last are of cells that take no part.
func missing(got *nets, want []int, last int) (out [][2]int) {
	first := make([]int, last+1) // 1 more than the node
	for node, net := range want {
		switch {
		case net > last:
		case first[net] == 0:
			first[net] = node + 1
		case got.find(node) != got.find(first[net]-1):
			out = append(out, [2]int{node, first[net] - 1})
		}
	}
	return out
}

func mainsFaults(l *Layout, s State, want []int) []Fault {
	var out []Fault
	check := func(p Post, net int, name string) {
		if want[p.node()] != net {
			out = append(out, Fault{Kind: FaultMains, Cells: []int{p.Slot},
				Text: fmt.Sprintf("the %s take-off is at %s, which belongs to %s", name,
					l.PostName(p, s.Turns), netName(s, want[p.node()]))})
		}
	}
	check(s.Mains.Minus, 0, "minus")
	check(s.Mains.Plus, len(s.Places), "plus")
	return out
}
