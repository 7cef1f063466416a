package sizing

import (
	"bytes"
	"fmt"
	"strings"

	"clampwright/params"
)

// Write returns the text of the parameter file with an option's choice made: what
// it was chosen for stands at the top, and a comment of why at values that change.
func Write(name string, text []byte, o *Option) ([]byte, error) {
	in, diags := params.Decode(name, text)
	if diags.HasErrors() {
		return nil, diags
	}
	base, diags := params.Resolve(in, text)
	if base == nil {
		return nil, diags
	}
	changes := append(o.tie(in, base), o.Choice.changes(in)...)
	for i := range changes {
		if c := &changes[i]; c.Value != "" {
			c.Why = o.reason(c.Path)
		}
	}
	out, _, err := params.Set(name, text, changes)
	return o.head(base.Style, out), err
}

// sizedMark begins the lines that head writes.
const sizedMark = "# sized: "

// head puts what the option was chosen for at the top of the text, in the place of
// what an earlier search wrote there, in the text's own line endings.
func (o *Option) head(s params.Style, text []byte) []byte {
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
		o.why() + "; " + o.Choice.Words(s),
		"clamp " + s.Mass(o.MassG) + o.Stops(s),
		fmt.Sprintf("the middle of the face gets %.0f %% of the mean; force from %s over all states", 100*o.Middle, s.Forces().Span(o.ForceN[0], o.ForceN[1])),
	} {
		out = append(out, sizedMark+strings.Join(strings.Fields(line), " ")+end...)
	}
	return append(out, body...)
}

// Stops says what stops the next lighter candidate; empty where there is none.
func (o *Option) Stops(s params.Style) string {
	if o.Lighter == nil {
		return ""
	}
	return fmt.Sprintf("; the next lighter, %s, is stopped by %s", s.Mass(o.Lighter.MassG), Words(s, o.Lighter.Bounds[0]))
}

// tie names what listed lengths are, where the choice would change it.
func (o *Option) tie(in *params.File, base *params.Fixture) []params.Change {
	angle, thread := "", ""
	if s := base.Stiffener; s != nil && s.Section.Name != o.Choice.Angle {
		angle = s.Section.Name
	}
	if base.Rods.Thread.Name != o.Choice.Thread {
		thread = base.Rods.Thread.Name
	}
	return in.TieStock(angle, thread)
}

// why says what the choice as a whole was made for.
func (o *Option) why() string {
	s := "chosen"
	if len(o.Best) > 0 {
		s += ": best by " + strings.Join(o.Best, " and ")
	}
	return s
}

// reason is the comment beside a value that is written.
func (o *Option) reason(path string) string {
	switch path {
	case "plates.material", "plates.thickness", "rods.thread":
		return o.why()
	case "rods.levels":
		return fmt.Sprintf("the middle of the face gets %.0f %% of the mean", 100*o.Middle)
	case "nuts.kind":
		return "the springs keep it tight"
	case "stiffeners":
		return "the plate does without"
	case "stiffeners.angle":
		return "one at each height on both plates"
	case "springs":
		return "locked nuts hold the window"
	case "springs.disc", "springs.coil":
		return fmt.Sprintf("force from %.0f to %.0f N over all states", o.ForceN[0], o.ForceN[1])
	}
	if strings.HasPrefix(path, "stock.") && strings.HasSuffix(path, ".item") {
		return "named, because the fixture now uses another"
	}
	return ""
}
