package params

import (
	"fmt"
	"math"

	"clampwright/params/unit"
)

// Laminate is a plate of equal sheets on each other.
type Laminate struct {
	Sheets  int
	Sheet   unit.Length // thickness of one
	Crossed bool        // every other one has its grain turned
	Glued   bool        // and screwed; else screwed alone
	// Efficiency is the part of the full shear between the sheets that is counted on.
	Efficiency float64
	Screw      unit.Length // diameter
	ScrewLong  unit.Length
}

// Sheet is the thickness of what the plate is cut from.
func (p *Plate) Sheet() unit.Length {
	if p.Laminate != nil {
		return p.Laminate.Sheet
	}
	return p.Thickness
}

// Across says whether the grain of a sheet, the outermost 0, runs as the plate's.
func (l *Laminate) Across(sheet int) bool { return !l.Crossed || sheet%2 == 0 }

// Part of the full shear between sheets that is counted on: assumed, unverified; of screws
// no more than screwShear.
var jointShear = map[bool]float64{true: 0.8, false: 0.1}

// screwPitch is how far apart the screws through the sheets stand, mm.
const screwPitch = 150

// screwShear is the part of the full shear between two sheets that screws can carry, the
// slip between them on the longer side: 1/(1 + pi^2 E (t/2) / (k l^2)), a screw's slip modulus
// rho^1.5 d/23 (EN 1995-1-1, annex B and table 7.1, from memory: wood; taken for all).
func screwShear(p *Plate) float64 {
	w, h, m := p.Width.MM(), p.Height.MM(), &p.Material
	e, d := m.E.MPa(), p.Laminate.Screw.MM()
	if m.EAcross > 0 {
		e = min(e, m.EAcross.MPa())
	}
	screws := (math.Ceil(w/screwPitch) + 1) * (math.Ceil(h/screwPitch) + 1) // at most
	slip := math.Pow(1000*m.DensityGCM3, 1.5) * d / 23 * screws / (w * h)
	return 1 / (1 + math.Pi*math.Pi*e*p.Laminate.Sheet.MM()/2/(slip*math.Pow(max(w, h), 2)))
}

// settleShear settles how the sheets of a plate hold on each other.
func settleShear(r *resolver) {
	l, in := r.f.Plate.Laminate, r.in.Plates.Laminate.Efficiency
	if l == nil {
		return
	}
	part, why := jointShear[l.Glued], "assumed, unverified"
	if most := screwShear(&r.f.Plate); !l.Glued && (part > most || in.V > most) {
		part, why = min(part, math.Floor(1000*most)/1000), "what the screws can carry"
		if in.Set && in.V > max(most, part) {
			r.errorf(in.At, "screws alone do not carry so much of the shear between the sheets", fmt.Sprintf("%.3g", in.V), fmt.Sprintf("%.3g at most", part), "leave it out, or take joint: glued")
		}
	}
	l.Efficiency = pick(r, "plates.laminate.efficiency", in, part, why)
}

// usualSheets is how many sheets make a plate; usualScrew is the screws' diameter, mm;
// screwShort is by how much they are shorter than the plate, so that no point comes out at
// a cell, mm. Common practice, no source.
const (
	usualSheets             = 2
	usualScrew  unit.Length = 3.5
	screwShort  unit.Length = 2
)

// screwLengths are usual lengths of countersunk wood screws, mm (trade lists, from memory).
var screwLengths = []unit.Length{10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80}

// laminate settles the sheets that make a plate.
func laminate(r *resolver) {
	in, p := &r.in.Plates.Laminate, &r.f.Plate
	if !in.Present || in.None {
		return
	}
	l := &Laminate{Sheets: pick(r, "plates.laminate.sheets", in.Sheets, usualSheets, "two on each other"), Crossed: in.Grain.Or("same") == "crossed", Glued: in.Joint.Or("glued") == "glued"}
	l.Sheet = pick(r, "plates.laminate.sheet", in.Sheet, p.Thickness/unit.Length(l.Sheets), "the plate's thickness shared out")
	l.Screw = pick(r, "plates.laminate.screw", in.Screw, usualScrew, "common practice")
	p.Laminate = l
	if all := unit.Length(l.Sheets) * l.Sheet; math.Abs((all - p.Thickness).MM()) > exact {
		r.errorf(r.in.Plates.Thickness.At, "the sheets don't make the plate", r.text(p.Thickness), fmt.Sprintf("%d sheets of %s: %s", l.Sheets, r.text(l.Sheet), r.text(all)), "leave plates.thickness out")
		p.Thickness = all
	}
	if l.Glued && p.Material.NoGlue {
		r.errorf(in.At, "no usual glue holds on "+p.Material.Name, "joint: glued", "joint: screwed", "screws alone carry little shear: the plate bends nearly as its sheets do")
	}
	if l.Crossed && l.Sheets%2 == 0 {
		r.errorf(in.Grain.At, "the sheets' grain is not the same from both faces", fmt.Sprintf("%d sheets, crossed", l.Sheets), "an odd number of sheets", "the plate would bow as it dries")
	}
	if l.Crossed && p.Material.EAcross <= 0 {
		r.errorf(in.Grain.At, p.Material.Name+" has no grain to cross", "grain: crossed", "grain: same", "leave it out")
	}
	for _, long := range screwLengths {
		if long <= p.Thickness-screwShort {
			l.ScrewLong = long
		}
	}
	if hold := p.Thickness - l.Sheet + max(l.Sheet/2, l.Screw/2); l.ScrewLong < hold {
		r.errorf(in.At, "no usual screw holds the innermost sheet and stays in it", fmt.Sprintf("a plate of %s", r.text(p.Thickness)), fmt.Sprintf("a screw from %s to %s", r.text(hold), r.text(p.Thickness-screwShort)), "take fewer, thicker sheets")
		l.ScrewLong = hold
	}
}
