package geom

import "math"

// All tolerances of the package. Nothing else may invent one.
const (
	// MinSize is the shortest edge, smallest radius and thinnest extrusion that
	// is accepted, mm. A tenth of a micrometre is far below what any workshop can
	// make and far above the rounding of coordinates (1e-12 mm at 10 m).
	MinSize = 1e-4

	// MaxSize is the largest coordinate accepted, mm: 100 m. Beyond it the
	// welding grid below would approach the rounding of coordinates.
	MaxSize = 1e5

	// MinLigament is the least width between two boundaries of one profile, mm.
	// Closer boundaries count as touching: a micrometre of metal does not survive.
	MinLigament = 1e-3

	// Weld is the distance below which two mesh vertices of neighbouring faces
	// are the same vertex, mm. Neighbours compute the same point by different
	// routes and differ by rounding (about 1e-11 at MaxSize); different vertices
	// differ by MinSize or more.
	Weld = 1e-6

	// MinChordErr is the finest chord error accepted, mm; finer meshes would
	// bring vertices closer than MinSize on small radii.
	MinChordErr = 1e-5

	// MaxStep is the largest angle one chord may span, rad: a circle has at
	// least eight sides, so it is recognisable however coarse the mesh.
	MaxStep = math.Pi / 4

	// VolumeErr is the largest relative difference between the volume of a mesh
	// and of its solid. Inscribed chords of a thin rod lose 0.3 % at a chord
	// error of 0.01 mm; weights computed from the mesh should agree to the digits
	// people compare.
	VolumeErr = 5e-4

	// stepSlack is subtracted from a count of chords before rounding up, so that
	// two neighbours whose sweeps differ by rounding agree on the count.
	stepSlack = 1e-9

	// bulgeStraight is the bulge below which an edge is straight: the sagitta of
	// such an arc is under 1e-9 of half its chord.
	bulgeStraight = 1e-9

	// orthoErr is how far the axes of a Frame may be from orthonormal. Products
	// of a few rotations stay below 1e-14; hand-written axes should be exact.
	orthoErr = 1e-9

	// parallelErr is the sine of the angle under which two axes count as
	// parallel. Over a length of 1 m it moves a point by 1 nm.
	parallelErr = 1e-9

	// TouchTol is the gap or overlap up to which two solids touch, mm. It covers
	// the chords of both sides and is half of the 0.01 mm to which distances are
	// promised.
	TouchTol = 5e-3

	// distanceChord is the chord error of the meshes used for distances between
	// solids that have no closed form, mm. Two of them err by 0.004 mm at most,
	// under half of the 0.01 mm to which distances are promised.
	distanceChord = 2e-3

	// sameDist is the difference of distances that is not looked for between meshes,
	// mm, nor a hundredth of the distance: without it every pair of triangles of two
	// round or parallel faces would be measured.
	sameDist = 1e-4

	// crossing is the distance below which two boundaries are taken to meet, mm;
	// it lies between rounding (1e-11) and anything that is meant.
	crossing = 1e-9

	// depthStep is the resolution to which a separating move is searched where
	// it has no closed form, mm.
	depthStep = 5e-4

	// pierceTol is how far an edge must pass through a face to count when looking
	// for a move that parts two meshes, mm: faces that slide along each other
	// differ by rounding only.
	pierceTol = 1e-7

	// flipGain is how far inside the circumcircle a point must lie before an edge
	// is flipped, relative to the fourth power of the triangle's size. The points
	// of a round hole all lie on one circle to rounding (1e-16), put on a grid of
	// MinSize to a little more; flipping among those gains nothing and might not end.
	flipGain = 1e-9
)
