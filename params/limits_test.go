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
