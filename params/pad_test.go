package params

import (
	"math"
	"strings"
	"testing"
)

const withPads = `fixture: padded
cell: {model: 54x174x200, force: 300 kgf, force_tolerance: 60 kgf}
pack: {cells: 4}
separators: {material: roll foam, thickness: 3}
liners: {material: roll foam, thickness: 5}
tables:
  materials:
    - {name: roll foam, family: pad, density_g_cm3: 0.3, cte_per_k: 250e-6, max_service: 80 degC,
       squeeze: [{strain: 0.2, pressure: 40 kPa}, {strain: 0.4, pressure: 200 kPa}]}
`

// 300 kgf on 174 x 200 mm are 84.54 kPa, 0.2 + 0.2 (84.54 - 40) / 160 of the thickness.
// Rows are shorter by what the pads are squeezed, rods long enough before they are.
func TestPadsArePressed(t *testing.T) {
	f := settled(t, withPads)
	strain := 0.2 + 0.2*(300*9.80665/174/200*1000-40)/160
	if got := f.SqueezedAt(f.Separator, f.Cell.ForceTarget).MM(); math.Abs(got-3*strain) > 1e-9 {
		t.Errorf("squeezed %.4f mm, want %.4f", got, 3*strain)
	}
	if got := f.Pack.Pitch.MM() - 54; math.Abs(got-3*(1-strain)) > 1e-9 {
		t.Errorf("cells stand %.4f mm apart, want %.4f", got, 3*(1-strain))
	}
	if got := f.Pack.StackLength.MM(); got != 4*54+3*3 {
		t.Errorf("stack at the touch %g mm", got)
	}
	all := f.Chain().All()
	give := (all.Free(LayerCell, LayerLiner) - all.Thick(LayerCell, LayerLiner)).MM()
	if want := (3*3 + 2*5) * strain; math.Abs(give-want) > 1e-9 || math.Abs(f.PadsGive(f.Cell.ForceTarget).MM()-want) > 1e-9 {
		t.Errorf("pads give %.4f mm, want %.4f", give, want)
	}
	stiff := settled(t, strings.NewReplacer("separators: {material: roll foam", "separators: {material: fr4", "liners: {material: roll foam", "liners: {material: fr4").Replace(withPads))
	if d := (f.Rods.Length - stiff.Rods.Length).MM(); math.Abs(d) > 1.01 {
		t.Errorf("rods for pads before they are pressed are %.1f mm longer than for stiff sheets as thick", d)
	}
	if got, want := f.Insulation(f.Liner, 1), f.Liner.Thickness-f.SqueezedAt(f.Liner, f.Cell.ForceLimit); got != want || got >= f.Pressed(f.Liner) {
		t.Errorf("%v insulate at the greatest force, want %v, less than as set", got, want)
	}
}

// A pad is a full bought sheet that the force does not press flat, and no plate.
func TestPadsRefused(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"liners: {material: roll foam, thickness: 5}", "liners: {material: roll foam, thickness: 5, pattern: frame}", "a pad with a pattern"},
		{"liners: {material: roll foam, thickness: 5}", "liners: {material: roll foam, thickness: 5, printed: true}", "a pad that is printed"},
		{"pack: {cells: 4}", "pack: {cells: 4}\nplates: {material: cork}", "plates.material is a pad"},
		{"pressure: 200 kPa", "pressure: 84.5 kPa", "squeezed beyond its curve"},
		{"pressure: 200 kPa", "pressure: 84.6 kPa", ""},
		{"pressure: 200 kPa", "pressure: 39 kPa", "doesn't rise"},
		{"strain: 0.4", "strain: 1.1", "strain"},
	} {
		text := strings.Replace(withPads, c.old, c.new, 1)
		_, diags := Load("p.yaml", []byte(text))
		said := diags.Error()
		if c.want == "" && diags.HasErrors() || c.want != "" && !strings.Contains(said, c.want) {
			t.Errorf("%s: %q, want %q", c.new, said, c.want)
		}
	}
}
