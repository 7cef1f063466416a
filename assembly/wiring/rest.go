package wiring

import (
	"fmt"
	"math"

	"clampwright/params/number"
)

// The resting voltage at storage charge lies in a band about the one given:
// temperature, hysteresis and the meter. 3.3 V gives 3.2 to 3.35 V for lithium
// iron phosphate. From memory; common practice, no source.
const (
	restBelowV = 0.10
	restAboveV = 0.05
	// loadBelowV is how far under that band a slow discharge may pull a cell
	// before it holds less than was thought; common practice, no source.
	loadBelowV = 0.10
	// kneeBelowV is how far under the nominal voltage the knee of the discharge lies under
	// a slow load: 3.0 V, below which kneeCharge or less is left. From memory; common
	// practice, no source.
	kneeBelowV, kneeCharge = 0.20, 0.10
)

// VoltBand is a range of voltages.
type VoltBand struct{ LowV, HighV float64 }

// RestBand is the resting voltage of n places in series at storage charge.
func (l *Layout) RestBand(n int) VoltBand {
	v := l.in.Volts
	return VoltBand{float64(n) * max(v.Least, v.Storage-restBelowV), float64(n) * min(v.Full, v.Storage+restAboveV)}
}

// String writes the band as "51.2 to 53.6 V".
func (b VoltBand) String() string {
	if b.HighV == 0 {
		return "about 0 V"
	}
	return number.Trim(b.LowV, 2) + " to " + volts(b.HighV)
}

// seriesText is what a meter shows over n places in series at storage charge when one
// is left out or stands the wrong way round.
func seriesText(l *Layout, n int) string {
	right := l.RestBand(n)
	if n < 2 {
		return ""
	}
	noun := "cell"
	if l.in.Parallel > 1 {
		noun = "place"
	}
	text := fmt.Sprintf(" One %s left out reads %s, one turned round %s.", noun, l.RestBand(n-1), l.RestBand(n-2))
	if l.RestBand(n-1).HighV >= right.LowV {
		text += fmt.Sprintf(" These bands overlap: read every %s by itself too. The sum must agree within half a volt.", noun)
	}
	return text
}

// leastLoadV is where a slow discharge stops early.
func leastLoadV(l *Layout) float64 {
	return math.Max(l.in.Volts.Least, l.RestBand(1).LowV-loadBelowV)
}
