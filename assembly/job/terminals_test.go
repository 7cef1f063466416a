package job

import (
	"math"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/check"
	"clampwright/assembly/finding"
	"clampwright/assembly/wiring"
	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// unlike are packs of cells whose terminals and vents are where they are not by default.
var unlike = []string{
	"cell: {model: 54x174x200, terminals: {plus: {from_edge: 20 mm, from_front: 20 mm, height: 5 mm}, minus: {from_edge: 31 mm, from_front: 30 mm}}, vent: {from_minus: 60 mm, from_front: 40 mm}}\npack: {cells: 4}",
	"cell: {model: 54x174x200, terminals: {plus: {from_edge: 70 mm, diameter: 14 mm}, minus: {height: 6 mm}}, vent: {from_minus: 160 mm, length: 12 mm}}\npack: {cells: 8, rows: 2}",
	"cell: {model: 54x174x200, terminals: {screws: 2, spacing: 20 mm, diameter: 16 mm, plus: {from_edge: 24 mm}, minus: {from_edge: 30 mm}}}\npack: {cells: 4}\nelectrical: {link_form: bar}",
	"cell: {model: 72x174x201, terminals: {screws: 3, spacing: 21 mm, along: thickness, diameter: 14 mm, minus: {height: 5 mm}}}\npack: {cells: 8, rows: 2}\nelectrical: {link_form: bar, link_width: 60 mm}",
	"cell: {model: 72x174x201, terminals: {pitch: 100 mm, plus: {from_edge: 20 mm}, minus: {from_front: 60 mm}}, vent: {length: 0 mm}}\npack: {cells: 9, rows: 2}\nelectrical: {series: 3, parallel: 3}",
}

// On every cell, turned or not, the terminals stand where the wiring has them, plus and
// minus with their own sizes, the vent goes round with them, and every bar's ends lie on
// the terminals it joins, no lower than their pads.
func TestTerminalsStandWhereTheWiringHasThem(t *testing.T) {
	for _, text := range unlike {
		f, diags := params.Load("u.yaml", []byte("fixture: u\n"+text+"\n"))
		if f == nil {
			t.Fatal(diags)
		}
		j, err := Place(f)
		if err != nil || j.Wiring.Problem != "" {
			t.Fatal(err, j.Wiring.Problem)
		}
		at := map[string]*assembly.Instance{}
		for i := range j.Assembly.Instances {
			at[j.Assembly.Instances[i].ID] = &j.Assembly.Instances[i]
		}
		l, turns := j.Wiring.Layout, j.Wiring.Final().Turns
		var seen [2]int
		for slot := range l.Cells() {
			seen[turns[slot]]++
			for _, side := range []wiring.Side{wiring.Left, wiring.Right} {
				p := wiring.Post{Slot: slot, Side: side}
				w := at[j.Assembly.TerminalID(j.Wiring.terminal(p))]
				if len(l.Screws(p, turns)) != max(1, f.Cell.Screws) {
					t.Errorf("%s has %d screws", w.ID, len(l.Screws(p, turns)))
				}
				want, size := l.Screws(p, turns)[0], w.Part.Solid.Bounds().Size()
				if math.Abs(w.Frame.O.X-want.X)+math.Abs(w.Frame.O.Z-want.Y) > 1e-9 || math.Abs(size.Y-l.Height(p, turns)) > 1e-9 || math.Abs(size.X-l.Pad(p, turns)) > 1e-6 {
					t.Errorf("%s: %v of %v, want %v high %v wide %v", w.ID, w.Frame.O, size, want, l.Height(p, turns), l.Pad(p, turns))
				}
			}
		}
		if seen[0] == 0 || seen[1] == 0 {
			t.Fatalf("all cells stand one way: %v", seen)
		}
		j.vents(t, turns)
		for _, k := range j.Assembly.Links() {
			if k.Part == nil {
				continue
			}
			body, here := at[k.ID].Body().Bounds(), 0
			for _, h := range k.Part.Holes { // every round hole is over a screw of the terminal it is meant for
				c := at[k.ID].Frame.Point(geom.Vec3{X: h.C.X, Y: h.C.Y})
				for id, w := range at {
					if strings.HasPrefix(id, j.Assembly.TerminalID(k.From)) && math.Hypot(w.Frame.O.X-c.X, w.Frame.O.Z-c.Z) < 1e-6 {
						here++
					}
				}
			}
			if k.Part.Make != parts.MakeBuy && here != max(1, f.Cell.Screws) {
				t.Errorf("%s: %d of %d holes are over a screw", k.ID, here, len(k.Part.Holes))
			}
			for _, id := range []string{j.Assembly.TerminalID(k.From), j.Assembly.TerminalID(k.To)} {
				o, top := at[id].Frame.O, at[id].Frame.O.Y+at[id].Part.Solid.Bounds().Size().Y
				if o.X < body.Min.X || o.X > body.Max.X || o.Z < body.Min.Z || o.Z > body.Max.Z || body.Min.Y < top-1e-9 {
					t.Errorf("%s from %v to %v is not over %s at %v, %v high", k.ID, body.Min, body.Max, id, o, top)
				}
			}
		}
	}
}

// vents holds every vent, and the space over it, against its place by the cell's turn.
func (j *Job) vents(t *testing.T, turns wiring.Turns) {
	t.Helper()
	f, way := j.Fixture, []float64{-1, 1}
	for _, v := range j.Assembly.Of(assembly.RoleVent) {
		slot := v.Row*f.Pack.PerRow + v.Index
		m := j.Wiring.Layout.Middle(slot).Add(geom.Vec2{X: way[turns[slot]] * f.Cell.VentX.MM(), Y: way[turns[slot]] * f.Cell.VentZ.MM()})
		if math.Abs(v.Frame.O.X-m.X)+math.Abs(v.Frame.O.Z-m.Y) > 1e-9 {
			t.Errorf("%s at %v, want %v", v.ID, v.Frame.O, m)
		}
		for i := range j.Assembly.Tools {
			if s := &j.Assembly.Tools[i]; s.On == v.ID && s.Frame != v.Frame {
				t.Errorf("the space over %s is at %v", v.ID, s.Frame.O)
			}
		}
	}
}

// A strip that is welded on takes its room like a bar, and no line of the parts list: one
// that lies over a vent fails.
func TestStripsTakeRoom(t *testing.T) {
	for _, c := range []struct {
		vent string
		want finding.Verdict
	}{{"", finding.Pass}, {", vent: {from_minus: 148 mm, from_front: 42 mm, width: 8 mm, length: 12 mm}", finding.Fail}} {
		f, diags := params.Load("s.yaml", []byte("fixture: s\ncell: {model: 54x174x200, terminals: {kind: weld_tab, diameter: 20 mm, height: 2 mm, plus: {from_front: 15 mm}}"+c.vent+"}\npack: {cells: 4}\nseparators: {material: fr4}\nelectrical: {link_form: bar, link_width: 18 mm, link_thickness: 1 mm}\n"))
		if f == nil {
			t.Fatal(diags)
		}
		j, err := Place(f)
		if err != nil {
			t.Fatal(err)
		}
		found, err := check.Judge(j.Assembly)
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for _, x := range found {
			if x.ID == "vent-free" {
				if seen++; x.Verdict != c.want {
					t.Errorf("%s: %+v", c.vent, x)
				}
			}
			if x.ID == "terminal-driver" && x.Compared > 0 {
				t.Errorf("a screw is turned on a tab: %+v", x)
			}
		}
		if n := len(j.Assembly.Of(assembly.RoleLink)); seen == 0 || n != 3 {
			t.Errorf("%d findings, %d strips", seen, n)
		}
		for _, l := range j.Assembly.Bill() {
			if k := l.Part.Kind; k == parts.KindStrip || k == parts.KindLink || strings.HasPrefix(l.Part.ID, "terminal-") {
				t.Errorf("%s is on the parts list", l.Part.ID)
			}
		}
	}
}
