// Package relief builds solids that are a stack of flat layers, each a planar
// region moved along z: fences on a slab, pockets, engraved marks. Regions are
// written as outlines added to and taken from each other in order. All outlines
// of all layers are laid over each other once; what faces up, down and sideways
// follows from which layers hold each patch, so neighbouring faces share their
// edges and the mesh closes by construction. Straight edges and flat faces are
// exact to Unit, arcs within the chord error asked for.
package relief

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"clampwright/parts/geom"
)

// Unit is the grid that corners are put on, mm: the least size that package
// geom accepts, far below what a printer makes. Whole numbers make every test
// of sides exact.
const Unit = geom.MinSize

// reach is the largest coordinate, mm: products of two differences then fit 63
// bits.
const reach = 10000.0

// What an outline does to the region before it.
type What int

// The operations.
const (
	Add  What = iota // join
	Cut              // take away
	Keep             // keep only what lies inside
)

// Op is one outline with what it does.
type Op struct {
	What What
	Path geom.Path
}

// Region is a planar region: its operations done in order on nothing.
type Region []Op

// Plus returns the region with paths added.
func (r Region) Plus(ps ...geom.Path) Region { return r.with(Add, ps) }

// Less returns the region with paths taken away.
func (r Region) Less(ps ...geom.Path) Region { return r.with(Cut, ps) }

// Within returns the part of the region inside a path.
func (r Region) Within(p geom.Path) Region { return r.with(Keep, []geom.Path{p}) }

func (r Region) with(w What, ps []geom.Path) Region {
	out := append(Region{}, r...)
	for _, p := range ps {
		out = append(out, Op{w, p})
	}
	return out
}

// Layer is a region from Z0 to Z1, mm.
type Layer struct {
	Z0, Z1 float64
	Region Region
}

// maxLayers is how many layers one mask holds.
const maxLayers = 60

// Errors of the package, to be told apart with errors.Is.
var (
	ErrLayers = errors.New("layers must follow each other upwards, one to sixty of them")
	ErrReach  = errors.New("outline reaches beyond ten metres or is not finite")
	ErrSnap   = errors.New("outlines lie too close to each other to be told apart")
)

// Solid meshes the layers and returns the solid. chordErr is how far a chord
// may lie from its arc, mm. It fails on layers that do not follow each other and
// on outlines that touch so that the solid would hang together by an edge only.
func Solid(layers []Layer, chordErr float64) (geom.Solid, error) {
	m, err := raised(layers, chordErr)
	if err != nil {
		return geom.Solid{}, err
	}
	return geom.FromMesh(m) // which checks it
}

// raised is the outward, deterministic mesh of the layers, not yet checked.
func raised(layers []Layer, chordErr float64) (geom.Mesh, error) {
	if !(chordErr >= geom.MinChordErr && chordErr <= geom.MaxSize) {
		return geom.Mesh{}, geom.ErrChord
	}
	if err := checkLayers(layers); err != nil {
		return geom.Mesh{}, err
	}
	rs, segs, err := outlines(layers, chordErr)
	if err != nil {
		return geom.Mesh{}, err
	}
	segs, err = arrange(segs)
	if err != nil {
		return geom.Mesh{}, err
	}
	if len(segs) == 0 {
		return geom.Mesh{}, fmt.Errorf("no outline at all: %w", geom.ErrSize)
	}
	t, err := triangulated(segs)
	if err != nil {
		return geom.Mesh{}, err
	}
	t.Fill(func(p geom.Vec2) (mask uint64) {
		for l, r := range rs {
			if holds(r, p) {
				mask |= 1 << l
			}
		}
		return mask
	})
	lv := newLevels(layers, shortest(segs))
	refine(t, lv.thinnest)
	return lv.raise(t), nil
}

// triangulated makes every segment an edge between triangles.
func triangulated(segs []segment) (*geom.Triangulation, error) {
	var pts []geom.Vec2
	for _, s := range segs {
		pts = append(pts, s.a, s.b)
	}
	slices.SortFunc(pts, comparePoints)
	pts = slices.Compact(pts)
	number := func(p geom.Vec2) int32 {
		i, _ := slices.BinarySearchFunc(pts, p, comparePoints)
		return int32(i)
	}
	edges := make([][2]int32, len(segs))
	for i, s := range segs {
		edges[i] = [2]int32{number(s.a), number(s.b)}
	}
	t, err := geom.Constrained(pts, edges)
	if err != nil {
		return nil, ErrSnap
	}
	return t, nil
}

func checkLayers(layers []Layer) error {
	if len(layers) < 1 || len(layers) > maxLayers {
		return ErrLayers
	}
	for i, l := range layers {
		if !(l.Z1-l.Z0 >= geom.MinSize) || !(math.Abs(l.Z0) <= reach && math.Abs(l.Z1) <= reach) {
			return fmt.Errorf("layer %d from %g to %g mm: %w", i+1, l.Z0, l.Z1, ErrLayers)
		}
		if i > 0 && l.Z0 != layers[i-1].Z1 {
			return fmt.Errorf("layer %d starts at %g mm, the one below ends at %g: %w", i+1, l.Z0, layers[i-1].Z1, ErrLayers)
		}
	}
	return nil
}

// polygon is an outline on the grid.
type polygon struct {
	what What
	pts  []geom.Vec2
}

// outlines flattens every outline onto the grid; segments are given once each.
func outlines(layers []Layer, chordErr float64) ([][]polygon, []segment, error) {
	var segs []segment
	regions := make([][]polygon, len(layers))
	seen := map[segment]bool{}
	for i, l := range layers {
		for _, op := range l.Region {
			pg := polygon{what: op.What}
			for _, p := range op.Path.Flatten(chordErr) {
				if !(math.Abs(p.X) <= reach && math.Abs(p.Y) <= reach) {
					return nil, nil, fmt.Errorf("layer %d: %w", i+1, ErrReach)
				}
				pg.pts = append(pg.pts, geom.Vec2{X: math.Round(p.X / Unit), Y: math.Round(p.Y / Unit)})
			}
			regions[i] = append(regions[i], pg)
			for k, p := range pg.pts {
				s := newSegment(p, pg.pts[(k+1)%len(pg.pts)])
				if s.a != s.b && !seen[s] {
					seen[s] = true
					segs = append(segs, s)
				}
			}
		}
	}
	return regions, segs, nil
}

// holds evaluates a region at a point that lies on none of its outlines.
func holds(region []polygon, p geom.Vec2) bool {
	in := false
	for _, pg := range region {
		inside := geom.InPolygon(pg.pts, p)
		switch pg.what {
		case Add:
			in = in || inside
		case Cut:
			in = in && !inside
		case Keep:
			in = in && inside
		}
	}
	return in
}
