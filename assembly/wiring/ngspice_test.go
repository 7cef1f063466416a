package wiring

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"clampwright/parts/geom"
	"clampwright/testdata/outside"
)

// How near the circuit solution and a general-purpose circuit simulator must come: volts
// between terminals, and amperes as a part of the greatest current of the circuit or of
// one ampere, through cells, links and a bridge. Both solve in doubles; resistances of
// tens of microohm cost six of the sixteen digits.
const (
	spiceV = 1e-10
	spiceA = 1e-8
)

// spiced is a deck of circuits that share ground alone, with what each must give.
type spiced struct {
	deck   strings.Builder
	probes []probe
	count  int
}

type probe struct {
	what, name string
	want, tol  float64
}

// add writes a network as a circuit, every cell a source behind its resistance, every
// link a resistor with a meter, an amps load at its mains, and a bridge of no resistance
// where one is given; the first node of each island is ground.
func (d *spiced) add(t *testing.T, what string, n Network, m Mains, amps float64, bridge *[2]Post) {
	t.Helper()
	s, err := NewSolver(n)
	if err != nil {
		t.Fatal(err)
	}
	sol, err := s.Load(m, amps)
	if err != nil {
		t.Fatal(err)
	}
	d.count++
	c := d.count
	node := func(p Post) string {
		if s.island.find(p.node()) == p.node() {
			return "0"
		}
		return fmt.Sprintf("n%d_%d", c, p.node())
	}
	expect := func(name string, want, tol float64) { d.probes = append(d.probes, probe{what, name, want, tol}) }
	most := 1.0
	for _, a := range append(sol.CellA, sol.LinkA...) {
		most = max(most, math.Abs(a))
	}
	for slot, v := range n.EMF {
		fmt.Fprintf(&d.deck, "V%d_%d x%d_%d %s DC %.15g\n", c, slot, c, slot, node(n.Turns.At(slot, Minus)), v)
		fmt.Fprintf(&d.deck, "R%d_%d x%d_%d %s %.15g\n", c, slot, c, slot, node(n.Turns.At(slot, Plus)), n.CellOhm[slot])
		if bridge == nil {
			expect(fmt.Sprintf("v%d_%d#branch", c, slot), -sol.CellA[slot], spiceA*most) // into the source's plus
		}
	}
	for i, k := range n.Links {
		fmt.Fprintf(&d.deck, "RL%d_%d %s y%d_%d %.15g\nVL%d_%d y%d_%d %s DC 0\n", c, i, node(k.A), c, i, n.LinkOhm[i], c, i, c, i, node(k.B))
		if bridge == nil {
			expect(fmt.Sprintf("vl%d_%d#branch", c, i), sol.LinkA[i], spiceA*most)
		}
	}
	if amps != 0 {
		fmt.Fprintf(&d.deck, "I%d %s %s DC %.15g\n", c, node(m.Plus), node(m.Minus), amps)
	}
	if bridge != nil {
		v, ohm, _ := s.Between(bridge[0], bridge[1])
		fmt.Fprintf(&d.deck, "VB%d %s %s DC 0\n", c, node(bridge[1]), node(bridge[0]))
		expect(fmt.Sprintf("vb%d#branch", c), v/ohm, spiceA*math.Abs(v/ohm))
		return
	}
	for i := range 2 * len(n.EMF) {
		if name := node(postOf(i)); name != "0" {
			expect(name, sol.At(postOf(i)), spiceV)
		}
	}
}

// run has the deck solved and compares.
func (d *spiced) run(t *testing.T) {
	t.Helper()
	bin := outside.Program(t, "ngspice")
	file := filepath.Join(t.TempDir(), "pack.cir")
	deck := "pack\n" + d.deck.String() + ".options numdgt=14 reltol=1e-12 vntol=1e-12 abstol=1e-12\n.control\nset numdgt=14\nop\nprint all\nquit\n.endc\n.end\n"
	if err := os.WriteFile(file, []byte(deck), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(bin, "-b", file).CombinedOutput()
	got := map[string]float64{}
	for lines := bufio.NewScanner(strings.NewReader(string(out))); lines.Scan(); {
		name, value, ok := strings.Cut(lines.Text(), " = ")
		if v, bad := strconv.ParseFloat(strings.TrimSpace(value), 64); ok && bad == nil {
			got[strings.TrimSpace(name)] = v
		}
	}
	worst := map[bool]float64{}
	for _, p := range d.probes {
		v, ok := got[p.name]
		if !ok {
			t.Fatalf("%s: no %s: %v\n%.2000s", p.what, p.name, err, out)
		}
		near(t, p.what+" "+p.name, v, p.want, p.tol)
		amps := strings.HasSuffix(p.name, "#branch")
		worst[amps] = max(worst[amps], math.Abs(v-p.want)/p.tol)
	}
	t.Logf("%d circuits, %d figures; furthest off %.2g of the %g V and %.2g of the part %g of the amperes allowed", d.count, len(d.probes), worst[false], spiceV, worst[true], spiceA)
}

// unlike gives a layout cells that differ in capacity, resistance and voltage.
func unlike(t *testing.T, in Input, r *rand.Rand) (*Layout, []float64) {
	l := mustLayout(t, in)
	cells, volts := make([]Record, l.Cells()), make([]float64, l.Cells())
	for i := range cells {
		cells[i] = Record{CapacityAh: in.CapacityAh * (0.9 + 0.2*r.Float64()), MilliOhm: in.CellMilliOhm * (0.7 + 0.6*r.Float64())}
		volts[i] = (2*r.Float64() - 1) * plateauV
	}
	return WithCells(l, cells), volts
}

// Every state of the work: the pack after every step of every plan and of the way apart
// and together again, at every link in hand, at rest, under its load, and bridged where
// that gives most; cells of unlike capacity, resistance and voltage.
//
// Found: off by at most 2e-12 V and by 7e-10 of the amperes.
func TestCircuitAgainstNgspice(t *testing.T) {
	alu, rows, thin := pack(6, 1, 3, 2), pack(4, 2, 4, 2), pack(12, 1, 2, 6)
	alu.Bar = Bar{Material: Aluminium, WidthMM: 25, ThicknessMM: 3}
	rows.FromRight = true
	thin.PitchMM, thin.PadDiaMM = 36, 14
	double := twoScrewed(pack(5, 1, 5, 1), geom.Vec2{X: 18})
	double.PlusAt, double.MinusAt = TerminalAt{XMM: 64, ZMM: 6, HeightMM: 5}, TerminalAt{XMM: -50, ZMM: -9, HeightMM: 3}
	for name, in := range map[string]Input{
		"4s1p": pack(4, 1, 4, 1), "8s2p": pack(16, 1, 8, 2), "3s3p": pack(9, 1, 3, 3), "16s1p in two rows": pack(8, 2, 16, 1),
		"3s2p aluminium": alu, "4s2p in two rows": rows, "2s6p thin": thin, "1s4p": pack(4, 1, 1, 4), "5s1p of two screws, unlike": double,
	} {
		t.Run(name, func(t *testing.T) {
			in.BoardA = 20
			l, stray := unlike(t, in, rand.New(rand.NewPCG(3, uint64(in.Series))))
			for _, p := range mustPlans(t, l) {
				var d spiced
				for _, s := range p.States {
					n := networkOf(l, s, in.Volts.Full)
					d.add(t, s.ID+" loaded", n, s.Mains, s.CurrentA, nil)
					if e := worstOf(p, s.ID); e != nil {
						d.add(t, s.ID+" worst exposure", n, s.Mains, 0, &[2]Post{e.A, e.B})
						near(t, "exposure, kA", e.Amps/1000, math.Abs(d.probes[len(d.probes)-1].want)/1000, 1e-6)
					}
				}
				moments, _ := Walk(l, p)
				back, _ := Walk(l, p.Renewal(l, moments[len(moments)-1], 0))
				for _, m := range append(moments, back...) {
					if l.Cells() > 9 && m.InHand != nil {
						continue // the large packs after every step alone
					}
					n := networkOf(l, State{Turns: m.Turns, Links: m.Links}, 0)
					for i, v := range m.CellV(l) {
						n.EMF[i] = v + stray[i]
					}
					what := fmt.Sprintf("%s step %d", p.ID, m.Step)
					d.add(t, what, n, Mains{Post{0, Left}, Post{0, Right}}, 0, nil)
					d.add(t, what+" bridged", n, Mains{Post{0, Left}, Post{0, Right}}, 0, hardest(t, n))
				}
				d.run(t)
			}
		})
	}
}

// worstOf is the exposure of a state that carries most.
func worstOf(p Plan, state string) (worst *Exposure) {
	for i, e := range p.Exposures {
		if e.State == state && (worst == nil || e.Amps > worst.Amps) {
			worst = &p.Exposures[i]
		}
	}
	return worst
}

// hardest are the two terminals whose bridge carries most.
func hardest(t *testing.T, n Network) *[2]Post {
	t.Helper()
	s, err := NewSolver(n)
	if err != nil {
		t.Fatal(err)
	}
	most, at := 0.0, [2]Post{}
	for i := range 2 * len(n.EMF) {
		for j := range i {
			if v, ohm, ok := s.Between(postOf(i), postOf(j)); ok && math.Abs(v/ohm) > most {
				most, at = math.Abs(v/ohm), [2]Post{postOf(i), postOf(j)}
			}
		}
	}
	return &at
}
