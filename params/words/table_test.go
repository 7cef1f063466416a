package words

import (
	"slices"
	"strings"
	"testing"
)

// A table is as wide as its cells while that fits; then the widest columns are broken
// between words, never between a figure and its unit, and a head takes several lines.
func TestTable(t *testing.T) {
	head, rows := []string{"part", "mean pressure kPa", "why"}, [][]string{{"plate", "84.1", "12.7 mm thick in place of 19.05 mm"}, {"rod", "9", ""}}
	for _, c := range []struct {
		width int
		want  []string
	}{
		{61, []string{"part   mean pressure kPa  why", "plate  84.1               12.7 mm thick in place of 19.05 mm", "rod    9"}},
		{40, []string{"part   mean      why", "       pressure", "       kPa", "plate  84.1      12.7 mm thick in place", "                 of 19.05 mm", "rod    9"}},
		{10, []string{"part  mean     why", "      pressure", "      kPa", "plate 84.1     12.7", "               mm", "               thick", "               in", "               place", "               of", "               19.05", "               mm", "rod   9"}},
	} {
		if got := Table(c.width, head, rows); !slices.Equal(got, c.want) {
			t.Errorf("%d wide:\n%s\nwant:\n%s", c.width, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
	}
}

func TestTied(t *testing.T) {
	for text, want := range map[string]string{"to 7 3/4 in wide": "to 7\u00a03/4\u00a0in wide", "84 kPa, 5 %, 3 cells": "84\u00a0kPa, 5\u00a0%, 3\u00a0cells", "sheet 3 extends": "sheet 3 extends",
		"8 3/4 (8.75) in": "8\u00a03/4 (8.75)\u00a0in", "24 x 7 3/4 in": "24\u00a0x 7\u00a03/4\u00a0in", "-5 \u00b0C to 60 \u00b0C": "-5\u00a0\u00b0C to 60\u00a0\u00b0C",
		"2 x rods": "2 x rods", "3 inner": "3 inner", "": "", " ": " ", "1 ": "1 "} {
		if got := Tied(text); got != want || Untied(got) != text {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
