package clamp

import (
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// sampleBand is a diagonally dominant, so positive definite, matrix.
func sampleBand(n, kd int) bandMatrix {
	r := rand.New(rand.NewSource(1))
	last := make([]int, n)
	for i := range last {
		last[i] = min(i+kd, n-1)
	}
	k := newBandMatrix(kd, last)
	for i := range k.data {
		k.data[i] = r.Float64() - 0.5
	}
	for i := range n {
		k.add(i, float64(kd)+1)
	}
	return k
}

func (k bandMatrix) clone() bandMatrix {
	k.data = append([]float64(nil), k.data...)
	return k
}

// library is the same matrix as gonum's, sharing its data.
func (k bandMatrix) library() blas64.SymmetricBand {
	return blas64.SymmetricBand{Uplo: blas.Upper, N: k.n, K: k.kd, Stride: k.kd + 1, Data: k.data}
}

// Factor, solution and product against gonum's LAPACK and BLAS (Pbtrf, Pbtrs,
// Sbmv).
func TestBandedAgainstLibrary(t *testing.T) {
	for _, size := range [][2]int{{1, 0}, {2, 1}, {7, 3}, {50, 49}, {301, 44}, {120, 90}} {
		n, kd := size[0], size[1]
		k := sampleBand(n, kd)
		x, y, z := make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = float64(i%13) - 5
		}
		k.multiply(x, y)
		blas64.Sbmv(1, k.library(), blas64.Vector{N: n, Inc: 1, Data: x}, 0, blas64.Vector{N: n, Inc: 1, Data: z})
		if !floats.EqualApprox(y, z, 1e-11) {
			t.Errorf("%d by %d: the product differs", n, kd)
		}
		theirs := k.clone()
		f, ok := lapack64.Pbtrf(theirs.library())
		if ours := k.factorize(); !ok || !ours {
			t.Fatal(ours, ok)
		}
		for i := range n {
			if !floats.EqualApprox(k.row(i), theirs.row(i), 1e-12) {
				t.Fatalf("%d by %d: row %d of the factor differs", n, kd, i)
			}
		}
		k.solve(y)
		lapack64.Pbtrs(f, blas64.General{Rows: n, Cols: 1, Stride: 1, Data: z})
		if !floats.EqualApprox(y, z, 1e-10) || !floats.EqualApprox(y, x, 1e-10) {
			t.Errorf("%d by %d: the solution differs", n, kd)
		}
	}
	bad := sampleBand(9, 2)
	bad.add(5, -100)
	if bad.factorize() {
		t.Error("factorized a matrix that is not positive definite")
	}
}

// BenchmarkBanded compares with the library on a matrix of the size of a plate.
func BenchmarkBanded(b *testing.B) {
	k := sampleBand(2200, 90)
	w, x, y := k.clone(), make([]float64, k.n), make([]float64, k.n)
	run := func(name string, fn func()) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				fn()
			}
		})
	}
	run("factor", func() { copy(w.data, k.data); w.factorize() })
	run("factor-library", func() { copy(w.data, k.data); lapack64.Pbtrf(w.library()) })
	f := blas64.TriangularBand{Uplo: blas.Upper, Diag: blas.NonUnit, N: w.n, K: w.kd, Stride: w.kd + 1, Data: w.data}
	run("solve", func() { x[0] = 1; w.solve(x) })
	run("solve-library", func() { x[0] = 1; lapack64.Pbtrs(f, blas64.General{Rows: w.n, Cols: 1, Stride: 1, Data: x}) })
	run("multiply", func() { k.multiply(x, y) })
	run("multiply-library", func() {
		blas64.Sbmv(1, k.library(), blas64.Vector{N: k.n, Inc: 1, Data: x}, 0, blas64.Vector{N: k.n, Inc: 1, Data: y})
	})
}

// solve overwrites b by the solution of Uᵀ U x = b for a factor U.
func (k bandMatrix) solve(b []float64) {
	k.forward(b)
	k.back(b)
}
