package clamp

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/floats"

	"clampwright/params/number"
	"clampwright/params/words"
)

// Setting tells how to bring the fixture to its target force.
type Setting struct {
	TargetN    float64 `json:"target_n"`
	RodN       Span    `json:"rod_n"`      // least and greatest rod force at the target
	Turns      Span    `json:"turns"`      // of one nut per rod past snug, over the rods
	Flats      int     `json:"hex_flats"`  // whole sixths of a turn, mean of the rods
	AdvanceMM  Span    `json:"advance_mm"` // of the nut
	SpringMM   Span    `json:"spring_mm"`  // height of one stack at the target; zero without springs
	SpringFree float64 `json:"spring_free_mm"`
	SqueezeMM  float64 `json:"squeeze_mm"` // stack shortening at the rods from snug to target

	TorqueNMM  Span     `json:"torque_nmm"` // wrench reading for the target over friction and drag
	NominalNMM float64  `json:"torque_nominal_nmm"`
	ClampNMM   Span     `json:"clamp_torque_nmm"` // K d F alone
	DragNMM    Span     `json:"drag_nmm"`
	ForceN     Span     `json:"force_by_torque_n"` // total force a wrench set to the nominal torque may give
	WrenchOK   bool     `json:"wrench_ok"`
	Method     string   `json:"method"` // MethodSpring, MethodTurns, MethodTorque
	Sentences  []string `json:"sentences"`

	PerRod []RodSetting `json:"per_rod"`
}

// RodSetting is how one rod is set.
type RodSetting struct {
	ForceN    float64 `json:"force_n"`
	Turns     float64 `json:"turns"`     // past snug
	Flats     int     `json:"hex_flats"` // the same in sixths, rounded
	SpringMM  float64 `json:"spring_mm,omitempty"`
	TorqueNMM Span    `json:"torque_nmm"`
	GapPerN   float64 `json:"gap_mm_per_n,omitempty"` // without springs: how much farther apart the plates get beside this rod for each newton more in it
}

// RodGroup are rods that are set alike.
type RodGroup struct {
	Rods     []int   // indices of PerRod
	Turns    float64 // past snug, mean of the rods to a hundredth, as it is told
	ForceN   float64 // mean of the rods
	SpringMM float64 // mean of the rods; zero without springs
}

// sameTurns and sameForce are how far the turns of two rods may differ, and their
// forces in parts of one another, to be told as one: under ten degrees, less than a
// hand can set, and less than a spring's height shows.
const sameTurns, sameForce = 0.025, 0.05

// Groups sorts the rods by how they are set, in the order of PerRod. All that tells
// turns, forces or spring heights takes them from here, so that it tells the same.
func (s *Setting) Groups() []RodGroup {
	var out []RodGroup
	for i, r := range s.PerRod {
		k := slices.IndexFunc(out, func(g RodGroup) bool {
			first := s.PerRod[g.Rods[0]]
			return math.Abs(r.Turns-first.Turns) < sameTurns && math.Abs(r.ForceN-first.ForceN) <= sameForce*first.ForceN
		})
		if k < 0 {
			k = len(out)
			out = append(out, RodGroup{})
		}
		out[k].Rods = append(out[k].Rods, i)
	}
	for k := range out {
		g := &out[k]
		for _, i := range g.Rods {
			n := float64(len(g.Rods))
			g.Turns += s.PerRod[i].Turns / n
			g.ForceN += s.PerRod[i].ForceN / n
			g.SpringMM += s.PerRod[i].SpringMM / n
		}
		g.Turns = math.Round(100*g.Turns) / 100
	}
	return out
}

// Span is least and greatest.
type Span struct {
	Least    float64 `json:"least"`
	Greatest float64 `json:"greatest"`
}

// The ways of setting the force, best first.
const (
	MethodSpring = "spring height"
	MethodTurns  = "turns from snug"
	MethodTorque = "torque"
)

func (s *Span) add(v float64, first bool) {
	if first {
		*s = Span{v, v}
		return
	}
	s.Least, s.Greatest = math.Min(s.Least, v), math.Max(s.Greatest, v)
}

func (s Span) mean() float64 { return (s.Least + s.Greatest) / 2 }

// friction returns the band of K in use.
func (in Input) friction() Friction {
	if in.Friction == (Friction{}) {
		return Friction{FrictionLow, FrictionNominal, FrictionHigh}
	}
	return in.Friction
}

// SnugTotalN is the total force of finger-tight nuts, never above a quarter of the
// force that is set from there, N.
func (in Input) SnugTotalN(force float64) float64 {
	return math.Min(SnugForceN*float64(len(in.Rods)), force/4)
}

func (f *fixture) snugTotal() float64 { return f.in.SnugTotalN(f.asked.TargetN) }

// snug solves the finger-tight state and returns the nut positions.
func (f *fixture) snug() (*solution, []float64, error) {
	st := StateSpec{Name: "snug", Charge: f.in.AssemblyCharge, TempC: f.in.Climate.AssemblyC}
	return f.press(st, f.snugTotal(), f.eased(f.snugTotal()/f.asked.TargetN))
}

// eased is the tightened plate with a part of its bending, moved in to where the cells
// take that part of the pressure: where to look for less force. Nil before tightening.
func (f *fixture) eased(part float64) *solution {
	if f.tight == nil {
		return nil
	}
	c, p := f.curves(0)[0], f.asked.TargetKPa/1000
	out := &solution{base: f.tight.base + (c.squeeze(p)-c.squeeze(part*p))/2, x: slices.Clone(f.tight.x)}
	floats.Scale(part, out.x)
	return out
}

// setting computes how to set the fixture.
func (f *fixture) setting() (Setting, error) {
	if err := f.tighten(); err != nil {
		return Setting{}, err
	}
	snug, nuts, err := f.snug()
	if err != nil {
		return Setting{}, err
	}
	out := Setting{TargetN: f.asked.TargetN}
	k := f.in.friction()
	for r, rod := range f.in.Rods {
		g := f.s.groupOf[r]
		force := f.tight.rodF[g]
		advance := f.nuts[g] - nuts[g]
		out.RodN.add(force, r == 0)
		out.AdvanceMM.add(advance, r == 0)
		out.Turns.add(advance/rod.PitchMM, r == 0)
		out.SpringMM.add(f.s.rods[g].curve.stackHeight(force), r == 0)
		out.PerRod = append(out.PerRod, RodSetting{
			ForceN: force, Turns: advance / rod.PitchMM, Flats: int(math.Round(6 * advance / rod.PitchMM)),
			SpringMM:  f.s.rods[g].curve.stackHeight(force),
			TorqueNMM: Span{rod.DragMinNMM + k.Low*rod.DiameterMM*force, rod.DragMaxNMM + k.High*rod.DiameterMM*force},
			GapPerN:   f.s.rods[g].curve.gapPerN(),
		})
		out.SqueezeMM += 2 * (snug.rodW[g] - f.tight.rodW[g]) / float64(len(f.in.Rods))
	}
	out.SpringFree = f.in.Rods[0].Spring.FreeHeight()
	out.Flats = int(math.Round(6 * out.Turns.mean()))
	f.torque(&out)
	f.describe(&out)
	return out, nil
}

// torque fills what a torque wrench would read: T = drag + K d F.
func (f *fixture) torque(s *Setting) {
	k := f.in.friction()
	nominal := 0.0
	for r, rod := range f.in.Rods {
		force := f.tight.rodF[f.s.groupOf[r]]
		df := rod.DiameterMM * force
		first := r == 0
		s.ClampNMM.add(k.Low*df, first)
		s.ClampNMM.add(k.High*df, false)
		s.DragNMM.add(rod.DragMinNMM, first)
		s.DragNMM.add(rod.DragMaxNMM, false)
		s.TorqueNMM.add(rod.DragMinNMM+k.Low*df, first)
		s.TorqueNMM.add(rod.DragMaxNMM+k.High*df, false)
		mid := (rod.DragMinNMM+rod.DragMaxNMM)/2 + k.Nominal*df
		nominal += mid / float64(len(f.in.Rods))
		s.ForceN.Least += math.Max(mid-rod.DragMaxNMM, 0) / (k.High * rod.DiameterMM)
		s.ForceN.Greatest += math.Max(mid-rod.DragMinNMM, 0) / (k.Low * rod.DiameterMM)
	}
	s.NominalNMM = nominal
	lo, hi := f.asked.MinKPa/f.asked.TargetKPa*f.asked.TargetN, f.asked.MaxKPa/f.asked.TargetKPa*f.asked.TargetN
	s.WrenchOK = s.ForceN.Least >= lo*(1-edgeShare) && s.ForceN.Greatest <= hi*(1+edgeShare)
}

// describe chooses the method and words it for the person at the bench.
func (f *fixture) describe(s *Setting) {
	say := func(format string, a ...any) { s.Sentences = append(s.Sentences, fmt.Sprintf(format, a...)) }
	switch {
	case f.in.Window.Kind == WindowNone:
		say("These cells carry their own load: run the nuts up until the cells no longer move, about %.0f N in all, and stop.", s.TargetN)
	case f.in.Window.Kind == WindowUnknown:
		say("The data sheet says nothing of clamping; %.0f N in all is a mild force after common practice, no source. Look for 'clamp force', 'compression', 'preload' or 'fixture' in it.", s.TargetN)
	}
	s.Method = MethodTurns
	if s.SpringFree > 0 {
		s.Method = MethodSpring
		s.describeSprings(say)
	}
	describeTurns(f, s, say)
	if !s.SnugIsEnough() {
		describeTorque(f, s, say)
	}
}

// SnugIsEnough says that there is nothing to set past snug: the turns left are
// fewer than a hand can set.
func (s *Setting) SnugIsEnough() bool { return s.Turns.Greatest < leastTurn }

// leastTurn is half a flat of a hexagon: the usual error of setting by turns.
const leastTurn = 1.0 / 12

// describeSprings words the height of the spring stacks, those of one height together
// whatever the turns to it.
func (s *Setting) describeSprings(say func(string, ...any)) {
	var heights []string
	rods := map[string]int{}
	for _, g := range s.Groups() {
		h := fmt.Sprintf("%.2f mm (%.0f N)", g.SpringMM, g.ForceN)
		if rods[h] == 0 {
			heights = append(heights, h)
		}
		rods[h] += len(g.Rods)
	}
	if len(heights) == 1 {
		g := s.Groups()[0]
		say("Tighten until every spring stack is %.2f mm high (%.2f mm free); that is %.0f N in each rod.", g.SpringMM, s.SpringFree, g.ForceN)
		return
	}
	for i, h := range heights {
		heights[i] = fmt.Sprintf("%s at %d rods", h, rods[h])
	}
	say("The rods carry unlike forces, and each spring stack has its own height (%.2f mm free): tighten until it is %s.", s.SpringFree, strings.Join(heights, ", "))
}

// describeTurns words snug and the turns from there.
func describeTurns(f *fixture, s *Setting, say func(string, ...any)) {
	by := ""
	if s.DragNMM.Greatest > 0 {
		by = " Use a spanner: the nut's own drag hides the feel."
	}
	say("Snug: run each nut down until its washer can only just be turned by hand (about %.0f N a rod).%s", f.snugTotal()/float64(len(f.in.Rods)), by)
	groups := s.Groups()
	switch {
	case s.SnugIsEnough():
		say("Snug is enough: there is no further turn to make.")
	case len(groups) == 1:
		say("From snug turn each by %s, crosswise, in four equal stages.", TurnWords(groups[0].Turns))
	default:
		by := func(a, b RodGroup) int { return cmp.Compare(a.Turns, b.Turns) }
		say("From snug the rods need from %s to %s, each its own: turn crosswise, in four stages, in each of them every nut by a quarter of its own turns.",
			TurnWords(slices.MinFunc(groups, by).Turns), TurnWords(slices.MaxFunc(groups, by).Turns))
	}
}

// TurnWords is a number of turns with the flats of the hexagon it makes: whole
// ones, and the rest in degrees to the nearest five.
func TurnWords(turns float64) string {
	rest := int(math.Round(turns*360/5)) * 5
	flats := rest / 60
	rest -= 60 * flats
	var parts []string
	if flats > 0 || rest == 0 {
		parts = []string{fmt.Sprintf("%d flat%s", flats, words.Plural(flats))}
	}
	if rest > 0 {
		parts = append(parts, fmt.Sprintf("%d\u00b0", rest))
	}
	return fmt.Sprintf("%s turns (%s)", number.Fixed(turns, 2), strings.Join(parts, ", "))
}

// gapPerN is how much farther apart the plates get at a rod for each newton more
// in it, its nuts left alone, mm; 0 with springs, whose height tells more.
func (c rodCurve) gapPerN() float64 {
	if c.spring.Kind != SpringNone {
		return 0
	}
	return 1 / c.k
}

func describeTorque(f *fixture, s *Setting, say func(string, ...any)) {
	nm := func(v float64) float64 { return v / 1000 }
	if s.DragNMM.Greatest > f.nominalClamp() {
		say("A torque wrench cannot set this: the nut's own drag is up to %.2f N·m, the clamping needs only %.2f N·m (%.2f to %.2f N·m over the friction band). Use %s.",
			nm(s.DragNMM.Greatest), nm(f.nominalClamp()), nm(s.ClampNMM.Least), nm(s.ClampNMM.Greatest), s.Method)
		say("If you must: measure the running torque of each nut with a beam wrench and add %.2f N·m to it.", nm(f.nominalClamp()))
		return
	}
	say("By torque: %.2f N·m nominal, %.2f to %.2f N·m over friction and nut drag; a wrench so set gives %.0f to %.0f N in all.",
		nm(s.NominalNMM), nm(s.TorqueNMM.Least), nm(s.TorqueNMM.Greatest), s.ForceN.Least, s.ForceN.Greatest)
	if !s.WrenchOK {
		say("That scatter leaves the window: use %s.", s.Method)
	}
}

// nominalClamp is the greatest rod's K d F at nominal friction.
func (f *fixture) nominalClamp() float64 {
	v := 0.0
	for r, rod := range f.in.Rods {
		v = math.Max(v, f.in.friction().Nominal*rod.DiameterMM*f.tight.rodF[f.s.groupOf[r]])
	}
	return v
}

// total sums the rod forces of the whole fixture.
func (f *fixture) total(sol *solution) float64 {
	sum := 0.0
	for _, g := range f.s.groupOf {
		sum += sol.rodF[g]
	}
	return sum
}
