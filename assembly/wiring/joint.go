package wiring

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/params/number"
)

// What lies under a screw beside bars, and how screws come. From memory of the usual
// tables, or common practice without a source, as said.
const (
	lugMM  = 2.0 // a cable's lug, common practice
	ringMM = 0.8 // a sense lead's ring (DIN 46234 for 1 mm2, from memory)
	// bottomMM is left free under a screw: one that bottoms presses nothing and breaks
	// the terminal. Common practice.
	bottomMM = 0.5
	// goodShare of the free depth is filled where the thread is no deeper than the screw
	// is thick, leastShare of the screw's diameter in any case. Common practice.
	goodShare, leastShare = 0.7, 0.5
	mostPacking           = 2 // plain washers more under a head
)

// lugWideMM is how wide the flat of a cable's lug is: its sleeve pressed flat, and round
// the hole of a thread (DIN 46235 in round numbers, from memory).
func lugWideMM(mm2, dia float64) float64 { return max(3*math.Sqrt(mm2), 2.1*dia) }

// screwsMM are the usual lengths of screws (ISO 888, from memory).
var screwsMM = []float64{6, 8, 10, 12, 14, 16, 18, 20, 22, 25, 28, 30, 35, 40, 45, 50, 55, 60}

// lockMM is a spring lock washer of a thread by its diameter (from memory); else about a
// quarter of it.
func lockMM(dia float64) float64 {
	if lock, ok := map[float64]float64{4: 0.9, 5: 1.2, 6: 1.6, 8: 2, 10: 2.2}[dia]; ok {
		return lock
	}
	return dia / 4
}

// Joint is what one screw or nut holds on a terminal.
type Joint struct {
	Post   Post
	Lies   []Piece // the lowest first
	GripMM float64 // all of it with its washers, from the pad to the head or nut
	// ScrewMM is the screw's length, and Packing how many plain washers more go under
	// its head; 0 for a stud, or where the depth of the thread is not known.
	ScrewMM float64
	Packing int
	// HoldsMM is the length in the thread, of the terminal or above a stud's washers.
	HoldsMM float64
	// Beside is what each of the terminal's other screws holds, Others of them: lugs and
	// rings are on the first alone. Nil where the terminal has one screw.
	Beside *Joint
	Others int
}

// Piece is an end of a link, or a spacer under it.
type Piece struct {
	Link string // empty for a spacer
	Flat bool   // a bar: it lies flat
	MM   float64
}

// liesOn stacks links on their terminals in the order in which they went on. A bar lies
// flat: where its seats are not alike, or the terminals not of one height, a spacer goes
// under its lower end.
func liesOn(l *Layout, t Turns, links []Link) map[Post][]Piece {
	out := map[Post][]Piece{}
	for _, k := range links {
		lay(l, t, out, k)
	}
	return out
}

// lay lays a link on what lies.
func lay(l *Layout, t Turns, lies map[Post][]Piece, k Link) {
	piece := Piece{k.ID, !k.Cable, float64(k.layers()) * l.in.Bar.ThicknessMM}
	if k.Cable {
		piece.MM = lugMM
	}
	seat := func(p Post) float64 { return l.Height(p, t) + highMM(lies[p]) }
	top := max(seat(k.A), seat(k.B))
	for _, p := range [2]Post{k.A, k.B} {
		if gap := top - seat(p); piece.Flat && gap > lengthTolMM {
			lies[p] = append(slices.Clip(lies[p]), Piece{MM: number.Length.Round(gap)})
		}
		lies[p] = append(slices.Clip(lies[p]), piece)
	}
}

// lift is what lies once a link is off that lay on top at both ends, with the spacer under
// it; one from between others leaves the rest as if it had never been there.
func lift(l *Layout, t Turns, lies map[Post][]Piece, k Link, rest []Link) map[Post][]Piece {
	for _, p := range [2]Post{k.A, k.B} {
		n := len(lies[p]) - 1
		if n < 0 || lies[p][n].Link != k.ID {
			return liesOn(l, t, rest)
		}
		if n > 0 && lies[p][n-1].Link == "" {
			n--
		}
		lies[p] = lies[p][:n]
	}
	return lies
}

func highMM(lies []Piece) (high float64) {
	for _, p := range lies {
		high += p.MM
	}
	return high
}

// jointsOf are the joints at the two terminals of a link, of what lies there by then.
func jointsOf(l *Layout, k Link, lies map[Post][]Piece) [2]Joint {
	return [2]Joint{l.in.fastened(Joint{Post: k.A, Lies: lies[k.A]}), l.in.fastened(Joint{Post: k.B, Lies: lies[k.B]})}
}

// HighMM is how high above its pads a link lies in the end.
func (p Plan) HighMM(link Link) float64 {
	var last []Piece
	p.eachJoint(func(j *Joint) {
		if j.Post == link.A {
			last = j.Lies
		}
	})
	return highMM(last[:max(0, slices.IndexFunc(last, func(x Piece) bool { return x.Link == link.ID }))])
}

// HoldsLeast is the least length of thread that a joint must have hold of; for screws
// only where the depth of the thread is known.
func (in Input) HoldsLeast() float64 {
	if in.StudHeightMM > 0 {
		return in.NutMM
	}
	return max(leastShare*in.StudDiaMM, min(in.StudDiaMM, goodShare*(in.ThreadDepthMM-bottomMM)))
}

// fastened picks the screws of a joint: one, or the first and those beside it.
func (in Input) fastened(j Joint) Joint {
	j = in.screwed(j)
	if j.Others = in.Screws - 1; j.Others > 0 {
		beside := Joint{Post: j.Post}
		for _, x := range j.Lies {
			if x.Flat || x.Link == "" {
				beside.Lies = append(beside.Lies, x)
			}
		}
		beside = in.screwed(beside)
		j.Beside = &beside
	}
	return j
}

// screwed picks one screw: the longest of the usual lengths that stays clear
// of the thread's bottom, with a washer or two more where that is too short to hold.
func (in Input) screwed(j Joint) Joint {
	j.GripMM = highMM(j.Lies) + in.WasherMM + lockMM(in.StudDiaMM)
	if in.StudHeightMM > 0 {
		j.HoldsMM = in.StudHeightMM - j.GripMM
		return j
	}
	if in.ThreadDepthMM == 0 {
		return j
	}
	j.HoldsMM = math.Inf(-1)
	for n := range mostPacking + 1 {
		grip := j.GripMM + float64(n)*in.WasherMM
		for _, long := range screwsMM {
			if holds := long - grip; holds <= in.ThreadDepthMM-bottomMM+lengthTolMM && holds > j.HoldsMM {
				j.HoldsMM, j.ScrewMM, j.Packing = holds, long, n
			}
		}
		if j.HoldsMM >= in.HoldsLeast()-lengthTolMM {
			break
		}
	}
	return j
}

// Joints are those of a plan after every link fitted or taken off, and every lug put on.
func (p Plan) Joints(l *Layout) (out [][]Joint) {
	now := map[Post]Joint{}
	p.eachJoint(func(j *Joint) {
		if now[j.Post] = *j; len(j.Lies) == 0 {
			delete(now, j.Post)
		}
		at := make([]Joint, 0, len(now))
		for node := range 2 * l.Cells() {
			if j, ok := now[postOf(node)]; ok {
				at = append(at, j)
			}
		}
		out = append(out, at)
	})
	return out
}

// eachJoint visits the joints in the order in which the plan makes or undoes them.
func (p Plan) eachJoint(visit func(*Joint)) {
	for _, s := range p.Steps {
		for i := range s.Before {
			visit(&s.Before[i].After[0])
			visit(&s.Before[i].After[1])
		}
		for i := range s.Lugs {
			visit(&s.Lugs[i])
		}
	}
}

// Screw is one kind of terminal screw: its length, or where that is not known the grip
// that it is found from; neither for a stud.
type Screw struct{ LongMM, GripMM float64 }

// Screw is the joint's.
func (j Joint) Screw(l *Layout) Screw {
	if j.ScrewMM > 0 || l.in.StudHeightMM > 0 {
		return Screw{LongMM: j.ScrewMM}
	}
	return Screw{GripMM: number.Length.Round(j.GripMM)}
}

// Each are the joints of all the terminal's screws.
func (j Joint) Each() []Joint {
	out := []Joint{j}
	for range j.Others {
		out = append(out, *j.Beside)
	}
	return out
}

// Screws counts the screws that a plan and the way back from its end need at once, by
// kind, with the plain washers and the spacers, by thickness.
func (p Plan) Screws(l *Layout) (screws map[Screw]int, washers int, spacers map[float64]int) {
	screws, spacers = map[Screw]int{}, map[float64]int{}
	all := p.Joints(l)
	if n := len(p.Steps); n > 0 && p.From == nil {
		all = append(all, p.Renewal(l, Moment{Step: n, Turns: p.Steps[n-1].Turns, Charge: []float64{l.in.StorageCharge}, Links: p.fitted()}, 0).Joints(l)...)
	}
	for _, at := range all {
		n, plain, low := map[Screw]int{}, 0, map[float64]int{}
		for _, j := range at {
			for _, j := range j.Each() {
				n[j.Screw(l)]++
				plain += 1 + j.Packing
				for _, x := range j.Lies {
					if x.Link == "" {
						low[x.MM]++
					}
				}
			}
		}
		for s, k := range n {
			screws[s] = max(screws[s], k)
		}
		for s, k := range low {
			spacers[s] = max(spacers[s], k)
		}
		washers = max(washers, plain)
	}
	return screws, washers, spacers
}

// JointText words a joint: "3+: J2, spacer 2 mm, J5, M6 x 16".
func (l *Layout) JointText(j Joint, t Turns) string {
	if len(j.Lies) == 0 {
		return l.ShortName(j.Post, t) + " bare"
	}
	var lies []string
	for _, p := range j.Lies {
		if p.Link == "" {
			lies = append(lies, "spacer "+mm(p.MM))
		} else {
			lies = append(lies, p.Link)
		}
	}
	text := l.ShortName(j.Post, t) + ": " + strings.Join(lies, ", ")
	if j.Beside == nil {
		return text + l.screwText(j)
	}
	first, other := l.screwText(j), l.screwText(*j.Beside)
	if first == other {
		return text + first + fmt.Sprintf(", on each of %d", 1+j.Others)
	}
	return text + first + "; beside it " + strings.TrimPrefix(other, ", ")
}

// screwText words what holds one joint.
func (l *Layout) screwText(j Joint) string {
	text := ""
	switch {
	case l.in.StudHeightMM > 0:
		return ", nut"
	case j.ScrewMM == 0:
		return fmt.Sprintf(", screw for %s", number.Trim(j.Screw(l).GripMM, 2)+" mm")
	case j.Packing > 0:
		text = ", " + count(j.Packing, "plain washer") + " more"
	}
	return text + fmt.Sprintf(", %s x %s", l.in.Thread, number.Trim(j.ScrewMM, 0))
}
