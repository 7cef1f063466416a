package tell

import (
	"strings"
	"testing"

	"clampwright/assembly/job"
	"clampwright/assembly/wiring"
)

// The page's sentence names the nearest bridge and the worst one, however many gaps are
// smaller than that; once where both are one.
func TestWorstBridgeIsTold(t *testing.T) {
	e := func(gap, volts, amps float64, text string) wiring.Exposure {
		return wiring.Exposure{GapMM: gap, Volts: volts, Amps: amps, Text: text}
	}
	small := []wiring.Exposure{e(40, 7.3, 13000, "forty"), e(41, 7.3, 13000, "p"), e(42, 7.3, 13000, "q"), e(51, 3.65, 14600, "r")}
	for _, c := range []struct {
		name string
		all  []wiring.Exposure
		want string
	}{
		{"none", nil, ""},
		{"mains far apart", append(small, e(66, 58.4, 11000, "mains")), "Nearest: forty. Worst: mains. Use"},
		{"mains told first", append([]wiring.Exposure{e(66, 58.4, 11000, "mains")}, small...), "Nearest: forty. Worst: mains. Use"},
		{"one of both", small, "Nearest: forty. Use"},
		{"little volts, many amps", append(small, e(70, 3.65, 29200, "balance")), "Nearest: forty. Worst: balance. Use"},
	} {
		got := strings.Join(wired{&job.Wiring{Plan: wiring.Plan{Exposures: c.all}}}.reachWarning(), "")
		if (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s: %q", c.name, got)
		}
	}
}
