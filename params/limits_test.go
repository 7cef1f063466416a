package params

import (
	"strings"
	"testing"
)

// Settings that no cell of this chemistry stands are refused, on both sides of their
// limits; the setting is at or below storage charge.
func TestChemistryLimits(t *testing.T) {
	for _, c := range []struct {
		text string
		want string // part of the error; empty: none
	}{
		{"electrical: {full_voltage: 3.65}", ""},
		{"electrical: {full_voltage: 3.7}", ""},
		{"electrical: {full_voltage: 3.71}", "full_voltage"},
		{"electrical: {full_voltage: 4.2}", "full_voltage"},
		{"electrical: {full_voltage: 4.99}", "full_voltage"},
		{"electrical: {full_voltage: 3.39}", "full_voltage"},
		{"electrical: {nominal_voltage: 3.4}", ""},
		{"electrical: {nominal_voltage: 3.7}", "nominal_voltage"},
		{"electrical: {storage_voltage: 3.4}", ""},
		{"electrical: {storage_voltage: 3.41}", "storage_voltage"},
		{"electrical: {low_voltage: 2}", ""},
		{"electrical: {low_voltage: 1.99}", "low_voltage"},
		{"clamp: {storage_charge: 0.6}", ""},
		{"clamp: {storage_charge: 0.61}", "storage_charge"},
		{"clamp: {storage_charge: 1}", "storage_charge"},
		{"clamp: {set_charge: 0.5, storage_charge: 0.5}", ""},
		{"clamp: {set_charge: 0.51, storage_charge: 0.6}", "set_charge"},
		{"clamp: {set_charge: 1}", "set_charge"},
		{"clamp: {set_charge: 0.41, storage_charge: 0.4}", "above storage charge"},
	} {
		_, diags := Load("t.yaml", []byte("fixture: t\ncell: {model: 54x174x200}\npack: {cells: 4}\n"+c.text+"\n"))
		if text := diags.Error(); diags.HasErrors() != (c.want != "") || !strings.Contains(text, c.want) {
			t.Errorf("%s: %q, want %q", c.text, text, c.want)
		}
	}
}

// Terminals stand on their case, up to its edges; what is refused is named with the
// value, the limits and the key at fault.
func TestTerminalsStandOnTheCase(t *testing.T) {
	for _, c := range []struct{ cell, want, at string }{
		{"model: 54x174x200, terminals: {pitch: 156 mm, diameter: 18 mm}", "", ""},
		{"model: 54x174x200, terminals: {pitch: 156.1 mm, diameter: 18 mm}", "together 174.1 mm, on a case of 174 mm;cell.terminals.pitch of 156 mm or less, or cell.terminals.diameter of 17.9 mm or less", ":2:46"},
		{"model: 54x174x200, terminals: {diameter: 60 mm, pitch: 122 mm}", "cell.terminals.diameter of 52 mm or less", ":2:63"},
		{"model: 54x174x200, terminals: {pitch: 175 mm, diameter: 18 mm}", "cell.terminals.pitch of 156 mm or less", ":2:46"},
		{"model: 54x174x200, terminals: {plus: {from_edge: 9 mm}, minus: {from_edge: 9 mm}}", "", ""},
		{"model: 54x174x200, terminals: {plus: {from_edge: 8.9 mm}}", "cell.terminals.plus.from_edge of 9 mm to 165 mm", ":2:57"},
		{"model: 54x174x200, terminals: {minus: {from_front: 45 mm}}", "", ""},
		{"model: 54x174x200, terminals: {minus: {from_front: 45.1 mm}}", "cell.terminals.minus.from_front of 9 mm to 45 mm", ":2:59"},
		{"model: 54x174x200, terminals: {plus: {from_edge: 26 mm, diameter: 52 mm}}", "", ""},
		{"model: 54x174x200, terminals: {plus: {from_edge: 26 mm, diameter: 52.1 mm}}", "cell.terminals.plus.from_edge of 26.05 mm to 147.95 mm", ":2:57"},
		{"model: 54x174x200, terminals: {plus: {from_edge: 80 mm}, minus: {from_edge: 93.9 mm}}", "", ""},
		{"model: 54x174x200, terminals: {plus: {from_edge: 80 mm}, minus: {from_edge: 94 mm}}", "leave the plus on the right", ":2:57"},
		{"model: 54x174x200, terminals: {pitch: 122 mm, plus: {from_edge: 12 mm}}", "", ""},
		{"model: 54x174x200, terminals: {pitch: 156 mm, plus: {from_edge: 10 mm}}", "cell.terminals.minus.from_edge of 9 mm to 165 mm", ":2:46"},
		{"model: 54x174x200, terminals: {pitch: 122 mm, plus: {from_edge: 12 mm}, minus: {from_edge: 40 mm}}", "", ""},
		{"model: 54x174x200, terminals: {pitch: 122 mm, plus: {from_edge: 12 mm}, minus: {from_edge: 41 mm}}", "121 mm, by from_edge of both", ":2:46"},
		{"model: 54x174x200, vent: {from_minus: 15 mm, from_front: 47 mm}", "", ""},
		{"model: 54x174x200, vent: {from_minus: 14.9 mm}", "cell.vent.from_minus of 15 mm to 159 mm", ":2:46"},
		{"model: 54x174x200, vent: {from_front: 6.9 mm}", "cell.vent.from_front of 7 mm to 47 mm", ":2:46"},
		{"model: 54x174x200, vent: {length: 0 mm}", "", ""},
	} {
		_, diags := Load("t.yaml", []byte("fixture: t\ncell: {"+c.cell+"}\npack: {cells: 4}\n"))
		if c.want == "" {
			if diags.HasErrors() {
				t.Errorf("%s: %v", c.cell, diags)
			}
			continue
		}
		at := -1
		for i, d := range diags {
			if strings.Contains(d.Found+";"+d.Expected, c.want) && d.Suggestion != "" && strings.HasSuffix(d.Range.String(), c.at) {
				at = i
			}
		}
		if at < 0 {
			t.Errorf("%s: %+v, want %q at %s", c.cell, diags, c.want, c.at)
		}
	}
}

// How links are held goes with what the file gives of it.
func TestKindsOfTerminals(t *testing.T) {
	for _, c := range []struct{ text, kind, want string }{
		{"{}", "tapped", ""},
		{"{stud: 12 mm}", "stud", ""},
		{"{kind: stud, stud: 12 mm, torque: 5 N.m}", "stud", ""},
		{"{kind: tapped, depth: 8 mm, thread: M8}", "tapped", ""},
		{"{kind: weld_tab, height: 1 mm, diameter: 20 mm}", "weld_tab", ""},
		{"{kind: stud}", "", "the height of the studs is not known"},
		{"{kind: tapped, stud: 12 mm}", "", "cell.terminals.stud is given for terminals of kind tapped"},
		{"{kind: stud, stud: 12 mm, depth: 8 mm}", "", "cell.terminals.depth is given for terminals of kind stud"},
		{"{kind: weld_tab, torque: 5 N.m}", "", "cell.terminals.torque is given for terminals of kind weld_tab"},
		{"{kind: weld_tab, thread: M6}", "", "cell.terminals.thread is given for terminals of kind weld_tab"},
		{"{kind: weld_tab, stud: 0 mm}", "weld_tab", ""},
		{"{screws: 2, spacing: 20 mm}", "tapped", ""},
		{"{screws: 2, spacing: 20 mm, stud: 12 mm, along: thickness}", "stud", ""},
		{"{screws: 2}", "", "how far the screws of a terminal are apart is not known"},
		{"{kind: weld_tab, screws: 2, spacing: 20 mm}", "", "cell.terminals.screws is given for terminals of kind weld_tab"},
		{"{screws: 2, spacing: 36 mm, along: thickness}", "tapped", ""},
		{"{screws: 2, spacing: 36.1 mm, along: thickness}", "", "the minus terminal stands outside the case"},
		{"{screws: 3, spacing: 17 mm, pitch: 122 mm}", "tapped", ""},
		{"{screws: 3, spacing: 17.1 mm, pitch: 122 mm}", "", "the minus terminal stands outside the case"},
	} {
		f, diags := Load("t.yaml", []byte("fixture: t\ncell: {model: 54x174x200, terminals: "+c.text+"}\npack: {cells: 4}\n"))
		if diags.HasErrors() != (c.want != "") || !strings.Contains(diags.Error(), c.want) {
			t.Errorf("%s: %q, want %q", c.text, diags.Error(), c.want)
		} else if f != nil && (f.Origin("cell.terminals.kind").Text != c.kind || f.Cell.Welded != (c.kind == "weld_tab") || f.Cell.Welded && len(f.Cell.Unknown()) > 0) {
			t.Errorf("%s: %+v, %v, not known %v", c.text, f.Origin("cell.terminals.kind"), f.Cell.Welded, f.Cell.Unknown())
		}
	}
}

// An error stands at a key that the file gives, with a way out, and the limit in the
// file's units; what only follows from an item that can't be read is not told.
func TestErrorsStandWhereTheyAreMade(t *testing.T) {
	for _, c := range []struct{ text, place, summary, expected string }{
		{"clamp: {friction_high: 0.06}", "4:24", "friction_low is above friction_high", "0.06 or less"},
		{"clamp: {storage_charge: 0.1}", "4:25", "the clamp is set above storage charge", "0.1 or less"},
		{"nuts: {kind: prevailing, drag_max: 0}", "4:36", "drag_min is above drag_max", "or less"},
		{"rods: {thread: M8, columns: [-110 mm, 110 mm, 118.9 mm]}", "4:30", "rods.columns: two places are in each other", "9 mm apart or more"},
		{"rods: {thread: M16}\nstiffeners: {angle: 25x25x3 mm aluminium}", "4:16", "the angle's hole doesn't fit its leg", "more than "},
		{"clamp: {squeeze: [[0, 0], [1, 2]]}", "4:19", "clamp.squeeze[0] has the wrong form", "a block of the keys squeeze, pressure"},
		{"clamp: {growth: 60 %}", "4:17", "clamp.growth has the wrong form", "a list, each of it a block of the keys charge, growth"},
		{"electrical: {links: [a, b]}", "4:22", "electrical.links[0] has the wrong form", "a block of the keys state, links"},
	} {
		f, list := Load("f.yaml", []byte(least+c.text+"\n"))
		if f != nil || len(list) == 0 || list[0].Range.Place() != c.place || list[0].Summary != c.summary || !strings.Contains(list[0].Expected, c.expected) || len(list) > 2 {
			t.Errorf("%s: %+v", c.text, list)
		}
	}
	if f, list := Load("f.yaml", []byte(least+"rods: {thread: M8, columns: [-110 mm, 110 mm, 119 mm]}\n")); f == nil && strings.Contains(list[0].Summary, "in each other") {
		t.Error(list)
	}
}
