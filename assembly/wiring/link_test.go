package wiring

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// plainSpanning is the slow twin of spanning: every link weighed at every step.
func plainSpanning(l *Layout, posts []Post, t Turns) []Link {
	n, at := len(posts), l.positions(t)
	cost, parent, done := make([]float64, n), make([]int, n), make([]bool, n)
	for i := 1; i < n; i++ {
		cost[i] = linkCost(l, posts[0], posts[i], at)
	}
	done[0] = true
	var out []Link
	for range n - 1 {
		next := -1
		for i := range n {
			if !done[i] && (next < 0 || cost[i] < cost[next]-lengthTolMM/1000) {
				next = i
			}
		}
		done[next] = true
		out = append(out, Link{A: posts[parent[next]], B: posts[next], Layers: 1})
		for i := range n {
			if c := linkCost(l, posts[next], posts[i], at); !done[i] && c < cost[i]-lengthTolMM/1000 {
				cost[i], parent[i] = c, next
			}
		}
	}
	return out
}

func TestSpanningAgreesWithWeighingAll(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 1))
	for _, in := range append(layouts(), pack(16, 2, 4, 8)) {
		l := mustLayout(t, in)
		for range 4 {
			turns := make(Turns, l.Cells())
			for i := range turns {
				turns[i] = Side(r.IntN(2))
			}
			posts := make([]Post, l.Cells())
			for i := range posts {
				posts[i] = turns.At(i, Pole(r.IntN(2)))
			}
			r.Shuffle(len(posts), func(i, j int) { posts[i], posts[j] = posts[j], posts[i] })
			if got, want := spanningTree(l, posts, turns), plainSpanning(l, posts, turns); !slices.Equal(got, want) {
				t.Fatalf("%d cells: %v, want %v", l.Cells(), got, want)
			}
		}
	}
}
