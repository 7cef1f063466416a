package step

import (
	"clampwright/parts/geom"
)

// solid writes the boundary of a shape as one MANIFOLD_SOLID_BREP.
func (f *file) solid(name string, s geom.Shell) int {
	w := shapeWriter{f, s, make([]int, len(s.Corners)), make([]int, len(s.Edges))}
	faces := make([]int, len(s.Faces))
	for i := range s.Faces {
		faces[i] = w.face(&s.Faces[i])
	}
	return f.add("MANIFOLD_SOLID_BREP(", text(name), ",", f.add("CLOSED_SHELL('',", faces, ")"), ")")
}

// shapeWriter writes each corner and edge of a shell once.
type shapeWriter struct {
	*file
	shell   geom.Shell
	corners []int
	edges   []int
}

func (w *shapeWriter) corner(i int) int {
	if w.corners[i] == 0 {
		w.corners[i] = w.add("VERTEX_POINT('',", w.point(w.shell.Corners[i]), ")")
	}
	return w.corners[i]
}

func (w *shapeWriter) edge(i int) int {
	if w.edges[i] == 0 {
		e := w.shell.Edges[i]
		curve := w.curve(e)
		w.edges[i] = w.add("EDGE_CURVE('',", w.corner(e.A), ",", w.corner(e.B), ",", curve, ",.T.)")
	}
	return w.edges[i]
}

// curve is what an edge lies on: a line, a circle, or where a mitre cuts a fillet
// an ellipse.
func (w *shapeWriter) curve(e geom.ShellEdge) int {
	if e.Straight() {
		a, b := w.shell.Corners[e.A], w.shell.Corners[e.B]
		way := w.shared("VECTOR('',", w.direction(b.Sub(a)), ",1.)")
		return w.add("LINE('',", w.point(a), ",", way, ")")
	}
	at, long, short := w.placement(e.O, e.X.Cross(e.Y), e.X), e.X.Len(), e.Y.Len()
	if long-short < geom.Weld {
		return w.add("CIRCLE('',", at, ",", long, ")")
	}
	return w.add("ELLIPSE('',", at, ",", long, ",", short, ")")
}

func (w *shapeWriter) face(f *geom.ShellFace) int {
	var bounds []int
	for i, l := range f.Loops {
		var uses []int
		for _, u := range l {
			uses = append(uses, w.add("ORIENTED_EDGE('',*,*,", w.edge(u.Edge), ",", sense(!u.Back), ")"))
		}
		kind := "FACE_BOUND"
		if i == 0 {
			kind = "FACE_OUTER_BOUND"
		}
		bounds = append(bounds, w.add(kind, "('',", w.add("EDGE_LOOP('',", uses, ")"), ",.T.)"))
	}
	return w.add("ADVANCED_FACE('',", bounds, ",", w.surface(f.Face), ",", sense(!f.Face.Inward), ")")
}

func (w *shapeWriter) surface(f geom.Face) int {
	at := w.placement(f.Frame.O, f.Frame.Z, f.Frame.X)
	if f.Planar() {
		return w.add("PLANE('',", at, ")")
	}
	return w.add("CYLINDRICAL_SURFACE('',", at, ",", f.R, ")")
}

func sense(forward bool) string {
	if forward {
		return ".T."
	}
	return ".F."
}
