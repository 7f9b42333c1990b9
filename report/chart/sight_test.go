package chart

import (
	"image/color"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/palette"
)

// dichromats are what a protanope and a deuteranope see of linear sRGB (Machado, Oliveira and
// Fernandes, A Physiologically-based Model for Simulation of Color Vision Deficiency, 2009,
// severity 1.0, from memory).
var dichromats = map[string][3][3]float64{
	"normal": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanope": {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216},
		{-0.003882, -0.048116, 1.051998}},
	"deuteranope": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413},
		{-0.011820, 0.042940, 0.968881}},
}

// ciede2000 is the difference of two colours in L*a*b* (Sharma, Wu and Dalal, The CIEDE2000
// Color-Difference Formula: Implementation Notes, Supplementary Test Data, and Mathematical
// Observations, 2005).
func ciede2000(p, q [3]float64) float64 {
	const turn = 2 * math.Pi
	seventh := func(c float64) float64 { return math.Sqrt(math.Pow(c, 7) / (math.Pow(c, 7) + math.Pow(25, 7))) }
	g := 0.5 * (1 - seventh((math.Hypot(p[1], p[2])+math.Hypot(q[1], q[2]))/2))
	polar := func(x [3]float64) (c, h float64) {
		a := (1 + g) * x[1]
		if h = math.Atan2(x[2], a); h < 0 {
			h += turn
		}
		return math.Hypot(a, x[2]), h
	}
	c1, h1 := polar(p)
	c2, h2 := polar(q)
	dh, h := h2-h1, h1+h2
	switch {
	case c1*c2 == 0:
		dh = 0
	case math.Abs(dh) <= math.Pi:
		h /= 2
	case h < turn:
		h = (h + turn) / 2
	default:
		h = (h - turn) / 2
	}
	if dh > math.Pi {
		dh -= turn
	} else if dh < -math.Pi {
		dh += turn
	}
	dL, dC, dH := q[0]-p[0], c2-c1, 2*math.Sqrt(c1*c2)*math.Sin(dh/2)
	L, C := (p[0]+q[0])/2, (c1+c2)/2
	deg := math.Pi / 180
	t := 1 - 0.17*math.Cos(h-30*deg) + 0.24*math.Cos(2*h) + 0.32*math.Cos(3*h+6*deg) - 0.20*math.Cos(4*h-63*deg)
	sL := 1 + 0.015*sq(L-50)/math.Sqrt(20+sq(L-50))
	sC, sH := 1+0.045*C, 1+0.015*C*t
	turned := -math.Sin(60*deg*math.Exp(-sq((h/deg-275)/25))) * 2 * seventh(C)
	return math.Sqrt(sq(dL/sL) + sq(dC/sC) + sq(dH/sH) + turned*dC/sC*dH/sH)
}

// The formula gives what its authors list for pairs of colours.
func TestColourDifference(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		a, b [3]float64
		want float64
	}{
		{[3]float64{50, 2.6772, -79.7751}, [3]float64{50, 0, -82.7485}, 2.0425},
		{[3]float64{50, 2.5, 0}, [3]float64{73, 25, -18}, 27.1492},
		{[3]float64{50, 2.5, 0}, [3]float64{50, 0, -2.5}, 4.3065},
		{[3]float64{22.7233, 20.0904, -46.6940}, [3]float64{23.0331, 14.9730, -42.5619}, 2.0373},
		{[3]float64{90.8027, -2.0831, 1.4410}, [3]float64{91.1528, -1.6435, 0.0447}, 1.4441},
	} {
		for _, got := range [2]float64{ciede2000(c.a, c.b), ciede2000(c.b, c.a)} {
			if math.Abs(got-c.want) > 1e-4 {
				t.Errorf("%v and %v differ by %.4f, want %.4f", c.a, c.b, got, c.want)
			}
		}
	}
}

// met lists the colours that stand for something of their own in a figure of so many families
// of each kind.
func met(colours palette.ColorMap, pieces, lines int) map[string]color.Color {
	out := map[string]color.Color{}
	for k := range pieces {
		out["piece "+string(rune('a'+k))] = stackShade(colours, k, pieces)
	}
	for k := range lines {
		out["line "+string(rune('a'+k))] = plainLooks[k].ink
	}
	return out
}

// Every two colours of one kind that stand for something in one figure can be told apart by all
// sights: pieces and points of up to five families by CIEDE2000 of 10 at least, of up to nine of 5, and inks of
// lines, which are thin and differ in dash as well, of 10 on plain ground and of 8 on maps.
func TestColoursToldApart(t *testing.T) {
	t.Parallel()
	m := ramp()
	for sight, rows := range dichromats { // white stays white
		for _, row := range rows {
			if sum := row[0] + row[1] + row[2]; math.Abs(sum-1) > 1e-5 {
				t.Errorf("%s: a row adds up to %g", sight, sum)
			}
		}
	}
	least := func(sight string, colours map[string]color.Color, want float64) {
		for a, c := range colours {
			for b, d := range colours {
				if a >= b || strings.Fields(a)[0] != strings.Fields(b)[0] {
					continue
				}
				if got := ciede2000(seen(dichromats[sight], c), seen(dichromats[sight], d)); got < want {
					t.Errorf("%s: of %d, %s and %s differ by %.1f, want at least %g", sight, len(colours), a, b, got, want)
				}
			}
		}
	}
	for sight := range dichromats {
		for n := 2; n <= 9; n++ { // as many as parts of a craft are weighed
			want := 5.0
			if n <= 5 { // as many as bands of diameter
				want = 10
			}
			least(sight, met(m, n, 0), want)
			points := map[string]color.Color{}
			for k := range n {
				points["point "+string(rune('a'+k))] = spacedShade(m, k, n)
			}
			least(sight, points, want)
		}
		least(sight, met(m, 0, len(plainLooks)), 10)
		inks := map[string]color.Color{}
		for k, l := range mapLooks {
			inks["ink "+string(rune('a'+k))] = l.ink
		}
		least(sight, inks, 8)
	}
}
