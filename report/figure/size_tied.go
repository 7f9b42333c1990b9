package figure

import (
	"slices"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// tiedName names, in a legend, the lines of tiedLines.
const tiedName = "diameters tied with the recommended build"

const tiedCaption = "; star: the recommended build of a class, ring: the nominal best, strokes: diameters " +
	"whose best build is tied with the recommended."

// tiedLines are strokes beside the limits of classes over the diameters that are tied with the
// recommended build, half way to the next diameter at their ends.
func tiedLines(found []finding.Class, x, y chart.Axis) (out []chart.Line) {
	for i := range found {
		c := found[i].Choice
		if c == nil {
			continue
		}
		const inset = 0.008 // of the axis, so that a stroke is seen whole beside the limit and at an end
		room := inset * (x.Max - x.Min)
		at := finding.Gram.FromSI(found[i].Class.Limit) - room
		if at = min(at, x.Max-room); at < x.Min+room {
			continue
		}
		var all []float64
		for _, v := range finding.AxisValues(c.Grid, sweep.Diameter) {
			all = append(all, finding.Inch.FromSI(v))
		}
		for _, s := range c.TiedSizes() {
			lo, hi := finding.Inch.FromSI(s.From), finding.Inch.FromSI(s.To)
			first, last := slices.Index(all, lo), slices.Index(all, hi)
			switch {
			case len(y.Names) > 0:
				lo, hi = float64(first)-0.5, float64(last)+0.5
			case len(all) == 1:
				lo, hi = lo-0.5, hi+0.5
			default:
				if first > 0 {
					lo = (lo + all[first-1]) / 2
				}
				if last >= 0 && last+1 < len(all) {
					hi = (hi + all[last+1]) / 2
				}
			}
			if lo == hi { // of one diameter at an end of the grid
				continue
			}
			out = append(out, chart.Line{Family: tiedName, Outline: true, X: []float64{at, at}, Y: []float64{lo, hi}})
		}
	}
	return out
}

// recommendedTitle says which size the draws recommend: "3 in is recommended at 249 g (tied:
// 2.5 to 3.5 in), 5 in at 500 g", of many classes without what is tied, which strokes tell; ""
// without draws.
func recommendedTitle(found []finding.Class, marks []string) string {
	var where []finds
	some := false
	for i := range found {
		f := finds{limit: words.Mass(found[i].Class.Limit)}
		if c := found[i].Choice; c != nil {
			some = true
			f.limit += marks[i]
			f.where = finding.Inch.Format(c.Recommended().Design.Diameter, 4)
			all := c.TiedSizes()
			if few := len(found) <= mostTold; few && (len(all) > 1 || all[0].From < all[0].To) {
				f.where += " (tied: " + texts.JoinAnd(words.Each(all, words.Diameters)) + ")"
			}
		}
		where = append(where, f)
	}
	if !some {
		return ""
	}
	best, none := gathered(where)
	return "Recommended by the draws: " + endsAt(best, none, ", ")
}
