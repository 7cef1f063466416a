package export

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"clampwright/assembly/finding"
)

// The same input gives the same bytes, file by file.
func TestTwiceTheSame(t *testing.T) {
	a, b := made(t, "four-cell-offcut").files, artifacts(t, computed(t, "four-cell-offcut"))
	if len(a) != len(b) {
		t.Fatalf("%d and %d files", len(a), len(b))
	}
	for name, content := range a {
		if !bytes.Equal(content, b[name]) {
			t.Errorf("%s differs", name)
		}
	}
}

// The report has the keys that scripts rely on, and no figure that is not one.
func TestReportKeys(t *testing.T) {
	j := made(t, "eight-cell-plywood").job
	text, err := reportJSON(j)
	if err != nil {
		t.Fatal(err)
	}
	var r struct {
		Fixture     string
		InputSHA256 string `json:"input_sha256"`
		Verdict     string
		Checks      []struct {
			ID, Verdict, Unit, Why, Remedy string
			Measured, Required             *float64
			Between                        []string
		}
		Parts []struct {
			ID, Kind, Material string
			Quantity           int
			SizeMM             []float64 `json:"size_mm"`
			MassG              *float64  `json:"mass_g"`
			Files              []string
		}
		Cuts  []map[string]any
		Clamp struct {
			States []struct {
				Name            string
				ForceN          float64                                          `json:"force_n"`
				RodForceN       []float64                                        `json:"rod_force_n"`
				Pressure        struct{ Mean, Least, Greatest, Centre *float64 } `json:"pressure_kpa"`
				ContactFraction *float64                                         `json:"contact_fraction"`
				Deflection      *float64                                         `json:"plate_deflection_mm"`
			}
			Setting map[string]any
		}
	}
	if err := json.Unmarshal(text, &r); err != nil {
		t.Fatal(err)
	}
	if r.Fixture != "eight-cell-plywood" || len(r.InputSHA256) != 64 || r.Verdict == "" || len(r.Cuts) == 0 || len(r.Clamp.Setting) == 0 {
		t.Errorf("report lacks a key: %+v", r)
	}
	for _, c := range r.Checks {
		if c.ID == "" || c.Verdict == "" || c.Measured == nil || c.Required == nil || c.Why == "" || len(c.Between) == 0 {
			t.Errorf("check lacks a key: %+v", c)
		}
	}
	for _, p := range r.Parts {
		if p.ID == "" || p.Kind == "" || p.Quantity < 1 || len(p.SizeMM) != 3 || p.MassG == nil || p.Files == nil {
			t.Errorf("part lacks a key: %+v", p)
		}
	}
	for _, s := range r.Clamp.States {
		var sum float64
		for _, f := range s.RodForceN {
			sum += f
		}
		if s.Pressure.Centre == nil || s.ContactFraction == nil || s.Deflection == nil || math.Abs(sum-s.ForceN) > 1e-3*s.ForceN {
			t.Errorf("state lacks a key, or its rods don't add up: %+v", s)
		}
	}
}

// A failing fixture is given no file that reaches a machine.
func TestFouledGetsNoCutFiles(t *testing.T) {
	j := made(t, "fouled-on-purpose").job
	if j.Verdict() != finding.Fail {
		t.Fatal("the example doesn't foul")
	}
	plan, err := Plan(j.Job, Options{Cut: false})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range plan.Artifacts {
		if strings.Contains(a.Name, "/") {
			t.Errorf("%s was planned", a.Name)
		}
	}
}
