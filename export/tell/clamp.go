package tell

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/assembly/assure"
	"clampwright/assembly/clamp"
	"clampwright/assembly/job"
	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/export/steps"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
	"clampwright/parts/geom"
)

func Clamp(j *job.Job) page.Clamp {
	r, style := j.Clamp, j.Fixture.Style
	c := page.Clamp{
		Sentences: append(words.NonEmpty(Pressing(j), j.Assurance.Sentence(), Rests(j)), Readings(j)...), ForceUnit: style.Forces().Unit, PressureUnit: style.Pressures().Unit, LengthUnit: string(style.Lengths().Unit),
		StatesCaption: fmt.Sprintf("Forces and pressures in each state. Mean: force over the whole face, as data sheets count it. Middle: mean over the middle %.0f %% of width and height, where cells swell. Least and greatest: of the single spots that are pressed.",
			100*float64(j.Fixture.Cell.SwellWidth/j.Fixture.Cell.Width)),
		Window: window(j), Faces: faces(j), Charge: chargeChart(j),
	}
	c.MarginNames = marginNames(r)
	if s := j.Assurance; s.Draws > 0 {
		c.MethodsCaption, c.Methods = "Ways to set this clamp, if it is never set again. The steps use the one that is marked.", methods(s)
		c.RangesCaption, c.Ranges = "Assumptions where nothing is measured: 90 in 100 lie between the two values.", ranges(j)
	}
	for _, s := range r.States {
		c.States = append(c.States, clampState(j, s, c.MarginNames))
	}
	return c
}

// methods are the ways of setting with the part of fixtures that each serves.
func methods(s *assure.Share) [][]string {
	out := [][]string{{"set", "within the setting band", "stay within the bands", ""}}
	for _, w := range s.Ways {
		mark := ""
		if w.Method == s.Method {
			mark = "as in the steps"
		}
		out = append(out, []string{w.Method.Words(), number.Trim(100*w.Set, 0) + " %", number.Trim(100*w.Share, 0) + " %", mark})
	}
	return out
}

func ranges(j *job.Job) [][]string {
	s := j.Fixture.Style
	head, rows, _ := job.Ranges(j)
	for _, r := range rows {
		if lo, hi := r[1]+" "+r[3], r[2]+" "+r[3]; s.Say(hi) != hi { // in the shop's
			r[1], r[2], r[3] = s.Say(lo), s.Say(hi), ""
		}
	}
	return append([][]string{head}, rows...)
}

func window(j *job.Job) page.Window {
	t, pressure := j.Clamp.Target, j.Fixture.Style.Pressures()
	return page.Window{
		Given: true, Low: pressure.Of(t.FloorKPa), High: pressure.Of(t.LimitKPa),
		Label: "allowed in service, " + pressure.Span(math.Round(t.FloorKPa), math.Round(t.LimitKPa)),
	}
}

// faces draws what lies on the plate, in plate coordinates.
func faces(j *job.Job) page.Faces {
	f := j.Fixture
	out := page.Faces{Plate: geom.Box2{Max: geom.Vec2{X: f.Plate.Width.MM(), Y: f.Plate.Height.MM()}}}
	for i, y := range f.Rods.Levels {
		py := (y - f.Plate.Bottom).MM()
		for _, x := range f.Rods.Columns {
			out.Rods = append(out.Rods, geom.Circle{C: geom.Vec2{X: (x + f.Plate.Width/2).MM(), Y: py}, R: f.Rods.Thread.Major.MM() / 2})
		}
		s := f.Stiffener
		if s == nil {
			continue
		}
		lo, hi := py-s.Gauge.MM(), py+(s.DrilledLeg-s.Gauge).MM()
		if s.StandingUp[i] {
			lo, hi = py-(s.DrilledLeg-s.Gauge).MM(), py+s.Gauge.MM()
		}
		mid := f.Plate.Width.MM() / 2
		half := s.Length.MM() / 2
		out.Angles = append(out.Angles, page.Strip{Box: geom.Box2{Min: geom.Vec2{X: mid - half, Y: lo}, Max: geom.Vec2{X: mid + half, Y: hi}}, Label: "angle at " + j.Fixture.Style.Length(y.MM())})
	}
	return out
}

// marginNames are the parts whose margins the states report, in a fixed order.
func marginNames(r *clamp.Result) []string {
	var names []string
	for _, want := range []string{"plate", "stiffener", "foot", "pad", "rod", "rod bending", "thread", "seat", "spring"} {
		for _, m := range r.States[0].Margins {
			if m.Part == want {
				names = append(names, want)
				break
			}
		}
	}
	return names
}

func clampState(j *job.Job, s clamp.State, names []string) page.State {
	force, kPa := j.Fixture.Style.Forces(), j.Fixture.Style.Pressures().Number
	bent, _, _ := strings.Cut(j.Fixture.Style.Small(s.DeflectionMM), " ")
	out := page.State{
		Name: s.Name, Force: force.Number(s.ForceN), RodForces: rodForces(force, s.RodForceN),
		Mean: kPa(s.Pressure.Mean), Least: kPa(s.Pressure.Least), Greatest: kPa(s.Pressure.Greatest), Middle: kPa(s.Pressure.Swell),
		Contact: number.Trim(100*s.ContactFraction, 0) + " %", Deflection: bent,
		Verdict: page.Verdict(s.Verdict), Reason: s.Limiting, Fields: fields(j, s.Field),
	}
	for _, name := range names {
		text := ""
		for _, m := range s.Margins {
			if m.Part == name {
				text = marginText(m.Margin)
				break
			}
		}
		out.Margins = append(out.Margins, text)
	}
	return out
}

// marginText is the reserve in percent; far beyond any doubt it is one word.
func marginText(m float64) string {
	if math.IsInf(m, 0) || m > 9.99 {
		return "> 1000 %"
	}
	return number.Trim(100*m, 0) + " %"
}

func rodForces(force params.Measure, f []float64) string {
	if len(f) == 0 {
		return ""
	}
	lo, hi := f[0], f[0]
	for _, v := range f {
		lo, hi = min(lo, v), max(hi, v)
	}
	if hi-lo < 0.5 {
		return fmt.Sprintf("%d x %s", len(f), force.Number(lo))
	}
	return fmt.Sprintf("%s to %s", force.Number(lo), force.Number(hi))
}

// fields cuts the plate's pressure grid into one field for each cell face.
func fields(j *job.Job, g clamp.Field) []page.Field {
	var out []page.Field
	f := j.Fixture
	for _, rx := range f.Pack.RowX {
		x0 := (rx - f.Cell.Width/2 + f.Plate.Width/2).MM()
		y0 := (-f.Plate.Bottom).MM()
		xs := within(g.XMM, x0, x0+f.Cell.Width.MM())
		ys := within(g.YMM, y0, y0+f.Cell.Height.MM())
		if len(xs) < 2 || len(ys) < 2 {
			continue
		}
		var p page.Field
		for _, i := range xs {
			p.X = append(p.X, g.XMM[i])
		}
		for _, k := range ys {
			p.Y = append(p.Y, g.YMM[k])
			for _, i := range xs {
				p.P = append(p.P, f.Style.Pressures().Of(max(0, g.KPa[k][i])))
			}
		}
		out = append(out, p)
	}
	return out
}

// gridSlack is how far a grid line may lie outside a face's edge and still be
// that edge, mm.
const gridSlack = 1e-6

func within(v []float64, lo, hi float64) []int {
	var out []int
	for i, x := range v {
		if x >= lo-gridSlack && x <= hi+gridSlack {
			out = append(out, i)
		}
	}
	return out
}

const torqueLabel = "Torque"

func Setting(j *job.Job) page.Setting {
	s := j.Clamp.Setting
	out := page.Setting{Sentences: settingSentences(j)}
	out.Figures = append(out.Figures,
		page.Fact{Label: "Force on each rod", Value: j.Fixture.Style.Forces().Span(s.RodN.Least, s.RodN.Greatest), Note: "all rods together " + j.Fixture.Style.Forces().Text(s.TargetN)},
		turnsFact(j),
	)
	if j.Assurance.Method == assure.Torque && !s.SnugIsEnough() {
		out.Figures[1] = page.Fact{Label: "Torque, greased", Value: j.Fixture.Style.Torques().Span(work.GreasedNMM(j.Fixture, s.RodN.Least), work.GreasedNMM(j.Fixture, s.RodN.Greatest))}
		return out
	}
	if s.SpringFree > 0 {
		out.Figures = append(out.Figures, steps.Heights("Spring height", work.Heights(j.Assembly, j.Clamp), j.Fixture.Style)...)
	}
	note := "a wrench alone can't set this force"
	if s.WrenchOK {
		note = "wrench reading over the band of friction and nut drag"
	}
	if !work.SnugIsAll(j.Fixture, j.Clamp) {
		out.Figures = append(out.Figures, page.Fact{Label: torqueLabel, Value: j.Fixture.Style.Torques().Span(s.TorqueNMM.Least, s.TorqueNMM.Greatest), Note: note})
	}
	for _, w := range j.Clamp.Warnings {
		out.Warnings = append(out.Warnings, w.Text)
	}
	return out
}

// SettingFigures are the figures to set, a few words each; no torque that a wrench
// can't set.
func SettingFigures(j *job.Job) []string {
	var out []string
	for _, f := range Setting(j).Figures {
		if f.Label == torqueLabel && !j.Clamp.Setting.WrenchOK {
			continue
		}
		out = append(out, words.Lower(f.Label)+" "+f.Value)
	}
	return out
}

// turnsFact is how far the nuts are turned past snug.
func turnsFact(j *job.Job) page.Fact {
	groups := j.Clamp.Setting.Groups()
	switch {
	case work.SnugIsAll(j.Fixture, j.Clamp):
		return page.Fact{Label: "Turns past snug", Value: "none", Note: "snug is enough"}
	case len(groups) == 1:
		return page.Fact{Label: "Turns past snug", Value: clamp.TurnWords(groups[0].Turns)}
	}
	var turns []float64
	for _, g := range groups {
		turns = append(turns, g.Turns)
	}
	return page.Fact{Label: "Turns past snug", Value: number.Fixed(slices.Min(turns), 2) + " to " + number.Fixed(slices.Max(turns), 2), Note: "each rod its own, as under Steps"}
}
