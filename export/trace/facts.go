package trace

import (
	"encoding/binary"
	"fmt"
	"math"
	"path"
	"regexp"
	"strconv"
	"strings"

	"clampwright/params/number"
	"clampwright/parts/geom"
)

var extent = regexp.MustCompile(`\$EXTM(?:IN|AX)\n\s*10\n(.*)\n\s*20\n(.*)\n`)

// facts are what can be read of a part from its file: size and round holes of a DXF,
// size of an STL, faces of a STEP file. Empty for others.
func facts(name string, data []byte) string {
	text := string(data)
	switch path.Ext(name) {
	case ".dxf":
		box := geom.EmptyBox2()
		for _, m := range extent.FindAllStringSubmatch(text, -1) {
			x, _ := strconv.ParseFloat(m[1], 64)
			y, _ := strconv.ParseFloat(m[2], 64)
			box = box.Add(geom.Vec2{X: x, Y: y})
		}
		return fmt.Sprintf("%s, %d round holes", size(box.Size().X, box.Size().Y), strings.Count(text, "\nCIRCLE\n"))
	case ".stl":
		box := geom.EmptyBox3()
		for at := 84 + 12; at+36 <= len(data); at += 50 { // header, count; normal, corners, attribute
			for c := at; c < at+36; c += 12 {
				v := func(i int) float64 {
					return float64(math.Float32frombits(binary.LittleEndian.Uint32(data[c+4*i:])))
				}
				box = box.Add(geom.Vec3{X: v(0), Y: v(1), Z: v(2)})
			}
		}
		return size(box.Size().X, box.Size().Y, box.Size().Z)
	case ".step":
		return fmt.Sprintf("%d faces, %d of them round", strings.Count(text, "=ADVANCED_FACE("), strings.Count(text, "=CYLINDRICAL_SURFACE("))
	}
	return ""
}

func size(mm ...float64) string {
	var out []string
	for _, v := range mm {
		out = append(out, number.Length.Text(v))
	}
	return strings.Join(out, " x ") + " mm"
}
