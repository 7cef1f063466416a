package job

import (
	"math"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/wiring"
	"clampwright/params"
	"clampwright/parts/geom"
)

// The gaps that a tool may bridge are those between the parts as solids: the least between
// bars and terminals of unlike potential, where all bars lie at one height. The braided
// ones are drawn as long as they are when fitted.
func TestGapsAgainstSolids(t *testing.T) {
	const base = "fixture: a\ncell: {model: 72x174x201}\nelectrical: {link_form: bar, current: 50}\n"
	for name, text := range map[string]string{
		"a row":    base + "pack: {cells: 4}\n",
		"two rows": base + "pack: {cells: 8, rows: 2}\n",
		"braided":  "fixture: a\ncell: {model: 72x174x201}\nelectrical: {link_form: braided, current: 50}\npack: {cells: 4}\n",
		"wide":     "fixture: a\ncell: {model: 72x174x201}\nelectrical: {link_form: bar, link_width: 36 mm, current: 50}\npack: {cells: 5}\n",
	} {
		t.Run(name, func(t *testing.T) {
			f, diags := params.Load("f.yaml", []byte(text))
			if f == nil {
				t.Fatal(diags)
			}
			j, err := placed(f)
			if err != nil {
				t.Fatal(err)
			}
			nets, a := j.Assembly.LinkNets(), j.Assembly
			all := append(a.Of(assembly.RoleLink), a.Of(assembly.RoleTerminal)...)
			least := math.Inf(1)
			for i, u := range all {
				for _, v := range all[i+1:] {
					if nets[u.ID] == nets[v.ID] {
						continue
					}
					g, err := geom.DistanceWithin(u.Body(), v.Body(), 300)
					if err != nil {
						t.Fatal(err)
					}
					least = min(least, g.MM)
				}
			}
			said := math.Inf(1)
			for _, e := range j.Wiring.Plan.Exposures {
				if e.State == wiring.StateFinal {
					said = min(said, e.GapMM)
				}
			}
			if math.Abs(said-least) > 0.1 || math.IsInf(said, 1) {
				t.Errorf("%.2f mm is said, the solids are %.2f mm apart", said, least)
			}
		})
	}
}
