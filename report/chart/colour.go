package chart

import (
	"image/color"

	"gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/palette/moreland"
)

// Inks of everything but the bands.
var (
	black    = color.NRGBA{0x14, 0x14, 0x14, 0xff}
	white    = color.NRGBA{0xff, 0xff, 0xff, 0xff}
	grey     = color.NRGBA{0x59, 0x59, 0x59, 0xff}
	lattice  = color.NRGBA{0xd9, 0xd9, 0xd9, 0xff} // on plain ground
	hatching = color.NRGBA{0x8a, 0x8a, 0x8a, 0xff}
	barren   = color.NRGBA{0xe6, 0xe6, 0xe6, 0xff} // infeasible ground
	boundary = color.NRGBA{0xb4, 0x1e, 0x28, 0xff}
	hairline = color.NRGBA{0x14, 0x14, 0x14, 0xb0}
)

// ramp maps 0..1 to colours of evenly rising lightness (CIE L* 17 to 91).
// The five anchors are our own; hue goes from blue over green to straw, so
// that the blue-yellow opposition, which red-green colour blindness keeps,
// and the lightness both carry the order.
func ramp() palette.ColorMap {
	m, err := moreland.NewLuminance([]color.Color{
		color.NRGBA{0x24, 0x23, 0x58, 0xff},
		color.NRGBA{0x2a, 0x56, 0x8c, 0xff},
		color.NRGBA{0x3f, 0x8f, 0x93, 0xff},
		color.NRGBA{0x93, 0xbd, 0x78, 0xff},
		color.NRGBA{0xf6, 0xe6, 0x9a, 0xff},
	})
	if err != nil {
		panic(err) // the anchors are constants and their lightness rises
	}
	m.SetMin(0)
	m.SetMax(1)
	return m
}

// shade is the ramp's colour at t, clamped to 0..1.
func shade(m palette.ColorMap, t float64) color.Color {
	c, err := m.At(min(max(t, 0), 1))
	if err != nil {
		panic(err) // t is within the map's range
	}
	return c
}
