package chart

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// placeCells writes the overlays' values into the cells of a panel whose axes
// are both discrete.
func (s *scene) placeCells() []lettering {
	var out []lettering
	const leading = 1.3 * labelSize
	for _, c := range s.terrain.cells {
		if math.IsNaN(c.z) {
			continue
		}
		n := len(c.values)
		mid := vg.Point{X: (c.rect.Min.X + c.rect.Max.X) / 2, Y: (c.rect.Min.Y + c.rect.Max.Y) / 2}
		for k, v := range c.values {
			text := format(s.panel.Overlays[k].Format, v)
			at := vg.Point{X: mid.X, Y: mid.Y + vg.Length((float64(n-1)/2-float64(k))*leading)}
			b := s.pen.textBox(text, style{size: labelSize}, at, 0).grown(1)
			if s.taken(b) { // a star: stand below it
				at.Y = mid.Y - starRadius - 2 - halfTop*labelSize - vg.Length(k)*leading
				b.centre = at
			}
			if !b.within(c.rect) || s.taken(s.pen.textBox(text, style{size: labelSize}, at, 0)) {
				s.dropped = append(s.dropped, fmt.Sprintf("%s %s", s.panel.Overlays[k].Name, text))
				continue
			}
			s.add(s.pen.textBox(text, style{size: labelSize}, at, 0))
			out = append(out, lettering{text: text, at: at,
				style: style{size: labelSize, ink: inkOn(s.figure.shadeOf(s.colours, c.z))}})
		}
	}
	return out
}

// inkOn is the ink, black or white, that stands out more from a ground: by at
// least 4.58 : 1 from any.
func inkOn(ground color.Color) color.Color {
	ink := color.NRGBA{A: 0xff}
	if Contrast(ink, ground) < Contrast(white, ground) {
		return white
	}
	return ink
}

// Contrast is that of two opaque colours, 1 to 21 (Web Content Accessibility
// Guidelines 2.1, W3C 2018).
func Contrast(a, b color.Color) float64 {
	x, y := luminance(a)+0.05, luminance(b)+0.05
	return max(x, y) / min(x, y)
}

// luminance is the relative luminance of a colour, 0 to 1.
func luminance(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	return 0.2126*linearLight(r) + 0.7152*linearLight(g) + 0.0722*linearLight(b)
}

// linearLight undoes the transfer function of sRGB (IEC 61966-2-1).
func linearLight(v uint32) float64 {
	s := float64(v) / 0xffff
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}
