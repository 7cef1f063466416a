package estimate

import (
	"math"
	"math/rand/v2"
	"testing"

	"clampwright/assembly/assure"
)

// packs are two of cells alike, but for what off changes: the first read in full, the second
// as well or only as it is set.
func packs(t *testing.T, r *rand.Rand, full bool, off func(z []float64)) (learned Learned, truth *assure.Life, second []Reading, cells []float64) {
	t.Helper()
	c := large(4, 68)
	rs := sprung(c)
	for i := range rs {
		if rs[i].What == Height && rs[i].Stage == Set {
			rs[i].Value = c.height(c.TargetN/4, 1)
		}
	}
	read := func(rs []Reading, z []float64) (*assure.Life, []Reading) {
		m := newModel(c, rs)
		m.sets[0].ErrorMM = 0
		for len(z) < m.n {
			z = append(z, r.NormFloat64())
		}
		for i, v := range m.foretell(z) {
			rs[i].Value = v + m.sigma(i)*r.NormFloat64()
		}
		l, _ := m.walk(z)
		return l, rs
	}
	for range assure.OfCells {
		cells = append(cells, r.NormFloat64())
	}
	_, rs = read(rs, append([]float64(nil), cells...))
	e, err := Fit(c, rs)
	if err != nil {
		t.Skip(err)
	}
	learned = Learned{Batch: "A", Pack: "one", Packs: 1}
	learned.Mean, learned.Cov = e.Learn()
	if off != nil {
		off(cells)
	}
	second = visit(c, Length, Snug, 0, c.SetCharge, calliper)
	second = append(second, visit(c, Height, Set, 0, c.SetCharge, calliper)...)
	if full {
		second = sprung(c)
	}
	for i := range second {
		if second[i].What == Height {
			second[i].Value = c.height(c.TargetN/4, 1)
		}
	}
	truth, second = read(second, append([]float64(nil), cells...))
	return learned, truth, second, cells
}

// What one pack told narrows the next of its batch: bands of 95 in 100 hold as often as
// they say, with few readings of its own, and are narrower than without.
func TestLearnedNarrows(t *testing.T) {
	n := 40
	slack := 3 * math.Sqrt(0.95*0.05/float64(n))
	r := rand.New(rand.NewPCG(3, 4))
	at := Moment{1, 1, 40}
	held, wide, wideAlone, bias, found := 0, 0.0, 0.0, 0.0, 0
	for range n {
		l, truth, rs, cells := packs(t, r, false, nil)
		p, apart := Pool("A", []Learned{l})
		if p == nil || apart != nil {
			t.Fatal(apart)
		}
		if math.Abs(cells[0]-p.mean[0]) < 1.96*p.root.At(0, 0) {
			found++
		}
		c := large(4, 68)
		alone, err := Fit(large(4, 68), rs)
		if err != nil {
			continue
		}
		if a := alone.Against("A", []Learned{l}, p); a != nil {
			t.Logf("of one batch, but told apart by %.1f sigma", a.Sigmas)
		}
		c.Prior = p
		e, err := Fit(c, rs)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := e.Forces(at)
		a, _ := alone.Forces(at)
		f := truth.At(at.Years, at.Charge, at.TempC).ForceN
		if f >= b.Low && f <= b.High {
			held++
		}
		bias += (b.Value - f) / ((b.High - b.Low) / 3.92) / float64(n)
		wide, wideAlone = wide+(b.High-b.Low)/float64(n), wideAlone+(a.High-a.Low)/float64(n)
	}
	t.Logf("%d of %d held, bias %.2f; modulus found %d; band %.0f N, alone %.0f N", held, n, bias, found, wide, wideAlone)
	if share := float64(held) / float64(n); math.Abs(share-0.95) > slack || math.Abs(float64(found)/float64(n)-0.95) > slack || math.Abs(bias) > 0.2+2.5/math.Sqrt(float64(n)) {
		t.Errorf("%d of %d held, bias %.2f, modulus %d", held, n, bias, found)
	}
	if wide > 0.9*wideAlone {
		t.Errorf("band %.0f N with what was learned, %.0f without", wide, wideAlone)
	}
}

// Batches that disagree are told apart, whichever way round, and none is used; those that
// agree are pooled, and one of another batch counts for less than one of the same.
func TestBatches(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	wrongly, missed, n := 0, 0, 30
	for range n {
		l, _, _, _ := packs(t, r, false, nil)
		same := l
		same.Pack = "two"
		other := l
		other.Batch, other.Mean = "B", append([]float64(nil), l.Mean...)
		if p, a := Pool("", []Learned{l, other}); p == nil || a != nil {
			wrongly++
		} else if q, _ := Pool("A", []Learned{l, same}); q.Packs != 2 || q.root.At(0, 0) > 0.99*p.root.At(0, 0) {
			t.Errorf("two of one batch leave %.3f, two batches %.3f", q.root.At(0, 0), p.root.At(0, 0))
		}
		if p, _ := Pool("A", []Learned{l, other}); len(p.From) != 1 || p.From[0] != 0 {
			t.Errorf("%+v", p)
		}
		other.Mean[0] += math.Copysign(3.5, -l.Mean[0])
		for _, all := range [][]Learned{{l, other}, {other, l}} {
			if p, a := Pool("C", all); p != nil || a == nil {
				missed++
			} else if a.Most != 0 || a.Entries != [2]int{0, 1} || math.Abs(a.Means[0]-a.Means[1]) < 3 {
				t.Errorf("%+v", a)
			}
		}
	}
	if wrongly > 0 || missed > 0 {
		t.Errorf("of %d, %d alike were told apart and %d that differ were not", n, wrongly, missed)
	}
	if p, a := Pool("A", nil); p != nil || a != nil {
		t.Error(p, a)
	}
}

// This pack's own readings against what was learned: cells far from it are told apart, those
// of the batch are not more than rarely.
func TestAgainst(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	n, false0, found := 40, 0, 0
	for i := range n {
		var off func(z []float64)
		if i%2 == 1 {
			off = func(z []float64) { z[0] += math.Copysign(4, -z[0]); z[3] += math.Copysign(3, -z[3]) }
		}
		l, _, rs, _ := packs(t, r, true, off)
		p, _ := Pool("A", []Learned{l})
		e, err := Fit(large(4, 68), rs)
		if err != nil {
			continue
		}
		a := e.Against("A", []Learned{l}, p)
		switch {
		case i%2 == 0 && a != nil:
			false0++
		case i%2 == 1 && a != nil && a.Entries == [2]int{0, -1}:
			found++
		}
	}
	t.Logf("%d of %d alike told apart, %d of %d that differ", false0, n/2, found, n/2)
	if false0 > 1 || found < n/4 {
		t.Errorf("%d alike told apart, %d that differ", false0, found)
	}
}
