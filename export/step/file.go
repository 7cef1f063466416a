package step

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"

	"clampwright/params/number"
	"clampwright/parts/geom"
)

// file collects entities, numbered in order. Points, directions and what else is
// written alike stand once.
type file struct {
	buf  []byte
	last int
	once map[string]int
}

// add writes one entity and returns its number. The pieces are words, numbers of
// entities (int), texts to quote (text), points (geom.Vec3) and lists of entities
// ([]int).
func (f *file) add(pieces ...any) int {
	f.last++
	f.buf = append(strconv.AppendInt(append(f.buf, '#'), int64(f.last), 10), '=')
	for _, p := range pieces {
		f.put(p)
	}
	f.buf = append(f.buf, ";\n"...)
	return f.last
}

// shared is add for an entity that others may share: it is written once.
func (f *file) shared(pieces ...any) int {
	start := len(f.buf)
	for _, p := range pieces {
		f.put(p)
	}
	key := string(f.buf[start:])
	f.buf = f.buf[:start]
	if n, ok := f.once[key]; ok {
		return n
	}
	f.once[key] = f.add(key)
	return f.last
}

// text is quoted when it is written.
type text string

func (f *file) put(piece any) {
	switch p := piece.(type) {
	case string:
		f.buf = append(f.buf, p...)
	case int:
		f.buf = strconv.AppendInt(append(f.buf, '#'), int64(p), 10)
	case float64:
		f.real(p)
	case text:
		f.buf = append(f.buf, quoted(string(p))...)
	case geom.Vec3:
		f.list(3, func(i int) { f.real([3]float64{p.X, p.Y, p.Z}[i]) })
	case []int:
		f.list(len(p), func(i int) { f.put(p[i]) })
	}
}

func (f *file) list(n int, put func(int)) {
	f.buf = append(f.buf, '(')
	for i := range n {
		if i > 0 {
			f.buf = append(f.buf, ',')
		}
		put(i)
	}
	f.buf = append(f.buf, ')')
}

// real writes a number with the point that tells it from a whole one.
func (f *file) real(v float64) {
	start := len(f.buf)
	f.buf = number.Exact.Append(f.buf, v)
	if !bytes.ContainsRune(f.buf[start:], '.') {
		f.buf = append(f.buf, '.')
	}
}

// quoted is a string of ISO 10303-21: apostrophes and backslashes doubled, what is
// not ASCII as its UTF-16 code between \X2\ and \X0\.
func quoted(s string) string {
	var b strings.Builder
	b.WriteByte('\'')
	for _, r := range s {
		switch {
		case r == '\'' || r == '\\':
			b.WriteRune(r)
			b.WriteRune(r)
		case r >= ' ' && r <= '~':
			b.WriteRune(r)
		default:
			b.WriteString(`\X2\`)
			for _, u := range utf16.Encode([]rune{r}) {
				fmt.Fprintf(&b, "%04X", u)
			}
			b.WriteString(`\X0\`)
		}
	}
	b.WriteByte('\'')
	return b.String()
}

// point, direction and placement are what the geometry is made of.
func (f *file) point(p geom.Vec3) int { return f.shared("CARTESIAN_POINT('',", p, ")") }

func (f *file) direction(d geom.Vec3) int { return f.shared("DIRECTION('',", d.Unit(), ")") }

func (f *file) placement(o, z, x geom.Vec3) int {
	return f.shared("AXIS2_PLACEMENT_3D('',", f.point(o), ",", f.direction(z), ",", f.direction(x), ")")
}
