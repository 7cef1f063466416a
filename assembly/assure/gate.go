package assure

import (
	"math"
	"sort"
)

// Limits of the share: Pass is what must stay within the bands, PassFree the same where
// holding does not lessen growth, and under Bar no reading helps.
const Pass, PassFree, Bar = 0.95, 0.85, 0.5

// Gate is a reading after which a fixture may be charged above storage charge: the plates
// must have come closer by LeastMM from snug to as set, or the cells are stiffer than the
// springs can follow. Share is that of the fixtures that Part of all passes.
type Gate struct {
	LeastMM float64 `json:"plates_closer_mm"`
	Share   float64 `json:"share"`
	Free    float64 `json:"growth_not_lessened"`
	Part    float64 `json:"part_that_passes"`
}

// gateParts is in how many steps a gate is looked for, gateLeast the part of the fixtures
// that one must pass to be worth building for: judgements.
const gateParts, gateLeast = 20, 0.5

// gate is the mildest limit that makes the share large enough, found on the draws of the
// share, seen, and of that with growth not lessened, free, and proved on others; nil where
// none does or need be, or it is in. Nuts set by turns are not gated: the plates come as
// much closer as the nuts are turned, whatever the cells are.
func (f *Fixture) gate(s *Share, seen, free []path) *Gate {
	if f.Method == Turns || f.Known != nil && len(f.Known.Sets) > 0 || s.Share < Bar || s.Share >= Pass && s.Least >= PassFree {
		return nil
	}
	read := make([]float64, len(seen))
	for i, p := range seen {
		read[i] = p.closer
	}
	sort.Float64s(read)
	var others [2][]path
	for k := 1; k <= gateParts*(1-gateLeast); k++ {
		limit := math.Ceil(20*read[len(read)*k/gateParts]) / 20 // a twentieth of a millimetre is what can be read
		if g := judged(limit, seen, free); !g.good() {
			continue
		}
		if others[0] == nil {
			others = [2][]path{f.run(s.Draws, s.Seed+1, nil).paths, f.run(s.Draws/ends, s.Seed+1, freely).paths}
		}
		if g := judged(limit, others[0], others[1]); g.good() {
			return &g
		}
	}
	return nil
}

func (g Gate) good() bool { return g.Share >= Pass && g.Free >= PassFree && g.Part >= gateLeast }

func judged(limit float64, seen, free []path) Gate {
	g := Gate{LeastMM: limit}
	g.Share, g.Part = through(limit, seen)
	g.Free, _ = through(limit, free)
	return g
}

// through is what part of the paths that a limit lets through stays inside, and what part
// it lets through.
func through(limit float64, all []path) (share, part float64) {
	in, n := 0.0, 0.0
	for _, p := range all {
		if p.closer < limit {
			continue
		}
		n++
		if p.set && p.inside {
			in++
		}
	}
	return in / math.Max(n, 1), n / float64(len(all))
}

// closer is by how much the plates come closer from snug to a force, as it is read beside
// the rods: seating is taken for cells that yield.
func (b *batch) closer(force float64) float64 {
	snug := b.SnugN * math.Exp(SnugError*b.snug)
	gap := func(f float64) float64 {
		all, _ := b.taken(f, fresh)
		return all - b.Stretch.of(f/float64(b.Ties)/b.strength)
	}
	return gap(force) - gap(snug) + SeatingMM*math.Abs(b.seat) + ReadErrorMM*b.read/math.Sqrt(float64(b.Ties))
}
