package clamp

// Scenarios of our own, with plain numbers.

// fourCells is four 72 x 174 x 201 mm cells between 19 mm polyethylene plates
// with two aluminium angles near the edges and M8 rods.
func fourCells() Input {
	in := Input{
		Plate: Plate{WidthMM: 236, HeightMM: 205, ThicknessMM: 19.05, ExMPa: 900, Nu: 0.42, StrengthXMPa: 24,
			Creep: []CreepPoint{{1, 0.72}, {1000, 0.39}}, HotFactor: 0.7},
		Rows:           []Row{cellRow(Rect{31, 2, 205, 203}, 4)},
		Window:         Window{Kind: WindowForce, Min: 2500, Target: 2940, Max: 3500, Limit: 8000},
		Climate:        Climate{AssemblyC: 20, HotC: 40, ColdC: 0},
		AssemblyCharge: 0.4, StorageCharge: 0.5,
	}
	for _, y := range []float64{25, 180} {
		in.Stiffeners = append(in.Stiffeners, Stiffener{YMM: y, X0MM: 2, X1MM: 234, EMPa: 69000, IMM4: 14000, SectionMM3: 650, YieldMPa: 160, LegMM: 3})
		for _, x := range []float64{14, 222} {
			in.Rods = append(in.Rods, realRod(x, y, 345))
		}
	}
	return in
}

func realRod(x, y, free float64) Rod {
	r := testRod(x, y)
	r.FreeMM, r.OutgrownMM, r.SettleMM = free, 2*19.05*200e-6+2*3*23e-6-free*12e-6, 0.05
	r.Seat = Seat{InnerMM: 9, OuterMM: 16, ShortMPa: 160, LongMPa: 160, Material: "aluminium"}
	r.DragMinNMM, r.DragMaxNMM = 600, 6000
	return r
}

func cellRow(face Rect, cells int) Row {
	return Row{Face: face, Cells: cells, CellThicknessMM: 72, CTE: 30e-6,
		Squeeze: []SqueezePoint{{0.1, 0.02}, {0.3, 0.10}, {0.6, 0.40}},
		Layers:  []Layer{{Name: "separator", Count: cells - 1, ThicknessMM: 1, EMPa: 200}, {Name: "liner", Count: 2, ThicknessMM: 0.5, EMPa: 1000}},
		Growth: Growth{Shape: ShapeDomed, Edge: 0.2, Aged: 0.02 * 72,
			Points: []GrowthPoint{{0, 0}, {0.3, 0.004 * 72}, {0.6, 0.0035 * 72}, {1, 0.007 * 72}}},
	}
}

// twoRows is sixteen cells in two rows of eight between 10 mm aluminium plates
// without stiffeners, M10 rods in three columns and two levels.
func twoRows() Input {
	in := fourCells()
	in.Plate = Plate{WidthMM: 440, HeightMM: 205, ThicknessMM: 10, ExMPa: 69000, Nu: 0.33, StrengthXMPa: 160}
	in.Rows = []Row{cellRow(Rect{31, 2, 205, 203}, 8), cellRow(Rect{235, 2, 409, 203}, 8)}
	in.Stiffeners, in.Rods = nil, nil
	for _, y := range []float64{40, 165} {
		for _, x := range []float64{14, 220, 426} {
			r := realRod(x, y, 640)
			r.AreaMM2, r.DiameterMM, r.PitchMM = 58, 10, 1.5
			r.OutgrownMM = 2*10*23e-6 - 640*12e-6
			r.Seat = Seat{InnerMM: 11, OuterMM: 20, ShortMPa: 160}
			if x == 220 {
				r.Share = 2
			}
			in.Rods = append(in.Rods, r)
		}
	}
	return in
}

// sprung is fourCells with disc springs on every rod.
func sprung() Input {
	in := fourCells()
	for i := range in.Rods {
		in.Rods[i].Spring = Spring{Kind: SpringDisc, Disc: DiscSpring{OuterMM: 16, InnerMM: 8.2, ThicknessMM: 0.9, ConeMM: 0.35}, Series: 8}
	}
	return in
}

// solveState solves one state, after tightening, with its field.
func solveState(in Input, st StateSpec) (State, error) {
	if err := Validate(in); err != nil {
		return State{}, err
	}
	f := newFixture(in, in.edge(), nominal)
	sol, err := f.run(st)
	if err != nil {
		return State{}, err
	}
	out := f.summarize(st, sol)
	out.Field = f.field(sol)
	return out, nil
}
