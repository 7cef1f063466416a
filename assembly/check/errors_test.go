package check

import (
	"math"
	"testing"

	"clampwright/assembly"
)

// A fixture whose cells cannot be built at a limit of their tolerance is no fixture
// to judge: every rule that looks at the limits says so, and so does the whole.
func TestVariantFails(t *testing.T) {
	f := sleeved()
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	f.Cell.WidthTol = -1e9 // the widest cells have no width
	for _, id := range []string{"parts-apart", "metal-to-cell", "sleeve-to-cell", "sleeve-free", "row-fits", "thread-protrusion"} {
		if found, err := ruleByID(t, id).eval(newScene(a)); err == nil {
			t.Errorf("%s: no error, %v", id, found)
		}
	}
	if _, err := Judge(a); err == nil {
		t.Error("Judge: no error")
	}
}

// The fixture with cells of another size is placed once.
func TestVariantIsKept(t *testing.T) {
	a, err := assembly.Build(sleeved())
	if err != nil {
		t.Fatal(err)
	}
	b := newScene(a)
	first, err := b.variant(assembly.Largest)
	again, err2 := b.variant(assembly.Largest)
	nominal, err3 := b.variant(assembly.Nominal)
	if err != nil || err2 != nil || err3 != nil || first != again || nominal != a {
		t.Errorf("%p %p, %p %p: %v %v %v", first, again, nominal, a, err, err2, err3)
	}
}

// A distance that cannot be computed ends the run.
func TestDistanceFails(t *testing.T) {
	for _, id := range []string{"parts-apart", "gap", "rod-passes", "grip-room", "vent-free"} {
		a, err := assembly.Build(sleeved())
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Instances {
			a.Instances[i].Frame.X.X = math.NaN()
		}
		if found, err := ruleByID(t, id).eval(newScene(a)); err == nil {
			t.Errorf("%s: no error, %v", id, found)
		}
	}
}
