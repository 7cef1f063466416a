// Package assure asks what part of such fixtures stays within its bands over its
// life, when the cells, the setting and the ageing are only known within ranges.
//
// # Model
//
// All rods together carry F and every cell is pressed with p = F/A. Of one stack, its
// plates and its ties
//
//	s(F/n) + S(p) + L(p) + F (b0 + b1/e) = U
//
// s is the stretch of a tie with its springs under its share of the force, S the
// squeeze of the cells, L that of liners and pads, b0 + b1/e the bending of angles and
// of plates whose modulus is e times the new one's; U is what the nuts were turned in
// from where everything just touches. A cell's modulus at p is M (p/p0)^x, so that
//
//	S = N t p0^x p^(1-x) / (M (1-x))
//
// and growth meets a cell that is k times as stiff as one being squeezed. Growth with
// charge and age, temperature and settling then move U, and F follows. The left side
// rises with F, so there is one F.
//
// One draw is a batch: its cells share all that is not known of them. Ageing belongs
// to years, and creep to the same years. A path is inside when the force is within the
// setting band as set and within the service band in every later state. Worst-of-each
// combinations are not paths.
//
// Lengths mm, forces N, pressures MPa, temperatures °C, times years.
package assure

import (
	"math"
	"math/rand/v2"
	"sort"
	"sync"

	"clampwright/params/number"
)

// Band is a least and a greatest force of all ties together, N.
type Band struct{ Least, Most float64 }

func (b Band) has(f float64) bool { return f >= b.Least && f <= b.Most }

// Curve is rising points: X of Y, both from 0, straight between them and on beyond
// the last.
type Curve struct{ Y, X []float64 }

// At is X at y.
func (c Curve) At(y float64) float64 {
	n := len(c.Y)
	if n < 2 {
		return 0
	}
	i := min(max(sort.SearchFloat64s(c.Y, y), 1), n-1)
	return c.X[i-1] + (y-c.Y[i-1])*(c.X[i]-c.X[i-1])/(c.Y[i]-c.Y[i-1])
}

// Method is how the force is set.
type Method string

// The methods: turns of the nut past snug, torque on greased plain nuts, height of
// the springs.
const (
	Turns  Method = "turns"
	Torque Method = "torque"
	Height Method = "height"
)

// Fixture is one clamp reduced to numbers.
type Fixture struct {
	Cells       int     // of one row
	ThicknessMM float64 // of one cell
	FaceMM2     float64 // pressed by one plate, all rows
	Ties        int
	Stretch     Curve   // mm of one tie with its springs at N
	OutgrownMM  float64 // by which all but the cells lengthens beyond a tie, mm/K
	Layers      Curve   // mm of all liners, pads and sheets of a row at MPa
	// Plates is the bending of the plates under cells of rising modulus.
	Plates    []Bending
	Creep     Curve   // part of the plates' modulus left at the logarithm of years plus one
	SettleMM  float64 // in the first year
	SpringTol float64 // one sigma of a spring's force at its height; 0 without springs

	TargetN, SnugN   float64 // as set, and with the nuts finger tight
	Setting, Service Band
	Method           Method
	SetCharge        float64
	Charge           Curve // growth from empty, as a part of that to full, at a charge
	AssemblyC, HotC  float64
	ColdC            float64
	Years            float64
}

// Bending is that of both plates' middles against the ties under cells of a tangent
// modulus: Angles and Plate in mm for a newton of all ties together, Dome what the ties
// see of growth whose mean over the face is half of that in the middle, as a part of
// that in the middle.
type Bending struct{ ModulusMPa, Angles, Plate, Dome float64 }

// bending is that under cells of a modulus, straight in its logarithm.
func (f *Fixture) bending(mpa float64) Bending {
	n := len(f.Plates)
	if n < 2 || mpa <= 0 {
		return f.Plates[0]
	}
	i := 1
	for i < n-1 && f.Plates[i].ModulusMPa < mpa {
		i++
	}
	a, b := f.Plates[i-1], f.Plates[i]
	t := math.Min(math.Max(math.Log(mpa/a.ModulusMPa)/math.Log(b.ModulusMPa/a.ModulusMPa), -1), 2)
	mix := func(x, y float64) float64 { return math.Max(x+t*(y-x), 0) }
	return Bending{mpa, mix(a.Angles, b.Angles), mix(a.Plate, b.Plate), mix(a.Dome, b.Dome)}
}

// years at which the path is looked at, as parts of the life.
var moments = []float64{0, 0.1, 0.2, 0.4, 0.7, 1}

// Share is what part of the draws stays inside.
type Share struct {
	Share   float64 `json:"share"`                // within both bands, of the assumed ranges
	Set     float64 `json:"within_setting_band"`  // as set
	Service float64 `json:"within_service_band"`  // afterwards, whatever it was set to
	Least   float64 `json:"growth_not_lessened"`  // share with growth that holding does not lessen
	Most    float64 `json:"growth_lessened_most"` // share with growth that holding lessens most
	LowN    float64 `json:"force_low_n"`          // the least force of 95 in 100 paths lies above
	HighN   float64 `json:"force_high_n"`         // the greatest of 95 in 100 below
	Method  Method  `json:"method"`
	Years   float64 `json:"years"`
	Draws   int     `json:"draws"`
	Seed    uint64  `json:"seed"`
}

// methodWords name the methods.
var methodWords = map[Method]string{Turns: "by turns from snug", Torque: "by torque", Height: "by spring height"}

// Sentence says the share in words; empty where none was drawn.
func (s *Share) Sentence() string {
	if s == nil {
		return ""
	}
	percent := func(v float64) string { return number.Trim(100*v, 0) + " %" }
	return "Of fixtures like this, set " + methodWords[s.Method] + ", " + percent(s.Share) + " stay within the bands over " + number.Trim(s.Years, 0) +
		" years: " + percent(s.Set) + " are within the setting band as set, " + percent(s.Service) + " within the service band afterwards. " +
		"It is a share of assumed ranges: " + percent(s.Least) + " where holding does not lessen the cells' growth, " + percent(s.Most) + " where it lessens it most. No force here was ever measured on a real pack."
}

// ends is the part of the draws that the two ends are studied with.
const ends = 4

// Study draws fixtures; the same seed gives the same share.
func Study(f *Fixture, draws int, seed uint64) Share {
	out := Share{Draws: draws, Seed: seed, Method: f.Method, Years: f.Years}
	var all sync.WaitGroup
	all.Go(func() {
		out.Least, _, _, _, _ = f.run(draws/ends, seed, func(d *draw) { d.atForce, d.held = 1, 1 })
		out.Most, _, _, _, _ = f.run(draws/ends, seed, func(d *draw) { d.atForce, d.held = HeldGrowth.Low, HeldAgeing.Low })
	})
	out.Share, out.Set, out.Service, out.LowN, out.HighN = f.run(draws, seed, nil)
	all.Wait()
	return out
}

func (f *Fixture) run(draws int, seed uint64, change func(*draw)) (share, set, service, low, high float64) {
	r := rand.New(rand.NewPCG(seed, 12))
	lows, highs := make([]float64, draws), make([]float64, draws)
	turn := f.advance()
	for i := range draws {
		d := newDraw(r)
		if change != nil {
			change(&d)
		}
		p := f.path(&d, turn)
		lows[i], highs[i] = p.least, p.most
		if p.set {
			set++
		}
		if p.inside {
			service++
		}
		if p.set && p.inside {
			share++
		}
	}
	sort.Float64s(lows)
	sort.Float64s(highs)
	n := float64(draws)
	return share / n, set / n, service / n, lows[draws/20], highs[draws-1-draws/20]
}

// path is one draw's way through its life.
type path struct {
	set, inside bool
	least, most float64
}

func (f *Fixture) path(d *draw, turn float64) path {
	b := f.batch(d)
	set := f.set(b, turn)
	out := path{set: f.Setting.has(set), inside: true, least: set, most: set}
	u := b.taken(set, 1)
	b.fixAt(set)
	for _, part := range moments {
		years := part * f.Years
		for _, st := range [3][2]float64{{0, f.ColdC}, {f.SetCharge, f.AssemblyC}, {1, f.HotC}} {
			force := b.force(u+b.moved(years, st[0], st[1]-f.AssemblyC), b.plate(years))
			out.inside = out.inside && f.Service.has(force)
			out.least, out.most = math.Min(out.least, force), math.Max(out.most, force)
		}
	}
	return out
}

// batch is a fixture with one draw of what is not known.
type batch struct {
	*Fixture
	*draw
	fixed, at float64 // pressure at setting, and the cells' squeeze there
	strength  float64 // of the springs, over that listed
	dome      float64 // under cells as stiff as at the target
}

func (f *Fixture) batch(d *draw) *batch {
	b := &batch{Fixture: f, draw: d, fixed: -1}
	b.strength, b.dome = 1+b.springs(), f.bending(b.modulusAt(f.TargetN/f.FaceMM2)).Dome
	return b
}

// fixAt says where squeezing ended and growth begins.
func (b *batch) fixAt(force float64) {
	p := force / b.FaceMM2
	b.at, b.fixed = b.squeeze(p, b.modulusAt(p)), p
}

// modulusAt is a cell's tangent modulus at a pressure.
func (b *batch) modulusAt(p float64) float64 { return b.modulus * math.Pow(p/modulusAtMPa, b.rise) }

// squeeze is that of one row's cells at a pressure, where their modulus is mpa.
func (b *batch) squeeze(p, mpa float64) float64 {
	if p <= 0 {
		return 0
	}
	s := float64(b.Cells) * b.ThicknessMM * p / (mpa * (1 - b.rise))
	if b.fixed >= 0 {
		return b.at + (s-b.at)/b.growthStiff
	}
	return s
}

// taken is what the ties, cells, layers and plates take up at a force.
func (b *batch) taken(force, plate float64) float64 {
	p := force / b.FaceMM2
	mpa := b.modulusAt(p)
	bend := b.bending(mpa)
	return b.Stretch.At(force/float64(b.Ties)/b.strength) + b.squeeze(p, mpa) + b.Layers.At(p) + force*(bend.Angles+bend.Plate/(plate*b.bendMod))
}

// springs is by how much the springs of the draw are stronger than listed: most of it
// is common to the lot, the rest averages over the ties.
func (b *batch) springs() float64 {
	return b.SpringTol * (math.Sqrt(SpringCommon)*b.lot + math.Sqrt((1-SpringCommon)/float64(b.Ties))*b.each)
}

// force solves for the force at which u is taken up; zero when nothing touches.
func (b *batch) force(u, plate float64) float64 {
	if u <= 0 {
		return 0
	}
	lo, hi := 0.0, b.TargetN
	for b.taken(hi, plate) < u && hi < 1e9 {
		lo, hi = hi, 2*hi
	}
	flo, fhi := b.taken(lo, plate)-u, b.taken(hi, plate)-u
	last := 0
	for range maxSteps { // false position, the end that stays halved (Illinois)
		x := (lo*fhi - hi*flo) / (fhi - flo)
		switch fx := b.taken(x, plate) - u; {
		case math.Abs(fx) < restMM:
			return x
		case fx > 0:
			hi, fhi = x, fx
			if last > 0 {
				flo /= 2
			}
			last = 1
		default:
			lo, flo = x, fx
			if last < 0 {
				fhi /= 2
			}
			last = -1
		}
	}
	return (lo + hi) / 2
}

// restMM is how far the two sides may differ; maxSteps is more than is ever needed.
const restMM, maxSteps = 1e-6, 200

// moved is by how much the stack is longer than as set, as the ties see it.
func (b *batch) moved(years, charge, warmer float64) float64 {
	stack := float64(b.Cells) * b.ThicknessMM
	seen := 1 - 2*(1-b.even)*(1-b.dome)
	grown := b.growth * b.atForce * (b.Charge.At(charge) - b.Charge.At(b.SetCharge))
	aged := b.ageing * b.held * b.used * math.Pow(years/10, b.slow)
	settled := b.SettleMM * b.settle * math.Min(1, math.Log10(1+99*years)/2)
	return stack*(seen*(grown+aged)+b.cte*warmer) + b.OutgrownMM*warmer - settled
}

// plate is the part of the plates' modulus left.
func (b *batch) plate(years float64) float64 {
	if len(b.Creep.Y) < 2 {
		return 1
	}
	return math.Max(0.05, 1-(1-b.Creep.At(math.Log1p(years)))*b.creep)
}

// advance is what the nuts are turned in past snug, from the middle of all ranges.
func (f *Fixture) advance() float64 {
	d := middle()
	b := f.batch(&d)
	return b.taken(f.TargetN, 1) - b.taken(f.SnugN, 1)
}

// set is the force as set.
func (f *Fixture) set(b *batch, turn float64) float64 {
	switch f.Method {
	case Torque:
		return f.TargetN * math.Max(0.05, 1+TorqueError*b.hand)
	case Height:
		one := f.TargetN / float64(f.Ties)
		high := b.Stretch.At(one) + HeightErrorMM*b.hand/math.Sqrt(float64(f.Ties))
		return float64(f.Ties) * inverse(b.Stretch, high) * b.strength * (1 + SpringFriction*b.rub)
	}
	snug := f.SnugN * math.Exp(SnugError*b.hand)
	return b.force(b.taken(snug, 1)+turn-SeatingMM*math.Abs(b.seat), 1)
}

// inverse is y at X = x.
func inverse(c Curve, x float64) float64 { return Curve{Y: c.X, X: c.Y}.At(x) }
