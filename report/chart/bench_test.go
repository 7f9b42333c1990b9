package chart

import (
	"io"
	"testing"

	"gonum.org/v1/plot/vg/recorder"
)

// The parts of a picture of three maps with labelled lines, hatching, callouts and a legend: its
// shapes and texts placed, these painted, and the image encoded.
func BenchmarkPicture(b *testing.B) {
	f := sizeFigure(3)
	p, err := f.Place()
	if err != nil {
		b.Fatal(err)
	}
	paint := func() *canvas {
		c := newCanvas(p.Width, p.Height, p.dpi)
		if err := p.shapes.ReplayOn(c); err != nil {
			b.Fatal(err)
		}
		return c
	}
	b.Run("place", func(b *testing.B) {
		for b.Loop() {
			f.draw(newPen(new(recorder.Canvas)))
		}
	})
	b.Run("paint", func(b *testing.B) {
		for b.Loop() {
			paint()
		}
	})
	b.Run("encode", func(b *testing.B) {
		c := paint()
		for b.Loop() {
			if err := encode(io.Discard, c.im, p.dpi); err != nil {
				b.Fatal(err)
			}
		}
	})
}
