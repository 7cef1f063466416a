package page

import "image/color"

// paint is the colour of each class, chosen to tell the classes apart by
// lightness too, so that the picture still works in grey.
var paint = []struct {
	class Class
	rgb   color.NRGBA
}{
	{Cell, color.NRGBA{0x8f, 0xb3, 0xc9, 0xff}},
	{Terminal, color.NRGBA{0xd9, 0xc3, 0x7a, 0xff}},
	{Plate, color.NRGBA{0xe9, 0xdf, 0xca, 0xff}},
	{Angle, color.NRGBA{0xb9, 0xbd, 0xbc, 0xff}},
	{Rod, color.NRGBA{0x8a, 0x8f, 0x91, 0xff}},
	{Hardware, color.NRGBA{0xa5, 0xa8, 0xa6, 0xff}},
	{Spring, color.NRGBA{0x6f, 0x86, 0x7c, 0xff}},
	{Separator, color.NRGBA{0xc9, 0xd8, 0xb4, 0xff}},
	{Liner, color.NRGBA{0xe6, 0xc9, 0xb0, 0xff}},
	{Link, color.NRGBA{0xc9, 0x8a, 0x5a, 0xff}},
	{Printed, color.NRGBA{0xb7, 0xa9, 0xc9, 0xff}},
	{Foul, color.NRGBA{0xc8, 0x3a, 0x2e, 0xff}},
}

// Colour is the red, green and blue of a class, 0 to 1.
func Colour(c Class) [3]float64 {
	p := paint[classIndex(c)].rgb
	return [3]float64{float64(p.R) / 255, float64(p.G) / 255, float64(p.B) / 255}
}

// classOf is c, or Hardware when c is not one of the classes.
func classOf(c Class) Class {
	for _, p := range paint {
		if p.class == c {
			return c
		}
	}
	return Hardware
}

// classIndex is the row of c in paint.
func classIndex(c Class) int {
	for i, p := range paint {
		if p.class == c {
			return i
		}
	}
	return classIndex(Hardware)
}
