package wiring

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

var update = os.Getenv("UPDATE_GOLDEN") != ""

// render writes a plan as text for the golden files.
func render(l *Layout, p Plan) string {
	var b strings.Builder
	fmt.Fprintf(&b, "plan %s: %s\nproven %v, %d links made, %d cuts, bar %.0f mm, cable %.0f mm, %d handlings, %d openings, %d turned, %d insulated places, %.2f burns\n",
		p.ID, p.Name, p.Proven(), p.LinksMade, p.Cuts, p.BarMM, p.CableMM, p.Handlings, p.Openings, p.Turned, p.InsulatedPlaces, p.Harm.Burns())
	h := p.Harm
	fmt.Fprintf(&b, "burns: links %.2f, tools %.2f, openings %.2f, cells %.2f, hours %.2f; %s\n", h.LinkBurns, h.ToolBurns, h.OpenBurns, h.CellBurns, h.HourBurns, h.Text())
	for _, s := range p.Steps {
		fmt.Fprintf(&b, "%2d %-9s %s\n", s.Number, s.Action, s.Text)
		for i, k := range s.Links {
			read, lies := l.BeforeText(s.Before[i], k, s.Turns)
			turns, after := s.Turns, s.Before[i].After
			fmt.Fprintf(&b, "             %s: %s (%s; then %s; %s)\n", k.ID, read, lies, l.JointText(after[0], turns), l.JointText(after[1], turns))
		}
	}
	for _, s := range p.Specs {
		fmt.Fprintf(&b, "%s %s %d links %d bars: length %.2f holes %.2f slot %.2f end %.2f section %.0f flexible %v\n",
			s.Mark, s.Shape, s.Links, s.Bars, s.LengthMM, s.HolesMM, s.SlotMM, s.EndMM, s.SectionMM2, s.Braided)
	}
	for i, e := range p.Exposures {
		if i == 12 {
			fmt.Fprintf(&b, "%d exposures in all\n", len(p.Exposures))
			break
		}
		fmt.Fprintf(&b, "%s exposure: %s\n", e.State, e.Text)
	}
	return b.String()
}

// Each of our own scenarios against a reviewed text.
func TestPlansGolden(t *testing.T) {
	for name, in := range map[string]Input{
		"4s1p":       pack(4, 1, 4, 1),
		"8s2p":       pack(16, 1, 8, 2),
		"16s1p-rows": pack(8, 2, 16, 1),
		"1s4p":       pack(4, 1, 1, 4),
	} {
		t.Run(name, func(t *testing.T) {
			l := mustLayout(t, in)
			plans := mustPlans(t, l)
			var b strings.Builder
			for _, p := range plans {
				b.WriteString(render(l, p) + "\n")
			}
			a, ok := Recommend(l.Input(), plans)
			fmt.Fprintf(&b, "recommended %v %s\n%s\n", ok, a.Plan, strings.Join(a.Why, "\n"))
			golden(t, name+".txt", b.String())
		})
	}
}

// The ranking of the plans of four packs, as the report and the page have it: least harm
// first.
func TestRankingGolden(t *testing.T) {
	var b strings.Builder
	for _, in := range []Input{pack(4, 1, 4, 1), pack(16, 1, 8, 2), pack(8, 2, 16, 1), pack(8, 1, 8, 1)} {
		if in.Cells() == 8 {
			in.BoardA = 20
		}
		l := mustLayout(t, in)
		plans := mustPlans(t, l)
		a, ok := Recommend(l.Input(), plans)
		fmt.Fprintf(&b, "%ds%dp, followed: %s %v\n  plan     burns  slips  read  look  later  unseen  could short  worst kJ  tool kA  opened  turned  hours  links\n", in.Series, in.Parallel, a.Plan, ok)
		for _, p := range ByHarm(plans) {
			h := p.Harm
			fmt.Fprintf(&b, "  %-7s %6.1f %6d %5d %5d %6d %7d %6d of %2d %9.0f %8.1f %7d %7d %6.0f %6d\n", p.ID, h.Burns(), h.Slips, h.Stopped[ByReading], h.Stopped[ByLook], h.Stopped[Later], h.Stopped[Unseen],
				h.Shorts, h.Links, h.WorstKJ, p.WorstA/1000, p.Openings, p.Turned, p.Hours, p.LinksMade)
		}
	}
	golden(t, "ranking.txt", b.String())
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("..", "..", "testdata", "wiring", name)
	if update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run with UPDATE_GOLDEN=1 and review. Got:\n%s", path, got)
	}
}

// The pack minus stands on the side asked for, in every layout.
func TestTakeOffSide(t *testing.T) {
	for i, in := range layouts() {
		for _, side := range []Side{Left, Right} {
			plus := side.Other()
			in.FromRight, in.FirstPlus = in.Rows > 1 && side == Right, &plus
			l := mustLayout(t, in)
			m := l.Finished().Mains.Minus
			at := l.Position(m, l.Finished().Turns)
			if m.Side != side || in.Rows > 1 && (at.X > 0) != (side == Right) {
				t.Errorf("%d: minus asked for on the %s stands at %v", i, side, at)
			}
		}
	}
}

// Counted by hand for four cells in a row: turn needs 3 + 3 straight bars, fits
// and removes 6, then fits 3 of them; cross needs 6 jumpers in 3
// crossings and 3 bars.
func TestPlanCountsFourInSeries(t *testing.T) {
	plans := mustPlans(t, mustLayout(t, rigid(pack(4, 1, 4, 1))))
	for _, c := range []struct {
		id                                          PlanID
		made, cuts, handlings, opens, turned, cross int
	}{
		{Turn, 6, 6, 15, 1, 2, 0},
		{Cross, 9, 3, 15, 0, 0, 3},
		{Single, 3, 3, 3, 0, 0, 0},
	} {
		for _, p := range plans {
			if p.ID != c.id {
				continue
			}
			got := []int{p.LinksMade, p.Cuts, p.Handlings, p.Openings, p.Turned, p.InsulatedPlaces}
			if want := []int{c.made, c.cuts, c.handlings, c.opens, c.turned, c.cross}; !reflect.DeepEqual(got, want) {
				t.Errorf("plan %s: %v, want %v", c.id, got, want)
			}
		}
	}
}

// Beginning from the right: the pack minus stands in the right row, or where there is
// one row on the right of its first cell.
func TestFromRight(t *testing.T) {
	in := pack(8, 2, 16, 1)
	for _, right := range []bool{false, true} {
		in.FromRight = right
		l := mustLayout(t, in)
		if m := l.Finished().Mains; l.Row(m.Minus.Slot) == 1 != right || l.Row(m.Plus.Slot) == 0 != right {
			t.Errorf("from right %v: mains %v", right, m)
		}
		for _, p := range mustPlans(t, l) {
			if !p.Proven() {
				t.Errorf("from right %v: %v", right, p.Faults())
			}
		}
	}
	side := Left
	one := pack(4, 1, 4, 1)
	one.FirstPlus = &side
	if m := mustLayout(t, one).Finished().Mains; m.Minus.Side != Right || m.Plus.Side != Right {
		t.Errorf("mains %v", m)
	}
}

// Sixteen cells in two rows: both take-offs stand at the near end, one in each row.
func TestTakeOffEnds(t *testing.T) {
	l, s := finalOf(t, pack(8, 2, 16, 1))
	m, p := l.Position(s.Mains.Minus, s.Turns), l.Position(s.Mains.Plus, s.Turns)
	if m.Y > -200 || p.Y > -200 || m.X > 0 || p.X < 0 {
		t.Errorf("minus at %v, plus at %v", m, p)
	}
}

func TestFirstPlusIsObeyed(t *testing.T) {
	for _, side := range []Side{Left, Right} {
		in := pack(8, 2, 16, 1)
		in.FirstPlus = &side
		l := mustLayout(t, in)
		if o := l.Final(); o.Turns[o.Path[0]] != side {
			t.Errorf("first cell has its plus on the %s, asked for %s", o.Turns[o.Path[0]], side)
		}
	}
}

// The turns found by dynamic programming cost no more than any other turns.
func TestFinalOrderIsShortest(t *testing.T) {
	for _, in := range []Input{pack(4, 1, 4, 1), pack(6, 1, 3, 2), pack(4, 2, 8, 1), pack(3, 2, 3, 2)} {
		for _, right := range []bool{false, true} {
			in.FromRight = right
			l := mustLayout(t, in)
			o := l.Final()
			cost := func(turns Turns) float64 {
				c := 0.0
				for k := 1; k < len(o.Path); k++ {
					c += stepCost(l, o.Path, k, turns[o.Path[k-1]], turns[o.Path[k]])
				}
				return c
			}
			got := cost(o.Turns)
			for bits := range 1 << l.Cells() {
				turns := make(Turns, l.Cells())
				for i := range turns {
					turns[i] = Side(bits >> i & 1)
				}
				if c := cost(turns); c < got-0.05 {
					t.Fatalf("%ds%dp from right %v: turns %v cost %.2f, found %v at %.2f", in.Series, in.Parallel, right, turns, c, o.Turns, got)
				}
			}
		}
	}
}

func TestForcedPlan(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.Forced = Turn
	l := mustLayout(t, in)
	a, ok := Recommend(l.Input(), mustPlans(t, l))
	if !ok || a.Plan != Turn || !a.Forced {
		t.Errorf("forced plan gives %+v, %v", a, ok)
	}
}

func TestUserLinksForUnknownState(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.UserLinks = []StateLinks{{State: "finall", Links: []string{"1+ 2-"}}}
	_, err := mustLayout(t, in).Plans()
	var e *InputError
	if !errors.As(err, &e) || !strings.Contains(err.Error(), `"finall"`) {
		t.Errorf("err = %v", err)
	}
}

func TestUserLinksThatHold(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.UserLinks = []StateLinks{{State: StateFinal, Links: []string{"1+ 2-", "3 - 2 plus", "3+ 4-"}}}
	for _, p := range mustPlans(t, mustLayout(t, in)) {
		if !p.Proven() {
			t.Errorf("plan %s: %v", p.ID, p.Faults())
		}
	}
}

// An empty list of links is a pack without links, not "compute them".
func TestUserGivesNoLinks(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.UserLinks = []StateLinks{{State: StateFinal}}
	for _, p := range mustPlans(t, mustLayout(t, in)) {
		if p.Proven() {
			t.Errorf("plan %s is proven without final links", p.ID)
		}
	}
}

func TestParseLink(t *testing.T) {
	l := mustLayout(t, pack(4, 2, 8, 1))
	turns := l.Final().Turns
	for text, want := range map[string][2]Post{
		"A1+ B4-":          {turns.At(0, Plus), turns.At(7, Minus)},
		"a2 left b3 right": {{1, Left}, {6, Right}},
		"A1 plus A2 minus": {turns.At(0, Plus), turns.At(1, Minus)},
		"  A1+   A2-  ":    {turns.At(0, Plus), turns.At(1, Minus)},
	} {
		k, err := l.ParseLink(text, turns)
		if err != nil || k.A != want[0] || k.B != want[1] {
			t.Errorf("%q: %v, %v", text, k, err)
		}
	}
	for _, text := range []string{"", "A1+", "A1+ A1+", "C1+ A2-", "A0+ A2-", "A5+ A2-", "A1* A2-", "A+1 A2-", "A1+ A2- A3+", "1+ 2-", "A1 up A2 down", strings.Repeat("A1+ ", 100)} {
		var e *LinkError
		if k, err := l.ParseLink(text, turns); !errors.As(err, &e) {
			t.Errorf("%q is read as %v", text, k)
		}
	}
}

func TestPlansAreDeterministic(t *testing.T) {
	in := pack(8, 2, 8, 2)
	a, b := mustPlans(t, mustLayout(t, in)), mustPlans(t, mustLayout(t, in))
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
}

func FuzzParseLink(f *testing.F) {
	f.Add("A1+ A2-")
	f.Add("3 left 4 right")
	l := mustLayout(f, pack(4, 2, 8, 1))
	turns := l.Final().Turns
	f.Fuzz(func(t *testing.T, text string) {
		k, err := l.ParseLink(text, turns)
		if err == nil && (k.A == k.B || k.A.Slot < 0 || k.A.Slot > 7 || k.B.Slot < 0 || k.B.Slot > 7) {
			t.Errorf("%q gives %v", text, k)
		}
	})
}
