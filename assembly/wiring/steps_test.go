package wiring

import (
	"strings"
	"testing"

	"clampwright/params/number"
)

func stepTexts(p Plan) string {
	var all []string
	for _, s := range p.Steps {
		all = append(all, s.Text)
	}
	return strings.Join(all, "\n")
}

func TestStackedBarsAreTold(t *testing.T) {
	in := pack(4, 1, 2, 2)
	in.RatedA, in.Bar.MaxLayers = 280, 4
	l, p := planOf(t, in, Turn)
	final, _ := p.State(StateFinal)
	stacked, pieces := 0, 0
	for _, k := range final.Links {
		if k.layers() > 1 {
			stacked++
			if _, lies := l.BeforeText(Before{}, k, final.Turns); !strings.Contains(lies, number.Trim(float64(k.layers()), 0)+" bars on each other") {
				t.Errorf("%s has %d layers, told: %s", k.ID, k.layers(), lies)
			}
		}
		pieces += k.layers()
	}
	if stacked == 0 {
		t.Fatal("no link has bars on each other")
	}
	if got := Pieces(final.Links); got != pieces || got <= len(final.Links) {
		t.Errorf("%d pieces, want %d", got, pieces)
	}
	if text := piecesText(final.Links); !strings.Contains(text, count(pieces, "bar")+" in all") {
		t.Errorf("taken off: %s", text)
	}
}

func TestOneCellIsNotBalanced(t *testing.T) {
	_, p := planOf(t, pack(1, 1, 1, 1), Cross)
	text := stepTexts(p) + p.Name + p.States[0].Name
	for _, wrong := range []string{"together", "links off", "leave the links", "parallel", "jumper", "alike"} {
		if strings.Contains(text, wrong) {
			t.Errorf("one cell: %q in %s", wrong, text)
		}
	}
}

func TestLongChargeNamesARemedy(t *testing.T) {
	for _, amps := range []float64{40, 5} {
		in := pack(4, 1, 4, 1)
		in.ChargerA = amps
		_, p := planOf(t, in, Turn)
		for _, s := range p.Steps {
			if told := strings.Contains(s.Text, "stronger"); told != (s.Hours > longHours) {
				t.Errorf("%g A, %g hours: remedy told %v", amps, s.Hours, told)
			}
		}
	}
}
