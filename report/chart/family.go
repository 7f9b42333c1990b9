package chart

import (
	"image/color"

	"gonum.org/v1/plot/vg"
)

// look is how a family of lines is drawn: a dash on a solid casing, so that
// it shows on any band. Families differ in dash, in lightness and in hue.
type look struct {
	ink, casing color.Color
	width       float64
	dash        []vg.Length
	heavy       bool // texts of other lines keep off it
}

var mapLooks = []look{
	{ink: white, casing: black, width: 1.0, dash: []vg.Length{5, 3}},
	{ink: color.NRGBA{0xa0, 0x12, 0x46, 0xff}, casing: white, width: 1.1, dash: []vg.Length{8, 2, 1.6, 2}},
	{ink: black, casing: white, width: 1.2, dash: []vg.Length{1.4, 2.2}},
	{ink: color.NRGBA{0xff, 0xb0, 0x3c, 0xff}, casing: black, width: 1.0, dash: []vg.Length{10, 3.5}},
}

// plainLooks are those on plain ground. Each ink is dark enough for text, and every two are
// told apart by all sights: see TestColoursToldApart.
var plainLooks = []look{
	{ink: color.NRGBA{0x00, 0x2f, 0x71, 0xff}, casing: white, width: 1.5},
	{ink: color.NRGBA{0x96, 0x29, 0x24, 0xff}, casing: white, width: 1.5, dash: []vg.Length{7, 2.5}},
	{ink: color.NRGBA{0x0b, 0x6a, 0x5a, 0xff}, casing: white, width: 1.5, dash: []vg.Length{8, 2, 1.6, 2}},
	{ink: color.NRGBA{0x77, 0x47, 0x99, 0xff}, casing: white, width: 1.7, dash: []vg.Length{1.7, 2.2}},
	{ink: color.NRGBA{0x8b, 0x6c, 0x00, 0xff}, casing: white, width: 1.5, dash: []vg.Length{13, 3.5}},
	{ink: color.NRGBA{0x3b, 0x3a, 0x44, 0xff}, casing: white, width: 1.3, dash: []vg.Length{6, 2, 1.5, 2, 1.5, 2}},
}

// outlineLook is that of what goes around an area of interest.
var outlineLook = look{ink: black, casing: white, width: 2, heavy: true}

// edgeLook is that of the lines between bands.
var edgeLook = look{ink: hairline, width: 0.6}

// letters stand out from any band: dark in a light halo. A light ink in a dark one
// would smear on light bands.
func (l look) letters() style {
	if l.casing == color.Color(black) {
		return style{size: labelSize, bold: true, ink: black, halo: white}
	}
	return style{size: labelSize, ink: l.ink, halo: l.casing}
}

func (p *pen) line(l look, curves ...curve) {
	if l.casing != nil {
		p.stroke(l.casing, l.width+0.9, nil, curves...)
	}
	p.stroke(l.ink, l.width, l.dash, curves...)
}
