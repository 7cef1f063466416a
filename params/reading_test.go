package params

import (
	"strings"
	"testing"
)

// A reading is written at the end, into a file with some and into one with none, and the
// rest of the text stays.
func TestAddReadings(t *testing.T) {
	one := Added{"what": "stack", "when": "snug", "where": "left lower", "value": "288.4 mm", "date": "2026-05-01"}
	for _, text := range []string{least, least + "# at the bench\nreadings:\n  - {what: stack, when: set, value: 287 mm} # mine\n", least + "readings: [{what: stack, when: set, value: 287 mm}]\n"} {
		_, f, err := AddReadings("pack.yaml", []byte(text), []Added{one, {"what": "turns", "when": "set", "value": "1.5", "where": "x, \"y\""}})
		if f != nil || err == nil || !strings.Contains(err.Error(), "no such place") {
			t.Errorf("a rod that there is not: %v", err)
		}
		out, f, err := AddReadings("pack.yaml", []byte(text), []Added{one})
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		last := f.Readings[len(f.Readings)-1]
		if last.Where != "left lower" || last.Value != 288.4 || last.Day != 20574 || strings.Contains(text, "# mine") != strings.Contains(string(out), "# mine") {
			t.Errorf("%+v\n%s", last, out)
		}
	}
}

// What stands about a reading is held: both sides of each.
func TestAround(t *testing.T) {
	for line, want := range map[string]string{
		"{what: stack, when: visit, value: 287 mm, date: 2026-06-01, charge: 0.4}":              "",
		"{what: stack, when: visit, value: 287 mm, charge: 0.4}":                                "no date",
		"{what: stack, when: reset, value: 287 mm, date: 2026-06-01}":                           "how full",
		"{what: stack, when: set, value: 287 mm, date: 1.6.26}":                                 "date can't be read",
		"{what: stack, when: set, value: 287 mm, charge: 1.1}":                                  "charge is out of range",
		"{what: stack, when: set, value: 287 mm, temperature: 20 C}":                            "",
		"{what: bow, when: set, where: front, value: 0 mm}":                                     "",
		"{what: bow, when: set, where: left lower, value: 0 mm}":                                "no such place",
		"{what: turns, value: 1.5}":                                                             "not said when",
		"{what: torque, when: set, value: 2.5 N.m, where: upper right}":                         "",
		"{what: torque, when: set, value: 2.5 N.m, where: rod 9}":                               "no such place",
		"{what: spring, when: set, value: 40 mm}\nsprings: none":                                "no springs are fitted",
		"{what: weighed, value: 20 kgf}":                                                        "at no height",
		"{what: weighed, value: 20 kgf, high: 40 mm}\nsprings: none":                            "no springs are fitted",
		"{what: weighed, value: 20 kgf, high: 40 mm}\nsprings: {coil: die heavy 20x51}":         "",
		"{what: stack, value: 290 mm, load: 20 kg}":                                             "",
		"{what: stack, when: snug, value: 287 mm}\n  - {what: stack, when: set, value: 288 mm}": "got no shorter",
		"{what: stack, when: visit, value: 287 mm, date: 2026-06-01, charge: 0.4, cycles: 120}\n  - {what: stack, when: visit, value: 287 mm, date: 2026-07-01, charge: 0.4, cycles: 120}": "",
		"{what: stack, when: visit, value: 287 mm, date: 2026-07-01, charge: 0.4, cycles: 119}\n  - {what: stack, when: visit, value: 287 mm, date: 2026-06-01, charge: 0.4, cycles: 120}": "fewer cycles than before",
	} {
		f, list := Load("pack.yaml", []byte(least+"readings:\n  - "+line+"\n"))
		if want == "" && f == nil || want != "" && (f != nil || !strings.Contains(list.Error(), want)) {
			t.Errorf("%s: %v, want %q", line, list, want)
		}
	}
}
