package xlsx

import (
	"math"
	"slices"
	"strings"

	"rotorsieve/report/chart"
)

// What a text has in a column, in points: programs give a digit of the default font, 11 points, from 6 to 6.15, and
// leave 2 or 3 free at the sides.
const (
	digitLeast, digitMost = 6.0, 6.15
	insetLeast, insetMost = 2.0, 3.0
	spare                 = 0.985 // of the room, for letters of other programs
)

// headGap is what stays free between the heads of two columns, in points.
const headGap = 5

// WrappedLines is how many lines a text of the usual size takes in a column of a width in digits of the default font,
// as LibreOffice wraps it, with a margin for the letters of other programs.
func WrappedLines(text string, width float64, bold bool) int {
	lines, _ := wrapped(text, spare*(digitLeast*width-insetMost), bold)
	return lines
}

// wrapped breaks a text at its spaces, and a word that is longer than the room where that ends; the widest line is
// in points.
func wrapped(text string, room float64, bold bool) (lines int, widest float64) {
	room = math.Max(room, usualSize)
	space := usualSize * chart.Advance(" ", bold)
	for paragraph := range strings.SplitSeq(text, "\n") {
		used := 0.0
		lines++
		for n, word := range strings.Split(paragraph, " ") {
			w := usualSize * chart.Advance(word, bold)
			switch {
			case n > 0 && used+space+w <= room:
				used += space + w
				widest = math.Max(widest, used)
				continue
			case n > 0:
				lines++
			}
			if w > room {
				more := math.Ceil(w/room) - 1
				lines += int(more)
				widest, w = math.Max(widest, room), w-more*room
			}
			used = w
			widest = math.Max(widest, used)
		}
	}
	return lines, widest
}

// HeadWidth is the least width from the one given on, in digits of the default font, at which a head keeps a gap to
// the next; the one given where that would take much more.
func HeadWidth(head string, width float64) float64 {
	const step, most = 0.25, 4
	for w := width; w <= width+most; w += step {
		_, narrow := wrapped(head, spare*(digitLeast*w-insetMost), true)
		_, wide := wrapped(head, digitMost*w-insetLeast, true)
		if math.Max(narrow, wide) <= digitLeast*w-insetMost-headGap {
			return w
		}
	}
	return width
}

// spread widens the columns of heads that would touch each other, as far as the page is then no smaller than can be
// read.
func (p *Page) spread(heads []string, numbers []int) {
	for i, h := range heads {
		if h == "" || i+1 >= len(p.Widths) || i+1 < len(heads) && heads[i+1] == "" {
			continue
		}
		indented := 0.0
		if slices.Contains(numbers, i) && !slices.Contains(numbers, i+1) {
			indented = indentWidth
		}
		was := p.Widths[i]
		if p.Widths[i] = indented + HeadWidth(h, was-indented); !Legible(p.Widths[:p.Printed]) {
			p.Widths[i] = was
		}
	}
}

// Legible says whether columns fit across a page in letters that can be read.
func Legible(widths []float64) bool { return 100*leastSize/usualSize <= fitted(widths) }
