package chart

import (
	"sync"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
)

// measured is how many of the first runes have their advances at hand.
const measured = 0x250

// advances are those of the first runes in ems, of the usual weight and of the bold one.
var advances = sync.OnceValue(func() (out [2][measured]float64) {
	const em = 1000
	p := &pen{fonts: font.NewCache(liberation.Collection())}
	for bold := range out {
		face := p.face(em, bold == 1)
		for r := range out[bold] {
			out[bold][r] = float64(face.Width(string(rune(r)))) / em
		}
	}
	return out
})

// Advance is how wide a text is in ems of the sans serif that figures are set in, whose letters are as wide as those
// of the usual ones of office programs; of letters beyond the Latin ones an em each.
func Advance(text string, bold bool) (sum float64) {
	weight := 0
	if bold {
		weight = 1
	}
	table := advances()
	for _, r := range text {
		if r < measured {
			sum += table[weight][r]
		} else {
			sum++
		}
	}
	return sum
}
