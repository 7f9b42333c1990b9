package chart

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"

	"git.sr.ht/~sbinet/gg"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// canvas is gonum/plot's canvas with letters of its own, which come out as those there, at a tenth
// of the time: gonum/plot opens the font anew for each string, and each dot of a letter goes through
// interfaces.
type canvas struct {
	*vgimg.Canvas
	lettered
	outer   []lettered // what was pushed
	im      *image.RGBA
	high    float64 // dots
	inks    map[[4]uint32]inked
	columns []near // of a letter
	faces   map[openFace]xfont.Face
}

// lettered is where and in what colour letters stand.
type lettered struct {
	place gg.Matrix
	ink   inked
}

// openFace is a font at a size.
type openFace struct {
	font *opentype.Font
	size vg.Length
}

// newCanvas is white, of a size in points.
func newCanvas(width, height float64, dpi int) *canvas {
	im := image.NewRGBA(image.Rect(0, 0, dotsOf(width, dpi), dotsOf(height, dpi)))
	ctx := gg.NewContextForRGBA(im)
	ctx.SetLineCapButt()
	ctx.InvertY()
	c := &canvas{im: im, high: vg.Length(height).Dots(float64(dpi)), inks: map[[4]uint32]inked{},
		faces: map[openFace]xfont.Face{}}
	c.place = upwards(gg.Identity(), im)
	c.Canvas = vgimg.NewWith(vgimg.UseImageWithContext(im, ctx), vgimg.UseDPI(dpi)) // white, on im itself
	c.SetColor(black)
	return c
}

// dotsOf is a length in points, in dots.
func dotsOf(points float64, dpi int) int {
	return int(math.Round(vg.Length(points).Dots(float64(dpi))))
}

// upwards turns the y axis of an image.
func upwards(m gg.Matrix, im *image.RGBA) gg.Matrix {
	return m.Translate(0, float64(im.Rect.Dy())).Scale(1, -1)
}

// Push and the others are those of vg.Canvas.
func (c *canvas) Push() {
	c.Canvas.Push()
	c.outer = append(c.outer, c.lettered)
}

func (c *canvas) Pop() {
	c.Canvas.Pop()
	last := len(c.outer) - 1
	c.lettered, c.outer = c.outer[last], c.outer[:last]
}

func (c *canvas) Translate(by vg.Point) {
	c.Canvas.Translate(by)
	c.place = c.place.Translate(by.X.Dots(c.DPI()), by.Y.Dots(c.DPI()))
}

func (c *canvas) Rotate(angle float64) {
	c.Canvas.Rotate(angle)
	c.place = c.place.Rotate(angle)
}

// Scale is not for a canvas whose letters are set at their size.
func (c *canvas) Scale(x, y float64) {
	panic(fmt.Sprintf("chart: a canvas is scaled by %g and %g", x, y))
}

func (c *canvas) SetColor(ink color.Color) {
	c.Canvas.SetColor(ink)
	var key [4]uint32
	key[0], key[1], key[2], key[3] = ink.RGBA()
	ready, ok := c.inks[key]
	if !ok {
		ready = newInked(key)
		c.inks[key] = ready
	}
	c.ink = ready
}

// FillString sets one line of text that begins at a point.
func (c *canvas) FillString(of font.Face, at vg.Point, text string) {
	key := openFace{of.Face, of.Font.Size}
	face, ok := c.faces[key]
	if !ok {
		face = of.FontFace(c.DPI())
		c.faces[key] = face
	}
	place := upwards(c.place, c.im)
	fix := func(v float64) fixed.Int26_6 { return fixed.Int26_6(math.Round(v * 64)) }
	dot := fixed.Point26_6{X: fix(at.X.Dots(c.DPI())), Y: fix(c.high - at.Y.Dots(c.DPI()))}
	before := rune(-1)
	for _, r := range text {
		if before >= 0 {
			dot.X += face.Kern(before, r)
		}
		rect, mask, _, advance, ok := face.Glyph(dot, r)
		if !ok {
			continue
		}
		c.letter(place.Translate(float64(rect.Min.X), float64(rect.Min.Y)), mask.(*image.Alpha))
		dot.X += advance
		before = r
	}
}

// inked is a colour as it covers a dot, for each coverage from 0 to 255.
type inked struct {
	of *[256][4]float64
	// alone is the colour on a dot that it covers. To lay it over that again changes nothing where
	// it is opaque and none of its parts is so small that it could be rounded away: elsewhere 0.
	alone [4]uint8
}

func newInked(rgba [4]uint32) inked {
	t := inked{of: new([256][4]float64)}
	small := func(v uint32) bool { return v>>8 == 1 || v>>8 == 2 }
	if rgba[3] == 0xffff && !slices.ContainsFunc(rgba[:], small) {
		for k, v := range rgba {
			t.alone[k] = uint8(v >> 8)
		}
	}
	for a := range t.of {
		for k, v := range rgba {
			t.of[a][k] = float64(v * uint32(a) * 0x101 / 0xffff)
		}
	}
	return t
}

// letter moves a letter's mask to its place and lays it over the image, by bilinear
// interpolation: to the last bit as draw.BiLinear of golang.org/x/image does, which gonum/plot uses.
func (c *canvas) letter(to gg.Matrix, mask *image.Alpha) {
	seen := covering(to, mask.Rect).Intersect(c.im.Rect)
	if seen.Empty() || mask.Rect.Empty() {
		return
	}
	back := inverse(to)
	origin := covering(back, seen).Min.Sub(image.Pt(1, 1)) // so that what is cut to an integer is positive
	back.X0 -= float64(origin.X)
	back.Y0 -= float64(origin.Y)
	across := tent{origin.X, mask.Rect.Max.X, max(math.Abs(back.XX), math.Abs(back.XY), 1)}
	down := tent{origin.Y, mask.Rect.Max.Y, max(math.Abs(back.YX), math.Abs(back.YY), 1)}
	var x, y near
	upright := back.XY == 0 && back.YX == 0
	if c.columns = c.columns[:0]; upright {
		for dot := seen.Min.X; dot < seen.Max.X; dot++ {
			c.columns = append(c.columns, across.near(float64(back.XX*(float64(dot)+0.5))+back.X0))
		}
	}
	for v := seen.Min.Y; v < seen.Max.Y; v++ {
		row := c.im.Pix[v*c.im.Stride:]
		vf := float64(v) + 0.5
		if upright {
			y = down.near(float64(back.YY*vf) + back.Y0)
		}
		for u := seen.Min.X; u < seen.Max.X; u++ {
			if upright {
				x = c.columns[u-seen.Min.X]
			} else {
				uf := float64(u) + 0.5
				x = across.near(float64(back.XX*uf) + float64(back.XY*vf) + back.X0)
				y = down.near(float64(back.YX*uf) + float64(back.YY*vf) + back.Y0)
			}
			if x.n > 0 && y.n > 0 {
				c.ink.over(row[4*u:4*u+4], mask, &x, &y)
			}
		}
	}
}

// tent is the kernel of linear interpolation between the dots of a mask along one of its
// axes, from 0 to below end, as wide as a dot of the image or of the mask, whichever is wider.
type tent struct {
	origin, end int
	wide        float64 // dots of the mask
}

// near are the dots that a place lies between, with their shares; none beyond the mask.
type near struct {
	first, n int
	share    [5]float64 // of letters turned by any angle four at most are near
}

func (k tent) near(at float64) near {
	if whole := int(at) + k.origin; whole < 0 || whole >= k.end {
		return near{}
	}
	at += float64(k.origin)
	at -= 0.5
	x := near{first: max(int(math.Floor(at-k.wide)), 0)}
	x.n = min(int(math.Ceil(at+k.wide)), k.end) - x.first
	narrow, sum := 1/k.wide, 0.0
	for i := range x.n {
		x.share[i] = max(1-math.Abs((at-float64(x.first+i))*narrow), 0)
		sum += x.share[i]
	}
	for i := range x.n {
		x.share[i] /= sum
	}
	return x
}

// over lays the colour over a dot as a mask covers the dots near it.
func (k *inked) over(dot []uint8, mask *image.Alpha, x, y *near) {
	if [4]uint8(dot) == k.alone { // as most of a halo's, drawn many times
		return
	}
	var p [4]float64
	covered := uint8(0)
	for j := range y.n {
		row := mask.Pix[(y.first+j)*mask.Stride+x.first:][:x.n]
		for i, cover := range row {
			share := x.share[i] * y.share[j]
			if share == 0 || cover == 0 {
				continue
			}
			covered |= cover
			of := &k.of[cover]
			p[0] += float64(of[0] * share)
			p[1] += float64(of[1] * share)
			p[2] += float64(of[2] * share)
			p[3] += float64(of[3] * share)
		}
	}
	if covered == 0 {
		return
	}
	rest := 0xffff - rounded(p[3])
	for i := range p {
		dot[i] = uint8((uint32(dot[i])*0x101*rest/0xffff + rounded(min(p[i], p[3]))) >> 8)
	}
}

// rounded is a colour of 0 to 0xffff as an integer.
func rounded(v float64) uint32 { return uint32(min(v+0.5, 0xffff)) }

// covering is the least rectangle of dots that holds a rectangle in another place.
func covering(m gg.Matrix, r image.Rectangle) image.Rectangle {
	var out image.Rectangle
	for _, p := range [...]image.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, {X: r.Min.X, Y: r.Max.Y}, r.Max} {
		x, y := float64(p.X), float64(p.Y)
		dot := image.Pt(int(math.Floor(float64(m.XX*x)+float64(m.XY*y)+m.X0)),
			int(math.Floor(float64(m.YX*x)+float64(m.YY*y)+m.Y0)))
		out = out.Union(image.Rectangle{Min: dot, Max: dot.Add(image.Pt(1, 1))})
	}
	return out
}

// inverse leads back.
func inverse(m gg.Matrix) gg.Matrix {
	det := float64(m.YY*m.XX) - float64(m.XY*m.YX)
	return gg.Matrix{XX: m.YY / det, YX: -m.YX / det, XY: -m.XY / det, YY: m.XX / det,
		X0: (float64(m.XY*m.Y0) - float64(m.YY*m.X0)) / det,
		Y0: (float64(m.YX*m.X0) - float64(m.XX*m.Y0)) / det}
}
