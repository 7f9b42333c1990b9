package sheet

import (
	"math"
	"slices"
	"strconv"

	"rotorsieve/model/motor"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// points is the sheet of the operating points of the designs that the classes are shown by, the
// recommended builds first.
func (b *review) points() {
	type block struct {
		class string
		of    []words.Point
	}
	var blocks []block
	most, count := slices.Repeat([]float64{math.Inf(-1)}, len(words.PointColumns)), 0
	picks := finding.PicksOf(b.found)
	for n := range picks {
		k := block{pickName(&picks[n]), words.Points(picks[n].Craft)}
		blocks, count = append(blocks, k), max(count, len(k.of))
		for n, c := range words.PointColumns {
			for i := range k.of {
				if v := c.Of(&k.of[i]); finding.Finite(v) {
					most[n] = max(most[n], c.Unit.FromSI(v))
				}
			}
		}
	}
	var known []int // quantities
	for n := range words.PointColumns {
		if most[n] != 0 && !math.IsInf(most[n], -1) {
			known = append(known, n)
		}
	}
	widths := []float64{27}
	for range count {
		widths = append(widths, 17)
	}
	p := b.NewPage(pointsSheet, append(widths, 56)...)
	last := len(p.Widths)
	p.Wide(1, last, b.shownTitle("Operating points of", ""), xlsx.Title)
	p.Next()
	p.Wide(1, last, "Hover, least power and best range are at the mean voltage of the pack over its usable charge; "+
		"full throttle and top speed at the charge that they are judged at.", xlsx.Note)
	p.Next()
	p.Marked()
	p.Freeze(1, 0)
	tallest, aside := 0.0, false
	for i, k := range blocks {
		// As on the sheets of plans, what has no room on the page is on the sheet alone.
		if used, room := p.Used(); i > 0 && !aside && used+tallest+xlsx.Lines(2) > room {
			var rest []string
			for _, x := range blocks[i:] {
				rest = append(rest, x.class)
			}
			p.Beneath(texts.JoinAnd(rest))
			aside = true
		}
		start := p.Row
		p.Gap()
		p.Block(0, func() {
			heads, numbers := []string{k.class}, []int(nil)
			for i := range k.of {
				heads, numbers = append(heads, k.of[i].Head()), append(numbers, 2+i)
			}
			for len(heads) < last {
				heads = append(heads, "")
			}
			p.Head(heads, numbers...)
			for _, n := range known {
				c := &words.PointColumns[n]
				p.Put(1, finding.Headed(c.Title, c.Unit.Label), xlsx.Ruled(xlsx.Plain))
				for i := range last - 2 {
					p.Put(2+i, "", xlsx.Ruled(xlsx.Plain))
					if i >= len(k.of) {
						continue
					}
					x := &k.of[i]
					if c.Unit == finding.Celsius && x.Heat != "" {
						p.Put(2+i, x.Heat, xlsx.Ruled(xlsx.Look{Align: "right", Wrap: true}))
						continue
					}
					number := numberFormat(most[n])
					if c.Unit == finding.Celsius && x.Temperature >= motor.Hottest {
						number = `"≥ "` + number
					}
					v := c.Unit.FromSI(c.Of(x))
					if c.Short {
						v, number = significant(v, 3), "General"
					}
					p.Put(2+i, v, xlsx.Ruled(xlsx.Look{Number: number}))
				}
				p.Put(last, c.Note, xlsx.Ruled(xlsx.Look{Wrap: true, Indent: 1, Colour: xlsx.Quiet}))
				p.Next()
			}
		})
		tallest = max(tallest, p.Height(start-1, p.Row-1))
	}
	p.End("")
}

// significant rounds a value to n significant figures.
func significant(v float64, n int) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', n-1, 64), 64)
	if err != nil {
		panic("sheet: " + err.Error()) // what was printed reads back
	}
	return out
}
