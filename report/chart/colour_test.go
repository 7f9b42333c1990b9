package chart

import (
	"image/color"
	"math"
	"testing"
)

// linear is a colour in linear sRGB.
func linear(c color.Color) [3]float64 {
	r, g, b, _ := c.RGBA()
	return [3]float64{linearLight(r), linearLight(g), linearLight(b)}
}

// lab is CIE L*a*b* under D65, from linear sRGB.
func lab(c [3]float64) [3]float64 {
	x := (0.4124*c[0] + 0.3576*c[1] + 0.1805*c[2]) / 0.9505
	y := 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
	z := (0.0193*c[0] + 0.1192*c[1] + 0.9505*c[2]) / 1.089
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	return [3]float64{116*f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))}
}

// sights turn linear sRGB into what is seen: by normal sight and both kinds of
// red-green blindness (Viénot, Brettel and Mollon, Digital Video Colourmaps for
// Checking the Legibility of Displays by Dichromats, 1999, from memory).
var sights = map[string][3][3]float64{
	"normal":      {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanope":   {{0.11238, 0.88762, 0}, {0.11238, 0.88762, 0}, {0.00401, -0.00401, 1}},
	"deuteranope": {{0.29275, 0.70725, 0}, {0.29275, 0.70725, 0}, {-0.02234, 0.02234, 1}},
}

// seen is a colour in L*a*b* as a sight sees it.
func seen(sight [3][3]float64, c color.Color) [3]float64 {
	rgb := linear(c)
	var out [3]float64
	for i := range sight {
		for j := range sight[i] {
			out[i] += sight[i][j] * rgb[j]
		}
		out[i] = min(max(out[i], 0), 1)
	}
	return lab(out)
}

func apartInLab(a, b [3]float64) float64 {
	return math.Sqrt(sq(a[0]-b[0]) + sq(a[1]-b[1]) + sq(a[2]-b[2]))
}

// Lightness rises evenly for normal sight and for both kinds of red-green
// blindness, and neighbours of MostBands differ clearly (a difference of 2.3 in
// L*a*b* is just noticed: Mahy and others, Evaluation of Uniform Color
// Differences, 1994, from memory).
func TestRampReadableToAll(t *testing.T) {
	t.Parallel()
	m := ramp()
	for name, sight := range sights {
		var before [3]float64
		for k := range MostBands {
			c := seen(sight, shade(m, float64(k)/(MostBands-1)))
			if k > 0 {
				if d := c[0] - before[0]; d < 5 || d > 12 {
					t.Errorf("%s: lightness rises by %.1f into band %d, want 5 to 12", name, d, k)
				}
				if d := apartInLab(c, before); d < 7 {
					t.Errorf("%s: band %d differs by %.1f from the one before, want at least 7", name, k, d)
				}
			}
			before = c
		}
	}
}

// Pieces that lie side by side in a bar differ much, and so do the colours of
// points, for all sights.
func TestPiecesAndPointsReadableToAll(t *testing.T) {
	t.Parallel()
	m := ramp()
	for n := 2; n <= 10; n++ {
		f := &Figure{Panels: []Panel{{Stacks: []Stack{{}}}}}
		for k := range n {
			s := &f.Panels[0].Stacks[0]
			s.Pieces = append(s.Pieces, Piece{Family: string(rune('a' + k))})
		}
		for name, sight := range sights {
			for k := 1; k < n; k++ {
				a := seen(sight, f.pieceShade(m, string(rune('a'+k-1))))
				b := seen(sight, f.pieceShade(m, string(rune('a'+k))))
				if d := apartInLab(a, b); d < 20 {
					t.Errorf("%s: pieces %d and %d of %d differ by %.1f, want at least 20", name, k-1, k, n, d)
				}
				if a, b = seen(sight, spacedShade(m, k-1, n)), seen(sight, spacedShade(m, k, n)); apartInLab(a, b) < 7 {
					t.Errorf("%s: points %d and %d of %d differ by %.1f, want at least 7", name, k-1, k, n,
						apartInLab(a, b))
				}
			}
		}
	}
}

// The measure of contrast knows black on white and grey on grey.
func TestContrast(t *testing.T) {
	t.Parallel()
	if c := Contrast(color.White, color.Black); math.Abs(c-21) > 1e-9 {
		t.Errorf("black on white is %g, want 21", c)
	}
	if c := Contrast(color.Gray{0x77}, color.White); math.Abs(c-4.48) > 0.01 {
		t.Errorf("grey on white is %g, want 4.48", c)
	}
}

func sq(v float64) float64 { return v * v }

// No two families of lines share a dash.
func TestLooksDifferInDash(t *testing.T) {
	t.Parallel()
	for _, looks := range [][]look{mapLooks, plainLooks} {
		for i := range looks {
			for k := range i {
				same := len(looks[i].dash) == len(looks[k].dash)
				for d := range looks[i].dash {
					same = same && looks[i].dash[d] == looks[k].dash[d]
				}
				if same {
					t.Errorf("looks %d and %d have the same dash", k, i)
				}
			}
		}
	}
}

// On any shade of the ramp the ink stands out enough to be read.
func TestInkOnRamp(t *testing.T) {
	t.Parallel()
	m := ramp()
	for k := range 1001 {
		ground := shade(m, float64(k)/1000)
		if c := Contrast(inkOn(ground), ground); c < 4.5 {
			t.Errorf("at %g the ink has a contrast of %.2f, want at least 4.5", float64(k)/1000, c)
		}
	}
}
