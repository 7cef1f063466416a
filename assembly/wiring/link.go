package wiring

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"clampwright/parts/geom"
)

// Link joins two posts.
type Link struct {
	ID string // unique within a plan: "J4"
	A  Post
	B  Post
	// Cable says that the link is an insulated cable, since a bare bar would
	// cross another link or lie over a foreign terminal.
	Cable bool
	// CableMM2 is the copper section of a cable.
	CableMM2 float64
	// Layers is the number of bars on top of each other; at least 1.
	Layers int
}

func (l Link) layers() int { return max(1, l.Layers) }

// on says that an end of the link is at a terminal.
func (l Link) on(p Post) bool { return l.A == p || l.B == p }

// key identifies the two posts regardless of direction.
func (l Link) key() [2]int {
	a, b := l.A.node(), l.B.node()
	if a > b {
		a, b = b, a
	}
	return [2]int{a, b}
}

// LinkError is a link text that names no two different terminals.
type LinkError struct {
	Text   string // as given
	Reason string
}

// Error names the text and what is wrong with it.
func (e *LinkError) Error() string { return fmt.Sprintf("link %q: %s", e.Text, e.Reason) }

// ParseLink reads a link text of two terminals, each a cell name followed by a
// pole or a side: "A3+ A4-", "3 left 4 left". The pole is that of the cell as
// turned in t.
func (l *Layout) ParseLink(text string, t Turns) (Link, error) {
	fail := func(reason string) (Link, error) {
		return Link{}, &LinkError{Text: text, Reason: reason}
	}
	if n := utf8.RuneCountInString(text); n > 100 {
		return fail(fmt.Sprintf("it has %d characters, at most 100 are read", n))
	}
	fields := strings.Fields(strings.ReplaceAll(strings.ReplaceAll(text, "+", " + "), "-", " - "))
	if len(fields) != 4 {
		return fail("want two terminals, such as \"" + l.CellName(0) + "+ " + l.CellName(l.Cells()-1) + "-\"")
	}
	var posts [2]Post
	for i := range posts {
		slot, ok := slotNamed(l, fields[2*i])
		if !ok {
			return fail(fmt.Sprintf("no cell %q in this pack", fields[2*i]))
		}
		switch fields[2*i+1] {
		case "+", "plus":
			posts[i] = t.At(slot, Plus)
		case "-", "minus":
			posts[i] = t.At(slot, Minus)
		case "left":
			posts[i] = Post{slot, Left}
		case "right":
			posts[i] = Post{slot, Right}
		default:
			return fail(fmt.Sprintf("%q is neither +, -, left nor right", fields[2*i+1]))
		}
	}
	if posts[0] == posts[1] {
		return fail("both ends are the same terminal")
	}
	return Link{A: posts[0], B: posts[1], Layers: 1}, nil
}

func slotNamed(l *Layout, name string) (int, bool) {
	row := 0
	if l.in.Rows > 1 {
		if name == "" || (name[0]|0x20) < 'a' || int(name[0]|0x20) >= 'a'+l.in.Rows {
			return 0, false
		}
		row = int((name[0] | 0x20) - 'a')
		name = name[1:]
	}
	i, err := strconv.Atoi(name)
	if err != nil || i < 1 || i > l.in.CellsPerRow || name[0] == '+' || row*l.in.CellsPerRow+i > l.Cells() {
		return 0, false
	}
	return row*l.in.CellsPerRow + i - 1, true
}

// LinkName names a link for people: "link J4 (A3+ to A4-)".
func (l *Layout) LinkName(k Link, t Turns) string {
	ends := l.ShortName(k.A, t) + " to " + l.ShortName(k.B, t)
	if k.ID == "" {
		return "link " + ends
	}
	return "link " + k.ID + " (" + ends + ")"
}

// chainLinks returns the links of the final order, along the path.
func chainLinks(l *Layout, o Order) []Link {
	var out []Link
	for k := 1; k < len(o.Path); k++ {
		for _, p := range stepPosts(l, o.Path, k, o.Turns) {
			out = append(out, Link{A: p[0], B: p[1], Layers: 1})
		}
	}
	return out
}

// joinPoles returns the cheapest set of links that joins all like poles of the
// given slots: the minimum spanning tree of each pole, by Prim's method.
// Equal costs keep the lower slot, so the result is the same every time.
func joinPoles(l *Layout, slots []int, t Turns) []Link {
	var out []Link
	for _, pole := range []Pole{Minus, Plus} {
		posts := make([]Post, len(slots))
		for i, s := range slots {
			posts[i] = t.At(s, pole)
		}
		out = append(out, spanningTree(l, posts, t)...)
	}
	return out
}

func spanningTree(l *Layout, posts []Post, t Turns) []Link {
	n := len(posts)
	p := &prim{l: l, at: l.positions(t), posts: posts, tree: []int{0},
		cost: make([]float64, n), parent: make([]int, n), weighed: make([]int, n), near: make([]int, n), done: make([]bool, n)}
	p.done[0] = true
	for i := range p.cost {
		p.cost[i] = math.Inf(1)
	}
	var out []Link
	for range n - 1 {
		next := p.next()
		p.done[next] = true
		p.tree = append(p.tree, next)
		out = append(out, Link{A: posts[p.parent[next]], B: posts[next], Layers: 1})
		for i := range posts {
			if p.near[i] < 0 || p.away(i, next) < p.away(i, p.near[i]) {
				p.near[i] = next
			}
		}
	}
	return out
}

// prim is a spanning tree as it grows. A link is weighed only once it may be the next:
// it costs its length at least.
type prim struct {
	l       *Layout
	at      []geom.Vec2
	posts   []Post
	tree    []int // posts joined, in their order
	cost    []float64
	parent  []int
	weighed []int // by post, how many of the tree's links to it are
	near    []int // by post, the nearest of the tree's posts not weighed with it; -1 for none
	done    []bool
}

// surelyMM is by how much a link must be longer than the cheapest for it not to count:
// more than any tolerance of costs adds up to.
const surelyMM = 1.0

func (p *prim) away(i, j int) float64 {
	return p.at[p.posts[i].node()].Dist(p.at[p.posts[j].node()])
}

func (p *prim) costOf(i, j int) float64 { return linkCost(p.l, p.posts[i], p.posts[j], p.at) }

// next is the post whose link costs least.
func (p *prim) next() int {
	for {
		next, all := -1, true
		for i := range p.posts {
			if !p.done[i] && (next < 0 || p.cost[i] < p.cost[next]-lengthTolMM/1000) {
				next = i
			}
		}
		least := p.cost[next] + surelyMM
		for i := range p.posts {
			if !p.done[i] && p.near[i] >= 0 && p.away(i, p.near[i]) < least {
				p.weigh(i)
				all, least = false, min(least, p.cost[i]+surelyMM)
			}
		}
		if all {
			return next
		}
	}
}

// weigh weighs the tree's links to a post that it has not been weighed with, less those
// longer than what the nearest costs.
func (p *prim) weigh(i int) {
	most := p.costOf(p.near[i], i) + surelyMM
	for _, k := range p.tree[p.weighed[i]:] {
		if d := p.away(i, k); d < most && d < p.cost[i]-lengthTolMM/1000 {
			if c := p.costOf(k, i); c < p.cost[i]-lengthTolMM/1000 {
				p.cost[i], p.parent[i] = c, k
			}
		}
	}
	p.weighed[i], p.near[i] = len(p.tree), -1
}
