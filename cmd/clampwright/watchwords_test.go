package main

import (
	"testing"

	"clampwright/export/compare"
)

func TestPartWords(t *testing.T) {
	r := &compare.Report{Rows: []compare.Row{
		{Action: compare.Make, Name: "end plate", New: "end-plate"}, {Action: compare.Spare, Name: "end plate", Old: "end-plate"},
		{Action: compare.Keep, Name: "washer", New: "washer"}, {Action: compare.Make, Name: "straight link bar", New: "link-k2"}, {Action: compare.Buy, Name: "nut"},
	}}
	if got, want := partWords(r), " (end plate, straight link bar link-k2, nut)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := partWords(&compare.Report{Rows: r.Rows[2:3]}); got != "" {
		t.Errorf("%q of parts that are kept", got)
	}
}
