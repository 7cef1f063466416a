package inputs

import (
	"math"
	"slices"
	"testing"

	"clampwright/assembly/assure"
	"clampwright/assembly/clamp"
)

// What the mechanics take of cells whose maker tells nothing is the middle of the ranges
// that the share is drawn from, so that the path printed is one of those counted.
func TestNominalIsTheMiddle(t *testing.T) {
	f := load(t, "fixture: x\ncell: {model: 72x174x201}\npack: {cells: 4}\nplates: {material: hdpe, thickness: 19}\nrods: {thread: M8}\n")
	row := Clamp(f).Rows[0]
	mid := func(all ...assure.Range) float64 {
		x := 1.0
		for _, r := range all {
			x *= r.Middle()
		}
		return x
	}
	edge := row.Growth.Edge
	for name, c := range map[string][2]float64{
		"growth empty to full":  {row.Growth.Points[len(row.Growth.Points)-1].Value / row.CellThicknessMM, mid(assure.FreeGrowth, assure.HeldGrowth)},
		"lasting growth":        {row.Growth.Aged / row.CellThicknessMM, mid(assure.FreeAgeing, assure.HeldAgeing, assure.UsedIn10)},
		"mean over the face":    {edge + (1-edge)*4/9, mid(assure.Evenness)},
		"modulus at 84 kPa, to": {modulus(row, 0.084), mid(assure.CellModulus)},
	} {
		if math.Abs(c[0]/c[1]-1) > 0.06 {
			t.Errorf("%s: %.4g, the middle of what is assumed is %.4g", name, c[0], c[1])
		}
	}
	held := load(t, "fixture: x\ncell: {model: 72x174x201, compression: none}\npack: {cells: 4}\nplates: {material: hdpe, thickness: 19}\nrods: {thread: M8}\n")
	if e := Clamp(held).Rows[0].Growth.Edge; e != 0 {
		t.Errorf("a case that carries the load grows %.2f at its edge", e)
	}
}

// modulus is the cells' tangent modulus at a pressure, from the chords on either side.
func modulus(row clamp.Row, p float64) float64 {
	for i := 1; i < len(row.Squeeze)-1; i++ {
		if q := row.Squeeze[i]; q.PressureMPa >= p*0.98 {
			a, b := row.Squeeze[i-1], row.Squeeze[i+1]
			below, above := (q.PressureMPa-a.PressureMPa)/(q.SqueezeMM-a.SqueezeMM), (b.PressureMPa-q.PressureMPa)/(b.SqueezeMM-q.SqueezeMM)
			return (below + above) / 2 * row.CellThicknessMM
		}
	}
	return 0
}

// What the file gives of the cells moves the ranges that the share is drawn from, by what it
// is over the middle of what is assumed; what is not given leaves them.
func TestSheetMovesTheRanges(t *testing.T) {
	const text = "fixture: x\ncell: {model: 72x174x201}\npack: {cells: 4}\nplates: {material: hdpe, thickness: 19}\nrods: {thread: M8}\n"
	for _, c := range []struct {
		clamp string
		key   string
		over  float64
	}{
		{"", "growth", 0},
		{"growth: [{charge: 0, growth: 0 mm}, {charge: 1, growth: 0.37 mm}]", "growth", 0.37 / 72 / (0.00665 * 0.775)},
		{"aged: 2 mm", "ageing", 2.0 / 72 / (0.02236 * 0.575 * 0.75)},
		{"aged: 0 mm", "ageing", leastOfSheet},
		{"cell_expansion: 60", "expansion", 60e-6 / 34.64e-6},
		{"squeeze: [{squeeze: 0 mm, pressure: 0 kPa}, {squeeze: 0.1 mm, pressure: 200 kPa}]", "modulus", 144 / 27.69},
	} {
		f := load(t, text+"clamp: {"+c.clamp+"}\n")
		a := Assurance(f, clamp.Reduced{})
		if got := a.Sheet[c.key]; math.Abs(got-c.over) > 2e-3*c.over {
			t.Errorf("%s: %g, by hand %g", c.clamp, got, c.over)
		}
		of := slices.IndexFunc(a.OfCell(), func(r assure.Range) bool { return r.Key == c.key })
		was := assure.Ranges()[of]
		if r := a.OfCell()[of]; c.over > 0 && (math.Abs(r.Low/was.Low/c.over-1) > 2e-3 || math.Abs(r.High/was.High/c.over-1) > 2e-3) || c.over == 0 && r != was {
			t.Errorf("%s: the range is %+v, was %+v", c.clamp, r, was)
		}
	}
	for shape, least := range map[string]float64{"domed": assure.Evenness.Low, "flat": 0.95} {
		a := Assurance(load(t, text+"clamp: {shape: "+shape+"}\n"), clamp.Reduced{})
		of := slices.IndexFunc(a.OfCell(), func(r assure.Range) bool { return r.Key == "evenness" })
		if got := a.OfCell()[of].Low; got != least {
			t.Errorf("%s: at least %g as even as in the middle, want %g", shape, got, least)
		}
	}
}
