package params

import (
	"testing"

	"clampwright/params/diag"
)

// What a hand can put behind a key by mistake or by ill will.
var hostile = []string{
	"-1", "0", "010", ".nan", ".inf", "-.inf", "1e308", "1e-300", "40 m", "12 furlong", "1/0 in", "8 13/16/2 in", "99999999999999999999",
	"x", "true", "~", "[]", "{}", "{a: 1}", "[1, 2]", `"\u0000"`, "*a", "!!binary aGVsbG8=", "2026-01-01",
}

// Whatever is written behind any key, reading it ends in a fixture or in errors
// with a place, and never in both.
func TestNothingBehindAKeyBreaksTheReader(t *testing.T) {
	accepted := 0
	for _, p := range Paths() {
		for _, v := range hostile {
			text, err := edit("f.yaml", []byte(least), Change{p.Path, v, ""}) // not Edit: it refuses what is wrong
			if err != nil {
				t.Fatal(err)
			}
			fixture, diags := Load("f.yaml", text)
			if (fixture == nil) != diags.HasErrors() {
				t.Fatalf("%s: %s: fixture %v with %v", p.Path, v, fixture != nil, diags)
			}
			for _, d := range diags {
				if d.Severity == diag.Error && (d.Range.Line < 1 || d.Range.Col < 1 || d.Summary == "") {
					t.Errorf("%s: %s: an error without place or words: %v", p.Path, v, d)
				}
			}
			if fixture != nil {
				accepted++
			}
		}
	}
	if accepted < 100 {
		t.Errorf("only %d accepted: the test reaches nothing behind the reader", accepted)
	}
}
