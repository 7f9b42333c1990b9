package chart

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/vg"
)

// MostBands is how many bands of one bar neighbours can be told apart by all readers;
// see TestRampReadableToAll.
const MostBands = 10

// shadeOf is the colour of a value on the figure's bar.
func (f *Figure) shadeOf(m palette.ColorMap, v float64) color.Color {
	b := f.Bar.Levels
	n := len(b) - 1
	k := 0
	for k+1 < n && v >= b[k+1] {
		k++
	}
	if n == 1 {
		return shade(m, 0.5)
	}
	// Bands, not values, are spaced evenly, so that levels that crowd together
	// can still be told apart.
	return shade(m, float64(k)/float64(n-1))
}

// drawBar draws the colour bar to the right of the panels, as high as all of them.
func (f *Figure) drawBar(p *pen, s *sheet, m palette.ColorMap) {
	first, last := s.rect(0), s.rect(len(f.Panels)-1)
	rowEnd := s.rect(s.columns - 1)
	x := float64(rowEnd.Max.X) + barGap
	lo, hi := float64(last.Min.Y), float64(first.Max.Y)
	b := f.Bar.Levels
	n := len(b) - 1
	edge := func(k int) float64 { return snapped(lo+(hi-lo)*float64(k)/float64(n), s.dpi) }
	for k := range n {
		p.fill(f.shadeOf(m, (b[k]+b[k+1])/2), rectangle(vg.Rectangle{
			Min: xy(x, edge(k)),
			Max: xy(x+barWidth, edge(k+1)),
		}))
	}
	stride := 1
	for (hi-lo)/float64(n)*float64(stride) < 1.3*tickSize {
		stride++
	}
	for k := range n + 1 {
		y := vg.Length(edge(k))
		p.stroke(black, 0.7, nil, segment(vg.Point{X: vg.Length(x + barWidth), Y: y},
			vg.Point{X: vg.Length(x + barWidth + tickLength), Y: y}))
		if k%stride == 0 {
			p.writeLeft(format(f.Bar.Format, b[k]), vg.Point{X: vg.Length(x + barWidth + tickLength + tickGap), Y: y},
				style{size: tickSize, ink: black})
		}
	}
	p.stroke(black, 0.9, nil, rectangle(vg.Rectangle{
		Min: xy(x, lo),
		Max: xy(x+barWidth, hi),
	}))
	p.write(f.Bar.Label, xy(x+barWidth+tickLength+tickGap+s.barTextWidth+5+halfTop*axisSize, (lo+hi)/2), math.Pi/2,
		style{size: axisSize, ink: black})
}
