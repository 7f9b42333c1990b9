package chart

import (
	"bytes"
	"image/color"
	"image/png"
	"math"
	"testing"

	"gonum.org/v1/plot/vg/recorder"
)

// No text of any sample is upside down.
func TestLabelsUpright(t *testing.T) {
	t.Parallel()
	all, err := sampleLayouts()
	if err != nil {
		t.Fatal(err)
	}
	turned := 0
	for name, l := range all {
		for _, text := range l.Texts {
			dx, dy := text.Corners[1][0]-text.Corners[0][0], text.Corners[1][1]-text.Corners[0][1]
			if dx < -1e-9 || dx < 1e-9 && dy < 0 {
				t.Errorf("%s: %q runs by (%.1f, %.1f)", name, text.Text, dx, dy)
			}
			if dy != 0 {
				turned++
			}
		}
	}
	if turned < 20 {
		t.Errorf("%d texts are turned, want some to test", turned)
	}
}

func TestReadable(t *testing.T) {
	t.Parallel()
	for _, c := range [][2]float64{{0, 0}, {45, 45}, {90, 90}, {91, 90}, {94, 90}, {96, -84}, {135, -45}, {180, 0},
		{-45, -45}, {-89, 90}, {-80, -80}, {-90, 90}, {-135, 45}} {
		if got := readable(c[0]*math.Pi/180) * 180 / math.Pi; math.Abs(got-c[1]) > 1e-9 {
			t.Errorf("text along %g degrees is turned by %g, want %g", c[0], got, c[1])
		}
	}
}

// Where points of several families stand on one place, all of them show.
func TestRingsShowAll(t *testing.T) {
	t.Parallel()
	const most = 4
	f := &Figure{Title: "rings", DPI: 200}
	p := Panel{X: Axis{Label: "x [-]", Max: 1}, Y: Axis{Label: "y [-]", Max: 1}}
	for k := range most {
		name := string(rune('a' + k))
		p.Lines = append(p.Lines, Line{Family: name, X: []float64{0, 1}, Y: []float64{0.1, 0.1}})
		p.Points = append(p.Points, Points{Family: name, X: []float64{0.5}, Y: []float64{0.7}, Ring: k})
	}
	f.Panels = []Panel{p}
	var b bytes.Buffer
	if err := f.WritePNG(&b); err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	sheet := f.arrange(newPen(new(recorder.Canvas)))
	r := sheet.rect(0)
	at := frame{rect: r, x: p.X, y: p.Y}.point(0.5, 0.7)
	dot := f.dpi()
	x0, y0 := int(float64(at.X)*float64(dot)/72), m.Bounds().Dy()-int(float64(at.Y)*float64(dot)/72)
	count := map[color.NRGBA]int{}
	for y := y0 - 50; y <= y0+50; y++ {
		for x := x0 - 50; x <= x0+50; x++ {
			count[color.NRGBAModel.Convert(m.At(x, y)).(color.NRGBA)]++
		}
	}
	for k := range most {
		ink := plainLooks[k].ink.(color.NRGBA)
		if n := count[ink]; n < 60 {
			t.Errorf("family %d shows by %d dots of its ink, want at least 60", k, n)
		}
	}
}

// An outline takes no look from the families of lines, and other texts keep off it.
func TestOutline(t *testing.T) {
	t.Parallel()
	f := sizeFigure(3)
	before := f.lookOf("constant disk loading")
	p := &f.Panels[0]
	along := Line{Family: "ridge", Outline: true}
	for _, l := range p.Lines[:1] { // on a labelled line's own label
		along.X, along.Y = append(along.X, l.X...), append(along.Y, l.Y...)
	}
	p.Lines = append([]Line{along}, p.Lines...)
	if got := f.lookOf("constant disk loading"); got.width != before.width || got.ink != before.ink {
		t.Errorf("an outline changed the look of another family to %v", got)
	}
	if got := f.lookOf("ridge"); !got.heavy || got.dash != nil {
		t.Errorf("an outline looks as %v", got)
	}
	l, err := f.Layout()
	if err != nil {
		t.Fatal(err)
	}
	checkLayout(t, l)
}
