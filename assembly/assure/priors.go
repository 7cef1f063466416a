package assure

import (
	"math"
	"strconv"
)

// Range is what is assumed of a number: 90 of 100 lie between Low and High, evenly
// about the middle of their logarithms where Log is set, else of themselves.
type Range struct {
	Name, Unit string
	Low, High  float64
	Log        bool
	Source     string
	Key        string // of a cell's parameter, where readings of packs can tell it
}

// assumed is the source of what nobody publishes.
const assumed = "assumed, unverified"

// The ranges. All but the springs' are assumed.
var (
	CellModulus = Range{"cell modulus at 84 kPa", "MPa", 13, 59, true, assumed, "modulus"}
	ModulusRise = Range{"rise of the modulus with pressure, exponent", "", 0.2, 0.6, false, assumed, "rise"}
	GrowthStiff = Range{"stiffness against growth over that in a press", "", 0.6, 1, false, assumed, "growth_stiffness"}
	FreeGrowth  = Range{"free growth empty to full, of the thickness", "", 0.0033, 0.0134, true, assumed, "growth"}
	HeldGrowth  = Range{"growth at clamp force over free growth", "", 0.6, 0.95, false, assumed, "held_growth"}
	FreeAgeing  = Range{"free lasting growth at end of life, of the thickness", "", 0.01, 0.05, true, assumed, "ageing"}
	HeldAgeing  = Range{"lasting growth when held over free", "", 0.35, 0.8, false, assumed, "held_ageing"}
	UsedIn10    = Range{"part of it used in 10 years", "", 0.4, 1.1, false, assumed, "used"}
	TimePower   = Range{"lasting growth with time, exponent", "", 0.5, 1, false, assumed, "time_power"}
	Evenness    = Range{"mean growth over the face to that in the middle", "", 0.5, 1, false, assumed, "evenness"}
	Expansion   = Range{"expansion of a cell", "1/K", 15e-6, 80e-6, true, assumed, "expansion"}
	PlateSpread = Range{"modulus of the plates over the table's", "", 0.8, 1.2, false, assumed, ""}
	CreepSpread = Range{"creep over the table's", "", 0.7, 1.3, false, assumed, ""}
	PadPressure = Range{"pressure of a pad over its curve", "", 0.8, 1.25, true, assumed, ""}
	PadCreep    = Range{"creep of a pad over the table's", "", 0.7, 1.3, false, assumed, ""}
	Settling    = Range{"settling over the usual", "", 0.5, 1.5, false, assumed, ""}
)

// Ranges are all of them, for the page and the tables.
func Ranges() []Range {
	return []Range{CellModulus, ModulusRise, GrowthStiff, FreeGrowth, HeldGrowth, FreeAgeing, HeldAgeing, UsedIn10, TimePower, Evenness, Expansion, PlateSpread, CreepSpread, Settling, PadPressure, PadCreep}
}

// Table is the fixture's ranges and the errors of setting as rows of words, for a person.
func (f *Fixture) Table() (head []string, rows [][]string, err error) {
	figure := func(v float64) string {
		short, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64)
		return strconv.FormatFloat(short, 'f', -1, 64)
	}
	cells := f.OfCell()
	for i, r := range Ranges() {
		if i < OfCells && cells[i] != r {
			r = cells[i]
			r.Source = "about what the file gives, as wide as assumed, unverified"
		}
		rows = append(rows, []string{r.Name, figure(r.Low), figure(r.High), r.Unit, r.Source})
	}
	for _, e := range []struct {
		name  string
		sigma float64
		unit  string
	}{{"force set by torque, greased nuts", TorqueError, ""}, {"spring height", HeightErrorMM, "mm"}, {"force set by torque, friction found on the joint", FoundError, ""}, {"force of a spring on a scale", WeighError, ""}, {"force called snug, logarithm", SnugError, ""}, {"seating after snug", SeatingMM, "mm"}, {"distance of the plates at one rod, read twice", ReadErrorMM, "mm"}} {
		rows = append(rows, []string{e.name, figure(-e.sigma), figure(e.sigma), e.unit, "plus or minus, two of three lie between; " + assumed})
	}
	return []string{"what", "from", "to", "unit", "source"}, rows, nil
}

// Errors of setting, one sigma.
const (
	modulusAtMPa  = 0.084 // pressure at which CellModulus is meant
	TorqueError   = 0.16  // torque wrench on greased nuts (VDI 2230 quotes 17 to 28 % in all, two sigma and more)
	FoundError    = 0.12  // the same with the friction found on the joint
	HeightErrorMM = 0.06  // of a spring's height
	WeighError    = 0.02  // of the force that springs show on a scale at their height, all of them alike
	SpringCommon  = 0.7   // part of the springs' variance that a lot shares
	SnugError     = 0.4   // of the logarithm of the force called snug
	SeatingMM     = 0.1   // taken up by seating after snug
	ReadErrorMM   = 0.085 // of how much closer the plates came at one rod: a calliper good for 0.1 mm, read twice
	CoilForce     = 0.06  // of a coil spring's force at its height: a rate within 10 %
	ByCycles      = 0.5   // part of the lasting growth that goes with cycles, the rest with years
	UsualSettleMM = 0.05  // of rods, seats and plates in the first year
)

// EndSigmas is how many sigmas the upper end of a range lies from its middle.
const EndSigmas = z95

// z95 is how many sigmas the upper end of a range lies from its middle.
const z95 = 1.6448536269514722

// at is the value z sigmas from the middle.
func (r Range) at(z float64) float64 {
	if r.Log {
		m, s := (math.Log(r.Low)+math.Log(r.High))/2, math.Log(r.High/r.Low)/2/z95
		return math.Exp(m + s*z)
	}
	return (r.Low+r.High)/2 + (r.High-r.Low)/2/z95*z
}

// Between are the ends of the range whose middle lies so many sigmas from this one's, and
// which is so many times as wide, and its middle.
func (r Range) Between(z, wide float64) (low, middle, high float64) {
	return r.at(z - wide*z95), r.at(z), r.at(z + wide*z95)
}

// Sigmas is how many sigmas a value lies from the middle.
func (r Range) Sigmas(v float64) float64 {
	if !r.Log {
		return 2 * z95 * (v - (r.Low+r.High)/2) / (r.High - r.Low)
	}
	return 2 * z95 * math.Log(v/math.Sqrt(r.Low*r.High)) / math.Log(r.High/r.Low)
}

// Middle is the value in the middle.
func (r Range) Middle() float64 { return r.at(0) }

// draw is one batch of cells in one fixture, set once.
type draw struct {
	modulus, rise, growthStiff, growth, atForce, ageing, held, used, slow, even, cte float64
	bendMod, creep, settle, padForce, padCreep                                       float64
	lot, each, hand, rub, seat, weighed                                              float64 // sigmas
	read, snug                                                                       float64 // the same, of the reading of the plates' distance and of the force called snug at it
}

// LogSigma is one sigma of the logarithm.
func (r Range) LogSigma() float64 {
	if r.Log {
		return math.Log(r.High/r.Low) / 2 / z95
	}
	return (r.High - r.Low) / (r.High + r.Low) / z95
}

// Width is how wide a range is beside this one.
func (r Range) Width(low, high float64) float64 { return (r.Sigmas(high) - r.Sigmas(low)) / 2 / z95 }

// OfCell are the ranges of what is not known of cells, in the order of the sigmas of a
// draw, the modulus as the file has it.
func (f *Fixture) OfCell() []Range {
	out := Ranges()[:OfCells]
	for i, r := range out {
		out[i] = f.of(r)
	}
	out[0] = f.cells()
	return out
}

// evenLeast and evenMost are the range of Evenness where the cells' growth is given as flat.
const evenLeast, evenMost = 0.95, 1

// of is a range of the cells' about what the file gives, as wide as before beside it.
func (f *Fixture) of(r Range) Range {
	if k := f.Sheet[r.Key]; k > 0 {
		r.Low, r.High = k*r.Low, k*r.High
	}
	if r.Key == Evenness.Key && f.Flat {
		r.Low, r.High = evenLeast, evenMost
	}
	return r
}

// cells is the range of the cells' modulus.
func (f *Fixture) cells() Range {
	out := f.of(CellModulus)
	mid := out.at(0)
	if k := f.Stiffness[0]; k > 0 {
		out.Low = k * mid
	}
	if k := f.Stiffness[1]; k > 0 {
		out.High = k * mid
	}
	return out
}

// Latents is how many sigmas a draw is made of: two more where there are pads.
func (f *Fixture) Latents() int {
	if len(f.Crept) > 0 {
		return latents + 2
	}
	return latents
}

// OfCells is how many of them, the first, are the cells', OfSet where those of one setting
// begin, OfLot what a lot of springs is off by, OfWeighed springs on a scale, all alike.
const latents, OfCells, OfLot, OfSet, OfWeighed = 22, 11, 14, 16, 19

// Where some of them stand; OfGrowth are those of the growth from empty to full, OfAgeing of
// that which lasts after ten years.
const ofAtForce, ofHeld, ofSeat = 4, 6, 18

var OfGrowth, OfAgeing = []int{3, ofAtForce}, []int{5, ofHeld, 7}

// draw makes one of sigmas.
func (f *Fixture) draw(z func() float64) draw {
	clip := func(r Range, lo, hi float64) float64 { return math.Min(math.Max(r.at(z()), lo), hi) }
	d := draw{
		modulus: f.cells().at(z()), rise: clip(ModulusRise, 0, 0.9), growthStiff: clip(GrowthStiff, 0.3, 1.2),
		growth: f.of(FreeGrowth).at(z()), atForce: clip(HeldGrowth, 0.2, 1), ageing: f.of(FreeAgeing).at(z()), held: clip(HeldAgeing, 0.05, 1),
		used: clip(UsedIn10, 0.1, 1.5), slow: clip(TimePower, 0.3, 1.2), even: clip(f.of(Evenness), 0.4, 1), cte: f.of(Expansion).at(z()),
		bendMod: clip(PlateSpread, 0.5, 1.5), creep: clip(CreepSpread, 0, 2), settle: clip(Settling, 0, 2.5),
		lot: z(), each: z(), hand: z(), rub: z(), seat: z(), weighed: z(), read: z(), snug: z(),
	}
	if len(f.Crept) > 0 {
		d.padForce, d.padCreep = PadPressure.at(z()), clip(PadCreep, 0, 2)
	}
	return d
}
