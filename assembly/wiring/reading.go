package wiring

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/params/number"
	"clampwright/params/words"
)

// Check is one reading of the meter before a link is closed or taken off, its black
// lead at Black and its red lead at Red.
type Check struct {
	Black, Red Post
	// BlackLoose and RedLoose say that the lead is on the loose end of the link instead,
	// whose other end is fitted at that post.
	BlackLoose, RedLoose bool
	// Lead says that the test lead joins the loose end and its terminal meanwhile.
	Lead  bool
	WantV float64
}

// Before is what is found before a link is closed or taken off: the readings, and the
// links that lie on its terminals A and B by then. After is what their screws or nuts
// hold when it is done.
type Before struct {
	Checks []Check
	Fused  bool // a fuse goes across the gap: the link could short where it does not belong
	Under  [2][]string
	After  [2]Joint
}

const (
	// nothingV is the most that "0 V" may be: the greatest difference at which cells
	// may be joined (plateauV), and the meter's last digits. Common practice, no source.
	nothingV = 0.02
	// countMost is how many cells in series one reading counts: at rest at storage charge
	// each may be restBelowV off, and half a cell in all.
	countMost = 16
	// LeadKOhm is the resistance in the test lead: a meter of 10 megohm reads through
	// it as through none, and at 60 V a third of a watt and 6 mA are all that flow.
	LeadKOhm = 10.0
	// FuseA is the fuse in the fused lead: nothingV drives less through any lead, a cell
	// hundreds of times as much.
	FuseA = 1.0
	// ShockV is the voltage of the full pack from which shock and arcs are told, V:
	// some way below 60 V, the touch limit for smooth direct voltage (IEC 61140, from
	// memory).
	ShockV = 50.0
)

// shows says whether the meter tells a voltage from the one wanted: by more than
// nothingV where nothing is wanted, by half a cell where cells are counted.
func (c Check) shows(v, cellV float64) bool {
	if c.WantV == 0 {
		return math.Abs(v) > nothingV
	}
	return math.Abs(v-c.WantV) > cellV/2
}

// checksBefore are the readings before a link is closed on those fitted so far, its
// end A fitted and its end B loose. path is the order in which the cells follow each
// other; the black lead stays at the first of them that hangs together with A and is no
// more than countMost cells away.
//
// A link that brings something new in is bridged by the test lead, and the far pole
// of the cell it goes to must count as many cells as it should: so it is the right
// pole of the right cell, the loop is not closed twice, and all before it is whole. A
// link that closes a ring must find nothing between its loose end and the terminal,
// and the terminal at its level, since a terminal that hangs in the air shows nothing
// too.
func checksBefore(lv levels, k Link, path []int, cellV float64) []Check {
	far, lead := k.B, !lv.joined(k.A, k.B)
	if lead {
		far = k.B.across()
	}
	count := Check{Black: k.A, Red: far, Lead: lead}
	for _, slot := range slices.Backward(path) {
		low := Post{slot, Left}
		if lv.between(low, low.across()) < 0 { // rather the minus
			low = low.across()
		}
		for _, p := range [2]Post{low.across(), low} {
			if n := math.Abs(lv.bridged(p, far, k.A, k.B)) / cellV; lv.joined(p, k.A) && n > 0.5 && n < countMost+0.5 {
				count.Black, count.WantV = p, lv.bridged(p, far, k.A, k.B)
			}
		}
	}
	if lead {
		return []Check{count}
	}
	fast := count
	fast.Red, fast.RedLoose = k.A, true
	return []Check{fast, count, {Black: k.A, Red: k.B, BlackLoose: true}}
}

// grown turns a link so that its end A, which is fitted first, hangs together with
// the cell that comes first in the path.
func grown(k Link, lv levels, path []int) Link {
	for _, slot := range path {
		p := Post{slot, Left}
		if lv.joined(p, k.A) {
			return k
		}
		if lv.joined(p, k.B) {
			k.A, k.B = k.B, k.A
			return k
		}
	}
	return k
}

// BeforeText words what is found before a link is closed: the readings, and what lies
// on its terminals until then.
func (l *Layout) BeforeText(b Before, k Link, t Turns) (readings, lies string) {
	var texts []string
	for _, c := range b.Checks {
		texts = append(texts, checkText(l, c, t))
	}
	on := func(p Post, ids []string) string {
		if len(ids) == 0 {
			return l.ShortName(p, t) + " nothing"
		}
		return l.ShortName(p, t) + " " + words.Join(ids)
	}
	lies = on(k.A, b.Under[0]) + ", " + on(k.B, b.Under[1])
	if n := k.layers(); n > 1 && !k.Cable {
		lies += fmt.Sprintf(" (%d bars on each other)", n)
	}
	if b.Fused {
		texts = append(texts, "fuse")
	}
	return strings.Join(texts, "; "), lies
}

// checkText is a reading in words: "loose end to 2+: 0 V", "lead, 1- to 2+: 3.3 V".
func checkText(l *Layout, c Check, t Turns) string {
	from, to := l.ShortName(c.Black, t), l.ShortName(c.Red, t)
	if c.BlackLoose {
		from = "loose end"
	}
	if c.RedLoose {
		to = "loose end"
	}
	text := from + " to " + to + ": " + number.Trim(c.WantV, 1) + " V"
	if c.Lead {
		text = "lead, " + text
	}
	return text
}

// weldText says how strips are welded on, and what is read before each.
func weldText(cellV float64, fused bool) string {
	fuse, blows := fuseText(fused)
	return fmt.Sprintf("It is work for someone trained and equipped for it. Leave the pack clamped and set: pressing moves the terminals, which welds do not follow. Take them as in the table. All caps stay on but those of the two tabs worked on, and a mat lies over the vents. Hold the first end on, read from the first name, the black lead, to the second, then weld it. Read again before the other end is welded. Where the table says lead, clip the test lead across the gap first: %s kiloohm, 0.5 W. Where it says 0 V, at most %s V is right and %s V means stop. Another voltage is right within half a cell. %sIf a reading differs%s, stop.",
		number.Trim(LeadKOhm, 0), number.Trim(nothingV, 2), number.Trim(cellV, 1), fuse, blows)
}

// fuseText says what the fused lead is for, and when it stops the work.
func fuseText(fused bool) (fuse, blows string) {
	if fused {
		return "Where it ends with fuse, clip the fused lead across the gap after the readings. ", ", or the fuse blows"
	}
	return "", ""
}

// fitText says how links are fitted, how their readings are taken and when to stop.
func fitText(cellV float64, fused bool) string {
	fuse, blows := fuseText(fused)
	return fmt.Sprintf("Take them as in the table. Uncap the two terminals and look at what lies on them. Rub the faces bright with a plastic scouring pad, never steel wool. Only wipe plated faces. Fit the first end, read, then fit the other end. Cap both. Read through the holes in the caps, the black lead on the first name. Where the table says lead, clip the test lead across the gap first: %s kiloohm, 0.5 W. Where it says 0 V, at most %s V is right and %s V means stop. Another voltage is right within half a cell. %sIf a reading or what lies there differs%s, stop: do not close the link.",
		number.Trim(LeadKOhm, 0), number.Trim(nothingV, 2), number.Trim(cellV, 1), fuse, blows)
}
