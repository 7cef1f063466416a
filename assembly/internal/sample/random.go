package sample

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"clampwright/params"
)

// draw writes a random parameter file, key by key.
type draw struct {
	*rand.Rand
	strings.Builder
}

func (d *draw) even(lo, hi float64) float64 { return lo + (hi-lo)*d.Float64() }

// log is even in the logarithm.
func (d *draw) log(lo, hi float64) float64 { return math.Exp(d.even(math.Log(lo), math.Log(hi))) }

// often is true in part of the draws.
func (d *draw) often(part float64) bool { return d.Float64() < part }

func (d *draw) of(list ...string) string { return list[d.IntN(len(list))] }

func (d *draw) say(format string, a ...any) { fmt.Fprintf(&d.Builder, format, a...) }

// maybe says something in part of the draws.
func (d *draw) maybe(part float64, format string, a ...any) {
	if d.often(part) {
		d.say(format, a...)
	}
}

// Random is a parameter file drawn over the keys that shape a clamp; not every one
// settles.
func Random(r *rand.Rand) string {
	d := &draw{Rand: r}
	thick, width, height := d.log(8, 110), d.log(50, 400), d.log(60, 350)
	d.say("fixture: drawn\ncell: {thickness: %.1f, width: %.1f, height: %.1f, mass: 2 kg", thick, width, height)
	d.either(func() { d.say(", pressure: %.1f kPa", d.log(15, 900)); d.maybe(0.3, ", force_always: true") },
		func() { d.say(", compression: unknown") }, func() { d.say(", compression: none") })
	d.maybe(0.3, ", swell_zone: %.2f", d.even(0.3, 0.9))
	d.say("}\npack: {cells: %d", 2*(1+d.IntN(10)))
	two := d.often(0.3)
	if two {
		d.say(", rows: 2, row_gap: %.0f", d.even(30, 70))
	}
	d.say("}\nplates: {material: %s, thickness: %.1f", d.of("hdpe", "pp", "acetal", "pc", "birch plywood", "mdf", "aluminium", "6061-T6", "steel", "fr4"), d.log(3, 40))
	d.maybe(0.2, ", flatness: %.2f", d.even(0, 0.6))
	d.maybe(0.2, ", height: %.1f", height*d.even(0.85, 1.2))
	d.say("}\nstiffeners: ")
	if d.often(0.5) {
		d.say("none\n")
	} else {
		d.say("{standing_leg: %s}\n", d.of("inward", "outward", "up"))
	}
	d.say("rods: {thread: %s", d.of("M5", "M6", "M8", "M10", "M12", "1/4-20", "5/16-18"))
	if d.often(0.4) {
		mid, spread := height*d.even(0.35, 0.65), height*d.even(0.1, 0.48)
		d.say(", levels: [%.0f, %.0f]", mid-spread, mid+spread)
	} else {
		d.maybe(0.4, ", level_count: %d", 2+d.IntN(3))
	}
	if two {
		d.maybe(0.7, ", middle_column: %s", d.of("true", "false"))
	}
	d.say("}\nnuts: {kind: %s}\n", d.of("plain", "prevailing", "jam"))
	if d.often(0.5) {
		d.say("springs: {ends: %s", d.of("one", "both"))
		d.maybe(0.3, ", series: %d", 1+d.IntN(40))
		d.maybe(0.3, ", coil: %s, parallel: %d", d.of("2.5x14x36", "3x16x40", "4x20x50", "5x26x56"), 1+d.IntN(2))
		d.say("}\n")
	}
	for _, sheets := range []string{"separators", "liners"} {
		if d.often(0.4) {
			d.say("%s: {material: %s, thickness: %.2f", sheets, d.of("fr4", "pp", "pet", "silicone foam", "petg"), d.log(0.3, 6))
			d.maybe(0.4, ", pattern: %s, border: %.1f", d.of("frame", "ribs", "sheet"), math.Min(width, height)*d.even(0.05, 0.2))
			d.say("}\n")
		}
	}
	d.say("clamp: {shape: %s", d.of("domed", "flat"))
	d.maybe(0.5, ", aged: %.2f", thick*d.even(0, 0.05))
	d.maybe(0.5, ", set_charge: %.2f", 0.4*d.Float64())
	d.maybe(0.4, ", cold: %.0f C, hot: %.0f C", d.even(-40, 15), d.even(25, 75))
	d.maybe(0.4, ", cell_expansion: %.0f", d.log(5, 290))
	d.maybe(0.2, ", bulge: %.2f", d.even(0, 0.01)*thick)
	d.maybe(0.2, ", assembly_temperature: %.0f C", d.even(0, 40))
	if d.often(0.4) {
		soft := thick * d.log(0.001, 0.03)
		d.say(", squeeze: [{squeeze: %.3f, pressure: 80 kPa}, {squeeze: %.3f, pressure: 400 kPa}]", soft, soft*d.even(1.5, 5))
	}
	if d.often(0.3) {
		d.say(", growth: [{charge: 0, growth: 0}, {charge: 0.5, growth: %.3f}, {charge: 1, growth: %.3f}]", thick*d.even(-0.004, 0.012), thick*d.even(-0.01, 0.02))
	}
	d.say("}\n")
	return d.String()
}

// either does one of several things.
func (d *draw) either(do ...func()) { do[d.IntN(len(do))]() }

// Draw settles random files until n of them do, and calls fn with each.
func Draw(t *testing.T, seed uint64, n int, fn func(text string, f *params.Fixture)) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 1))
	for tried := 0; n > 0; tried++ {
		text := Random(r)
		f, diags := params.Load("drawn.yaml", []byte(text))
		switch {
		case !diags.HasErrors():
			fn(text, f)
			n--
		case tried > 100 && tried > 20*n:
			t.Fatalf("too few files settle: %s\n%s", diags, text)
		}
	}
}
