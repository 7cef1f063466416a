package wiring

import "math"

// Mains are the two posts where the load or the charger is connected.
type Mains struct{ Minus, Plus Post }

// State is the pack at one moment of a plan: how the cells are turned, which
// links are fitted, and what that is meant to be.
type State struct {
	ID    string // "balance", "balance-2", "final"
	Name  string // words for people
	Turns Turns
	Links []Link
	// Places are the intended series places from the minus end on; slots in none
	// of them must carry no link.
	Places [][]int
	// Intended is how the cells are meant to be turned; Turns is how they are.
	// The planner makes them equal; a test or a user may not.
	Intended Turns
	Mains    Mains
	Charge   float64 // greatest charge in this state
	CurrentA float64 // greatest current through the mains
}

// VoltageOf returns the intended voltage between the mains when every cell has
// the given voltage.
func (s State) VoltageOf(cell float64) float64 { return float64(len(s.Places)) * cell }

// upTo is the current set on a charger or a load in a state: what the device gives, or
// less where links and cells are not proven for that much.
func (s State) upTo(amps float64) float64 { return min(amps, math.Abs(s.CurrentA)) }
