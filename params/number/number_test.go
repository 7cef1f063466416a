package number

import (
	"encoding/json"
	"math"
	"math/big"
	"math/rand/v2"
	"regexp"
	"strconv"
	"testing"
)

func TestFixed(t *testing.T) {
	for _, c := range []struct {
		v    float64
		d    int
		want string
	}{
		{0, 2, "0.00"}, {math.Copysign(0, -1), 2, "0.00"}, {-0.004, 2, "0.00"},
		{2.675, 2, "2.68"}, {0.125, 2, "0.13"}, {-0.125, 2, "-0.13"},
		{9.999, 2, "10.00"}, {999.5, 0, "1000"}, {0.5, 0, "1"}, {0.4, 0, "0"},
		{223.8375, 4, "223.8375"}, {223.8375, 3, "223.838"}, {1e21, 1, "1000000000000000000000.0"},
		{12, 3, "12.000"}, {1, -4, "1"}, {1.0 / 3, 99, "0.333333333333"},
		{math.NaN(), 2, "NaN"}, {math.Inf(-1), 2, "Inf"}, {5e-324, 3, "0.000"},
	} {
		if got := Fixed(c.v, c.d); got != c.want {
			t.Errorf("Fixed(%v, %d) = %q, want %q", c.v, c.d, got, c.want)
		}
	}
}

func TestTrim(t *testing.T) {
	for _, c := range []struct {
		v    float64
		d    int
		want string
	}{
		{12.5, 3, "12.5"}, {3, 3, "3"}, {-0.0004, 3, "0"}, {100, 0, "100"},
		{0.0995, 3, "0.1"}, {-7.1299999999, 3, "-7.13"}, {120, 2, "120"},
	} {
		if got := Trim(c.v, c.d); got != c.want {
			t.Errorf("Trim(%v, %d) = %q, want %q", c.v, c.d, got, c.want)
		}
	}
}

// TestFixedAgainstBigDecimal compares with exact arithmetic on the shortest
// decimal form, the slow twin of the digit code.
func TestFixedAgainstBigDecimal(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	shape := regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)
	for range 20000 {
		v := (r.Float64() - 0.5) * math.Pow(10, float64(r.IntN(16)-6))
		if r.IntN(3) == 0 {
			v = float64(r.IntN(20001)-10000) / 1000 // many ties
		}
		d := r.IntN(7)
		got := Fixed(v, d)
		if want := bigFixed(v, d); got != want {
			t.Fatalf("Fixed(%v, %d) = %q, exact arithmetic says %q", v, d, got, want)
		}
		if !shape.MatchString(got) {
			t.Fatalf("Fixed(%v, %d) = %q is not a plain decimal", v, d, got)
		}
	}
}

func bigFixed(v float64, d int) string {
	x, _ := new(big.Rat).SetString(strconv.FormatFloat(math.Abs(v), 'f', -1, 64))
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(d)), nil)
	x.Mul(x, new(big.Rat).SetInt(scale)).Add(x, big.NewRat(1, 2))
	n := new(big.Int).Quo(x.Num(), x.Denom())
	s := new(big.Rat).SetFrac(n, scale).FloatString(d)
	if v < 0 && n.Sign() != 0 {
		s = "-" + s
	}
	return s
}

func TestEveryKindHasARule(t *testing.T) {
	for k := range kinds {
		if rules[k] == (rule{}) {
			t.Errorf("kind %d has no rule", k)
		}
	}
	if Quantity(99).Text(1.5) != "1.5" {
		t.Error("unknown kind")
	}
	if got := Money.Text(3.1); got != "3.10" {
		t.Errorf("Money.Text(3.1) = %q", got)
	}
	if got := Length.Round(8.81254); got != 8.813 {
		t.Errorf("Length.Round = %v", got)
	}
}

func TestValueInJSON(t *testing.T) {
	got, err := json.Marshal(map[string]any{"a": Pressure.Of(84.06), "b": Force.Of(-0.01)})
	if err != nil || string(got) != `{"a":84.1,"b":0}` {
		t.Errorf("got %s, %v", got, err)
	}
	if _, err := json.Marshal(Force.Of(math.NaN())); err == nil {
		t.Error("NaN went into JSON")
	}
	if Check(1, 2, math.Inf(1)) == nil || Check(0, -1e300) != nil {
		t.Error("Check")
	}
}

func BenchmarkCoordinate(b *testing.B) {
	var buf []byte
	for i := 0; b.Loop(); i++ {
		buf = Coordinate.Append(buf[:0], float64(i)*0.123456789)
	}
}

// So many figures, whole where there are more before the point.
func TestFigures(t *testing.T) {
	for _, c := range []struct {
		v       float64
		figures int
		want    string
	}{{0, 4, "0"}, {24.137, 4, "24.14"}, {24.137, 2, "24"}, {0.0049871, 2, "0.005"}, {-0.34567, 4, "-0.3457"}, {1234.4, 2, "1234"}, {99.96, 2, "100"}, {1.23456e-6, 4, "0.000001235"}, {1.2e-10, 4, "0"}} {
		if got := Figures(c.v, c.figures); got != c.want {
			t.Errorf("%g to %d figures: %s, want %s", c.v, c.figures, got, c.want)
		}
	}
}
