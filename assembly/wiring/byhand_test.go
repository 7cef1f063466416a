package wiring

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
)

// Every limit of the input on both sides: at the bound it is taken, beside it refused by
// name. Bounds that hang on other sizes are those of the pack by hand.
func TestInputLimits(t *testing.T) {
	both := func(low, high float64) [2]float64 { return [2]float64{low, high} }
	for path, c := range map[string][2]float64{
		"FillerMM": both(0, 1000), "RowGapMM": both(0, 2000), "StudHeightMM": both(0, 200), "ThreadDepthMM": both(0, 200),
		"WasherMM": both(0.1, 20), "NutMM": both(0.1, 60), "Bar.EndMM": both(0, 500), "Bar.ThicknessMM": both(0.1, 50), "Bar.CornerRadiusMM": both(0, 10),
		"Growth.PerCellMM": both(0, 73), "Growth.PitchTolMM": both(0, 36.5), "Growth.RowTolMM": both(0, 87), "Growth.HoleTolMM": both(0, 10), "Growth.RigidMM": both(0, 10),
		"SpannerMM": both(0, 5000), "StorageCharge": both(0.05, 0.8), "ArrivalCharge": both(0, 1), "CapacityAh": both(0.1, 10000), "CellMilliOhm": both(0.001, 1000),
		"RatedA": both(0.01, 10000), "CellLimitA": both(0.01, 10000), "ChargerA": both(0.01, 10000), "BoardA": both(0, 10000), "DischargerA": both(0.01, 10000),
		"ContactMicroOhm": both(0.1, 10000), "AmbientC": both(-40, 119), "LimitC": both(-39, 150),
		"Screen.BulgeMM": both(0.01, 100), "Screen.LeastAh": both(0, 10000), "Screen.MostMilliOhm": both(0, 10000), "Screen.MostV": both(0, 5),
		"Screen.CapacityFraction": both(0.1, 1), "Screen.ResistanceFactor": both(1, 10), "Screen.LeastV": both(0.1, 5), "Screen.SpreadV": both(0.001, 2),
	} {
		for i, out := range [2]float64{-1, 1} {
			step := out * max(1e-3*math.Abs(c[i]), 1e-6)
			for _, by := range []float64{0, step} {
				in := pack(4, 2, 8, 1)
				in.CellLimitA, in.AmbientC, in.LimitC = 140, map[bool]float64{true: -40, false: 35}[path == "LimitC"], map[bool]float64{true: 120, false: 65}[path == "AmbientC"]
				floats(reflect.ValueOf(&in).Elem(), "", func(p string, f reflect.Value) {
					if p == path {
						f.SetFloat(c[i] + by)
					}
				})
				_, err := in.Settle()
				named := err != nil && strings.Contains(err.Error(), path+": is ")
				if named != (by != 0) {
					t.Errorf("%s = %v: %v", path, c[i]+by, err)
				}
			}
		}
	}
}

// Counts and sizes that must go together, on both sides.
func TestInputGoesTogether(t *testing.T) {
	for _, c := range []struct {
		name string
		set  func(*Input)
		want string
	}{
		{"as it is", func(*Input) {}, ""},
		{"no row", func(in *Input) { in.Rows = -1 }, "Rows: is -1, must be 1 to 8"},
		{"nine rows", func(in *Input) { in.Rows, in.Series = 9, 36 }, "Rows: is 9"},
		{"eight rows", func(in *Input) { in.Rows, in.Series = 8, 32 }, ""},
		{"257 in a row", func(in *Input) { in.CellsPerRow = 257 }, "CellsPerRow: is 257, must be 1 to 256"},
		{"too many in all", func(in *Input) { in.CellsPerRow, in.Rows, in.Series = 129, 2, 256 }, "CellsPerRow: makes 258 cells, at most 256"},
		{"as many as can be", func(in *Input) { in.CellsPerRow, in.Rows, in.Series = 128, 2, 256 }, ""},
		{"does not divide", func(in *Input) { in.Series = 7 }, "Series: 7s1p needs 7 cells, the rows hold 8"},
		{"one place empty", func(in *Input) { in.Empty, in.FillerMM, in.Series = 1, 54, 7 }, ""},
		{"a row empty", func(in *Input) { in.Empty, in.FillerMM, in.Series = 4, 54, 4 }, "Empty: is 4, must be 0 to 3"},
		{"eight layers", func(in *Input) { in.Bar.MaxLayers = 8 }, ""},
		{"nine layers", func(in *Input) { in.Bar.MaxLayers = 9 }, "Bar.MaxLayers: is 9, must be 1 to 8"},
		{"pads of a cell apart", func(in *Input) { in.TerminalPitchMM = 22.1 }, ""},
		{"pads of a cell touch", func(in *Input) { in.TerminalPitchMM = 22 }, "the two pads of a cell touch"},
		{"neighbours' pads apart", func(in *Input) { in.PitchMM, in.Growth = 22.1, Growth{} }, ""},
		{"neighbours' pads touch", func(in *Input) { in.PitchMM, in.Growth = 22, Growth{} }, "pads of neighbouring cells touch"},
		{"hole fits", func(in *Input) { in.Bar.WidthMM, in.Bar.CornerRadiusMM = 6.7, 1 }, ""},
		{"hole as wide as the bar", func(in *Input) { in.Bar.WidthMM, in.Bar.CornerRadiusMM = 6.6, 1 }, "hole 6.6 mm does not fit a bar 6.6 mm wide"},
		{"least at nominal", func(in *Input) { in.Volts.Least = 3.2 }, ""},
		{"least over nominal", func(in *Input) { in.Volts.Least = 3.21 }, "Volts: must rise"},
		{"storage over full", func(in *Input) { in.Volts.Storage = 3.66 }, "Volts: must rise"},
		{"another side", func(in *Input) { side := Side(2); in.FirstPlus = &side }, "FirstPlus: is 2"},
		{"aluminium", func(in *Input) { in.Bar.Material = Aluminium }, ""},
		{"another plan", func(in *Input) { in.Forced = "no" }, "Forced: is \"no\""},
	} {
		in := pack(4, 2, 8, 1)
		c.set(&in)
		_, err := in.Settle()
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
		if c.want != "" && strings.Contains(err.Error(), "\n") { // none that follows from another
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// What is left open, by hand for a stud of 6 mm and cells of 280 Ah.
func TestOpenValues(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.WasherMM, in.NutMM, in.CellLimitA, in.ChargerA, in.DischargerA = 0, 0, 0, 0, 0
	got, err := in.Settle()
	if err != nil {
		t.Fatal(err)
	}
	for name, v := range map[string][2]float64{
		"plus": {got.PlusAt.XMM, 61}, "minus": {got.MinusAt.XMM, -61}, "hole": {got.HoleDiaMM, 6.6}, "washer": {got.WasherMM, 1.5}, "nut": {got.NutMM, 5.4},
		"corner": {got.Bar.CornerRadiusMM, 2}, "joint": {got.ContactMicroOhm, 15}, "air": {got.AmbientC, 35}, "limit": {got.LimitC, 65}, "rigid": {got.Growth.RigidMM, 0.3},
		"spanner": {got.SpannerMM, 200}, "cell": {got.CellLimitA, 140}, "arrival": {got.ArrivalCharge, 0.4}, "charger": {got.ChargerA, 10}, "load": {got.DischargerA, 10},
		"layers": {float64(got.Bar.MaxLayers), 4}, "bulge": {got.Screen.BulgeMM, 2}, "arrived at": {got.Screen.MostV, 3.34}, "spread": {got.Screen.SpreadV, 0.05},
	} {
		near(t, name, v[0], v[1], 1e-9)
	}
}

// Cells by their names, in one row and in two.
func TestCellsByName(t *testing.T) {
	for _, c := range []struct {
		rows int
		name string
		slot int
		ok   bool
	}{
		{1, "1", 0, true}, {1, "4", 3, true}, {1, "5", 0, false}, {1, "0", 0, false}, {1, "+1", 0, false}, {1, "", 0, false}, {1, "A1", 0, false},
		{2, "A1", 0, true}, {2, "a4", 3, true}, {2, "B1", 4, true}, {2, "b4", 7, true}, {2, "B5", 0, false}, {2, "A0", 0, false}, {2, "A", 0, false},
		{2, "C1", 0, false}, {2, "@1", 0, false}, {2, "1", 0, false}, {2, "", 0, false}, {2, "A+1", 0, false},
	} {
		l := mustLayout(t, pack(4, c.rows, 4*c.rows, 1))
		if c.name != "" || c.rows > 1 {
			if slot, ok := slotNamed(l, c.name); slot != c.slot || ok != c.ok {
				t.Errorf("%q of %d rows: %d, %v", c.name, c.rows, slot, ok)
			}
		}
		if c.ok && l.CellName(c.slot) != strings.ToUpper(c.name) {
			t.Errorf("%q is called %s", c.name, l.CellName(c.slot))
		}
	}
	in := pack(3, 2, 5, 1)
	in.Empty, in.FillerMM = 1, 72
	if _, ok := slotNamed(mustLayout(t, in), "B3"); ok {
		t.Error("a filler is a cell")
	}
	l := mustLayout(t, pack(4, 1, 4, 1))
	for text, want := range map[string]string{"1+": "want two terminals, such as \"1+ 4-\"", "9+ 1-": "no cell \"9\"", "1+ 2*": "want two terminals", "1 up 2 down": "\"up\" is neither", "1+ 1 plus": "the same terminal", strings.Repeat("1", 101): "at most 100"} {
		_, err := l.ParseLink(text, l.Final().Turns)
		var e *LinkError
		if !errors.As(err, &e) || !strings.Contains(e.Error(), want) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// Every fault of a state by its words, with the cells that it names.
func TestFaultsInWords(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*State)
		want  []string
		cells []int
	}{
		{"as meant", func(*State) {}, nil, nil},
		{"one turned", func(s *State) { s.Turns[1] = s.Turns[1].Other() }, []string{"cell 2 stands the wrong way round: its plus is on the right and must be on the left"}, []int{1}},
		{"one link over a cell", func(s *State) {
			s.Links = append(s.Links, Link{ID: "X", A: s.Turns.At(0, Minus), B: s.Turns.At(3, Plus)})
		},
			[]string{"link X (1- to 4+) is wrong: cell 1 minus (left) belongs to the pack minus, cell 4 plus (left) to the pack plus"}, []int{0, 3}},
		{"one link within", func(s *State) { s.Links = append(s.Links, Link{A: s.Turns.At(1, Minus), B: s.Turns.At(1, Plus)}) },
			[]string{"link 2- to 2+ is wrong: cell 2 minus (right) belongs to the joint of places 1 and 2, cell 2 plus (left) to the joint of places 2 and 3"}, []int{1, 1}},
		{"one left out", func(s *State) { s.Links = s.Links[1:] }, []string{"cell 2 minus (right) is not joined to cell 1 plus (right): both belong to the joint of places 1 and 2"}, []int{1, 0}},
		{"mains", func(s *State) { s.Mains.Plus = s.Turns.At(2, Plus) }, []string{"the plus take-off is at cell 3 plus (right), which belongs to the joint of places 3 and 4"}, []int{2}},
		{"mains exchanged", func(s *State) { s.Mains.Minus, s.Mains.Plus = s.Mains.Plus, s.Mains.Minus },
			[]string{"the minus take-off is at cell 4 plus (left), which belongs to the pack plus", "the plus take-off is at cell 1 minus (left), which belongs to the pack minus"}, []int{3, 0}},
		{"a cell takes no part", func(s *State) {
			s.Places = s.Places[:3]
			s.Mains.Plus = s.Turns.At(2, Plus)
		}, []string{"cell 4 minus (right) to no link in this state"}, []int{2, 3}},
	} {
		l, s := finalOf(t, pack(4, 1, 4, 1))
		s = s.clone()
		c.spoil(&s)
		p := l.Prove(s)
		if p.Holds() != (c.want == nil) {
			t.Errorf("%s: %v", c.name, p.Faults)
		}
		var texts []string
		var cells []int
		for _, f := range p.Faults {
			if texts = append(texts, f.Text); len(cells) < len(c.cells) {
				cells = append(cells, f.Cells...)
			}
		}
		for _, want := range c.want {
			if !strings.Contains(strings.Join(texts, "\n"), want) {
				t.Errorf("%s: %q, want %q", c.name, texts, want)
			}
		}
		if c.want != nil && fmt.Sprint(cells) != fmt.Sprint(c.cells) {
			t.Errorf("%s: cells %v, want %v", c.name, cells, c.cells)
		}
	}
}

// Figures of two links by hand: 73 mm of a bar of 20 x 2 mm in layers, and a cable of 16 mm2.
func TestLinksByHand(t *testing.T) {
	l := mustLayout(t, pack(4, 1, 4, 1))
	turns := Turns{Right, Right, Right, Right}
	bar := Link{A: Post{0, Right}, B: Post{1, Right}, Layers: 2}
	near(t, "two bars, microohm", 1e6*l.LinkOhm(bar, turns), 1.7241e-8*0.073/80e-6*1e6+30, 1e-9)
	near(t, "carries", continuousA(l, bar), conductors[Copper].BarAmps(20, 4, 35, 65), 1e-9)
	cable := Link{A: Post{0, Right}, B: Post{1, Right}, Cable: true, CableMM2: 16}
	near(t, "cable, microohm", 1e6*l.LinkOhm(cable, turns), 1.7241e-8*1.3*0.073/16e-6*1e6+30, 1e-9)
	near(t, "cable carries", continuousA(l, cable), 64, 1e-9)
	f := linkFigures(l, cable, turns, -40)
	near(t, "amps", f.Amps, 40, 0)
	hot := linkOhmAt(l, cable, turns, f.Celsius)
	near(t, "millivolts", f.MilliV, 40*hot*1000, 1e-9)
	near(t, "watts", f.Watts, 1600*hot, 1e-9)
	near(t, "as hot as a square bar", f.Celsius, conductors[Copper].BarCelsius(4, 4, 35, 40), 1e-9)
	if k := linkFigures(l, bar, turns, 40); k.TableAmps != 162 || f.TableAmps != 0 {
		t.Errorf("by the table %v and %v", k.TableAmps, f.TableAmps)
	}
	for _, c := range [][2]float64{{0, 10}, {40, 10}, {40.1, 16}, {64, 16}, {64.1, 25}, {960, 240}, {5000, 240}} {
		near(t, "section", cableFor(c[0]), c[1], 0)
	}
	near(t, "flat of a lug", lugWideMM(16, 6), 12.6, 1e-9)
	for _, c := range [][2]float64{{6, 1.6}, {12, 3}, {3, 0.75}} {
		near(t, "lock washer", lockMM(c[0]), c[1], 1e-9)
	}
	near(t, "of a thick cable", lugWideMM(100, 6), 30, 1e-9)
}

// Burns by hand: an opening stands for two burns, a turned cell for half of one, each in
// three of ten thousand; a tool between 3.65 V that drives 10 kA, two caps forgotten.
func TestBurnsByHand(t *testing.T) {
	p := Plan{Openings: 2, Turned: 3, Hours: 50, States: []State{{ID: "a"}},
		Exposures: []Exposure{{State: "a", Volts: 3.65, Amps: 10000}, {State: "a", Volts: 3, Amps: 10}, {State: "b", Volts: 50, Amps: 10000}},
		Steps:     []Step{{Action: Fit, State: "a", Links: make([]Link, 5)}, {Action: Remove, State: "a", Links: make([]Link, 2)}, {Action: Sense, State: "a", Lugs: make([]Joint, 4)}}}
	h := Harm{Stopped: map[StoppedBy]int{}}
	l := mustLayout(t, pack(4, 1, 4, 1))
	h.tool(l, p)
	near(t, "tools", h.ToolBurns, 1000*0.003*0.01*18*(3.65*3.65/(3.65/10000+0.0005)/1000)/10, 1e-9)
	h, p.Steps = Harm{}, []Step{{Action: TopUp, Alone: true, Lugs: make([]Joint, 8)}, {Action: Discharge, Alone: true, Lugs: make([]Joint, 8)}, {Action: Discharge, Lugs: make([]Joint, 2)}}
	h.tool(l, p) // on and off at 3.65 V behind 0.25 milliohm, twice at both ends of four cells
	near(t, "lugs on single cells", h.ToolBurns, 1000*0.003*0.01*32*(3.65*3.65/(0.00025+0.0005)/1000)/10, 1e-9)
	p.Steps = nil
	g := harmOf(l, p)
	near(t, "openings", g.OpenBurns, 1.2, 1e-9)
	near(t, "cells", g.CellBurns, 0.45, 1e-9)
	near(t, "hours", g.HourBurns, 0.5, 1e-9)
	near(t, "all", g.Burns(), 2.15, 1e-9)
	all := []Slip{{Kind: LeftOut, By: Later, Step: 1}, {Kind: WrongLoose, By: Unseen, Step: 1, ShortV: 2, ShortA: 5000}, {Kind: WrongLoose, By: ByReading, Step: 1}, {Kind: WrongFirst, By: Alike, Step: 1}}
	h = Harm{Stopped: map[StoppedBy]int{}}
	h.slip(all)
	near(t, "of two ends one unseen", h.LinkBurns, 1000*0.003*10/2/10, 1e-9)
	if h.Links != 1 || h.Shorts != 1 || h.Slips != 3 || h.Stopped[Later] != 1 || h.Stopped[Alike] != 0 || h.WorstKJ != 10 {
		t.Errorf("%+v", h)
	}
	if text := h.Text(); text != "3 slips of the hand were tried. The reading before a link stops 1. 2 change no voltage, and no current flows. What lies on the terminals before a link shows 0 of them. A later reading, of every full cell or over every joint, shows 1; 1 stay unseen. Without readings, 1 of 1 link could short, with up to 10 kJ in a second" {
		t.Error(text)
	}
}

// What is balanced by hand: twelve cells of 280 Ah at 30 A, from three tenths up and down
// to four; and a stray through a resistor that keeps 1.15 V to what the charger gives.
func TestBalanceByHand(t *testing.T) {
	in := pack(12, 1, 12, 1)
	in.ArrivalCharge, in.ChargerA, in.DischargerA = 0.3, 30, 60
	_, p := planOf(t, in, Cross)
	for _, s := range p.Steps {
		switch {
		case s.Action == Charge:
			near(t, "up", s.Hours, 12*280*0.7/30, 1e-9)
			for _, want := range []string{"3.65 V and 30 A", "fallen to 3 A", "A stronger charger"} {
				if !strings.Contains(s.Text, want) {
					t.Errorf("no %q in %q", want, s.Text)
				}
			}
		case s.Action == Discharge:
			near(t, "down", s.Hours, 12*280*0.6/60, 1e-9)
			for _, want := range []string{"12 cells together at 60 A", "2016 Ah: 40 % charge", "below 3.09 V", "A stronger load"} {
				if !strings.Contains(s.Text, want) {
					t.Errorf("no %q in %q", want, s.Text)
				}
			}
		case s.Action == Match:
			if !strings.Contains(s.Text, "0.04 ohm, 35 W") || !strings.Contains(s.Text, "30 A or less") {
				t.Error(s.Text)
			}
		}
	}
	for hours, long := range map[float64]bool{24: false, 24.1: true} {
		if got := longText(hours, "load") != ""; got != long {
			t.Errorf("%v hours are long: %v", hours, got)
		}
	}
}

// Quantities in words, on both sides of where their words change.
func TestQuantitiesInWords(t *testing.T) {
	for got, want := range map[string]string{amps(999.9): "999.9 A", amps(1000): "1 kA", amps(-1500): "-1.5 kA", volts(3.654): "3.65 V", mm(1.24): "1.2 mm", percent(0.305): "31 %",
		count(1, "link"): "1 link", count(2, "link"): "2 links", millivolts(0.0104): "10",
		VoltBand{}.String(): "about 0 V", VoltBand{3.2, 3.35}.String(): "3.2 to 3.35 V"} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
