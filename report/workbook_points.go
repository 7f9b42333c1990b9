package report

import (
	"math"
	"slices"
	"strconv"

	"rotorsieve/model/motor"
)

// points is the sheet of the operating points of the best designs, class by class.
func (b *review) points() {
	type block struct {
		class string
		of    []point
	}
	var blocks []block
	most, count := slices.Repeat([]float64{math.Inf(-1)}, len(pointColumns)), 0
	for i := range b.found {
		e := b.found[i].Best()
		if e == nil {
			continue
		}
		k := block{className(b.found[i].Class), points(e.Craft)}
		blocks, count = append(blocks, k), max(count, len(k.of))
		for n, c := range pointColumns {
			for i := range k.of {
				if v := c.Of(&k.of[i]); finite(v) {
					most[n] = max(most[n], c.Unit.FromSI(v))
				}
			}
		}
	}
	var known []int // quantities
	for n := range pointColumns {
		if most[n] != 0 && !math.IsInf(most[n], -1) {
			known = append(known, n)
		}
	}
	widths := []float64{27}
	for range count {
		widths = append(widths, 17)
	}
	p := b.newPage(pointsSheet, append(widths, 56)...)
	last := len(p.widths)
	p.wide(1, last, "Operating points of the best design of each class", title)
	p.next()
	p.wide(1, last, "Hover, least power and best range are at the mean voltage of the pack over its usable charge; full throttle and top speed at the charge that they are judged at.", note)
	p.next()
	p.marked()
	for _, k := range blocks {
		p.gap()
		p.block(0, func() {
			heads, numbers := []string{k.class}, []int(nil)
			for i := range k.of {
				heads, numbers = append(heads, k.of[i].head()), append(numbers, 2+i)
			}
			for len(heads) < last {
				heads = append(heads, "")
			}
			p.head(heads, numbers...)
			for _, n := range known {
				c := &pointColumns[n]
				p.put(1, headed(c.Title, c.Unit.Label), ruled(plain))
				for i := range last - 2 {
					p.put(2+i, "", ruled(plain))
					if i >= len(k.of) {
						continue
					}
					x := &k.of[i]
					if c.Unit == celsi && x.Heat != "" {
						p.put(2+i, x.Heat, ruled(look{Align: "right", Wrap: true}))
						continue
					}
					number := numberFormat(most[n])
					if c.Unit == celsi && x.Temperature >= motor.Hottest {
						number = `"≥ "` + number
					}
					v := c.Unit.FromSI(c.Of(x))
					if c.Short {
						v, number = significant(v, 3), "General"
					}
					p.put(2+i, v, ruled(look{Number: number}))
				}
				p.put(last, c.Note, ruled(look{Wrap: true, Indent: 1, Colour: quiet}))
				p.next()
			}
		})
	}
	p.end("")
}

// significant rounds a value to n significant figures.
func significant(v float64, n int) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', n-1, 64), 64)
	if err != nil {
		panic("report: " + err.Error()) // what was printed reads back
	}
	return out
}
