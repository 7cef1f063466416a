package wiring

import (
	"fmt"
	"strconv"

	"clampwright/params/words"
	"clampwright/parts/geom"
)

// Post is one terminal position: a place in the stack and a side of its lid.
// Which pole stands there depends on how the cell is turned.
type Post struct {
	Slot int // 0 based, row by row, from the near end
	Side Side
}

func (p Post) node() int { return 2*p.Slot + int(p.Side) }

func postOf(node int) Post { return Post{Slot: node / 2, Side: Side(node % 2)} }

// Turns says for every slot on which side the plus of its cell stands.
type Turns []Side

// Pole returns the pole that stands at a post.
func (t Turns) Pole(p Post) Pole {
	if t[p.Slot] == p.Side {
		return Plus
	}
	return Minus
}

// At returns the post where a pole of a slot stands.
func (t Turns) At(slot int, pole Pole) Post {
	if pole == Plus {
		return Post{slot, t[slot]}
	}
	return Post{slot, t[slot].Other()}
}

// Layout is where the slots are. Slot s stands in row s/CellsPerRow.
type Layout struct {
	in    Input
	cells []Record // by slot; nil: all are nominal
}

// WithCells is the layout with the cells as measured in their slots.
func WithCells(l *Layout, slots []Record) *Layout { return &Layout{in: l.in, cells: slots} }

// cellOhm is a cell's resistance.
func cellOhm(l *Layout, slot int) float64 {
	if l.cells == nil {
		return l.in.CellMilliOhm / 1000
	}
	return l.cells[slot].MilliOhm / 1000
}

// heldAh is the capacity of some cells together.
func heldAh(l *Layout, slots []int) (ah float64) {
	for _, slot := range slots {
		if l.cells == nil {
			ah += l.in.CapacityAh
		} else {
			ah += l.cells[slot].CapacityAh
		}
	}
	return ah
}

// mostAh is the capacity of a state's largest place: what is drawn from all by its
// measure leaves none above the charge meant.
func mostAh(l *Layout, s State) (ah float64) {
	for _, place := range s.Places {
		ah = max(ah, heldAh(l, place))
	}
	return ah
}

// NewLayout settles the input and returns its layout.
func NewLayout(in Input) (*Layout, error) {
	settled, err := in.Settle()
	if err != nil {
		return nil, err
	}
	return &Layout{in: settled}, nil
}

// Input returns the settled input.
func (l *Layout) Input() Input { return l.in }

// Cells returns the number of slots.
func (l *Layout) Cells() int { return l.in.Cells() }

// Row returns the row of a slot, 0 on the left.
func (l *Layout) Row(slot int) int { return slot / l.in.CellsPerRow }

// Middle returns the middle of a slot's lid in plan view (x, z).
func (l *Layout) Middle(slot int) geom.Vec2 {
	i := slot % l.in.CellsPerRow
	rowPitch := l.in.CellWidthMM + l.in.RowGapMM
	return geom.Vec2{
		X: (float64(l.Row(slot)) - float64(l.in.Rows-1)/2) * rowPitch,
		Y: (float64(i) - float64(l.in.CellsPerRow-1)/2) * l.in.PitchMM,
	}
}

// terminal returns the offset and height of a pole on a lid whose plus is on
// the given side; a turned cell is rotated by half a turn about its middle.
func (l *Layout) terminal(pole Pole, plus Side) TerminalAt {
	t := l.in.MinusAt
	if pole == Plus {
		t = l.in.PlusAt
	}
	if plus == Left {
		t.XMM, t.ZMM = -t.XMM, -t.ZMM
	}
	return t
}

// Position returns where a post is in plan view (x, z), given how the cells are turned.
func (l *Layout) Position(p Post, t Turns) geom.Vec2 {
	m := l.Middle(p.Slot)
	at := l.terminal(t.Pole(p), t[p.Slot])
	return m.Add(geom.Vec2{X: at.XMM, Y: at.ZMM})
}

// positions are the places of all posts, by node.
func (l *Layout) positions(t Turns) []geom.Vec2 {
	out := make([]geom.Vec2, 2*l.Cells())
	for node := range out {
		out[node] = l.Position(postOf(node), t)
	}
	return out
}

// screwsAt are the middles of a terminal's screws, its own middle given.
func (in Input) screwsAt(mid geom.Vec2) []geom.Vec2 {
	out := make([]geom.Vec2, in.Screws)
	for i := range out {
		out[i] = mid.Add(in.ScrewStep.Mul(float64(i) - float64(in.Screws-1)/2))
	}
	return out
}

// Screws are the middles of a post's screws in plan view.
func (l *Layout) Screws(p Post, t Turns) []geom.Vec2 { return l.in.screwsAt(l.Position(p, t)) }

// screwsApart is the least distance of the screws of two terminals, their middles given.
func (in Input) screwsApart(p, q geom.Vec2) float64 {
	d := p.Dist(q)
	for k := 1 - in.Screws; k < in.Screws; k++ {
		d = min(d, p.Dist(q.Add(in.ScrewStep.Mul(float64(k)))))
	}
	return d
}

// screwsLong is from the first screw of a terminal to its last.
func (in Input) screwsLong() geom.Vec2 { return in.ScrewStep.Mul(float64(in.Screws - 1)) }

// Pad is the diameter of a post's pad, mm.
func (l *Layout) Pad(p Post, t Turns) float64 { return l.terminal(t.Pole(p), t[p.Slot]).PadMM }

// Height returns the terminal's top above the case top, mm.
func (l *Layout) Height(p Post, t Turns) float64 {
	return l.terminal(t.Pole(p), t[p.Slot]).HeightMM
}

// CellName names a slot: "3" in a single row, "B3" with two.
func (l *Layout) CellName(slot int) string {
	i := strconv.Itoa(slot%l.in.CellsPerRow + 1)
	if l.in.Rows == 1 {
		return i
	}
	return words.Row(l.Row(slot)) + i
}

// PostName names a terminal for people: "cell B3 plus (left)".
func (l *Layout) PostName(p Post, t Turns) string {
	return fmt.Sprintf("cell %s %s (%s)", l.CellName(p.Slot), t.Pole(p), p.Side)
}

// ShortName names a terminal as in link texts: "B3+".
func (l *Layout) ShortName(p Post, t Turns) string {
	if t.Pole(p) == Plus {
		return l.CellName(p.Slot) + "+"
	}
	return l.CellName(p.Slot) + "-"
}
