package sheet

import (
	"slices"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// measuresTold is how many measurements a class is told of where it says what to order.
const measuresTold = 2

// fullSized is up to how many classes the picture beneath it is large enough to be read in print; of
// more it is printed in its own size as well.
const fullSized = 2

// The column of what is ordered that has capacities, "1100 to 1400", and the width that keeps them apart from the
// number before, in characters.
const (
	packColumn = 9
	packWidth  = 13
)

// order is the first table of a summary: which build to order in each class, beside the
// nominal best, how sure that is, what to measure first and what more weight has bought.
func (b *review) order(p *xlsx.Page) {
	last := len(p.Widths)
	section(p, "What to order")
	build := "Recommended build"
	if b.run.Swept(sweep.Payload) && !b.laden() {
		build += ", without payload"
	}
	name := func(d model.Design) string {
		if !b.run.Swept(sweep.Payload) {
			d.Payload = 0 // it stands in the mission
		}
		return words.Build(d)
	}
	heads := []string{"Class", build, "", "", "", "P(feasible) (%)", "Cautious merit", "Regret",
		"Pack (mAh), P10 to P90", "Nominal best", "", "", "P(feasible) (%)", "Cautious merit", "Regret"}
	p.Head(heads, 6, 7, 8, 9, 13, 14, 15)
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
		limits, star := "", ""
		if picks := f.Picks(); len(picks) > 0 && picks[0].Part.Recommends() {
			e := picks[0].Entry
			limits = words.Edges(finding.Edges(b.run.Study.Grid, e.Index, e.Craft.Mass))
			star = words.Star(e.Marked()) // the picture says why
		}
		p.Wide(2, 5, name(first.Design)+star, l)
		p.Put(6, 100*first.Feasible, inPercent)
		p.Put(7, first.Cautious, inMerit)
		p.Put(8, first.Regret, inMerit)
		bought := inText
		bought.Align = "right"
		p.Put(packColumn, words.PackNumbers(first), bought)
		switch n := c.At(c.Nominal); {
		case c.Nominal == 0:
			p.Wide(10, last, "the same", inWords)
		case n == nil:
			p.Wide(10, last, "was not among what was drawn", inWords)
		default:
			p.Wide(10, 12, name(n.Design), inWords)
			p.Put(13, 100*n.Feasible, inPercent)
			p.Put(14, n.Cautious, inMerit)
			p.Put(15, n.Regret, inMerit)
		}
		p.Next()
		many := len(b.found) > fullSized
		said := words.ReachesBriefly(c, first) + "; size: " + words.TiedRange(c) + "; "
		if first := words.Overtaken(c); first != "" {
			said += first + "; "
		}
		if many { // in one line with what to measure, for a picture beneath
			said += words.FailsBriefly(c, first)
		} else {
			said += "it fails " + words.Fails(c, first)
		}
		if pack := words.PackBriefly(f); pack != "" {
			said += "; " + pack
		}
		if !c.Reached() {
			said += "; " + words.Surest(c)
		}
		if limits != "" {
			said += ". " + texts.Upper(limits)
		}
		if many {
			if more := words.More(f); more != "" {
				said += ". " + more
			}
			said += ". Measure first: " + words.MeasureBriefly(c, 1)
		}
		p.Put(1, "", inText)
		p.Wide(2, last, texts.Upper(said)+".", inText)
		p.Next()
		if many { // what weight buys stands in the answer in words
			continue
		}
		next := "Measure first: " + words.MeasureBriefly(c, measuresTold) + "."
		if said := words.Buys(b.run, f, false); said != "" {
			next += " More weight buys: " + said + "."
		}
		p.Put(1, "", inText)
		p.Wide(2, last, next, inText)
		p.Next()
	}
}

// laden says whether a recommended build carries a payload, which its name then has.
func (b *review) laden() bool {
	return slices.ContainsFunc(b.found, func(f finding.Class) bool {
		return f.Choice != nil && f.Choice.Recommended().Design.Payload > 0
	})
}

// orderNote says what the heads of what to order mean, beneath the picture.
const orderNote = "P(feasible): share of draws of all that the model may err by in which a build keeps its " +
	"requirements; what it reaches is from the 10th to the 90th percentile of them. Cautious merit, which ranks: " +
	"the mean of the 10th to the 50th percentile. Regret: what the best build of each draw has more in merit, on " +
	"average. *: outside the model's validity. See the sheet " + confidenceSheet + "; all builds are in " +
	finding.RobustName + "."
