package steps

import (
	"fmt"

	"clampwright/assembly/work"
	"clampwright/params/number"
)

// cautions are the words for risks without figures; those that a step's text tells
// of have none here.
var cautions = map[work.RiskKind]string{
	work.LiveCases:   "The cases are live: no two cells, and no cell and any metal, may touch without an insulating sheet between.",
	work.ToolOnCells: "Start each nut with your fingers from outside the plate; no tool lies on the cells.",
	work.ToolAtCells: "A wrench or pliers never point at a cell or a terminal.",
	work.WrongVolts:  "Set the supply's voltage before connecting, and measure it at its clips.",
	work.Unwatched:   "Stay near; stop on swelling, warmth or smell.",
	work.HotLoad:     "The load gets hot: nothing that burns near it, and stay with it.",
	work.Uncovered:   "Put its covers on again before a link is fitted; it is not opened above storage charge.",
	work.OpenedFull:  "Never at full charge: the cells push hardest then, and dome for good when they are let go. Slacken the front nuts crosswise, in the stages they were set by.",
	work.LiftedBare:  "Cap both terminals of every cell that is lifted.",
	work.TwoBare:     "One link at a time, tools insulated to one bare end.",
	work.Connected:   "Charger and load disconnected first.",
	work.StrayJoined: "Never join a stray to the others without a limited supply, a load or the resistor between.",
}

// caution words a risk; empty where the step's text does.
func caution(t teller, r work.Risk) string {
	switch r.Kind {
	case work.GateShut:
		return fmt.Sprintf("Do not charge above storage charge before the plates are read: as set they must be at least %s closer together than at snug.", t.Small(r.Value))
	case work.LinersAlone:
		return fmt.Sprintf("The %s plates conduct and the liners are all that keeps them off the cells: none may be missing, cracked, or leave an edge of a cell bare.", r.Material)
	case work.WrapAlone:
		return fmt.Sprintf("The %s plates conduct and lie on the end cells with nothing between but the cells' own wrap: look it over, no cut may be in it.", r.Material)
	case work.DragHides:
		return fmt.Sprintf("A torque wrench can't set this: the nut's own drag may reach %s N·m, the clamping torque is %s N·m.", number.Trim(r.Value/1000, 1), Span(r.Span.Least/1000, r.Span.Greatest/1000, 2))
	case work.TorqueWide:
		return fmt.Sprintf("A torque wrench alone is too coarse: the torque for this force is %s N·m, depending on friction.", Span(r.Span.Least/1000, r.Span.Greatest/1000, 2))
	case work.ShockAndArc:
		return Shock(r.Value)
	}
	return cautions[r.Kind]
}

// Shock says how a pack of dangerous voltage is linked.
func Shock(packV float64) string {
	return fmt.Sprintf("The full pack stands at %s V: it can give a dangerous shock (touch limit 60 V, IEC 61140, from memory), and a direct-current arc does not go out by itself. Wear insulating gloves for this voltage and use insulated tools, work with a second person there, and leave one link near the middle out until the last, so that no part stands at the whole voltage before. Follow the local code, or have a licensed person do it.", number.Trim(packV, 1))
}
