package hunt

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

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/testdata/outside"
)

// circuit is one state of the pack as the report tells it.
type circuit struct {
	ID      string  `json:"id"`
	Minus   string  `json:"minus"`
	Plus    string  `json:"plus"`
	Current float64 `json:"current_a"`
	Links   []struct {
		From     string  `json:"from"`
		To       string  `json:"to"`
		MicroOhm float64 `json:"microohm"`
		Amps     float64 `json:"amps"`
	} `json:"links"`
	Proof struct {
		Holds bool    `json:"holds"`
		Pack  float64 `json:"pack_v"`
	} `json:"proof"`
	Figures struct {
		Drop  float64   `json:"drop_v"`
		Cells []float64 `json:"cell_a"`
		Short float64   `json:"mains_short_a"`
	} `json:"figures"`
}

// wired is what the report tells of the wiring.
type wired struct {
	Problem string    `json:"problem"`
	States  []circuit `json:"states"`
}

// circuitError is how far figures of the report and of the circuit simulator may differ,
// of their size: six digits are written, of resistances too.
const circuitError = 3e-5

// leakOhm ties every terminal to ground, so that cells that are not linked stand
// somewhere.
const leakOhm = 1e9

// terminal is a terminal's node: "cell A3 minus (left)" is A3_minus.
func terminal(words string) string {
	w := strings.Fields(words)
	if len(w) < 3 {
		return words
	}
	return w[1] + "_" + w[2]
}

// deck writes a state's circuit, each cell a source behind its resistance, each link a
// resistor behind a meter, with a current drawn at the mains or, at a current below
// none, these bridged.
func (c *circuit) deck(to *strings.Builder, name string, cells []string, volts, ohm, current float64, bridged bool) {
	node := func(s string) string { return name + s }
	for _, cell := range cells {
		plus, minus := node(cell+"_plus"), node(cell+"_minus")
		fmt.Fprintf(to, "Vc%s%s %sx%s %s DC %.12g\nRc%s%s %sx%s %s %.12g\n", name, cell, name, cell, minus, volts, name, cell, name, cell, plus, ohm)
		fmt.Fprintf(to, "Rl%s%s %s 0 %g\nRk%s%s %s 0 %g\n", name, cell, plus, leakOhm, name, cell, minus, leakOhm)
	}
	for i, l := range c.Links {
		fmt.Fprintf(to, "Vm%s%d %s %sy%d DC 0\nRm%s%d %sy%d %s %.12g\n", name, i, node(terminal(l.From)), name, i, name, i, name, i, node(terminal(l.To)), l.MicroOhm*1e-6)
	}
	plus, minus := node(terminal(c.Plus)), node(terminal(c.Minus))
	if bridged {
		fmt.Fprintf(to, "Vs%s %s %s DC 0\n", name, plus, minus)
	} else if current != 0 {
		fmt.Fprintf(to, "I%s %s %s DC %.12g\n", name, plus, minus, current)
	}
}

// spice runs a deck and returns its figures by name.
func spice(t *testing.T, dir, deck string) map[string]float64 {
	t.Helper()
	bin, file := outside.Program(t, "ngspice"), filepath.Join(dir, "pack.cir")
	text := "pack\n" + deck + ".options numdgt=12 reltol=1e-11 vntol=1e-12 abstol=1e-12\n.control\nset numdgt=12\nop\nprint all\nquit\n.endc\n.end\n"
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	out, _ := exec.Command(bin, "-b", file).CombinedOutput() // it ends with 1 where it warns
	got := map[string]float64{}
	for lines := bufio.NewScanner(strings.NewReader(string(out))); lines.Scan(); {
		name, value, ok := strings.Cut(lines.Text(), " = ")
		if v, bad := strconv.ParseFloat(strings.TrimSpace(value), 64); ok && bad == nil {
			got[strings.TrimSpace(name)] = v
		}
	}
	if len(got) == 0 {
		t.Fatalf("ngspice: %.1000s", out)
	}
	return got
}

// byCircuit holds every state of the plan against a circuit simulator: at rest, at its
// current, with the mains bridged. Packs whose cells were measured each are left out.
func (h *hunt) byCircuit(text string, j *job.Job, w wired) {
	f := j.Fixture
	if w.Problem != "" || len(w.States) == 0 || j.Wiring.Arrangement != nil {
		return
	}
	var cells []string
	for place := range f.Pack.Cells {
		cells = append(cells, strings.ToLower(f.Pack.CellName(place)))
	}
	e, ohm := &f.Electrical, f.Cell.ResistanceMOhm/1000
	var deck strings.Builder
	for i := range w.States {
		c := &w.States[i]
		for k := range c.Links {
			c.Links[k].From, c.Links[k].To = strings.ToLower(c.Links[k].From), strings.ToLower(c.Links[k].To)
		}
		c.Plus, c.Minus = strings.ToLower(c.Plus), strings.ToLower(c.Minus)
		c.deck(&deck, fmt.Sprintf("q%d", i), cells, e.VoltageNominal, ohm, 0, false)
		c.deck(&deck, fmt.Sprintf("l%d", i), cells, e.VoltageNominal, ohm, c.Current, false)
		c.deck(&deck, fmt.Sprintf("s%d", i), cells, e.VoltageFull, ohm, 0, true)
	}
	got := spice(h.t, h.t.TempDir(), deck.String())
	h.count("circuit")
	a := arithmetic{hunt: h, f: f, text: text, said: verdicts(j.Findings)}
	near := func(have, want, least float64, what string) {
		a.must(math.Abs(have-want) <= circuitError*math.Abs(want)+least, "%s: %.7g told, %.7g by the circuit", what, have, want)
	}
	worst := 0.0
	for i, c := range w.States {
		if !c.Proof.Holds { // it has no figures, and the plan fails
			a.must(a.said[rule{"polarity-proof", ""}].Verdict == finding.Fail, "%s: the proof does not hold, and nothing fails", c.ID)
			continue
		}
		at := func(kind string) float64 {
			name := fmt.Sprintf("%s%d", kind, i)
			return got[name+terminal(c.Plus)] - got[name+terminal(c.Minus)]
		}
		rest := at("q")
		near(c.Proof.Pack, rest, 1e-4, c.ID+": voltage at rest")
		if c.ID == "final" && a.said[rule{"polarity-proof", ""}].Verdict == finding.Pass {
			near(rest, e.VoltageNominal*float64(e.Series), 1e-4, "voltage of the finished pack")
		}
		near(c.Figures.Drop, math.Abs(rest-at("l")), 1e-6, c.ID+": volts lost")
		near(c.Figures.Short, math.Abs(got[fmt.Sprintf("vss%d#branch", i)]), 1e-3, c.ID+": mains bridged")
		for k, l := range c.Links {
			near(l.Amps, math.Abs(got[fmt.Sprintf("vml%d%d#branch", i, k)]), 1e-4, fmt.Sprintf("%s: link %d", c.ID, k+1))
		}
		for k, cell := range cells {
			amps := got[fmt.Sprintf("vcl%d%s#branch", i, cell)]
			near(math.Abs(c.Figures.Cells[k]), math.Abs(amps), 1e-4, c.ID+": cell "+cell)
			worst = max(worst, math.Abs(amps))
			a.must(math.Abs(got[fmt.Sprintf("vcq%d%s#branch", i, cell)]) < 0.01 || a.said[rule{"polarity-proof", ""}].Verdict != finding.Pass, "%s: cell %s carries current at rest", c.ID, cell)
		}
	}
	a.limit("cell-current", "", f.Cell.CurrentA-worst, circuitError*worst+1e-6, true, fmt.Sprintf("a cell carries %.4g A of %.4g", worst, f.Cell.CurrentA))
}

// The circuit judge sees figures that are off by little more than its error.
func TestCircuitOwnError(t *testing.T) {
	f, j := example(t, "four-cell-offcut")
	for name, spoil := range map[string]func(w *wired){
		"":        func(*wired) {},
		"turned":  func(w *wired) { l := &w.States[0].Links[0]; l.To = strings.Replace(l.To, "minus", "plus", 1) },
		"missing": func(w *wired) { w.States[0].Links = w.States[0].Links[1:] },
		"ohm":     func(w *wired) { w.States[0].Links[1].MicroOhm *= 1.1 },
		"amps":    func(w *wired) { w.States[0].Links[1].Amps *= 1.0001 },
		"cell":    func(w *wired) { w.States[0].Figures.Cells[1] *= 1.0001 },
		"short":   func(w *wired) { w.States[0].Figures.Short *= 1.0001 },
	} {
		h, w := newHunt(t), read(t, j).report.Wiring
		spoil(&w)
		h.byCircuit(name, j, w)
		if found := len(h.passes) > 0; found != (name != "") {
			t.Errorf("%q of %s: found %v", name, f.Name, h.passes)
		}
	}
}
