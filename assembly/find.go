package assembly

import "clampwright/parts/geom"

// Of returns the instances of a group, in order.
func (a *Assembly) Of(g Role) []*Instance {
	return a.where(func(w *Instance) bool { return w.Role == g })
}

// Inserts returns the separators, then the liners.
func (a *Assembly) Inserts() []*Instance {
	return append(a.Of(RoleSeparator), a.Of(RoleLiner)...)
}

func (a *Assembly) where(keep func(*Instance) bool) []*Instance {
	var all []*Instance
	for i := range a.Instances {
		if keep(&a.Instances[i]) {
			all = append(all, &a.Instances[i])
		}
	}
	return all
}

// first returns the first instance that is kept, nil when there is none.
func (a *Assembly) first(keep func(*Instance) bool) *Instance {
	for i := range a.Instances {
		if keep(&a.Instances[i]) {
			return &a.Instances[i]
		}
	}
	return nil
}

// PlateAt returns the end plate at an end.
func (a *Assembly) PlateAt(e End) *Instance {
	return a.first(func(w *Instance) bool { return w.Role == RolePlate && w.End == e })
}

// StiffenerAt returns the angle at an end and level, nil when there is none.
func (a *Assembly) StiffenerAt(e End, level int) *Instance {
	return a.first(func(w *Instance) bool { return w.Role == RoleStiffener && w.End == e && w.Level == level })
}

// SeatUnder returns what the washers at an end and level lie on: the angle, or
// the plate where there are no angles.
func (a *Assembly) SeatUnder(e End, level int) *Instance {
	if s := a.StiffenerAt(e, level); s != nil {
		return s
	}
	return a.PlateAt(e)
}

// RodAt returns the rod of a column and level.
func (a *Assembly) RodAt(column, level int) *Instance {
	return a.first(func(w *Instance) bool { return w.Role == RoleRod && w.Column == column && w.Level == level })
}

// EndCell returns the last cell of a row towards an end.
func (a *Assembly) EndCell(e End, row int) *Instance {
	at := 0
	if e == Front {
		at = a.Fixture.Pack.CellsIn(row) - 1
	}
	return a.first(func(w *Instance) bool { return w.Role == RoleCell && w.Row == row && w.Index == at })
}

// FlatPoint takes a point of the part's flat outline to its place in the
// fixture.
func (w *Instance) FlatPoint(p geom.Vec2) geom.Vec3 { return w.Frame.Point(p.V3(0)) }
