package page

import (
	"fmt"
	"math"

	"clampwright/params/number"
	"clampwright/parts/geom"
)

// maxVertices bounds one scene: more would not fit a page a phone can open.
const maxVertices = 2_000_000

// validate refuses a Sheet that could not be drawn: numbers that are not
// finite, indices out of range, lists whose lengths do not agree.
func (s *Sheet) validate() error {
	if s.Title == "" {
		return fmt.Errorf("page: the sheet has no title")
	}
	for _, f := range []func() error{s.checkVerdicts, s.checkScene, s.checkClamp, s.checkPlans} {
		if err := f(); err != nil {
			return fmt.Errorf("page: %q: %w", s.Title, err)
		}
	}
	return nil
}

func (s *Sheet) checkVerdicts() error {
	vs := []Verdict{s.Verdict}
	for _, c := range s.Checks {
		vs = append(vs, c.Verdict)
	}
	for _, st := range s.Clamp.States {
		vs = append(vs, st.Verdict)
	}
	for _, v := range vs {
		if v != "" && v != Pass && v != Warn && v != Fail {
			return fmt.Errorf("unknown verdict %q", string(v))
		}
	}
	for _, c := range s.Checks {
		if c.Sketch != nil {
			if err := c.Sketch.check(); err != nil {
				return fmt.Errorf("check %s: %w", c.Name, err)
			}
		}
	}
	return nil
}

func (s *Sheet) checkScene() error {
	total := 0
	for _, b := range s.Scene.Bodies {
		total += len(b.Mesh.Vertices)
		if total > maxVertices {
			return fmt.Errorf("scene: more than %d vertices", maxVertices)
		}
		if err := checkMesh(b.Mesh); err != nil {
			return fmt.Errorf("body %q: %w", b.Name, err)
		}
		for _, p := range b.Places {
			if err := finite3(p.Frame.O, p.Frame.X, p.Frame.Y, p.Frame.Z); err != nil {
				return fmt.Errorf("body %q: place: %w", b.Name, err)
			}
		}
	}
	return nil
}

func checkMesh(m geom.Mesh) error {
	if err := finite3(m.Vertices...); err != nil {
		return err
	}
	n := int32(len(m.Vertices))
	for i, t := range m.Triangles {
		for _, v := range t {
			if v < 0 || v >= n {
				return fmt.Errorf("triangle %d: vertex %d of %d", i, v, n)
			}
		}
	}
	return nil
}

// maxMM bounds every drawn length: a thousand kilometres is no fixture, and
// arithmetic on such numbers stays finite.
const maxMM = 1e9

func finite3(vs ...geom.Vec3) error {
	for _, v := range vs {
		if err := number.Check(v.X, v.Y, v.Z); err != nil {
			return err
		}
		if max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)) > maxMM {
			return fmt.Errorf("coordinate beyond %g mm", float64(maxMM))
		}
	}
	return nil
}

func finite2(vs ...geom.Vec2) error {
	for _, v := range vs {
		if err := finite3(geom.Vec3{X: v.X, Y: v.Y}); err != nil {
			return err
		}
	}
	return nil
}

func finiteLines(cs []Polyline) error {
	for _, c := range cs {
		if err := finite2(c...); err != nil {
			return err
		}
	}
	return nil
}

// plain refuses numbers that are not finite or beyond any sense.
func plain(vs ...float64) error {
	for _, v := range vs {
		if err := finite3(geom.Vec3{X: v}); err != nil {
			return err
		}
	}
	return nil
}

func (s *Sketch) check() error {
	for _, sh := range s.Shapes {
		if err := finiteLines(sh.Outlines); err != nil {
			return fmt.Errorf("sketch: %q: %w", sh.Label, err)
		}
	}
	for _, p := range s.Points {
		if err := finite2(p.At); err != nil {
			return fmt.Errorf("sketch: %q: %w", p.Label, err)
		}
	}
	for _, g := range s.Gaps {
		if err := finite2(g.From, g.To); err != nil {
			return fmt.Errorf("sketch: %q: %w", g.Label, err)
		}
	}
	return nil
}

func (s *Sheet) checkClamp() error {
	c := s.Clamp
	if err := plain(c.Window.Low, c.Window.High, c.Charge.Window.Low, c.Charge.Window.High); err != nil {
		return fmt.Errorf("window: %w", err)
	}
	if err := c.Faces.check(); err != nil {
		return err
	}
	for _, st := range c.States {
		if len(st.Margins) != len(c.MarginNames) {
			return fmt.Errorf("state %q: %d margins for %d names", st.Name, len(st.Margins), len(c.MarginNames))
		}
		for _, f := range st.Fields {
			if err := f.check(); err != nil {
				return fmt.Errorf("state %q: %w", st.Name, err)
			}
		}
	}
	return c.Charge.check()
}

func (fs Faces) check() error {
	if err := finite2(fs.Plate.Min, fs.Plate.Max); err != nil {
		return fmt.Errorf("plate: %w", err)
	}
	for _, a := range fs.Angles {
		if err := finite2(a.Box.Min, a.Box.Max); err != nil {
			return fmt.Errorf("%s: %w", a.Label, err)
		}
	}
	for i, r := range fs.Rods {
		if err := plain(r.C.X, r.C.Y, r.R); err != nil {
			return fmt.Errorf("rod %d: %w", i+1, err)
		}
	}
	return nil
}

func (f Field) check() error {
	if len(f.X) < 2 || len(f.Y) < 2 || len(f.P) != len(f.X)*len(f.Y) {
		return fmt.Errorf("field: %d pressures on %d x %d nodes", len(f.P), len(f.X), len(f.Y))
	}
	for _, axis := range [][]float64{f.X, f.Y} {
		for i := 1; i < len(axis); i++ {
			if !(axis[i] > axis[i-1]) {
				return fmt.Errorf("field: nodes %d and %d do not rise", i-1, i)
			}
		}
	}
	for _, vs := range [][]float64{f.X, f.Y, f.P} {
		if err := plain(vs...); err != nil {
			return fmt.Errorf("field: %w", err)
		}
	}
	return nil
}

func (c Chart) check() error {
	for _, s := range c.Series {
		n := len(s.X)
		band := len(s.Low) == 0 && len(s.High) == 0 || len(s.Low) == n && len(s.High) == n
		if len(s.Y) != n || !band {
			return fmt.Errorf("curve %q: lists of %d, %d, %d and %d", s.Name, n, len(s.Y), len(s.Low), len(s.High))
		}
		for _, vs := range [][]float64{s.X, s.Y, s.Low, s.High} {
			if err := plain(vs...); err != nil {
				return fmt.Errorf("curve %q: %w", s.Name, err)
			}
		}
	}
	for _, m := range c.Marks {
		if err := plain(m.X, m.Y); err != nil {
			return fmt.Errorf("mark %q: %w", m.Label, err)
		}
	}
	return nil
}

// checkPlans covers sheets, bars, holes and wiring.
func (s *Sheet) checkPlans() error {
	for _, n := range s.Cutting.Sheets {
		if err := n.check(); err != nil {
			return fmt.Errorf("sheet %q: %w", n.Name, err)
		}
	}
	for _, b := range s.Cutting.Bars {
		if err := b.check(); err != nil {
			return fmt.Errorf("bar %q: %w", b.Name, err)
		}
	}
	for _, d := range s.Drilling {
		if err := d.check(); err != nil {
			return fmt.Errorf("holes of %q: %w", d.Part, err)
		}
	}
	for _, w := range s.Wiring.States {
		if err := w.check(); err != nil {
			return fmt.Errorf("wiring %q: %w", w.Title, err)
		}
	}
	return nil
}

func (n NestSheet) check() error {
	if err := plain(n.Width, n.Height); err != nil {
		return err
	}
	if !(n.Width > 0) || !(n.Height > 0) {
		return fmt.Errorf("size %g x %g mm", n.Width, n.Height)
	}
	if n.Grain != "" && n.Grain != "x" && n.Grain != "y" {
		return fmt.Errorf("grain %q", n.Grain)
	}
	for _, p := range n.Placed {
		if err := finiteLines(p.Outlines); err != nil {
			return fmt.Errorf("%q: %w", p.Label, err)
		}
	}
	return nil
}

func (b Bar) check() error {
	if err := plain(b.Length, b.Kerf); err != nil {
		return err
	}
	if !(b.Length > 0) || b.Kerf < 0 {
		return fmt.Errorf("length %g mm, kerf %g mm", b.Length, b.Kerf)
	}
	for _, p := range b.Pieces {
		if err := plain(p.Length); err != nil {
			return err
		}
		if !(p.Length > 0) {
			return fmt.Errorf("piece %q: length %g mm", p.Label, p.Length)
		}
	}
	return nil
}

func (d DrillPart) check() error {
	if err := finiteLines(d.Outlines); err != nil {
		return err
	}
	for _, h := range d.Holes {
		if err := plain(h.At.X, h.At.Y, h.Diameter); err != nil {
			return fmt.Errorf("%q: %w", h.ID, err)
		}
	}
	return finite2(d.Origin)
}

func (w WiringState) check() error {
	var all []geom.Vec2
	for _, c := range w.Cells {
		all = append(all, c.Box.Min, c.Box.Max)
	}
	for _, t := range w.Terminals {
		all = append(all, t.At, geom.Vec2{X: t.Radius})
	}
	for _, l := range w.Links {
		all = append(append(all, l.Line...), geom.Vec2{X: l.Width})
	}
	for _, t := range w.Takeoffs {
		all = append(all, t.At)
	}
	return finite2(all...)
}
