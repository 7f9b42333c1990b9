package trial

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/report/chart"
)

// Legible says where a text of a figure does not stand within it, or over another, is
// less than 7 points high as drawn or as it is printed at a scale of its size in points,
// stands upside down, or stands out from its ground by less than 4.5 : 1.
func Legible(t *testing.T, name string, f *chart.Figure, scale func(width, height float64) float64) {
	t.Helper()
	g := *f
	g.DPI = 100
	var b bytes.Buffer
	l, err := g.Draw(&b)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	m, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range l.Faults() {
		t.Errorf("%s: %s", name, fault)
	}
	for k, a := range l.Texts { // heads and labels of neighbouring panels
		for _, b := range l.Texts[:k] {
			const apart = 8
			if a.Size >= 9 && a.Size == b.Size && a.Corners[0][1] == b.Corners[0][1] &&
				a.Corners[0][1] == a.Corners[1][1] &&
				a.Corners[0][0] < b.Corners[1][0]+apart && b.Corners[0][0] < a.Corners[1][0]+apart {
				t.Errorf("%s: %q and %q nearly touch", name, a.Text, b.Text)
			}
		}
	}
	printed := scale(l.Width, l.Height)
	for _, text := range l.Texts {
		if text.Size < 7 || text.Size*printed < 6.99 {
			t.Errorf("%s: %q is %g points high and printed at %.2f, want at least 7", name, text.Text, text.Size,
				text.Size*printed)
		}
		if a, b := text.Corners[0], text.Corners[1]; b[0] < a[0]-1e-9 || math.Abs(b[0]-a[0]) < 1e-9 && b[1] < a[1] {
			t.Errorf("%s: %q is upside down", name, text.Text)
		}
		ground := text.Halo
		if ground == nil {
			ground = groundOf(m, text, l.Height)
		}
		if c := chart.Contrast(text.Ink, ground); c < 4.5 {
			t.Errorf("%s: %q has a contrast of %.1f, want at least 4.5", name, text.Text, c)
		}
	}
}

// groundOf is the colour of most dots of a text's box.
func groundOf(m image.Image, text chart.TextBox, height float64) color.Color {
	scale := float64(m.Bounds().Dy()) / height
	a, b, d := text.Corners[0], text.Corners[1], text.Corners[3]
	count := map[color.Color]int{}
	var most color.Color
	const steps = 60
	for i := range steps {
		for j := range steps / 4 {
			u, v := float64(i)/(steps-1), float64(j)/(steps/4-1)
			x := a[0] + u*(b[0]-a[0]) + v*(d[0]-a[0])
			y := a[1] + u*(b[1]-a[1]) + v*(d[1]-a[1])
			c := m.At(int(x*scale), int((height-y)*scale))
			if count[c]++; most == nil || count[c] > count[most] {
				most = c
			}
		}
	}
	return most
}

// NanEqual compares numbers, of which NaN equals itself.
var NanEqual = cmp.Comparer(func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) })
