package clamp

import (
	"fmt"
	"math"
	"sort"

	"clampwright/params/words"
)

// Advice is what would press the middle of the face better, found by solving.
type Advice struct {
	Sentence  string    `json:"sentence"`
	Ratio     float64   `json:"middle_over_mean"`               // pressure in the swell zone over the mean, now, as tightened
	Useful    bool      `json:"useful"`                         // something better was found
	HeightsMM []float64 `json:"stiffener_heights_mm,omitempty"` // better heights for as many stiffeners as there are
	Moved     *Option   `json:"moved,omitempty"`
	Added     *Option   `json:"added,omitempty"`   // with one stiffener more
	Thicker   *Option   `json:"thicker,omitempty"` // plate thickness, where there are no stiffeners
}

// Option is one changed fixture, as tightened, on the coarse grid.
type Option struct {
	HeightsMM   []float64 `json:"heights_mm,omitempty"`
	ThicknessMM float64   `json:"thickness_mm,omitempty"`
	Ratio       float64   `json:"middle_over_mean"`
	LeastKPa    float64   `json:"least_kpa"`
	GreatestKPa float64   `json:"greatest_kpa"`
	Uneven      float64   `json:"unevenness"`
}

const (
	// adviceEnough and adviceMuch are the middle over mean between which nothing
	// needs moving: common practice, no source.
	adviceEnough, adviceMuch = 0.9, 1.2
	// adviceGain is how much less uneven an option must be to be worth a
	// sentence.
	adviceGain = 0.9
	// searchSteps is the number of heights tried before refining.
	searchSteps = 10
	// refineSteps of golden section search narrow the best interval.
	refineSteps = 7
	// searchInsetMM keeps stiffeners and their washers on the plate.
	searchInsetMM = 15
)

// advise searches for a better arrangement on a coarse grid.
func advise(in Input, h float64) (Advice, error) {
	now, err := tryOption(in, h)
	if err != nil {
		return Advice{}, err
	}
	out := Advice{Ratio: now.Ratio}
	switch {
	case !pressesMiddle(in) || enough(now.Ratio):
	case len(in.Stiffeners) == 0:
		err = thicker(in, h, &out)
	default:
		err = moveStiffeners(in, h, now, &out)
	}
	if err != nil {
		return Advice{}, err
	}
	out.Sentence = adviceSentence(in, out)
	return out, nil
}

func enough(ratio float64) bool { return ratio >= adviceEnough && ratio <= adviceMuch }

// pressesMiddle says whether sheets in the stack press the middle of every face at
// all: a frame does not, whatever the plates do.
func pressesMiddle(in Input) bool {
	for _, row := range in.Rows {
		zone, area := row.Face.middle(orElse(in.SwellZone, SwellZoneShare)), 0.0
		for _, p := range row.pressing() {
			area += zone.overlap(p)
		}
		if area == 0 {
			return false
		}
	}
	return true
}

// tryOption solves the tightened state of one arrangement.
func tryOption(in Input, h float64) (Option, error) {
	f := newFixture(in, h, nominal)
	s, err := f.state(StateSpec{Name: "as tightened", Tighten: true, Charge: in.AssemblyCharge, TempC: in.Climate.AssemblyC})
	if err != nil {
		return Option{}, err
	}
	o := Option{ThicknessMM: in.Plate.ThicknessMM, LeastKPa: s.Pressure.Least, GreatestKPa: s.Pressure.Greatest}
	o.Ratio = math.Inf(1)
	for _, r := range s.Rows {
		o.Ratio = math.Min(o.Ratio, r.middleRatio())
		o.Uneven = math.Max(o.Uneven, r.Uneven)
	}
	for _, st := range in.Stiffeners {
		o.HeightsMM = append(o.HeightsMM, st.YMM+in.Plate.LowerEdgeMM)
	}
	return o, nil
}

// moveStiffeners searches the heights of the present number of stiffeners, and
// of one more.
func moveStiffeners(in Input, h float64, now Option, out *Advice) error {
	n := len(in.Stiffeners)
	moved, err := searchHeights(in, h, n)
	if err != nil {
		return err
	}
	if moved != nil && moved.Uneven < adviceGain*now.Uneven {
		out.Useful, out.HeightsMM, out.Moved = true, moved.HeightsMM, moved
	}
	if out.Ratio >= adviceEnough {
		return nil // too much in the middle: more stiffeners are no cure
	}
	added, err := searchHeights(in, h, n+1)
	if err != nil {
		return err
	}
	if added != nil && added.Uneven < adviceGain*now.Uneven {
		out.Useful, out.Added = true, added
	}
	return nil
}

// searchHeights finds the symmetric heights of n stiffeners about the middle of
// the face, evenly spaced, that press most evenly: a scan over the spread, then
// golden section about the best. Rods that bear on a stiffener move with it.
func searchHeights(in Input, h float64, n int) (*Option, error) {
	lo, hi, mid := searchRange(in)
	if n < 2 || hi-lo < 4*searchInsetMM {
		return nil, nil
	}
	half := math.Min(mid-lo, hi-mid)
	var failed error
	eval := func(spread float64) Option {
		o, err := tryOption(atHeights(in, spreadHeights(mid, spread, n)), h)
		if err != nil {
			failed = err
			o.Uneven = math.Inf(1)
		}
		return o
	}
	opts := make([]Option, searchSteps)
	best := 0
	step := (1 - leastSpread) * half / (searchSteps - 1)
	at := func(k int) float64 { return leastSpread*half + step*float64(k) }
	for k := range opts {
		opts[k] = eval(at(k))
		if opts[k].Uneven < opts[best].Uneven {
			best = k
		}
	}
	o := golden(at(max(best-1, 0)), at(min(best+1, searchSteps-1)), opts[best], eval)
	return &o, failed
}

// leastSpread is the least spread tried, as part of the greatest.
const leastSpread = 0.15

// golden narrows the least unevenness between a and b.
func golden(a, b float64, best Option, eval func(float64) Option) Option {
	const g = 0.6180339887498949
	c, d := b-g*(b-a), a+g*(b-a)
	oc, od := eval(c), eval(d)
	for range refineSteps {
		if oc.Uneven < best.Uneven {
			best = oc
		}
		if od.Uneven < best.Uneven {
			best = od
		}
		if oc.Uneven < od.Uneven {
			b, d, od = d, c, oc
			c = b - g*(b-a)
			oc = eval(c)
		} else {
			a, c, oc = c, d, od
			d = a + g*(b-a)
			od = eval(d)
		}
	}
	return best
}

// searchRange returns the heights allowed and the middle of the faces.
func searchRange(in Input) (lo, hi, mid float64) {
	y0, y1 := math.Inf(1), math.Inf(-1)
	for _, r := range in.Rows {
		y0, y1 = math.Min(y0, r.Face.Y0), math.Max(y1, r.Face.Y1)
	}
	lo = orElse(in.Search.YMinMM, searchInsetMM)
	hi = orElse(in.Search.YMaxMM, in.Plate.HeightMM-searchInsetMM)
	return lo, hi, (y0 + y1) / 2
}

// spreadHeights returns n heights evenly from mid-spread to mid+spread, in tenths
// of a millimetre.
func spreadHeights(mid, spread float64, n int) []float64 {
	out := make([]float64, n)
	for k := range n {
		out[k] = math.Round((mid-spread+2*spread*float64(k)/float64(n-1))*10) / 10
	}
	return out
}

// atHeights returns in with its stiffeners at the given heights (more are copies
// of the first) and the rods on them, level by level.
func atHeights(in Input, heights []float64) Input {
	old := append([]Stiffener(nil), in.Stiffeners...)
	sort.SliceStable(old, func(i, j int) bool { return old[i].YMM < old[j].YMM })
	out := in
	out.Stiffeners, out.Rods = nil, nil
	for k, y := range heights {
		s := old[min(k, len(old)-1)]
		from := s.YMM
		if k >= len(old) {
			s = old[0]
			from = s.YMM
		}
		for _, r := range in.Rods {
			if math.Abs(r.YMM-from) <= orElse(s.ReachMM, StiffenerReachMM) {
				r.YMM = y
				out.Rods = append(out.Rods, r)
			}
		}
		s.YMM = y
		out.Stiffeners = append(out.Stiffeners, s)
	}
	for _, r := range in.Rods { // rods that bear on the bare plate stay
		if bearsOn(in, r) < 0 {
			out.Rods = append(out.Rods, r)
		}
	}
	if len(out.Rods) == 0 {
		out.Rods = in.Rods
	}
	return out
}

// thicker looks for the least plate thickness that presses the middle, in
// quarters of the present one up to three times.
func thicker(in Input, h float64, out *Advice) error {
	if out.Ratio >= adviceEnough {
		return nil // a stiffer plate gives the middle no less
	}
	for k := 5; k <= 12; k++ {
		t := in
		t.Plate.ThicknessMM *= float64(k) / 4
		o, err := tryOption(t, h)
		if err != nil {
			return err
		}
		if o.Ratio >= adviceEnough {
			out.Useful, out.Thicker = true, &o
			return nil
		}
	}
	return nil
}

func adviceSentence(in Input, a Advice) string {
	if !pressesMiddle(in) {
		if in.Window.Kind == WindowNone {
			return "The sheets press the rim of the face and leave its middle free."
		}
		return "The sheets press the edges of the face but not the middle, where cells swell: use full sheets or ribs."
	}
	have := fmt.Sprintf("The middle of the face gets %.0f %% of the mean pressure", 100*a.Ratio)
	switch {
	case enough(a.Ratio):
		return have + ": even enough."
	case a.Moved != nil && a.Added != nil:
		return fmt.Sprintf("%s; move the angles to %s mm (%.0f %%), or use %d at %s mm (%.0f %%).", have,
			list(a.Moved.HeightsMM), 100*a.Moved.Ratio, len(a.Added.HeightsMM), list(a.Added.HeightsMM), 100*a.Added.Ratio)
	case a.Moved != nil:
		return fmt.Sprintf("%s; move the angles to %s mm, where it gets %.0f %%.", have, list(a.Moved.HeightsMM), 100*a.Moved.Ratio)
	case a.Added != nil:
		return fmt.Sprintf("%s; use %d angles, at %s mm, where it gets %.0f %%.", have, len(a.Added.HeightsMM), list(a.Added.HeightsMM), 100*a.Added.Ratio)
	case a.Thicker != nil:
		return fmt.Sprintf("%s; a plate %.1f mm thick would give it %.0f %%, or lay stiffeners across the plate.", have, a.Thicker.ThicknessMM, 100*a.Thicker.Ratio)
	case a.Ratio > adviceMuch:
		return have + ": the rim gets less; move the rods or stiffeners outward where the tools allow it."
	case len(in.Stiffeners) == 0:
		return have + "; a thicker plate alone does not mend that: lay stiffeners across it."
	}
	return have + "; no other height of the stiffeners does better: use a stiffer plate or stiffener."
}

// list writes heights as "52 and 153".
func list(v []float64) string {
	text := make([]string, len(v))
	for i, x := range v {
		text[i] = fmt.Sprintf("%.0f", x)
	}
	return words.Join(text)
}
