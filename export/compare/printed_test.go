package compare

import (
	"strings"
	"testing"

	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/printed"
)

func capOf(t *testing.T, depthMM, skirtMM float64) *parts.Part {
	t.Helper()
	s := printed.RodCapSpec{Label: parts.Label{ID: "rod-cap", Name: "rod cap"}, Printer: printer(), RodMM: 6, DepthMM: depthMM}
	if skirtMM > 0 {
		s.SkirtMM, s.CornersMM = skirtMM, 11.5
	}
	p, err := printed.RodCap(s)
	if err != nil {
		t.Fatal(err)
	}
	return &p
}

func guardOf(t *testing.T, heightMM, sideMM float64) *parts.Part {
	t.Helper()
	p, err := printed.Guard(printed.GuardSpec{Label: parts.Label{ID: "guard", Name: "corner guard"}, Printer: printer(), SideMM: sideMM, PlateMM: 20, HeightMM: heightMM})
	if err != nil || len(p) != 1 {
		t.Fatal(len(p), err)
	}
	return &p[0]
}

func printer() printed.Printer {
	return printed.Printer{BedMM: [3]float64{250, 250, 250}, FitMM: 0.3, MinWallMM: 1.2, Material: parts.Material{Name: "petg", DensityGCM3: 1.27}}
}

// Caps are kept within their play, a skirt is told, longer guards are sawn off.
func TestPrinted(t *testing.T) {
	f, _ := params.Load("t.yaml", read(t, "eight-cell-plywood.yaml"))
	c := &comparer{old: f, now: f}
	for _, k := range []struct {
		name    string
		was, is *parts.Part
		want    Action
		why     string
	}{
		{"cap a little deep", capOf(t, 12.7, 0), capOf(t, 12, 0), Keep, "covers"},
		{"cap a little short", capOf(t, 12, 0), capOf(t, 12.7, 0), Keep, "covers"},
		{"cap too short", capOf(t, 12, 0), capOf(t, 13.2, 0), Make, "length"},
		{"cap with skirt", capOf(t, 12, 0), capOf(t, 7, 5), Make, "reach over the nut"},
		{"cap without skirt", capOf(t, 7, 5), capOf(t, 12, 0), Make, "by itself"},
		{"guard too long", guardOf(t, 101, 30), guardOf(t, 100, 30), Shorten, "saw 1.00 mm off"},
		{"guard too short", guardOf(t, 99, 30), guardOf(t, 100, 30), Make, "length 100.00 mm instead of 99.00 mm"},
		{"guard of another section", guardOf(t, 101, 32), guardOf(t, 100, 30), Make, "instead of"},
	} {
		r := c.judge(k.was, k.is)
		if r.Action != k.want || !strings.Contains(r.Why, k.why) || k.want == Keep && len(r.Proof) != 2 {
			t.Errorf("%s: %s: %s %v", k.name, r.Action, r.Why, r.Proof)
		}
	}
}
