package wiring

import "math"

// Mains are the two posts where the load or the charger is connected.
type Mains struct{ Minus, Plus Post }

// State is the pack at one moment of a plan: how the cells are turned, which
// links are fitted, and what that is meant to be.
type State struct {
	ID    string // "balance", "final"
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

// each is a state in which every cell stands by itself: no link, and none of a place with
// another.
func (s State) each() State {
	places := make([][]int, len(s.Turns))
	for slot := range places {
		places[slot] = []int{slot}
	}
	s.Places, s.Links = places, nil
	return s
}

// alone is a state of one cell by itself.
func (s State) alone(slot int) State {
	s = s.each()
	s.Places, s.Mains = s.Places[slot:slot+1], Mains{s.Turns.At(slot, Minus), s.Turns.At(slot, Plus)}
	return s
}

// upTo is the current set on a charger or a load in a state: what the device gives, or
// less where links and cells are not proven for that much.
func (s State) upTo(amps float64) float64 { return min(amps, math.Abs(s.CurrentA)) }
