package steps

import (
	"fmt"

	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/params/number"
)

// The signal words of ANSI Z535.6, by what may come of it: death or grave harm for
// certain, or perhaps; slight harm; damage.
const (
	Danger  = "Danger"
	Warning = "Warning"
	Careful = "Caution"
	Notice  = "Notice"
)

// cautions are the words for risks without figures; those that a step's text tells
// of have none here.
var cautions = map[work.RiskKind]page.Caution{
	work.GlassDust:   {Title: Warning, Text: "Glass dust harms the lungs. Wear a mask. Cut wet or with suction."},
	work.LiveCases:   {Title: Warning, Text: "The cases are live. No two cells, and no cell and any metal, may touch without an insulating sheet between."},
	work.ToolOnCells: {Title: Warning, Text: "Start each nut with your fingers from outside the plate. Lay no tool on the cells."},
	work.ToolAtCells: {Title: Warning, Text: "Never point a spanner or pliers at a cell or a terminal."},
	work.WrongVolts:  {Title: Warning, Text: "Set the supply's voltage before you connect it, and measure it at the ends of its leads."},
	work.Unwatched:   {Title: Warning, Text: "Stay near. Stop on swelling, warmth or smell."},
	work.HotLoad:     {Title: Careful, Text: "The load gets hot. Keep what burns away from it, and stay with it."},
	work.Uncovered:   {Title: Warning, Text: "Put the covers back on before you fit a link. Do not open the clamp above storage charge."},
	work.OpenedFull:  {Title: Danger, Text: "Never open the clamp at full charge: the cells push hardest then and dome for good. Slacken the front nuts crosswise, in the stages of the setting."},
	work.LiftedBare:  {Title: Warning, Text: "Cap both terminals of every cell that you lift."},
	work.WeldedOn:    {Title: Danger, Text: "Never weld or solder on cells yourself. A burnt-through case or a slipped strip sets a cell on fire. It is work for someone trained and equipped for it."},
	work.TwoBare:     {Title: Warning, Text: "Fit one link at a time. Use tools insulated to one bare end."},
	work.Connected:   {Title: Warning, Text: "Disconnect charger and load first."},
	work.StrayJoined: {Title: Warning, Text: "Never join a stray to the others without a limited supply, a load or the resistor between."},
}

// caution words a risk; empty where the step's text does.
func caution(t teller, r work.Risk) page.Caution {
	switch r.Kind {
	case work.GateShut:
		return page.Caution{Title: Warning, Text: fmt.Sprintf("Do not charge above storage charge before you have read the plates. As set they must be at least %s closer together than at snug.", t.Small(r.Value))}
	case work.LinersAlone:
		return page.Caution{Title: Warning, Text: fmt.Sprintf("The %s plates conduct, and only the liners keep them off the cells. Use no liner that is cracked or leaves the edge of a cell bare.", r.Material)}
	case work.WrapAlone:
		return page.Caution{Title: Warning, Text: fmt.Sprintf("The %s plates conduct, and only the cells' own wrap keeps them off the end cells. Look it over: use no cell with a cut in it.", r.Material)}
	case work.DragHides:
		return page.Caution{Title: Notice, Text: fmt.Sprintf("Do not set this with a torque wrench: the nuts' own drag, up to %s, hides the clamping torque, %s.", t.Torques().Text(r.Value), t.Torques().Span(r.Span.Least, r.Span.Greatest))}
	case work.TorqueWide:
		return page.Caution{Title: Notice, Text: fmt.Sprintf("Do not set this with a torque wrench alone. Friction makes the torque %s for the same force.", t.Torques().Span(r.Span.Least, r.Span.Greatest))}
	case work.ShockAndArc:
		return page.Caution{Title: Danger, Text: Shock(r.Value)}
	}
	return cautions[r.Kind]
}

// Shock says how a pack of dangerous voltage is linked.
func Shock(packV float64) string {
	return Stands(packV) + " A direct-current arc does not go out by itself. Wear insulating gloves for this voltage and use insulated tools. Work with a second person there. Leave one link near the middle out until the last."
}

// Stands says what a dangerous voltage can do (touch limit 60 V, IEC 61140, from memory).
func Stands(packV float64) string {
	return fmt.Sprintf("The full pack stands at %s V: a shock from it can kill.", number.Trim(packV, 1))
}
