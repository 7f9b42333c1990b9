package sheet

import (
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// order is the first table of a summary: which build to order in each class, beside the
// nominal best, and a sentence on each.
func (b *review) order(p *xlsx.Page) {
	last := len(p.Widths)
	section(p, "What to order")
	heads := []string{"Class", "Recommended build", "", "", "", "P(feasible) (%)", "Regret", "Pack, P10 to P90", "",
		"Nominal best", "", "", "P(feasible) of that (%)", "Regret of that"}
	for len(heads) < last {
		heads = append(heads, "")
	}
	p.Head(heads, 6, 7, 13, 14)
	l := xlsx.Ruled(xlsx.Strong)
	for i := range b.found {
		f := &b.found[i]
		p.Put(1, words.ClassName(f.Class), xlsx.Ruled(xlsx.Look{Bold: true, Colour: xlsx.Accent, Wrap: true}))
		c := f.Choice
		if c == nil {
			p.Wide(2, last, "none: no design of the grid keeps every requirement", xlsx.Ruled(xlsx.Plain))
			p.Next()
			continue
		}
		p.Link(1, confidenceSheet)
		first := c.Recommended()
		p.Wide(2, 5, words.Build(first.Design), l)
		p.Put(6, 100*first.Feasible, inPercent)
		p.Put(7, first.Regret, inMerit)
		p.Wide(8, 9, words.PackBought(first), inWords)
		switch n := c.At(c.Nominal); {
		case c.Nominal == 0:
			p.Wide(10, last, "the same", inText)
		case n == nil:
			p.Wide(10, last, "was not among what was drawn", inText)
		default:
			p.Wide(10, 12, words.Build(n.Design), inText)
			p.Put(13, 100*n.Feasible, inPercent)
			p.Put(14, n.Regret, inMerit)
			for col := 15; col <= last; col++ {
				p.Put(col, "", inText)
			}
		}
		p.Next()
		said := "size: " + words.TiedRange(c) + "; it fails " + words.Fails(c, first)
		if !c.Reached() {
			said += "; " + words.Surest(c)
		}
		p.Put(1, "", inText)
		p.Wide(2, last, texts.Upper(said)+".", inText)
		p.Next()
	}
	p.Wide(1, last, "P(feasible): share of draws of all that the model may err by in which a build keeps its "+
		"requirements. Regret: what the best build of each draw has more in merit, on average. See the sheet "+
		confidenceSheet+"; all builds are in "+finding.RobustName+".", xlsx.Note)
	p.Next()
}
