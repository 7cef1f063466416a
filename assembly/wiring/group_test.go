package wiring

import (
	"errors"
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func randomRecords(r *rand.Rand, n int) []Record {
	out := make([]Record, n)
	for i := range out {
		edge := 71.5 + 0.6*r.Float64()
		out[i] = Record{Serial: fmt.Sprintf("C%03d", i), CapacityAh: 275 + 12*r.Float64(), MilliOhm: 0.16 + 0.05*r.Float64(),
			Volts: 3.28 + 0.02*r.Float64(), CentreMM: edge + 0.8*r.Float64(), EdgeLeftMM: edge, EdgeRightMM: edge + 0.1*r.Float64()}
	}
	return out
}

func good(serial string) Record {
	return Record{Serial: serial, CapacityAh: 280, MilliOhm: 0.18, Volts: 3.29, CentreMM: 72, EdgeLeftMM: 71.7, EdgeRightMM: 71.7}
}

func TestScreen(t *testing.T) {
	records := []Record{good("a"), good("b"), good("c"), good("d"), good("e"), good("f"), good("g"), good("h")}
	records[1].CentreMM = 74    // bulges by 2.3
	records[2].CapacityAh = 250 // 89 %
	records[3].MilliOhm = 0.30  // 1.67 times
	records[4].Volts = 2.1      // empty
	records[5].Volts = 3.10     // only noted
	records[6].CentreMM = 69    // measured wrong, only noted
	sound, noted, remarks := Screen(records, ScreenLimits{})
	if got := serialsOf(sound) + "|" + serialsOf(noted); got != "ah|fg" {
		t.Errorf("sound and noted: %s", got)
	}
	rejected := map[string]bool{}
	for _, m := range remarks {
		rejected[m.Serial] = rejected[m.Serial] || m.Reject
	}
	for _, s := range []string{"b", "c", "d", "e"} {
		if !rejected[s] {
			t.Errorf("%s is not refused", s)
		}
	}
	if rejected["f"] || rejected["g"] || len(remarks) != 6 {
		t.Errorf("remarks %+v", remarks)
	}
	if sound, noted, remarks := Screen(nil, ScreenLimits{}); sound != nil || noted != nil || remarks != nil {
		t.Error("no records give something")
	}
}

// Limits of any cell hold when all are alike: then no median tells.
func TestScreenAbsolute(t *testing.T) {
	limits := ScreenLimits{LeastAh: 224, MostMilliOhm: 0.375, MostV: 3.34}
	for _, c := range []struct {
		spoil func(*Record)
		want  string
	}{
		{func(r *Record) {}, ""},
		{func(r *Record) { r.CapacityAh = 224 }, ""},
		{func(r *Record) { r.CapacityAh = 223.9 }, "rating"},
		{func(r *Record) { r.CapacityAh = 140 }, "rating"},
		{func(r *Record) { r.MilliOhm = 0.375 }, ""},
		{func(r *Record) { r.MilliOhm = 0.376 }, "rating"},
		{func(r *Record) { r.MilliOhm = 0.6 }, "rating"},
		{func(r *Record) { r.Volts = 3.34 }, ""},
		{func(r *Record) { r.Volts = 3.341 }, "storage charge"},
		{func(r *Record) { r.Volts = 3.6 }, "storage charge"},
		{func(r *Record) { r.Volts = 4 }, "storage charge"},
	} {
		records := []Record{good("a"), good("b"), good("c"), good("d")}
		for i := range records {
			c.spoil(&records[i])
		}
		sound, noted, remarks := Screen(records, limits)
		if c.want == "" && len(sound) != 4 || c.want != "" && (len(sound)+len(noted) > 0 || !remarks[0].Reject || !strings.Contains(remarks[0].Text, c.want)) {
			t.Errorf("%+v: %d sound, %v, want %q", records[0], len(sound), remarks, c.want)
		}
	}
}

func serialsOf(records []Record) string {
	var b strings.Builder
	for _, r := range records {
		b.WriteString(r.Serial)
	}
	return b.String()
}

// A cell with a remark against it goes in only where the others do not suffice,
// whatever it holds, and its remark says which.
func TestNotedCellGoesInLast(t *testing.T) {
	for _, c := range []struct {
		sound          int
		doubtful, want string
	}{{5, "", "kept out"}, {4, "", "kept out"}, {3, "n", "built in all the same, since only 3 of 4"}} {
		in := pack(4, 1, 4, 1)
		n := good("n")
		n.CapacityAh, n.Volts = 290, 3.1
		in.Records = []Record{n}
		for i := range c.sound {
			in.Records = append(in.Records, good(string(rune('a'+i))))
		}
		l, final := finalOf(t, in)
		a, remarks, err := l.Arrange(final)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(serialsOf(a.Slots)+serialsOf(a.Spare), "n") != (c.doubtful != "") || serialsOf(a.Doubtful) != c.doubtful {
			t.Errorf("%d sound: slots %s, doubtful %s", c.sound, serialsOf(a.Slots), serialsOf(a.Doubtful))
		}
		if len(remarks) != 1 || !strings.Contains(remarks[0].Text, c.want) {
			t.Errorf("%d sound: %v, want %q", c.sound, remarks, c.want)
		}
	}
}

// judged is by how much the worst-shared current of a deal's places is over the limit,
// summed, and the capacity of its weakest place.
func judgedDeal(places [][]Record) (over, weakest float64) {
	weakest = math.Inf(1)
	for _, p := range places {
		var siemens []float64
		sum, ah := 0.0, 0.0
		for _, x := range p {
			siemens = append(siemens, 1000/x.MilliOhm)
			sum, ah = sum+1000/x.MilliOhm, ah+x.CapacityAh
		}
		over += max(0, slices.Max(siemens)/(sum/float64(len(p)))-1.1)
		weakest = min(weakest, ah)
	}
	return over, weakest
}

// everyDeal takes each place's cells out of what is left, in every way.
func everyDeal(left []Record, parallel int, dealt [][]Record, visit func([][]Record)) {
	if len(left) == 0 {
		visit(dealt)
		return
	}
	for mask := range 1 << len(left) {
		if mask&1 == 0 || bits.OnesCount(uint(mask)) != parallel {
			continue
		}
		var in, out []Record
		for i, x := range left {
			if mask>>i&1 == 1 {
				in = append(in, x)
			} else {
				out = append(out, x)
			}
		}
		everyDeal(out, parallel, append(slices.Clone(dealt), in), visit)
	}
}

// Up to four places of three cells no deal shares the current better, and of those that
// share it as well none has a stronger weakest place.
func TestGroupAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 5))
	for _, c := range [][2]int{{2, 2}, {3, 2}, {4, 2}, {2, 3}, {3, 3}, {4, 3}, {5, 1}, {1, 4}} {
		for range 4 {
			records := randomRecords(r, c[0]*c[1])
			for i := range records {
				records[i].MilliOhm *= 0.8 + 0.4*r.Float64()
			}
			g, err := Group(records, c[0], c[1])
			if err != nil {
				t.Fatal(err)
			}
			over, weakest := judgedDeal(g.Places)
			n := 0
			everyDeal(records, c[1], nil, func(d [][]Record) {
				n++
				if o, w := judgedDeal(d); o < over-1e-9 || o < over+1e-9 && w > weakest+1e-6 {
					t.Fatalf("%v: over %v, weakest %v; another deal %v, %v", c, over, weakest, o, w)
				}
			})
			if float64(n) != deals(c[0], c[1]) {
				t.Errorf("%v: %d deals, reckoned %v", c, n, deals(c[0], c[1]))
			}
		}
	}
}

// With cells to spare any may stay out where that is what makes the others share.
func TestSpareCellsBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 5))
	for _, c := range [][3]int{{2, 2, 5}, {3, 2, 7}, {4, 2, 9}, {2, 3, 7}, {2, 2, 6}} {
		for range 6 {
			records := randomRecords(r, c[2])
			for i := range records {
				records[i].MilliOhm *= 0.9 + 0.2*r.Float64()
			}
			records[r.IntN(c[2])].MilliOhm *= 2
			g, err := Group(records, c[0], c[1])
			if err != nil {
				t.Fatal(err)
			}
			over, _ := judgedDeal(g.Places)
			for mask := range 1 << c[2] {
				if bits.OnesCount(uint(mask)) != c[0]*c[1] {
					continue
				}
				var use []Record
				for i, x := range records {
					if mask>>i&1 == 1 {
						use = append(use, x)
					}
				}
				everyDeal(use, c[1], nil, func(d [][]Record) {
					if o, _ := judgedDeal(d); o < over-1e-9 {
						t.Fatalf("%v: over %v, another choice %v", c, over, o)
					}
				})
			}
			if len(g.Spare) != c[2]-c[0]*c[1] || (g.Uneven > UnevenMost+1e-9) != (over > 1e-9) {
				t.Errorf("%v: %d spare, uneven %v, over %v", c, len(g.Spare), g.Uneven, over)
			}
		}
	}
}

// What is drawn before the clamp is opened, and what cells may be joined at, follow from
// the cells as measured: the largest place, the least resistance.
func TestMeasuredCellsSetGateAndJoin(t *testing.T) {
	in := pack(4, 1, 2, 2)
	in.DischargerA, in.RatedA, in.CellLimitA, in.ContactMicroOhm = 40, 40, 20, 1
	cells := []Record{{MilliOhm: 0.1, CapacityAh: 300}, {MilliOhm: 0.2, CapacityAh: 290}, {MilliOhm: 0.3, CapacityAh: 250}, {MilliOhm: 0.3, CapacityAh: 200}}
	l := WithCells(mustLayout(t, in), cells)
	final := l.Finished()
	near(t, "stray", strayOhm(l, final), 0.0003, 1e-12)
	near(t, "of all", strayOhm(l, State{Places: [][]int{{0, 1, 2, 3}}}), 0.0001+1/(5000+2/0.0003), 1e-12)
	near(t, "of one in each place", strayOhm(l, State{Places: [][]int{{0}, {1}}}), 0.0002, 1e-12)
	p := mustPlans(t, l)[0]
	gate := func(steps []Step) *Gate {
		return steps[slices.IndexFunc(steps, func(s Step) bool { return s.Gate != nil })].Gate
	}
	near(t, "balance", gate(p.Steps).CountedAh, 0.6*1040, 1e-9)
	near(t, "balance, each", gate(p.Steps).LoadA, 10, 1e-9)
	apart := gate(p.Apart(l))
	near(t, "finished", apart.CountedAh, 0.6*mostAh(l, final), 1e-9)
	near(t, "finished, each", apart.LoadA, 20, 1e-9)
}

// A larger pack: where the cells are alike in pairs, each pair shares a place.
func TestGroupSharesInLargePacks(t *testing.T) {
	var records []Record
	for i := range 32 {
		x := good(fmt.Sprint(i))
		x.MilliOhm = 0.2 * math.Pow(1.15, float64(i/2))
		records = append(records, x)
	}
	g, err := Group(records, 16, 2)
	if err != nil {
		t.Fatal(err)
	}
	if over, _ := judgedDeal(g.Places); over > 0 {
		t.Errorf("over the limit by %v", over)
	}
}

// The circuit has the cells' own resistances: two in parallel of 0.36 and 0.64 share
// 100 A as 64 and 36, and the time of a charge is that of their capacities.
func TestCircuitOfMeasuredCells(t *testing.T) {
	in := pack(2, 1, 1, 2)
	in.RatedA, in.ContactMicroOhm, in.Bar.ThicknessMM = 100, 0.1, 50
	l := WithCells(mustLayout(t, in), []Record{{MilliOhm: 0.36, CapacityAh: 300}, {MilliOhm: 0.64, CapacityAh: 200}})
	s := l.Finished()
	f, err := l.FiguresOf(s)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "first", f.CellA[0], 64, 0.3)
	near(t, "second", f.CellA[1], 36, 0.3)
	near(t, "uneven", f.Unevenness[0], 1.28, 0.006)
	near(t, "short", f.CellShortA, 3.65/0.00036, 1)
	near(t, "held", heldAh(l, slices.Concat(s.Places...)), 500, 1e-9)
	near(t, "pack", f.PackOhm, 0.00036*0.64, 2e-6)
}

// Every record is used once, spares are the weakest of cells that share alike, sums are
// right.
func TestGroupKeepsEveryCell(t *testing.T) {
	r := rand.New(rand.NewPCG(32, 5))
	for range 50 {
		places, parallel := 1+r.IntN(16), 1+r.IntN(4)
		records := randomRecords(r, places*parallel+r.IntN(5))
		for i := range records {
			records[i].MilliOhm = 0.18 + 0.001*r.Float64()
		}
		g, err := Group(records, places, parallel)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		least := math.Inf(1)
		for k, p := range g.Places {
			ah := 0.0
			for _, x := range p {
				if seen[x.Serial] {
					t.Fatalf("%s used twice", x.Serial)
				}
				seen[x.Serial] = true
				ah += x.CapacityAh
				least = min(least, x.CapacityAh)
			}
			if len(p) != parallel {
				t.Fatalf("place %d holds %d cells", k, len(p))
			}
			near(t, "capacity", g.CapacityAh[k], ah, 1e-9)
		}
		for _, x := range g.Spare {
			if seen[x.Serial] || x.CapacityAh > least {
				t.Fatalf("spare %s of %v Ah, least used %v", x.Serial, x.CapacityAh, least)
			}
		}
		near(t, "pack", g.PackAh, slices.Min(g.CapacityAh), 0)
	}
	if _, err := Group(randomRecords(r, 3), 2, 2); !errors.Is(err, ErrTooFewCells) {
		t.Errorf("err = %v", err)
	}
	if _, err := Group(nil, 0, 1); err == nil {
		t.Error("no places accepted")
	}
}

// Two rows under one plate differ by less than half of what asks for a shim, and
// a single row has its warmest cells at the ends.
func TestArrange(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 5))
	for range 20 {
		in := pack(8, 2, 16, 1)
		in.Records = randomRecords(r, 18)
		l, final := finalOf(t, in)
		a, _, err := l.Arrange(final)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.DifferenceMM) > shimMM/2 {
			t.Errorf("rows differ by %.3f mm", a.DifferenceMM)
		}
		sum := 0.0
		for _, c := range a.Slots {
			sum += c.CentreMM
		}
		near(t, "rows", a.RowCentreMM[0]+a.RowCentreMM[1], sum, 1e-9)
	}
	in := pack(8, 1, 8, 1)
	in.Records = randomRecords(r, 8)
	l, final := finalOf(t, in)
	a, _, err := l.Arrange(final)
	if err != nil {
		t.Fatal(err)
	}
	ends := min(a.Slots[0].MilliOhm, a.Slots[7].MilliOhm)
	for _, c := range a.Slots[1:7] {
		if c.MilliOhm > ends {
			t.Errorf("a cell of %.3f milliohm stands inside, the ends have %.3f", c.MilliOhm, ends)
		}
	}
}

// Places and slots agree: the cells of place k stand in the slots of place k.
func TestArrangePlacesMatchSlots(t *testing.T) {
	r := rand.New(rand.NewPCG(34, 5))
	in := pack(6, 2, 4, 3)
	in.Records = randomRecords(r, 13)
	l, final := finalOf(t, in)
	a, _, err := l.Arrange(final)
	if err != nil {
		t.Fatal(err)
	}
	for k, slots := range final.Places {
		ah := 0.0
		for i, slot := range slots {
			if a.Slots[slot] != a.Places[k][i] {
				t.Errorf("slot %d", slot)
			}
			ah += a.Slots[slot].CapacityAh
		}
		near(t, "capacity", a.CapacityAh[k], ah, 1e-9)
	}
	if len(a.Spare) != 1 {
		t.Errorf("%d spares", len(a.Spare))
	}
}

// Wedged cells all thick on their plus side lean one way when they stand one way
// round, and cancel when every second one is turned.
func TestWedge(t *testing.T) {
	in := pack(4, 1, 4, 1)
	for i := range 4 {
		r := good(fmt.Sprintf("W%d", i))
		r.EdgeRightMM += 0.2
		in.Records = append(in.Records, r)
	}
	l, final := finalOf(t, in)
	a, _, err := l.Arrange(final)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "alternating", a.WedgeMM[0], 0, 1e-9)
	for i := range final.Turns {
		final.Turns[i] = Right
	}
	a, _, err = l.Arrange(final)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "one way", a.WedgeMM[0], 0.8, 1e-9)
	if len(a.Remarks) != 1 || !strings.Contains(a.Remarks[0], "thicker on the right") {
		t.Errorf("remarks %v", a.Remarks)
	}
}

func TestArrangeRefusesAStrangeState(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.Records = randomRecords(rand.New(rand.NewPCG(1, 1)), 4)
	l, final := finalOf(t, in)
	for _, s := range []State{{}, {Turns: final.Turns, Intended: final.Turns, Places: final.Places[:2]}} {
		if _, _, err := l.Arrange(s); err == nil {
			t.Error("a strange state is arranged")
		}
	}
}

func TestArrangeTooFew(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.Records = []Record{good("a")}
	l, final := finalOf(t, in)
	if _, _, err := l.Arrange(final); !errors.Is(err, ErrTooFewCells) {
		t.Errorf("err = %v", err)
	}
}

// A file of our own: eighteen cells, one of them bulged, for sixteen in two rows.
func TestArrangeFile(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "wiring", "cells.csv"))
	if err != nil {
		t.Fatal(err)
	}
	var records []Record
	for _, line := range strings.Fields(string(text))[1:] {
		var r Record
		r.Serial, line, _ = strings.Cut(line, ",")
		if _, err := fmt.Sscanf(line, "%g,%g,%g,%g,%g,%g", &r.CapacityAh, &r.MilliOhm, &r.Volts, &r.CentreMM, &r.EdgeLeftMM, &r.EdgeRightMM); err != nil {
			t.Fatal(err)
		}
		records = append(records, r)
	}
	in := pack(8, 2, 8, 2)
	in.Records = records
	l, final := finalOf(t, in)
	a, remarks, err := l.Arrange(final)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, m := range remarks {
		fmt.Fprintf(&b, "%s reject %v: %s\n", m.Serial, m.Reject, m.Text)
	}
	for slot, r := range a.Slots {
		fmt.Fprintf(&b, "%s %s plus %s\n", l.CellName(slot), r.Serial, final.Turns[slot])
	}
	for k := range a.Places {
		fmt.Fprintf(&b, "place %d: %.1f Ah %.4f milliohm\n", k+1, a.CapacityAh[k], a.MilliOhm[k])
	}
	fmt.Fprintf(&b, "spread %.4f and %.4f, rows %.2f and %.2f mm, wedge %.2f and %.2f mm\n", a.CapacitySpread,
		a.ResistanceSpread, a.RowCentreMM[0], a.RowCentreMM[1], a.WedgeMM[0], a.WedgeMM[1])
	for _, r := range a.Remarks {
		fmt.Fprintln(&b, r)
	}
	golden(t, "cells-arranged.txt", b.String())
}
