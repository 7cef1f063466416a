package dxf

import (
	"github.com/yofu/dxf/format"

	"clampwright/parts/geom"
)

// header is the HEADER section.
type header struct {
	box      geom.Box2
	handseed int
}

// SetHandle takes the next free handle.
func (h *header) SetHandle(v *int) { h.handseed = *v }

// Header values of the DXF reference: insertion units 4 are millimetres,
// measurement 1 is metric, linear units 2 are decimal.
const (
	unitsMillimetre    = 4
	measurementMetric  = 1
	linearUnitsDecimal = 2
	linearPrecision    = 3
)

// Format writes the section.
func (h *header) Format(f format.Formatter) {
	f.WriteString(0, "SECTION")
	f.WriteString(2, "HEADER")
	text := func(name string, code int, v string) { f.WriteString(9, name); f.WriteString(code, v) }
	whole := func(name string, v int) { f.WriteString(9, name); f.WriteInt(70, v) }
	text("$ACADVER", 1, "AC1015")
	text("$DWGCODEPAGE", 3, "ANSI_1252")
	writePoint3(f, "$INSBASE", geom.Vec2{})
	writePoint3(f, "$EXTMIN", h.box.Min)
	writePoint3(f, "$EXTMAX", h.box.Max)
	writePoint2(f, "$LIMMIN", h.box.Min)
	writePoint2(f, "$LIMMAX", h.box.Max)
	f.WriteString(9, "$LTSCALE")
	f.WriteFloat(40, 1)
	text("$CLAYER", 8, "0")
	whole("$LUNITS", linearUnitsDecimal)
	whole("$LUPREC", linearPrecision)
	whole("$INSUNITS", unitsMillimetre)
	whole("$MEASUREMENT", measurementMetric)
	f.WriteString(9, "$HANDSEED")
	f.WriteHex(5, h.handseed)
	f.WriteString(0, "ENDSEC")
}

func writePoint2(f format.Formatter, name string, p geom.Vec2) {
	f.WriteString(9, name)
	f.WriteFloat(10, p.X)
	f.WriteFloat(20, p.Y)
}

func writePoint3(f format.Formatter, name string, p geom.Vec2) {
	writePoint2(f, name, p)
	f.WriteFloat(30, 0)
}
