package wiring

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"clampwright/testdata/outside"
)

// netlist writes a state as a SPICE deck: every cell a source behind its
// resistance, every link a resistor, the load a current source, node 0 at the
// minus take-off. Only the slots that take part are written.
func netlist(l *Layout, s State) (deck string, nodes []Post) {
	var b strings.Builder
	b.WriteString("pack\n")
	name := func(p Post) string {
		if p == s.Mains.Minus {
			return "0"
		}
		return fmt.Sprintf("n%d", p.node())
	}
	for _, place := range s.Places {
		for _, slot := range place {
			plus, minus := s.Turns.At(slot, Plus), s.Turns.At(slot, Minus)
			fmt.Fprintf(&b, "V%d x%d %s DC %.12g\n", slot, slot, name(minus), l.in.Volts.Nominal)
			fmt.Fprintf(&b, "R%d x%d %s %.12g\n", slot, slot, name(plus), l.in.CellMilliOhm/1000)
			nodes = append(nodes, plus, minus)
		}
	}
	for i, k := range s.Links {
		fmt.Fprintf(&b, "RL%d %s %s %.12g\n", i, name(k.A), name(k.B), l.LinkOhm(k, s.Turns))
	}
	fmt.Fprintf(&b, "I1 %s 0 DC %.12g\n", name(s.Mains.Plus), s.CurrentA)
	b.WriteString(".options numdgt=12 reltol=1e-9 vntol=1e-12 abstol=1e-12\n.control\nset numdgt=12\nop\n")
	for _, p := range nodes {
		if n := name(p); n != "0" {
			fmt.Fprintf(&b, "print v(%s)\n", n)
		}
	}
	for _, place := range s.Places {
		for _, slot := range place {
			fmt.Fprintf(&b, "print i(v%d)\n", slot)
		}
	}
	b.WriteString("quit\n.endc\n.end\n")
	return b.String(), nodes
}

// spice runs the deck and returns what it printed, by name.
func spice(t *testing.T, deck string) map[string]float64 {
	t.Helper()
	bin := outside.Program(t, "ngspice")
	file := filepath.Join(t.TempDir(), "pack.cir")
	if err := os.WriteFile(file, []byte(deck), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(bin, "-b", file).CombinedOutput()
	got := map[string]float64{}
	lines := bufio.NewScanner(strings.NewReader(string(out)))
	for lines.Scan() {
		name, value, ok := strings.Cut(lines.Text(), " = ")
		if v, bad := strconv.ParseFloat(strings.TrimSpace(value), 64); ok && bad == nil {
			got[strings.TrimSpace(name)] = v
		}
	}
	if len(got) == 0 {
		t.Fatalf("ngspice printed nothing: %v\n%s", err, out)
	}
	return got
}

// The circuit solution against a general-purpose circuit simulator, every state
// of every plan of seven layouts: all node voltages and all cell currents.
func TestCircuitAgainstNgspice(t *testing.T) {
	alu := pack(6, 1, 3, 2)
	alu.Bar = Bar{Material: Aluminium, WidthMM: 25, ThicknessMM: 3}
	ladder := pack(4, 2, 4, 2)
	ladder.Route = Ladder
	thin := pack(12, 1, 2, 6)
	thin.PitchMM, thin.PadDiaMM = 36, 14
	for name, in := range map[string]Input{
		"4s1p": pack(4, 1, 4, 1), "8s2p": pack(16, 1, 8, 2), "16s1p in two rows": pack(8, 2, 16, 1),
		"3s2p aluminium": alu, "4s2p ladder": ladder, "2s6p thin": thin, "1s4p": pack(4, 1, 1, 4),
	} {
		t.Run(name, func(t *testing.T) {
			l := mustLayout(t, in)
			for _, p := range mustPlans(t, l) {
				for _, s := range p.States {
					againstSpice(t, l, s)
				}
			}
		})
	}
}

func againstSpice(t *testing.T, l *Layout, s State) {
	t.Helper()
	solver, err := NewSolver(l.network(s, l.in.Volts.Nominal))
	if err != nil {
		t.Fatal(err)
	}
	sol, err := solver.Load(s.Mains, s.CurrentA)
	if err != nil {
		t.Fatal(err)
	}
	deck, nodes := netlist(l, s)
	got := spice(t, deck)
	for _, p := range nodes {
		if p == s.Mains.Minus {
			continue
		}
		want, ok := got[fmt.Sprintf("v(n%d)", p.node())]
		if !ok {
			t.Fatalf("%s: ngspice gave no voltage of node %d", s.ID, p.node())
		}
		near(t, s.ID+" volts", sol.At(p)-sol.At(s.Mains.Minus), want, 2e-8)
	}
	for _, place := range s.Places {
		for _, slot := range place {
			// The simulator counts a source's current into its plus.
			want := -got[fmt.Sprintf("i(v%d)", slot)]
			near(t, s.ID+" cell amps", sol.CellA[slot], want, 1e-4*math.Max(1, math.Abs(want)))
		}
	}
}
