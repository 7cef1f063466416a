package wiring

import (
	"fmt"
	"math"
	"strings"

	"clampwright/params/number"
	"clampwright/parts/geom"
)

// Problem is one thing wrong with an Input.
type Problem struct {
	Field string // Go path of the field: "Bar.WidthMM"
	Text  string
}

// InputError lists everything wrong with an Input.
type InputError struct{ Problems []Problem }

// Error joins the problems, one per line.
func (e *InputError) Error() string {
	lines := make([]string, len(e.Problems))
	for i, p := range e.Problems {
		lines[i] = p.Field + ": " + p.Text
	}
	return strings.Join(lines, "\n")
}

// Settle returns the Input with every open value filled in, or an *InputError
// that lists all problems.
func (in Input) Settle() (Input, error) {
	in = in.filled()
	var c checker
	c.counts(in)
	c.sizes(in)
	c.electrics(in)
	c.words(in)
	if len(c.problems) > 0 {
		return Input{}, &InputError{Problems: c.problems}
	}
	return in, nil
}

// filled puts the defaults in; values without a standard behind them are common
// practice, no source.
func (in Input) filled() Input {
	orString := func(p *string, v string) {
		if *p == "" {
			*p = v
		}
	}
	orFloat := func(p *float64, v float64) {
		if *p == 0 {
			*p = v
		}
	}
	if in.PlusAt.XMM == in.MinusAt.XMM {
		in.PlusAt.XMM, in.MinusAt.XMM = in.TerminalPitchMM/2, -in.TerminalPitchMM/2
	}
	orFloat(&in.PlusAt.PadMM, in.PadDiaMM)
	orFloat(&in.MinusAt.PadMM, in.PadDiaMM)
	orString(&in.Bar.Material, Copper)
	orFloat(&in.HoleDiaMM, in.StudDiaMM+0.6)
	orFloat(&in.WasherMM, in.StudDiaMM/4)
	orFloat(&in.NutMM, 0.9*in.StudDiaMM)
	orFloat(&in.Bar.CornerRadiusMM, 2)
	orFloat(&in.ContactMicroOhm, 15)
	orFloat(&in.AmbientC, 35)
	orFloat(&in.LimitC, 65)
	orFloat(&in.Growth.RigidMM, 0.3)
	orFloat(&in.SpannerMM, 200)
	orFloat(&in.CellLimitA, in.CapacityAh/2)
	orFloat(&in.ArrivalCharge, in.StorageCharge)
	orFloat(&in.ChargerA, 10)
	orFloat(&in.DischargerA, 10)
	in.Screws = max(in.Screws, 1)
	if in.Bar.MaxLayers == 0 {
		in.Bar.MaxLayers = 4
	}
	in.Screen = in.Screen.filled()
	orFloat(&in.Screen.MostV, min(in.Volts.Full, in.Volts.Storage+restAboveV))
	return in
}

type checker struct{ problems []Problem }

func (c *checker) add(field, format string, args ...any) {
	c.problems = append(c.problems, Problem{field, fmt.Sprintf(format, args...)})
}

// within reports a value that is not a number in low..high.
func (c *checker) within(field string, v, low, high float64) {
	if math.IsNaN(v) || v < low || v > high {
		unit := ""
		for _, u := range fieldUnits {
			if strings.HasSuffix(field, u[0]) || strings.HasPrefix(field, u[0]+".") {
				unit = " " + u[1]
				break
			}
		}
		c.add(field, "is %s%s, must be %s to %s%s", number.Trim(v, 3), unit, number.Trim(low, 3), number.Trim(high, 3), unit)
	}
}

// fieldUnits are the units of fields, by how their names end, or by the block; the first
// that fits.
var fieldUnits = [][2]string{{"MM", "mm"}, {"MilliOhm", "mohm"}, {"MicroOhm", "uohm"}, {"Volts", "V"}, {"Ah", "Ah"}, {"V", "V"}, {"A", "A"}, {"C", "C"}}

func (c *checker) counts(in Input) {
	if in.Rows < 1 || in.Rows > mostRows {
		c.add("Rows", "is %d, must be 1 to %d", in.Rows, mostRows)
	}
	for _, f := range []struct {
		name string
		n    int
	}{{"CellsPerRow", in.CellsPerRow}, {"Series", in.Series}, {"Parallel", in.Parallel}} {
		if f.n < 1 || f.n > mostCells {
			c.add(f.name, "is %d, must be 1 to %d", f.n, mostCells)
		}
	}
	if in.Empty < 0 || in.Empty >= max(1, in.CellsPerRow) {
		c.add("Empty", "is %d, must be 0 to %d", in.Empty, in.CellsPerRow-1)
	}
	c.within("FillerMM", in.FillerMM, 0, 1000)
	if len(c.problems) > 0 {
		return
	}
	if n := in.Cells(); n > mostCells {
		c.add("CellsPerRow", "makes %d cells, at most %d can be planned", n, mostCells)
	} else if in.Series*in.Parallel != n {
		c.add("Series", "%ds%dp needs %d cells, the rows hold %d", in.Series, in.Parallel, in.Series*in.Parallel, n)
	}
	if in.Screws > mostScrews {
		c.add("Screws", "is %d, must be 1 to %d", in.Screws, mostScrews)
	}
	if in.Bar.MaxLayers < 1 || in.Bar.MaxLayers > mostLayers {
		c.add("Bar.MaxLayers", "is %d, must be 1 to %d", in.Bar.MaxLayers, mostLayers)
	}
}

func (c *checker) sizes(in Input) {
	c.within("PitchMM", in.PitchMM, 1, 1000)
	c.within("CellWidthMM", in.CellWidthMM, 1, 2000)
	c.within("RowGapMM", in.RowGapMM, 0, 2000)
	c.within("StudDiaMM", in.StudDiaMM, 1, 50)
	c.within("StudHeightMM", in.StudHeightMM, 0, 200)
	c.within("ThreadDepthMM", in.ThreadDepthMM, 0, 200)
	c.within("WasherMM", in.WasherMM, 0.1, 20)
	c.within("NutMM", in.NutMM, 0.1, 60)
	c.within("ScrewStep.X", in.ScrewStep.X, 0, 200)
	c.within("ScrewStep.Y", in.ScrewStep.Y, 0, 200)
	c.within("HoleDiaMM", in.HoleDiaMM, in.StudDiaMM, 60)
	for _, t := range []struct {
		name string
		at   TerminalAt
	}{{"PlusAt", in.PlusAt}, {"MinusAt", in.MinusAt}} {
		c.within(t.name+".XMM", t.at.XMM, -in.CellWidthMM/2, in.CellWidthMM/2)
		c.within(t.name+".ZMM", t.at.ZMM, -in.PitchMM/2, in.PitchMM/2)
		c.within(t.name+".HeightMM", t.at.HeightMM, 0, 200)
		c.within(t.name+".PadMM", t.at.PadMM, 1, 200)
	}
	if need := max(in.PlusAt.PadMM+2*math.Abs(in.PlusAt.ZMM), in.MinusAt.PadMM+2*math.Abs(in.MinusAt.ZMM)) + in.screwsLong().Y; need >= in.PitchMM {
		c.add("PadDiaMM", "pads of neighbouring cells touch: with what they are off the middle they take %s, the cells' pitch is %s", mm(need), mm(in.PitchMM))
	}
	wide, apart := (in.PlusAt.PadMM+in.MinusAt.PadMM)/2, in.screwsApart(geom.Vec2{X: in.PlusAt.XMM, Y: in.PlusAt.ZMM}, geom.Vec2{X: in.MinusAt.XMM, Y: in.MinusAt.ZMM})
	if wide >= apart {
		c.add("PadDiaMM", "the two pads of a cell touch: they are %s wide and their middles %s apart", mm(wide), mm(apart))
	}
	c.within("PlusAt.XMM", in.PlusAt.XMM, in.MinusAt.XMM+0.5, in.CellWidthMM/2)
	c.within("Bar.WidthMM", in.Bar.WidthMM, 1, 500)
	c.within("Bar.ThicknessMM", in.Bar.ThicknessMM, 0.1, 50)
	c.within("Bar.CornerRadiusMM", in.Bar.CornerRadiusMM, 0, in.Bar.WidthMM/2)
	c.within("Bar.EndMM", in.Bar.EndMM, 0, 500)
	holes := in.HoleDiaMM + in.screwsLong().X
	if in.Rows > 1 { // links go across the lids too
		holes = max(holes, in.HoleDiaMM+in.screwsLong().Y)
	}
	if !in.Welded && holes >= in.Bar.WidthMM {
		c.add("Bar.WidthMM", "hole %.4g mm does not fit a bar %.4g mm wide, which has to be wider than it", holes, in.Bar.WidthMM)
	}
	c.growth(in)
	c.within("SpannerMM", in.SpannerMM, 0, 5000)
}

func (c *checker) growth(in Input) {
	g := in.Growth
	c.within("Growth.PerCellMM", g.PerCellMM, 0, in.PitchMM)
	c.within("Growth.PitchTolMM", g.PitchTolMM, 0, in.PitchMM/2)
	c.within("Growth.RowTolMM", g.RowTolMM, 0, in.CellWidthMM/2)
	c.within("Growth.HoleTolMM", g.HoleTolMM, 0, 10)
	c.within("Growth.RigidMM", g.RigidMM, 0, 10)
}

func (c *checker) electrics(in Input) {
	v := in.Volts
	for _, f := range []struct {
		name string
		v    float64
	}{{"Volts.Least", v.Least}, {"Volts.Nominal", v.Nominal}, {"Volts.Storage", v.Storage}, {"Volts.Full", v.Full}} {
		c.within(f.name, f.v, 0.5, 5)
	}
	if !(v.Least < v.Full && v.Least <= v.Nominal && v.Nominal <= v.Full && v.Least <= v.Storage && v.Storage <= v.Full) {
		c.add("Volts", "must rise: least %.4g, nominal %.4g and storage %.4g, full %.4g", v.Least, v.Nominal, v.Storage, v.Full)
	}
	c.within("StorageCharge", in.StorageCharge, 0.05, 0.8)
	c.within("ArrivalCharge", in.ArrivalCharge, 0, 1)
	c.within("CapacityAh", in.CapacityAh, 0.1, 10000)
	c.within("CellMilliOhm", in.CellMilliOhm, 0.001, 1000)
	c.within("RatedA", in.RatedA, 0.01, 10000)
	c.within("CellLimitA", in.CellLimitA, 0.01, 10000)
	c.within("ChargerA", in.ChargerA, 0.01, 10000)
	c.within("BoardA", in.BoardA, 0, 10000)
	c.within("DischargerA", in.DischargerA, 0.01, 10000)
	c.within("ContactMicroOhm", in.ContactMicroOhm, 0.1, 10000)
	c.within("AmbientC", in.AmbientC, -40, in.LimitC-1)
	c.within("LimitC", in.LimitC, -39, 150)
}

func (c *checker) words(in Input) {
	if in.FirstPlus != nil && *in.FirstPlus != Left && *in.FirstPlus != Right {
		c.add("FirstPlus", "is %d, must be left or right", *in.FirstPlus)
	}
	if _, ok := conductors[in.Bar.Material]; !ok {
		c.add("Bar.Material", "is %q, must be %q or %q", in.Bar.Material, Copper, Aluminium)
	}
	switch in.Forced {
	case "", Turn, Cross, Single, InSeries:
	default:
		c.add("Forced", "is %q, must be %q, %q, %q or %q", in.Forced, Turn, Cross, Single, InSeries)
	}
	c.problems = append(c.problems, in.Screen.problems()...)
}
