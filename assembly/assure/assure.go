// Package assure asks what part of such fixtures stays within its bands over its
// life, when the cells, the setting and the ageing are only known within ranges.
//
// # Model
//
// All rods together carry F and every cell is pressed with p = F/A. Of one stack, its
// plates and its ties
//
//	s(F/n) + S(p) + L(p) + F b(e) = U
//
// s is the stretch of a tie with its springs under its share of the force, S the
// squeeze of the cells, L that of liners and pads, b(e) the bending of angles and
// of plates whose modulus is e times the new one's; U is what the nuts were turned in
// from where everything just touches. A cell's modulus at p is M (p/p0)^x, so that
//
//	S = N t p0^x p^(1-x) / (M (1-x))
//
// and growth meets a cell that is k times as stiff as one being squeezed. Growth with
// charge and age, temperature and settling then move U, and F follows. The left side
// rises with F, so there is one F. Growth that domes squeezes the middle of the face more
// than its edge. As cells stiffen with pressure, and edges lift off, that takes less squeeze
// on the mean for the same force, by x/(1-x)/2 d²/S where the spread d of the squeeze is
// small: the second term of the mean pressure.
//
// One draw is a batch: its cells share all that is not known of them. Ageing belongs
// to years, and creep to the same years. A path is inside when the force is within the
// setting band as set and within the service band in every later state. Worst-of-each
// combinations are not paths.
//
// Lengths mm, forces N, pressures MPa, temperatures °C, times years.
package assure

import (
	"cmp"
	"math"
	"math/rand/v2"
	"sort"
	"sync"

	"clampwright/params/number"
	"clampwright/params/words"
)

// Band is a least and a greatest force of all ties together, N.
type Band struct{ Least, Most float64 }

func (b Band) has(f float64) bool { return f >= b.Least && f <= b.Most }

// Curve is rising points: X of Y, both from 0, straight between them and on beyond
// the last.
type Curve struct{ Y, X []float64 }

// At is X at y.
func (c Curve) At(y float64) float64 { return c.of(y) }

// of is X at y.
func (c Curve) of(y float64) float64 {
	x, _ := c.at(y)
	return x
}

// at is X at y, and how steeply it rises there.
func (c Curve) at(y float64) (x, slope float64) {
	n := len(c.Y)
	if n < 2 {
		return 0, 0
	}
	i := min(max(sort.SearchFloat64s(c.Y, y), 1), n-1)
	slope = (c.X[i] - c.X[i-1]) / (c.Y[i] - c.Y[i-1])
	return c.X[i-1] + (y-c.Y[i-1])*slope, slope
}

// Method is how the force is set.
type Method string

// The methods, by rising pains: turns of the nut past snug, torque on greased plain
// nuts, each locked by a second, the same with friction found on the joint, height of
// the springs as listed, and the mean height at which those that are fitted, one of every
// rod, carry the force on a scale.
const (
	Turns   Method = "turns"
	Torque  Method = "torque"
	Found   Method = "torque, friction found"
	Height  Method = "height"
	Weighed Method = "height, weighed"
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
	Crept       []Curve // of a row with pads: Layers after times whose logarithms of hours plus one are CreptAt
	CreptAt     []float64
	// Plates is the bending of the plates under cells of rising modulus.
	Plates    []Bending
	Creep     Curve   // part of the plates' modulus left at the logarithm of years plus one
	SettleMM  float64 // in the first year
	SpringTol float64 // one sigma of a spring's force at its height; 0 without springs
	Rub       float64 // one sigma of what friction in the springs hides, as a part of the force

	// Stiffness is factors on the middle of CellModulus that the cells' moduli lie between;
	// 0: as that range has it.
	Stiffness [2]float64
	// Sheet is what the file gives of the cells over the middle of what is assumed, by
	// Range.Key; Flat says that they grow alike over the face.
	Sheet map[string]float64
	Flat  bool

	TargetN, SnugN   float64 // as set, and with the nuts finger tight
	Setting, Service Band
	Learned          *Known  // what readings of other packs tell of the cells, nil: nothing
	Known            *Known  // what readings tell of this one; nil: nothing was read
	Method           Method  // without springs, where no Wrench does better; with them the better of Height and Weighed
	Wrench           bool    // a torque may be set: the nuts run free, and each is locked by a second
	TurnErrorMM      float64 // by which a nut may be turned too far or not far enough
	TurnMM           float64 // that the card turns a nut in past snug; 0: what the middle of the ranges asks for
	ReadPart         float64 // without springs: one sigma of the force that readings of the plates' bow tell, as a part of it; 0: not read
	Serve            bool    // read once a year, and set again when outside the limits
	SetCharge        float64
	Charge           Curve // growth from empty, as a part of that to full, at a charge
	Worn             Curve // years of even use that cells have aged by in years; empty: evenly used
	AssemblyC, HotC  float64
	ColdC            float64
	Years            float64
}

// Bending is that of both plates' middles against the ties under cells of a tangent
// modulus: Angles and Plate in mm for a newton of all ties together, Dome what the ties
// see of growth whose mean over the face is half of that in the middle, as a part of
// that in the middle, Spread how uneven a dome then squeezes the cells, as a part of that
// behind a rigid plate.
//
// BowAngles, BowPlate and BowDome are the same of the middle of one plate against the
// middles of its left and right edges.
//
// Crept and BowCrept are the bending and the bow for a newton with plates of CreptTo of
// their modulus; 0: not known.
type Bending struct {
	ModulusMPa, Angles, Plate, Dome, Spread, BowAngles, BowPlate, BowDome float64
	CreptTo, Crept, BowCrept                                              float64
}

// of is bending and bow for a newton with plates of a part of their modulus: as what is
// held by angles and by plates, and below half of it by the logarithm of that part, to what
// creep leaves.
func (b Bending) of(part float64) (bent, bow float64) {
	if part > 0.5 || b.CreptTo <= 0 {
		return b.Angles + b.Plate/part, b.BowAngles + b.BowPlate/part
	}
	t := math.Log(2*part) / math.Log(2*b.CreptTo)
	half, bowed := b.Angles+2*b.Plate, b.BowAngles+2*b.BowPlate
	return half + t*(b.Crept-half), bowed + t*(b.BowCrept-bowed)
}

// bending is that under cells of a modulus told by its logarithm, straight in it
// between the moduli of Plates, whose logarithms are knots.
func (f *Fixture) bending(knots []float64, ln float64) Bending {
	n := len(f.Plates)
	if n < 2 {
		return f.Plates[0]
	}
	i := 1
	for i < n-1 && knots[i] < ln {
		i++
	}
	a, b := f.Plates[i-1], f.Plates[i]
	t := math.Min(math.Max((ln-knots[i-1])/(knots[i]-knots[i-1]), -1), 2)
	mix := func(x, y float64) float64 { return math.Max(x+t*(y-x), 0) }
	return Bending{0, mix(a.Angles, b.Angles), mix(a.Plate, b.Plate), mix(a.Dome, b.Dome), mix(a.Spread, b.Spread), mix(a.BowAngles, b.BowAngles), mix(a.BowPlate, b.BowPlate), mix(a.BowDome, b.BowDome),
		a.CreptTo, mix(a.Crept, b.Crept), mix(a.BowCrept, b.BowCrept)}
}

// moments are the parts of the life at which the path is looked at.
var moments = []float64{0, 0.1, 0.2, 0.4, 0.7, 1}

// ServeLimits are the forces at storage charge outside which a yearly reading has the
// clamp set again: half of the room from the target to either bound of the service band
// is used up. A judgement.
func (f *Fixture) ServeLimits() Band {
	if f.Known != nil && f.Known.Serve.Most > 0 {
		return f.Known.Serve
	}
	return f.LimitsOf(nil)
}

// LimitsOf are these for a clamp of sigmas: behind locked nuts less room is left by what
// charge and warmth change the force by, but a quarter of it, which a hand can set to.
func (f *Fixture) LimitsOf(z []float64) Band {
	room, half := f.Service, Band{(f.TargetN + f.Service.Least) / 2, (f.TargetN + f.Service.Most) / 2}
	if z != nil && f.SpringTol <= 0 {
		l := f.Life(z, f.TurnMM)
		l.SetAs(Set{Method: Torque, TargetN: f.TargetN}, make([]float64, len(z)))
		room.Least = math.Min(room.Least+l.set-l.At(0, 0, f.ColdC).ForceN, half.Least)
		room.Most = math.Max(room.Most+l.set-l.At(0, 1, f.HotC).ForceN, half.Most)
	}
	return Band{(f.TargetN + room.Least) / 2, (f.TargetN + room.Most) / 2}
}

// Way is what a method of setting comes to, with springs, nuts and all else as they are.
type Way struct {
	Method Method  `json:"method"`
	Set    float64 `json:"within_setting_band"`
	Share  float64 `json:"share"`       // without service
	LowN   float64 `json:"force_low_n"` // nine in ten are set between these
	HighN  float64 `json:"force_high_n"`
}

// Share is what part of the draws stays inside.
type Share struct {
	Share   float64 `json:"share"`                // within both bands, of the assumed ranges
	Set     float64 `json:"within_setting_band"`  // as set
	Service float64 `json:"within_service_band"`  // afterwards, whatever it was set to
	Least   float64 `json:"growth_not_lessened"`  // share with growth that holding does not lessen
	Most    float64 `json:"growth_lessened_most"` // share with growth that holding lessens most
	LowN    float64 `json:"force_low_n"`          // the least force of 95 in 100 paths lies above
	HighN   float64 `json:"force_high_n"`         // the greatest of 95 in 100 below
	Left    float64 `json:"without_service"`      // share, were it never read nor set again
	Served  float64 `json:"with_service"`         // share, were it; what is asked for is the better
	Again   float64 `json:"set_again"`            // times that a clamp so looked after is set again, on average: the price of service
	Gate    *Gate   `json:"gate,omitempty"`       // what would make the share large enough; nil where nothing does, or need not
	Serve   bool    `json:"service"`              // asked for: it makes the share larger
	Ways    []Way   `json:"ways"`
	Method  Method  `json:"method"`
	Years   float64 `json:"years"`
	Draws   int     `json:"draws"`
	Weighed float64 `json:"once_weighed,omitempty"`       // of springs that were set unweighed: share, were one of every rod weighed now and the nuts set by it
	Packs   int     `json:"learned_from_packs,omitempty"` // whose cells are like these, which narrow the ranges
	Read    bool    `json:"readings,omitempty"`           // of this very clamp, which do so too
	Seed    uint64  `json:"seed"`
}

// methodWords name the methods.
var methodWords = map[Method]string{Turns: "by turns from snug", Torque: "by torque, on greased plain nuts each locked by a second", Found: "by torque, with the friction found on the joint",
	Height: "by spring height", Weighed: "by spring height, found by weighing one of every rod"}

// Words name the method after "set".
func (m Method) Words() string { return methodWords[m] }

// Sentence says the share in words; empty where none was drawn.
func (s *Share) Sentence() string {
	if s == nil || s.Draws == 0 {
		return ""
	}
	percent := func(v float64) string { return number.Trim(100*v, 0) + " %" }
	service, again := "never set again", ""
	if s.Serve {
		service = "read once a year and set again if outside"
		again = "They are set again " + number.Trim(s.Again, 1) + " times on average; without that " + percent(s.Left) + " stay. "
	}
	return "Of fixtures set " + methodWords[s.Method] + ", " + service + ", " + percent(s.Share) + " stay within the bands for " + number.Years(s.Years, 0) +
		": " + percent(s.Set) + " are within the setting band as set, " + percent(s.Service) + " within the service band afterwards. " + again +
		"It is a share of assumed ranges" + s.Narrowed() + ": " + percent(s.Least) + " where holding does not slow the cells' growth, " + percent(s.Most) + " where it slows it most. No force here was ever measured on a real pack."
}

// Narrowed says by what the ranges are, as the end of a sentence; empty where by nothing.
func (s *Share) Narrowed() string {
	switch {
	case s.Read:
		return ", narrowed by its readings"
	case s.Packs > 0:
		return ", narrowed by readings of " + number.Trim(float64(s.Packs), 0) + " other pack" + words.Plural(s.Packs)
	}
	return ""
}

// TurnsSentence says what force turns from snug give; empty where none was drawn.
func (s *Share) TurnsSentence() string {
	if s == nil || s.Draws == 0 {
		return ""
	}
	return "The turns hold for cells as stiff as taken here; of ten fixtures drawn from the assumed ranges nine get " + number.Trim(s.Ways[0].LowN, 0) + " to " + number.Trim(s.Ways[0].HighN, 0) +
		" N in all. Springs under the nuts narrow this."
}

// ends is the part of the draws that the two ends and the other methods are studied
// with; better is by how much more of the share a method or a service must save to be
// worth its pains.
const ends, better = 4, 0.01

// Study draws fixtures; the same seed gives the same share.
func Study(in *Fixture, draws int, seed uint64) Share {
	f := *in
	out := Share{Draws: draws, Seed: seed, Years: f.Years}
	f.Serve = false
	out.Ways = make([]Way, len(f.methods()))
	var all sync.WaitGroup
	for i, m := range f.methods() {
		one := f
		one.Method, one.Known = m, f.Learned // ways are for the next one
		all.Go(func() {
			t := one.run(draws/ends, seed, nil)
			out.Ways[i] = Way{m, t.set, t.share, t.sets[0], t.sets[1]}
		})
	}
	all.Wait()
	f.Method = in.choose(out.Ways)
	out.Method = f.Method
	served := f
	served.Serve = f.SpringTol > 0 || f.ReadPart > 0 // whose heights or bow are read
	var left, kept, weighed tally
	if f.Known != nil && f.Known.Blind {
		one, known := served, *f.Known
		known.Again = true
		one.Method, one.Known = Weighed, &known
		all.Go(func() { weighed = one.run(draws, seed, nil) })
	}
	all.Go(func() { left = f.run(draws, seed, nil) })
	kept = served.run(draws, seed, nil)
	all.Wait()
	out.Left, out.Served, out.Again, out.Weighed = left.share, kept.share, kept.again, weighed.share
	if out.Serve = served.Serve && (kept.share > left.share+better || f.SpringTol <= 0); out.Serve { // locked nuts are kept by nothing else
		f, left = served, kept
	}
	out.Share, out.Set, out.Service, out.LowN, out.HighN = left.share, left.set, left.service, left.low, left.high
	var free tally
	all.Go(func() { free = f.run(draws/ends, seed, freely) })
	out.Most = f.run(draws/ends, seed, []pin{{ofAtForce, -z95}, {ofHeld, -z95}}).share
	all.Wait()
	out.Least = free.share
	out.Gate = f.gate(&out, left.paths, free.paths)
	return out
}

// freely is growth that holding does not lessen.
var freely = []pin{{ofAtForce, HeldGrowth.Sigmas(1)}, {ofHeld, HeldAgeing.Sigmas(1)}}

// methods are those that there are with these springs or without.
func (f *Fixture) methods() []Method {
	if f.SpringTol > 0 {
		return []Method{Turns, Torque, Found, Height, Weighed}
	}
	return []Method{Turns, Torque, Found}
}

// choose is the method that the card takes: springs are set by their height, as listed
// where weighing them does not save more; nuts without springs by torque where that can
// be set and saves more than turns.
func (f *Fixture) choose(ways []Way) Method {
	if f.SpringTol <= 0 {
		if f.Wrench && ways[1].Share > ways[0].Share+better {
			return Torque
		}
		return f.Method
	}
	listed, weighed := ways[len(ways)-2], ways[len(ways)-1]
	if weighed.Share > listed.Share+better {
		return Weighed
	}
	return Height
}

// SetBy is how the card sets the springs of a fixture of which nothing was read.
func (f *Fixture) SetBy(seed uint64) Method {
	var ways []Way
	for _, m := range []Method{Height, Weighed} {
		one := *f
		one.Method, one.Known, one.Serve = m, f.Learned, false
		ways = append(ways, Way{Method: m, Share: one.run(Draws/ends, seed, nil).share})
	}
	return f.choose(ways)
}

// tally is what part of the draws of a run stays inside, and between which forces nine
// in ten do.
type tally struct {
	share, set, service, low, high float64
	again                          float64    // times set again, on average
	sets                           [2]float64 // as set
	paths                          []path
}

func (f *Fixture) run(draws int, seed uint64, pins []pin) tally {
	if f.Known == nil && f.Learned != nil {
		own := *f
		own.Known, f = f.Learned, &own
	}
	r, late := source(seed, 12), source(seed, 13)
	lows, highs, sets := make([]float64, draws), make([]float64, draws), make([]float64, draws)
	turn := f.advance()
	gains := f.Known.gains(pins, f.Latents())
	var out tally
	for i := range draws {
		p := f.path(pinned(f.Known.Draw(r, f.Latents()), gains), turn, late)
		lows[i], highs[i], sets[i] = p.least, p.most, p.force
		out.paths = append(out.paths, p)
		out.again += float64(p.again) / float64(draws)
		if p.set {
			out.set++
		}
		if p.inside {
			out.service++
		}
		if p.set && p.inside {
			out.share++
		}
	}
	n := float64(draws)
	out.set, out.service, out.share = out.set/n, out.service/n, out.share/n
	out.low, out.high = nine(lows)[0], nine(highs)[1]
	out.sets = nine(sets)
	return out
}

// nine are the values between which nine in ten of a list lie.
func nine(list []float64) [2]float64 {
	sort.Float64s(list)
	cut := len(list) / 20
	return [2]float64{list[cut], list[len(list)-1-cut]}
}

// path is one draw's way through its life.
type path struct {
	set, inside        bool
	force, least, most float64 // as set, and of the whole path
	closer             float64 // of the plates from snug to as set, mm, as it is read
	again              int     // times set again
}

func (f *Fixture) path(z []float64, turn float64, late *rand.Rand) path {
	l := f.live(z, turn)
	b, u, force := l.batch, l.u, l.set
	out := path{set: f.Setting.has(force), inside: true, force: force, least: force, most: force, closer: b.closer(force)}
	last := f.Known.now()
	if f.Known != nil && f.Known.Again { // which then counts
		out.set = true
		u = f.reset(b, last, turn, late, &out)
	}
	for _, part := range moments {
		years := math.Max(part*f.Years, f.Known.now())
		if f.Serve {
			for y := math.Floor(last) + 1; y < years; y++ {
				u = f.serve(b, u, y, turn, late, &out)
			}
		}
		last = years
		for _, st := range [3][2]float64{{0, f.ColdC}, {f.SetCharge, f.AssemblyC}, {1, f.HotC}} {
			force = b.force(u+b.moved(years, st[0], st[1]-f.AssemblyC), b.aged(years), force)
			out.inside = out.inside && f.Service.has(force)
			out.least, out.most = math.Min(out.least, force), math.Max(out.most, force)
		}
	}
	return out
}

// serve reads a clamp at storage charge and sets it again when the reading is outside
// the limits. It returns the u that the nuts are at then.
func (f *Fixture) serve(b *batch, u, years, turn float64, late *rand.Rand, out *path) float64 {
	force := b.force(u+b.moved(years, f.SetCharge, 0), b.aged(years), f.TargetN)
	if f.ServeLimits().has(force * b.reads(late.NormFloat64())) {
		return u
	}
	return f.reset(b, years, turn, late, out)
}

// reset sets a clamp again at storage charge: springs keep their error, that of the hand is
// drawn anew.
func (f *Fixture) reset(b *batch, years, turn float64, late *rand.Rand, out *path) float64 {
	moved, aged := b.moved(years, f.SetCharge, 0), b.aged(years)
	out.again++
	again := *b.draw
	again.hand, again.rub, again.seat = late.NormFloat64(), late.NormFloat64(), late.NormFloat64()
	b.draw, b.height = &again, 0
	force := f.set(b, turn)
	if f.ReadPart > 0 { // until the bow tells the force
		force = f.TargetN * math.Max(0.05, 1+f.ReadPart*again.hand)
	}
	out.set = out.set && f.Setting.has(force)
	out.least, out.most = math.Min(out.least, force), math.Max(out.most, force)
	b.fixAt(force)
	u, _ := b.taken(force, aged)
	return u - moved
}

// reads is what a reading shows of the force, z sigmas of the hand off.
func (b *batch) reads(z float64) float64 {
	if b.ReadPart > 0 {
		return 1 + b.ReadPart*z
	}
	if s := b.handError(); s > 0 {
		return 1 + s*z
	}
	return b.known / b.strength * (1 + b.Rub*z)
}

// handError is one sigma of the force that a torque gives; 0 for other methods.
func (f *Fixture) handError() float64 {
	switch f.Method {
	case Torque:
		return TorqueError
	case Found:
		return FoundError
	}
	return 0
}

// batch is a fixture with one draw of what is not known.
type batch struct {
	*Fixture
	*draw
	knots     []float64
	ln        float64 // of the cells' modulus
	fixed, at float64 // pressure at setting, and the cells' squeeze there
	strength  float64 // of the springs, over that listed
	known     float64 // what of that weighing has shown
	bend      Bending // under cells as stiff as at the target
	spread    float64 // of the cells' squeeze over the face, by growth that domes, one sigma, mm
	height    float64 // one sigma of the height set, mm; 0: that of a hand
}

func (f *Fixture) batch(d *draw) *batch {
	b := &batch{Fixture: f, draw: d, fixed: -1}
	b.ln = math.Log(d.modulus)
	for _, p := range f.Plates {
		b.knots = append(b.knots, math.Log(p.ModulusMPa))
	}
	b.strength, b.known = 1+b.SpringTol*(math.Sqrt(SpringCommon)*b.lot+math.Sqrt((1-SpringCommon)/float64(b.Ties))*b.each), 1
	if f.Method == Weighed {
		b.known = b.strength + WeighError*b.weighed
	}
	b.bend = f.bending(b.knots, b.lnAt(f.TargetN/f.FaceMM2))
	return b
}

// fixAt says where squeezing ended and growth begins.
func (b *batch) fixAt(force float64) {
	b.fixed = -1
	p := force / b.FaceMM2
	b.at, _ = b.squeeze(p, b.lnAt(p))
	b.fixed = p
}

// lnAt is the logarithm of a cell's tangent modulus at a pressure.
func (b *batch) lnAt(p float64) float64 { return b.ln + b.rise*math.Log(p/modulusAtMPa) }

// squeeze is that of one row's cells at a pressure, where the logarithm of their modulus
// is ln, and its slope. Cells that were set grow and shrink along a line of growthStiff
// times that stiffness, which ends where nothing is pressed.
func (b *batch) squeeze(p, ln float64) (mm, slope float64) {
	stack := float64(b.Cells) * b.ThicknessMM
	if p > 0 {
		slope = stack * math.Exp(-ln)
		mm = slope * p / (1 - b.rise)
	}
	if b.fixed >= 0 {
		return b.at + (mm-b.at)/b.growthStiff, slope / b.growthStiff
	}
	return mm, slope
}

// taken is what the ties, cells, layers and plates take up at a force, and how steeply
// that rises, but for the change of the plates' bending with the cells' modulus.
func (b *batch) taken(force float64, aged aged) (mm, slope float64) {
	p, ties := force/b.FaceMM2, float64(b.Ties)*b.strength
	ln := b.lnAt(p)
	bent, _ := b.bending(b.knots, ln).of(aged.plate * b.bendMod)
	tie, tieSlope := b.Stretch.at(force / ties)
	cells, cellSlope := b.squeeze(p, ln)
	if b.spread > 0 {
		less, steeper := b.uneven(cells)
		cells, cellSlope = cells-less, cellSlope*(1+steeper)
	}
	layers, layerSlope := b.layers(p, aged)
	return tie + cells + layers + force*bent, tieSlope/ties + (cellSlope+layerSlope)/b.FaceMM2 + bent
}

// force solves for the force at which u is taken up, begun near one, by Newton's method
// held between bounds; zero when nothing touches.
func (b *batch) force(u float64, aged aged, near float64) float64 {
	if gap, _ := b.taken(0, aged); u <= gap {
		return 0
	}
	lo, hi, x := 0.0, math.Inf(1), math.Max(near, 1)
	for range maxSteps {
		mm, slope := b.taken(x, aged)
		off := mm - u
		if math.Abs(off) < restMM {
			break
		}
		if off > 0 {
			hi = x
		} else {
			lo = x
		}
		if x -= off / slope; x <= lo || x >= hi {
			x = (lo + hi) / 2
		}
	}
	return x
}

// restMM is how far the two sides may differ, mm; maxSteps is more than is ever needed.
const restMM, maxSteps = 1e-6, 200

// uneven is how much less squeeze on the mean makes a pressure where it spreads over the
// face, and how that falls with the squeeze.
func (b *batch) uneven(squeeze float64) (less, steeper float64) {
	s := math.Max(squeeze, 1e-3*b.spread)
	r, m := b.spread/s, b.rise/(1-b.rise)/2
	if less = m * b.spread; r < 1 {
		less, steeper = less*r, m*r*r
	}
	if v := r - liftsAt; v > 0 {
		lost := 1.1 * v * v / (r + 0.25)
		less += s * lost
		steeper += 1.1*v*r*(2*(r+0.25)-v)/(r+0.25)/(r+0.25) - lost
	}
	return less, steeper
}

// liftsAt is the spread, as a part of the squeeze, from which some of a face is no more
// touched; what that takes is fitted to a dome's, within a tenth from there to five.
const liftsAt = 0.7

// domeSpread is one sigma of a dome over the face, over the part of the middle's growth
// that the mean is short of: of (1-u²)(1-v²), whose mean is 4/9 and whose mean square is
// (8/15)², over 1-4/9.
const domeSpread = 0.5307

// moved is by how much the stack is longer than as set, as the ties see it; what spread
// that makes goes with it.
func (b *batch) moved(years, charge, warmer float64) float64 {
	stack := float64(b.Cells) * b.ThicknessMM
	seen := 1 - 2*(1-b.even)*(1-b.bend.Dome)
	b.spread = math.Abs(stack*b.grown(years, charge)) * (1 - b.even) * domeSpread * b.bend.Spread
	settled := b.SettleMM * b.settle * math.Min(1, math.Log10(1+99*years)/2)
	return stack*(seen*b.grown(years, charge)+b.cte*warmer) + b.OutgrownMM*warmer - settled
}

// grown is the growth in the middle of the face since setting, of the thickness.
func (b *batch) grown(years, charge float64) float64 {
	full, lasting := b.grows(years)
	return full*(b.Charge.of(charge)-b.Charge.of(b.SetCharge)) + lasting
}

// grows is the growth from empty to full, and that which lasts after so many years, of the
// thickness.
func (b *batch) grows(years float64) (full, lasting float64) {
	return b.growth * b.atForce, b.ageing * b.held * b.used * math.Pow(b.worn(years)/10, b.slow)
}

// worn is the years of even use that the cells have aged by.
func (f *Fixture) worn(years float64) float64 {
	if len(f.Worn.Y) < 2 {
		return years
	}
	return f.Worn.of(years)
}

// aged is what years have made of plates and pads: the part of the plates' modulus left,
// and the logarithm of the hours plus one that pads have crept.
type aged struct{ plate, hours float64 }

// fresh is as set.
var fresh = aged{plate: 1}

const hoursOfYear = 8766

func (b *batch) aged(years float64) aged {
	return aged{b.plate(years), math.Log1p(hoursOfYear * years)}
}

// layers is the squeeze of all sheets of a row at a pressure, and its slope: of pads as
// they have crept by then, for a pressure that their lot stands less.
func (b *batch) layers(p float64, a aged) (mm, slope float64) {
	if len(b.Crept) == 0 {
		return b.Layers.at(p)
	}
	p /= b.padForce
	mm, slope = b.Layers.at(p)
	if i := min(sort.SearchFloat64s(b.CreptAt, a.hours), len(b.Crept)-1); a.hours > 0 {
		lo, loSlope, from := mm, slope, 0.0
		if i > 0 {
			lo, loSlope = b.Crept[i-1].at(p)
			from = b.CreptAt[i-1]
		}
		hi, hiSlope := b.Crept[i].at(p)
		t := math.Min((a.hours-from)/(b.CreptAt[i]-from), 1)
		mm += (lo + t*(hi-lo) - mm) * b.padCreep
		slope += (loSlope + t*(hiSlope-loSlope) - slope) * b.padCreep
	}
	return mm, slope / b.padForce
}

// plate is the part of the plates' modulus left.
func (b *batch) plate(years float64) float64 {
	if len(b.Creep.Y) < 2 {
		return 1
	}
	return math.Max(0.05, 1-(1-b.Creep.of(math.Log1p(years)))*b.creep)
}

// Advance is what the middle of all ranges, of cells what was learned of them, has the nuts
// turned in past snug.
func (f *Fixture) Advance() float64 {
	middle := make([]float64, f.Latents())
	if f.Learned != nil {
		copy(middle, f.Learned.Cells)
	}
	i := 0
	d := f.draw(func() float64 { i++; return middle[i-1] })
	b := f.batch(&d)
	tight, _ := b.taken(f.TargetN, fresh)
	snug, _ := b.taken(f.SnugN, fresh)
	return tight - snug
}

// advance is what the nuts are turned in past snug: by the card, else by the middle of all
// ranges.
func (f *Fixture) advance() float64 { return cmp.Or(f.TurnMM, f.Advance()) }

// set is the force as set.
func (f *Fixture) set(b *batch, turn float64) float64 {
	if e := f.handError(); e > 0 {
		return f.TargetN * math.Max(0.05, 1+e*b.hand)
	}
	if f.Method != Turns {
		one := f.TargetN / float64(f.Ties)
		high := b.Stretch.of(one) + cmp.Or(b.height, HeightErrorMM/math.Sqrt(float64(f.Ties)))*b.hand
		return float64(f.Ties) * Curve{Y: b.Stretch.X, X: b.Stretch.Y}.of(high) * b.strength / b.known * (1 + b.Rub*b.rub)
	}
	snug, _ := b.taken(f.SnugN*math.Exp(SnugError*b.hand), fresh)
	turn += f.TurnErrorMM / math.Sqrt(3*float64(f.Ties)) * b.rub // of the mean nut, each even over its limits
	return b.force(snug+turn-SeatingMM*math.Abs(b.seat), fresh, f.TargetN)
}
