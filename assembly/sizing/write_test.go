package sizing

import (
	"bytes"
	"os"
	"reflect"
	"strings"
	"testing"

	"clampwright/assembly/inputs"
	"clampwright/params"
	"clampwright/params/unit"
)

// Whatever is chosen, the written file settles into the fixture that was proven.
func TestWrite(t *testing.T) {
	for _, name := range []string{"eight-cell-plywood.yaml", "four-cell-offcut.yaml", "sixteen-cell-two-rows.yaml", "four-small-separators.yaml"} {
		text, err := os.ReadFile("../../examples/" + name)
		if err != nil {
			t.Fatal(err)
		}
		file, f := load(t, name)
		cat := Offer(file, f, false)
		made := 0
		for i := 0; i < cat.Size(); i += 1 + cat.Size()/14 {
			o := &Option{Choice: cat.at(i), Best: []string{"mass"}}
			whole, err := anchored(file, f)
			if err != nil {
				t.Fatal(err)
			}
			if whole, err = whole.With(o.Choice.changes(whole)...); err != nil {
				t.Fatal(err)
			}
			proven, _ := params.NewSettler(file).Settle(whole)
			if proven == nil {
				continue // not every thread passes every disc
			}
			made++
			out, err := Write(name, text, o)
			if err != nil {
				t.Errorf("%s: %s: %v\n%s", name, o.Choice, err, out)
				return
			}
			if got, _ := params.Load(name, out); !reflect.DeepEqual(inputs.Clamp(got), inputs.Clamp(proven)) || got.Rods.Length != proven.Rods.Length ||
				got.Plate.Width != proven.Plate.Width || !reflect.DeepEqual(got.Stock, proven.Stock) {
				t.Errorf("%s: %s: the written file is another fixture than the one proven", name, o.Choice)
			}
			if !strings.HasPrefix(string(out), "# sized: chosen: best by mass") {
				t.Errorf("%s: no word of why", name)
			}
			if again, err := Write(name, out, o); err != nil || !bytes.Equal(again, out) {
				t.Errorf("%s: written twice is not the same: %v", name, err)
			}
		}
		if made < 4 { // not every rod guides every disc, nor passes it
			t.Errorf("%s: only %d of the sample can be made", name, made)
		}
	}
}

// Listed lengths keep their meaning when the section changes.
func TestWriteTiesStock(t *testing.T) {
	name := "eight-cell-plywood.yaml"
	text, _ := os.ReadFile("../../examples/" + name)
	out, err := Write(name, text, &Option{Choice: Choice{Plate: Plate{"birch plywood", 18, 0}, Angle: "40x40x3 mm aluminium",
		Levels: []unit.Length{50, 150}, Thread: "M8"}})
	if err != nil {
		t.Fatal(err)
	}
	f, _ := params.Load(name, out)
	if f.Stock.Angles[0].Item != "30x30x3 mm aluminium" || f.Stock.Angles[0].Price != 9.80 || f.Stock.Rods[0].Item != "M8" {
		t.Errorf("%+v %+v", f.Stock.Angles, f.Stock.Rods)
	}
}
