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
		switch n % 5 {
		case 1:
			ink = white
		case 2:
			ink.R, ink.G = 0, uint8(n%4)
		case 3:
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
			p.c.FillString(*p.face(size, bold), origin.Add(xy(0.7, 0.3)), text) // over itself, as a halo
			p.c.Pop()
			p.c.FillString(*p.face(9, false), xy(3, 5), "after")
		}
		if w := want.Image().(*image.RGBA); !bytes.Equal(w.Pix, got.im.Pix) {
			t.Fatalf("%d: %q of %g points at %v, %v turned by %g in %v differs", n, text, size, at, origin, angle, ink)
		}
	}
}

// A colour laid over itself stays what it is, however much of it: over passes such dots by.
func TestInkOverItself(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(3, 4))
	mask := image.NewAlpha(image.Rect(0, 0, 2, 2))
	for v := range 256 {
		ink := newInked([4]uint32{uint32(v) * 0x101, 0xffff, 0, 0xffff})
		want := [4]uint8{uint8(v), 255, 0, 255}
		if small := v == 1 || v == 2; (ink.alone == want) == small {
			t.Fatalf("%d: %v is passed by", v, ink.alone)
		}
		if ink.alone != want {
			continue
		}
		ink.alone = [4]uint8{} // so that it is worked out
		for range 2000 {
			for k := range mask.Pix {
				mask.Pix[k] = uint8(random.IntN(256))
			}
			x, y := near{n: 2}, near{n: 2}
			x.share[0], y.share[0] = random.Float64(), random.Float64()
			x.share[1], y.share[1] = 1-x.share[0], 1-y.share[0]
			dot := want
			if ink.over(dot[:], mask, &x, &y); dot != want {
				t.Fatalf("%v becomes %v under %v", want, dot, mask.Pix)
			}
		}
	}
}
