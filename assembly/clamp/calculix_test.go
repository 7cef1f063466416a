package clamp

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"clampwright/testdata/outside"
)

// CalculiX (a general finite element program) solves the same plates with solid
// elements of its own (S4 shells grown to eight-node solids with incompatible
// modes), its own beams and its own springs; only the numbers are common.

// outsideCase is one plate on an elastic foundation under the face, pressed by
// point forces at the rods.
type outsideCase struct {
	name       string
	plate      Plate
	angles     []float64
	ei         float64
	rods       [][2]float64
	foundation float64 // MPa per mm of plate displacement
	unilateral bool
}

const (
	outsideGrid  = 8.0
	outsideForce = 2940.0
)

// outsideFace lies on the 8 mm grid of a 240 x 208 mm plate.
var outsideFace = Rect{32, 8, 208, 200}

func fourRods(x, y0, y1 float64) [][2]float64 {
	return [][2]float64{{x, y0}, {240 - x, y0}, {x, y1}, {240 - x, y1}}
}

var outsideCases = []outsideCase{
	{name: "aluminium, rods only", foundation: 0.16, rods: fourRods(16, 24, 184),
		plate: Plate{WidthMM: 240, HeightMM: 208, ThicknessMM: 10, ExMPa: 69000, Nu: 0.33}},
	{name: "polyethylene with angles", foundation: 0.16, rods: fourRods(16, 56, 152), angles: []float64{56, 152}, ei: 69000 * 14000,
		plate: Plate{WidthMM: 240, HeightMM: 208, ThicknessMM: 16, ExMPa: 900, Nu: 0.42}},
	{name: "plywood, orthotropic", foundation: 0.16, rods: fourRods(16, 40, 168),
		plate: Plate{WidthMM: 240, HeightMM: 208, ThicknessMM: 18, ExMPa: 10048, EyMPa: 4000, GxyMPa: 620, GxzMPa: 200, GyzMPa: 120, Nu: 0.1}},
	{name: "aluminium, lifting off", foundation: 1.2, rods: fourRods(16, 24, 184), unilateral: true,
		plate: Plate{WidthMM: 240, HeightMM: 208, ThicknessMM: 8, ExMPa: 69000, Nu: 0.33}},
}

func TestAgainstCalculiX(t *testing.T) {
	ccx := outside.Program(t, "ccx")
	for _, c := range outsideCases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			ref := c.runCalculiX(t, ccx)
			s, err := solveState(c.input(), StateSpec{Name: "tight", Tighten: true})
			if err != nil {
				t.Fatal(err)
			}
			p := s.Pressure
			t.Logf("ours: least %.2f greatest %.2f centre %.2f contact %.3f; theirs: least %.2f greatest %.2f centre %.2f contact %.3f kPa",
				p.Least, p.Greatest, p.Centre, s.ContactFraction, ref.least, ref.greatest, ref.centre, ref.contact)
			within(t, "mean", p.Mean, ref.mean, 0.001)
			within(t, "greatest", p.Greatest, ref.greatest, 0.03)
			within(t, "contact", s.ContactFraction, ref.contact, 0.03)
			if !c.unilateral && ref.contact < 1 {
				t.Error("the reference was meant to be pressed everywhere")
			}
			if ref.contact == 1 {
				within(t, "least", p.Least, ref.least, 0.03)
				within(t, "centre", p.Centre, ref.centre, 0.03)
			}
		})
	}
}

func (c outsideCase) input() Input {
	in := Input{
		Plate:  c.plate,
		Rows:   []Row{{Face: outsideFace, Cells: 1, CellThicknessMM: 72, Stiffness: c.foundation / 2, Growth: Growth{Shape: ShapeFlat}}},
		Window: Window{Kind: WindowForce, Min: 2000, Target: outsideForce, Max: 4000},
	}
	in.Plate.StrengthXMPa = 1000
	for _, r := range c.rods {
		in.Rods = append(in.Rods, testRod(r[0], r[1]))
	}
	for _, y := range c.angles {
		s := testAngle(y)
		s.X1MM, s.IMM4 = 240, c.ei/s.EMPa
		in.Stiffeners = append(in.Stiffeners, s)
	}
	return in
}

// outsideResult sums up the reference's pressures, kPa.
type outsideResult struct{ mean, least, greatest, centre, contact float64 }

func (c outsideCase) runCalculiX(t *testing.T, ccx string) outsideResult {
	t.Helper()
	nx, ny := int(c.plate.WidthMM/outsideGrid)+1, int(c.plate.HeightMM/outsideGrid)+1
	return c.read(t, solveDeck(t, ccx, c.deck(nx, ny)), nx, ny)
}

// solveDeck runs the program on a deck and returns the file of what it printed.
func solveDeck(t *testing.T, ccx, deck string) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "job.inp"), []byte(deck), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(ccx, "-i", "job")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "OMP_NUM_THREADS=1")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("ccx: %v\n%s", err, out)
	}
	return filepath.Join(dir, "job.dat")
}

// deck writes the input: pressing is toward -z, so foundation springs shorten.
func (c outsideCase) deck(nx, ny int) string {
	var b strings.Builder
	say := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	id := func(i, j int) int { return j*nx + i + 1 }
	say("*NODE,NSET=NPLATE")
	for j := range ny {
		for i := range nx {
			say("%d,%g,%g,0", id(i, j), float64(i)*outsideGrid, float64(j)*outsideGrid)
		}
	}
	say("*ELEMENT,TYPE=S4,ELSET=EPLATE")
	for j := range ny - 1 {
		for i := range nx - 1 {
			say("%d,%d,%d,%d,%d", j*(nx-1)+i+1, id(i, j), id(i+1, j), id(i+1, j+1), id(i, j+1))
		}
	}
	c.deckMaterial(say)
	next := c.deckBeams(say, nx, ny, id)
	c.deckSprings(say, nx, ny, id, next)
	say("*BOUNDARY\n%d,1,2\n%d,2", id(0, 0), id(nx-1, 0))
	say("*STEP%s\n*STATIC\n*CLOAD", map[bool]string{true: ",NLGEOM"}[c.unilateral])
	for _, r := range c.rods {
		say("%d,3,%g", id(int(r[0]/outsideGrid), int(r[1]/outsideGrid)), -outsideForce/float64(len(c.rods)))
	}
	say("*NODE PRINT,NSET=NPLATE\nU\n*END STEP")
	return b.String()
}

func (c outsideCase) deckMaterial(say func(string, ...any)) {
	p := c.plate
	say("*MATERIAL,NAME=MPLATE")
	if p.EyMPa == 0 {
		say("*ELASTIC\n%g,%g", p.ExMPa, p.Nu)
	} else {
		say("*ELASTIC,TYPE=ENGINEERING CONSTANTS\n%g,%g,%g,%g,0,0,%g,%g\n%g", p.ExMPa, p.EyMPa, p.EyMPa, p.Nu, p.GxyMPa, p.GxzMPa, p.GyzMPa)
	}
	say("*SHELL SECTION,ELSET=EPLATE,MATERIAL=MPLATE\n%g", p.ThicknessMM)
}

// deckBeams writes each angle as slender beams on nodes of their own, tied to
// the plate in z only: it may slip and turn. Returns the next element number.
func (c outsideCase) deckBeams(say func(string, ...any), nx, ny int, id func(i, j int) int) int {
	elem := (nx - 1) * (ny - 1)
	node := nx * ny
	for k, y := range c.angles {
		j := int(y / outsideGrid)
		say("*NODE,NSET=NBEAM%d", k)
		for i := range nx {
			say("%d,%g,%g,0", node+i+1, float64(i)*outsideGrid, y)
		}
		say("*ELEMENT,TYPE=B31,ELSET=EBEAM%d", k)
		for i := range nx - 1 {
			elem++
			say("%d,%d,%d", elem, node+i+1, node+i+2)
		}
		const side = 5.0 // slender, so the beam's own shear is nothing
		say("*MATERIAL,NAME=MBEAM%d\n*ELASTIC\n%g,0", k, c.ei/(side*side*side*side/12))
		say("*BEAM SECTION,ELSET=EBEAM%d,MATERIAL=MBEAM%d,SECTION=RECT\n%g,%g\n0,1,0", k, k, side, side)
		for i := range nx {
			say("*EQUATION\n2\n%d,3,1,%d,3,-1", node+i+1, id(i, j))
		}
		say("*BOUNDARY\n%d,1,2\n%d,4\n%d,2", node+1, node+1, node+nx)
		node += nx
	}
	return elem
}

// deckSprings gives every node of the face a spring to ground of its share of
// the foundation: SPRING1 where it is bonded; where it only presses, a nonlinear
// SPRINGA to a node far below, bent just above zero so that the first step
// is the bonded one; the step is nonlinear. Reals need a decimal point there.
func (c outsideCase) deckSprings(say func(string, ...any), nx, ny int, id func(i, j int) int, elem int) {
	const ground = 100000
	classes := map[float64]string{1: "FULL", 0.5: "EDGE", 0.25: "CORNER"}
	for _, share := range []float64{1, 0.5, 0.25} {
		var grounds, springs []string
		for j := range ny {
			for i := range nx {
				if faceShare(i, j) != share {
					continue
				}
				elem++
				grounds = append(grounds, fmt.Sprintf("%d,%g,%g,-1000", ground+id(i, j), float64(i)*outsideGrid, float64(j)*outsideGrid))
				if c.unilateral {
					springs = append(springs, fmt.Sprintf("%d,%d,%d", elem, ground+id(i, j), id(i, j)))
				} else {
					springs = append(springs, fmt.Sprintf("%d,%d", elem, id(i, j)))
				}
			}
		}
		name, k := classes[share], c.foundation*share*outsideGrid*outsideGrid
		if c.unilateral {
			say("*NODE,NSET=NG%s\n%s\n*BOUNDARY\nNG%s,1,3", name, strings.Join(grounds, "\n"), name)
			say("*ELEMENT,TYPE=SPRINGA,ELSET=ES%s\n%s", name, strings.Join(springs, "\n"))
			say("*SPRING,ELSET=ES%s,NONLINEAR\n%.6f,-900.\n%.9f,0.0001\n%.9f,900.", name, -900*k, 1e-4*k, 1e-4*k+900*1e-4*k)
		} else {
			say("*ELEMENT,TYPE=SPRING1,ELSET=ES%s\n%s", name, strings.Join(springs, "\n"))
			say("*SPRING,ELSET=ES%s\n3\n%.6f", name, k)
		}
	}
}

// faceShare returns which part of a grid tile round a node lies on the face.
func faceShare(i, j int) float64 {
	x, y := float64(i)*outsideGrid, float64(j)*outsideGrid
	f := outsideFace
	if x < f.X0 || x > f.X1 || y < f.Y0 || y > f.Y1 {
		return 0
	}
	share := 1.0
	if x == f.X0 || x == f.X1 {
		share /= 2
	}
	if y == f.Y0 || y == f.Y1 {
		share /= 2
	}
	return share
}

// read takes the displacements and turns them into foundation pressures.
func (c outsideCase) read(t *testing.T, path string, nx, ny int) outsideResult {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := outsideResult{least: math.Inf(1)}
	var force, area, touch float64
	seen := 0
	for sc := bufio.NewScanner(file); sc.Scan(); {
		w := strings.Fields(sc.Text())
		if len(w) != 4 {
			continue
		}
		n, err := strconv.Atoi(w[0])
		uz, err2 := strconv.ParseFloat(w[3], 64)
		if err != nil || err2 != nil || n < 1 || n > nx*ny {
			continue
		}
		seen++
		i, j := (n-1)%nx, (n-1)/nx
		share := faceShare(i, j)
		if share == 0 {
			continue
		}
		p := -uz * c.foundation * 1000
		if c.unilateral {
			p = math.Max(p, 0)
		}
		force, area = force+p*share, area+share
		if p > 0 {
			touch += share
		}
		r.least, r.greatest = math.Min(r.least, p), math.Max(r.greatest, p)
		if i == (nx-1)/2 && j == (ny-1)/2 {
			r.centre = p
		}
	}
	if seen != nx*ny {
		t.Fatalf("read %d of %d nodes", seen, nx*ny)
	}
	r.mean, r.contact = force/area, touch/area
	return r
}
