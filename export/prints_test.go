package export

import (
	"context"
	"strings"
	"testing"

	"clampwright/export/tell"
	"clampwright/parts"
	"clampwright/testdata/ready"
)

// TestPrintFilesArePlanned asks for an STL and a 3MF of every printed part among
// the artifacts, and for the print's figures in the report.
func TestPrintFilesArePlanned(t *testing.T) {
	j, err := compute(context.Background(), ready.AllPrints(t), noStep)
	if err != nil {
		t.Fatal(err)
	}
	files := artifacts(t, j)
	for _, l := range j.Assembly.PartsList() {
		if l.Part.Make == parts.MakePrint && (files["print/"+l.Part.ID+".stl"] == nil || files["print/"+l.Part.ID+".3mf"] == nil) {
			t.Errorf("no print files of %s", l.Part.ID)
		}
	}
	if !strings.Contains(string(files["report.json"]), `"least_wall_mm"`) {
		t.Error("no print figures in the report")
	}
	for _, f := range j.Findings {
		if strings.HasPrefix(string(f.ID), "print-") || f.ID == "aid-fits" || f.ID == "fits-bed" {
			t.Logf("%s %s: %.2f, wanted %.2f %s, %v", f.ID, f.Verdict, f.Have, f.Need, f.Unit, f.Between)
			if f.Verdict != "pass" {
				t.Errorf("%s: %v: %v %v", f.ID, f.Between, f.Have, tell.Advice(f))
			}
		}
		if f.ID == "parts-apart" && f.Verdict != "pass" {
			t.Errorf("%s: %v %v", f.ID, f.Between, f.Have)
		}
	}
}
