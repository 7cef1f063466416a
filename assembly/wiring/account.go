package wiring

import "fmt"

// settlePlan writes the steps of a plan and works out all that follows from its
// states.
func settlePlan(l *Layout, p *Plan) error {
	sameLayers(p.States)
	p.Specs = l.Specs(p.States)
	for _, s := range p.States {
		proof := l.Prove(s)
		proof.Faults = append(proof.Faults, touchFaults(l, s)...)
		p.Proofs = append(p.Proofs, proof)
		p.InsulatedPlaces += len(clashesIn(l, s))
		if !proof.Holds() {
			continue
		}
		e, err := l.Exposures(s, l.in.SpannerMM)
		if err != nil {
			return err
		}
		p.Exposures = append(p.Exposures, e...)
		f, err := l.FiguresOf(s)
		if err != nil {
			return err
		}
		p.Figures = append(p.Figures, f)
	}
	writeSteps(l, p)
	_, p.SequenceFaults = Walk(l, *p)
	countWork(l, p)
	p.Harm = harmOf(l, *p)
	return nil
}

// sameLayers makes a bar that stays on from state to state as strong as the
// state that asks most of it, so that it need not be refitted.
func sameLayers(states []State) {
	most := map[[2]int]int{}
	for _, s := range states {
		for _, k := range s.Links {
			if !k.Cable {
				most[k.key()] = max(most[k.key()], k.layers())
			}
		}
	}
	for _, s := range states {
		for i, k := range s.Links {
			if !k.Cable {
				s.Links[i].Layers = most[k.key()]
			}
		}
	}
}

// countWork counts the links that are made and what is done with them.
func countWork(l *Layout, p *Plan) {
	for _, sp := range p.Specs {
		p.LinksMade += sp.Links
		switch {
		case sp.Shape == Cable:
			p.InsulatedLinks += sp.Links
			p.CableMM += float64(sp.Links) * sp.LengthMM
		case !sp.Braided:
			p.Cuts += sp.Bars
			p.BarMM += float64(sp.Bars) * sp.LengthMM
		}
	}
	for _, s := range p.Steps {
		switch s.Action {
		case Fit, Remove:
			p.Handlings += len(s.Links)
		case Open:
			p.Openings++
		case Charge, Discharge, TopUp:
			p.Hours += s.Hours
		}
	}
	for _, e := range p.Exposures {
		p.WorstA = max(p.WorstA, e.Amps)
	}
}

// voltageAt is the resting voltage named for a charge: full or storage.
func voltageAt(l *Layout, charge float64) float64 {
	if charge > l.in.StorageCharge+chargeTol {
		return l.in.Volts.Full
	}
	return l.in.Volts.Storage
}

// touchFaults are the places where what is bare of two nets touches: lugs wider than there
// is room for.
func touchFaults(l *Layout, s State) (out []Fault) {
	if _, bad := brokenState(l, s); bad {
		return nil
	}
	for _, g := range metalGaps(l, s, 0) {
		out = append(out, Fault{Kind: FaultTouch, State: s.ID, Cells: []int{g.a.Slot, g.b.Slot}, Text: fmt.Sprintf("bars or lugs at %s and %s touch", l.PostName(g.a, s.Turns), l.PostName(g.b, s.Turns))})
	}
	return out
}
