package params

import (
	"math"
	"reflect"
	"strconv"
	"strings"
	"sync"

	"clampwright/params/number"
	"clampwright/params/unit"
)

type fieldKind int

const (
	kindScalar fieldKind = iota
	kindBlock
	kindList
)

// field is one key of a block, from its struct tags.
type field struct {
	key, doc, example string
	index             int
	kind, elem        fieldKind
	enum              []string
	limits            *limits
	noneOK, required  bool
	optional          bool // a table row's field that may stay zero
	most              int  // items of a list
	quantity          quantity
	units             []string     // of a number, that may stand behind it; "%" is a hundredth
	typ               reflect.Type // the type of the field, or of a list's items
}

// wants says in words what a field accepts.
func (f *field) wants() string {
	if len(f.enum) > 0 {
		return strings.Join(f.enum, ", ")
	}
	switch f.kind {
	case kindBlock:
		return blockOf(f.typ)
	case kindList:
		return "a list"
	}
	s, unit := f.quantity.words(), ""
	if len(f.units) > 0 {
		unit = " " + f.units[0]
		s += " of" + unit
	}
	if f.example != "" {
		s += ", such as " + f.example + unit
	}
	return s
}

// expected is what a field wants instead of what could not be read.
func (f *field) expected(e *scalarError) string {
	if len(f.units) > 0 {
		return f.wants()
	}
	return firstOf(e.expected, f.wants())
}

// bare is a number without the unit that may stand behind it.
func (f *field) bare(text string) string {
	for _, u := range f.units {
		number, ok := strings.CutSuffix(text, u)
		if !ok {
			continue
		}
		number = strings.TrimSpace(number)
		if v, err := unit.ParseNumber(number); u == "%" && err == nil {
			return strconv.FormatFloat(v/100, 'g', -1, 64)
		}
		return number
	}
	return text
}

// limits are the lowest and highest value of a field in inner units.
type limits struct {
	lo, hi         float64
	loText, hiText string
}

// words are the limits in the file's units: lengths in thousandths of an inch, within
// what is meant.
func (l *limits) words(u unit.LengthUnit) string {
	if u != unit.Inch {
		return l.loText + " to " + l.hiText
	}
	if strings.HasSuffix(l.hiText, " mm") || strings.HasSuffix(l.hiText, " m") {
		inches := func(mm float64, within func(float64) float64) string {
			return number.Trim(within(mm/unit.MMPerInch*1000)/1000, 3) + " in"
		}
		return inches(l.lo, math.Ceil) + " to " + inches(l.hi, math.Floor)
	}
	return Style{Unit: u}.SayBoth(l.loText + " to " + l.hiText)
}

// fieldSet is all keys of one struct.
type fieldSet struct {
	list  []*field
	byKey map[string]*field
}

func (s *fieldSet) keys() []string {
	out := make([]string, len(s.list))
	for i, f := range s.list {
		out[i] = f.key
	}
	return out
}

var fieldCache sync.Map // reflect.Type -> *fieldSet

// fieldsOf reads the tags of a block's struct.
func fieldsOf(t reflect.Type) *fieldSet {
	if s, ok := fieldCache.Load(t); ok {
		return s.(*fieldSet)
	}
	s := &fieldSet{byKey: map[string]*field{}}
	for i := 0; i < t.NumField(); i++ {
		sf := t.Field(i)
		key := sf.Tag.Get("key")
		if js := sf.Tag.Get("json"); key == "" && js != "" {
			key = rowKey(js)
		}
		if key == "" {
			continue
		}
		f := newField(sf, key, i)
		s.list = append(s.list, f)
		s.byKey[key] = f
	}
	actual, _ := fieldCache.LoadOrStore(t, s)
	return actual.(*fieldSet)
}

func newField(sf reflect.StructField, key string, index int) *field {
	f := &field{
		key: key, index: index, typ: sf.Type,
		doc: sf.Tag.Get("doc"), example: sf.Tag.Get("ex"),
		noneOK: sf.Tag.Get("none") != "", required: sf.Tag.Get("req") != "",
		optional: strings.Contains(sf.Tag.Get("json"), "omitempty"),
	}
	if u := sf.Tag.Get("unit"); u != "" {
		f.units = strings.Split(u, "|")
	}
	if e := sf.Tag.Get("enum"); e != "" {
		f.enum = strings.Split(e, "|")
	}
	f.kind = kindOfType(f.typ)
	if f.kind == kindList {
		f.typ = f.typ.Elem()
		f.elem = kindOfType(f.typ)
		if f.most, _ = strconv.Atoi(sf.Tag.Get("most")); f.most == 0 {
			f.most = maxItems
		}
	}
	f.quantity = quantityOf(f.typ)
	f.limits = parseLimits(sf.Tag.Get("lim"), f.quantity)
	return f
}

func kindOfType(t reflect.Type) fieldKind {
	if t.Kind() == reflect.Slice {
		return kindList
	}
	_, plain := quantityTypes[t]
	if plain || reflect.PointerTo(t).Implements(reflect.TypeFor[settable]()) {
		return kindScalar
	}
	return kindBlock
}

// parseLimits reads "1 mm .. 400 mm". The tags are ours: a bad one is caught by
// the test that visits every field, and means no limit here.
func parseLimits(tag string, q quantity) *limits {
	lo, hi, ok := strings.Cut(tag, " .. ")
	if !ok {
		return nil
	}
	a, errA := q.parse(lo, unit.Millimetre)
	b, errB := q.parse(hi, unit.Millimetre)
	if errA != nil || errB != nil {
		return nil
	}
	return &limits{lo: a, hi: b, loText: lo, hiText: hi}
}

// mostNamed is how many keys of a block are named where one is wanted.
const mostNamed = 6

// blockOf says what a block is of.
func blockOf(t reflect.Type) string {
	if keys := fieldsOf(t).keys(); len(keys) <= mostNamed {
		return "a block of the keys " + strings.Join(keys, ", ")
	}
	return "a block of keys"
}
