package wiring

// levels are the voltages that a meter finds with nothing connected: every terminal
// belongs to an island of cells and links that hang together, and stands at some
// volts within it. Between islands a meter shows nothing.
type levels struct {
	island []int
	volts  []float64
}

// levelsOf follows links and cells from terminal to terminal, each cell at its own
// voltage. It is exact where no loop is opposed; where one is, a current flows and
// the first way found counts.
func levelsOf(t Turns, cellV []float64, links []Link) levels {
	nodes := 2 * len(t)
	lv := levels{make([]int, nodes), make([]float64, nodes)}
	ends := linkEnds{make([]int, nodes), make([]int, 2*len(links)), links} // by list: there are many levels to draw
	for i := range lv.island {
		lv.island[i], ends.first[i] = -1, -1
	}
	for i := 2*len(links) - 1; i >= 0; i-- {
		at := &ends.first[ends.at(i).node()]
		ends.next[i], *at = *at, i
	}
	for start := range nodes {
		if lv.island[start] < 0 {
			lv.spread(start, t, cellV, ends)
		}
	}
	return lv
}

// linkEnds are the links' ends by terminal: first by node, next by end; -1 for none.
type linkEnds struct {
	first, next []int
	links       []Link
}

// at is the terminal of an end: 2*i is that at A of link i.
func (e linkEnds) at(i int) Post {
	if i%2 == 0 {
		return e.links[i/2].A
	}
	return e.links[i/2].B
}

// spread gives all that hangs together with a terminal its level.
func (lv levels) spread(start int, t Turns, cellV []float64, ends linkEnds) {
	reach := func(node int, v float64) bool {
		if lv.island[node] >= 0 {
			return false
		}
		lv.island[node], lv.volts[node] = start, v
		return true
	}
	reach(start, 0)
	for queue := []int{start}; len(queue) > 0; queue = queue[1:] {
		at, v := queue[0], lv.volts[queue[0]]
		for i := ends.first[at]; i >= 0; i = ends.next[i] {
			if o := ends.at(i ^ 1).node(); reach(o, v) {
				queue = append(queue, o)
			}
		}
		p := postOf(at)
		across := cellV[p.Slot]
		if t.Pole(p) == Plus {
			across = -across
		}
		if other := p.across().node(); reach(other, v+across) {
			queue = append(queue, other)
		}
	}
}

// join brings what hangs on one end of a link to the level of the other.
func (lv levels) join(k Link) {
	if lv.joined(k.A, k.B) {
		return
	}
	from, to := lv.island[k.B.node()], lv.island[k.A.node()]
	by := lv.volts[k.A.node()] - lv.volts[k.B.node()]
	for i, is := range lv.island {
		if is == from {
			lv.island[i], lv.volts[i] = to, lv.volts[i]+by
		}
	}
}

// joined says that two terminals hang together.
func (lv levels) joined(p, q Post) bool { return lv.island[p.node()] == lv.island[q.node()] }

// between is what a meter shows, V, black lead at p and red at q: nothing between
// islands.
func (lv levels) between(p, q Post) float64 {
	if !lv.joined(p, q) {
		return 0
	}
	return lv.volts[q.node()] - lv.volts[p.node()]
}

// bridged is the same while a test lead joins a and b: what flows through it is too
// little to move a cell.
func (lv levels) bridged(p, q, a, b Post) float64 {
	switch {
	case lv.joined(p, q):
		return lv.between(p, q)
	case lv.joined(p, a) && lv.joined(b, q):
		return lv.between(p, a) + lv.between(b, q)
	case lv.joined(p, b) && lv.joined(a, q):
		return lv.between(p, b) + lv.between(a, q)
	}
	return 0
}

// across is the other terminal of the same cell.
func (p Post) across() Post { return Post{p.Slot, p.Side.Other()} }
