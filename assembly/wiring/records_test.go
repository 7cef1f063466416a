package wiring

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"clampwright/params/diag"
)

const head = "serial,capacity_ah,resistance_mohm,voltage_v,centre_mm,edge_left_mm,edge_right_mm\n"

func TestParseRecords(t *testing.T) {
	got, errs := ParseRecords("cells.csv", strings.NewReader("\ufeff"+head+"\"C 1\",281.5,0.18,3.291,72.1,71.6,71.8\r\nC2, 280 ,0.19,3.29,72.4,71.9,71.9\n"))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	want := Record{Serial: "C 1", CapacityAh: 281.5, MilliOhm: 0.18, Volts: 3.291, CentreMM: 72.1, EdgeLeftMM: 71.6, EdgeRightMM: 71.8,
		Where: diag.Range{File: "cells.csv", Line: 2, Col: 1}}
	if len(got) != 2 || got[0] != want || got[1].CapacityAh != 280 {
		t.Errorf("got %+v", got)
	}
	near(t, "edge", got[0].EdgeMM(), 71.7, 1e-9)
	near(t, "bulge", got[0].BulgeMM(), 0.4, 1e-9)
}

// Columns may stand in any order.
func TestParseRecordsColumnOrder(t *testing.T) {
	got, errs := ParseRecords("f", strings.NewReader("voltage_v,serial,edge_right_mm,edge_left_mm,centre_mm,resistance_mohm,capacity_ah\n3.3,X,1,2,3,4,5\n"))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	r := got[0]
	if r.Volts != 3.3 || r.EdgeRightMM != 1 || r.EdgeLeftMM != 2 || r.CentreMM != 3 || r.MilliOhm != 4 || r.CapacityAh != 5 {
		t.Errorf("%+v", r)
	}
}

// Every error with its place; columns count characters.
func TestParseRecordsErrors(t *testing.T) {
	row := "A,280,0.2,3.3,72,72,72\n"
	for _, c := range []struct{ text, want string }{
		{"", "cells.csv:1:1: error: no header line"},
		{head, "cells.csv:2:1: error: no cell after"},
		{"serial,capacity_ha\n", "cells.csv:1:8: error: unknown column"},
		{strings.Replace(head, "serial,", "serial,serial,", 1), "cells.csv:1:8: error: column \"serial\" stands twice"},
		{strings.Replace(head, ",edge_right_mm", "", 1), "column \"edge_right_mm\" is missing"},
		{head + "A,280,0.2,3.3,72,72\n", "cells.csv:2:1: error: 6 fields, the header has 7"},
		{head + "A,x,0.2,3.3,72,72,72\n", "cells.csv:2:3: error: capacity_ah is not a decimal number"},
		{head + "Ä,280,zz,3.3,72,72,72\n", "cells.csv:2:7: error: resistance_mohm is not a decimal number"},
		{head + "A,280,,3.3,72,72,72\n", "cells.csv:2:7: error: resistance_mohm is empty"},
		{head + "A,NaN,0.2,3.3,72,72,72\n", "is not a decimal number"},
		{head + "A,1e3,0.2,3.3,72,72,72\n", "is not a decimal number"},
		{head + "A,0x10,0.2,3.3,72,72,72\n", "is not a decimal number"},
		{head + "A,280,0.2,33,72,72,72\n", "cells.csv:2:11: error: voltage_v is out of range"},
		{head + "A,-280,0.2,3.3,72,72,72\n", "capacity_ah is out of range"},
		{head + row + row, "cells.csv:3:1: error: serial \"A\" stands on line 2 already"},
		{head + "<b>,280,0.2,3.3,72,72,72\n", "cells.csv:2:1: error: serial cannot be used"},
		{head + "A,\"280,0.2\n", "cells.csv:"},
		{head + "A\xff,280,0.2,3.3,72,72,72\n", "not UTF-8"},
	} {
		got, errs := ParseRecords("cells.csv", strings.NewReader(c.text))
		if got != nil || !errs.HasErrors() || !strings.Contains(errs.Error(), c.want) {
			t.Errorf("%q:\n%v\nwant %s", c.text, errs, c.want)
		}
	}
	_, errs := ParseRecords("f", strings.NewReader("serial,capacity\n"))
	if errs[0].Suggestion != "capacity_ah" {
		t.Errorf("suggestion %q", errs[0].Suggestion)
	}
}

// All errors of a file come at once.
func TestParseRecordsCollects(t *testing.T) {
	_, errs := ParseRecords("f", strings.NewReader(head+"A,x,0.2,y,72,72,72\nB,280,0.2,3.3,72,72,z\n"))
	if len(errs) != 3 {
		t.Errorf("%d errors: %v", len(errs), errs)
	}
}

type badReader struct{}

func (badReader) Read([]byte) (int, error) { return 0, errors.New("disk gone") }

func TestParseRecordsReadError(t *testing.T) {
	if _, errs := ParseRecords("f", badReader{}); !strings.Contains(errs.Error(), "disk gone") {
		t.Errorf("%v", errs)
	}
	var b strings.Builder
	b.WriteString(head)
	for i := range mostRecords + 1 {
		fmt.Fprintf(&b, "S%d,280,0.2,3.3,72,72,72\n", i)
	}
	if _, errs := ParseRecords("f", strings.NewReader(b.String())); !strings.Contains(errs.Error(), "more than") {
		t.Errorf("%v", errs)
	}
}

func FuzzParseRecords(f *testing.F) {
	f.Add(head + "A,280,0.2,3.3,72,72,72\n")
	f.Add("serial\n\"")
	f.Add("\ufeff" + head + "\"a\nb\",1,1,1,1,1,1")
	f.Fuzz(func(t *testing.T, text string) {
		got, errs := ParseRecords("f", strings.NewReader(text))
		if errs.HasErrors() == (got != nil) {
			t.Fatalf("%d records and errors %v", len(got), errs)
		}
		for _, r := range got {
			if !(r.CapacityAh > 0 && r.MilliOhm > 0 && r.Volts >= 0 && r.CentreMM > 0) || r.Serial == "" {
				t.Errorf("record %+v", r)
			}
		}
	})
}
