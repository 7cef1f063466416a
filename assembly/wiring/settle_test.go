package wiring

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// floats visits every float64 of a struct, nested ones too.
func floats(v reflect.Value, path string, visit func(path string, f reflect.Value)) {
	for i := range v.NumField() {
		f, name := v.Field(i), path+v.Type().Field(i).Name
		switch f.Kind() {
		case reflect.Struct:
			floats(f, name+".", visit)
		case reflect.Float64:
			visit(name, f)
		}
	}
}

// No number of the input may be NaN, infinite, negative or enormous.
func TestSettleRefusesBadNumbers(t *testing.T) {
	count := 0
	floats(reflect.ValueOf(&Input{}).Elem(), "", func(path string, _ reflect.Value) {
		count++
		for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e9} {
			in := pack(4, 1, 4, 1)
			in.TerminalPitchMM = 122
			in.PlusAt, in.MinusAt = TerminalAt{XMM: 61}, TerminalAt{XMM: -61}
			floats(reflect.ValueOf(&in).Elem(), "", func(p string, f reflect.Value) {
				if p == path {
					f.SetFloat(bad)
				}
			})
			if _, err := in.Settle(); err == nil && path != "TerminalPitchMM" {
				t.Errorf("%s = %v is accepted", path, bad)
			}
		}
	})
	if count < 30 {
		t.Errorf("only %d numbers visited", count)
	}
}

func TestSettleListsEveryProblem(t *testing.T) {
	in := pack(4, 1, 3, 1)
	in.PitchMM, in.Bar.Material, in.StorageCharge = -1, "tin", 0.99
	_, err := in.Settle()
	var e *InputError
	if !errors.As(err, &e) {
		t.Fatal(err)
	}
	want := map[string]bool{"Series": false, "PitchMM": false, "Bar.Material": false, "StorageCharge": false}
	for _, p := range e.Problems {
		if _, ok := want[p.Field]; ok {
			want[p.Field] = true
		}
	}
	for f, seen := range want {
		if !seen {
			t.Errorf("%s is not named in %v", f, err)
		}
	}
}

func TestSettleIsIdempotent(t *testing.T) {
	a, err := pack(8, 2, 8, 2).Settle()
	if err != nil {
		t.Fatal(err)
	}
	b, err := a.Settle()
	if err != nil || !reflect.DeepEqual(a, b) {
		t.Errorf("settled twice it differs: %v", err)
	}
}

// Any mixture of odd numbers gives plans or an error, never a panic.
func TestNoInputPanics(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	odd := []float64{0, -1, 1e-9, 0.5, 1, 3, 20, 1e6, math.NaN(), math.Inf(1)}
	ok := 0
	for range 400 {
		in := randomInput(r)
		for range r.IntN(4) {
			floats(reflect.ValueOf(&in).Elem(), "", func(_ string, f reflect.Value) {
				if r.IntN(40) == 0 {
					f.SetFloat(odd[r.IntN(len(odd))])
				}
			})
		}
		if r.IntN(4) == 0 {
			in.Series = r.IntN(20) - 2
		}
		if r.IntN(4) == 0 {
			in.Rows = r.IntN(5) - 1
		}
		l, err := NewLayout(in)
		if err != nil || l.Cells() > 8 {
			continue
		}
		if _, err := l.Plans(); err == nil {
			ok++
		}
	}
	if ok < 20 {
		t.Errorf("only %d inputs got as far as plans", ok)
	}
}

// Pads that touch, and an 8 mm hole in a 6 mm bar.
func TestSettleRefusesImpossibleShapes(t *testing.T) {
	for name, spoil := range map[string]func(*Input){
		"pads of one cell":   func(in *Input) { in.TerminalPitchMM = 20 },
		"pads of neighbours": func(in *Input) { in.PitchMM = 20 },
		"hole over bar":      func(in *Input) { in.Bar.WidthMM = 6 },
		"stud over hole":     func(in *Input) { in.HoleDiaMM = 5 },
		"voltages":           func(in *Input) { in.Volts.Full = 3.0 },
		"plan":               func(in *Input) { in.Forced = "none" },
		"too many":           func(in *Input) { in.CellsPerRow, in.Series = 300, 300 },
	} {
		in := pack(4, 1, 4, 1)
		spoil(&in)
		if _, err := in.Settle(); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}
