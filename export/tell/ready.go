package tell

import (
	"math"
	"slices"
	"strings"

	"clampwright/assembly/job"
	"clampwright/assembly/wiring"
	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/export/steps"
	"clampwright/params/number"
	"clampwright/params/words"
)

// toolNames are the tools as they are laid out, those without a size first.
var toolNames = []struct {
	kind work.ToolKind
	name string
}{
	{work.Calliper, "calliper"}, {work.Wrench, "torque wrench"}, {work.Edge, "straight edge"}, {work.Board, "flat board"}, {work.Block, "block of wood"}, {work.Clamps, "clamps"},
	{work.Saw, "saw"}, {work.Knife, "sharp knife and steel rule"}, {work.Turner, "screwdriver"}, {work.Weights, "weights"}, {work.Router, "router"}, {work.Laser, "laser cutter"}, {work.Deburrer, "deburring tool and countersink"}, {work.File, "file"}, {work.Mask, "dust mask"}, {work.Goggles, "eye protection"}, {work.Pen, "pen"}, {work.Probe, "thin rod"}, {work.Scale, "scale and a vice or press"}, {work.Tape, "insulating tape"}, {work.Ties, "cable ties"},
	{work.Driver, "insulated driver for the terminals"}, {work.Meter, "meter"}, {work.Pad, "plastic scouring pad"}, {work.TestLead, "test lead with 10 kiloohm in it"}, {work.Supply, "charger or supply"}, {work.Load, "load that counts ampere hours"},
	{work.FusedLead, "lead with a fuse"}, {work.Insulated, "insulating gloves"}, {work.BedPrint, "3D printer"}, {work.Strips, "strips"}, {work.Raiser, "board under the cells"},
	{work.Bit, "drill"}, {work.Spanner, "spanner"}, {work.Pliers, "pliers"},
}

// Ready are the tools that the steps use, with their sizes.
func Ready(j *job.Job) []page.Fact {
	sizes, two := map[work.ToolKind][]string{}, false
	for _, p := range j.Work {
		for _, s := range p.Steps {
			spanners := 0
			for _, t := range s.Tools {
				if t.Kind == work.Spanner {
					spanners++
					two = two || spanners > 1
				}
				size := ""
				switch {
				case t.Kind == work.Bit && t.Bit.Name != "":
					size = t.Bit.Words()
				case t.Kind == work.FusedLead:
					size = fuse(j)
				case t.Kind == work.Pliers: // any that reach; the jaw is in the checks
				case t.Kind == work.Strips || t.Kind == work.Raiser:
					size = steps.Packing(j.Fixture.Style, t.SizeMM)
				case t.SizeMM > 0:
					size = j.Fixture.Style.Length(t.SizeMM)
				}
				if _, known := sizes[t.Kind]; !known || size != "" && !slices.Contains(sizes[t.Kind], size) {
					sizes[t.Kind] = words.NonEmpty(append(sizes[t.Kind], size)...)
				}
			}
		}
	}
	var plain []string
	var out []page.Fact
	for _, t := range toolNames {
		switch all, used := sizes[t.kind]; {
		case !used:
		case len(all) == 0:
			plain = append(plain, t.name)
		case t.kind == work.Spanner && two: // one holds, one turns
			out = append(out, page.Fact{Label: "Spanners or sockets, two", Value: strings.Join(all, ", ")})
		default:
			out = append(out, page.Fact{Label: words.Upper(t.name), Value: strings.Join(all, ", ")})
		}
	}
	if len(plain) > 0 {
		out = append([]page.Fact{{Label: "Tools", Value: words.Join(plain)}}, out...)
	}
	return out
}

// fuse is what is in the fused lead: it breaks the worst short that a link can make.
func fuse(j *job.Job) string {
	w := j.Wiring
	return number.Trim(wiring.FuseA, 0) + " A, for " + number.Trim(math.Ceil(w.Final().VoltageOf(w.Layout.Input().Volts.Full)), 0) + " V direct voltage, breaks " + number.Trim(math.Ceil(w.Plan.Harm.WorstA/1000), 0) + " kA"
}

// hours are how long the hands are busy, and how long somebody must be near while cells charge and discharge.
func hours(j *job.Job) []page.Fact {
	sum := 0.0
	for _, p := range j.Work {
		for _, s := range p.Steps {
			if w, ok := s.Facts.(*work.Wired); ok {
				sum += w.Hours
			}
		}
	}
	out := []page.Fact{{Label: "Work", Value: "about " + number.Trim(work.Hours(j.Work), 0) + " h"}}
	if sum > 0 {
		out = append(out, page.Fact{Label: "Charging, somebody near", Value: number.Trim(sum, 0) + " h"})
	}
	return out
}
