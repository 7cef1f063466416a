package hunt

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/assembly/wiring"
	"clampwright/params"
	"clampwright/testdata/outside"
)

// solidError is how far a gap of the outside library may be off, mm: rounds are
// prisms as wide as a circle on average (see TestSolidsOwnError).
const solidError = 0.02

// sharedError is the shared volume below which two solids only touch, mm3.
const sharedError = 0.5

// asked is one pair to be measured for a rule.
type asked struct {
	rule rule
	u, v *body
	need float64
}

// rule is a rule of the program's, of one kind of thing.
type rule struct {
	id finding.ID
	of string
}

// inquiry is what is asked about one fixture.
type inquiry struct {
	bodies []*body
	number map[*body]int
	asked  []asked
	far    map[rule]float64 // least of gap less need of pairs that are too far off to be asked
}

// beyond is how far over its need a gap is still measured, mm.
const beyond = 0.25

// pair asks for a gap, unless boxes and axes alone tell that it is wide.
func (q *inquiry) pair(r rule, u, v *body, need float64) {
	apart := u.least(v)
	if need <= 0 && !u.overlaps(v) { // touching is no overlap
		need = -2 * beyond
	}
	if apart-need > beyond {
		if spare := apart - max(need, 0); q.spare(r) > spare {
			q.far[r] = spare
		}
		return
	}
	for _, w := range []*body{u, v} {
		if _, known := q.number[w]; !known {
			q.number[w] = len(q.bodies)
			q.bodies = append(q.bodies, w)
		}
	}
	q.asked = append(q.asked, asked{r, u, v, need})
}

// least is a lower bound of the gap of two bodies: of their boxes, across z also of rounds.
func (b *body) least(v *body) float64 {
	between := func(i int) float64 { return max(0, b.Lo[i]-v.Hi[i], v.Lo[i]-b.Hi[i]) }
	across := math.Hypot(between(0), between(1))
	if b.Axis == "z" && v.Axis == "z" && b.At == v.At { // one inside the other
		across = max(0, b.Bore-v.R, v.Bore-b.R)
	}
	for u, v := range map[*body]*body{b: v, v: b} {
		if u.Axis != "z" {
			continue
		}
		dx, dy := max(0, v.Lo[0]-u.At[0], u.At[0]-v.Hi[0]), max(0, v.Lo[1]-u.At[1], u.At[1]-v.Hi[1])
		across = max(across, math.Hypot(dx, dy)-u.R)
		if v.Axis == "z" {
			across = max(across, math.Hypot(v.At[0]-u.At[0], v.At[1]-u.At[1])-u.R-v.R)
		}
	}
	return math.Hypot(across, between(2))
}

// spare is the least known so far of a rule.
func (q *inquiry) spare(r rule) float64 {
	if spare, known := q.far[r]; known {
		return spare
	}
	return math.Inf(1)
}

// overlaps says whether the boxes of two bodies share space.
func (b *body) overlaps(v *body) bool {
	for i := range 3 {
		if min(b.Hi[i], v.Hi[i])-max(b.Lo[i], v.Lo[i]) < 1e-3 {
			return false
		}
	}
	return true
}

// pairs asks for all of two lists.
func (q *inquiry) pairs(r rule, us, vs []*body, need float64) {
	for _, u := range us {
		for _, v := range vs {
			q.pair(r, u, v, need)
		}
	}
}

// frame is all metal of the frame but rods that a sleeve insulates.
func frame(s *scene, groups ...group) []*body {
	return slices.DeleteFunc(s.of(groups...), func(w *body) bool {
		return !w.metal || w.of == aRod && insulating(s.f)
	})
}

// insulating says whether the sleeves keep the rods' metal away: a wall of 0.3 mm at
// least of what does not conduct.
func insulating(f *params.Fixture) bool {
	v := f.Sleeve
	return v != nil && !v.Material.Conducts && (v.Outer-v.Inner).MM()/2 >= 0.3-1e-9
}

// about asks all that solids tell of a fixture.
func about(f *params.Fixture, links []*body, left func(row, i int) bool) *inquiry {
	q := &inquiry{number: map[*body]int{}, far: map[rule]float64{}}
	s, wide := newScene(f, false, left), newScene(f, true, left)
	c := f.Clearances
	hardware := []group{anAngle, aWasher, aSpring, aNut, aJamNut, aSleeve}
	q.pairs(rule{"metal-to-cell", "rod"}, frame(wide, aRod), wide.of(aCell), c.MetalToCell.MM())
	q.pairs(rule{"metal-to-cell", "hardware"}, frame(wide, hardware...), wide.of(aCell), c.MetalToCell.MM())
	q.pairs(rule{"sleeve-to-cell", ""}, wide.of(aSleeve), wide.of(aCell), 0)
	all := append([]group{aPlate, aRod}, hardware...)
	q.pairs(rule{"metal-to-terminal", "terminal"}, frame(s, all...), s.of(aTerminal), c.MetalToTerminal.MM())
	q.pairs(rule{"metal-to-terminal", "vent"}, frame(s, all...), s.of(aVent), c.MetalToTerminal.MM())
	if len(links) > 0 {
		q.pairs(rule{"link-to-metal", ""}, frame(s, all...), links, c.MetalToTerminal.MM())
	}
	q.links(s, links)
	q.tools(s, links)
	q.screws(wide)
	q.fouls(s)
	q.fouls(wide)
	return q
}

// links asks for bars against each other, terminals and cases.
func (q *inquiry) links(s *scene, links []*body) {
	need := 0.01
	switch sheet := s.f.Electrical.LinkSheet.MM(); {
	case s.f.Cell.CaseLive && sheet >= 0.3-1e-9:
		need = sheet
	case s.f.Cell.CaseLive:
		need = s.f.Clearances.MetalToCell.MM()
	}
	for i, u := range links {
		for _, v := range links[:i] {
			if u.live != v.live {
				q.pair(rule{"link-to-link", ""}, u, v, s.f.Clearances.MetalToTerminal.MM())
			}
		}
		q.pairs(rule{"link-to-case", ""}, []*body{u}, s.of(aCell), need)
	}
}

// tools sweeps driver, pliers, chuck and what blows out of a vent.
func (q *inquiry) tools(s *scene, links []*body) {
	f := s.f
	c, tools := f.Clearances, f.Tools
	for _, nut := range s.of(aNut) {
		if nut.end < 0 && s.ends[-1] == s.ends[1] {
			continue // as at the front
		}
		t := s.ends[nut.end]
		start := max(t.spring, t.leg+c.ToolToMetal.MM())
		if r := tools.Socket.Outer.MM() / 2; r > 0 {
			sweep := round("socket", "z", nut.At, r, 0, nut.end*start, nut.end*(t.jam+tools.SocketWith.MM()))
			for _, w := range s.all {
				if w.column == nut.column && w.rung == nut.rung && w.of != aTerminal && w.of != anAngle && (w.of == aRod || w.end == nut.end) {
					continue // on the same end of the same rod
				}
				switch w.of {
				case aCell, aSeparator, aLiner:
					q.pair(rule{"driver-to-cell", ""}, sweep, w, c.ToolToCell.MM())
				case aTerminal, aVent:
					q.pair(rule{"driver-to-terminal", ""}, sweep, w, c.ToolToTerminal.MM())
				default:
					q.pair(rule{"driver-to-metal", ""}, sweep, w, c.ToolToMetal.MM())
				}
			}
			q.pairs(rule{"driver-to-terminal", ""}, []*body{sweep}, links, c.ToolToTerminal.MM())
		}
		if f.Stiffener != nil {
			turning := round("turning nut", "z", nut.At, f.Nut.Corners.MM()/2, 0, nut.end*t.spring, nut.end*t.nut)
			for _, a := range s.of(anAngle) {
				if a.end == nut.end && a.rung == nut.rung {
					q.pair(rule{"nut-turns", ""}, turning, a, 0)
				}
			}
		}
	}
	for _, a := range s.of(anAngle) {
		if a.end < 0 {
			continue // as at the front
		}
		for _, h := range a.Holes {
			from := s.ends[a.end].leg + 8*f.Rods.Hole.MM()
			r := tools.DrillBody.MM() / 2
			chuck := round("chuck", "z", [3]float64{h[0], h[1], 0}, r, 0, a.end*from, a.end*(from+4*r))
			q.pair(rule{"drill-access", ""}, chuck, a, c.ToolToMetal.MM())
		}
	}
	for _, v := range s.of(aVent) {
		if c.VentFree.MM() <= 0.2 {
			continue
		}
		space := box("space over a vent", [3]float64{v.Lo[0], v.Lo[1] + 0.2, v.Lo[2]}, [3]float64{v.Hi[0], v.Lo[1] + c.VentFree.MM(), v.Hi[2]})
		for _, w := range append(slices.Clone(s.all), links...) {
			if w != v && !(w.of == aCell && w.row == v.row && w.place == v.place) {
				q.pair(rule{"vent-free", ""}, space, w, 0)
			}
		}
	}
}

// screws sweeps the mounting screws: head and washer inside, nut and driver outside.
func (q *inquiry) screws(s *scene) {
	f := s.f
	if f.Plate.Feet == nil {
		return
	}
	screw, washer, _ := f.FootScrew()
	x, y := (f.Plate.Width/2 - f.Plate.Feet.Inset).MM(), (f.Plate.Bottom + f.Plate.Feet.Inset).MM()
	deep := (washer.Thickness + screw.Major).MM()
	for end, t := range s.ends {
		if end < 0 && s.ends[-1] == s.ends[1] {
			continue
		}
		for _, side := range []float64{x, -x} {
			at := [3]float64{side, y, 0}
			inside := round("screw inside", "z", at, washer.Outer.MM()/2, 0, end*(t.liner-deep), end*t.liner)
			outside := round("screw outside", "z", at, washer.Outer.MM()/2, 0, end*t.plate, end*(t.plate+deep+f.Tools.SocketWith.MM()))
			for _, w := range s.all {
				switch {
				case w.of == aPlate && w.end == end:
				case w.of == aCell:
					q.pair(rule{"screw-to-cell", ""}, inside, w, f.Clearances.MetalToCell.MM())
					q.pair(rule{"opening-free", "mounting hole"}, outside, w, f.Clearances.ToolToMetal.MM())
				default:
					q.pair(rule{"opening-free", "mounting hole"}, inside, w, 0)
					q.pair(rule{"opening-free", "mounting hole"}, outside, w, f.Clearances.ToolToMetal.MM())
				}
			}
		}
	}
}

// fouls asks of every pair whether it shares space; plates and angles are alike at both
// ends.
func (q *inquiry) fouls(s *scene) {
	for i, u := range s.all {
		for _, v := range s.all[:i] {
			if u.of == aTerminal && v.of == aTerminal && u.row == v.row && u.place == v.place && u.column == v.column {
				continue // an oblong terminal: the pads of its screws
			}
			if threaded(u, v) || threaded(v, u) || s.wide && !s.moves(u) && !s.moves(v) || u.end < 0 && v.of == aRod || v.end < 0 && u.of == aRod {
				continue
			}
			q.pair(rule{"parts-apart", string(min(u.of, v.of) + " - " + max(u.of, v.of))}, u, v, 0.05-beyond)
		}
	}
}

// moves says whether a body is elsewhere or larger where the cells are at their largest.
func (s *scene) moves(w *body) bool {
	return w.of == aCell || w.of == aTerminal || w.of == aVent || w.of == aSeparator
}

// threaded is a nut on its rod.
func threaded(u, v *body) bool {
	return u.of == aRod && (v.of == aNut || v.of == aJamNut) && u.column == v.column && u.rung == v.rung
}

// measured is what the outside library says of a rule: the least of gap less need, and
// the most that is shared.
type measured struct {
	spare, shared float64
	at            string
}

// library is the outside library, running.
type library struct {
	in  io.WriteCloser
	out *bufio.Reader
	cmd *exec.Cmd
}

func startLibrary(t *testing.T) *library {
	t.Helper()
	dir := outside.Modules(t, "manifold-3d")
	l := &library{cmd: exec.Command(outside.Program(t, "node"), filepath.Join("testdata", "solids.mjs"), dir)}
	var err error
	if l.in, err = l.cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := l.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	l.out = bufio.NewReader(out)
	if err := l.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = l.in.Close(); _ = l.cmd.Wait() })
	return l
}

// gaps measures pairs of bodies: their numbers, the reach, and 1 to have the shared
// volume too.
func (l *library) gaps(t *testing.T, bodies []*body, pairs [][4]float64) (out []struct{ Gap, Shared float64 }) {
	t.Helper()
	text, err := json.Marshal(map[string]any{"bodies": bodies, "pairs": pairs})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := l.in.Write(append(text, '\n')); err != nil {
		t.Fatal(err)
	}
	line, err := l.out.ReadBytes('\n')
	if err == nil {
		err = json.Unmarshal(line, &out)
	}
	if err != nil {
		t.Fatalf("the outside library: %v %s", err, line)
	}
	return out
}

// measure answers an inquiry.
func (l *library) measure(t *testing.T, q *inquiry) map[rule]measured {
	t.Helper()
	out := map[rule]measured{}
	for r, spare := range q.far {
		out[r] = measured{spare: spare}
	}
	var pairs [][4]float64
	for _, a := range q.asked {
		both := 0.0
		if a.need <= 0 {
			both = 1
		}
		pairs = append(pairs, [4]float64{float64(q.number[a.u]), float64(q.number[a.v]), max(a.need, 0) + beyond, both})
	}
	for i, g := range l.gaps(t, q.bodies, pairs) {
		a := q.asked[i]
		m, known := out[a.rule]
		if spare := g.Gap - max(a.need, 0); !known || spare < m.spare || g.Shared > m.shared {
			m.spare, m.at = spare, fmt.Sprintf("%v against %v: %.4f mm, shared %.3f mm3", a.u, a.v, g.Gap, g.Shared)
		}
		m.shared = max(m.shared, g.Shared)
		out[a.rule] = m
	}
	return out
}

// bySolids compares the program's findings with what the outside library measures.
func (h *hunt) bySolids(text string, j *job.Job, l *library) {
	q := about(j.Fixture, nil, func(row, i int) bool {
		return j.Wiring.Problem == "" && j.Wiring.Final().Turns[row*j.Fixture.Pack.PerRow+i] == wiring.Left
	})
	said := verdicts(j.Findings)
	fouled := false // by any rule on things in one place
	for _, id := range []finding.ID{"parts-apart", "gap", "rod-passes", "washer-flat"} {
		fouled = fouled || said[rule{id, ""}].Verdict == finding.Fail
	}
	for r, m := range l.measure(h.t, q) {
		if r.id == "parts-apart" {
			h.count("solids")
			if m.shared > sharedError && !fouled {
				h.falsePass(text, r, m.at)
			}
			if got := said[r]; got.Verdict == finding.Fail && m.spare > solidError+0.01 && m.shared == 0 && modelled(got) {
				h.falseFail(text, r, m.at)
			}
			continue
		}
		got, known := said[r]
		if !known {
			if got, known = said[rule{r.id, ""}]; !known {
				h.t.Errorf("no finding %v\n%s", r, text)
				continue
			}
		}
		h.count("solids")
		switch broken := m.spare < -solidError || m.shared > sharedError; {
		case broken && got.Verdict == finding.Pass:
			h.falsePass(text, r, m.at)
		case m.spare > solidError && m.shared == 0 && got.Verdict == finding.Fail && modelled(got):
			h.falseFail(text, r, m.at)
		}
	}
}

// verdicts are the findings by rule and kind, and the worst of a rule under no kind.
func verdicts(found []finding.Finding) map[rule]finding.Finding {
	out := map[rule]finding.Finding{}
	for _, f := range found {
		for _, r := range []rule{{f.ID, f.Of}, {f.ID, ""}} {
			if v, known := out[r]; !known || f.Verdict.Rank() > v.Verdict.Rank() {
				out[r] = f
			}
		}
	}
	return out
}

// modelled says whether a finding is on bodies that this judge has: it has no printed
// parts and no link bars.
func modelled(f finding.Finding) bool {
	return !slices.ContainsFunc(f.Between, func(name string) bool {
		return strings.Contains(name, "guard") || strings.Contains(name, "cap") || strings.Contains(name, "foot-") || strings.HasPrefix(name, "link")
	})
}

// The outside library measures gaps that are known by hand to solidError: a box from a
// box, a round from a box on both sides, two rounds, a rod in its hole, a round beside
// an angle's standing leg.
func TestSolidsOwnError(t *testing.T) {
	l := startLibrary(t)
	angle := &body{Kind: "section", Outline: [][2]float64{{0, 0}, {30, 0}, {30, 3}, {3, 3}, {3, 30}, {0, 30}}, Half: 100, Lo: [3]float64{-100, 0, 0}, Hi: [3]float64{100, 30, 30}}
	plate := box(aPlate, [3]float64{-50, -50, 0}, [3]float64{50, 50, 10})
	plate.Holes = [][3]float64{{7, 9, 5.5}}
	bodies := []*body{
		box(aCell, [3]float64{0, 0, 0}, [3]float64{10, 10, 10}), box(aCell, [3]float64{13.2, 14.1, 3}, [3]float64{20, 20, 9}),
		round(aRod, "z", [3]float64{-7.7, 5, 0}, 4, 0, -20, 20), round(aRod, "z", [3]float64{-20, 9, 0}, 6, 0, -20, 20),
		plate, round(aRod, "z", [3]float64{7, 9, 0}, 5, 0, -20, 20), angle, round("socket", "z", [3]float64{4, 13.3, 0}, 10, 0, 4, 60),
		round(aTerminal, "y", [3]float64{5, 10, 30}, 8, 0, 0, 3),
	}
	for _, c := range []struct{ a, b, want float64 }{
		{0, 1, math.Hypot(3.2, 4.1)}, {0, 2, 3.7}, {2, 3, math.Hypot(12.3, 4) - 10}, {4, 5, 0.5}, {6, 7, 0.3}, {0, 8, 12},
	} {
		got := l.gaps(t, bodies, [][4]float64{{c.a, c.b, 20, 1}})[0]
		if math.Abs(got.Gap-c.want) > solidError/2 || got.Shared > 0 {
			t.Errorf("%v to %v: %.4f mm, by hand %.4f", bodies[int(c.a)], bodies[int(c.b)], got.Gap, c.want)
		}
	}
}
