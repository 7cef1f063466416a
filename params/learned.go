package params

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"clampwright/params/diag"
	"clampwright/params/number"
)

// Learned is what the readings of a pack told of its cells.
type Learned struct {
	Cell, Batch, Pack, From string
	Packs                   int
	Parameters              []Parameter
	At                      diag.Range
}

// Parameter is one parameter of a cell: 90 of 100 lie between Low and High about Middle;
// With is its correlation with each one before it.
type Parameter struct {
	Name              string
	Middle, Low, High float64
	With              []float64
}

// learnable are the parameters, with the values that can be meant.
var learnable = map[string][2]float64{"modulus": {0.5, 1000}, "rise": {-1, 2}, "growth_stiffness": {-0.5, 3}, "growth": {0.0001, 0.2}, "held_growth": {-0.5, 3}, "ageing": {0.0002, 0.5},
	"held_ageing": {-1, 3}, "used": {-1, 4}, "time_power": {-0.5, 3}, "evenness": {-0.5, 2.5}, "expansion": {1e-6, 1e-3}}

// learnedFile is a file of what was learned.
type learnedFile struct {
	Learned []LearnedBlock `key:"learned" req:"y" most:"200"`
}

// decodeLearned reads the entries of a file that holds nothing else.
func decodeLearned(file string, text []byte) ([]LearnedBlock, diag.List) {
	d := &decoder{file: file}
	var k learnedFile
	if root, ok := d.parse(text); ok {
		d.block(root, reflect.ValueOf(&k).Elem(), "")
	}
	d.diags.Sort()
	return k.Learned, d.diags
}

// CellName is what entries of this cell call it: its model, or else its sizes.
func (f *Fixture) CellName() string {
	if m := f.file.Cell.Model; m.Set {
		return m.V
	}
	size := func(mm float64) string { return number.Trim(mm, 1) }
	return size(f.Cell.Thickness.MM()) + "x" + size(f.Cell.Width.MM()) + "x" + size(f.Cell.Height.MM())
}

// learn settles what was learned of this model of cell, in the file and in the one that
// it names, by other packs.
func learn(r *resolver) {
	first := map[[3]string]diag.Range{}
	for _, b := range slices.Concat(r.in.Learned, r.in.known) {
		l, ok := learnedOf(r, b)
		key := [3]string{l.Cell, l.Batch, l.Pack}
		if at, twice := first[key]; ok && twice {
			r.diags.Add(diag.Diagnostic{Summary: fmt.Sprintf("what pack %q told of this cell stands twice", l.Pack), Found: fmt.Sprintf("first in line %d", at.Line),
				Expected: "one entry of a pack", Range: l.At, Related: []diag.Range{at}, Suggestion: "keep the later one"})
			continue
		}
		first[key] = l.At
		if ok && l.Cell == r.f.CellName() && l.Pack != r.f.Name {
			r.f.Learned = append(r.f.Learned, l)
		}
	}
}

// learnedOf settles one entry.
func learnedOf(r *resolver, b LearnedBlock) (l Learned, ok bool) {
	l = Learned{Cell: b.Cell.V, Batch: b.Batch.V, Pack: b.Pack.V, From: b.From.V, Packs: b.Packs.Or(1), At: cmp.Or(b.Cell.At, b.Section.At)}
	wrong := len(r.diags)
	at := map[string]diag.Range{}
	for _, p := range b.Parameters {
		x := Parameter{Name: p.Name.V, Middle: p.Middle.V, Low: p.Low.V, High: p.High.V}
		bounds, known := learnable[x.Name]
		if !known || !p.Middle.Set || !p.Low.Set || !p.High.Set {
			return l, false // told by the decoder
		}
		before := len(r.diags)
		for _, v := range []numberV{p.Low, p.Middle, p.High} {
			if v.V < bounds[0] || v.V > bounds[1] {
				r.errorf(v.At, "learned "+x.Name+" is out of range", figures(v.V), figures(bounds[0])+" to "+figures(bounds[1]), "")
			}
		}
		if len(r.diags) == before && !(x.Low < x.Middle && x.Middle < x.High) {
			r.errorf(p.Middle.At, "learned "+x.Name+": the middle is not between low and high", figures(x.Low)+", "+figures(x.Middle)+", "+figures(x.High), "low, then middle, then high, by rising value", "")
		}
		if was, twice := at[x.Name]; twice {
			r.diags.Add(diag.Diagnostic{Summary: x.Name + " stands twice in one entry", Found: fmt.Sprintf("first in line %d", was.Line), Expected: "each parameter once", Range: p.Name.At, Related: []diag.Range{was}})
		}
		at[x.Name] = p.Name.At
		if n := len(p.With); n > 0 && n != len(l.Parameters) {
			r.errorf(p.With[0].At, fmt.Sprintf("%s has %d correlations", x.Name, n), fmt.Sprint(n), fmt.Sprintf("%d: one with every parameter before it, in their order; or none", len(l.Parameters)), "")
		}
		for _, w := range p.With {
			x.With = append(x.With, w.V)
		}
		l.Parameters = append(l.Parameters, x)
	}
	if len(l.Parameters) == 0 && b.Section.Present {
		r.errorf(l.At, "nothing was learned", "no parameters", "parameters: and at least one of them", "")
	}
	if len(r.diags) > wrong {
		return l, false
	}
	if k := l.impossible(); k >= 0 {
		r.errorf(b.Parameters[k].Name.At, "the correlations cannot all be", strings.Join(numbers(l.Parameters[k].With), ", "), "correlations as they come from a covariance", "write the entry anew: clampwright reading FILE --learned")
		return l, false
	}
	return l, true
}

func numbers(list []float64) (out []string) {
	for _, v := range list {
		out = append(out, figures(v))
	}
	return out
}

// Correlation is the whole matrix of the parameters' correlations.
func (l *Learned) Correlation() [][]float64 {
	n := len(l.Parameters)
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
		out[i][i] = 1
		for k, v := range l.Parameters[i].With {
			out[i][k], out[k][i] = v, v
		}
	}
	return out
}

// impossible is the first parameter whose correlations no numbers can have with those
// before it, -1 where there is none: a pivot of the matrix's square root is nothing or less.
func (l *Learned) impossible() int {
	a := l.Correlation()
	for i := range a {
		for k := range i + 1 {
			v := a[i][k]
			for m := range k {
				v -= a[i][m] * a[k][m]
			}
			switch {
			case k < i:
				a[i][k] = v / a[k][k]
			case v < 1e-9:
				return i
			default:
				a[i][i] = math.Sqrt(v)
			}
		}
	}
	return -1
}

// text is the entry as it stands in a file, its dash so many columns in.
func (l *Learned) text(in int) string {
	pad := strings.Repeat(" ", in)
	out := pad + "- cell: " + Word(l.Cell) + "\n"
	for _, k := range [][2]string{{"batch", l.Batch}, {"pack", l.Pack}, {"from", l.From}} {
		if k[1] != "" {
			out += pad + "  " + k[0] + ": " + Word(k[1]) + "\n"
		}
	}
	out += fmt.Sprintf("%s  packs: %d\n%s  parameters:\n", pad, l.Packs, pad)
	for i, p := range l.Parameters {
		out += fmt.Sprintf("%s    - {name: %s, middle: %s, low: %s, high: %s", pad, p.Name, figures(p.Middle), figures(p.Low), figures(p.High))
		if i > 0 {
			out += ", with: [" + strings.Join(numbers(p.With), ", ") + "]"
		}
		out += "}\n"
	}
	return out
}

// Keep writes an entry into a file of what was learned: in the place of the one of the same
// pack, cell and batch, or else at the end. An empty text is a new file.
func Keep(name string, text []byte, l Learned) ([]byte, error) {
	if len(strings.TrimSpace(string(text))) == 0 {
		head := "# What the readings of packs told of their cells. Name this file in the file of the\n# next pack, cell: {learned: ...}; clampwright reading FILE --learned writes entries.\nlearned:\n"
		return []byte(head + l.text(2)), nil
	}
	body, endings := plainLines(text)
	have, diags := decodeLearned(name, body)
	if diags.HasErrors() {
		return nil, diags
	}
	lines := strings.SplitAfter(strings.TrimRight(string(body), "\n")+"\n", "\n")
	lines = lines[:len(lines)-1]
	starts := []int{} // lines with the entries' dashes
	for _, b := range have {
		starts = append(starts, b.Section.At.Line-1)
	}
	from, to, in := len(lines), len(lines), 2
	for i, b := range have {
		dash := strings.Index(lines[starts[i]], "-")
		if dash < 0 || b.Section.At.Col != dash+3 || i > 0 && starts[i] == starts[i-1] {
			return nil, diag.List{{Summary: "no entry can be added to this file", Range: b.Section.At, Found: "entries in brackets or braces", Expected: "a list of lines, each entry behind a dash: \"- cell: ...\""}}
		}
		in = dash
		if b.Cell.V == l.Cell && b.Batch.V == l.Batch && b.Pack.V == l.Pack {
			from, to = starts[i], len(lines)
			if i+1 < len(have) {
				to = starts[i+1]
			}
		}
	}
	out := []byte(strings.Join(lines[:from], "") + l.text(in) + strings.Join(lines[to:], ""))
	if _, wrong := decodeLearned(name, out); wrong.HasErrors() {
		return nil, fmt.Errorf("the changed file does not read back: %w", wrong)
	}
	return endings(out), nil
}

// figures writes a number to four figures.
func figures(v float64) string { return number.Figures(v, 4) }
