package wiring

import (
	"fmt"
	"math"
	"sort"

	"clampwright/params/number"
)

// ScreenLimits are the rules by which an incoming cell is refused or noted.
// The defaults are common practice, no source; the cell's data sheet goes first.
type ScreenLimits struct {
	// BulgeMM is the most that the middle may be thicker than the edges;
	// default 2 mm.
	BulgeMM float64
	// LeastAh and MostMilliOhm are the limits of any cell, whatever the others are like,
	// 0 for none. MostV is the highest voltage at rest on arrival; default that of
	// storage charge.
	LeastAh, MostMilliOhm, MostV float64
	// CapacityFraction of the median that a cell must reach; default 0.95.
	CapacityFraction float64
	// ResistanceFactor of the median that a cell may have; default 1.5.
	ResistanceFactor float64
	// LeastV is the least voltage on arrival; default 2.5 V.
	LeastV float64
	// SpreadV is the difference to the median voltage above which a cell is
	// noted, since it may leak; default 0.05 V.
	SpreadV float64
}

func (s ScreenLimits) filled() ScreenLimits {
	set := func(p *float64, v float64) {
		if *p == 0 {
			*p = v
		}
	}
	set(&s.BulgeMM, 2)
	set(&s.CapacityFraction, 0.95)
	set(&s.ResistanceFactor, 1.5)
	set(&s.LeastV, 2.5)
	set(&s.SpreadV, 0.05)
	return s
}

func (s ScreenLimits) problems() []Problem {
	var c checker
	c.within("Screen.BulgeMM", s.BulgeMM, 0.01, 100)
	c.within("Screen.LeastAh", s.LeastAh, 0, 10000)
	c.within("Screen.MostMilliOhm", s.MostMilliOhm, 0, 10000)
	c.within("Screen.MostV", s.MostV, 0, 5)
	c.within("Screen.CapacityFraction", s.CapacityFraction, 0.1, 1)
	c.within("Screen.ResistanceFactor", s.ResistanceFactor, 1, 10)
	c.within("Screen.LeastV", s.LeastV, 0.1, 5)
	c.within("Screen.SpreadV", s.SpreadV, 0.001, 2)
	return c.problems
}

// Remark is one thing to say about one cell.
type Remark struct {
	Serial string
	Reject bool // do not build it in
	Text   string
}

// Screen sorts records, in file order, into those with nothing against them and
// those that a remark asks to watch; the rest is refused. Medians are taken over
// all records.
func Screen(records []Record, limits ScreenLimits) (sound, noted []Record, remarks []Remark) {
	limits = limits.filled()
	capacity := median(records, func(r Record) float64 { return r.CapacityAh })
	ohm := median(records, func(r Record) float64 { return r.MilliOhm })
	v := median(records, func(r Record) float64 { return r.Volts })
	for _, r := range records {
		found := screenOne(r, limits, capacity, ohm, v)
		bad := false
		for _, m := range found {
			bad = bad || m.Reject
		}
		switch {
		case len(found) == 0:
			sound = append(sound, r)
		case !bad:
			noted = append(noted, r)
		}
		remarks = append(remarks, found...)
	}
	return sound, noted, remarks
}

// enlist returns the records to group: the sound ones, and where these are fewer
// than needed as many of the noted ones, those of most capacity first. The noted
// ones that are built in come back as doubtful, and every remark on a noted cell
// says what becomes of it.
func enlist(sound, noted []Record, need int, remarks []Remark) (use, doubtful []Record) {
	noted = append([]Record(nil), noted...)
	sort.SliceStable(noted, func(i, j int) bool { return noted[i].CapacityAh > noted[j].CapacityAh })
	doubtful = noted[:min(len(noted), max(0, need-len(sound)))]
	fate := map[string]string{}
	if len(sound)+len(noted) < need {
		return append(append([]Record(nil), sound...), noted...), doubtful
	}
	for i, r := range noted {
		fate[r.Serial] = "; kept out of the pack"
		if i < len(doubtful) {
			fate[r.Serial] = fmt.Sprintf("; built in all the same, since only %d of %d cells have nothing against them", len(sound), need)
		}
	}
	for i, m := range remarks {
		remarks[i].Text += fate[m.Serial]
	}
	return append(append([]Record(nil), sound...), doubtful...), doubtful
}

func screenOne(r Record, s ScreenLimits, capacity, ohm, v float64) []Remark {
	var out []Remark
	say := func(reject bool, format string, args ...any) {
		out = append(out, Remark{r.Serial, reject, fmt.Sprintf(format, args...)})
	}
	if b := r.BulgeMM(); b > s.BulgeMM {
		say(true, "bulges by %s mm, at most %s mm: do not press it flat, do not build it in", number.Trim(b, 2), number.Trim(s.BulgeMM, 2))
	} else if b < -s.BulgeMM {
		say(false, "is %s mm thinner in the middle than at the edges: measure again", number.Trim(-b, 2))
	}
	if r.CapacityAh < s.LeastAh {
		say(true, "holds %s Ah, at least %s Ah are wanted by its rating", number.Trim(r.CapacityAh, 2), number.Trim(s.LeastAh, 2))
	} else if r.CapacityAh < s.CapacityFraction*capacity {
		say(true, "holds %s Ah, less than %s of the median %s Ah", number.Trim(r.CapacityAh, 2), percent(s.CapacityFraction), number.Trim(capacity, 2))
	}
	if s.MostMilliOhm > 0 && r.MilliOhm > s.MostMilliOhm {
		say(true, "has %s milliohm, at most %s milliohm are wanted by its rating", number.Trim(r.MilliOhm, 3), number.Trim(s.MostMilliOhm, 3))
	} else if r.MilliOhm > s.ResistanceFactor*ohm {
		say(true, "has %s milliohm, more than %s times the median %s milliohm", number.Trim(r.MilliOhm, 3), number.Trim(s.ResistanceFactor, 2), number.Trim(ohm, 3))
	}
	if r.Volts < s.LeastV {
		say(true, "arrived at %s, below %s: deeply discharged", volts(r.Volts), volts(s.LeastV))
	} else if s.MostV > 0 && r.Volts > s.MostV {
		say(true, "arrived at %s, above the %s of storage charge: do not stack it; discharge it, let it rest and read again", volts(r.Volts), volts(s.MostV))
	} else if math.Abs(r.Volts-v) > s.SpreadV {
		say(false, "arrived at %s, the median is %s: watch whether it loses charge by itself", volts(r.Volts), volts(v))
	}
	return out
}

func median(records []Record, of func(Record) float64) float64 {
	if len(records) == 0 {
		return 0
	}
	v := make([]float64, len(records))
	for i, r := range records {
		v[i] = of(r)
	}
	sort.Float64s(v)
	if n := len(v); n%2 == 0 {
		return (v[n/2-1] + v[n/2]) / 2
	}
	return v[len(v)/2]
}
