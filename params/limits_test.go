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
