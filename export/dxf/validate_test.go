package dxf

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"clampwright/parts/geom"
)

func TestValidateRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	at := geom.Vec2{X: 1, Y: 1}
	for name, c := range map[string]struct {
		break_ func(*Drawing)
		want   string
	}{
		"NaN vertex":     {func(d *Drawing) { d.Outlines[0][2].P.X = nan }, "outline 1: vertex 3"},
		"infinite bulge": {func(d *Drawing) { d.Outlines[0][1].Bulge = inf }, "outline 1: the bulge of edge 2"},
		"short edge":     {func(d *Drawing) { d.Outlines[0][1].P = d.Outlines[0][0].P }, "outline 1: edge 1 has no length"},
		"flat outline": {func(d *Drawing) {
			d.Outlines = append(d.Outlines, geom.Path{{P: at}, {P: geom.Vec2{X: 300, Y: 1}}})
		}, "outline 2: encloses no area"},
		"lone vertex":    {func(d *Drawing) { d.Slots = append(d.Slots, geom.Path{{P: at}}) }, "slot 2: fewer than two"},
		"hole twice":     {func(d *Drawing) { d.Holes = append(d.Holes, d.Holes[1]) }, "hole 3: drawn twice"},
		"no radius":      {func(d *Drawing) { d.Holes[0].R = 0 }, "hole 1: a circle without radius"},
		"negative":       {func(d *Drawing) { d.Holes[0].R = -3 }, "hole 1: a circle without radius"},
		"NaN radius":     {func(d *Drawing) { d.Holes[1].R = nan }, "hole 2: not a circle"},
		"far away":       {func(d *Drawing) { d.Holes[1].C.X = 2e5 }, "hole 2: not a circle within 100 m"},
		"outline twice":  {func(d *Drawing) { d.Outlines = append(d.Outlines, d.Outlines[0]) }, "outline 2: edge 1 is drawn twice"},
		"outline back":   {func(d *Drawing) { d.Slots = append(d.Slots, rect(0, 0, 9, 9), reversed(rect(9, 0, 9, 9))) }, "slot 3: edge"},
		"mark no length": {func(d *Drawing) { d.Marks.Lines = []Line{{at, at}} }, "mark line 1: has no length"},
		"line twice":     {func(d *Drawing) { d.Marks.Lines = append(d.Marks.Lines, d.Marks.Lines[0]) }, "mark line 3: drawn twice"},
		"lone point":     {func(d *Drawing) { d.Marks.Strokes[0] = d.Marks.Strokes[0][:1] }, "mark stroke 1: fewer than two"},
		"stroke twice":   {func(d *Drawing) { d.Marks.Strokes = append(d.Marks.Strokes, d.Marks.Strokes[1]) }, "is drawn twice"},
		"NaN in stroke":  {func(d *Drawing) { d.Marks.Strokes[0][1].P.Y = nan }, "mark stroke 1: vertex 2"},
		"point twice":    {func(d *Drawing) { d.Marks.Strokes[0][1] = d.Marks.Strokes[0][0] }, "mark stroke 1: edge 1 has no length"},
		"newline":        {func(d *Drawing) { d.Notes.Texts[0].Value = "a\nb" }, "note text 1: text"},
		"no height":      {func(d *Drawing) { d.Notes.Texts[0].HeightMM = 0 }, "note text 1: has no height"},
		"empty text":     {func(d *Drawing) { d.Notes.Texts[0].Value = "" }, "note text 1: is empty"},
		"NaN turn":       {func(d *Drawing) { d.Notes.Texts[0].Turn = nan }, "note text 1: its place"},
		"text twice":     {func(d *Drawing) { d.Notes.Texts = append(d.Notes.Texts, d.Notes.Texts[0]) }, "note text 2: drawn twice"},
	} {
		d := plate()
		c.break_(&d)
		var b bytes.Buffer
		err := Encode(&b, d)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", name, err, c.want)
		}
		if b.Len() != 0 {
			t.Errorf("%s: %d bytes written of a refused drawing", name, b.Len())
		}
	}
}

func TestValidateReportsAllAtOnce(t *testing.T) {
	d := plate()
	d.Holes[0].R, d.Marks.Texts[0].HeightMM = 0, -1
	if err := Validate(d); strings.Count(err.Error(), "\n") != 1 {
		t.Errorf("got %v, want two findings", err)
	}
}

// reversed runs the other way round, with the bulges on the right edges.
func reversed(p geom.Path) geom.Path {
	n := len(p)
	out := make(geom.Path, n)
	for i := range p {
		out[i] = geom.Vertex{P: p[n-1-i].P, Bulge: -p[(2*n-2-i)%n].Bulge}
	}
	return out
}
