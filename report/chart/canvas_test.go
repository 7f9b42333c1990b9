package chart

import (
	"bytes"
	"image"
	"image/color"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// Letters are those of gonum/plot, to the last bit, wherever they stand: turned or not, on whole
// dots or between them, beyond the rim, in any colour, on any ground.
func TestLettersAsByPlot(t *testing.T) {
	t.Parallel()
	const width, height = 72.0, 36.0
	const dpi = 100
	random := rand.New(rand.NewPCG(1, 2))
	for n := range 400 {
		want := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(dpi), vgimg.UseBackgroundColor(white))
		got := newCanvas(width, height, dpi)
		letters := []rune("AVg_ jW.8|~ÅQ≥·")
		random.Shuffle(len(letters), func(i, j int) { letters[i], letters[j] = letters[j], letters[i] })
		text := string(letters[:1+random.IntN(8)])
		at, origin := xy(random.Float64()*width, random.Float64()*height), xy(8*random.Float64()-9, -4*random.Float64())
		angle := (random.Float64() - 0.5) * 3
		switch n % 4 {
		case 0: // on whole dots
			at, origin = xy(36, 18), xy(0, 0)
			angle = 0
		case 1:
			angle = 0
		case 2:
			angle = 1.5707963267948966
		}
		size, bold := 4+10*random.Float64(), n%3 == 0
		ink := color.NRGBA{uint8(random.IntN(256)), uint8(random.IntN(256)), uint8(random.IntN(256)), 255}
		if n%5 == 0 {
			ink.A = uint8(random.IntN(256))
		}
		for _, c := range []vg.Canvas{want, got} {
			p := newPen(c)
			p.fill(barren, rectangle(vg.Rectangle{Min: xy(0, 0), Max: xy(width/2, height)}))
			p.c.Push()
			p.c.Translate(at)
			p.c.Rotate(angle)
			p.c.SetColor(ink)
			p.c.FillString(*p.face(size, bold), origin, text)
			p.c.Pop()
			p.c.FillString(*p.face(9, false), xy(3, 5), "after")
		}
		if w := want.Image().(*image.RGBA); !bytes.Equal(w.Pix, got.im.Pix) {
			t.Fatalf("%d: %q of %g points at %v, %v turned by %g in %v differs", n, text, size, at, origin, angle, ink)
		}
		got.release()
	}
}
