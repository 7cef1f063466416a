package assembly

// Meeting says how two instances are meant to lie to each other.
type Meeting int

// The ways of lying to each other.
const (
	Clear   Meeting = iota // not meant to touch
	Bears                  // pressed together in the clamped chain: no gap, no overlap
	Through                // a rod in a hole: concentric, with play
	Engaged                // a nut's thread on a rod, or a tool on what it drives
	Sits                   // fixed on: a terminal or vent on its cell
)

// Meeting returns how two instances are meant to lie to each other.
func (a *Assembly) Meeting(u, v *Instance) Meeting {
	if rank(u.Role) > rank(v.Role) {
		u, v = v, u
	}
	switch {
	case isPrint(u.Role) || isPrint(v.Role):
		return printMeets(u, v)
	case u.Role == RoleLink:
		return linkMeets(a, u, v)
	case v.Role == RoleLink:
		return linkMeets(a, v, u)
	case u.Role == RoleCell:
		return cellMeets(a, u, v)
	case u.Role == RoleFiller:
		return fillerMeets(a, u, v)
	case u.Role == RoleTerminal && v.Role == RoleTerminal && u.Row == v.Row && u.Index == v.Index:
		return Sits // pad and stud
	case sameRod(u, v):
		return rodMeets(a, u, v)
	case u.Role == RoleRod || v.Role == RoleRod:
		return throughMeets(a, u, v)
	}
	return endMeets(a, u, v)
}

// rank is the order of groups in which Meeting looks at a pair.
func rank(g Role) int {
	for i, x := range []Role{RoleCell, RoleFiller, RoleTerminal, RoleVent, RoleSeparator, RoleLiner, RolePlate,
		RoleStiffener, RoleRod, RoleSleeve, RoleWasher, RoleSpring, RoleNut, RoleJamNut} {
		if x == g {
			return i
		}
	}
	return -1
}

// cellMeets: a cell bears on its neighbours in the row.
func cellMeets(a *Assembly, cell, v *Instance) Meeting {
	f := a.Fixture
	if v.Row != cell.Row && v.Role != RolePlate {
		return Clear
	}
	switch v.Role {
	case RoleTerminal, RoleVent:
		if v.Index == cell.Index {
			return Sits
		}
	case RoleFiller:
		if f.Separator == nil && v.Index == cell.Index+1 && v.Level == 0 {
			return Bears
		}
	case RoleCell:
		if f.Separator == nil && abs(v.Index-cell.Index) == 1 {
			return Bears
		}
	case RoleSeparator: // separator i lies between cells i and i+1
		if d := v.Index - cell.Index; d == 0 || d == -1 {
			return Bears
		}
	case RoleLiner:
		if isEnd(a, cell, v.End) {
			return Bears
		}
	case RolePlate:
		if f.Liner == nil && isEnd(a, cell, v.End) {
			return Bears
		}
	}
	return Clear
}

// fillerMeets: the sheets of a filler bear on each other and on what is before and
// behind them.
func fillerMeets(a *Assembly, s, v *Instance) Meeting {
	f, last := a.Fixture, a.Fixture.Filler.Pieces-1
	places := 0 // that v lies further forward
	switch {
	case v.Role == RoleFiller && v.Row == s.Row:
		places = (v.Index-s.Index)*(last+1) + v.Level - s.Level
		if f.Separator != nil && v.Index != s.Index {
			places = 0
		}
	case v.Role == RoleSeparator && v.Row == s.Row:
		if v.Index == s.Index && s.Level == last || v.Index == s.Index-1 && s.Level == 0 {
			places = 1
		}
	case v.Role == RoleLiner && v.Row == s.Row, v.Role == RolePlate && f.Liner == nil:
		if v.End == Front && s.Index == f.Pack.PerRow-1 && s.Level == last {
			places = 1
		}
	}
	if places*places == 1 {
		return Bears
	}
	return Clear
}

// isEnd says whether a cell is the last of its row towards an end.
func isEnd(a *Assembly, cell *Instance, e End) bool {
	if e == Front {
		return cell.Index == a.Fixture.Pack.PerRow-1
	}
	return cell.Index == 0
}

// endMeets: liner, plate, angle and washer bear on each other in turn.
func endMeets(a *Assembly, u, v *Instance) Meeting {
	if u.End != v.End {
		return Clear
	}
	pair := [2]Role{u.Role, v.Role}
	seat := v.Layer == LayerSeat && v.Role == RoleWasher
	switch {
	case pair == [2]Role{RoleLiner, RolePlate}, pair == [2]Role{RolePlate, RoleStiffener}:
		return Bears
	case pair == [2]Role{RoleStiffener, RoleWasher} && seat && u.Level == v.Level:
		return Bears
	case pair == [2]Role{RolePlate, RoleWasher} && seat && a.Fixture.Stiffener == nil:
		return Bears
	}
	return Clear
}

// sameRod says whether both sit on one rod.
func sameRod(u, v *Instance) bool {
	return u.Column >= 0 && u.Column == v.Column && u.Level == v.Level
}

// rodMeets: what sits on one rod, inside out.
func rodMeets(a *Assembly, u, v *Instance) Meeting {
	if u.Role == RoleRod {
		if v.Role == RoleNut || v.Role == RoleJamNut {
			return Engaged
		}
		return Through
	}
	if u.End != v.End || u.Role == RoleSleeve || v.Role == RoleSleeve {
		return Clear
	}
	if d := storey(a, v) - storey(a, u); d == 1 || d == -1 {
		return Bears
	}
	return Clear
}

// storey numbers what lies on one end of a rod, outward.
func storey(a *Assembly, w *Instance) int {
	sprung := HasSpring(a.Fixture, w.End)
	switch {
	case w.Role == RoleWasher && w.Layer == LayerSeat:
		return 0
	case w.Role == RoleSpring:
		return 1
	case w.Role == RoleWasher:
		return 2
	case w.Role == RoleNut && sprung:
		return 3
	case w.Role == RoleNut:
		return 1
	case sprung:
		return 4
	}
	return 2
}

// throughMeets: a rod goes through both plates and the angles of its level.
func throughMeets(a *Assembly, u, v *Instance) Meeting {
	rod, other := u, v
	if rod.Role != RoleRod {
		rod, other = v, u
	}
	switch {
	case other.Role == RolePlate:
		return Through
	case other.Role == RoleStiffener && other.Level == rod.Level:
		return Through
	}
	return Clear
}

func abs(i int) int {
	if i < 0 {
		return -i
	}
	return i
}
