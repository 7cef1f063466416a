package wiring

import "testing"

// IEC 60028: annealed copper has 1.7241e-8 ohm m at 20 C (58 MS/m) and a
// coefficient of 0.00393 per kelvin. IEC 60889: hard-drawn aluminium has 2.8264e-8
// ohm m (from memory) and 0.00403.
func TestResistivity(t *testing.T) {
	cu := conductors[Copper]
	al := conductors[Aluminium]
	near(t, "copper conductivity MS/m", 1/cu.Resistivity(20)/1e6, 58, 0.005)
	near(t, "copper at 65 C", cu.Resistivity(65)/cu.Resistivity(20), 1.177, 0.0005)
	near(t, "copper at 90 C", cu.Resistivity(90)/cu.Resistivity(20), 1.275, 0.0005)
	near(t, "aluminium, from memory", al.Resistivity(20), 2.8264e-8, 1e-12)
	near(t, "aluminium, % IACS", cu.OhmM/al.OhmM, 0.61, 0.005)
	if _, ok := conductors["tin"]; ok {
		t.Error("tin is not a bar material")
	}
}

// Worked example: 105 mm of 20 x 2 mm copper between the ends is 45.3 micro-ohm;
// a published measurement with both contacts gave 80, so a contact has 10 to 20.
func TestBarResistanceExample(t *testing.T) {
	cu := conductors[Copper]
	near(t, "bar", cu.BarOhm(105, 20, 2, 20)*1e6, 45.3, 0.05)
	in := pack(2, 1, 2, 1)
	in.PitchMM = 105
	l := mustLayout(t, in)
	k := Link{A: Post{0, Right}, B: Post{1, Right}}
	withContacts := l.LinkOhm(k, Turns{Right, Right}) * 1e6
	near(t, "with two joints of 15", withContacts, 75.26, 0.05)
	if withContacts < 65 || withContacts > 85 {
		t.Errorf("with contacts %.1f micro-ohm, measured bars have about 80", withContacts)
	}
	k.Layers = 2
	near(t, "two bars", l.LinkOhm(k, Turns{Right, Right})*1e6, 45.26/2+30, 0.05)
}

// A 35 mm2 cable of 105 mm has 51.7 micro-ohm by the standard resistivity; the
// published measurement with a 10 micro-ohm meter read 60.
func TestCableResistance(t *testing.T) {
	cu := conductors[Copper]
	near(t, "cable", cu.BarOhm(105, 35, 1, 20)*1e6, 51.7, 0.05)
	for a, want := range map[float64]float64{100: 25, 100.1: 35, 1: cableLeastMM2, 5000: 240} {
		if got := cableFor(a); got != want {
			t.Errorf("%v A takes %v mm2, want %v", a, got, want)
		}
	}
}
