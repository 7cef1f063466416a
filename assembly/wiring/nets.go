package wiring

// nets is a union-find structure over terminal nodes.
type nets struct{ parent []int }

func newNets(nodes int) *nets {
	n := &nets{parent: make([]int, nodes)}
	for i := range n.parent {
		n.parent[i] = i
	}
	return n
}

func (n *nets) find(i int) int {
	for n.parent[i] != i {
		n.parent[i] = n.parent[n.parent[i]]
		i = n.parent[i]
	}
	return i
}

// union joins two nets; the lower root stays, so that the result does not
// depend on the order of the links.
func (n *nets) union(a, b int) {
	a, b = n.find(a), n.find(b)
	if a > b {
		a, b = b, a
	}
	n.parent[b] = a
}

// netsOf joins the nodes that links connect.
func netsOf(cells int, links []Link) *nets {
	n := newNets(2 * cells)
	for _, k := range links {
		n.union(k.A.node(), k.B.node())
	}
	return n
}
