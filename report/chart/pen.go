package chart

import (
	"image/color"
	"math"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
)

// Text sizes in points. The smallest stays readable in print.
const (
	titleSize    = 12.5
	subtitleSize = 9
	axisSize     = 9
	tickSize     = 8
	noteSize     = 7.5
	labelSize    = 7.5
)

// TextBox is a piece of text as placed on the canvas.
type TextBox struct {
	Text    string
	Corners [4][2]float64 // points from the lower left of the figure, counter-clockwise
	Size    float64       // points
	Ink     color.Color
	Halo    color.Color // around the letters; nil for none
}

func (t TextBox) box() box {
	at := func(k int) vg.Point { return xy(t.Corners[k][0], t.Corners[k][1]) }
	a, b, c := at(0), at(1), at(2)
	return box{
		centre: vg.Point{X: (a.X + c.X) / 2, Y: (a.Y + c.Y) / 2},
		halfW:  distance(a, b) / 2,
		halfH:  distance(b, c) / 2,
		angle:  math.Atan2(float64(b.Y-a.Y), float64(b.X-a.X)),
	}
}

// pen draws on a canvas and keeps account of the text it wrote. Each pen has its
// own fonts, so that pictures can be drawn at the same time.
type pen struct {
	c     vg.Canvas
	fonts *font.Cache
	texts []TextBox
	boxes []box // of texts
}

func newPen(c vg.Canvas) *pen {
	vg.Initialize(c)
	return &pen{c: c, fonts: font.NewCache(liberation.Collection())}
}

func (p *pen) face(size float64, bold bool) *font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if bold {
		f.Weight = xfont.WeightBold
	}
	face := p.fonts.Lookup(f, vg.Length(size))
	return &face
}

// width is the advance of the text in points.
func (p *pen) width(text string, s style) float64 {
	return float64(p.face(s.size, s.bold).Width(text))
}

// Heights in ems about the middle of the capitals, where text is anchored.
const (
	capital = 0.72 // height of the capitals of Liberation Sans
	halfTop = 0.55 // half the box: reaches above accents, below descenders
)

// textBox is the room of one line of text centred at a point.
func (p *pen) textBox(text string, s style, centre vg.Point, angle float64) box {
	return box{centre: centre, halfW: p.width(text, s) / 2, halfH: halfTop * s.size, angle: angle}
}

// style says how text looks.
type style struct {
	size float64
	bold bool
	ink  color.Color
	halo color.Color // nil for none
}

// write sets one line of text centred at a point.
func (p *pen) write(text string, at vg.Point, angle float64, s style) {
	if text == "" {
		return
	}
	face := p.face(s.size, s.bold)
	w := float64(face.Width(text))
	p.c.Push()
	p.c.Translate(at)
	if angle != 0 {
		p.c.Rotate(angle)
	}
	origin := xy(-w/2, -capital/2*s.size)
	if s.halo != nil {
		p.c.SetColor(s.halo)
		const rays = 10
		r := 0.16 * s.size
		if s.ink == color.Color(white) {
			r = 0.12 * s.size // dark on light looks heavier than light on dark
		}
		for k := range rays {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / rays)
			p.c.FillString(*face, origin.Add(xy(r*cos, r*sin)), text)
		}
	}
	p.c.SetColor(s.ink)
	p.c.FillString(*face, origin, text)
	p.c.Pop()

	b := box{centre: at, halfW: w / 2, halfH: halfTop * s.size, angle: angle}
	p.boxes = append(p.boxes, b)
	t := TextBox{Text: text, Size: s.size, Ink: s.ink, Halo: s.halo}
	for k, c := range b.corners() {
		t.Corners[k] = [2]float64{float64(c.X), float64(c.Y)}
	}
	p.texts = append(p.texts, t)
}

// writeLeft sets one line of text that begins at a point.
func (p *pen) writeLeft(text string, at vg.Point, s style) {
	w := p.face(s.size, s.bold).Width(text)
	p.write(text, vg.Point{X: at.X + w/2, Y: at.Y}, 0, s)
}

// writeRight sets one line of text that ends at a point.
func (p *pen) writeRight(text string, at vg.Point, s style) {
	w := p.face(s.size, s.bold).Width(text)
	p.write(text, vg.Point{X: at.X - w/2, Y: at.Y}, 0, s)
}

func path(curves ...curve) vg.Path {
	var out vg.Path
	for _, c := range curves {
		for k, pt := range c.pts {
			if k == 0 {
				out.Move(pt)
			} else {
				out.Line(pt)
			}
		}
		if c.closed {
			out.Close()
		}
	}
	return out
}

func (p *pen) fill(c color.Color, rings ...curve) {
	if len(rings) == 0 {
		return
	}
	p.c.SetColor(c)
	p.c.Fill(path(rings...))
}

func (p *pen) stroke(c color.Color, width float64, dash []vg.Length, curves ...curve) {
	p.c.SetColor(c)
	p.c.SetLineWidth(vg.Length(width))
	p.c.SetLineDash(dash, 0)
	for _, cv := range curves {
		p.c.Stroke(path(cv))
	}
	p.c.SetLineDash(nil, 0)
}

func xy(x, y float64) vg.Point { return vg.Point{X: vg.Length(x), Y: vg.Length(y)} }

// segment is a straight line.
func segment(a, b vg.Point) curve { return curve{pts: []vg.Point{a, b}} }

func rectangle(r vg.Rectangle) curve {
	return curve{closed: true, pts: []vg.Point{
		r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y},
	}}
}

// star marks a best design.
func (p *pen) star(at vg.Point) { p.starOf(at, starRadius, 1) }

func (p *pen) starOf(at vg.Point, outer, rim float64) {
	inner := 0.42 * outer
	c := curve{closed: true}
	for k := range 10 {
		r := outer
		if k%2 == 1 {
			r = inner
		}
		sin, cos := math.Sincos(math.Pi/2 + float64(k)*math.Pi/5)
		c.pts = append(c.pts, vg.Point{X: at.X + vg.Length(r*cos), Y: at.Y + vg.Length(r*sin)})
	}
	p.fill(white, c)
	p.stroke(black, rim, nil, c)
}

// ring marks a design that is no star; what it goes around is seen.
func (p *pen) ring(at vg.Point, radius float64) {
	p.ringHalo(at, radius)
	p.ringRim(at, radius)
}

func (p *pen) ringHalo(at vg.Point, radius float64) {
	p.stroke(white, 0.6*radius, nil, circle(at, radius))
}

func (p *pen) ringRim(at vg.Point, radius float64) {
	p.stroke(black, 0.3*radius, nil, circle(at, radius))
}

func circle(at vg.Point, radius float64) curve {
	c := curve{closed: true}
	for _, corner := range polygon(40, 0, radius) {
		c.pts = append(c.pts, at.Add(corner))
	}
	return c
}

const (
	starRadius = 6.5
	ringRadius = 6.5 // the points of a star just reach it
)

// wrap breaks text into lines no wider than width, at spaces.
func (p *pen) wrap(text string, size float64, bold bool, width float64) []string {
	face := p.face(size, bold)
	var lines []string
	var line string
	for _, word := range splitWords(text) {
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if line != "" && float64(face.Width(longer)) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
