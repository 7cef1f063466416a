package inputs

import (
	"math"
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
