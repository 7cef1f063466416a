package check

import (
	"fmt"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed"
)

// printRules are the rules on printed parts beyond bed and walls, and on the heat that any
// part stands.
func printRules() []rule {
	return []rule{
		{id: "print-wall", group: finding.GroupCutting,
			why:     "A wall thinner than the printer makes comes out weak or not at all; walls are measured on the part as it will be printed.",
			causes:  []string{"printer.min_wall", "printer.fit", "separators.thickness", "sleeves.wall"},
			measure: measurePrintWall},
		{id: "print-overhang", group: finding.GroupCutting,
			why:     "A face that hangs over by more than 45 degrees sags unless something holds it; as the parts lie on the bed none should.",
			causes:  []string{"printer.bed_x", "printer.bed_y", "printer.bed_z"},
			measure: measureOverhang, hint: wordsOverhang},
		{id: "material-heat", group: finding.GroupCutting,
			why:     "Plastics and wood soften well before they melt or char; the hottest state must stay under what each material stands in service, by 10 kelvin if it can be.",
			causes:  []string{"plates.material", "printer.material", "separators.material", "liners.material", "sleeves.material", "clamp.hot"},
			measure: measureHeat},
	}
}

// aidRules are the rules on guides and gauges.
func aidRules() []rule {
	return []rule{
		{id: "aid-fits", group: finding.GroupInterference, heavy: true,
			why:     "A guide or gauge must go where it is used without needing the space of another part.",
			causes:  []string{"printer.fit", "stiffeners.gauge", "springs.disc"},
			measure: measureAids},
	}
}

// prints lists the distinct printed parts, loose ones included.
func prints(a *assembly.Assembly) []*parts.Part {
	var out []*parts.Part
	for _, l := range a.PartsList() {
		if l.Part.Make == parts.MakePrint {
			out = append(out, l.Part)
		}
	}
	return out
}

// meshedWall is what a wall measured on a mesh may lack, mm: the chords on both
// sides of it.
const meshedWall = 0.05

func measurePrintWall(b *scene) ([]finding.Finding, error) {
	need := b.fixture.Printer.MinWall.MM() - meshedWall
	var t tally
	for _, p := range prints(b.nominal) {
		if p.Print == nil {
			continue
		}
		q := atLeast(p.Print.WallMM, need, need)
		q.Between = []string{p.ID, "printer nozzle"}
		t.add(q)
	}
	return t.finding("", "mm"), nil
}

// measureOverhang warns of steep overhang that has no reason; where the part
// says why it must be, it only counts against an area that bridges well.
func measureOverhang(b *scene) ([]finding.Finding, error) {
	var t tally
	for _, p := range prints(b.nominal) {
		if p.Print == nil {
			continue
		}
		q := finding.Finding{Verdict: finding.Pass, Have: p.Print.SteepMM2, Need: printed.BridgedMM2, Sense: finding.AtMost, Between: []string{p.ID, "print bed"}}
		if p.Print.SteepMM2 > printed.BridgedMM2 && p.Print.Need == "" {
			q.Verdict = finding.Warn
		} else if p.Print.SteepMM2 > printed.BridgedMM2 {
			q.Need = p.Print.SteepMM2
		}
		t.add(q)
	}
	return t.finding("", "mm\u00b2"), nil
}

func wordsOverhang(b *scene, f finding.Finding) string {
	return fmt.Sprintf("print %s with support under its overhangs", f.Between[0])
}

// heatMargin is what the service temperature should exceed the hot state by, K:
// common practice, no source.
const heatMargin = 10

// measureHeat compares the material of every part in the pack with the hot state.
func measureHeat(b *scene) ([]finding.Finding, error) {
	hot := float64(b.fixture.Clamp.HotTemp)
	var t tally
	for _, l := range b.nominal.PartsList() {
		m, ok := b.fixture.Tables.Material(l.Part.Material)
		if !ok || m.MaxService == 0 || l.Loose == l.Pieces {
			continue
		}
		q := atLeast(float64(m.MaxService), hot, hot+heatMargin)
		q.Between = []string{l.Part.ID, l.Part.Material}
		t.add(q)
	}
	return t.finding("", "\u00b0C"), nil
}

// measureAids puts every aid at its place and asks that it overlaps nothing it is
// used on.
func measureAids(b *scene) ([]finding.Finding, error) {
	a := b.nominal
	at := map[string]*assembly.Instance{}
	for i := range a.Instances {
		at[a.Instances[i].ID] = &a.Instances[i]
	}
	var t tally
	for i := range a.Aids {
		w := &a.Aids[i]
		for _, on := range w.On {
			if at[on].Role == assembly.RoleJamNut {
				continue // goes on when the force is set, and the gauge put away
			}
			g, err := geom.DistanceWithin(at[on].Body(), w.Body(), exactBeyond)
			if err != nil {
				return nil, err
			}
			q := atLeast(g.MM, 0, 0)
			q.Between, q.At, q.Bound = []string{w.ID, on}, spot(g.OnB), g.Bound
			t.add(q)
		}
	}
	return t.finding("", "mm"), nil
}
