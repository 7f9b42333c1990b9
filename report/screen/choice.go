package screen

import (
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// printChoice prints which build of a class to order, how sure that is, what it costs and
// what to measure first.
func printChoice(p *printer, c *finding.Choice) {
	p.table(choiceColumns(c))
	p.hung("costs:   ", words.Price(c))
	p.hung("fails:   ", words.FailsBoth(c))
	p.hung("tied:    ", words.Ties(c))
	say := func(head, text string) {
		if text != "" {
			p.hung(head, text)
		}
	}
	say("sure:    ", words.Line(c))
	say("sizes:   ", words.Rivals(c, wholeRivals))
	say("moves:   ", words.Sensitivities(c))
	say("measure: ", words.Measures(c))
}

// How many other diameters are told of.
const (
	briefRivals = 2
	wholeRivals = 6
)

// choiceColumns hold the recommended build, the nominal best and, where none is as sure as
// it should be, the surest, side by side.
func choiceColumns(c *finding.Choice) []texts.Column {
	heads := []string{"order"}
	builds := []*decide.Build{c.Recommended()}
	add := func(head string, n int) {
		if b := c.At(n); b != nil && n > 0 {
			heads, builds = append(heads, head), append(builds, b)
		}
	}
	add("nominal", c.Nominal)
	if !c.Reached() && c.Surest != c.Nominal {
		add("surest", c.Surest)
	}
	column := func(head, unit string, of func(b *decide.Build) string) texts.Column {
		return texts.Column{Head: head, Unit: unit, Cells: words.Each(builds, of)}
	}
	build := column("build", "", func(b *decide.Build) string { return words.BuildName(words.Abridge(b.Design), "×") })
	build.Left = true
	parts := []texts.Column{{Left: true, Cells: heads}, build}
	if c.Swept(sweep.Payload) {
		parts = append(parts, column("payload", finding.Gram.Label,
			func(b *decide.Build) string { return finding.Gram.Number(b.Design.Payload, 5) }))
	}
	parts = append(parts,
		column("pack", finding.MAh.Label, words.PackNumbers),
		column("P(feas)", "", func(b *decide.Build) string { return words.Probability(b.Feasible) }),
		column("cautious", "merit", func(b *decide.Build) string { return words.Merits(b.Cautious) }))
	median := column("median", "merit", func(b *decide.Build) string { return words.Merits(b.Merit.P50) })
	median.Need = 9 // left out before a metric that ranks
	parts = append(parts, median)
	for n, m := range c.Ranking() {
		told := words.Ranges(m, builds, n)
		k := texts.Column{Head: words.MetricHead(m), Unit: m.Unit.Label, Cells: told, Need: 2 + n}
		parts = append(parts, k)
	}
	return parts
}
