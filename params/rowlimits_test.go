package params

import (
	"math"
	"strings"
	"testing"
)

const (
	ownMaterial = "materials: [{name: own, family: plastic, e: 900 MPa, nu: 0.4, strength: 25 MPa, density_g_cm3: 0.95, cte_per_k: 0.0001"
	ownNut      = "nuts: [{name: own, kind: plain, thread: M8, height: 6.8 mm, height_min: 6.4 mm, flats: 13 mm, corners: 14.4 mm, bearing: 11 mm"
	ownWasher   = "washers: [{name: own, series: large, thread: M8, inner: 8.4 mm, outer: 24 mm, thickness: 2 mm"
	ownGrade    = "grades: [{name: own, proof: 300 MPa, yield: 340 MPa, tensile: 400 MPa, modulus: 205 GPa, density_g_cm3: 7.85, cte_per_k: 12e-6"
)

// Numbers of a user's rows are held against their limits and each other, on both sides.
func TestRowLimits(t *testing.T) {
	for _, c := range []struct{ rows, use, want string }{
		{ownMaterial + "}]", "", ""},
		{strings.Replace(ownMaterial, "nu: 0.4", "nu: 0.5", 1) + "}]", "", ""},
		{strings.Replace(ownMaterial, "nu: 0.4", "nu: 0.501", 1) + "}]", "", "tables.materials[0].nu is out of range"},
		{strings.Replace(ownMaterial, "0.0001", "0.001", 1) + "}]", "", ""},
		{strings.Replace(ownMaterial, "0.0001", "0.0011", 1) + "}]", "", "tables.materials[0].cte_per_k is out of range"},
		{strings.Replace(ownMaterial, "0.95", "23", 1) + "}]", "", ""},
		{strings.Replace(ownMaterial, "0.95", "24", 1) + "}]", "", "tables.materials[0].density_g_cm3 is out of range"},
		{ownMaterial + ", hot_factor: 1}]", "", ""},
		{ownMaterial + ", hot_factor: 1.01}]", "", "tables.materials[0].hot_factor is out of range"},
		{ownMaterial + ", seat_long: 6 MPa, seat_short: 6 MPa}]", "", ""},
		{ownMaterial + ", seat_long: 6 MPa, seat_short: 5.9 MPa}]", "", "tables.materials[0]: seat_long is more than seat_short"},
		{strings.Replace(ownMaterial, "plastic", "resin", 1) + "}]", "", "tables.materials[0] is of no known family"},
		{ownNut + "}]", "nuts: {name: own}", ""},
		{strings.Replace(ownNut, "6.8 mm", "6.3 mm", 1) + "}]", "", "tables.nuts[0]: height_min is more than height"},
		{strings.Replace(ownNut, "6.4 mm", "1.25 mm", 1) + "}]", "nuts: {name: own}", ""},
		{strings.Replace(ownNut, "6.4 mm", "1.24 mm", 1) + "}]", "nuts: {name: own}", "the nut is thinner than one turn of its thread"},
		{strings.Replace(ownNut, "bearing: 11", "bearing: 8.5", 1) + "}]", "nuts: {name: own}", ""},
		{strings.Replace(ownNut, "bearing: 11", "bearing: 8.4", 1) + "}]", "nuts: {name: own}", "the nut slides into its washer"},
		{ownWasher + "}]", "washers: {name: own}", ""},
		{strings.Replace(ownWasher, "thickness: 2", "thickness: 1.2", 1) + "}]", "washers: {name: own}", ""},
		{strings.Replace(ownWasher, "thickness: 2", "thickness: 1.19", 1) + "}]", "", "tables.washers[0]: outer is more than 20 times thickness"},
		{strings.Replace(ownWasher, "inner: 8.4", "inner: 24.1", 1) + "}]", "", "tables.washers[0]: inner is more than outer"},
		{ownGrade + "}]", "rods: {grade: own}", ""},
		{strings.Replace(ownGrade, "205 GPa", "49.9 GPa", 1) + "}]", "", "tables.grades[0].modulus is out of range"},
		{strings.Replace(ownGrade, "340 MPa", "299 MPa", 1) + "}]", "", "tables.grades[0]: proof is more than yield"},
	} {
		f, diags := Load("p.yaml", []byte("fixture: f\ncell: {model: 72x174x201, force: 3000 N}\npack: {cells: 4}\n"+c.use+"\ntables: {"+c.rows+"}\n"))
		switch {
		case c.want == "" && f == nil:
			t.Errorf("%s: %v", c.rows, diags)
		case c.want != "" && (len(diags) != 1 || diags[0].Summary != c.want):
			t.Errorf("%s: %v, want %q", c.rows, diags, c.want)
		}
	}
}

// What a row leaves out of seats, creep and heat is the least of its family, and said so;
// a metal conducts. What it gives stays.
func TestRowsOfUnknownCreep(t *testing.T) {
	f := settled(t, "fixture: f\ncell: {model: 72x174x201, force: 3000 N}\npack: {cells: 4}\nplates: {material: own}\ntables: {"+ownMaterial+", max_service: 90 C}]}\n")
	own := f.Plate.Material
	for _, name := range []string{"hdpe", "pp", "acetal", "pet", "pc", "petg"} {
		m, _ := f.Tables.Material(name)
		if m.SeatLong < own.SeatLong || m.HotFactor < own.HotFactor {
			t.Errorf("%s has less than what is assumed: %+v", name, own)
		}
		for _, p := range m.Creep {
			if p.Hours == 1000 && p.Factor < own.Creep[len(own.Creep)-1].Factor {
				t.Errorf("%s creeps more than what is assumed", name)
			}
		}
	}
	if math.Abs(float64(own.MaxService)-90) > 1e-9 || own.Conducts || !strings.Contains(own.Source, "seat_long, seat_short, creep, hot_factor not given") {
		t.Errorf("%+v", own)
	}
	f = settled(t, "fixture: f\ncell: {model: 72x174x201, force: 3000 N}\npack: {cells: 4}\nplates: {material: own}\ntables: {"+strings.Replace(ownMaterial, "plastic", "metal", 1)+"}]}\n")
	if m := f.Plate.Material; !m.Conducts || len(m.Creep) != 0 {
		t.Errorf("a metal: %+v", m)
	}
}
