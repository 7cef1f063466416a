package dxf

import (
	"github.com/yofu/dxf/format"
	"github.com/yofu/dxf/handle"
	"github.com/yofu/dxf/object"

	"clampwright/parts/geom"
)

// objects is the OBJECTS section: the root dictionary, the dictionaries it
// names, one plot style and a layout for each of model and paper space.
type objects struct {
	list      []object.Object
	plotStyle handle.Handler
}

func newObjects(box geom.Box2, model, paper *blockRecord) *objects {
	root := &dictionary{}
	groups := &dictionary{owner: root}
	layouts := &dictionary{owner: root}
	styles, normal := object.NewAcDbDictionaryWDFLT(root)
	m := &layout{name: "Model", model: true, owner: layouts, record: model, box: box}
	p := &layout{name: "Layout1", tab: 1, owner: layouts, record: paper, box: box}
	model.layout, paper.layout = m, p
	root.items = []entry{{"ACAD_GROUP", groups}, {"ACAD_LAYOUT", layouts}, {"ACAD_PLOTSTYLENAME", styles}}
	layouts.items = []entry{{p.name, p}, {m.name, m}}
	return &objects{
		list:      []object.Object{root, groups, layouts, styles, normal, m, p},
		plotStyle: normal,
	}
}

// SetHandle numbers every object.
func (o *objects) SetHandle(v *int) {
	for _, x := range o.list {
		x.SetHandle(v)
	}
}

// Format writes the section.
func (o *objects) Format(f format.Formatter) {
	f.WriteString(0, "SECTION")
	f.WriteString(2, "OBJECTS")
	for _, x := range o.list {
		x.Format(f)
	}
	f.WriteString(0, "ENDSEC")
}

// entry is one name of a dictionary.
type entry struct {
	key   string
	value handle.Handler
}

// dictionary is a DICTIONARY with an owner and its entries in fixed order.
type dictionary struct {
	handle int
	owner  handle.Handler // nil for the root
	items  []entry
}

// IsObject implements object.Object.
func (d *dictionary) IsObject() bool { return true }

// Handle returns the dictionary's handle.
func (d *dictionary) Handle() int { return d.handle }

// SetHandle takes the next free handle.
func (d *dictionary) SetHandle(v *int) { d.handle = take(v) }

// Format writes the dictionary.
func (d *dictionary) Format(f format.Formatter) {
	owner := 0
	if d.owner != nil {
		owner = d.owner.Handle()
	}
	f.WriteString(0, "DICTIONARY")
	f.WriteHex(5, d.handle)
	f.WriteHex(330, owner)
	f.WriteString(100, "AcDbDictionary")
	f.WriteInt(281, 1)
	for _, e := range d.items {
		f.WriteString(3, e.key)
		f.WriteHex(350, e.value.Handle())
	}
}

// layout is a LAYOUT object with default plot settings.
type layout struct {
	name   string
	model  bool
	tab    int
	handle int
	owner  handle.Handler
	record *blockRecord
	box    geom.Box2
}

// IsObject implements object.Object.
func (l *layout) IsObject() bool { return true }

// Handle returns the layout's handle.
func (l *layout) Handle() int { return l.handle }

// SetHandle takes the next free handle.
func (l *layout) SetHandle(v *int) { l.handle = take(v) }

// Format writes the layout.
func (l *layout) Format(f format.Formatter) {
	f.WriteString(0, "LAYOUT")
	f.WriteHex(5, l.handle)
	f.WriteHex(330, l.owner.Handle())
	l.formatPlot(f)
	f.WriteString(100, "AcDbLayout")
	f.WriteString(1, l.name)
	f.WriteInt(70, 1)
	f.WriteInt(71, l.tab)
	writeVec(f, 10, 2, l.box.Min.X, l.box.Min.Y)
	writeVec(f, 11, 2, l.box.Max.X, l.box.Max.Y)
	writeVec(f, 12, 3, 0, 0)
	writeVec(f, 14, 3, l.box.Min.X, l.box.Min.Y)
	writeVec(f, 15, 3, l.box.Max.X, l.box.Max.Y)
	f.WriteFloat(146, 0)
	writeVec(f, 13, 3, 0, 0)
	writeVec(f, 16, 3, 1, 0)
	writeVec(f, 17, 3, 0, 1)
	f.WriteInt(76, 0)
	f.WriteHex(330, l.record.Handle())
}

// Plot settings of the DXF reference: layout type 1024 is the model space tab,
// paper unit 1 is millimetres, plot type 5 is 'layout'.
const (
	plotModelType  = 1024
	plotPaperUnits = 1
	plotLayout     = 5
	plotScaleFit   = 16
)

func (l *layout) formatPlot(f format.Formatter) {
	f.WriteString(100, "AcDbPlotSettings")
	for _, code := range []int{1, 2, 4, 6} {
		f.WriteString(code, "")
	}
	for code := 40; code <= 49; code++ {
		f.WriteFloat(code, 0)
	}
	f.WriteFloat(140, 0)
	f.WriteFloat(141, 0)
	f.WriteFloat(142, 1)
	f.WriteFloat(143, 1)
	flags := 0
	if l.model {
		flags = plotModelType
	}
	f.WriteInt(70, flags)
	f.WriteInt(72, plotPaperUnits)
	f.WriteInt(73, 0)
	f.WriteInt(74, plotLayout)
	f.WriteString(7, "")
	f.WriteInt(75, plotScaleFit)
	f.WriteFloat(147, 1)
	f.WriteFloat(148, 0)
	f.WriteFloat(149, 0)
}

// writeVec writes a point of n coordinates whose x has the given group code;
// z is zero.
func writeVec(f format.Formatter, code, n int, x, y float64) {
	f.WriteFloat(code, x)
	f.WriteFloat(code+10, y)
	if n == 3 {
		f.WriteFloat(code+20, 0)
	}
}
