package clamp

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// bandMatrix is a symmetric matrix of n rows with kd diagonals above the main
// one. Row i of data, kd+1 long, holds columns i to i+kd, of which those beyond
// last[i] are zero and stay so when it is factorized, so that every inner loop
// below runs along memory on the library's vector kernels; that is what makes
// them faster than the library's general banded routines (the tests compare the
// results, a benchmark the times).
type bandMatrix struct {
	n, kd int
	last  []int // never falls from row to row
	data  []float64
}

func newBandMatrix(kd int, last []int) bandMatrix {
	return bandMatrix{n: len(last), kd: kd, last: last, data: make([]float64, len(last)*(kd+1))}
}

// row returns columns i to last[i] of row i.
func (k bandMatrix) row(i int) []float64 {
	from := i * (k.kd + 1)
	return k.data[from : from+k.last[i]-i+1]
}

// add adds v on the diagonal.
func (k bandMatrix) add(i int, v float64) { k.data[i*(k.kd+1)] += v }

// couple adds a spring of stiffness v between rows i and j.
func (k bandMatrix) couple(i, j int, v float64) {
	k.add(i, v)
	k.add(j, v)
	lo, hi := min(i, j), max(i, j)
	k.data[lo*(k.kd+1)+hi-lo] -= v
}

// multiply writes k x into y.
func (k bandMatrix) multiply(x, y []float64) {
	clear(y)
	for i := range k.n {
		row := k.row(i)
		above := x[i+1 : i+len(row)]
		y[i] += row[0]*x[i] + floats.Dot(row[1:], above)
		floats.AddScaled(y[i+1:i+len(row)], x[i], row[1:])
	}
}

// factorize overwrites k by its Cholesky factor U, k = Uᵀ U; false when k is not
// positive definite. Row-wise outer products (Golub and Van Loan, Matrix
// Computations, band Cholesky; from memory).
func (k bandMatrix) factorize() bool {
	for i := range k.n {
		row := k.row(i)
		if !(row[0] > 0) {
			return false
		}
		row[0] = math.Sqrt(row[0])
		rest := row[1:]
		floats.Scale(1/row[0], rest)
		for j, v := range rest {
			if v != 0 {
				floats.AddScaled(k.row(i + 1 + j)[:len(rest)-j], -v, rest[j:])
			}
		}
	}
	return true
}

// forward overwrites b by the solution of Uᵀ y = b, and gives its first row that is not 0.
func (k bandMatrix) forward(b []float64) (first int) {
	for first < k.n && b[first] == 0 {
		first++
	}
	for i := first; i < k.n; i++ {
		row := k.row(i)
		b[i] /= row[0]
		floats.AddScaled(b[i+1:i+len(row)], -b[i], row[1:])
	}
	return first
}

// back overwrites b by the solution of U x = b.
func (k bandMatrix) back(b []float64) {
	for i := k.n - 1; i >= 0; i-- {
		row := k.row(i)
		b[i] = (b[i] - floats.Dot(row[1:], b[i+1:i+len(row)])) / row[0]
	}
}
