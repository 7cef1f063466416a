package assure

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// Known is what readings of a fixture leave of the sigmas that a draw is made of: those
// of Fixture.Latents, then three (of the hand, friction and seating) for every later setting,
// then by how much the nuts have turned in since though nobody did, mm. A nil one is a
// fixture of which nothing was read.
type Known struct {
	Draws [][]float64 // each as likely as any other, seating by its size
	Sets  []Set       // as they were done; the first when the fixture was built
	Years float64     // of the last reading after the first setting
	Again bool        // the nuts are to be turned now, as was told
	Blind bool        // springs were set by their height, and not one of every rod was weighed
	Serve Band        // outside which a reading at storage charge has it set again; none: as of a clamp that is not read
	Cells []float64   // the most likely sigmas of the cells; nil: none
}

// Set is one setting of the nuts.
type Set struct {
	Years   float64 // after the first
	Method  Method
	TargetN float64 // of all ties, that the heights or torques read stand for by the tables
	TurnMM  float64 // by Turns: turned in, from snug for the first, else from where the nuts were
	ErrorMM float64 // one sigma of the mean height; 0: that of a hand
}

// Draw makes the sigmas of one fixture, n of them where nothing was read.
func (k *Known) Draw(r *rand.Rand, n int) []float64 {
	if k != nil {
		return slices.Clone(k.Draws[r.IntN(len(k.Draws))])
	}
	out := make([]float64, n)
	for i := range out {
		out[i] = r.NormFloat64()
	}
	return out
}

// OfCells is what is known of the cells alone: in another clamp of n sigmas, set anew.
func (k *Known) OfCells(n int) *Known {
	out, r := new(Known), source(1, 14)
	for _, z := range k.Draws {
		own := (*Known)(nil).Draw(r, n)
		copy(own[:OfCells], z)
		out.Draws = append(out.Draws, own)
	}
	return out
}

// Parameter is the middle of what is known of one sigma, and how wide it is left; of a
// fixture of which nothing was read the range's own.
func (k *Known) Parameter(at int) (middle, wide float64) {
	if k == nil {
		return 0, 1
	}
	for _, z := range k.Draws {
		middle += z[at] / float64(len(k.Draws))
	}
	for _, z := range k.Draws {
		wide += (z[at] - middle) * (z[at] - middle) / float64(len(k.Draws))
	}
	return middle, math.Sqrt(wide)
}

// Seated are sigmas as a draw takes them: seating, which is never less than nothing, moves
// evenly with its sigma here.
func Seated(z []float64) []float64 {
	z = slices.Clone(z)
	z[ofSeat] = halfNormal(math.Min(z[ofSeat], 8))
	return z
}

// halfNormal is the size of a sigma that stands in the same place among sizes as z among
// sigmas.
func halfNormal(z float64) float64 {
	upper := math.Erfc(z/math.Sqrt2) / 4 // half of what lies above z
	return math.Sqrt2 * math.Erfcinv(2*upper)
}

func (k *Known) now() float64 {
	if k == nil {
		return 0
	}
	return k.Years
}

// pin holds one sigma at a value.
type pin struct {
	at    int
	value float64
}

// gain is how all sigmas follow one that is pinned.
type gain struct {
	pin
	follow []float64
}

// gains are those of pins, one after another: what is known of the others with it is
// known of them given the pin (Matheron's rule; from memory).
func (k *Known) gains(pins []pin, n int) (out []gain) {
	if len(pins) == 0 {
		return nil
	}
	cov := k.covariance(n)
	for _, p := range pins {
		g := gain{pin: p, follow: make([]float64, len(cov))}
		own := cov[p.at][p.at]
		for i := range cov {
			if g.follow[i] = cov[i][p.at] / math.Max(own, 1e-12); own < 1e-12 {
				g.follow[i] = 0
			}
		}
		g.follow[p.at] = 1
		for i := range cov {
			for j := range cov {
				cov[i][j] -= g.follow[i] * g.follow[j] * own
			}
		}
		out = append(out, g)
	}
	return out
}

// covariance is that of the sigmas; of a fixture of which nothing was read each is alone.
func (k *Known) covariance(n int) [][]float64 {
	if k == nil {
		cov := make([][]float64, n)
		for i := range cov {
			cov[i] = make([]float64, n)
			cov[i][i] = 1
		}
		return cov
	}
	part := 1 / float64(len(k.Draws))
	n = len(k.Draws[0])
	mean, cov := make([]float64, n), make([][]float64, n)
	for _, z := range k.Draws {
		floats.AddScaled(mean, part, z)
	}
	for i := range cov {
		cov[i] = make([]float64, n)
		for _, z := range k.Draws {
			floats.AddScaled(cov[i], part*(z[i]-mean[i]), z)
		}
	}
	return cov
}

func pinned(z []float64, gains []gain) []float64 {
	for _, g := range gains {
		off := g.value - z[g.at]
		for i, v := range g.follow {
			z[i] += v * off
		}
	}
	return z
}

// Life is one draw of a fixture whose nuts were turned.
type Life struct {
	*batch
	u, set float64 // what the nuts are turned in to, but for growth, and the force as last set
	shift  float64 // by which the cells are shorter than those as last set would be, mm
	done   int     // settings
}

// live sets a draw: as the card says, or as it was set.
func (f *Fixture) live(z []float64, turn float64) *Life {
	l := f.Life(z, turn)
	if f.Known == nil || len(f.Known.Sets) == 0 {
		l.SetAs(Set{Method: f.Method, TargetN: f.TargetN, TurnMM: turn}, z)
		return l
	}
	for _, s := range f.Known.Sets {
		l.SetAs(s, z)
	}
	l.Drift(z[len(z)-1])
	return l
}

// Life is a draw before its nuts are tightened.
func (f *Fixture) Life(z []float64, turn float64) *Life {
	i := 0
	d := f.draw(func() float64 { i++; return z[i-1] })
	return &Life{batch: f.batch(&d)}
}

// SetAs is the next setting.
func (l *Life) SetAs(s Set, z []float64) {
	f := *l.Fixture
	f.Method, f.TargetN = s.Method, s.TargetN
	d := *l.draw
	now, moved := fresh, 0.0
	if l.done > 0 {
		at := z[l.Latents()+3*(l.done-1):]
		d.hand, d.rub, d.seat = at[0], at[1], at[2]
		now, moved = l.aged(s.Years), l.moved(s.Years, f.SetCharge, 0)
	}
	own := *l.batch
	own.Fixture, own.draw, own.height = &f, &d, s.ErrorMM
	if s.Method != Weighed {
		own.known = 1
	}
	if s.Method == Turns && l.done > 0 {
		turned := s.TurnMM + f.TurnErrorMM/math.Sqrt(3*float64(f.Ties))*d.rub
		l.set = l.force(l.u+moved+turned, now, f.TargetN)
	} else {
		l.set = f.set(&own, s.TurnMM)
	}
	was := l.closed(l.set, now)
	l.fixAt(l.set)
	l.shift += was - l.closed(l.set, now)
	l.u, _ = l.taken(l.set, now)
	l.u -= moved
	l.done++
}

// closed is by how much the plates are nearer at the ties than where all just touches.
func (l *Life) closed(force float64, now aged) float64 {
	all, _ := l.taken(force, now)
	return all - l.Stretch.of(force/float64(l.Ties)/l.strength)
}

// Pressed is what can be read of a clamp under a force: ForceN, the nuts turned in TurnMM
// from where all touches, by how much the plates came closer beside the ties ClosedMM, and
// how far the middle of one plate bows out, BowMM.
type Pressed struct{ ForceN, TurnMM, ClosedMM, BowMM float64 }

// Tightening is the clamp on the way to its first setting.
func (l *Life) Tightening(force float64) Pressed {
	l.spread = 0
	turn, _ := l.taken(force, fresh)
	return Pressed{force, turn, l.closed(force, fresh), l.bow(force, 1, 0)}
}

// Snug is the force called snug.
func (l *Life) Snug() float64 {
	z := l.snug
	if l.Method == Turns { // the force that turns are counted from
		z = l.hand
	}
	return l.SnugN * math.Exp(SnugError*z)
}

// At is the clamp as set, years after the first setting.
func (l *Life) At(years, charge, tempC float64) Pressed {
	now, warmer := l.aged(years), tempC-l.AssemblyC
	force := l.force(l.u+l.moved(years, charge, warmer), now, l.set)
	grown := float64(l.Cells) * l.ThicknessMM * l.grown(years, charge)
	longer := (1-2*(1-l.even)*(1-l.bend.Dome))*grown + l.cte*float64(l.Cells)*l.ThicknessMM*warmer
	return Pressed{force, l.u, l.closed(force, now) + l.shift - longer, l.bow(force, now.plate, grown)}
}

// bow is that of one plate: of the force, and of what cells that dome grew by.
func (l *Life) bow(force, plate, grown float64) float64 {
	b := l.bending(l.knots, l.lnAt(math.Max(force, 1)/l.FaceMM2))
	_, bow := b.of(plate * l.bendMod)
	return force*bow + 2*(1-l.even)*b.BowDome*grown
}

// Grows is how much one cell grows from empty to full, and for good in so many years, mm.
func (l *Life) Grows(years float64) (full, lasting float64) {
	full, lasting = l.grows(years)
	return l.ThicknessMM * full, l.ThicknessMM * lasting
}

// BowAt is that of one plate under a force, years after the first setting.
func (l *Life) BowAt(force, years, charge float64) float64 {
	return l.bow(force, l.aged(years).plate, float64(l.Cells)*l.ThicknessMM*l.grown(years, charge))
}

// Strength is the springs' force over that listed.
func (l *Life) Strength() float64 { return l.strength }

// Squeezed is that of a bare row under a pressure, mm.
func (l *Life) Squeezed(mpa float64) float64 {
	b := *l.batch
	b.fixed = -1
	mm, _ := b.squeeze(mpa, b.lnAt(mpa))
	return mm
}

// Needs is by how much the nuts are to be turned in for the force to be another, with the
// cells, years and charge as they are, mm.
func (l *Life) Needs(force, years, charge, tempC float64) float64 {
	now := l.aged(years)
	moved := l.moved(years, charge, tempC-l.AssemblyC)
	want, _ := l.taken(force, now)
	return want - l.u - moved
}

// Drift turns the nuts in by so much, though nobody did.
func (l *Life) Drift(mm float64) { l.u += mm }
