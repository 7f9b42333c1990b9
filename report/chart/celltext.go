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
			out = append(out, lettering{text: text, at: at, style: style{size: labelSize, ink: inkOn(s.figure.shadeOf(s.colours, c.z))}})
		}
	}
	return out
}

// inkOn is black on light and white on dark ground.
func inkOn(ground color.Color) color.Color {
	r, g, b, _ := ground.RGBA()
	// Rec. 709 luma is enough to choose between two inks.
	if 0.2126*float64(r)+0.7152*float64(g)+0.0722*float64(b) > 0.45*0xffff {
		return black
	}
	return white
}
