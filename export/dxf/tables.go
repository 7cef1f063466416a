package dxf

import (
	"github.com/yofu/dxf/color"
	"github.com/yofu/dxf/format"
	"github.com/yofu/dxf/handle"
	"github.com/yofu/dxf/table"
)

// layerColours are the colour numbers of the layers, in file order.
var layerColours = []struct {
	name   string
	colour color.ColorNumber
}{
	{"0", color.White},
	{LayerOutline, color.Red},
	{LayerHoles, color.Blue},
	{LayerMark, color.Green},
	{LayerNote, color.Grey128},
}

// newTables makes the TABLES section and returns its layers by name. Nothing of
// the library's shared default tables is used: they hold handles that two
// drawings made at once would overwrite.
func newTables(model, paper *blockRecord, plotStyle handle.Handler) (table.Tables, map[string]*table.Layer) {
	continuous := table.NewLineType("Continuous", "Solid line")
	style := table.NewStyle("Standard")
	style.FontName = "txt"
	layers := map[string]*table.Layer{}
	layerTable := table.NewTable("LAYER")
	for _, lc := range layerColours {
		l := table.NewLayer(lc.name, lc.colour, continuous)
		l.SetPlotStyle(plotStyle)
		layers[lc.name] = l
		layerTable.Add(l)
	}
	return table.Tables{
		table.NewTable("VPORT"),
		newTable("LTYPE", table.NewLineType("ByBlock", ""), table.NewLineType("ByLayer", ""), continuous),
		layerTable,
		newTable("STYLE", style),
		table.NewTable("VIEW"),
		table.NewTable("UCS"),
		newTable("APPID", table.NewAppID("ACAD")),
		newTable("DIMSTYLE", table.NewDimStyle("Standard")),
		newTable("BLOCK_RECORD", model, paper),
	}, layers
}

func newTable(name string, rows ...table.SymbolTable) *table.Table {
	t := table.NewTable(name)
	for _, r := range rows {
		t.Add(r)
	}
	return t
}

// blockRecord is a BLOCK_RECORD row that, unlike the library's, points at its
// layout; without that a reader has to adopt the paper space.
type blockRecord struct {
	name   string
	handle int
	owner  handle.Handler
	layout handle.Handler
}

// IsSymbolTable implements table.SymbolTable.
func (b *blockRecord) IsSymbolTable() bool { return true }

// Handle returns the record's handle.
func (b *blockRecord) Handle() int { return b.handle }

// SetHandle takes the next free handle.
func (b *blockRecord) SetHandle(v *int) { b.handle = take(v) }

// SetOwner sets the table the record belongs to.
func (b *blockRecord) SetOwner(h handle.Handler) { b.owner = h }

// Name returns the block's name.
func (b *blockRecord) Name() string { return b.name }

// Format writes the record.
func (b *blockRecord) Format(f format.Formatter) {
	f.WriteString(0, "BLOCK_RECORD")
	f.WriteHex(5, b.handle)
	f.WriteHex(330, b.owner.Handle())
	f.WriteString(100, "AcDbSymbolTableRecord")
	f.WriteString(100, "AcDbBlockTableRecord")
	f.WriteString(2, b.name)
	f.WriteHex(340, b.layout.Handle())
}

// take returns the next free handle and moves the counter on.
func take(v *int) int {
	h := *v
	*v++
	return h
}
