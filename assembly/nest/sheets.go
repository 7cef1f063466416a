package nest

import (
	"errors"
	"fmt"
	"slices"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// FlatItem is a flat part to be cut from sheet, as often as Quantity says, by
// the box of its outline.
type FlatItem struct {
	ID          string
	WidthMM     float64 // along x of the part's outline
	HeightMM    float64
	Quantity    int
	Material    string
	ThicknessMM float64
	Grain       bool // the part must not be turned against the grain
	GrainAlongX bool // with Grain: the grain runs along x of the part
	byHand      bool // whatever the machine
	shape       *shape
}

// itemOf is the item for a part that is cut from sheet.
func itemOf(p parts.Part, quantity int) (FlatItem, error) {
	if p.Flat == nil {
		return FlatItem{}, fmt.Errorf("%s is not cut from sheet", p.ID)
	}
	size := p.Flat.Profile.Bounds().Size()
	return FlatItem{
		ID: p.ID, WidthMM: size.X, HeightMM: size.Y, Quantity: quantity,
		Material: p.Material, ThicknessMM: p.Flat.ThicknessMM,
		Grain: p.Flat.Grain, GrainAlongX: p.Flat.GrainAlongX,
	}, nil
}

// SheetJob is what to cut from which sheets.
type SheetJob struct {
	Items  []FlatItem
	Sheets []params.SheetStock
	// GapMM is the least distance between two parts and MarginMM the rim of a sheet
	// that no part enters; a machine's tool, ToolMM wide, runs in both.
	GapMM, ToolMM, MarginMM float64
}

// SheetPlan is how the parts lie.
type SheetPlan struct {
	Layouts []SheetLayout
	Buy     []Purchase[params.SheetStock]
}

// SheetLayout is one sheet with its parts. Number counts the layouts from 1.
type SheetLayout struct {
	Number int
	Sheet  params.SheetStock
	Bought bool
	Placed []Placement
	Yield  float64 // area of the parts' boxes over the area of the sheet
}

// Placement is one part on a sheet: the lower left corner of its box, counted
// from that of the sheet, and the size of the box as it lies. Turned parts are
// turned a quarter counter-clockwise.
type Placement struct {
	ID                string
	At                geom.Vec2
	WidthMM, HeightMM float64
	Turned            bool
}

// Limits of a job.
const (
	maxSheetMM   = 20_000
	maxFlatItems = 5000
	// FitMM is by how much a part may differ from the sheet's own size and still
	// be that offcut itself, with no cut along its edges.
	FitMM = 0.05
)

const webMM = float64(params.CutWeb)

// Room is how long n parts side by side may be on a sheet of the given length, mm.
func (j SheetJob) Room(sheetMM, n float64) float64 {
	return (sheetMM-2*j.MarginMM+j.GapMM)/n - j.GapMM
}

func (j SheetJob) check() error {
	var errs []error
	within := func(what string, v, least, most float64) {
		if !(v >= least && v <= most) {
			errs = append(errs, fmt.Errorf("%s: %g mm, want %g to %g", what, v, least, most))
		}
	}
	within("gap between parts", j.GapMM, 0, 1000)
	within("tool", j.ToolMM, 0, 1000)
	within("margin", j.MarginMM, 0, 1000)
	total := 0
	for _, it := range j.Items {
		within("part "+it.ID+" width", it.WidthMM, 0.1, maxSheetMM)
		within("part "+it.ID+" height", it.HeightMM, 0.1, maxSheetMM)
		within("part "+it.ID+" thickness", it.ThicknessMM, 0, maxSheetMM)
		if it.Quantity < 0 || it.Quantity > maxFlatItems {
			errs = append(errs, fmt.Errorf("part %s: %d of them, want 0 to %d", it.ID, it.Quantity, maxFlatItems))
		}
		total = min(total+max(0, it.Quantity), maxFlatItems+1)
	}
	if total > maxFlatItems {
		errs = append(errs, fmt.Errorf("more than %d flat parts", maxFlatItems))
	}
	for _, s := range j.Sheets {
		within("sheet "+s.ID+" width", s.Width.MM(), 0.1, maxSheetMM)
		within("sheet "+s.ID+" height", s.Height.MM(), 0.1, maxSheetMM)
		if s.Quantity < 0 || s.Quantity > maxFlatItems || !(s.Price >= 0 && s.Price <= 1e6) {
			errs = append(errs, fmt.Errorf("sheet %s: quantity %d or price %g out of range", s.ID, s.Quantity, s.Price))
		}
	}
	return errors.Join(errs...)
}

// PackSheets lays the parts on sheets: those in the shop first, smallest first,
// then bought ones. It tries many orders of the parts, the same ones each time,
// and keeps the plan that leaves the least area without a place, then costs
// least, then uses the least area of what is bought. Parts lie by the boxes of
// their outlines, upright or, where the grain allows, turned a quarter. A part
// of the same size as the sheet may keep the sheet's own edges (bin.keeps).
func PackSheets(job SheetJob) (SheetPlan, error) {
	if err := job.check(); err != nil {
		return SheetPlan{}, err
	}
	var plan SheetPlan
	for _, group := range job.groups() {
		s := sheetSearch{job: job, items: expand(group)}
		s.addStock(group)
		plan.Layouts = append(plan.Layouts, s.run().layouts...)
	}
	counts := map[string]int{}
	for i := range plan.Layouts {
		l := &plan.Layouts[i]
		l.Number = i + 1
		l.Yield = l.area() / areaOf(l.Sheet)
		counts[l.Sheet.ID]++
	}
	for _, s := range job.Sheets {
		if n := counts[s.ID]; n > 0 && s.Quantity == 0 {
			plan.Buy = append(plan.Buy, Purchase[params.SheetStock]{s, n})
		}
	}
	return plan, nil
}

func areaOf(s params.SheetStock) float64 { return s.Width.MM() * s.Height.MM() }

func (l SheetLayout) area() float64 {
	a := 0.0
	for _, p := range l.Placed {
		a += p.WidthMM * p.HeightMM
	}
	return a
}

// groups puts items together that one sheet may hold, in order of first
// appearance; those that no sheet holds are left out.
func (j SheetJob) groups() (out [][]FlatItem) {
	pool := make([]int, len(j.Sheets)) // the first sheet of those that share items
	for k := range pool {
		pool[k] = k
	}
	first := func(it FlatItem) int { return slices.IndexFunc(j.Sheets, it.from) }
	for _, it := range j.Items {
		for k, s := range j.Sheets {
			if was := pool[k]; it.from(s) {
				for n := range pool {
					if pool[n] == was {
						pool[n] = pool[first(it)]
					}
				}
			}
		}
	}
	at := map[int]int{} // by pool, the group
	for _, it := range j.Items {
		k := first(it)
		if k < 0 || it.Quantity == 0 {
			continue
		}
		g, known := at[pool[k]]
		if !known {
			g, out = len(out), append(out, nil)
			at[pool[k]] = g
		}
		out[g] = append(out[g], it)
	}
	return out
}

// from says whether an item is cut from a sheet.
func (it FlatItem) from(s params.SheetStock) bool {
	return s.Takes(it.Material, unit.Length(it.ThicknessMM))
}

// expand lists single parts.
func expand(group []FlatItem) []FlatItem {
	var out []FlatItem
	for _, it := range group {
		for range it.Quantity {
			out = append(out, it)
		}
	}
	return out
}
