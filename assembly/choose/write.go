package choose

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"

	"clampwright/assembly/study"
	"clampwright/params"
)

// Write returns the text of the parameter file with an option's choice made: what
// it was chosen for stands at the top, and a comment of why at values that change.
// It fails when the written file does
// not settle into the very fixture that was proven.
func Write(name string, text []byte, o *Option) ([]byte, error) {
	in, diags := params.Decode(name, text)
	if diags.HasErrors() {
		return nil, diags
	}
	base, diags := params.Resolve(in, text)
	if base == nil {
		return nil, diags
	}
	changes := o.changes(in, base, o.Choice.apply(anchored(in, base)))
	changes = append(o.tie(name, text, base), changes...)
	out, err := params.Edit(name, text, changes)
	if err != nil {
		return nil, err
	}
	out = o.head(out)
	return out, o.verify(name, out, in, base)
}

// sizedMark begins the lines that head writes.
const sizedMark = "# sized: "

// head puts what the option was chosen for at the top of the text, in the place of
// what an earlier search wrote there, in the text's own line endings.
func (o *Option) head(text []byte) []byte {
	end := "\n"
	if bytes.Contains(text, []byte("\r\n")) {
		end = "\r\n"
	}
	mark := []byte("\uFEFF")
	body, marked := bytes.CutPrefix(text, mark)
	for bytes.HasPrefix(body, []byte(sizedMark)) {
		_, body, _ = bytes.Cut(body, []byte("\n"))
	}
	var out []byte
	if marked {
		out = append(out, mark...)
	}
	for _, line := range []string{
		o.why() + "; " + o.Choice.String(),
		fmt.Sprintf("clamp %.0f g, limited by %s", o.MassG, o.Limit),
		fmt.Sprintf("the middle of the face gets %.0f %% of the mean; force from %.0f to %.0f N over all states", 100*o.Middle, o.ForceN[0], o.ForceN[1]),
	} {
		out = append(out, sizedMark+strings.Join(strings.Fields(line), " ")+end...)
	}
	return append(out, body...)
}

// tie names what listed lengths are, where the choice would change it.
func (o *Option) tie(name string, text []byte, base *params.Fixture) []params.Change {
	angle, thread := "", ""
	if s := base.Stiffener; s != nil && s.Section.Name != o.Choice.Angle {
		angle = s.Section.Name
	}
	if base.Rods.Thread.Name != o.Choice.Thread {
		thread = base.Rods.Thread.Name
	}
	return params.TieStock(name, text, angle, thread)
}

// why says what the choice as a whole was made for.
func (o *Option) why() string {
	s := "chosen"
	if len(o.Best) > 0 {
		s += ": best by " + strings.Join(o.Best, " and ")
	}
	return s
}

// changes lists what the file must say. want is the file with the choice made.
func (o *Option) changes(in *params.File, base *params.Fixture, want *params.File) []params.Change {
	c, u := o.Choice, base.Style.Unit
	why := o.why()
	out := []params.Change{
		{Path: "plates.material", Value: params.Word(c.Plate.Material), Why: why},
		{Path: "plates.thickness", Value: params.LengthText(c.Plate.Thickness, u), Why: why},
		{Path: "rods.thread", Value: params.Word(c.Thread), Why: why},
	}
	var at []string
	for _, y := range c.Levels {
		at = append(at, params.LengthText(y, u))
	}
	out = append(out, params.Change{Path: "rods.levels", Value: "[" + strings.Join(at, ", ") + "]",
		Why: fmt.Sprintf("the middle of the face gets %.0f %% of the mean", 100*o.Middle)})
	drop := func(path string, was, is bool) {
		if was && !is {
			out = append(out, params.Change{Path: path, Why: "follows what was chosen"})
		}
	}
	r, w := &in.Rods, &want.Rods
	drop("rods.level_count", r.LevelCount.Set, w.LevelCount.Set)
	drop("rods.hole", r.Hole.Set, w.Hole.Set)
	drop("rods.pilot", r.Pilot.Set, w.Pilot.Set)
	drop("rods.edge_distance", r.EdgeDistance.Set, w.EdgeDistance.Set)
	drop("rods.protrusion", r.Protrusion.Set, w.Protrusion.Set)
	drop("rods.length", r.Length.Set, w.Length.Set)
	drop("rods.end_allowance", r.EndAllowance.Set, w.EndAllowance.Set)
	drop("rods.columns", len(r.Columns) > 0, len(w.Columns) > 0)
	drop("nuts.name", in.Nuts.Name.Set, want.Nuts.Name.Set)
	drop("nuts.drag_min", in.Nuts.DragMin.Set, want.Nuts.DragMin.Set)
	drop("nuts.drag_max", in.Nuts.DragMax.Set, want.Nuts.DragMax.Set)
	drop("washers.name", in.Washers.Name.Set, want.Washers.Name.Set)
	drop("tools.socket", in.Tools.Socket.Set, want.Tools.Socket.Set)
	if base.Pack.Rows == 2 {
		out = append(out, params.Change{Path: "rods.middle_column", Value: fmt.Sprint(c.Middle)})
	}
	if !in.Nuts.Kind.Set && want.Nuts.Kind.Set {
		out = append(out, params.Change{Path: "nuts.kind", Value: want.Nuts.Kind.V, Why: "the springs keep it tight"})
	}
	out = append(out, o.angleChanges(in, want)...)
	return append(out, o.springChanges(in)...)
}

func (o *Option) angleChanges(in, want *params.File) []params.Change {
	if o.Choice.Angle == "" {
		return []params.Change{{Path: "stiffeners", Value: "none", Why: "the plate does without"}}
	}
	out := []params.Change{{Path: "stiffeners.angle", Value: params.Word(o.Choice.Angle), Why: "one at each height on both plates"}}
	if in.Stiffeners.Gauge.Set && !want.Stiffeners.Gauge.Set {
		out = append(out, params.Change{Path: "stiffeners.gauge"})
	}
	if in.Stiffeners.Chamfer.Set && !want.Stiffeners.Chamfer.Set {
		out = append(out, params.Change{Path: "stiffeners.chamfer"})
	}
	return out
}

func (o *Option) springChanges(in *params.File) []params.Change {
	s := o.Choice.Spring
	if s.None() {
		if !in.Springs.Present || in.Springs.None {
			return nil
		}
		return []params.Change{{Path: "springs", Value: "none", Why: "locked nuts hold the window"}}
	}
	text := "\n  coil: " + params.Word(s.Coil)
	if s.Disc != "" {
		text = fmt.Sprintf("\n  disc: %s\n  parallel: %d\n  series: %d", params.Word(s.Disc), max(1, s.Parallel), s.Series)
	}
	ends := "one"
	if s.Both {
		ends = "both"
	}
	text += "\n  ends: " + ends
	if in.Springs.Friction.Set {
		text += fmt.Sprintf("\n  friction: %g", in.Springs.Friction.V)
	}
	return []params.Change{{Path: "springs", Value: text,
		Why: fmt.Sprintf("force from %.0f to %.0f N over all states", o.ForceN[0], o.ForceN[1])}}
}

// verify settles the written file and compares what the mechanics and the shop
// see with the fixture that was proven.
func (o *Option) verify(name string, text []byte, in *params.File, base *params.Fixture) error {
	got, diags := params.Load(name, text)
	if got == nil {
		return diags
	}
	want, diags := params.NewSettler(in).Settle(o.Choice.apply(anchored(in, base)))
	if want == nil {
		return diags
	}
	if !reflect.DeepEqual(study.Press(got), study.Press(want)) || got.Rods.Length != want.Rods.Length || got.Plate.Width != want.Plate.Width {
		return fmt.Errorf("the written file is another fixture than the one that was proven: mechanics or sizes differ")
	}
	return nil
}
