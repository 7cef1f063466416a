package printed

import (
	"fmt"
	"math"
	"strings"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// What is advised, common practice, no source: lines of lineMM from a usual nozzle;
// walls of up to filledMM are all lines; what presses or insulates is filled, aids need
// aidInfill per cent. A part over slim times as high as its foot is wide, or longer than
// curlMM, gets a brim of brimMM.
const (
	lineMM, filledMM = 0.45, 3.0
	aidInfill        = 30
	slim             = 4.0
	curlMM, brimMM   = 150.0, 5.0
)

// What a part must stand while it is printed, assumed: the nozzle pushes its top with pushN
// as it passes, the bed holds an edge of foot or brim with holdMPa, few of what a clean bed
// does. As printed a part has a modulus of printMPa.
const pushN, holdMPa, printMPa = 0.3, 0.05, 2000.0

// tallest is how high a post stands whose section has a second moment, mm⁴, mm: pushed, it
// gives way by half a line, as a cantilever does.
func tallest(moment float64) float64 { return math.Cbrt(3 * printMPa * moment * lineMM / 2 / pushN) }

// stands says whether bed and brim hold a part by its foot. Foot and brim are taken for an
// ellipse in their box, the foot as full as it is.
func stands(p *parts.Print, foot geom.Vec2, brim float64) bool {
	const round = 3 * math.Pi / 16
	long, wide := max(foot.X, foot.Y), min(foot.X, foot.Y)
	moment := round*((long+2*brim)*math.Pow(wide+2*brim, 3)-long*wide*wide*wide)/12 + p.FootMM2*wide*wide/12
	return pushN*p.HighMM*(wide/2+brim) <= holdMPa*moment
}

// advise measures a part as it lies, its steep faces and walls known, and fills in how to
// print it.
func advise(k parts.Kind, m geom.Mesh, p *parts.Print) {
	foot, box := geom.EmptyBox2(), m.Transform(p.Lie).Bounds()
	for _, t := range m.Triangles {
		a, b, c := p.Lie.Point(m.Vertices[t[0]]), p.Lie.Point(m.Vertices[t[1]]), p.Lie.Point(m.Vertices[t[2]])
		if max(a.Z, b.Z, c.Z) < onBed {
			foot = foot.Add(a.XY()).Add(b.XY()).Add(c.XY())
			p.FootMM2 += math.Abs(b.Sub(a).Cross(c.Sub(a)).Z) / 2
		}
	}
	p.HighMM, p.Lines, p.InfillPct = box.Size().Z, 4, 100
	if p.WallMM < filledMM {
		p.Lines = max(2, int(math.Ceil(p.WallMM/2/lineMM-0.05)))
	}
	if k == parts.KindGuide || k == parts.KindGauge {
		p.InfillPct = aidInfill
	}
	wide := foot.Size()
	if p.HighMM > slim*min(wide.X, wide.Y) || max(wide.X, wide.Y) > curlMM {
		p.BrimMM = brimMM
	}
	for p.BrimMM < 10*brimMM && !stands(p, wide, p.BrimMM) {
		p.BrimMM = max(brimMM, p.BrimMM+1)
	}
}

// BridgedMM2 is the area of steep faces that any printer bridges, mm².
const BridgedMM2 = 5

// Advice says how a part is printed; sizes in mm, as printers' programs have them.
func Advice(p *parts.Part) string {
	r := p.Print
	if r == nil {
		return ""
	}
	said := []string{fmt.Sprintf("lies as in the file, %.0f mm high on %.0f mm² of the bed", r.HighMM, r.FootMM2),
		fmt.Sprintf("%d lines of wall, infill %d %%", r.Lines, r.InfillPct)}
	if r.BrimMM > 0 {
		said = append(said, fmt.Sprintf("brim %.0f mm", r.BrimMM))
	} else {
		said = append(said, "no brim")
	}
	if r.SteepMM2 > BridgedMM2 && r.Need == "" {
		said = append(said, "support under the overhangs")
	} else {
		said = append(said, "no support")
	}
	if len(p.Holes) > 0 {
		bores := "bores upright"
		if math.Abs(r.Lie.Dir(geom.Vec3{Z: 1}).Z) < 0.9 {
			bores = fmt.Sprintf("bores level, for upright %.0f mm² of the faces that lie on the work would print on support; they print low, so ream them to size before a drill or bushing goes in", r.UprightMM2)
		}
		said = append(said, bores)
	}
	return strings.Join(said, "; ")
}
